// What a whole plan is worth at the prices of a list.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// The worth of everything a plan gives: portions by weight and by the piece, facing, loose meat and trim at the
/// values of where they go. What the kerf took is worth nothing. Unrounded; a bill rounds each part by itself. Called
/// with its currency: `worth_of<usd>(planned.plan, prices)`.
///
/// Throws `invalid_input` for a bad list, and for a cut of the plan that has no price. O(slabs). Values are any finite
/// ones.
template <currency C>
[[nodiscard]] money<C> worth_of(const cutting_plan& cuts, const price_list<C>& prices) {
    validate(prices);
    const mass_balance balance = balance_of(cuts);
    money<C> worth{};
    for (const slab& s : cuts.slabs) {
        if (s.kind != slab_kind::portions) continue;
        const portion_price<C>& price = prices.of(cuts.spec_of(s).name);
        worth += detail::unfused(to_mass(s.weight()) * price.by_weight) +
                 detail::unfused(static_cast<double>(cuts.spec_of(s).pieces) * price.each);
    }
    for (const destination to : all_destinations)
        worth += detail::unfused(to_mass(balance.loose[to] + balance.trim[to]) * prices.of(to));
    return worth;
}

} // namespace tranche
