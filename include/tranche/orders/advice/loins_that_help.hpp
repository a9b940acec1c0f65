// Which loin more would help an order most.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <vector>

#include <tranche/orders/advice/loin_help.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_batch.hpp>
#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/orders/plan_order.hpp>
#include <tranche/units/amount.hpp>

namespace tranche {

/// Which loin would help most: for each loin (or kind) of the order what one more like it, bought at its worth, could bring. The
/// `again` ones that could bring most are planned with, and come first, by what they bring; the others have a bound only. The
/// bound is what the loin gives at the plan's prices of the lines, and the plan's gap: no price is better known, and the order
/// cannot gain more (Lagrangian duality). Takes a pass over the loins and `again` plans. Throws as `plan_order`.
template <currency C>
[[nodiscard]] std::vector<loin_help> loins_that_help(const order<C>& wanted, const order_plan<C>& plan,
                                                     const order_limits& limits = {}, std::size_t again = 3) {
    std::vector<std::int64_t> prices;
    for (const filled_line& line : plan.lines) prices.push_back(line.price_billionths);
    std::vector<std::uint32_t> all(wanted.loins.size());
    std::iota(all.begin(), all.end(), std::uint32_t{0});
    order_offers offers;
    order_batch(wanted, limits.threads).offers(prices, all, offers);
    const auto minor = [](std::int64_t billionths) {
        return rounded<C>(order_plan<C>::in_money(billionths), rounding::half_even, "gain").minor;
    };
    std::vector<loin_help> helps;
    for (std::size_t i = 0; i < wanted.loins.size(); ++i) {
        std::int64_t gain = offers.worth[i];
        for (std::size_t j = 0; j < prices.size(); ++j)
            gain += prices[j] * static_cast<std::int64_t>(offers.portions[i * prices.size() + j]);
        gain = std::max<std::int64_t>(gain, 0) + plan.bound_billionths - plan.value_billionths;
        loin_help help{.loin = i, .name = wanted.loins[i].name, .at_most = minor(gain)};
        if (order_plan<C>::in_money(gain) > to_money(amount<C>{help.at_most})) ++help.at_most;
        helps.push_back(std::move(help));
    }
    std::stable_sort(helps.begin(), helps.end(),
                     [](const loin_help& a, const loin_help& b) { return a.at_most > b.at_most; });
    for (std::size_t k = 0; k < std::min(again, helps.size()) && helps[k].at_most > 0; ++k) {
        order<C> more = wanted;
        more.loins.push_back(wanted.loins[helps[k].loin]);
        more.loins.back().name += ", one more";
        more.loins.back().count = 1;
        if (more.loins.back().opening == loin_opening::always) more.loins.back().opening = loin_opening::if_it_pays;
        const order_plan<C> with = plan_order(more, limits);
        helps[k].gains = 0; // whoever has it may leave it whole
        if (with.value_billionths <= plan.value_billionths) continue;
        helps[k].gains = minor(with.value_billionths - plan.value_billionths);
        for (std::size_t j = 0; j < plan.lines.size(); ++j)
            helps[k].fills += plan.lines[j].unfilled - with.lines[j].unfilled;
    }
    std::stable_sort(helps.begin(), helps.end(), [](const loin_help& a, const loin_help& b) {
        if (a.gains.has_value() != b.gains.has_value()) return a.gains.has_value();
        return a.gains.value_or(a.at_most) > b.gains.value_or(b.at_most);
    });
    return helps;
}

} // namespace tranche
