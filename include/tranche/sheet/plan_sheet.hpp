// The whole job in one call: models the loins of a cut sheet, plans them, settles and compares, and says what is doubtful.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/sheet_planner.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/sheet/sheet_planning.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Everything that comes of a sheet. Each loin is planned by itself, with the numbers that are asked for of each cut; a
/// plan that `verify` does not hold for is no answer. A loin without stations is planned as a typical one of its kind.
/// Without prices there is no money in the answer, and every aim but best value works. What cannot be cut is an answer
/// too: `feasible()` is false then, and warnings of the plan say why.
///
/// - Costs of cutting fall on the loins by the weight bought (time, wear) and by their portions (packaging, freezing).
/// - What goes to grind is credited at the sheet's value, and where the sheet asks for grind of a fat content at what
///   is left of that value once the lean meat is paid: with `best_value` it is planned twice then, the second time at
///   that worth.
/// - Where several thicknesses are to be compared, the loins are planned for the first, and counted and settled for
///   each.
/// - With more than 12 cuts, and for even portions and fewest settings, what-ifs are not looked for: they take too
///   long.
///
/// Throws `invalid_input` for what cannot be planned, naming section and key of the sheet where it can, in the sheet's
/// units. Cost: what tabulating, planning and `what_ifs_of` take, for each loin, and a plan for each thickness.
template <class = detail::when_called>
[[nodiscard]] sheet_answer plan_sheet(const cut_sheet& sheet, const sheet_planning& how = {}) {
    try {
        return detail::sheet_planner<>(sheet, how).answer();
    } catch (const invalid_input& error) { // in the units of whoever wrote the sheet
        const kitchen_units units = kitchen_of(sheet);
        throw invalid_input(error.field(), in_units(error.value_words(), units),
                            in_units(error.expected_words(), units));
    }
}

} // namespace tranche
