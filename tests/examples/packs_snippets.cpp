// The code that docs/packs.md and docs/grind_and_labels.md show, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <iostream>
#include <string>
#include <vector>

#include <tranche/grind.hpp>
#include <tranche/packs.hpp>
#include <tranche/tranche.hpp>

#include "docs_pages.hpp"

namespace packs_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("docs on packs: trays are ranked as the page says") {
    const kept_output out;
    const steak_pack<usd> tray{
        .name = "value tray",
        .weight = 2.4_lb,
        .price = 11.99_usd / 1_lb,
        .pieces = 4,
        .steak = {.thickness = 0.75_in, .fat_cover = 0.5_in, .tail = 1.5_in, .gluteus_medius = 0.25}};
    const steak_pack<usd> centre{.name = "centre cut",
                                 .weight = 1.5_lb,
                                 .price = 14.99_usd / 1_lb,
                                 .pieces = 2,
                                 .steak = {.thickness = 1.25_in, .fat_cover = 0.125_in}};
    pack_wishes<usd> wishes{.fat_cover = 0.25_in};           // beyond it, fat is excess
    wishes.values[tissue::gluteus_medius] = 5.00_usd / 1_lb; // what the rest is worth to you
    const auto ranked = rank_packs<usd>({tray, centre}, wishes);
    std::cout << text_table(packs_table<usd>(ranked));
    REQUIRE(ranked.size() == 2);
    CHECK(ranked[0].pack.name == "centre cut");
    CHECK_THAT(out.text(), ContainsSubstring("value tray"));
}

TEST_CASE("docs on grind: trim becomes a source and a blend as the page says") {
    const profile meat = calibrated_profile(
        prism_loin{.length = 16.5_in, .face = {.width = 8_in, .depth = 3_in, .fat_cover = 0.7_in, .tail = 1.5_in}},
        11.9_lb);
    cutting_rules rules{.facing = 0.25_in};
    rules.trim_goes_to[tissue::fat_cover] = destination::grind;
    const auto planned = most_portions(
        meat, {{.name = "steak", .thickness = {1.0_in, 1.5_in}, .trim = {.fat_cover = 0.25_in, .tail = 1.0_in}}},
        rules);
    REQUIRE(planned.feasible());
    const auto lipids = lipids_of(beef_strip_lean, beef_separable_fat);
    const auto trim =
        grind_source_of<usd>(own_trim_of(planned.plan), lipids, 0.40_usd / 1_lb); // none if there is no trim
    REQUIRE(trim);
    const kept_output out;
    const std::vector<grind_source<usd>> sources{
        *trim,
        {.name = "chuck", .fat = 15_percent, .price = 4.10_usd / 1_lb},
        {.name = "lean round", .fat = 6_percent, .price = 5.60_usd / 1_lb, .supply = {0_lb, 20_lb}}};
    const auto grind = least_cost_blend<usd>(sources, {.batch = 10_lb, .fat = fat_of_exactly(20_percent)},
                                             {.most = 30_percent, .law = "9 CFR 319.15(a)"});
    if (!grind.made())
        for (const std::string& line : grind.why_not()) std::cout << line << '\n';
    CHECK(grind.made());
    CHECK(out.text().empty());
}

TEST_CASE("docs on labels: a label has the fields that the page prints") {
    const kept_output out;
    const label_rules rules{.weighing = {.division = hundredths_of_pound}, .basis = price_basis::per_pound};
    const auto label = label_of<usd>("strip steak", 0.817_lb, 0.02_lb, 14.99_usd / 1_lb, rules); // gross, tare
    for (const label_field& field : fields_of(label)) std::cout << field.name << ": " << field.value << '\n';
    CHECK_THAT(out.text(), ContainsSubstring("0.80 lb"));   // 0.797 lb, to the nearest hundredth
    CHECK_THAT(out.text(), ContainsSubstring("11.99 USD")); // 0.80 × 14.99 = 11.992
}

} // namespace packs_snippets
