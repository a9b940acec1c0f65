// The code that docs/explaining_plans.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <iostream>
#include <string>
#include <vector>

#include <tranche/tranche.hpp>

#include "docs_pages.hpp"

namespace explaining_plans_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Invented: 80 % of 16 × 7 cm is 89.6 cm², 94.83 g of lean a centimetre.
profile short_prism(const taped_readings& shape = {.width = 16_cm, .depth = 7_cm}) {
    return tabulate(prism_loin{.length = 20_cm, .face = shape}, 1_mm);
}
const cut_spec steak{.name = "steak", .thickness = {25_mm, 38_mm}, .portion = {250_g, 380_g}};
const cut_spec fillet{.name = "fillet", .thickness = {40_mm, 60_mm}, .pieces = 2};

std::string changes(const profile& meat, const cutting_request& request) {
    const auto want = most_portions();
    const kept_output out;
    for (const limit_change& change : nearest_feasible(meat, request, want)) std::cout << change.text << '\n';
    return out.text();
}

} // namespace

TEST_CASE("docs on explaining: a request takes an objective, or a function that plans") {
    const profile meat = short_prism();
    const price_list<usd> prices{.portions = {{"steak", {.by_weight = 30_usd / 1_kg}}, {"fillet", {.each = 9_usd}}}};
    const cutting_request request{
        .cuts = {steak, fillet}, .rules = {.facing = 6_mm}, .demands = {at_least(4, "fillet")}};
    const auto want = most_portions(); // or least_waste(), best_value(prices), even_portions(11), your own
    CHECK(plan(meat, request, want).feasible());
    CHECK(plan(meat, request, least_waste()).feasible());
    CHECK(plan(meat, request, best_value(prices)).feasible());
    const kept_output out;
    for (const limit_cost& cost : limit_costs(meat, request, want))
        if (cost.binds()) std::cout << name_of(cost.which) << ": " << cost.more_portions << " more portions\n";
    CHECK_THAT(out.text(), ContainsSubstring(" more portions\n"));
}

TEST_CASE("docs on explaining: eleven equal portions have limits that cost evenness") {
    const profile meat = tabulate(tapered_loin{.length = 42_cm,
                                               .rib = {.width = 17_cm, .depth = 8_cm},
                                               .sirloin = {.width = 15_cm, .depth = 7_cm}},
                                  1_mm);
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {25_mm, 40_mm}}}, .rules = {.facing = 6_mm}};
    const auto costs = limit_costs(meat, request, even_portions(11));
    const double gain = costs[0].gain / 1e6; // grams by which eleven portions get more equal
    CHECK(plan(meat, request, even_portions(11)).plan.portion_count() == 11);
    CHECK(gain >= 0.0);
}

TEST_CASE("docs on explaining: what would help is said as on the page") {
    const std::string page_text = in_one_line(page("explaining_plans.md"));
    const auto is_shown = [&](const std::string& text) {
        INFO(text);
        REQUIRE_FALSE(text.empty());
        CHECK_THAT(page_text, ContainsSubstring(in_one_line(text)));
    };
    is_shown(
        changes(short_prism(), {.cuts = {{.name = "steak", .thickness = {38_mm, 45_mm}, .portion = {250_g, 300_g}}}}));
    is_shown(changes(
        short_prism({.width = 16_cm, .depth = 7_cm, .fat_cover = 10_mm}),
        {.cuts = {
             {.name = "steak", .thickness = {25_mm, 31_mm}, .portion = {290_g, 380_g}, .trim = {.fat_cover = 4_mm}}}}));
    const std::string order =
        changes(short_prism(), {.cuts = {{.name = "steak", .thickness = {30_mm, 38_mm}, .zone = {10_cm, 20_cm}},
                                         {.name = "fillet", .thickness = {40_mm, 50_mm}, .zone = {0_mm, 8_cm}}},
                                .rules = {.order = {{"steak", "fillet"}}},
                                .demands = {at_least(1, "fillet"), at_least(2, "steak")}});
    const std::size_t start = order.find("steak before fillet");
    REQUIRE(start != std::string::npos);
    is_shown(order.substr(start, order.find('\n', start) - start));
}

TEST_CASE("docs on explaining: polished plans verify on their own grid") {
    const profile meat = short_prism();
    const cutting_request request{.cuts = {steak}};
    const auto want = most_portions();
    const polished_cuts polished = polish(meat, request, want); // to 0.01 mm, unless told otherwise
    const auto faults = verify(polished.planned.plan, polished.meat, request.cuts, request.rules); // none
    CHECK(faults.empty());
}

TEST_CASE("docs on explaining: equal portions get more equal below the grid") {
    const profile meat = tabulate(tapered_loin{.length = 30_cm,
                                               .rib = {.width = 17_cm, .depth = 8_cm},
                                               .sirloin = {.width = 15_cm, .depth = 7_cm}},
                                  1_mm);
    const std::vector<cut_spec> specs{{.name = "steak", .thickness = {25_mm, 40_mm}}};
    const cutting_rules rules{};
    const polished_cuts even =
        polish(meat, {specs, rules}, even_portions(9)); // by default as many as the finer grid gives
    const double apart = even.planned.gap() / 1e6;      // grams between the heaviest and the lightest
    CHECK(even.planned.plan.portion_count() == 9);
    const auto spread = [](const cutting_plan& cuts) {
        double lightest = 1e9, heaviest = 0.0;
        for (const slab& s : cuts.slabs) {
            if (s.kind != slab_kind::portions) continue;
            lightest = std::min<double>(lightest, to_mass(s.weight()) / gram);
            heaviest = std::max<double>(heaviest, to_mass(s.weight()) / gram);
        }
        return heaviest - lightest;
    };
    CHECK_THAT(apart, WithinAbs(spread(even.planned.plan), 1e-6));
    CHECK(apart < spread(even_portions(meat, specs, rules, 9).plan));
}

TEST_CASE("docs on explaining: a knife that is not exact has its chances") {
    const profile meat = short_prism();
    const knife_spread knife{.spread = 1_mm};
    const auto robust = plan(meat, {steak}, most_expected_portions(knife));
    const auto chances = chances_of(robust.plan, meat, knife);
    const double within = chances[3].within; // of its fourth slab: how likely the portions keep their limits
    const double expected = expected_portions(robust.plan, chances);
    CHECK(within > 0.0);
    CHECK(within <= 1.0);
    CHECK(expected <= static_cast<double>(robust.plan.portion_count()));
    CHECK(expected > 0.5 * static_cast<double>(robust.plan.portion_count()));
}

TEST_CASE("docs on explaining: a front is printed choice by choice") {
    const profile meat = short_prism();
    const std::vector<cut_spec> specs{steak, fillet};
    const cutting_rules rules{};
    const kept_output out;
    for (const front_point& choice : count_and_waste_front(meat, specs, rules))
        std::cout << choice.portions << " portions waste " << to_mass(choice.waste) / gram << " g\n";
    CHECK_THAT(out.text(), ContainsSubstring(" portions waste "));
}

} // namespace explaining_plans_snippets
