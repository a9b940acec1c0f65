// A sheet with everything that one can ask for, and one with next to nothing. Scenarios and prices are invented.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <chrono>

#include "even_loins.hpp"
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/units/iso_currency.hpp>
#include <tranche/units/literals.hpp>

namespace tranche_test {

/// Two loins with everything that a sheet can ask for.
inline tranche::cut_sheet full_sheet() {
    using namespace tranche;
    using namespace tranche::literals;
    cut_sheet sheet{.title = "Saturday at the Tide Table (an invented inn)", .plan_for = sheet_aim::most_portions};
    sheet.currency = iso_currency_named("USD");
    sheet.date = std::chrono::year_month_day{std::chrono::year(2026), std::chrono::month(3), std::chrono::day(14)};
    sheet.cutter = "Robin";
    sheet.loins = {even_loin("A", 12.5_lb, 16_in), even_loin("B, the long one", 13_lb, 17_in)};
    sheet.loins[0].on_the_board = 12_lb;
    sheet.loins[0].lot = "=4711"; // what a spreadsheet would take for a formula
    sheet.loins[1].on_arrival = temperature{6.5};
    for (sheet_loin& loin : sheet.loins) {
        loin.price = per_pound(8.10);
        loin.stations[0].fat_cover = 0.375_in;
        loin.stations[0].tail = 1_in;
    }
    sheet.cuts = {slices("steak", 1_in), slices("thin steak", 0.5_in)};
    sheet.cuts[0].price = per_pound(15.9);
    sheet.cuts[1].price = per_pound(14.9);
    sheet.cuts[1].at_least = sheet.cuts[1].at_most = 4;
    for (sheet_cut& cut : sheet.cuts) cut.spec.trim = {.fat_cover = 0.125_in, .tail = 0.5_in};
    sheet.rules.facing = 0.25_in;
    sheet.rules.trim_goes_to[tissue::fat_cover] = destination::grind;
    sheet.by_products[destination::grind] = per_pound(5.5);
    sheet.grind = sheet_grind{.fat = 0.2, .lean_fat = 0.06, .lean_price = per_pound(6.2)};
    sheet.menu = sheet_menu{.food_cost = 0.3, .rest_of_plate = cash(2.4)};
    sheet.retail = sheet_case{.margin = 0.3, .tare = 0.013_lb, .packed_on = sheet.date, .sell_by = sheet.date};
    sheet.alternatives = {{.ready = {.name = "ready-cut", .price = per_pound(16.49)}}};
    sheet.offers = {{.name = "Gull Wharf", .bought = {.weight = 10_lb, .price = per_pound(9.9)}, .yield = 0.86}};
    return sheet;
}

/// Nothing is known but the weight.
inline tranche::cut_sheet weight_alone() {
    using namespace tranche;
    using namespace tranche::literals;
    cut_sheet sheet{.title = "only the weight", .plan_for = sheet_aim::most_portions};
    sheet.loins = {{.weight = 12_lb}};
    sheet.cuts = {slices("steak", 1_in)};
    return sheet;
}

} // namespace tranche_test
