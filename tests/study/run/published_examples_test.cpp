// Worked examples of metrology: what a study of their inputs comes to is what their books print.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/run/run_study.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <Eigen/Core>

#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/summary/estimates.hpp>

#include "support/catch.hpp"

namespace published_examples_test {

using namespace tranche;
using namespace tranche_test;

/// What functions of the inputs come to, each in whole numbers of `unit`, of which a bin has so many.
template <class Functions>
std::vector<exact_summary> propagated(const study_inputs& inputs, std::vector<study_output> outputs,
                                      const Functions& functions, std::uint64_t draws = 100'000) {
    const std::vector<study_output> about = outputs;
    const study_of model({std::move(outputs), {}}, [&](const study_replicate& replicate, std::span<std::int64_t> out) {
        std::vector<double> x(inputs.size()), y(about.size());
        random_stream stream = replicate.stream();
        inputs.draw(stream, x);
        functions(x, y);
        for (std::size_t i = 0; i < y.size(); ++i) out[i] = std::llround(y[i] / about[i].unit);
    });
    return run_study(model, {.replicates = draws}).summaries();
}
template <class Function>
exact_summary propagated_one(const study_inputs& inputs, const study_output& output, const Function& function,
                             std::uint64_t draws = 100'000) {
    return propagated(
        inputs, {output}, [&](const std::vector<double>& x, std::vector<double>& y) { y[0] = function(x); }, draws)[0];
}

/// Inputs "x1", "x2" and so on.
std::vector<study_input> numbered(const std::vector<distribution>& shapes) {
    std::vector<study_input> inputs;
    for (const distribution& shape : shapes) inputs.push_back({"x" + std::to_string(inputs.size() + 1), shape});
    return inputs;
}
study_inputs independent(const std::vector<distribution>& shapes) { return study_inputs(numbered(shapes)); }

Eigen::MatrixXd correlation_of_two(double r) {
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(2, 2);
    matrix(0, 1) = matrix(1, 0) = r;
    return matrix;
}

/// A mean is as uncertain as its standard error says; five of them, and half a digit as printed.
void check_mean(const exact_summary& s, double published, double half_digit) {
    const double error = *s.standard_deviation() / std::sqrt(static_cast<double>(s.count()));
    CHECK(*s.mean() == Approx(published).margin(5.0 * error + half_digit));
}
void check_deviation(const exact_summary& s, double published, double half_digit) {
    CHECK(*s.standard_deviation() == Approx(published).epsilon(0.015).margin(half_digit));
}
/// The interval that leaves as much below as above.
void check_interval(const exact_summary& s, double low, double high, double within, double share = 0.95) {
    const auto ends = estimate_quantiles(s, {(1.0 - share) / 2.0, (1.0 + share) / 2.0});
    CHECK(ends[0].value == Approx(low).margin(within));
    CHECK(ends[1].value == Approx(high).margin(within));
}
/// The shortest of all intervals that hold `share` of the values.
void check_shortest(const exact_summary& s, double low, double high, double within, double share = 0.95) {
    const std::vector<histogram_bin> bins = s.histogram();
    const double unit = s.output().unit, wanted = share * static_cast<double>(s.count());
    std::array<double, 2> best{*s.least(), *s.most()};
    std::uint64_t inside = 0;
    for (std::size_t first = 0, next = 0; first < bins.size(); inside -= bins[first++].count) {
        while (next < bins.size() && static_cast<double>(inside) < wanted) inside += bins[next++].count;
        if (static_cast<double>(inside) < wanted) break;
        const std::array<double, 2> now{static_cast<double>(bins[first].low) * unit,
                                        static_cast<double>(bins[next - 1].high) * unit};
        if (now[1] - now[0] < best[1] - best[0]) best = now;
    }
    CHECK(best[0] == Approx(low).margin(within));
    CHECK(best[1] == Approx(high).margin(within));
}

TEST_CASE("sums of four normal or four rectangular inputs are spread as JCGM 101 prints") {
    // JCGM 101:2008 (Supplement 1 to the GUM), 9.2: Y = X1 + X2 + X3 + X4, each of mean 0 and standard deviation 1.
    const auto sum = [](const std::vector<double>& x) { return x[0] + x[1] + x[2] + x[3]; };
    const study_output output{"sum", 1e-6, 1000};
    const exact_summary normal =
        propagated_one(independent(std::vector(4, distribution::normal(0.0, 1.0))), output, sum);
    check_mean(normal, 0.0, 0.0);
    check_deviation(normal, 2.0, 0.0);
    check_interval(normal, -3.92, 3.92, 0.06); // Table 2

    const double half = std::sqrt(3.0);
    const distribution rectangular = distribution::uniform(-half, half);
    const exact_summary even = propagated_one(independent(std::vector(4, rectangular)), output, sum);
    check_mean(even, 0.0, 0.0);
    check_deviation(even, 2.0, 0.0);
    check_interval(even, -3.88, 3.88, 0.05); // Table 3
    // In closed form, computed: 2 √3 (2 - (3/5)^(1/4)) = 3.8794.
    const double exact = 2.0 * half * (2.0 - std::pow(0.6, 0.25));
    const auto upper = estimate_quantile(even, 0.975, 0.9999);
    CHECK(*upper->low <= exact);
    CHECK(*upper->high >= exact);
}

TEST_CASE("one rectangular input that outweighs the others keeps the sum from being normal") {
    // JCGM 101:2008, 9.2.4: as before, X4 with standard deviation 10. The interval is from memory, and what a normal sum would have
    // (1.96 × √103 = 19.9, computed) is far off.
    const double half = std::sqrt(3.0);
    const distribution rectangular = distribution::uniform(-half, half);
    const exact_summary sum = propagated_one(
        independent({rectangular, rectangular, rectangular, distribution::uniform(-10.0 * half, 10.0 * half)}),
        {"sum", 1e-6, 1000}, [](const std::vector<double>& x) { return x[0] + x[1] + x[2] + x[3]; });
    check_mean(sum, 0.0, 0.0);
    check_deviation(sum, std::sqrt(103.0), 0.0);
    check_interval(sum, -17.0, 17.0, 0.15);
}

TEST_CASE("a calibrated mass is as uncertain as JCGM 101 prints, which its first-order formula misses") {
    // JCGM 101:2008, 9.3, inputs from memory: reference weight 100,000.000 ± 0.050 mg and added weight 1.234 ± 0.020 mg (normal), density
    // of air 1.10 to 1.30 kg/m3, of the weight 7000 to 9000, of the reference 7950 to 8050 (rectangular).
    const study_inputs inputs = independent({distribution::normal(100'000.0, 0.050), distribution::normal(1.234, 0.020),
                                             distribution::uniform(1.10, 1.30), distribution::uniform(7000.0, 9000.0),
                                             distribution::uniform(7950.0, 8050.0)});
    const exact_summary excess = propagated_one(inputs, {"excess", 1e-7, 1000}, [](const std::vector<double>& x) {
        return (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100'000.0;
    });
    // Table 5 (from memory): Monte Carlo 1.2340, 0.0754, shortest interval 1.0834 to 1.3825; first order 0.0539.
    check_mean(excess, 1.2340, 0.00005);
    check_deviation(excess, 0.0754, 0.0);
    check_interval(excess, 1.0834, 1.3825, 0.004);
    check_shortest(excess, 1.0834, 1.3825, 0.010);
    // In closed form, computed: 0.05² + 0.02² + M² E(ρa - 1.2)² E(1/ρW - 1/ρR)², M of both weights.
    const double of_weight = std::log(9000.0 / 7000.0) / 2000.0, of_reference = std::log(8050.0 / 7950.0) / 100.0;
    const double buoyancy =
        1.0 / (7000.0 * 9000.0) - 2.0 * of_weight * of_reference + 1.0 / (7950.0 * 8050.0); // E(1/ρW - 1/ρR)²
    const double variance = 0.0025 + 0.0004 + (100'001.234 * 100'001.234) * (0.01 / 3.0) * buoyancy;
    CHECK(std::sqrt(variance) == Approx(0.0754).margin(0.0001)); // 0.07548: theirs is of a million draws
    check_deviation(excess, std::sqrt(variance), 0.0);
}

TEST_CASE("a comparison loss near zero is as skewed as JCGM 101 prints, correlated or not") {
    // JCGM 101:2008, 9.4: Y = X1² + X2² of normal inputs with u = 0.005, X2 about 0; the printed figures (in 10^-6) are from memory.
    struct printed {
        double about, r, mean, deviation, low, high;
    };
    for (const printed& p : {printed{0.000, 0.0, 50, 50, 0, 150}, printed{0.010, 0.0, 150, 112, 0, 367},
                             printed{0.050, 0.0, 2551, 502, 1590, 3543}, printed{0.000, 0.9, 50, 67, 0, 185},
                             printed{0.010, 0.9, 150, 121, 13, 398}, printed{0.050, 0.9, 2551, 505, 1628, 3555}}) {
        const study_inputs inputs(numbered({distribution::normal(p.about, 0.005), distribution::normal(0.0, 0.005)}),
                                  correlation_of_two(p.r));
        const exact_summary loss = propagated_one(
            inputs, {"loss", 1e-9, 1000}, [](const std::vector<double>& x) { return x[0] * x[0] + x[1] * x[1]; },
            50'000);
        INFO(p.about << " with correlation " << p.r);
        check_mean(loss, p.mean * 1e-6, 1e-6);
        check_deviation(loss, p.deviation * 1e-6, 0.5e-6);
        check_shortest(loss, p.low * 1e-6, p.high * 1e-6, std::max(6e-6, 0.08 * p.deviation * 1e-6));
        // In closed form, computed: x² + 2 u² and 4 u⁴ (1 + r²) + 4 x² u².
        constexpr double u2 = 25e-6;
        const double mean = p.about * p.about + 2.0 * u2;
        const double deviation = std::sqrt(4.0 * u2 * u2 * (1.0 + p.r * p.r) + 4.0 * p.about * p.about * u2);
        check_mean(loss, mean, 0.0);
        CHECK(*loss.standard_deviation() == Approx(deviation).epsilon(0.02));
        if (p.about == 0.0 && p.r == 0.0) // exponential: -50 × 10^-6 ln 0.05, computed
            check_shortest(loss, 0.0, 149.8e-6, 4e-6);
    }
}

TEST_CASE("magnitude and phase near the origin are as JCGM 102 prints, correlated or not") {
    // JCGM 102:2011 (Supplement 2), 9.3, tables 6 and 7: a complex number of real part `about` and imaginary part 0, u = 0.010 each.
    struct printed {
        double about, r, magnitude, of_magnitude, phase, of_phase;
    };
    for (const printed& p :
         {printed{0.001, 0.0, 0.013, 0.007, 0.000, 1.744}, printed{0.001, 0.9, 0.012, 0.008, -0.556, 1.599},
          printed{0.010, 0.9, 0.015, 0.008, -0.343, 0.903}}) {
        const study_inputs inputs(numbered({distribution::normal(p.about, 0.010), distribution::normal(0.0, 0.010)}),
                                  correlation_of_two(p.r));
        const auto found = propagated(
            inputs, {{"magnitude", 1e-9, 10'000}, {"phase", 1e-6, 1000}},
            [](const std::vector<double>& x, std::vector<double>& y) {
                y[0] = std::hypot(x[0], x[1]);
                y[1] = std::atan2(x[1], x[0]);
            },
            50'000);
        check_mean(found[0], p.magnitude, 0.0005);
        check_deviation(found[0], p.of_magnitude, 0.0005);
        check_mean(found[1], p.phase, 0.0005);
        check_deviation(found[1], p.of_phase, 0.0005);
    }
}

TEST_CASE("resistance, reactance and impedance of correlated readings are those of the GUM") {
    // JCGM 100:2008 (the GUM), H.2: voltage, current and phase of five sets of readings, means of table H.2 from memory; table H.4.
    Eigen::MatrixXd correlation = Eigen::MatrixXd::Identity(3, 3);
    correlation(0, 1) = correlation(1, 0) = -0.36;
    correlation(0, 2) = correlation(2, 0) = 0.86;
    correlation(1, 2) = correlation(2, 1) = -0.65;
    const study_inputs inputs(
        numbered({distribution::normal(4.9990, 0.0032), distribution::normal(0.0196610, 0.0000095),
                  distribution::normal(1.04446, 0.00075)}),
        correlation);
    const auto found = propagated(inputs, {{"R", 1e-6, 1000}, {"X", 1e-6, 1000}, {"Z", 1e-6, 1000}},
                                  [](const std::vector<double>& x, std::vector<double>& y) {
                                      y[0] = x[0] / x[1] * std::cos(x[2]);
                                      y[1] = x[0] / x[1] * std::sin(x[2]);
                                      y[2] = x[0] / x[1];
                                  });
    check_mean(found[0], 127.732, 0.0005);
    check_mean(found[1], 219.847, 0.0005);
    check_mean(found[2], 254.260, 0.0005);
    check_deviation(found[0], 0.071, 0.002); // inputs have two digits
    check_deviation(found[1], 0.295, 0.002);
    check_deviation(found[2], 0.236, 0.002);
}

TEST_CASE("the viscosity that a falling ball shows is as uncertain as NIST prints") {
    // NIST Technical Note 1900 (2015), example E3: viscosity of the calibration liquid 4.63 mPa s ± 1 %, densities 2217, 1180 and
    // 810 ± 0.5 kg/m3, times 61 s ± 10 % and 36.6 s ± 15 %, all normal. Printed: 5.82, 1.11 and 4.05 to 8.39.
    const study_inputs inputs = independent({distribution::normal(4.63, 0.0463), distribution::normal(2217.0, 0.5),
                                             distribution::normal(1180.0, 0.5), distribution::normal(810.0, 0.5),
                                             distribution::normal(61.0, 6.1), distribution::normal(36.6, 5.49)});
    const exact_summary viscosity = propagated_one(inputs, {"viscosity", 1e-6, 1000}, [](const std::vector<double>& x) {
        return x[0] * x[4] * (x[1] - x[2]) / (x[5] * (x[1] - x[3]));
    });
    check_mean(viscosity, 5.82, 0.005);
    check_deviation(viscosity, 1.11, 0.005);
    check_interval(viscosity, 4.05, 8.39, 0.06);
}

TEST_CASE("the Stefan-Boltzmann constant of other constants is as uncertain as NIST prints") {
    // Example 10 of the NIST Uncertainty Machine's manual, constants as recommended in 2010. Printed: 5.67037e-8 W m^-2 K^-4, 2.05e-13,
    // 99 % from 5.67032e-8 to 5.67043e-8, 68 % from 5.67035e-8 to 5.67039e-8.
    const study_inputs inputs = independent(
        {distribution::normal(6.62606957e-34, 0.00000029e-34), distribution::normal(8.3144621, 0.0000075),
         distribution::normal(10'973'731.568539, 0.000055), distribution::normal(5.4857990946e-4, 0.0000000022e-4),
         distribution::normal(7.2973525698e-3, 0.0000000024e-3)});
    const exact_summary sigma = propagated_one(inputs, {"sigma", 1e-18, 10'000}, [](const std::vector<double>& x) {
        const auto fourth = [](double y) { return y * y * y * y; };
        return 32.0 * std::pow(std::numbers::pi, 5) * x[0] * fourth(x[1]) * fourth(x[2]) /
               (15.0 * fourth(x[3]) * fourth(0.001) * std::pow(299'792'458.0, 6) * fourth(x[4] * x[4]));
    });
    check_mean(sigma, 5.67037e-8, 0.5e-13);
    check_deviation(sigma, 2.05e-13, 0.005e-13);
    check_interval(sigma, 5.67032e-8, 5.67043e-8, 0.7e-13, 0.99);
    check_interval(sigma, 5.67035e-8, 5.67039e-8, 0.7e-13, 0.68);
}

TEST_CASE("the logarithm of a wide rectangular input is as NPL prints") {
    // NPL report DEM-ES-011, 9.2: Y = ln X, X rectangular from 0.1 to 1.1. Table 9.2: -0.665, 0.606, shortest -1.895 to 0.095; in closed
    // form that ends at ln 1.1 and holds 95 % from ln 0.15 on, computed.
    const exact_summary log = propagated_one(independent({distribution::uniform(0.1, 1.1)}), {"log", 1e-6, 1000},
                                             [](const std::vector<double>& x) { return std::log(x[0]); });
    check_mean(log, -0.665, 0.0005);
    check_deviation(log, 0.606, 0.0005);
    check_shortest(log, -1.895, 0.095, 0.03);
    check_shortest(log, std::log(0.15), std::log(1.1), 0.03);
}

} // namespace published_examples_test
