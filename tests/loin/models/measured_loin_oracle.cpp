// A measured loin's table against quadrature of its faces by Boost.Math.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <vector>

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace measured_loin_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Mass of a tissue from the rib face to `to`. Between stations and the onset the area is a polynomial of seventh degree
/// at most (two cubics and a line), which 31 points integrate exactly.
mass quadrature(const measured_loin& loin, tissue t, length to) {
    std::vector<double> ends{0.0};
    for (const station& s : loin.stations) ends.push_back(s.at.value());
    ends.push_back(loin.gluteus_medius.onset.value());
    ends.push_back(loin.length.value());
    std::sort(ends.begin(), ends.end());
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
        const double from = ends[i], until = std::min(ends[i + 1], to.value());
        if (until <= from) continue;
        sum += boost::math::quadrature::gauss_kronrod<double, 31>::integrate(
            [&](double x) { return loin.face_at(length::from_value(x)).areas[t].value(); }, from, until, 0);
    }
    return mass::from_value(sum * densities_at_4_celsius()[t].value());
}

} // namespace

TEST_CASE("every column of the table is the integral of its tissue") {
    measured_loin loin = strip_loin();
    const bool onset_inside_a_cell = GENERATE(false, true);
    if (onset_inside_a_cell) loin.gluteus_medius.onset = 33.62_cm;
    const profile meat = tabulate(loin);
    const double h = meat.step() / 1_cm;

    // Simpson's rule is off by length × h^4 / 2880 × |f''''|. A monotone cubic that changes by D over a stretch H has
    // |y'| <= 3 D/H, |y''| <= 12 D/H², |y'''| <= 24 D/H³; the product of two of them with changes D and E then
    // |f''''| <= 1440 D E / H^4. Here D <= 1.3 cm (width), E <= 0.5 cm (depth), H >= 20 cm: below 0.006 cm²/cm⁴, so
    // 42 × 0.05^4 / 2880 × 0.006 × 1.06 g, a thousandth of a microgram. Half a microgram is rounding, two are the closing
    // of the total.
    const double smooth = 42.0 * std::pow(h, 4) / 2880.0 * 0.006 * 1.06 * 1e6, whole = 0.5 + 2.0;
    // At the onset the lean of either muscle has a kink: its slope jumps by J = 1.06 × lean × 0.3 / 8.38 cm. Simpson's
    // rule on the one cell with the kink inside is off by (3θ² - θ) / 6 × J h², at most J h² / 24. Lean below 105 cm².
    const double kink = onset_inside_a_cell ? 1.06 * 105.0 * 0.3 / 8.38 * h * h / 24.0 * 1e6 : 0.0;
    for (const tissue t : all_tissues) {
        CAPTURE(name_of(t));
        const bool lean = t == tissue::eye || t == tissue::gluteus_medius;
        for (std::size_t i = 0; i <= meat.cells(); i += 60) {
            const double micrograms_before = quadrature(loin, t, meat.position(i)).value() * 1e9;
            REQUIRE(std::abs(static_cast<double>(meat.cumulative(t)[i]) - micrograms_before) <=
                    whole + smooth + (lean ? kink : 0.0));
        }
    }
}

TEST_CASE("areas sum to the superellipse and the tail whatever the tissues") {
    const measured_loin loin = strip_loin();
    for (length at{}; at <= loin.length; at += 3.7_mm) {
        const face f = loin.face_at(at);
        const area box = loin.shape.fill * (f.width - f.tail.thickness) * f.depth +
                         loin.shape.tail_depth * f.tail.thickness * f.depth;
        REQUIRE_THAT(double(f.areas.sum() / box), WithinRel(1.0, 2e-15)); // a sum of five products
    }
}

} // namespace measured_loin_oracle
