// The code that docs/reports.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <string>
#include <vector>

#include <tranche/tranche.hpp>

namespace reports_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

// Invented: a loin of three readings, its steaks and prices.
TEST_CASE("docs on reports: the answer, the page and the board card of a plan") {
    const measured_loin loin{
        .length = 16.5_in,
        .stations = {{.at = 0_in, .width = 8.25_in, .depth = 3.5_in, .fat_cover = 0.44_in, .tail = 2_in},
                     {.at = 16.5_in, .width = 8.25_in, .depth = 2.75_in, .fat_cover = 0.31_in, .tail = 1_in}}};
    const profile meat = calibrated_profile(loin, 11.9_lb);
    const cut_spec steak{.name = "strip steak", .thickness = {1.0_in, 1.5_in}, .portion = {10_oz, 16_oz}};
    const planned plan = most_portions(meat, steak, {.facing = 0.25_in});
    REQUIRE(plan.feasible());
    const bill<usd> paid = settle<usd>(plan.plan, {.weight = 12.1_lb, .price = 8_usd / 1_lb});
    const std::vector<savings<usd>> saved{make_or_buy<usd>({"ready-cut steak", 16.49_usd / 1_lb}, plan.plan, paid)};

    const std::vector<std::string> answer = answer_lines(plan, paid, saved);
    const std::string text = text_report(plan, paid, {.saved = saved});
    const page_foot made{.date = "2026-03-14", .sheet = "friday.ini"}; // the library reads no clock
    const loin_outline outline = outline_of(loin);
    const std::string page =
        html_report("Friday", plan, {outline, cut_faces(loin, plan.plan)}, paid, {.saved = saved}, made);
    const std::string card = board_card("Friday", plan.plan, outline, {.paper = card_paper::us_letter, .made = made});
    CHECK_THAT(answer.at(0), ContainsSubstring("strip steak of") && ContainsSubstring("USD each"));
    CHECK_THAT(answer.at(1),
               ContainsSubstring("Cutting saves") && ContainsSubstring("against ready-cut steak (pays up to"));
    CHECK_THAT(text, StartsWith("The answer\n"));
    CHECK_THAT(page, ContainsSubstring("2026-03-14 · friday.ini"));
    CHECK_THAT(card, ContainsSubstring("size: 8.5in 11in") && ContainsSubstring("Must be 4 in"));
}

} // namespace reports_snippets
