// The one call: an order gives which loins to open and how to cut each, and what is known of that plan.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include <tranche/orders/detail/order_search.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_batch.hpp>
#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_offers.hpp>
#include <tranche/orders/order_plan.hpp>

namespace tranche {

/// How a loin is cut that offers what it does at some prices: `order_batch::cut_at`, wherever the loin is held.
using order_cutter = std::function<opened_loin(std::span<const std::int64_t> prices, std::size_t loin)>;

/// Plans an order by whoever answers a pass and cuts loins, in machines that each hold a range of them: the same answer, to the last
/// bit, however loins are spread. See `plan_order(wanted, limits)`.
template <currency C>
[[nodiscard]] order_plan<C> plan_order(const order<C>& wanted, const order_limits& limits, const order_pass& pass,
                                       const order_cutter& cut) {
    validate(wanted);
    detail::order_facts facts;
    for (const order_loin<C>& loin : wanted.loins)
        facts.kinds.push_back({loin.count, loin.opening == loin_opening::always});
    for (const order_line<C>& line : wanted.lines) facts.lines.emplace_back(line);
    detail::order_clock clock(limits);
    detail::offer_pools pools(facts, pass, clock);
    const detail::found_order found = detail::search_order(pools);

    order_plan<C> plan{.value_billionths = found.value,
                       .bound_billionths = found.bound,
                       .passes = found.passes,
                       .loin_plans = clock.known.loin_plans};
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::int64_t> alike; // by kind and plan
    for (std::size_t u = 0; u < found.units.size(); ++u)
        alike[{found.units[u].kind, found.plans[u]}] += found.units[u].count;
    for (const auto& [which, count] : alike) {
        const std::uint32_t seen_at = pools.of(which.first).seen_at(which.second);
        const std::uint16_t* const portions = pools.of(which.first).portions(which.second);
        const bool nothing =
            std::all_of(portions, portions + wanted.lines.size(), [](std::uint16_t n) { return n == 0; });
        const bool unopened =
            seen_at == detail::offer_pool::by_nothing ||
            (nothing && pools.of(which.first).worth(which.second) == 0 && !facts.kinds[which.first].always);
        if (unopened) {
            plan.unopened.push_back({which.first, count});
            continue;
        }
        plan.opened.push_back(cut(pools.prices(seen_at), which.first));
        plan.opened.back().count = count;
    }
    for (std::size_t j = 0; j < wanted.lines.size(); ++j) {
        const auto& [least, most, carried] = facts.lines[j].corners();
        const std::int64_t made = found.made[j];
        plan.lines.push_back({.made = made,
                              .unfilled = std::max<std::int64_t>(0, least - made),
                              .carried = std::clamp<std::int64_t>(made - most, 0, carried - most),
                              .surplus = std::max<std::int64_t>(0, made - carried),
                              .most = made,
                              .price_billionths = found.prices[j]});
    }
    plan.ended = plan.proven()          ? order_end::proven
                 : clock.ended()        ? clock.end()
                 : clock.close_enough() ? order_end::gap_reached
                                        : order_end::gap_left;
    return plan;
}

/// Plans an order whose loins are ready. Complexity and errors as below.
template <currency C>
[[nodiscard]] order_plan<C> plan_order(const order<C>& wanted, const order_batch& batch,
                                       const order_limits& limits = {}) {
    if (batch.first() != 0 || batch.size() != wanted.loins.size())
        throw invalid_input("batch", std::to_string(batch.size()) + " loins", "all loins of the order");
    return plan_order(
        wanted, limits,
        [&](std::span<const std::int64_t> prices, std::span<const std::uint32_t> loins, order_offers& offers) {
            batch.offers(prices, loins, offers);
        },
        [&](std::span<const std::int64_t> prices, std::size_t loin) { return batch.cut_at(prices, loin); });
}

/// Which loins to open and how to cut each, so that what portions, by-products and what stays unopened are worth, less what is missing,
/// is the most; with a bound that no plan on these grids exceeds.
template <currency C>
[[nodiscard]] order_plan<C> plan_order(const order<C>& wanted, const order_limits& limits = {}) {
    return plan_order(wanted, order_batch(wanted, limits.threads), limits);
}

} // namespace tranche
