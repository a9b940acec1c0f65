// Tonight's covers out of six loins: which to open, how to cut each, and what would help. Invented kitchen, weights and prices.
// SPDX-License-Identifier: BSL-1.0
#include <iostream>

#include "made_files.hpp"
#include <tranche/order_report.hpp>
#include <tranche/orders.hpp>
#include <tranche/tranche.hpp>
using namespace tranche;
using namespace tranche::literals;

int main(int count, char** words) {
    order<usd> tonight{.rules = {.facing = 6_mm}};
    tonight.by_products[destination::grind] = 6_usd / 1_kg;
    const auto have = [&](const char* name, mass weight) {
        const loin_source meat(typical_loin(weight, beef_strip_loin), 1_mm);
        tonight.loins.push_back({.name = name, .meat = meat, .worth = weight * (18_usd / 1_kg)});
    };
    have("A", 5.2_kg), have("B", 4.6_kg), have("C", 5.8_kg), have("D", 4.9_kg), have("E", 6.1_kg), have("F", 5.4_kg);
    const auto want = [&](std::int64_t number, const char* name, mass least, money<usd> price) {
        const cut_spec cut{.name = name, .thickness = {20_mm, 50_mm}, .portion = {least, 1.16 * least}};
        tonight.lines.push_back({cut, number, number, {.each = price}, /* unfilled */ 5_usd});
    };
    want(24, "strip steak", 300_g, 15_usd), want(8, "large steak", 400_g, 21_usd),
        want(10, "lunch steak", 210_g, 9_usd);

    const auto plan = plan_order(tonight);
    const order_account account = account_of(tonight, plan);
    const auto cheaper = loins_at(tonight, 17.50_usd / 1_kg);
    const auto ranked = rank_suppliers<usd>(tonight, {{"our own", tonight.loins}, {"Saltmarsh", cheaper}});
    const auto sections = order_sections(account, {metric_kitchen, loins_that_help(tonight, plan, {}, 6), ranked});
    std::cout << "Invented scenario: nothing here is real.\n\n" << text_of(sections);
    if (count == 1) return 0;
    std::vector<example::made_file> files{{"order.svg", order_svg(account)},
                                          {"order.html", html_of("Today", sections)}};
    for (const order_card& card : order_cards("Today", tonight, plan, {.units = metric_kitchen}))
        files.emplace_back("board_card_" + tonight.loins[card.loin].name + ".html", card.html);
    return example::made_in(words[1], files);
}
