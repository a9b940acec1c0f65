// That a layer gives the share within reach, and a face the share of its second muscle.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <tranche/loin/face.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("the share of a layer within reach grows in a straight line up to all of it") {
    constexpr layer fat{8_mm};
    CHECK(fat.within(0_mm) == 0.0);
    CHECK(fat.within(2_mm) == 0.25);
    CHECK(fat.within(8_mm) == 1.0);
    CHECK(fat.within(20_mm) == 1.0);
    CHECK(fat.within(unlimited<length>()) == 1.0);
}

TEST_CASE("where there is no layer all of it is within reach") {
    CHECK(layer{}.within(0_mm) == 1.0);
    CHECK(layer{}.within(5_mm) == 1.0);
    CHECK(layer{}.within(unlimited<length>()) == 1.0);
}

TEST_CASE("the second muscle's share is of the lean alone") {
    by_tissue<area> areas;
    CHECK(gluteus_medius_share(areas) == 0.0);
    areas[tissue::fat_cover] = 20_cm2;
    areas[tissue::tail] = 10_cm2;
    CHECK(gluteus_medius_share(areas) == 0.0);
    areas[tissue::gluteus_medius] = 20_cm2;
    CHECK(gluteus_medius_share(areas) == 1.0);
    areas[tissue::eye] = 60_cm2;
    CHECK_THAT(gluteus_medius_share(areas), WithinRel(0.25, 1e-15));
}
