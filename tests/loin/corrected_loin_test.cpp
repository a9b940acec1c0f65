// That a corrected loin is its model times a factor in straight lines between even places.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>

#include <tranche/loin/corrected_loin.hpp>
#include <tranche/loin/prism_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Invented.
const prism_loin prism{.length = 400_mm, .face = {.width = 16_cm, .depth = 7_cm, .fat_cover = 1_cm, .tail = 3_cm}};

} // namespace

static_assert(loin_model<corrected_loin<prism_loin>>);

TEST_CASE("a factor runs in straight lines between the places it is given for") {
    const corrected_loin<prism_loin> loin{prism, {1.0, 1.2, 0.8}};
    CHECK(loin.factor_at(0_mm) == 1.0);
    CHECK_THAT(loin.factor_at(100_mm), WithinRel(1.1, 1e-15)); // a few roundings
    CHECK_THAT(loin.factor_at(200_mm), WithinRel(1.2, 1e-15));
    CHECK_THAT(loin.factor_at(350_mm), WithinRel(0.9, 1e-15));
    CHECK(loin.factor_at(400_mm) == 0.8);
    CHECK(corrected_loin<prism_loin>{prism, {1.05}}.factor_at(123_mm) == 1.05);
}

TEST_CASE("a corrected face has the layers of its model and areas in proportion") {
    const corrected_loin<prism_loin> loin{prism, {1.0, 1.2, 0.8}};
    const face plain = prism.face_at(100_mm), corrected = loin.face_at(100_mm);
    for (const tissue t : all_tissues)
        if (plain.areas[t] > area{}) CHECK_THAT(corrected.areas[t] / plain.areas[t], WithinRel(1.1, 1e-15));
    CHECK(corrected.fat_cover.thickness == plain.fat_cover.thickness);
    CHECK(corrected.tail.thickness == plain.tail.thickness);
    CHECK(loin.extent() == prism.extent());
    // The mean of the factor, (1.0 + 2 x 1.2 + 0.8) / 4. Straight lines with kinks on the grid: no error of the rule.
    CHECK_THAT(tabulate(loin).unrounded_total() / tabulate(prism).unrounded_total(), WithinRel(1.05, 1e-12));
}

TEST_CASE("a corrected loin without a positive factor is refused") {
    CHECK_THROWS_WITH(tabulate(corrected_loin<prism_loin>{prism, {}}), StartsWith("factors: got none"));
    CHECK_THROWS_WITH(tabulate(corrected_loin<prism_loin>{prism, {1.0, 0.0}}), StartsWith("factors[1]: got 0"));
    CHECK_THROWS_AS(tabulate(corrected_loin<prism_loin>{prism, {std::nan("")}}), invalid_input);
    CHECK_THROWS_WITH(tabulate(corrected_loin<prism_loin>{{}, {1.0}}), StartsWith("length: got 0 mm"));
}
