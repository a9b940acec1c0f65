// Outlines: areas from handbooks, and curves that are none.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace outline_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

using numbers = std::vector<std::pair<double, double>>;

void check(const numbers& points) { validate(outline_from(points, 1_cm), "eye"); }

} // namespace

// Shoelace formula, standard example of the handbooks: area 33/2 (computed).
TEST_CASE("outline: has the area of the shoelace formula, whichever way it runs and closed or not") {
    const numbers points{{1, 6}, {3, 1}, {7, 2}, {4, 4}, {8, 5}};
    const numbers back(points.rbegin(), points.rend());
    numbers closed = points;
    closed.push_back(points.front());
    for (const numbers& way : {points, back, closed}) {
        CHECK_NOTHROW(check(way));
        // A dozen products of numbers below 0.01 m², each rounded once.
        CHECK_THAT(area_of(outline_from(way, 1_cm)) / 1_cm2, WithinRel(16.5, 1e-14));
    }
}

TEST_CASE("outline: keeps its area when it is moved, turned and measured in another unit") {
    std::mt19937 random(5);
    const auto uniform = [&](double low, double high) {
        return low + (high - low) * (static_cast<double>(random()) / 4294967295.0);
    };
    for (int trial = 0; trial < 200; ++trial) {
        numbers star, moved;
        const int corners = 3 + static_cast<int>(random() % 40);
        const double turn = uniform(0.0, 6.28), dx = uniform(-50, 50), dy = uniform(-50, 50);
        for (int i = 0; i < corners; ++i) {
            const double angle = 6.283185307179586 * i / corners, radius = uniform(3, 9);
            const double x = radius * std::cos(angle), y = radius * std::sin(angle);
            star.emplace_back(x, y);
            moved.emplace_back((std::cos(turn) * x - std::sin(turn) * y + dx) / 2.54,
                               (std::sin(turn) * x + std::cos(turn) * y + dy) / 2.54);
        }
        CHECK_NOTHROW(check(star));
        // Coordinates up to 60 cm carry 60 ulps of a centimetre into an area of at least 10 cm² by way of sides of 10 cm.
        CHECK_THAT(area_of(outline_from(moved, 1_in)) / 1_cm2,
                   WithinRel(area_of(outline_from(star, 1_cm)) / 1_cm2, 1e-12));
    }
}

TEST_CASE("outline: takes holes off") {
    outline square = outline_from({{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 1_cm);
    square.holes.push_back(outline_from({{2, 2}, {4, 2}, {4, 5}, {2, 5}}, 1_cm).points);
    CHECK_NOTHROW(validate(square, "eye"));
    CHECK_THAT(area_of(square) / 1_cm2, WithinRel(94.0, 1e-14));
    square.holes.push_back(outline_from({{12, 2}, {14, 2}, {14, 5}}, 1_cm).points);
    CHECK_THROWS_WITH(validate(square, "eye"), StartsWith("eye hole 2: got one that lies outside"));
    square.holes[1] = outline_from({{2.5, 2.5}, {3.5, 2.5}, {3.5, 4}}, 1_cm).points;
    CHECK_THROWS_WITH(validate(square, "eye"), StartsWith("eye hole 2: got one that lies in hole 1"));
    square.holes[1] = outline_from({{3, 3}, {6, 3}, {6, 6}}, 1_cm).points;
    CHECK_THROWS_WITH(validate(square, "eye"), StartsWith("eye: got sides that meet near"));
}

TEST_CASE("outline: comes from pixels with its holes, which are checked like others") {
    // A photograph of 4 pixels to the millimetre: a square of 100 mm with holes of 20 mm × 30 mm and 10 mm × 10 mm.
    const numbers square{{0, 0}, {400, 0}, {400, 400}, {0, 400}}, first{{80, 80}, {160, 80}, {160, 200}, {80, 200}},
        other{{200, 200}, {240, 200}, {240, 240}, {200, 240}};
    const outline holed = outline_from(square, 0.25_mm, {first, other});
    CHECK_NOTHROW(validate(holed, "eye"));
    REQUIRE(holed.holes.size() == 2);
    CHECK_THAT(area_of(holed) / 1_cm2, WithinRel(100.0 - 6.0 - 1.0, 1e-14));
    CHECK_THAT(holed.holes[1][2].across / 1_mm, WithinRel(60.0, 1e-15));
    const auto refuse = [&](const numbers& bad) { validate(outline_from(square, 0.25_mm, {first, bad}), "eye"); };
    CHECK_THROWS_WITH(refuse({{500, 80}, {560, 80}, {560, 200}}), StartsWith("eye hole 2: got one that lies outside"));
    CHECK_THROWS_WITH(refuse({{90, 90}, {150, 90}, {150, 150}}), StartsWith("eye hole 2: got one that lies in hole 1"));
    CHECK_THROWS_WITH(refuse({{300, 300}, {420, 300}, {300, 380}}), StartsWith("eye: got sides that meet near"));
    CHECK_THROWS_WITH(refuse({{300, 300}, {340, 340}, {340, 300}, {300, 340}}), StartsWith("eye: got sides that meet"));
    CHECK_THROWS_WITH(refuse({{300, 300}, {340, 300}}), StartsWith("eye hole 2: got 2 different points"));
    CHECK_THROWS_WITH(refuse({{300, std::numeric_limits<double>::infinity()}, {340, 300}, {340, 340}}),
                      StartsWith("eye hole 2 point 1: got (75 mm, inf mm)"));
}

TEST_CASE("outline: of too many corners is refused before they are compared with each other") {
    const auto circle = [](std::size_t corners) {
        std::vector<std::pair<double, double>> points;
        for (std::size_t i = 0; i < corners; ++i) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(corners);
            points.emplace_back(5.0 * std::cos(turn), 5.0 * std::sin(turn));
        }
        return points;
    };
    CHECK_NOTHROW(check(circle(1000)));
    CHECK_THROWS_WITH(check(circle(most_outline_corners + 1)),
                      Equals("eye: got 10001 corners, expected at most 10000"));
    CHECK_THROWS_WITH(validate(outline_from(circle(3), 1_cm, {circle(most_outline_corners)}), "eye"),
                      StartsWith("eye: got 10003 corners"));
}

TEST_CASE("outline: sides meet where they have a point in common, whichever way they lie") {
    // Each pair is turned and mirrored about its origin, so that every end and every coordinate has its turn.
    using detail::flat_point;
    struct pair_of_sides {
        flat_point a, b, c, d;
        bool meet;
    };
    const std::vector<pair_of_sides> pairs{{{0, 0}, {2, 0}, {3, 0}, {5, 0}, false}, // in one line, apart
                                           {{0, 0}, {2, 0}, {2, 0}, {5, 0}, true},  // in one line, end to end
                                           {{0, 0}, {3, 0}, {2, 0}, {5, 0}, true},  // in one line, overlapping
                                           {{0, 0}, {5, 0}, {2, 0}, {3, 0}, true},  // in one line, one within the other
                                           {{1, 1}, {2, 2}, {4, 4}, {5, 5}, false}, // the same aslant
                                           {{1, 1}, {3, 3}, {3, 3}, {5, 5}, true},  //
                                           {{0, 0}, {4, 0}, {2, 0}, {2, 3}, true},  // a T
                                           {{0, 0}, {4, 0}, {4, 0}, {4, 3}, true},  // an L
                                           {{0, 0}, {4, 0}, {5, 0}, {5, 3}, false}, // an L with a gap
                                           {{0, 0}, {4, 0}, {2, 1}, {2, 3}, false}, // a T with a gap
                                           {{0, 0}, {4, 2}, {0, 2}, {4, 0}, true},  // crossing
                                           {{0, 0}, {4, 2}, {6, 0}, {6, 8}, false}, // beyond the end
                                           {{0, 0}, {4, 0}, {0, 1}, {4, 1}, false}}; // beside each other
    for (const pair_of_sides& p : pairs)
        for (int way = 0; way < 8; ++way) {
            const auto turned = [way](flat_point q) {
                if (way & 1) q.x = -q.x;
                if (way & 2) q.y = -q.y;
                if (way & 4) std::swap(q.x, q.y);
                return q;
            };
            const flat_point a = turned(p.a), b = turned(p.b), c = turned(p.c), d = turned(p.d);
            CAPTURE(a.x, a.y, b.x, b.y, c.x, c.y, d.x, d.y);
            for (const bool meet :
                 {detail::sides_meet(a, b, c, d), detail::sides_meet(b, a, c, d), detail::sides_meet(a, b, d, c),
                  detail::sides_meet(c, d, a, b), detail::sides_meet(d, c, a, b), detail::sides_meet(c, d, b, a)})
                CHECK(meet == p.meet);
        }
}

TEST_CASE("outline: a line through corners meets what lies beside them on one side") {
    // A diamond with a diamond as its hole; lines count as a little to the right of where they are.
    const detail::flat_region diamond(
        outline_from({{0, -4}, {4, 0}, {0, 4}, {-4, 0}}, 1_m, {{{0, -1}, {1, 0}, {0, 1}, {-1, 0}}}));
    const auto inside = [&](double x) {
        double sum = 0.0;
        for (const auto& [low, high] : diamond.chords(x)) sum += high - low;
        return sum;
    };
    for (const auto& [x, expected] : numbers{{-4, 0}, {-2, 4}, {-1, 6}, {0, 6}, {1, 6}, {4, 0}}) {
        CAPTURE(x);
        CHECK_THAT(inside(x), WithinAbs(expected, 1e-15));
        CHECK(diamond.chords(x).size() <= 2);
    }
}

TEST_CASE("outline: says what is wrong with a curve that is none") {
    const double nan = std::numeric_limits<double>::quiet_NaN(), infinity = std::numeric_limits<double>::infinity();
    CHECK_THROWS_WITH(check({}), StartsWith("eye: got 0 different points, expected at least three"));
    CHECK_THROWS_WITH(check({{0, 0}, {5, 0}}), StartsWith("eye: got 2 different points"));
    CHECK_THROWS_WITH(check({{0, 0}, {5, 0}, {5, 0}, {0, 0}}), StartsWith("eye: got 2 different points"));
    CHECK_THROWS_WITH(check({{0, 0}, {5, 0}, {5, nan}}), StartsWith("eye point 3: got (50 mm, nan mm)"));
    CHECK_THROWS_WITH(check({{0, 0}, {infinity, 0}, {5, 5}}), StartsWith("eye point 2: got (inf mm, 0 mm)"));
    CHECK_THROWS_WITH(check({{0, 0}, {5, 5}, {5, 0}, {0, 5}}), StartsWith("eye: got sides that meet near"));
    CHECK_THROWS_WITH(check({{0, 0}, {5, 0}, {10, 0}}), StartsWith("eye: got sides that meet near")); // no area
    CHECK_THROWS_WITH(check({{0, 0}, {5, 0}, {5, 5}, {5, 9}, {5, 3}, {0, 5}}),
                      StartsWith("eye: got sides that meet")); // a spike
    CHECK_THROWS_WITH(check({{0, 0}, {5, 0}, {5, 5}, {2, 0}, {0, 5}}),
                      StartsWith("eye: got sides that meet")); // touches
    CHECK_THROWS_WITH(check({{0, 0}, {500, 0}, {500, 300}}), ContainsSubstring("read in another unit?"));
    CHECK_THROWS_WITH(check({{0, 0}, {0.2, 0}, {0.2, 0.3}}), ContainsSubstring("read in another unit?"));
    // A height of 80 m, as of a decimal point that was left out; one of 3 m; corners that no ruler reaches.
    CHECK_THROWS_WITH(check({{0, 0}, {18, 0}, {18, 8000}, {0, 8}}),
                      Equals("eye point 3: got (180 mm, 80000 mm), expected finite coordinates, at most 10 m from the "
                             "origin"));
    CHECK_THROWS_WITH(check({{0, 0}, {18, 0}, {18, 300}, {0, 8}}),
                      Equals("eye point 3: got (180 mm, 3000 mm), expected corners within a height of 1 m; was one "
                             "mistyped, or the outline read in another unit?"));
    CHECK_THROWS_WITH(check({{0, 0}, {18, -120}, {18, 8}, {0, 8}}), StartsWith("eye point 2: got (180 mm, -1200 mm)"));
    CHECK_THROWS_WITH(check({{0, 0}, {18, 0}, {1e12, 8}, {0, 8}}), StartsWith("eye point 3: got (1e+13 mm, 80 mm)"));
    CHECK_NOTHROW(check({{900, -950}, {918, -950}, {918, -942}, {900, -942}})); // far off, as in a large picture
    CHECK_THROWS_WITH(outline_from({{0, 0}}, 0_cm), StartsWith("scale: got 0 mm"));
}

TEST_CASE("without_straight_corners: what goes lies within the distance of the line between those that stay, however "
          "long it is") {
    using detail::flat_point, detail::flat_ring;
    const auto box = [](double width, double off) {
        return flat_ring{{0.0, 0.0}, {0.5 * width, -off}, {width, 0.0}, {width, 1.0}, {0.0, 1.0}};
    };
    for (const double width : {0.001, 1.0, 30.0}) {
        CAPTURE(width);
        CHECK(detail::without_straight_corners(box(width, 0.9e-6), 1e-6).size() == 4);
        CHECK(detail::without_straight_corners(box(width, 1.1e-6), 1e-6).size() == 5);
    }
    // An arc of which each corner lies near the line of its neighbours, but not all near that of the ends.
    flat_ring arc;
    for (int i = 0; i <= 600; ++i) arc.push_back({0.1 * std::cos(0.003 * i), 0.1 * std::sin(0.003 * i)});
    const double within = 1e-4;
    const flat_ring kept = detail::without_straight_corners(arc, within);
    CHECK(kept.size() > 8);
    CHECK(kept.size() < 30);
    std::size_t next = 0;
    for (const flat_point& p : arc) {
        if (next < kept.size() && p.x == kept[next].x && p.y == kept[next].y) {
            ++next;
            continue;
        }
        const flat_point a = kept[next - 1], b = kept[next % kept.size()];
        const double length = std::hypot(b.x - a.x, b.y - a.y);
        CHECK(std::abs((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) <= 1.0001 * within * length);
    }
    CHECK(next == kept.size());
}

} // namespace outline_test
