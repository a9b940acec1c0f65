// Calculations of the trade, one after another: a roast, joint cost, packs on a counter, a lot of packs and its scale. Invented
// scenario: the kitchen and shop of an imaginary town; all weights, prices and products are invented.
// SPDX-License-Identifier: BSL-1.0
#include <iostream>
#include <string>
#include <vector>

#include <tranche/packs.hpp>
#include <tranche/tranche.hpp>

using namespace tranche;
using namespace tranche::literals;

namespace {

/// A whole loin is trimmed, roasted and carved; what the plate costs now, and when the market moves.
report_section roast() {
    const auto cut = cutting_yield_test<usd>(
        {.weight = 12.5_lb, .price = 8.40_usd / 1_lb},
        {{.name = "oven-ready loin", .weight = 9.75_lb, .role = part_role::usable, .goes_to = "the oven"},
         {.name = "tail", .weight = 1.25_lb, .role = part_role::by_product, .value = 4_usd / 1_lb, .goes_to = "mince"},
         {.name = "fat and silverskin", .weight = 1.25_lb},
         {.name = "purge", .weight = 4_oz}});
    const auto roast = cooking_loss_test<usd>(
        cut, 8_lb,
        {{.name = "slices", .weight = 7.5_lb, .role = part_role::usable},
         {.name = "ends", .weight = 8_oz, .role = part_role::by_product, .value = 3_usd / 1_lb, .goes_to = "hash"}});
    const auto dearer = repriced<usd>(roast, 9.10_usd / 1_lb);
    return {.title = "A roast loin",
            .tables = {cooking_loss_table(roast, us_kitchen), cooking_costs_table(roast, us_kitchen),
                       usable_cost_table(roast.costs(), {.portion = 6_oz, .portions = 40}, us_kitchen)},
            .paragraphs = {"At 9.10 USD/lb, with by-products at the value they had, a pound on the plate costs " +
                           to_text(*dearer.costs().per_weight(), price_basis::per_pound) + '.'}};
}

/// One price was paid for steaks and roasts: four ways to split it.
report_section joint_cost() {
    const std::vector<joint_product<usd>> products{{.name = "strip steaks",
                                                    .weight = 6.5_lb,
                                                    .split_off_value = 84.50_usd,
                                                    .final_value = 104_usd,
                                                    .separable_cost = 6.50_usd},
                                                   {.name = "end roast", .weight = 2.5_lb, .split_off_value = 25_usd},
                                                   {.name = "kebab dice", .weight = 1_lb, .split_off_value = 7.50_usd}};
    std::vector<joint_allocation<usd>> methods;
    for (const joint_method method : {joint_method::physical_measure, joint_method::split_off_value,
                                      joint_method::net_realisable_value, joint_method::constant_margin})
        methods.push_back(
            allocate_joint_cost<usd>(amount<usd>{92'40}, products, method, {{"mince", 5_usd, money<usd>{}}}));
    return {.title = "Joint cost", .tables = {joint_methods_table(methods), joint_cost_table(methods[2])}};
}

/// Two trays: what the wanted lean costs, and whether their steaks keep to a tolerance.
report_section packs() {
    const std::vector<steak_pack<usd>> trays{
        {.name = "value tray",
         .weight = 2.4_lb,
         .price = 11.99_usd / 1_lb,
         .pieces = 4,
         .steak = {.thickness = 0.75_in, .fat_cover = 0.5_in, .tail = 1.5_in, .gluteus_medius = 0.25}},
        {.name = "centre cut",
         .weight = 1.5_lb,
         .price = 14.99_usd / 1_lb,
         .pieces = 2,
         .steak = {.thickness = 1.25_in, .fat_cover = 0.125_in}}};
    pack_wishes<usd> wishes{.fat_cover = 0.25_in};
    wishes.values[tissue::gluteus_medius] = 5_usd / 1_lb;
    const auto ranked = rank_packs<usd>(trays, wishes);
    report_section section{.title = "Packs on the counter", .tables = {packs_table<usd>(ranked)}};
    const pack_tolerances limits = deca_2012_tolerances();
    for (const auto& p : ranked) {
        report_table table = tolerances_table(limits, held_against(limits, p.pack), us_kitchen);
        table.caption = p.pack.name + ". " + table.caption;
        section.tables.push_back(table);
    }
    return section;
}

/// The day's packs against what they say, and the scale they were weighed on. The variation allowed is invented too.
report_section lot() {
    const auto twelve_ounces =
        lot_compliance(12_oz, {12.1_oz, 12.05_oz, 11.9_oz, 12.05_oz, 12_oz, 11.95_oz, 12.15_oz, 12_oz});
    const auto random = lot_compliance(
        {{0.82_lb, 0.83_lb}, {0.79_lb, 0.78_lb}, {0.91_lb, 0.91_lb}, {1.04_lb, 1.05_lb}},
        [](mass labelled) { return 0.03 * labelled; }, 0);
    return {.title = "A lot of packs",
            .tables = {lot_table(twelve_ounces, us_kitchen), lot_table(random, us_kitchen),
                       scale_table({{1_lb, 1_lb}, {5_lb, 5.01_lb}, {10_lb, 9.99_lb}}, hundredths_of_pound)},
            .paragraphs = {"Inspectors have sampling plans and tables of their own, which these are not. Goods sold by "
                           "weight need a legal-for-trade scale; what holds is local law and licensed practice."}};
}

} // namespace

int main() {
    std::cout << "Invented scenario: no shop, price or product here is real.\n\n"
              << text_of({roast(), joint_cost(), packs(), lot(), {.title = "Cautions", .points = cautions()}});
}
