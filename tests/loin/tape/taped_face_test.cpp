// That readings become areas, and that the fill of a superellipse is the published one.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/loin/tape/taped_face.hpp>

#include "loin/samples.hpp"

namespace taped_face_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a superellipse fills the published share of its box") {
    // Γ(1 + 1/n)² / Γ(1 + 2/n), the standard formula, computed from it to 12 digits: half of the last either way.
    CHECK_THAT(superellipse_fill(2.0), WithinAbs(0.785398163397, 0.5e-12));
    CHECK_THAT(superellipse_fill(2.5), WithinAbs(0.845233840634, 0.5e-12));
    CHECK_THAT(superellipse_fill(3.0), WithinAbs(0.883319375143, 0.5e-12));
    CHECK_THAT(superellipse_fill(4.0), WithinAbs(0.927037338651, 0.5e-12));
    // A rhombus fills half, in the limit a rectangle all. A gamma function is good to some ten units in the last place.
    CHECK_THAT(superellipse_fill(1.0), WithinRel(0.5, 1e-14));
    CHECK_THAT(superellipse_fill(1e300), WithinRel(1.0, 1e-14));
}

TEST_CASE("a superellipse of a higher exponent fills more, and never more than all") {
    double before = 0.0;
    for (double n = 0.1; n < 60.0; n *= 1.05) {
        const double fill = superellipse_fill(n);
        REQUIRE(fill > before);
        REQUIRE(fill < 1.0);
        before = fill;
    }
}

TEST_CASE("an exponent that makes no superellipse is refused") {
    const double bad = GENERATE(0.0, -2.0, not_a_number, infinite, 0.001, 5e-324);
    CHECK_THAT(message_of([&] { (void)superellipse_fill(bad); }), StartsWith("superellipse exponent: got "));
}

TEST_CASE("every exponent that is not refused gives a share") {
    for (double n = 1e-4; n < 1e6; n *= 1.3) {
        double fill = 0.5;
        if (message_of([&] { fill = superellipse_fill(n); }) == "accepted") {
            REQUIRE(fill > 0.0);
            REQUIRE(fill <= 1.0);
        } else {
            REQUIRE(n < 0.05);
        }
    }
}

TEST_CASE("readings become the areas of the tissues") {
    const prism_loin loin = block();
    const face f = taped_face(loin.face, loin.shape, 0.25);
    // Products of a few doubles: some units in the last place.
    constexpr double roundings = 2e-15;
    CHECK_THAT(double(f.areas[tissue::eye] / 1_cm2), WithinRel(31.2 * 0.75, roundings));
    CHECK_THAT(double(f.areas[tissue::gluteus_medius] / 1_cm2), WithinRel(31.2 * 0.25, roundings));
    CHECK_THAT(double(f.areas[tissue::fat_cover] / 1_cm2), WithinRel(8.0, roundings));
    CHECK_THAT(double(f.areas[tissue::connective] / 1_cm2), WithinRel(0.8, roundings));
    CHECK_THAT(double(f.areas[tissue::tail] / 1_cm2), WithinRel(4.0, roundings));
    // Together they fill width × depth without the tail, and the tail.
    CHECK_THAT(double(f.areas.sum() / 1_cm2), WithinRel(8.0 * 5.0 + 4.0, roundings));
    CHECK(f.fat_cover.thickness == 1_cm);
    CHECK(f.tail.thickness == 2_cm);
    CHECK(f.width == 10_cm);
    CHECK(f.depth == 5_cm);
}

TEST_CASE("the fill scales all but the tail") {
    face_shape shape = block().shape;
    const face full = taped_face(block().face, shape, 0.0);
    shape.fill = 0.5;
    const face half = taped_face(block().face, shape, 0.0);
    for (const tissue t : {tissue::eye, tissue::fat_cover, tissue::connective})
        CHECK_THAT(double(half.areas[t] / full.areas[t]), WithinRel(0.5, 1e-15));
    CHECK(half.areas[tissue::tail] == full.areas[tissue::tail]);
}

TEST_CASE("a face without fat, tail and silverskin is all lean") {
    const face f = taped_face({.width = 10_cm, .depth = 5_cm}, {.fill = 1.0}, 0.0);
    CHECK(f.areas[tissue::fat_cover] == area{});
    CHECK(f.areas[tissue::tail] == area{});
    CHECK(f.areas[tissue::connective] == area{});
    CHECK(f.areas[tissue::gluteus_medius] == area{});
    CHECK_THAT(double(f.areas[tissue::eye] / 1_cm2), WithinRel(50.0, 1e-15));
}

TEST_CASE("an impossible reading is refused by its name") {
    const taped_readings good = block().face;
    const face_shape shape = block().shape;
    const auto refusal = [&](length taped_readings::*field, length value) {
        taped_readings bad = good;
        bad.*field = value;
        return message_of([&] { validate(bad, shape, "stations[3]."); });
    };
    CHECK(message_of([&] { validate(good, shape, ""); }) == "accepted");
    using lengths = std::pair<length, std::string>;
    for (const auto& [value, shown_value] :
         {lengths{0_mm, "0 mm"}, lengths{-1_mm, "-1 mm"}, lengths{length::from_value(not_a_number), "nan mm"},
          lengths{length::from_value(infinite), "inf mm"}}) {
        CHECK(refusal(&taped_readings::width, value) ==
              "stations[3].width: got " + shown_value + ", expected a finite value above zero");
        CHECK(refusal(&taped_readings::depth, value) ==
              "stations[3].depth: got " + shown_value + ", expected a finite value above zero");
        if (value == length{}) continue;
        CHECK(refusal(&taped_readings::fat_cover, value) ==
              "stations[3].fat_cover: got " + shown_value + ", expected a finite value, zero or more");
        CHECK(refusal(&taped_readings::tail, value) ==
              "stations[3].tail: got " + shown_value + ", expected a finite value, zero or more");
    }
    CHECK(refusal(&taped_readings::tail, 10_cm) ==
          "stations[3].tail: got 100 mm, expected less than the width, 100 mm");
    CHECK(refusal(&taped_readings::fat_cover, 5_cm) ==
          "stations[3].fat_cover: got 50 mm, expected less, with the silverskin, than the depth, 50 mm");
    CHECK(refusal(&taped_readings::fat_cover, 4.9_cm) ==
          "stations[3].fat_cover: got 49 mm, expected less, with the silverskin, than the depth, 50 mm");
    CHECK(refusal(&taped_readings::fat_cover, 4.89_cm) == "accepted");
}

TEST_CASE("an impossible shape is refused by its field") {
    const auto refusal = [](face_shape shape) { return message_of([&] { validate(shape); }); };
    CHECK(refusal({}) == "accepted");
    CHECK(refusal({.fill = 1.0}) == "accepted");
    CHECK(refusal({.fill = 0.0}) == "fill: got 0, expected a finite value above zero");
    CHECK(refusal({.fill = 1.1}) == "fill: got 1.1, expected a share, 0 to 1");
    CHECK(refusal({.fill = not_a_number}) == "fill: got nan, expected a share, 0 to 1");
    CHECK(refusal({.tail_depth = -0.1}) == "tail_depth: got -0.1, expected a share, 0 to 1");
    CHECK(refusal({.tail_depth = not_a_number}) == "tail_depth: got nan, expected a share, 0 to 1");
    CHECK(refusal({.silverskin = -1_mm}) == "silverskin: got -1 mm, expected a finite value, zero or more");
    CHECK(refusal({.silverskin = length::from_value(infinite)}) ==
          "silverskin: got inf mm, expected a finite value, zero or more");
}

} // namespace taped_face_test
