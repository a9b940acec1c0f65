// Ishigami's function, sampled and taken apart: samples a second, random and on Sobol' points, and Sobol' indices by Jansen's estimator
// with 16 randomisations, against OpenTURNS where it is installed, in one run and on one thread. Both have to find the closed form
// before they are timed. Ends in tables of ratios; with --markdown they are Markdown.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <span>
#include <string>
#include <vector>

#include <tranche/study/run/run_study.hpp>
#include <tranche/study/run/study_of_inputs.hpp>
#include <tranche/study/sensitivity/sobol_indices.hpp>

#include "in_turn.hpp"
#include "openturns_rival.hpp"

namespace {

using namespace tranche;
using namespace tranche_benchmark;

constexpr std::size_t samples = 1'000'000;
constexpr std::uint32_t net_samples = 1U << 20U;
constexpr std::uint32_t net = 1U << 14U;
constexpr std::size_t randomisations = 16;
constexpr int rounds = 7;

double ishigami(std::span<const double> x) {
    const double s = std::sin(x[1]);
    return std::sin(x[0]) * (1.0 + 0.1 * x[2] * x[2] * x[2] * x[2]) + 7.0 * s * s;
}

/// The function alone, at points that are there: what no way to sample it takes less than.
std::vector<double> of_points(const std::vector<double>& points) {
    double sum = 0.0, squares = 0.0;
    for (std::size_t i = 0; i < points.size(); i += 3) {
        const double y = ishigami(std::span(points).subspan(i, 3));
        sum += y;
        squares += y * y;
    }
    const double n = static_cast<double>(points.size()) / 3.0, mean = sum / n;
    return {mean, std::sqrt((squares - n * mean * mean) / (n - 1.0))};
}

/// The same at random points that are made on the way, as a study draws them: what no study takes less than.
std::vector<double> of_streams(const study_inputs& inputs) {
    constexpr std::size_t at_once = 64;
    std::array<double, 3 * at_once> columns{};
    double sum = 0.0, squares = 0.0;
    for (std::size_t first = 0; first < samples; first += at_once) {
        inputs.draw(random_streams(1, first, at_once), columns);
        for (std::size_t j = 0; j < at_once; ++j) {
            const double y = ishigami(std::array{columns[j], columns[at_once + j], columns[2 * at_once + j]});
            sum += y;
            squares += y * y;
        }
    }
    const auto n = static_cast<double>(samples);
    const double mean = sum / n;
    return {mean, std::sqrt((squares - n * mean * mean) / (n - 1.0))};
}

constexpr double unit = 1e-6;

/// A study: a stream of its own for each replicate, exact sums and a histogram of hundredths.
template <class Model>
std::vector<double> sampled(const Model& model) {
    const study_result result = run_study(model, {.replicates = samples});
    return {result["ishigami"].mean().value_or(0.0), result["ishigami"].standard_deviation().value_or(0.0)};
}
std::vector<double> sampled(const study_inputs& inputs) {
    return sampled(
        study_of_inputs(inputs, {{"ishigami", unit, 10'000}}, [](std::span<const double> x) { return ishigami(x); }));
}
/// The same of a model that draws and rounds for itself.
std::vector<double> sampled_by_hand(const study_inputs& inputs) {
    return sampled(study_of({{{"ishigami", unit, 10'000}}, {}},
                            [&](const study_replicate& replicate, std::span<std::int64_t> outputs) {
                                std::array<double, 3> x{};
                                random_stream stream = replicate.stream();
                                inputs.draw(stream, x);
                                outputs[0] = std::llround(ishigami(x) / unit);
                            }));
}
/// The same of a scrambled net.
std::vector<double> net_sampled(const study_inputs& inputs) {
    std::array<double, 3> x{};
    double sum = 0.0, squares = 0.0;
    sobol_points(3, 1).each_point(net_samples, x, [&](std::uint32_t) {
        inputs.values(x, x);
        const double y = ishigami(x);
        sum += y;
        squares += y * y;
    });
    const double n = net_samples, mean = sum / n;
    return {mean, std::sqrt((squares - n * mean * mean) / (n - 1.0))};
}
std::vector<double> taken_apart(const study_inputs& inputs) {
    const output_sensitivity found = sobol_indices(inputs, ishigami, {.points = net, .randomisations = randomisations});
    std::vector<double> all;
    for (const auto& i : found.inputs) all.push_back(i.first_order.value);
    for (const auto& i : found.inputs) all.push_back(i.total.value);
    return all;
}

void require_close(const std::vector<double>& found, const std::vector<double>& known, double within, const char* who) {
    for (std::size_t i = 0; i < known.size(); ++i)
        if (!(std::abs(found[i] - known[i]) <= within)) {
            std::fprintf(stderr, "%s finds %.6f, not %.6f\n", who, found[i], known[i]);
            std::exit(EXIT_FAILURE);
        }
}

} // namespace

int main(int argc, char** argv) {
    const bool markdown = start(argc, argv);
    constexpr double pi = std::numbers::pi;
    const study_inputs inputs({{"a", distribution::uniform(-pi, pi)},
                               {"b", distribution::uniform(-pi, pi)},
                               {"c", distribution::uniform(-pi, pi)}});
    // Closed forms: Ishigami and Homma 1990, computed.
    const std::vector<double> moments{3.5, std::sqrt(13.844587940719)};
    const std::vector<double> indices{0.313905191148, 0.442411144790, 0.0,
                                      0.557588855210, 0.442411144790, 0.243683664062};

    std::vector<task> sampling, net_sampling, sensitivity;
#ifdef TRANCHE_HAS_OPENTURNS
    const openturns_rival rival;
    std::printf("OpenTURNS %s\n", openturns_rival::version().c_str());
    require_close(rival.moments(samples, rival.compiled), moments, 0.02, "OpenTURNS");
    require_close(rival.indices(net, randomisations, rival.compiled), indices, 0.002, "OpenTURNS");
    sampling.push_back({"OpenTURNS, compiled function", [&] { return rival.moments(samples, rival.compiled)[0]; }});
    sampling.push_back({"OpenTURNS, symbolic function", [&] { return rival.moments(samples, rival.symbolic)[0]; }});
    require_close(rival.net_moments(net_samples, rival.compiled), moments, 0.001, "OpenTURNS");
    net_sampling.push_back(
        {"OpenTURNS, compiled function", [&] { return rival.net_moments(net_samples, rival.compiled)[0]; }});
    net_sampling.push_back(
        {"OpenTURNS, symbolic function", [&] { return rival.net_moments(net_samples, rival.symbolic)[0]; }});
    sensitivity.push_back(
        {"OpenTURNS, compiled function", [&] { return rival.indices(net, randomisations, rival.compiled)[0]; }});
    sensitivity.push_back(
        {"OpenTURNS, symbolic function", [&] { return rival.indices(net, randomisations, rival.symbolic)[0]; }});
#else
    std::printf("OpenTURNS is not here (libopenturns-dev): nothing to compare with\n");
#endif
    std::vector<double> points(3 * samples);
    random_stream(1).next_uniforms(points);
    for (double& x : points) x = pi * (2.0 * x - 1.0);
    require_close(of_points(points), moments, 0.02, "the function");
    require_close(of_streams(inputs), moments, 0.02, "the function");
    require_close(sampled(inputs), moments, 0.02, "the study");
    require_close(sampled_by_hand(inputs), sampled(inputs), 0.0, "the study by hand");
    require_close(net_sampled(inputs), moments, 0.001, "sobol_points");
    require_close(taken_apart(inputs), indices, 0.002, "sobol_indices");
    sampling.push_back({"the function alone, points given", [&] { return of_points(points)[0]; }});
    sampling.push_back({"the function at points drawn alike", [&] { return of_streams(inputs)[0]; }});
    sampling.push_back({"tranche, run_study, drawn by hand", [&] { return sampled_by_hand(inputs)[0]; }});
    sampling.push_back({"tranche, run_study", [&] { return sampled(inputs)[0]; }});
    net_sampling.push_back({"tranche, sobol_points", [&] { return net_sampled(inputs)[0]; }});
    sensitivity.push_back({"tranche, sobol_indices", [&] { return taken_apart(inputs)[0]; }});

    time_in_turn(sampling, rounds, "A million random samples of Ishigami's function", markdown);
    time_in_turn(net_sampling, rounds, "2^20 samples of it on Sobol' points", markdown);
    time_in_turn(sensitivity, rounds, "Sobol' indices of it, 16 times 2^14 points", markdown);
    std::printf("\ntranche: %.1f million random samples a second, %.1f million on Sobol' points\n",
                1e-6 * samples / sampling.back().median(), 1e-6 * net_samples / net_sampling.back().median());
#ifdef TRANCHE_HAS_OPENTURNS
    const double function = sampling[2].median(), drawn = sampling[3].median(), here = sampling.back().median(),
                 there = sampling.front().median();
    std::printf(
        "OpenTURNS takes %.2f times as long for random samples, of which the function itself takes %.0f %% there and "
        "%.0f %% here; %.2f times as long beside it. The function at points drawn alike, and nothing else: %.2f.\n",
        there / here, 100.0 * function / there, 100.0 * function / here, (there - function) / (here - function),
        there / drawn);
#endif
    return EXIT_SUCCESS;
}
