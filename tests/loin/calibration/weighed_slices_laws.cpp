// Laws of the calibration by weighed slices, over generated loins and readings.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <random>
#include <vector>

#include <boost/math/special_functions/erf.hpp>

#include <tranche/loin/calibration/weighed_slices.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/units/literals.hpp>

namespace weighed_slices_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

double uniform(std::mt19937_64& random) { return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53; }
double normal(std::mt19937_64& random) { return std::sqrt(2.0) * boost::math::erf_inv(2.0 * uniform(random) - 1.0); }

// Invented.
const prism_loin prism{.length = 400_mm, .face = {.width = 16_cm, .depth = 7.5_cm}};
const tapered_loin taper{.length = 430_mm,
                         .rib = {.width = 21_cm, .depth = 8_cm, .fat_cover = 1_cm, .tail = 5_cm},
                         .sirloin = {.width = 19_cm, .depth = 7_cm, .fat_cover = 1_cm, .tail = 3_cm}};
constexpr mass taper_weight = 5.2_kg;

/// Invented readings that lie beside each other, in the order in which they lie.
std::vector<weighed_slice> some_slices(std::mt19937_64& random, const profile& meat) {
    std::vector<weighed_slice> slices;
    length at = 20.0 * uniform(random) * millimetre;
    for (;;) {
        const length from = at, to = from + (15.0 + 25.0 * uniform(random)) * millimetre;
        if (to > meat.extent() || slices.size() == 9) return slices;
        const mass sd = (4.0 + 12.0 * uniform(random)) * gram;
        const mass own = to_mass(meat.between(meat.nearest(from), meat.nearest(to)));
        slices.push_back({from, to, own * (1.0 + 0.03 * normal(random)) + sd * normal(random), sd});
        at = to + (uniform(random) < 0.5 ? 0.0 : 60.0 * uniform(random)) * millimetre;
    }
}

const slice_prior patient{.most_deviation = 50.0};

double largest_difference(const std::vector<slice_factor>& a, const std::vector<slice_factor>& b) {
    double largest = 0.0;
    for (std::size_t k = 0; k < a.size(); ++k) largest = std::max(largest, std::abs(a[k].factor - b[k].factor));
    return largest;
}

// Condition: the row of the weight outweighs the prior by 1e5, so QR keeps ten or eleven digits of numbers near one.
constexpr double rounding_noise = 1e-9;

} // namespace

TEST_CASE("a reading that says what was expected changes no factor and shrinks their spread") {
    std::mt19937_64 random(1);
    const profile meat = calibrated_profile(taper, taper_weight);
    for (int round = 0; round < 40; ++round) {
        std::vector<weighed_slice> slices = some_slices(random, meat);
        const weighed_slice last = slices.back();
        slices.pop_back();
        const auto before = calibrate_by_slices(taper, taper_weight, slices, patient);
        // What it is expected to weigh is what a reading, any reading, is told by the others.
        std::vector<weighed_slice> with = slices;
        with.push_back(last);
        with.back().weight = calibrate_by_slices(taper, taper_weight, with, patient).findings.back().by_the_others;
        const auto after = calibrate_by_slices(taper, taper_weight, with, patient);
        CHECK(largest_difference(before.factors, after.factors) < rounding_noise);
        CHECK_THAT(after.findings.back().residual / gram, WithinAbs(0.0, 1e-5)); // 1e-9 of a kilogram, and some
        bool somewhere = false;
        for (std::size_t k = 0; k < before.factors.size(); ++k) {
            const double narrower = before.factors[k].standard_deviation - after.factors[k].standard_deviation;
            CHECK(narrower > -rounding_noise);
            somewhere = somewhere || narrower > 1e-3 * before.factors[k].standard_deviation;
        }
        CHECK(somewhere);
    }
}

TEST_CASE("the order in which slices are weighed does not matter") {
    std::mt19937_64 random(2);
    const profile meat = calibrated_profile(taper, taper_weight);
    for (int round = 0; round < 40; ++round) {
        std::vector<weighed_slice> slices = some_slices(random, meat);
        const auto one = calibrate_by_slices(taper, taper_weight, slices, patient);
        std::reverse(slices.begin(), slices.end());
        std::swap(slices.front(), slices[slices.size() / 2]);
        const auto other = calibrate_by_slices(taper, taper_weight, slices, patient);
        CHECK(largest_difference(one.factors, other.factors) < rounding_noise);
        CHECK_THAT(other.findings.front().deviation,
                   WithinAbs(one.findings[slices.size() - 1 - slices.size() / 2].deviation, 1e-6));
    }
}

TEST_CASE("what a reading changed is the difference to a calibration without it") {
    std::mt19937_64 random(3);
    const profile meat = calibrated_profile(taper, taper_weight);
    for (int round = 0; round < 10; ++round) {
        const std::vector<weighed_slice> slices = some_slices(random, meat);
        const auto all = calibrate_by_slices(taper, taper_weight, slices, patient);
        for (std::size_t i = 0; i < slices.size(); ++i) {
            std::vector<weighed_slice> rest = slices;
            rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
            const auto without = calibrate_by_slices(taper, taper_weight, rest, patient);
            for (std::size_t k = 0; k < all.factors.size(); ++k)
                CHECK_THAT(all.findings[i].changed[k],
                           WithinAbs(all.factors[k].factor - without.factors[k].factor, rounding_noise));
        }
    }
}

TEST_CASE("weighing a slice twice is weighing it once with a better scale") {
    std::mt19937_64 random(4);
    const profile meat = calibrated_profile(taper, taper_weight);
    for (int round = 0; round < 20; ++round) {
        std::vector<weighed_slice> once = some_slices(random, meat);
        std::vector<weighed_slice> twice = once;
        twice.push_back(once.front());
        twice.back().weight += 6_g;
        once.front().weight += 3_g;
        once.front().standard_deviation /= std::sqrt(2.0);
        const auto a = calibrate_by_slices(taper, taper_weight, once, patient);
        const auto b = calibrate_by_slices(taper, taper_weight, twice, patient);
        CHECK(largest_difference(a.factors, b.factors) < rounding_noise);
        for (std::size_t k = 0; k < a.factors.size(); ++k)
            CHECK_THAT(a.factors[k].standard_deviation, WithinAbs(b.factors[k].standard_deviation, rounding_noise));
    }
}

TEST_CASE("a loin of other size with readings in proportion has the same factors") {
    std::mt19937_64 random(5);
    const profile meat = calibrated_profile(taper, taper_weight);
    for (const double c : {0.5, 1.7}) { // lengths times c, masses times c³: another unit, seen from inside
        const std::vector<weighed_slice> slices = some_slices(random, meat);
        tapered_loin scaled = taper;
        for (length* l :
             {&scaled.length, &scaled.rib.width, &scaled.rib.depth, &scaled.rib.fat_cover, &scaled.rib.tail,
              &scaled.sirloin.width, &scaled.sirloin.depth, &scaled.sirloin.fat_cover, &scaled.sirloin.tail})
            *l *= c;
        std::vector<weighed_slice> readings = slices;
        for (weighed_slice& s : readings) {
            s.from *= c;
            s.to *= c;
            s.weight *= c * c * c;
            s.standard_deviation *= c * c * c;
        }
        const auto one = calibrate_by_slices(taper, taper_weight, slices, patient);
        const auto other = calibrate_by_slices(scaled, c * c * c * taper_weight, readings, patient, {c * default_step});
        // Tables are rounded to the microgram: of a slice of 40 g, 1e-8 or so a cut, over a standard deviation of 1 %.
        CHECK(largest_difference(one.factors, other.factors) < 1e-6);
    }
}

TEST_CASE("the calibrated loin weighs what the scale said to the microgram") {
    std::mt19937_64 random(6);
    for (int round = 0; round < 20; ++round) {
        const mass weighed = to_mass({5'000'000'000 + static_cast<std::int64_t>(random() % 500'000'000)});
        const profile meat = calibrated_profile(taper, weighed);
        const auto found = calibrate_by_slices(taper, weighed, some_slices(random, meat), patient);
        CHECK(tabulate(found.loin).total() == to_micrograms(weighed));
    }
}

TEST_CASE("factors agree with conditioning the prior on the readings directly") {
    // The other way to the same posterior: with the prior covariance P among the knots, exp(-d / reach) × spread², and
    // readings y = w + M b + noise of covariance R, b = P M' (M P M' + R)^-1 (y - w). On a prism with knots on the
    // grid, entries of M have a closed form, here summed up over slivers of a hundredth of a millimetre.
    std::mt19937_64 random(7);
    const double per_metre = 10.0, extent = 0.4;
    const slice_prior prior{.spread = 0.1, .reach = 0.4, .knots = 9, .most_deviation = 50.0};
    const auto p = static_cast<Index>(prior.knots);
    MatrixXd covariance(p, p);
    for (Index i = 0; i < p; ++i)
        for (Index k = 0; k < p; ++k)
            covariance(i, k) = 0.01 * std::exp(-std::abs(double(i - k)) / double(p - 1) / prior.reach);
    const auto masses = [&](double from, double to) {
        VectorXd m = VectorXd::Zero(p);
        const int slivers = static_cast<int>(std::lround((to - from) / 1e-5));
        for (int s = 0; s < slivers; ++s) {
            const double x = (from + (s + 0.5) * 1e-5) / extent * double(p - 1);
            const auto k = std::min(static_cast<Index>(x), p - 2);
            m(k) += (1.0 - (x - double(k))) * per_metre * 1e-5;
            m(k + 1) += (x - double(k)) * per_metre * 1e-5;
        }
        return m;
    };
    for (int round = 0; round < 10; ++round) {
        const profile meat = calibrated_profile(prism, 4_kg);
        std::vector<weighed_slice> slices = some_slices(random, meat);
        for (weighed_slice& s : slices) { // onto the grid, so that both see the same slices
            s.from = meat.position(meat.nearest(s.from));
            s.to = meat.position(meat.nearest(s.to));
        }
        const auto n = static_cast<Index>(slices.size());
        MatrixXd m(n + 1, p);
        VectorXd off(n + 1);
        MatrixXd noise = MatrixXd::Zero(n + 1, n + 1);
        m.row(n) = masses(0.0, extent).transpose(); // the weight of the loin, without noise
        off(n) = 0.0;
        for (Index i = 0; i < n; ++i) {
            const weighed_slice& s = slices[static_cast<std::size_t>(i)];
            m.row(i) = masses(s.from.value(), s.to.value()).transpose();
            off(i) = s.weight.value() - per_metre * (s.to - s.from).value();
            noise(i, i) = s.standard_deviation.value() * s.standard_deviation.value();
        }
        const MatrixXd gain =
            covariance * m.transpose() * (m * covariance * m.transpose() + noise).colPivHouseholderQr().inverse();
        const VectorXd b = gain * off;
        const MatrixXd left = covariance - gain * m * covariance;
        const auto found = calibrate_by_slices(prism, 4_kg, slices, prior);
        for (Index k = 0; k < p; ++k) {
            const slice_factor& f = found.factors[static_cast<std::size_t>(k)];
            // The table is rounded to the microgram in 5 g: 1e-7 to 1e-6 after amplification by the inverse, at most
            // 100.
            CHECK_THAT(f.factor, WithinAbs(1.0 + b(k), 1e-6));
            CHECK_THAT(f.standard_deviation, WithinAbs(std::sqrt(left(k, k)), 1e-6));
        }
    }
}

TEST_CASE("factors and their spread do not depend on how many knots carry them") {
    std::mt19937_64 random(8);
    const profile meat = calibrated_profile(taper, taper_weight);
    for (int round = 0; round < 5; ++round) {
        const std::vector<weighed_slice> slices = some_slices(random, meat);
        slice_prior coarse = patient, fine = patient;
        coarse.knots = 33;
        fine.knots = 65;
        const auto a = calibrate_by_slices(taper, taper_weight, slices, coarse);
        const auto b = calibrate_by_slices(taper, taper_weight, slices, fine);
        for (std::size_t k = 0; k < 33; ++k) {
            // Half-way between two knots the straight line takes 1/4 of (1 - correlation of 13 mm) = 2.3 % off the
            // prior's variance, 1.2 % off its spread of 0.08: a thousandth.
            CHECK_THAT(a.factors[k].factor, WithinAbs(b.factors[2 * k].factor, 2e-3));
            CHECK_THAT(a.factors[k].standard_deviation, WithinAbs(b.factors[2 * k].standard_deviation, 1e-3));
        }
    }
}

TEST_CASE("deviations of right readings and errors of factors have the stated spread") {
    // Loins drawn from the prior, given their weight (b less P w (w'P w)^-1 w'b), readings with their noise. Squares of
    // standardised errors then average one: over 300 loins, with 4 readings each that share little, the mean of 1,200
    // squares has a standard deviation of about √(2 / 1,200) = 0.04, and that of one knot over 300 loins 0.08. Four
    // times that for each.
    std::mt19937_64 random(9);
    const slice_prior prior{.spread = 0.05, .reach = 0.3, .knots = 17, .most_deviation = 50.0};
    const auto p = static_cast<Index>(prior.knots);
    MatrixXd covariance(p, p);
    for (Index i = 0; i < p; ++i)
        for (Index k = 0; k < p; ++k)
            covariance(i, k) = 0.0025 * std::exp(-std::abs(double(i - k)) / double(p - 1) / prior.reach);
    VectorXd whole = VectorXd::Constant(p, 1.0);
    whole(0) = whole(p - 1) = 0.5;
    const MatrixXd root = covariance.llt().matrixL();
    const VectorXd weigh = covariance * whole / (whole.dot(covariance * whole));
    constexpr int loins = 300;
    double of_readings = 0.0;
    VectorXd of_factors = VectorXd::Zero(p);
    for (int round = 0; round < loins; ++round) {
        VectorXd b(p);
        for (Index k = 0; k < p; ++k) b(k) = normal(random);
        b = root * b;
        b -= weigh * whole.dot(b);
        slice_calibrated_loin<prism_loin> truth{prism, {}};
        for (Index k = 0; k < p; ++k) truth.factors.push_back(1.0 + b(k));
        const profile meat = calibrated_profile(truth, 4_kg);
        std::vector<weighed_slice> slices;
        for (const double start : {10.0, 110.0, 210.0, 310.0}) {
            const length from = start * millimetre, to = from + 30_mm;
            const mass own = to_mass(meat.between(meat.nearest(from), meat.nearest(to)));
            slices.push_back({from, to, own + normal(random) * 8_g, 8_g});
        }
        const auto found = calibrate_by_slices(prism, 4_kg, slices, prior);
        for (const slice_finding& f : found.findings) of_readings += f.deviation * f.deviation / (4.0 * loins);
        for (Index k = 0; k < p; ++k) {
            const slice_factor& f = found.factors[static_cast<std::size_t>(k)];
            const double error = (f.factor - 1.0 - b(k)) / f.standard_deviation;
            of_factors(k) += error * error / loins;
        }
    }
    CHECK_THAT(of_readings, WithinAbs(1.0, 4.0 * 0.04));
    for (Index k = 0; k < p; ++k) CHECK_THAT(of_factors(k), WithinAbs(1.0, 4.0 * 0.08));
}

} // namespace weighed_slices_laws
