// Outlines between outlines, and what becomes of their holes.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/outline/detail/blended_outline.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
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

outline between(std::optional<outline> a, std::optional<outline> b, double t) {
    return detail::blended_outline<>(std::move(a), std::move(b)).at(t);
}

} // namespace

TEST_CASE("congruent curves traced from different corners are the same curve midway") {
    const numbers square{{10, 20}, {50, 20}, {50, 60}, {10, 60}};
    // A box, and an L whose corners lie at no even distances: those of the other are 128ths of its edge away, 160 mm / 128.
    const numbers corner{{0, 0}, {40, 0}, {40, 10}, {13, 10}, {13, 40}, {0, 40}};
    for (const auto& [curve, exact] : {std::pair(square, true), std::pair(corner, false)})
        for (std::size_t shift = 0; shift < curve.size(); ++shift)
            for (const bool reversed : {false, true}) {
                numbers other = curve;
                std::rotate(other.begin(), other.begin() + static_cast<std::ptrdiff_t>(shift), other.end());
                if (reversed) std::reverse(other.begin(), other.end());
                const outline one = outline_from(curve, 1_mm), half = between(one, outline_from(other, 1_mm), 0.5);
                CAPTURE(shift, reversed);
                CHECK_THAT(in_mm2(half), WithinRel(in_mm2(one), 1e-12));
                const detail::flat_region edge(one);
                double off = 0.0;
                for (const outline_point& p : half.points)
                    off = std::max(off, edge.distance_to_edge({p.across.value(), p.up.value()}));
                CHECK(1e3 * off <= (exact ? 1e-9 : 160.0 / 128.0));
            }
}

TEST_CASE(
    "curves between two traced from the other side of the paper, from whichever corner, are the same from that side") {
    // No symmetry: a comma and a kidney, invented; and superellipses, whose outermost corners are two of each kind.
    const numbers comma{{0, 30}, {20, 2}, {90, 0}, {170, 14}, {172, 25}, {110, 40}, {70, 71}, {25, 66}};
    const numbers kidney{{5, 20}, {60, 6}, {150, 4}, {168, 30}, {120, 55}, {80, 48}, {40, 68}, {12, 52}};
    const auto oval = [](length width, length depth) {
        numbers points;
        for (const outline_point& p : superellipse({}, width, depth, 2.2).points)
            points.emplace_back(p.across / 1_mm, p.up / 1_mm);
        return points;
    };
    for (const auto& [front_face, back_face] :
         {std::pair(comma, kidney), std::pair(kidney, comma), std::pair(oval(210_mm, 80_mm), oval(190_mm, 68_mm)),
          std::pair(oval(20_mm, 40_mm), comma)})
        for (const std::size_t corner : {0U, 1U, 3U, 6U}) {
            const auto mirrored = [corner = static_cast<std::ptrdiff_t>(corner)](numbers points, double to) {
                for (auto& p : points) p = {to - p.first, p.second - 53.0};
                std::rotate(points.begin(), points.begin() + corner, points.end());
                return outline_from(points, 1_mm);
            };
            const outline here = between(outline_from(front_face, 1_mm), outline_from(back_face, 1_mm), 0.3);
            const outline there = between(mirrored(front_face, 331.0), mirrored(back_face, 331.0), 0.3);
            REQUIRE(here.points.size() == there.points.size());
            CAPTURE(corner, front_face.size());
            for (const outline_point& p : here.points) {
                double nearest = 1.0; // millimetres
                for (const outline_point& q : there.points)
                    nearest = std::min(nearest, std::hypot(331.0 - q.across / 1_mm - p.across / 1_mm,
                                                           q.up / 1_mm + 53.0 - p.up / 1_mm));
                CHECK(nearest <= 1e-9); // roundings of some hundred millimetres
            }
        }
}

TEST_CASE("between a curve and the same curve turned lie curves of its area that do not cross themselves") {
    const auto box = [](double turn) {
        numbers points;
        for (const auto& [x, y] : numbers{{-40, -25}, {40, -25}, {40, 25}, {-40, 25}})
            points.emplace_back(100 + x * std::cos(turn) - y * std::sin(turn),
                                100 + x * std::sin(turn) + y * std::cos(turn));
        return outline_from(points, 1_mm);
    };
    for (const double turn : {0.1, 0.4, 0.7}) {
        const outline half = between(box(0.0), box(turn), 0.5);
        CHECK_NOTHROW(validate(half, "half"));
        CHECK_THAT(in_mm2(half), WithinRel(4000.0, 1e-12));
    }
}

TEST_CASE("holes of both outlines are blended with the one that lies nearest") {
    for (const double t : {0.1, 0.5, 0.9}) {
        const outline mixed = between(front, back, t);
        REQUIRE(mixed.holes.size() == 2);
        CHECK_NOTHROW(validate(mixed, "mixed"));
        const auto in_line = [t](double a, double b) { return (1.0 - t) * disc(a) + t * disc(b); };
        CHECK_THAT(in_mm2({.points = mixed.points}), WithinRel(in_line(60, 50), 1e-12));
        for (const auto& hole : mixed.holes) {
            const bool left = hole.front().across < 60_mm;
            CHECK_THAT(in_mm2({.points = hole}), WithinRel(left ? in_line(6, 8) : in_line(12, 16), 1e-12));
        }
    }
}

TEST_CASE("a hole of only one outline shrinks to its middle while its area falls in a straight line") {
    const outline whole = outline_from(circle(60, 60, 60), 1_mm);
    const outline holed = outline_from(circle(60, 60, 60), 1_mm, {circle(20, 70, 60)});
    for (const double t : {0.25, 0.5, 0.75}) {
        for (const outline& mixed : {between(holed, whole, t), between(whole, holed, 1.0 - t)}) {
            REQUIRE(mixed.holes.size() == 1);
            // The hole is shrunk, corner by corner.
            CHECK_THAT(in_mm2({.points = mixed.holes[0]}), WithinRel((1.0 - t) * disc(20), 1e-12));
            const detail::flat_point middle = detail::middle_of(detail::flattened(mixed.holes[0]));
            CHECK_THAT(1e3 * middle.x, WithinAbs(70.0, 1e-9));
            CHECK_THAT(1e3 * middle.y, WithinAbs(60.0, 1e-9));
        }
    }
}

TEST_CASE("an outline that shrinks away takes its holes with it") {
    for (const outline& half : {between(front, std::nullopt, 0.75), between(std::nullopt, front, 0.25)}) {
        REQUIRE(half.holes.size() == 2);
        CHECK_THAT(in_mm2(half), WithinRel(0.25 * in_mm2(front), 1e-12));
        CHECK_NOTHROW(validate(half, "half"));
    }
    CHECK(between(std::nullopt, std::nullopt, 0.5).points.empty());
}

TEST_CASE("what is painted between traced faces has the areas of the face") {
    // Three faces, so that areas bend; the second muscle stands on one of them.
    const auto traced = [](length at, double size, bool muscle) {
        traced_face f{.at = at,
                      .whole = outline_from(circle(70 * size, 70, 70), 1_mm),
                      .eye = outline_from(circle(40 * size, 60, 65), 1_mm, {circle(9 * size, 55, 70)})};
        if (muscle) f.gluteus_medius = outline_from(circle(11, 115, 75), 1_mm);
        return f;
    };
    const traced_loin loin(300_mm, {traced(0_mm, 1.0, false), traced(200_mm, 1.0, true), traced(300_mm, 0.8, false)});
    for (const length& at : {40_mm, 100_mm, 210_mm, 260_mm, 290_mm}) {
        const face f = loin.face_at(at);
        by_tissue<double> painted;
        for (const painted_outline& p : loin.painted_at(at)) painted[p.fill] += area_of(p.curve).value();
        CAPTURE(at.value());
        CHECK_THAT(painted[tissue::eye], WithinRel(f.areas[tissue::eye].value(), 1e-12));
        CHECK_THAT(painted[tissue::gluteus_medius], WithinRel(f.areas[tissue::gluteus_medius].value(), 1e-12));
        CHECK_THAT(painted[tissue::fat_cover], WithinRel(f.areas.sum().value(), 1e-12)); // all of the face
    }
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
    // Corners are read to 1/65536 µm, which over some 200 mm of edge is 3e-12 m² of 3e-3.
    const auto same = [](const outline& a, const outline& b) {
        return std::abs(area_of(a).value() - area_of(b).value()) < 1e-11 && a.holes.size() == b.holes.size() &&
               a.points.size() == b.points.size();
    };
    CHECK(same(eye_at(0_mm), front));
    CHECK(same(eye_at(300_mm), back));
    for (const length& at : {1_mm, 75_mm, 150_mm, 225_mm, 299_mm}) {
        const outline eye = eye_at(at);
        CHECK(eye.holes.size() == 2);
        CHECK_THAT(eye.points.size() == 128 ? area_of(eye).value() : 0.0,
                   WithinRel(loin.face_at(at).areas[tissue::eye].value(), 1e-12));
    }
}

} // namespace blended_outline_test
