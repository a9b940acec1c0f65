// That a layer gives the share within reach, and a face the share of its second muscle.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <limits>

#include <tranche/loin/face.hpp>
#include <tranche/units/literals.hpp>

namespace face_test {

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
    CHECK(fat.within(-1_mm) == 0.0);
    CHECK(fat.within(length::from_value(std::numeric_limits<double>::quiet_NaN())) == 0.0);
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

TEST_CASE("a layer of uneven thickness is within reach by its spread") {
    layer wedge{8_mm}; // as deep as 8 mm at one edge and nothing at the other: within z of it lies 1 - (1 - z)²
    const auto size = static_cast<double>(wedge.spread.size());
    for (std::size_t k = 0; k < wedge.spread.size(); ++k) {
        const double outside = 1.0 - static_cast<double>(k + 1) / size;
        wedge.spread[k] = 1.0 - outside * outside;
    }
    CHECK(wedge.within(0_mm) == 0.0);
    CHECK(wedge.within(8_mm) == 1.0);
    CHECK(wedge.within(9_mm) == 1.0);
    CHECK(wedge.within(length::from_value(std::numeric_limits<double>::quiet_NaN())) == 0.0);
    double before = 0.0;
    for (int i = 0; i <= 1000; ++i) {
        const double z = i / 1000.0, share = wedge.within(z * 8_mm);
        // Straight lines between entries of a parabola: off by the square of half a gap at most.
        REQUIRE_THAT(share, WithinAbs(1.0 - (1.0 - z) * (1.0 - z), 0.25 / (size * size) + 1e-15));
        REQUIRE(share >= before);
        before = share;
    }
    wedge.thickness = 0_mm;
    CHECK(wedge.within(3_mm) == 1.0);
}

} // namespace face_test
