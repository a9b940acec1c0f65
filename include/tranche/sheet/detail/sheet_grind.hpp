// What the plans of a sheet leave for the grinder: how fat it is, what lean meat it takes, and what it is worth for that.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/grind/own_trim.hpp>
#include <tranche/grind/trim_in_blend.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/sheet_model.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// US ground beef has a limit in law; elsewhere, and of other meat, the sheet's own figure is the only one.
[[nodiscard]] inline legal_fat_limit limit_on(const cut_sheet& sheet) {
    const bool beef = kind_of_loin(sheet.loins.front()).proportions == &beef_strip_loin;
    return sheet.units != sheet_units::metric && beef ? us_ground_beef_limit() : no_legal_fat_limit();
}

/// Fat and blend of all that goes to grind; none where nothing does.
template <class = when_called>
[[nodiscard]] std::optional<grind_answer> grind_of(const cut_sheet& sheet, const std::vector<loin_answer>& loins) {
    grind_answer answer;
    double lipid = 0.0; // in micrograms
    for (std::size_t i = 0; i < loins.size(); ++i) {
        const own_trim own = own_trim_of(loins[i].planned.plan);
        for (const tissue t : all_tissues) {
            answer.own.loose[t] += own.loose[t];
            answer.own.trim[t] += own.trim[t];
        }
        if (const auto fat = fat_of(own, lipids_of(sheet.loins[i])))
            lipid += unfused(*fat * static_cast<double>(own.total().count));
    }
    const micrograms all = answer.own.total();
    if (all.count == 0) return std::nullopt;
    answer.fat = lipid / static_cast<double>(all.count);
    answer.wanted = answer.fat;
    if (!sheet.grind) return answer;
    answer.wanted = sheet.grind->fat;
    const grind_source<chosen_currency> trim{
        .name = "own trim", .fat = answer.fat, .price = {}, .supply = {mass{}, to_mass(all)}};
    const grind_source<chosen_currency> lean{
        .name = "lean meat", .fat = sheet.grind->lean_fat, .price = sheet.grind->lean_price.value_or(sheet_price{})};
    answer.made = cheapest_addition<chosen_currency>(trim, {lean}, fat_at_most(sheet.grind->fat), limit_on(sheet));
    if (!answer.made->made()) return answer;
    answer.lean_needed = answer.made->lines[1].weight;
    // What the lean meat earns by itself, as grind dearer than it was bought, is no worth of the trim.
    const auto sold_at = sheet.by_products[destination::grind];
    if (sold_at && (sheet.grind->lean_price || answer.lean_needed.count == 0))
        answer.worth = std::min(worth_when_sold(*answer.made, 0, *sold_at).value_or(sheet_price{}), *sold_at);
    return answer;
}

/// What a bill credits: what goes to grind brings what is left of the price of the grind once its lean meat is paid.
template <class = when_called>
[[nodiscard]] price_list<chosen_currency> credited_prices(price_list<chosen_currency> prices, const cut_sheet& sheet,
                                                          const std::optional<grind_answer>& grind) {
    if (sheet.grind) prices.by_products[destination::grind] = grind ? grind->worth : std::nullopt;
    return prices;
}

} // namespace tranche::detail
