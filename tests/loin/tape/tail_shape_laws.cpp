// Whatever the tape model: what a straight trim leaves of the tail by weight is what is drawn in front of the line.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace tail_shape_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// The area of an outline in front of an upright line, by clipping it (Sutherland and Hodgman 1974) and the shoelace formula.
double area_in_front(const outline& curve, double line) {
    struct point {
        double x, y;
    };
    std::vector<point> kept;
    for (std::size_t i = 0; i < curve.points.size(); ++i) {
        const outline_point &from = curve.points[i], &to = curve.points[(i + 1) % curve.points.size()];
        const point a{from.across.value(), from.up.value()}, b{to.across.value(), to.up.value()};
        if (a.x <= line) kept.push_back(a);
        if ((a.x <= line) != (b.x <= line)) kept.push_back({line, a.y + (b.y - a.y) * (line - a.x) / (b.x - a.x)});
    }
    double twice = 0.0;
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const point &a = kept[i], &b = kept[(i + 1) % kept.size()];
        twice += a.x * b.y - b.x * a.y;
    }
    return 0.5 * std::abs(twice);
}

template <class Model>
void check_tails(const std::string& name, const Model& written) {
    for (const double fill : {0.35, 0.55, 0.70, 0.80, 0.85, 0.95, 1.0}) {
        const Model loin = written.with_fill(fill).snapped();
        const profile meat = tabulate(loin, 7_mm);
        for (std::size_t cell = 0; cell < meat.cells(); cell += 8) {
            const length at = 0.5 * (meat.position(cell) + meat.position(cell + 1));
            const face f = loin.face_at(at);
            if (!(f.tail.thickness > length{})) continue;
            const painted_face painted = loin.painted_at(at);
            const outline& tail = painted.front().curve;
            REQUIRE(painted.front().fill == tissue::tail);
            const double all = area_in_front(tail, 10.0), end = (f.width - f.tail.thickness).value();
            CHECK_THAT(all, WithinRel(f.areas[tissue::tail].value(), 1e-9));
            // To less than a 32nd of the tail a trim takes what lies on the flank of the eye too.
            for (const double part : {0.04, 0.1, 0.25, 0.4321, 0.6, 0.8, 0.95, 1.0}) {
                const length keep = detail::snapped(part * f.tail.thickness); // as a trim reads it
                CAPTURE(name, fill, cell, part);
                CHECK_THAT(detail::share_left(tissue::tail, {.tail = keep}, f),
                           WithinAbs(area_in_front(tail, end + keep.value()) / all, 1e-9));
                CHECK(meat.tail_within(cell, keep) == f.tail.within(keep));
            }
            CHECK(meat.tail_within(cell, length{}) == 0.0);
        }
    }
}

constexpr taped_readings rib{.width = 23_cm, .depth = 8.7_cm, .fat_cover = 12_mm, .tail = 7_cm},
    sirloin{.width = 21_cm, .depth = 7.7_cm, .fat_cover = 10_mm, .tail = 1_cm};

} // namespace

TEST_CASE("law: a trim leaves of the tail what is drawn in front of its line") {
    for (const double tail_depth : {0.2, 0.4, 0.8}) {
        CAPTURE(tail_depth);
        const face_shape shape{.tail_depth = tail_depth};
        check_tails("prism", prism_loin{.length = 40_cm, .face = rib, .shape = shape});
        check_tails("tapered", tapered_loin{.length = 40_cm, .rib = rib, .sirloin = sirloin, .shape = shape});
        check_tails("measured", measured_loin{.length = 42_cm,
                                              .stations = {{0_cm, 23_cm, 8.6_cm, 12_mm, 6_cm},
                                                           {20_cm, 22_cm, 7.8_cm, 11_mm, 0_cm},
                                                           {40_cm, 22_cm, 7.8_cm, 11_mm, 4_cm}},
                                              .gluteus_medius = {.onset = 34_cm, .share_at_end = 0.3},
                                              .shape = shape});
    }
    check_tails("typical", typical_loin(5.4_kg, beef_strip_loin).readings());
    check_tails("typical", typical_loin(4.1_kg, boneless_pork_loin).readings());
}

TEST_CASE("law: no longer tail that stays keeps less, and a tail that is not cut keeps all") {
    for (const double fill : {0.4, 0.7, 0.8, 0.9, 1.0})
        for (const double tail_depth : {0.1, 0.4, 0.6, 1.0}) {
            const layer tail = taped_face(rib, {.fill = fill, .tail_depth = tail_depth}, 0.0).tail;
            double before = 0.0;
            for (int k = 0; k <= 1000; ++k) {
                const double within = tail.within(0.001 * k * tail.thickness);
                REQUIRE(within >= before);
                before = within;
            }
            CHECK(before == 1.0);
        }
}

TEST_CASE("layer_taper: a wedge and a level layer are their closed integrals") {
    // Of a wedge 1 - (1 - u)² lies within u, of an even layer u, computed by hand; half level, 2/3 lie within the half.
    CHECK_THAT(layer_taper({.share = 1.0}).within(0.25), WithinAbs(1.0 - 0.75 * 0.75, 1e-15));
    CHECK_THAT(layer_taper({.share = 1.0, .level = 1.0}).within(0.25), WithinAbs(0.25, 1e-15));
    CHECK_THAT(layer_taper({.share = 1.0, .level = 0.5}).within(0.5), WithinAbs(2.0 / 3.0, 1e-15));
    const layer tail{.thickness = 5_cm, .taper = {.share = 0.6, .level = 0.3}};
    for (const double part : {0.1, 0.4, 0.9}) { // the growth is its derivative
        const length at = part * tail.thickness, step = 1e-6 * 1_m;
        CHECK_THAT(tail.growth(at), WithinRel((tail.within(at + step) - tail.within(at - step)) / 2e-6, 1e-6));
    }
}

} // namespace tail_shape_laws
