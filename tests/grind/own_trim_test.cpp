// What a plan leaves for the grinder, and how fat it is.
// SPDX-License-Identifier: BSL-1.0
#include <limits>

#include <tranche/cut/lay_out.hpp>
#include <tranche/grind/own_trim.hpp>
#include <tranche/loin/kinds/known_compositions.hpp>
#include <tranche/loin/kinds/tissue_lipids.hpp>
#include <tranche/units/literals.hpp>

#include "cut/samples.hpp"
#include "support/catch.hpp"

namespace own_trim_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

cutting_plan cut_every_way() { return lay_out(strip_table(), two_cuts(), two_ways(), every_way()); }

} // namespace

TEST_CASE("own_trim_of: over all destinations holds every microgram that is no portion") {
    const cutting_plan cuts = cut_every_way();
    const mass_balance balance = balance_of(cuts);
    for (const destination d : all_destinations) {
        const own_trim own = own_trim_of(cuts, d);
        CHECK(own.loose.sum() == balance.loose[d]);
        CHECK(own.trim.sum() == balance.trim[d]);
    }
    CHECK(own_trim_of(cuts).total().count > 0);
    CHECK(own_trim_of(cuts).trim[tissue::fat_cover].count == 0); // rendered, by the rules
    CHECK(own_trim_of(cuts, destination::rendering).trim[tissue::fat_cover].count > 0);
}

TEST_CASE("fat_of: weighs the lipid of each tissue by its mass") {
    own_trim own;
    own.loose[tissue::eye] = {3'000};
    own.trim[tissue::fat_cover] = {1'000};
    // (3 × 5.67 + 70.89) / 4 = 21.975 %, computed from the SR28 analyses.
    const auto fat = fat_of(own, lipids_of(beef_strip_lean, beef_separable_fat));
    REQUIRE(fat.has_value());
    CHECK_THAT(*fat, WithinAbs(0.21975, 1e-12));
    CHECK_FALSE(fat_of(own_trim{}, lipids_of(beef_strip_lean, beef_separable_fat)).has_value());
}

TEST_CASE("grind_source_of: is as heavy as the trim and as fat") {
    const own_trim own = own_trim_of(cut_every_way());
    const auto lipids = lipids_of(beef_strip_lean, beef_separable_fat);
    const auto source = grind_source_of<usd>(own, lipids, 2.5_usd / 1_lb);
    REQUIRE(source.has_value());
    CHECK(source->name == "own trim");
    CHECK(to_micrograms(source->supply.max) == own.total());
    CHECK(source->supply.min == 0_kg);
    CHECK(source->fat == *fat_of(own, lipids));
    CHECK(source->fat > 0.0567); // there is some tail in it
    CHECK(source->fat < 0.7089);
    CHECK_FALSE(grind_source_of<usd>(own_trim{}, lipids, 2.5_usd / 1_lb).has_value());
}

TEST_CASE("grind_source: names the field of a bad input") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const grind_source<usd> lean{.name = "lean", .fat = 0.1, .price = 5_usd / 1_kg};
    auto odd = lean;
    odd.fat = nan;
    CHECK_THROWS_WITH(validate(odd), StartsWith("lean: fat: got nan"));
    odd = lean;
    odd.fat = -0.1;
    CHECK_THROWS_WITH(validate(odd), StartsWith("lean: fat: got -0.1"));
    odd = lean;
    odd.price = nan * lean.price;
    CHECK_THROWS_WITH(validate(odd), StartsWith("lean: price: got nan"));
    odd = lean;
    odd.supply = {2_kg, 1_kg};
    CHECK_THROWS_WITH(validate(odd), StartsWith("lean: supply.max: got 1000 g"));
    odd.supply = {-1_kg, 1_kg};
    CHECK_THROWS_WITH(validate(odd), StartsWith("lean: supply.min: got -1000 g"));
    odd = lean;
    odd.name.clear();
    CHECK_THROWS_WITH(validate(odd), StartsWith("name: got \"\""));
    CHECK_THROWS_WITH(validate(std::vector<grind_source<usd>>{}), StartsWith("sources: got none"));
    CHECK_THROWS_WITH(validate(std::vector{lean, lean}), StartsWith("name: got \"lean\" twice"));
    own_trim own;
    own.trim[tissue::tail] = {5};
    by_tissue<fraction> lipids;
    lipids[tissue::tail] = 1.5;
    CHECK_THROWS_WITH(fat_of(own, lipids), StartsWith("lipid of tail: got 1.5"));
}

} // namespace own_trim_test
