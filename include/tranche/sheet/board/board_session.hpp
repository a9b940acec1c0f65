// A loin of a cut sheet on the board: the cutting session that its request and its aim make.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include <tranche/loin/profile.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/session/plan_as_cut.hpp>
#include <tranche/optimise/session/session_csv.hpp>
#include <tranche/optimise/session/session_state.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/sheet_model.hpp>
#include <tranche/sheet/detail/sheet_request.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/plan_sheet.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// Calls use(session) with a `cutting_session` of one loin of a sheet, of one type whatever the sheet is planned for: a new one, or
/// the one that `from` is of. The session, and the choice of the sheet's currency, end with the call. Demands of the sheet are for each
/// loin; grind is worth what the sheet says. Returns what `use` returns.
///
/// Throws `invalid_input` for an index that is no loin's, for what `plan_sheet` refuses, and for a state of another
/// loin. What `use` throws leaves the call. Cost: a tabulation and a plan; `loin` counts from 0.
template <class Use>
decltype(auto) with_board_session(const cut_sheet& sheet, std::size_t loin, const Use& use,
                                  const std::optional<session_state>& from = {}) {
    if (loin >= sheet.loins.size())
        throw invalid_input("loin", std::to_string(loin), "an index below " + std::to_string(sheet.loins.size()));
    const currency_choice choice(detail::currency_of_sheet(sheet));
    const sheet_loin& bought = sheet.loins[loin];
    cutting_request request = detail::request_of(sheet);
    if (!sheet.orders.empty()) {
        const loin_answer planned = plan_sheet(sheet, {.what_ifs = false}).loins[loin];
        if (!planned.opened) throw invalid_input("loin", bought.name, "one that the order opens");
        request.demands = demands_of(planned.planned.plan);
    }
    const profile meat = tabulate(detail::weighed_loin(sheet, bought), grid_of(sheet));
    std::optional<cutting_session<any_want>> session;
    detail::with_want(sheet, detail::prices_of(sheet), [&](const auto& want) {
        if (from)
            session.emplace(meat, request, want, *from);
        else
            session.emplace(meat, request, want);
    });
    return use(*session);
}

} // namespace tranche
