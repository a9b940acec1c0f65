// The plan that a cut sheet asks for, and what else there is to say of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include <tranche/tranche.hpp>

#include <tranche/sheet/detail/cutting_sheet.hpp>

namespace tranche::detail {

/// The want of the best value at the prices of the sheet, whatever their currency.
using worth_maker = std::function<worth_objective(const cutting_problem&)>;

struct sheet_plan {
    tranche::planned planned;
    std::optional<what_ifs> found{};       ///< none for even portions, fewest settings and too many cuts
    std::vector<report_section> remarks{}; ///< what the aim was about, where no table shows it
};

/// Calls use(want) with what a sheet is planned for, if that is an objective. The other aims, which have
/// more to say, are not asked for here.
template <class Use>
decltype(auto) with_want(const cutting_sheet& sheet, const worth_maker& worth, Use&& use) {
    switch (sheet.plan_for) {
    case aim::most_portions: return use(most_portions());
    case aim::least_waste: return use(least_waste());
    case aim::best_value: return use(worth);
    case aim::least_giveaway: return use(least_giveaway(sheet.charged));
    case aim::even_portions:
    case aim::fewest_settings: break;
    }
    throw std::logic_error("an aim that is no objective");
}

/// The lightest and the heaviest portion of a plan that has some.
[[nodiscard]] inline report_section evenness(const cutting_plan& cuts, const kitchen_units& units) {
    std::vector<micrograms> portions;
    for (const slab& piece : cuts.slabs)
        for (const micrograms portion : cuts.portions_of(piece)) portions.push_back(portion);
    const auto [lightest, heaviest] = std::minmax_element(portions.begin(), portions.end());
    report_table table{.columns = {{""}, {""}}};
    table.rows = {
        {.cells = {"Lightest portion", to_text(to_mass(*lightest), units.portion)}},
        {.cells = {"Heaviest portion", to_text(to_mass(*heaviest), units.portion)}},
        {.cells = {"Apart by", to_text(to_mass(*heaviest - *lightest), mass_division{units.portion.in, 100})}}};
    return {.title = "Evenness", .tables = {table}};
}

[[nodiscard]] inline report_section settings_of(const few_settings& few) {
    const auto thicknesses = [](std::size_t count) {
        return std::to_string(count) + (count == 1 ? " thickness" : " thicknesses");
    };
    return {.title = "Settings of the slicer",
            .paragraphs = {thicknesses(few.settings) + ", " +
                           (few.at_least == few.settings ? "and fewer would not do for as many portions."
                                                         : "not proven fewest: " + std::to_string(few.at_least) +
                                                               " might do for as many portions.")}};
}

/// Each limit of each cut is planned with a dozen times, and a plan takes as long as there are cuts: what-ifs take the square of
/// their number. With more cuts than this nobody would wait for them.
inline constexpr std::size_t most_cuts_of_what_ifs = 12;

/// Throws `invalid_input` for what cannot be planned.
[[nodiscard]] inline sheet_plan plan_of_sheet(const cutting_sheet& sheet, const profile& meat,
                                              const worth_maker& worth) {
    if (sheet.plan_for == aim::even_portions) {
        sheet_plan result{even_portions(meat, sheet.cuts, sheet.rules, sheet.portions)};
        if (result.planned.feasible()) result.remarks.push_back(evenness(result.planned.plan, sheet.units));
        return result;
    }
    if (sheet.plan_for == aim::fewest_settings) {
        const few_settings few = fewest_settings(meat, sheet.cuts, sheet.rules);
        sheet_plan result{few.planned};
        if (result.planned.feasible()) result.remarks.push_back(settings_of(few));
        return result;
    }
    if (sheet.cuts.size() > most_cuts_of_what_ifs)
        return {with_want(sheet, worth, [&](const auto& want) { return plan(meat, sheet.request(), want); }),
                std::nullopt,
                {{.title = "What would help",
                  .paragraphs = {"Not looked for, and neither is what limits cost: the sheet has " +
                                 std::to_string(sheet.cuts.size()) + " cuts, and both are for " +
                                 std::to_string(most_cuts_of_what_ifs) + " at most."}}}};
    what_ifs found = with_want(sheet, worth,
                               [&](const auto& want) { return what_ifs_of(meat, sheet.request(), want, sheet.units); });
    const tranche::planned planned = found.planned;
    return {planned, std::move(found)};
}

} // namespace tranche::detail
