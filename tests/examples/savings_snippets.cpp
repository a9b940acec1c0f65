// The code that docs/savings.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <vector>

#include <tranche/tranche.hpp>

namespace savings_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

// Invented: an even loin, its steaks, and prices.
TEST_CASE("docs on savings: the lines add up as the page says") {
    const prism_loin loin{.length = 16.5_in,
                          .face = {.width = 8_in, .depth = 3_in, .fat_cover = 0.4_in, .tail = 1.5_in}};
    const profile meat = calibrated_profile(loin, 11.9_lb);
    const cut_spec steak{.name = "strip steak",
                         .thickness = {1.0_in, 1.5_in},
                         .portion = {10_oz, 16_oz},
                         .trim = {.fat_cover = 0.25_in, .tail = 1.0_in}};
    const tranche::planned planned = most_portions(meat, steak);
    REQUIRE(planned.feasible());
    const cutting_plan& cuts = planned.plan;
    const price_list<usd> prices{};
    const bill<usd> settled = settle<usd>(cuts, {.weight = 12.1_lb, .price = 8_usd / 1_lb}, prices);

    ready_cut<usd> ready{.name = "ready-cut strip steak", .price = 16.49_usd / 1_lb, .replaces = {"strip steak"}};
    const ready_cut_look look{.trim = {.fat_cover = 0.5_in}, .gluteus_medius = 0.1}; // of its lean
    ready.edible_share = edible_share(shares_of_ready_cut(look, meat, cuts, ready.replaces));
    const cutting_costs<usd> costs{.time = 35_min, .pay = 18_usd / 1_h, .packaging = 0.12_usd, .knife_wear = 0.40_usd};

    const savings<usd> saved = make_or_buy(ready, cuts, settled, {.prices = prices, .costs = costs});
    const amount<usd> net = saved.net_saving;          // what saved.lines add up to
    const amount<usd> gross = saved.gross_saving;      // with saved.differences added it is the net saving
    const auto wage = break_even_wage(saved.terms).at; // none if no wage breaks even
    const savings_grid<usd> grid =
        tabulate_savings(saved, stepped(8_usd / 1_lb, 0.5_usd / 1_lb, 3), stepped(0.70, 0.02, 3, 0.02, 1.0));
    amount<usd> lines{}, steps = gross;
    for (const savings_line<usd>& line : saved.lines) lines += line.value;
    for (const savings_line<usd>& line : saved.differences) steps += line.value;
    CHECK(lines == net);
    CHECK(steps == net);
    REQUIRE(wage);
    CHECK_THAT(saved.terms.at_pay(*wage).net_saving().value(), WithinAbs(0.0, 1e-9));
    CHECK(grid.net_saving.size() == 7);
    CHECK(grid.net_saving.front().size() == 7);
}

} // namespace savings_snippets
