// What can only be judged of the orders of a cut sheet once all of it is read.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include <tranche/sheet/detail/document/named_cut.hpp>
#include <tranche/sheet/detail/document/section_reader.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Names the cuts as they are called. Throws for an order of a cut that is not on the sheet, for loins without a price where it is for
/// best value, and where the sheet asks for what an order is not planned with: numbers of each loin, thicknesses side by side, another
/// aim. `parts` and `loins` are the sections of orders and loins.
template <class = when_called>
TRANCHE_COLD void check_orders(cut_sheet& sheet, const std::vector<const sheet_part*>& parts,
                               const std::vector<const sheet_part*>& loins) {
    for (std::size_t i = 0; i < sheet.orders.size(); ++i) {
        name_cut(sheet, *parts[i], "", sheet.orders[i].cut);
        const std::string place = parts[i]->place + parts[i]->line;
        for (const sheet_cut& cut : sheet.cuts)
            if (cut.at_least || cut.at_most)
                throw invalid_input(place, "an order",
                                    "no number of " + cut.spec.name +
                                        " of each loin beside it: an order is for all loins together");
        if (!sheet.thicknesses.empty())
            throw invalid_input(place, "an order", "none where thicknesses are compared side by side");
        if (sheet.plan_for != sheet_aim::best_value && sheet.plan_for != sheet_aim::most_portions)
            throw invalid_input(place, "an order", "a plan for best value or most portions");
    }
    if (sheet.orders.empty() || sheet.plan_for != sheet_aim::best_value) return;
    for (std::size_t i = 0; i < sheet.loins.size(); ++i)
        if (!sheet.loins[i].price)
            throw invalid_input(loins[i]->field("price"), "nothing",
                                "a price: an order for best value opens a loin where that pays");
}

} // namespace tranche::detail
