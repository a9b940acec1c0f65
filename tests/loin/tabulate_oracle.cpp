// The tables of all models that are not simple solids, against quadrature of their faces by Boost.Math.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/weighed_slices.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tape/superellipse.hpp>

#include "loin/samples.hpp"

namespace tabulate_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

outline raised(outline curve) {
    for (outline_point& p : curve.points) p.up += 8_mm;
    return curve;
}

/// Four faces with a second muscle on the last two. Invented.
traced_loin traced() {
    std::vector<traced_face> faces;
    for (const double at : {0.0, 13.0, 27.0, 42.0}) {
        const length width = (21.0 - 0.05 * at) * 1_cm, depth = (8.0 - 0.03 * at) * 1_cm;
        faces.push_back({.at = at * 1_cm,
                         .whole = superellipse({}, width, depth, 2.2),
                         .eye = raised(superellipse(0.10 * width, 0.55 * width, 0.72 * depth, 2.2))});
        if (at > 20.0)
            faces.back().gluteus_medius = raised(superellipse(0.68 * width, (0.1 + 0.002 * at) * width, 4.0_cm, 2.2));
    }
    return {42_cm, faces, 1_mm};
}

/// Sums over cells, tissue by tissue, of 15 points each: far more than Simpson's three, and kinks lie inside few cells.
template <loin_model Model>
void check_table(const std::string& name, const Model& loin, length step, double most_off) {
    CAPTURE(name);
    const profile meat = tabulate(loin, step);
    const tissue_densities densities = densities_at_4_celsius();
    const double all = meat.unrounded_total().value();
    std::map<double, by_tissue<area>> seen; // the points are the same for every tissue
    const auto areas_at = [&](double x) -> const by_tissue<area>& {
        const auto found = seen.find(x);
        return found != seen.end() ? found->second
                                   : seen.emplace(x, loin.face_at(length::from_value(x)).areas).first->second;
    };
    for (const tissue t : all_tissues) {
        CAPTURE(name_of(t));
        double sum = 0.0, worst = 0.0;
        for (std::size_t i = 0; i < meat.cells(); ++i) {
            sum += boost::math::quadrature::gauss_kronrod<double, 15>::integrate(
                [&](double x) { return areas_at(x)[t].value() * densities[t].value(); }, meat.position(i).value(),
                meat.position(i + 1).value(), 0);
            worst = std::max(worst, std::abs(static_cast<double>(meat.cumulative(t)[i + 1]) * 1e-9 - sum));
        }
        CHECK(worst <= most_off * all);
        if (t == tissue::eye) CHECK(sum > 0.3 * all); // the model has meat
    }
}

} // namespace

TEST_CASE(
    "tabulate: the tables of traced, typical, tapered, corrected and slanted loins are integrals of their faces") {
    // Smooth stretches are good to fourth order. Where a face is read (traced), a slope of the spread jumps; where a muscle
    // sets in, the area bends: with steps of 1 mm on 42 cm such a cell is off by at most a part in 24 × 420² of what bends in
    // it, 2e-7, and there are a few. A microgram in 5 kg is 2e-10.
    constexpr double bends = 1e-6;
    check_table("traced", traced(), 1_mm, bends);
    check_table("typical", typical_loin(5.4_kg, beef_strip_loin), 1_mm, bends);
    check_table("tapered",
                tapered_loin{.length = 42_cm,
                             .rib = {.width = 22_cm, .depth = 8_cm, .fat_cover = 10_mm},
                             .sirloin = {.width = 20_cm, .depth = 7_cm, .fat_cover = 7_mm}},
                1_mm, 1e-9);
    check_table("calibrated", calibrate(strip_loin(), 5.4_kg), 1_mm, bends);
    const std::vector<weighed_slice> slices{{.from = 1_cm, .to = 4_cm, .weight = 0.42_kg, .standard_deviation = 5_g},
                                            {.from = 20_cm, .to = 23_cm, .weight = 0.37_kg, .standard_deviation = 5_g}};
    check_table("corrected", calibrate_by_slices(strip_loin(), 5.4_kg, slices).loin, 1_mm, bends);
    // 64 strips begin and end on the loin one after the other, each with a bend of a 64th of the face.
    check_table("slanted", slanted_loin(strip_loin(), {.about_vertical = 12.0 * degree}), 4_mm, 2e-5);
}

} // namespace tabulate_oracle
