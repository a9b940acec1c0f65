// Columns of a section: areas, depths below the roof, and closed curves of what they make up.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/outline/detail/section_columns.hpp>

#include "support/catch.hpp"

#include <utility>
#include <vector>

namespace section_columns_test {

using namespace tranche::detail;
using namespace tranche_test;

namespace {

flat_ring rectangle(double left, double low, double right, double high) {
    return {{left, low}, {right, low}, {right, high}, {left, high}};
}

/// Ten wide and eight high with a hollow from 4 to 6 across and 3 to 5 up.
const std::vector<flat_ring> frame{rectangle(0, 0, 10, 8), {{4, 3}, {4, 5}, {6, 5}, {6, 3}}};

double outlined(const section_part& part) {
    double sum = 0.0;
    for (const tranche::outline& curve : outlines_of(part)) sum += area_of(curve).value();
    return sum;
}

} // namespace

// Areas of rectangles and triangles with sides of a few units: roundings of a few units in the last place.

TEST_CASE("section_columns: leave out hollows") {
    const section_columns columns(frame, frame);
    CHECK_THAT(area_of(columns.all(0, 10)), WithinRel(76.0, 1e-14));
    CHECK_THAT(area_of(columns.all(5, 20)), WithinRel(38.0, 1e-14));
    CHECK(columns.all(10, 11).empty());
}

TEST_CASE("section_columns: measure depth from the highest, whatever hollows lie between") {
    const section_columns columns(frame, frame);
    CHECK_THAT(area_of(columns.below_roof(0, 0, 10)), WithinRel(76.0, 1e-14));
    CHECK_THAT(area_of(columns.below_roof(2, 0, 10)), WithinRel(56.0, 1e-14));   // 10 × 6 - 4
    CHECK_THAT(area_of(columns.below_roof(4, 0, 10)), WithinRel(38.0, 1e-14));   // 10 × 4 - 2 × 1
    CHECK_THAT(area_of(columns.below_roof(4, 4.5, 10)), WithinRel(20.5, 1e-14)); // 5.5 × 4 - 1.5 × 1
    CHECK(columns.below_roof(8, 0, 10).empty());
}

TEST_CASE("section_columns: cut a column where the roof meets its foot") {
    // A triangle, 6 wide and 3 high in the middle: what lies deeper than 1 is the triangle lowered, 4 wide and 2 high.
    const std::vector<flat_ring> gable{{{0, 0}, {6, 0}, {3, 3}}};
    const section_columns columns(gable, gable);
    const section_part deep = columns.below_roof(1, 0, 6);
    CHECK_THAT(area_of(deep), WithinRel(4.0, 1e-14));
    const auto outlines = outlines_of(deep);
    REQUIRE(outlines.size() == 1);
    CHECK(outlines[0].points.front().across.value() == 1.0);
    CHECK_THAT(area_of(outlines[0]).value(), WithinRel(4.0, 1e-14));
}

TEST_CASE("section_columns: a roof of its own may be narrower than the meat") {
    const std::vector<flat_ring> roof{rectangle(2, 0, 5, 7)};
    // Between 2 and 5 it runs at 7, one lower at 6: 3 × 6 less the corner of the hollow, 1 × 2. Beyond it nothing is below.
    CHECK_THAT(area_of(section_columns(frame, roof).below_roof(1, 0, 10)), WithinRel(16.0, 1e-14));
}

TEST_CASE("section_columns: what a raise lifts out below the floor is not below the roof") {
    // A floor that rises from 1 to 7 under a roof at 9, both lowered by 2: from -1 to 5 under 7. It meets the foot of a
    // square, 6 by 6, at 1 across and leaves below it a triangle 5 wide and 5 high; the roof is above it all.
    const std::vector<flat_ring> square{rectangle(0, 0, 6, 6)}, roof{{{0, 1}, {6, 7}, {6, 9}, {0, 9}}};
    CHECK_THAT(area_of(section_columns(square, roof).below_roof(2, 0, 6)), WithinRel(36.0 - 12.5, 1e-14));
    // Lowered by nothing, the floor leaves the square by its top at 5, and nothing is left beyond.
    CHECK_THAT(area_of(section_columns(square, roof).below_roof(0, 0, 6)), WithinRel(12.5, 1e-14));
}

TEST_CASE("section_columns: of curves that cross, nothing counts less than nothing") {
    // Two triangles of which one is a hollow: their sides cross at 1 across, inside the column from 0 to 8.
    const std::vector<flat_ring> crossed{{{0, 0}, {8, 0}, {8, 8}}, {{0, -1}, {8, 13}, {8, -1}}};
    const section_columns columns(crossed, crossed);
    for (const auto& [from, to] : {std::pair(0.0, 8.0), std::pair(0.0, 1.0), std::pair(0.5, 0.7), std::pair(4.0, 8.0)})
        for (const section_column& column : columns.all(from, to)) {
            CHECK(column.area() > 0.0);
            CHECK(column.high_left >= column.low_left);
            CHECK(column.high_right >= column.low_right);
        }
}

TEST_CASE("section_columns: outlines have the area of the columns, whatever hollows and bays they have") {
    const section_columns columns(frame, frame);
    for (const double depth : {0.0, 1.0, 3.5, 5.0, 7.0})
        CHECK_THAT(outlined(columns.below_roof(depth, 1, 9)),
                   WithinRel(area_of(columns.below_roof(depth, 1, 9)), 1e-14));
}

TEST_CASE("section_columns: what is around them is a curve for all that hangs together, and one for each hollow") {
    const section_columns columns(frame, frame);
    const std::vector<flat_ring> rings = rings_around(columns.all(0, 10));
    REQUIRE(rings.size() == 2);
    CHECK(signed_area(rings[0]) == 80.0);
    CHECK(signed_area(rings[1]) == -4.0);                        // with the clock
    for (const flat_ring& ring : rings) CHECK(ring.size() <= 5); // corners, and where the curve begins
    const std::vector<tranche::outline> outlines = outlines_of(rings);
    REQUIRE(outlines.size() == 1);
    REQUIRE(outlines[0].holes.size() == 1);
    CHECK(area_of(outlines[0]).value() == 76.0);
    // Cut through the hollow, it is a bay.
    const std::vector<flat_ring> half = rings_around(columns.all(5, 10));
    REQUIRE(half.size() == 1);
    CHECK(signed_area(half[0]) == 38.0);
    // Two that share no edge, a step between columns, and nothing.
    CHECK(rings_around({{0, 1, 0, 0, 1, 1}, {2, 3, 0, 0, 1, 1}}).size() == 2);
    const std::vector<flat_ring> step = rings_around({{0, 1, 0, 0, 1, 1}, {1, 2, 0.5, 0.5, 3, 3}});
    REQUIRE(step.size() == 1);
    CHECK(signed_area(step[0]) == 3.5);
    CHECK(rings_around({}).empty());
}

} // namespace section_columns_test
