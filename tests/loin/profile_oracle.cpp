// The table against integrals known otherwise: equal portions from a changing face, and the order of convergence.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <boost/math/quadrature/tanh_sinh.hpp>
#include <boost/math/tools/toms748_solve.hpp>

#include <tranche/cut/trim.hpp>
#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace profile_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A(x) = 90 - 0.9 x + 0.006 x² cm² on 0 to 40 cm, all of one tissue (own instance, in published form with its answers).
struct changing_face {
    length end = 40_cm;
    [[nodiscard]] length extent() const { return end; }
    [[nodiscard]] face face_at(length at) const {
        const double x = at / centimetre;
        face f;
        f.areas[tissue::eye] = (90.0 - 0.9 * x + 0.006 * x * x) * (centimetre * centimetre);
        return f;
    }
};

const density meat_density = 1.05_g_per_cm3;

/// Where portions of 340 g end, in cm: own instance, computed to 12 digits from the cubic.
constexpr std::array cuts{3.66391184184, 7.46516571427, 11.4117677483, 15.5116515192,
                          19.7723755496, 24.2006993492, 28.8020117369, 33.5795920439};
/// Half of the last digit: 11 decimals below 10 cm, 10 above.
constexpr double half_a_digit(double cut) { return cut < 10.0 ? 0.5e-11 : 0.5e-10; }

/// Simpson's rule on [a, b], exact for this face.
double grams_between(const changing_face& loin, length a, length b) {
    const auto at = [&](length x) { return double(loin.face_at(x).areas[tissue::eye] / (centimetre * centimetre)); };
    return 1.05 * ((b - a) / centimetre) / 6.0 * (at(a) + 4.0 * at(0.5 * (a + b)) + at(b));
}

} // namespace

TEST_CASE("the loin with the changing face weighs what it should") {
    // 1.05 × (90 × 40 - 0.45 × 40² + 0.002 × 40³) = 3158.4 g; quadratic, so exact on every grid.
    const length step = GENERATE(0.5_mm, 7_mm, 40_cm);
    CHECK(tabulate(changing_face{}, step, all_of(meat_density)).total().count == 3'158'400'000);
}

TEST_CASE("the table puts equal portions at the published cuts") {
    const changing_face loin;
    const profile meat = tabulate(loin, default_step, all_of(meat_density));
    for (std::size_t k = 0; k < cuts.size(); ++k) {
        const length cut = cuts[k] * centimetre;
        const auto cell = static_cast<std::size_t>(cut / meat.step());
        const double grams =
            static_cast<double>(meat.cumulative()[cell]) * 1e-6 + grams_between(loin, meat.position(cell), cut);
        // Half a microgram of the table, and half of the cut's last digit times 1.05 g/cm³ × 90 cm².
        CHECK_THAT(grams, WithinAbs(340.0 * static_cast<double>(k + 1), 0.5e-6 + 94.5 * half_a_digit(cuts[k])));
    }
}

TEST_CASE("the table alone finds the published cuts up to its grid") {
    for (const length& step : {0.5_mm, 0.1_mm, 0.02_mm}) {
        const profile meat = tabulate(changing_face{}, step, all_of(meat_density));
        const double h = step / centimetre;
        for (std::size_t k = 0; k < cuts.size(); ++k) {
            const length cut = cuts[k] * centimetre;
            const auto cell = static_cast<std::size_t>(cut / step);
            const double into = (cut - meat.position(cell)) / step;
            const double micrograms_before = static_cast<double>(meat.cumulative()[cell]) +
                                             into * static_cast<double>(meat.between(cell, cell + 1).count);
            // A straight line inside a cell is off by h²/8 × |1.05 A'|, A' down to -0.9 cm. Two entries are rounded by half
            // a microgram each and weighted by 1 - into and into. The cut's last digit as before.
            const double allowed = (h * h / 8.0 * 1.05 * 0.9 + 94.5 * half_a_digit(cuts[k])) * 1e6 + 0.5;
            CHECK_THAT(micrograms_before, WithinAbs(340e6 * static_cast<double>(k + 1), allowed));
        }
    }
}

TEST_CASE("the integral behind the table has its equal portions at the published cuts to twelve digits") {
    for (std::size_t k = 0; k < cuts.size(); ++k) {
        const double target = 340.0 * static_cast<double>(k + 1);
        const auto excess = [&](double x) {
            return tabulate(changing_face{.end = x * centimetre}, 2_mm, all_of(meat_density)).unrounded_total() / gram -
                   target;
        };
        std::uintmax_t steps = 60;
        const auto [low, high] =
            boost::math::tools::toms748_solve(excess, 1.0, 39.9, boost::math::tools::eps_tolerance<double>(50), steps);
        // The mass is good to some ten units in the last place of 3 kg, which is 7e-12 g; over 47 g/cm (the least linear
        // density is above that) 1.5e-13 cm. The bracket is 2^-49 of the cut, 6e-14 cm.
        CHECK_THAT(0.5 * (low + high), WithinAbs(cuts[k], half_a_digit(cuts[k]) + 2.1e-13));
    }
}

namespace {

/// A smooth face that is no polynomial: 90 + 20 sin(x / 6 cm) cm² over 40 cm. Invented.
struct wavy_face {
    [[nodiscard]] static length extent() { return 40_cm; }
    [[nodiscard]] static face face_at(length at) {
        face f;
        f.areas[tissue::eye] = (90.0 + 20.0 * std::sin(at / 6_cm)) * (centimetre * centimetre);
        return f;
    }
};

} // namespace

TEST_CASE("halving the step of a smooth loin divides the error by sixteen") {
    // ∫ = 90 × 40 + 20 × 6 × (1 - cos(40/6)) cm³ at 1 g/cm³.
    const double exact = 3600.0 + 120.0 * (1.0 - std::cos(40.0 / 6.0));
    double before = 0.0;
    for (const double cells : {10.0, 20.0, 40.0, 80.0}) {
        const double error = tabulate(wavy_face{}, 40_cm / cells, all_of(1_g_per_cm3)).unrounded_total() / gram - exact;
        // Simpson's rule: error = h^4/2880 × (f'''(b) - f'''(a)) - h^6/96768 × (f^V(b) - f^V(a)) and so on, and every second
        // derivative of this face is the one before over -6². So the next term is (h/6)² / 33.6 of the first, and a tenth
        // more for all that follow. Sums of 4 kg are good to 1e-11 g.
        const double h = 40.0 / cells;
        const double leading = std::pow(h, 4) / 2880.0 * (20.0 / 216.0) * (1.0 - std::cos(40.0 / 6.0));
        const double next = 1.1 * (h / 6.0) * (h / 6.0) / 33.6;
        CHECK_THAT(std::abs(error), WithinAbs(leading, next * leading + 1e-11));
        if (before != 0.0) CHECK_THAT(before / error, WithinRel(16.0, 4.0 * next + 1e-11 / leading));
        before = error;
    }
}

TEST_CASE("halving the step divides the error of what a trim leaves by four") {
    // What a trim to 6 mm leaves of a layer of t(x) = 12 + 2 sin(x / 6 cm) mm and 10 cm2: ∫ 10 × 6 / t(x) dx.
    struct layered_loin {
        [[nodiscard]] static length extent() { return 40_cm; }
        [[nodiscard]] static face face_at(length at) {
            face f{.fat_cover = {.thickness = (12.0 + 2.0 * std::sin(at / 6_cm)) * 1_mm}};
            f.areas[tissue::fat_cover] = 10.0 * (centimetre * centimetre);
            return f;
        }
    };
    boost::math::quadrature::tanh_sinh<double> integrator;
    const double kept =
        integrator.integrate([](double x) { return 60.0 / (12.0 + 2.0 * std::sin(x / 6.0)); }, 0.0, 40.0);
    double before = 0.0;
    for (const int cells : {20, 40, 80, 160}) {
        const profile meat = tabulate(layered_loin{}, 40_cm / static_cast<double>(cells), all_of(1_g_per_cm3));
        double sum = 0.0;
        for (std::size_t i = 0; i < meat.cells(); ++i)
            sum += 1e-6 * static_cast<double>(detail::kept_in_cell(meat, i, tissue::fat_cover, {.fat_cover = 6_mm}));
        const double error = sum - kept;
        // The midpoint rule's next term is some (h/6)²/20 of the first, 0.6 % here at most; half a microgram a cell is lost to
        // rounding, some 6 in all of an error of 260 on the finest grid.
        if (before != 0.0) CHECK_THAT(before / error, WithinRel(4.0, 0.05));
        before = error;
    }
}

TEST_CASE("the table of a smooth loin agrees with another quadrature") {
    boost::math::quadrature::tanh_sinh<double> integrator;
    const profile meat = tabulate(wavy_face{}, default_step, all_of(1_g_per_cm3));
    for (std::size_t i = 40; i <= meat.cells(); i += 40) {
        const double end = meat.position(i) / centimetre;
        const double grams = integrator.integrate([](double x) { return 90.0 + 20.0 * std::sin(x / 6.0); }, 0.0, end);
        // Simpson's error h^4 / 2880 × 2 × 20 / 216 is 4e-10 g, the rounding of the table half a microgram.
        REQUIRE_THAT(static_cast<double>(meat.cumulative()[i]) * 1e-6, WithinAbs(grams, 0.5e-6 + 1e-9));
    }
}

} // namespace profile_oracle
