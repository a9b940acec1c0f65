// What an order would come to with the loins of other suppliers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/profile.hpp>
#include <tranche/orders/advice/supplied_order.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_account.hpp>
#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/orders/plan_order.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// Loins that could be had instead: the same at another price (`loins_at`), or another batch.
template <currency C>
struct order_supplier {
    std::string name{};
    std::vector<order_loin<C>> loins{};
};

/// The loins of an order at a price by weight: that of the profile, as it lies on the board. Tabulates each. Throws `invalid_input` for a
/// price that is not finite.
template <currency C>
[[nodiscard]] std::vector<order_loin<C>> loins_at(const order<C>& wanted, unit_price<C> price) {
    if (!(std::abs(price.value()) < 4e9))
        throw invalid_input("price", detail::shown(price.value()), "a finite value below 4e9");
    std::vector<order_loin<C>> loins = wanted.loins;
    for (order_loin<C>& loin : loins)
        loin.worth = money<C>::from_value(detail::unfused(to_mass(loin.meat()->total()).value() * price.value()));
    return loins;
}

/// The order planned with the loins of each supplier, the one it is worth most with first; equal ones as they are given. Throws as
/// `plan_order`, naming the supplier. Takes a plan a supplier.
template <currency C>
[[nodiscard]] std::vector<supplied_order> rank_suppliers(const order<C>& wanted,
                                                         const std::vector<order_supplier<C>>& suppliers,
                                                         const order_limits& limits = {}) {
    std::vector<supplied_order> ranked;
    for (const order_supplier<C>& supplier : suppliers) {
        order<C> with = wanted;
        with.loins = supplier.loins;
        try {
            ranked.push_back({.name = supplier.name, .account = account_of(with, plan_order(with, limits))});
        } catch (const invalid_input& bad) {
            throw within(supplier.name + ": ", bad);
        }
    }
    std::stable_sort(ranked.begin(), ranked.end(), [](const supplied_order& a, const supplied_order& b) {
        return a.account.total() > b.account.total();
    });
    for (std::size_t i = 1; i < ranked.size(); ++i)
        ranked[i].rank = ranked[i].account.total() == ranked[i - 1].account.total() ? ranked[i - 1].rank : i + 1;
    return ranked;
}

} // namespace tranche
