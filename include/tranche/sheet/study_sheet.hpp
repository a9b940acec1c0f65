// A cut sheet with a study: how many portions, nine times out of ten?
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/sheet/sheet_planning.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// `plan_sheet`, and for a sheet with a `[study]` the chances of each loin that has a plan (`loin_answer::chances`): loins like it are
/// drawn, planned (or cut by the plan of the answer), cut by a hand that is not exact, and judged by their weight; of an order how often it is filled
/// (`order_chances`). What is drawn is the
/// same every time. A loin of which nothing was measured has the spreads of its kind, and its width gives way so that it has its
/// weight; of one that was measured only what the sheet says is uncertain, and the fill gives way. The figures of a plan and its bill
/// are those of `plan_sheet`, to the last digit. Once `search_limits::stop` says so, chances are of the loins and evenings drawn until then,
/// and the remarks say it; a loin or an order of which none could be drawn has none, and the remarks say that.
///
/// It is compiled by who includes `<tranche/sheet_study.hpp>`, or links `tranche::compiled`; a program that only declares it does not
/// take in what studies need. Throws as `plan_sheet`. Costs a plan for each loin that is drawn, unless they are planned once.
template <class = detail::when_called>
[[nodiscard]] sheet_answer study_sheet(const cut_sheet& sheet, const sheet_planning& how = {});

} // namespace tranche
