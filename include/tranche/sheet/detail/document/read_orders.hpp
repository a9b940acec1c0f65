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

/// Names the cuts as they are called. Throws for an order of a cut that is not on the sheet, and where the sheet asks for what an
/// order is not planned with: numbers of each loin, thicknesses side by side, an aim that does not add up over loins. `parts` are the
/// sections of the orders.
template <class = when_called>
TRANCHE_COLD void check_orders(cut_sheet& sheet, const std::vector<const sheet_part*>& parts) {
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
        if (sheet.plan_for == sheet_aim::even_portions || sheet.plan_for == sheet_aim::fewest_settings)
            throw invalid_input(place, "an order",
                                "an aim that adds up over loins: best value, most portions, least waste or least "
                                "giveaway");
    }
}

} // namespace tranche::detail
