// That a loin that tapers evenly has the volume of the handbook's frustum.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace tapered_loin_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a frustum of a square pyramid has the volume of the papyrus") {
    // Height 6, sides 4 and 2: volume 56 (Moscow mathematical papyrus, problem 14: computed from the rule). At 1 g/cm³
    // these are 56 g; areas are quadratic in the position and Simpson's rule is exact for them, so no tolerance.
    const tapered_loin loin{.length = 6_cm,
                            .rib = {.width = 4_cm, .depth = 4_cm},
                            .sirloin = {.width = 2_cm, .depth = 2_cm},
                            .shape = {.fill = 1.0}};
    const length step = GENERATE(0.5_mm, 7_mm, 60_mm, 1_m);
    const profile meat = tabulate(loin, step, all_of(1_g_per_cm3));
    CHECK(meat.total().count == 56'000'000);
    CHECK(meat.total(tissue::eye) == meat.total());
}

TEST_CASE("a conical frustum has the volume of the handbooks") {
    // Radii 3 and 1, height 5: 68.0678408277788535 (any handbook of solids: computed from the formula).
    const tapered_loin loin{.length = 5_cm,
                            .rib = {.width = 6_cm, .depth = 6_cm},
                            .sirloin = {.width = 2_cm, .depth = 2_cm},
                            .shape = {.fill = superellipse_fill(2.0)}};
    const profile meat = tabulate(loin, 0.5_mm, all_of(1_g_per_cm3));
    CHECK(meat.total().count == 68'067'841);
    // pi / 4 = 0.7853981633974483 is read to a billionth; the compensated sum of the cells is good to a few units in the
    // last place.
    CHECK_THAT(meat.unrounded_total() / 1_g,
               WithinRel(68.0678408277788535 * (0.785398163 / 0.7853981633974483), 20 * 1.2e-16));
}

TEST_CASE("a frustum turned around weighs the same") {
    const taped_readings big{.width = 20_cm, .depth = 7_cm, .fat_cover = 1_cm, .tail = 4_cm},
        small{.width = 18_cm, .depth = 6_cm, .fat_cover = 0.5_cm, .tail = 2_cm}; // invented
    const profile there = tabulate(tapered_loin{.length = 40_cm, .rib = big, .sirloin = small});
    const profile back = tabulate(tapered_loin{.length = 40_cm, .rib = small, .sirloin = big});
    for (const tissue t : all_tissues) CHECK(there.total(t) == back.total(t));
    // Slice by slice it is the mirror image: two entries of half a microgram's rounding on either side.
    for (std::size_t i = 0; i < there.cells(); ++i) {
        const auto slice = there.between(i, i + 1).count,
                   image = back.between(there.cells() - i - 1, there.cells() - i).count;
        REQUIRE(std::abs(slice - image) <= 2 * 5); // for each of five tissues
    }
}

TEST_CASE("readings run in straight lines between the faces") {
    const tapered_loin loin{.length = 40_cm,
                            .rib = {.width = 20_cm, .depth = 7_cm, .fat_cover = 1_cm, .tail = 4_cm},
                            .sirloin = {.width = 18_cm, .depth = 6_cm, .fat_cover = 0.5_cm, .tail = 2_cm}};
    const face f = loin.face_at(10_cm);
    CHECK_THAT(f.width / 1_cm, WithinRel(19.5, 1e-15));
    CHECK_THAT(f.depth / 1_cm, WithinRel(6.75, 1e-15));
    CHECK_THAT(f.fat_cover.thickness / 1_cm, WithinRel(0.875, 1e-15));
    CHECK_THAT(f.tail.thickness / 1_cm, WithinRel(3.5, 1e-15));
    CHECK(loin.face_at(0_cm).width == 20_cm);
    CHECK(loin.face_at(40_cm).width == 18_cm);
}

TEST_CASE("an impossible frustum is refused by its field") {
    const tapered_loin good{
        .length = 40_cm, .rib = {.width = 20_cm, .depth = 7_cm}, .sirloin = {.width = 18_cm, .depth = 6_cm}};
    const auto refusal = [&](auto change) {
        tapered_loin loin = good;
        change(loin);
        return message_of([&] { (void)tabulate(loin); });
    };
    CHECK(refusal([](tapered_loin&) {}) == "accepted");
    CHECK(refusal([](tapered_loin& l) { l.length = -1_cm; }) ==
          "length: got -10 mm, expected a finite value above zero");
    CHECK(refusal([](tapered_loin& l) { l.rib.depth = length::from_value(not_a_number); }) ==
          "rib.depth: got nan mm, expected a finite value above zero");
    CHECK(refusal([](tapered_loin& l) { l.sirloin.tail = 18_cm; }) ==
          "sirloin.tail: got 180 mm, expected less than the width, 180 mm");
    CHECK(refusal([](tapered_loin& l) { l.shape.tail_depth = 1.5; }) ==
          "tail_depth: got 1.5, expected a share, 0 to 1");
}

} // namespace tapered_loin_test
