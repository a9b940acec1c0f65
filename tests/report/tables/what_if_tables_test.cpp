// What a report says would help, and what limits cost, on an invented prism.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/report/tables/what_if_tables.hpp>
#include <tranche/report/text_report.hpp>
#include <tranche/units/literals.hpp>

namespace what_if_tables_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

profile prism() { return tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm); }

price_list<usd> prices() {
    price_list<usd> list{
        .portions = {{"steak", {.by_weight = 36_usd / 1_kg}}, {"roast", {.by_weight = 36_usd / 1_kg}}}};
    list.by_products[destination::grind] = 9_usd / 1_kg;
    return list;
}

std::string sections_of(const cutting_request& request) {
    const what_ifs found = what_ifs_of(prism(), request, kept_mass_objective::portions_then_mass, metric_kitchen);
    return text_of(what_if_sections<usd>(found, prices(), metric_kitchen));
}

} // namespace

TEST_CASE("a report says what one more portion needs and what each limit costs") {
    const std::string text =
        sections_of({.cuts = {{.name = "steak", .thickness = {28_mm, 40_mm}}, {.name = "roast", .thickness = 21_cm}},
                     .rules = {.facing = 5_mm}});
    // 195 mm are six steaks of 28 mm or more, or seven of 27; see the test of `one_more_portion`.
    CHECK_THAT(text, ContainsSubstring("For one more portion, any one of these:") && ContainsSubstring("28 mm") &&
                         ContainsSubstring("27 mm") && ContainsSubstring("To cut roast at all"));
    CHECK_THAT(text, ContainsSubstring("What each limit costs") && ContainsSubstring("facing") &&
                         ContainsSubstring("Worth,"));
    // The facing a millimetre thinner: seven of 28 mm, 196 instead of 195 mm of steak; 9.48 g at 36 - 9 USD/kg.
    CHECK_THAT(text, ContainsSubstring("+1") && ContainsSubstring("+9") && ContainsSubstring("+0.26"));
    CHECK_THAT(text, !ContainsSubstring("+0.00"));
}

TEST_CASE("a report says what each limit costs without prices, and then nothing of worth") {
    const cutting_request request{
        .cuts = {{.name = "steak", .thickness = {28_mm, 40_mm}}, {.name = "roast", .thickness = 21_cm}},
        .rules = {.facing = 5_mm}};
    const what_ifs found = what_ifs_of(prism(), request, kept_mass_objective::portions_then_mass, metric_kitchen);
    price_list<usd> one_of_two = prices();
    one_of_two.portions.erase("roast");
    const auto table = [&](const price_list<usd>& list) {
        return costs_of_limits_table<usd>(request, found.costs, found.planned.plan, list, metric_kitchen);
    };
    const report_table priced = table(prices());
    REQUIRE_FALSE(priced.rows.empty());
    for (const price_list<usd>& list : {price_list<usd>{}, one_of_two}) {
        const report_table without = table(list);
        CHECK(without.columns.size() + 1 == priced.columns.size());
        REQUIRE(without.rows.size() == priced.rows.size());
        for (std::size_t r = 0; r < without.rows.size(); ++r)
            CHECK(std::equal(without.rows[r].cells.begin(), without.rows[r].cells.end(), priced.rows[r].cells.begin(),
                             priced.rows[r].cells.end() - 1));
        const std::string text = text_of(what_if_sections<usd>(found, list, metric_kitchen));
        CHECK_THAT(text, ContainsSubstring("What each limit costs") && !ContainsSubstring("Worth"));
    }
}

TEST_CASE("a report of an impossible request says what would make it possible") {
    const std::string text = sections_of({.cuts = {{.name = "steak", .thickness = 21_cm}}});
    CHECK_THAT(text, ContainsSubstring("For a plan, any one of these:") && ContainsSubstring("200 mm"));
    CHECK_THAT(text, !ContainsSubstring("costs"));
    // A muscle rule and a weight that no slab meets: no single limit helps.
    const std::string nothing =
        sections_of({.cuts = {{.name = "steak", .thickness = 21_cm, .portion = {90_kg, 100_kg}}}});
    CHECK_THAT(nothing, ContainsSubstring("No change of a single limit would do for a plan."));
}

TEST_CASE("a report names trims and the order of cuts among what would help and what costs") {
    // Invented: a fat cover of 1 cm. Fillets at the rib and steaks behind them, which are asked for the other way round.
    const profile meat = tabulate(
        prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm, .fat_cover = 1_cm, .tail = 3_cm}}, 1_mm);
    price_list<usd> worth{
        .portions = {{"fillet", {.by_weight = 40_usd / 1_kg}}, {"steak", {.by_weight = 36_usd / 1_kg}}}};
    worth.by_products[destination::grind] = 9_usd / 1_kg;
    cutting_request request{
        .cuts = {{.name = "fillet", .thickness = 30_mm, .zone = {0_mm, 60_mm}},
                 {.name = "steak", .thickness = 35_mm, .trim = {.fat_cover = 5_mm}, .zone = {60_mm, 200_mm}}},
        .rules = {.order = {{"steak", "fillet"}}}};
    const auto text = [&] {
        const what_ifs found = what_ifs_of(meat, request, kept_mass_objective::portions_then_mass, metric_kitchen);
        return text_of(what_if_sections<usd>(found, worth, metric_kitchen));
    };
    const std::string both = text();
    CHECK_THAT(both, ContainsSubstring("steak before") && ContainsSubstring("order of cuts") &&
                         ContainsSubstring("not asked"));
    CHECK_THAT(both, ContainsSubstring("fat cover") && ContainsSubstring("6 mm"));
    CHECK_THAT(both, !ContainsSubstring("inf"));

    // Five grams more than a steak weighs: more of its fat has to stay on.
    request.rules.order.clear();
    request.cuts.erase(request.cuts.begin());
    const mass now = to_mass(balance_of(most_portions(meat, request.cuts).plan).portions[0]) / 4.0;
    request.cuts[0].portion.min = now + 5_g;
    const std::string heavier = text();
    CHECK_THAT(heavier, ContainsSubstring("For a plan, any one of these:") && ContainsSubstring("fat cover"));
    request.cuts[0].trim = {};
    request.cuts[0].portion = {200_g, now};
    CHECK_THAT(text(), ContainsSubstring("whole loin") && ContainsSubstring("all of it"));
}

TEST_CASE("changes are told on the finest steps that the units write") {
    CHECK_THAT(detail::finest_steps(us_kitchen).thickness / inch, WithinAbs(1.0 / 16.0, 1e-15));
    CHECK_THAT(detail::finest_steps(us_kitchen).portion / ounce, WithinAbs(0.25, 1e-15));
    CHECK_THAT(detail::finest_steps(metric_kitchen).thickness / millimetre, WithinAbs(1.0, 1e-12));
    CHECK_THAT(detail::finest_steps(metric_kitchen).portion / gram, WithinAbs(1.0, 1e-12));
}

} // namespace what_if_tables_test
