// Outlines: areas from handbooks, and curves that are none.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <limits>
#include <random>
#include <utility>
#include <vector>

#include <tranche/loin/outline.hpp>
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
    CHECK_THROWS_WITH(outline_from({{0, 0}}, 0_cm), StartsWith("scale: got 0 mm"));
}

} // namespace outline_test
