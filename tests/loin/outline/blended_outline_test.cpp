// Outlines between outlines, and what becomes of their holes.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/outline/detail/blended_outline.hpp>

#include <cmath>
#include <cstddef>
#include <numbers>
#include <utility>
#include <vector>

#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace blended_outline_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

using numbers = std::vector<std::pair<double, double>>;

/// In millimetres.
numbers circle(double radius, double x, double y) {
    numbers points;
    for (int i = 0; i < 90; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / 90.0;
        points.emplace_back(x + radius * std::cos(turn), y + radius * std::sin(turn));
    }
    return points;
}
/// Of the polygon of 90 corners in a circle.
double disc(double radius) { return 45.0 * std::sin(2.0 * std::numbers::pi / 90.0) * radius * radius; }

double in_mm2(const outline& curve) { return area_of(curve) / 1_mm / 1_mm; }

const outline front = outline_from(circle(60, 60, 60), 1_mm, {circle(12, 80, 60), circle(6, 40, 70)});
const outline back = outline_from(circle(50, 60, 60), 1_mm, {circle(8, 42, 68), circle(16, 84, 58)});

} // namespace

TEST_CASE("holes of both outlines are blended with the one that lies nearest") {
    for (const double t : {0.1, 0.5, 0.9}) {
        const outline mixed = detail::blended(front, back, t);
        REQUIRE(mixed.holes.size() == 2);
        CHECK_NOTHROW(validate(mixed, "mixed"));
        // A circle between circles: radii in straight lines. 128 points on 90 sides cut some corners: 2 pi² / (3 90²), twice.
        const auto radius = [t](double a, double b) { return (1.0 - t) * a + t * b; };
        const double expected = disc(radius(60, 50)) - disc(radius(12, 16)) - disc(radius(6, 8));
        CHECK_THAT(in_mm2(mixed), WithinRel(expected, 2e-3));
    }
}

TEST_CASE("a hole of only one outline shrinks to its middle while its area falls in a straight line") {
    const outline whole = outline_from(circle(60, 60, 60), 1_mm);
    const outline holed = outline_from(circle(60, 60, 60), 1_mm, {circle(20, 70, 60)});
    for (const double t : {0.25, 0.5, 0.75}) {
        for (const outline& mixed : {detail::blended(holed, whole, t), detail::blended(whole, holed, 1.0 - t)}) {
            REQUIRE(mixed.holes.size() == 1);
            // The hole is shrunk, corner by corner.
            CHECK_THAT(in_mm2({.points = mixed.holes[0]}), WithinRel((1.0 - t) * disc(20), 1e-12));
            const outline_point middle = detail::middle_of(mixed.holes[0]);
            CHECK_THAT(middle.across / 1_mm, WithinAbs(70.0, 1e-9));
            CHECK_THAT(middle.up / 1_mm, WithinAbs(60.0, 1e-9));
        }
    }
}

TEST_CASE("an outline that shrinks away takes its holes with it") {
    const outline half = detail::shrunk(front, 0.5);
    REQUIRE(half.holes.size() == 2);
    CHECK_THAT(in_mm2(half), WithinRel(0.25 * in_mm2(front), 1e-12));
    CHECK_NOTHROW(validate(half, "half"));
}

TEST_CASE("outlines of a traced loin keep their holes between faces, and are those that were traced on them") {
    const traced_face rib{.at = 0_mm, .whole = outline_from(circle(70, 60, 60), 1_mm), .eye = front};
    const traced_face sirloin{.at = 300_mm, .whole = outline_from(circle(70, 60, 60), 1_mm), .eye = back};
    const traced_loin loin(300_mm, {rib, sirloin});
    const auto eye_at = [&](length at) {
        for (const painted_outline& p : loin.painted_at(at))
            if (p.fill == tissue::eye) return p.curve;
        return outline{};
    };
    const auto same = [](const outline& a, const outline& b) {
        return area_of(a) == area_of(b) && a.holes.size() == b.holes.size() && a.points.size() == b.points.size();
    };
    CHECK(same(eye_at(0_mm), front));
    CHECK(same(eye_at(300_mm), back));
    for (const length& at : {1_mm, 75_mm, 150_mm, 225_mm, 299_mm}) {
        const outline eye = eye_at(at);
        CHECK(eye.holes.size() == 2);
        // Tabulated areas run smoothly from one face to the other, radii in straight lines: apart by up to a quarter of the
        // square of what each radius changes by, pi (10² + 4² + 2²) / 4 = 94 mm2, and by the corners.
        const double tabulated = loin.face_at(at).areas[tissue::eye] / 1_mm / 1_mm;
        CHECK_THAT(in_mm2(eye), WithinAbs(tabulated, 94.0 + 2e-3 * tabulated));
    }
}

} // namespace blended_outline_test
