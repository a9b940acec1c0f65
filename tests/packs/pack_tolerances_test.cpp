// Every published band and limit, on both of its edges.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/packs/pack_tolerances.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>
#include <variant>

#include "support/catch.hpp"

namespace pack_tolerances_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

using enum tolerance_verdict;

steak_pack<usd> pack_of(mass piece, length thickness, length cover = {}) {
    return {.name = "pack",
            .weight = 2.0 * piece,
            .price = 10_usd / 1_lb,
            .pieces = 2,
            .steak = {.thickness = thickness, .fat_cover = cover}};
}

tolerance_verdict verdict_on(const std::string& what, const std::vector<tolerance_finding>& findings) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const auto& f) { return f.what == what; });
    REQUIRE(found != findings.end());
    return found->verdict;
}

} // namespace

// USDA AMS, Institutional Meat Purchase Specifications, Fresh Beef, Series 100 (2014), section 3.5.1: quoted.
TEST_CASE("portion weights keep the bands of the purchase specifications on every edge") {
    struct band {
        mass ordered, tolerance;
    };
    const band bands[] = {{4_oz, 0.25_oz},   {5.99_oz, 0.25_oz}, {6_oz, 0.5_oz},      {9_oz, 0.5_oz},
                          {12_oz, 0.5_oz},   {0.75_lb, 0.5_oz},  {12.01_oz, 0.75_oz}, {24_oz, 0.75_oz},
                          {1.5_lb, 0.75_oz}, {24.01_oz, 1_oz},   {40_oz, 1_oz}};
    for (const band& b : bands) {
        const auto found = [&](mass piece) {
            return verdict_on("portion weight", held_against(imps_series_100_tolerances(), pack_of(piece, 1_in),
                                                             {.portion = b.ordered, .thickness = 1_in}));
        };
        CAPTURE(b.ordered / 1_oz);
        CHECK(found(b.ordered) == inside);
        CHECK(found(b.ordered + b.tolerance) == inside);
        CHECK(found(b.ordered - b.tolerance) == inside);
        CHECK(found(b.ordered + b.tolerance + 0.01_oz) == outside);
        CHECK(found(b.ordered - b.tolerance - 0.01_oz) == outside);
    }
}

TEST_CASE("thicknesses keep the bands of the purchase specifications on every edge") {
    struct band {
        length ordered, tolerance;
    };
    for (const band& b : {band{0.5_in, 0.1875_in}, band{1_in, 0.1875_in}, band{25.4_mm, 0.1875_in},
                          band{1.01_in, 0.25_in}, band{2_in, 0.25_in}}) {
        const auto found = [&](length thickness) {
            return verdict_on("thickness", held_against(imps_series_100_tolerances(), pack_of(12_oz, thickness),
                                                        {.portion = 12_oz, .thickness = b.ordered}));
        };
        CAPTURE(b.ordered / 1_in);
        CHECK(found(b.ordered + b.tolerance) == inside);
        CHECK(found(b.ordered - b.tolerance) == inside);
        CHECK(found(b.ordered + b.tolerance + 0.1_mm) == outside);
        CHECK(found(b.ordered - b.tolerance - 0.1_mm) == outside);
    }
}

// Defense Commissary Agency, Technical Data Sheet, Fresh/Frozen Beef (2012): read in the source.
TEST_CASE("fat is at most a quarter inch on average and half an inch at any one point") {
    const auto limits = deca_2012_tolerances();
    auto pack = pack_of(12_oz, 1_in, 0.25_in);
    CHECK(verdict_on("mean fat cover", held_against(limits, pack)) == inside);
    CHECK(verdict_on("fat at one point", held_against(limits, pack)) == not_known);
    CHECK(detail::verdict_of(held_against(limits, pack)) == not_known);
    pack.thickest_fat = 12.7_mm;
    CHECK(detail::verdict_of(held_against(limits, pack)) == inside);
    pack.thickest_fat = 12.8_mm;
    CHECK(verdict_on("fat at one point", held_against(limits, pack)) == outside);
    CHECK(detail::verdict_of(held_against(limits, pack)) == outside);
    CHECK(detail::verdict_of(held_against(limits, pack_of(12_oz, 1_in, 6.5_mm))) == outside);
    // A mean beyond the limit of a point needs no further measurement.
    CHECK(verdict_on("fat at one point", held_against(limits, pack_of(12_oz, 1_in, 13_mm))) == outside);
}

// AUS-MEAT industry standard, beef, striploin, young grain-fed: read in the source.
TEST_CASE("portion fat of grain-fed striploin lies from three to eight millimetres") {
    const auto limits = aus_meat_portion_tolerances();
    for (const auto& [mm, expected] : {std::pair{2.9, outside}, std::pair{3.0, inside}, std::pair{5.5, inside},
                                       std::pair{8.0, inside}, std::pair{8.1, outside}})
        CHECK(verdict_on("mean fat cover", held_against(limits, pack_of(300_g, 25_mm, mm * millimetre))) == expected);
    auto pack = pack_of(300_g, 25_mm, 5_mm);
    pack.thickest_fat = 9_mm;
    CHECK(verdict_on("fat at one point", held_against(limits, pack)) == outside);
}

// Neel et al. 1993, J. Anim. Sci. 71:1805 (read in the abstract): fat on strip loins as bought averaged 11.9 mm, at most
// 16.2; on centre-cut strip steaks after cutting 5.0 mm, at most 6.9.
TEST_CASE("strip steaks as a survey found them keep published fat limits and loins as bought do not") {
    auto steaks = pack_of(12_oz, 1_in, 5.0_mm);
    steaks.thickest_fat = 6.9_mm;
    auto untrimmed = pack_of(12_oz, 1_in, 11.9_mm);
    untrimmed.thickest_fat = 16.2_mm;
    for (const auto& limits : {deca_2012_tolerances(), aus_meat_portion_tolerances()}) {
        CHECK(detail::verdict_of(held_against(limits, steaks)) == inside);
        CHECK(detail::verdict_of(held_against(limits, untrimmed)) == outside);
    }
}

TEST_CASE("what was not ordered cannot be told and what a document leaves out is not asked") {
    const auto pack = pack_of(12_oz, 1_in, 6_mm);
    const auto findings = held_against(imps_series_100_tolerances(), pack, {.thickness = 1_in});
    REQUIRE(findings.size() == 2);
    CHECK(verdict_on("portion weight", findings) == not_known);
    CHECK(verdict_on("thickness", findings) == inside);
    CHECK(detail::verdict_of(findings) == not_known);
    CHECK(detail::verdict_of({}) == not_known);
    const auto& thickness = std::get<found_and_allowed<length>>(findings[1].values);
    CHECK(thickness.found == 1_in);
    CHECK(thickness.ordered == 1_in);
    REQUIRE(thickness.allowed);
    CHECK_THAT(thickness.allowed->min / 1_in, WithinRel(0.8125, 1e-14));
    CHECK_THAT(thickness.allowed->max / 1_in, WithinRel(1.1875, 1e-14));
    const auto& weight = std::get<found_and_allowed<mass>>(findings[0].values);
    CHECK_THAT(*weight.found / 12_oz, WithinRel(1.0, 1e-14));
    CHECK_FALSE(weight.ordered);
    CHECK_FALSE(weight.allowed);
}

TEST_CASE("a section brings its own mean and thickest fat") {
    auto pack = pack_of(12_oz, 1_in);
    pack.section = steak_face(12_oz, {.thickness = 1_in, .fat_cover = 0.25_in});
    CHECK(detail::verdict_of(held_against(deca_2012_tolerances(), pack)) == inside);
    // The cover of a taped face runs out at both edges: about three quarters of that over the middle is its mean (computed).
    pack.section = steak_face(12_oz, {.thickness = 1_in, .fat_cover = 0.4_in});
    CHECK(verdict_on("mean fat cover", held_against(deca_2012_tolerances(), pack)) == outside);
}

TEST_CASE("orders and bands that make no sense are refused") {
    const auto pack = pack_of(12_oz, 1_in);
    CHECK_THROWS_WITH(held_against(imps_series_100_tolerances(), pack, {.portion = 0_oz}),
                      StartsWith("ordered portion weight: got 0 g"));
    CHECK_THROWS_WITH(held_against(imps_series_100_tolerances(), pack, {.thickness = -1_in}),
                      StartsWith("ordered thickness"));
    const pack_tolerances own{.source = "house rule", .weight = {{10_oz, true, 0.5_oz}}};
    CHECK_THROWS_WITH(held_against(own, pack, {.portion = 12_oz}),
                      StartsWith("tolerances of house rule: got none for 340.2 g"));
    CHECK_THROWS_WITH(held_against(own, pack_of(0_oz, 1_in)), StartsWith("pack: purchase.weight"));
}

} // namespace pack_tolerances_test
