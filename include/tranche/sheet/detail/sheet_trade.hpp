// The sheet's trade: portions on a menu with their food cost, and labels of packs.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include <tranche/cost/menu/plate_cost.hpp>
#include <tranche/packs/pack_label.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Each cut that has portions, on the menu of the sheet; nothing without a menu, or without costs.
template <class = when_called>
[[nodiscard]] std::vector<menu_line> menu_of(const cut_sheet& sheet, const sheet_account& all) {
    std::vector<menu_line> lines;
    if (!sheet.menu) return lines;
    for (std::size_t c = 0; c < sheet.cuts.size(); ++c) {
        const cut_account& of = all.cuts[c];
        if (!of.cost || of.portions == 0) continue;
        // By-products worth more than the loin leave nothing for the portions to carry.
        const sheet_money meat = std::max(sheet_money{}, to_money(*of.cost) / static_cast<double>(of.portions));
        menu_line line{.cut = of.name, .plate = {.meat = meat, .other = sheet.menu->rest_of_plate}};
        if (const auto& each = sheet.cuts[c].price_each; each && *each > sheet_money{}) {
            line.price = rounded<chosen_currency>(*each, rounding::half_even, "menu price");
            line.food_cost = line.plate.food_cost_percentage(*each);
        }
        if (sheet.menu->food_cost)
            line.price_needed = line.plate.menu_price(*sheet.menu->food_cost, {.step = {1}, .ending = {0}});
        lines.push_back(std::move(line));
    }
    return lines;
}

/// How the scale of a shop in these units shows weights: hundredths of a pound, or 5 g; and it takes a tare of whole
/// divisions, rounded up (common practice, no source).
[[nodiscard]] inline label_rules label_rules_of(const cut_sheet& sheet) {
    const bool metric = sheet.units == sheet_units::metric;
    return {.weighing = {.division = metric ? mass_division{mass_division::unit::kilograms, 200} : hundredths_of_pound,
                         .tare = tare_rounding::up_to_division},
            .basis = metric ? price_basis::per_kilogram : price_basis::per_pound};
}

/// A label for each portion of a cut that is sold by weight alone, in cutting order, in the packing that the sheet says; nothing
/// for a sheet without a case. What a scale shows as nothing, after a tare that may be rounded up, has none.
template <class = when_called>
[[nodiscard]] std::vector<sheet_label> labels_of(const cut_sheet& sheet, const std::vector<loin_answer>& loins) {
    std::vector<sheet_label> labels;
    if (!sheet.retail) return labels;
    const label_rules rules = label_rules_of(sheet);
    const mass tare = sheet.retail->tare;
    const mass least = size_of(rules.weighing.division) * (tare > mass{} ? 2.0 : 1.0);
    for (std::size_t i = 0; i < loins.size(); ++i) {
        const cutting_plan& cuts = loins[i].planned.plan;
        for (const slab& s : cuts.slabs) {
            if (s.kind != slab_kind::portions) continue;
            const sheet_cut& cut = sheet.cuts[s.option];
            if (!cut.price || cut.price_each) continue;
            for (const micrograms weight : cuts.portions_of(s))
                if (to_mass(weight) >= least)
                    labels.push_back(
                        {i, label_of<chosen_currency>(cut.spec.name, to_mass(weight) + tare, tare, *cut.price, rules)});
        }
    }
    return labels;
}

} // namespace tranche::detail
