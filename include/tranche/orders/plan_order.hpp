// The one call: an order gives which loins to open and how to cut each, and what is known of that plan.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/orders/detail/order_search.hpp>
#include <tranche/orders/detail/prism_search.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_batch.hpp>
#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_offers.hpp>
#include <tranche/orders/order_plan.hpp>

namespace tranche {

/// How a loin is cut that offers what it does at some prices: `order_batch::cut_at`, wherever the loin is held.
using order_cutter = std::function<opened_loin(std::span<const std::int64_t> prices, std::size_t loin)>;

namespace detail {

/// Those who know the loins.
struct loin_keepers {
    order_pass pass{};
    order_cutter cut{};
    plan_lister list{}; ///< where a small order is to be proven
    std::function<opened_loin(std::size_t loin, const std::uint16_t* portions)> cut_by_counts{};
    bool counts_opened = false; ///< whether `pass` and `list` know a price behind those of the lines, for opened loins
    std::size_t threads = 1;    ///< that cut by `cut_aside`, if there is more than one
    std::function<opened_loin(std::span<const std::int64_t> prices, std::size_t loin, std::size_t thread)> cut_aside{};
};

/// What became of the lines.
template <currency C>
void fill_lines(order_plan<C>& plan, const std::vector<line_worth>& lines, const std::vector<std::int64_t>& all_made,
                const std::vector<std::int64_t>& prices) {
    for (std::size_t j = 0; j < lines.size(); ++j) {
        const auto& [least, most, carried] = lines[j].corners();
        const std::int64_t made = all_made[j];
        plan.lines.push_back({.made = made,
                              .unfilled = std::max<std::int64_t>(0, least - made),
                              .carried = std::clamp<std::int64_t>(made - most, 0, carried - most),
                              .surplus = std::max<std::int64_t>(0, made - carried),
                              .most = made,
                              .price_billionths = prices[j]});
    }
}
template <currency C>
[[nodiscard]] order_end end_of(const order_plan<C>& plan, order_clock& clock) {
    if (plan.proven()) return order_end::proven;
    clock.found_value(plan.value_billionths);
    if (clock.ended()) return clock.end();
    return clock.close_enough() ? order_end::gap_reached : order_end::gap_left;
}

/// The plan of an order over prisms alone, whose lines want so many and no more; nothing for others.
template <currency C>
[[nodiscard]] std::optional<order_plan<C>> planned_prisms(const order<C>& wanted, const order_batch& batch,
                                                          const order_limits& limits) {
    std::vector<line_worth> lines;
    std::vector<std::int64_t> portions, unfilled;
    for (const order_line<C>& line : wanted.lines) {
        lines.emplace_back(line);
        const auto& [first, after, carried, rest] = lines.back().slopes();
        if (after != 0 || carried != 0 || rest != 0) return std::nullopt;
        portions.push_back(lines.back().wanted());
        unfilled.push_back(lines.back().wanted() > 0 ? first : 0);
    }
    std::vector<prism_kind> kinds;
    for (std::size_t i = 0; i < wanted.loins.size(); ++i) {
        const auto& prism = batch.prism(i);
        if (!prism || batch.cost(i) < 0 || wanted.loins[i].opening == loin_opening::always) return std::nullopt;
        for (const std::int64_t pieces : prism->pieces)
            if (pieces != 1) return std::nullopt;
        kinds.push_back(
            {.cost = batch.cost(i), .count = wanted.loins[i].count, .room = prism->room, .widths = prism->widths});
    }
    order_clock clock(limits);
    const prism_search::outcome found = prism_search(kinds, portions, unfilled, clock).run(20'000);
    order_plan<C> plan;
    std::int64_t zero = 0;
    for (const line_worth& line : lines) zero += line.at_zero() + line.slopes()[0] * line.wanted();
    plan.value_billionths = zero - found.cost;
    plan.bound_billionths = zero - found.bound;
    plan.passes = found.knapsacks;
    plan.loin_plans = found.knapsacks;
    std::vector<std::int64_t> made(lines.size()), most(lines.size()), left;
    for (const prism_kind& kind : kinds) left.push_back(kind.count);
    std::vector<prism_pattern> patterns = found.patterns;
    std::sort(patterns.begin(), patterns.end(), [](const prism_pattern& a, const prism_pattern& b) {
        return std::pair{a.kind, a.slabs} < std::pair{b.kind, b.slabs};
    });
    for (const prism_pattern& pattern : patterns) {
        left[pattern.kind] -= pattern.times;
        opened_loin opened{.loin = pattern.kind, .count = pattern.times};
        for (std::size_t j = 0; j < lines.size(); ++j) {
            const std::int64_t each = pattern.slabs[j];
            made[j] += pattern.times * each;
            opened.portions.push_back(static_cast<std::uint32_t>(each));
        }
        opened.start = static_cast<std::uint32_t>(batch.prism(pattern.kind)->start);
        opened.cuts = batch.prism(pattern.kind)->cuts(pattern.slabs);
        if (!plan.opened.empty() && plan.opened.back().loin == opened.loin && plan.opened.back().cuts == opened.cuts)
            plan.opened.back().count += opened.count;
        else
            plan.opened.push_back(std::move(opened));
    }
    for (std::size_t i = 0; i < left.size(); ++i)
        if (left[i] > 0) plan.unopened.push_back({i, left[i]});
    std::vector<std::int64_t> prices = found.prices;
    prices.resize(lines.size());
    fill_lines(plan, lines, made, prices);
    for (std::size_t j = 0; j < lines.size(); ++j)
        for (const prism_kind& kind : kinds)
            if (kind.widths[j] > 0 && plan.lines[j].unfilled > 0)
                most[j] += kind.count * static_cast<std::int64_t>(kind.room / kind.widths[j]);
    for (std::size_t j = 0; j < lines.size(); ++j) plan.lines[j].most = std::max(made[j], most[j]);
    plan.ended = end_of(plan, clock);
    return plan;
}

template <currency C>
[[nodiscard]] order_plan<C> planned_order(const order<C>& wanted, const order_limits& limits,
                                          const loin_keepers& keepers) {
    validate(wanted);
    order_facts facts;
    for (const order_loin<C>& loin : wanted.loins)
        facts.kinds.push_back({loin.count, loin.opening == loin_opening::always});
    for (const order_line<C>& line : wanted.lines) facts.lines.emplace_back(line);
    order_clock clock(limits);
    offer_pools pools(facts, keepers.pass, clock);
    const found_order found = search_order(pools, keepers.list, keepers.counts_opened);

    order_plan<C> plan{.value_billionths = found.value,
                       .bound_billionths = found.bound,
                       .passes = found.passes,
                       .loin_plans = clock.known.loin_plans};
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::int64_t> alike; // by kind and plan
    for (std::size_t u = 0; u < found.units.size(); ++u)
        alike[{found.units[u].kind, found.plans[u]}] += found.units[u].count;
    struct wish {
        std::uint32_t kind, plan, seen_at;
    };
    std::vector<wish> wishes; // by opened loin
    for (const auto& [which, count] : alike) {
        const std::uint32_t seen_at = pools.of(which.first).seen_at(which.second);
        const std::uint16_t* const portions = pools.of(which.first).portions(which.second);
        const bool nothing =
            std::all_of(portions, portions + wanted.lines.size(), [](std::uint16_t n) { return n == 0; });
        const bool unopened =
            seen_at == offer_pool::by_nothing ||
            (nothing && pools.of(which.first).worth(which.second) == 0 && !facts.kinds[which.first].always);
        if (unopened) {
            plan.unopened.push_back({which.first, count});
            continue;
        }
        wishes.push_back({which.first, which.second, seen_at});
        plan.opened.push_back({.count = count});
    }
    by_threads(wishes.size(), keepers.cut_aside ? keepers.threads : 1, [&](std::size_t i, std::size_t thread) {
        const auto [kind, number, seen_at] = wishes[i];
        const std::int64_t count = plan.opened[i].count;
        if (seen_at == offer_pool::by_counts)
            plan.opened[i] = keepers.cut_by_counts(kind, pools.of(kind).portions(number));
        else if (keepers.cut_aside)
            plan.opened[i] = keepers.cut_aside(pools.prices(seen_at), kind, thread);
        else
            plan.opened[i] = keepers.cut(pools.prices(seen_at), kind);
        plan.opened[i].count = count;
    });
    fill_lines(plan, facts.lines, found.made, found.prices);
    const order_end searched = end_of(plan, clock);
    for (std::size_t j = 0; j < plan.lines.size(); ++j)
        if (plan.lines[j].unfilled > 0 && clock.go_on(facts.kinds.size()))
            plan.lines[j].most = std::max(plan.lines[j].made, most_of(pools, j));
    plan.loin_plans = clock.known.loin_plans;
    plan.ended = searched;
    return plan;
}

} // namespace detail

/// Plans an order by whoever answers a pass and cuts loins, in machines that each hold a range of them: the same answer, to the last
/// bit, however loins are spread. Without branches on what is opened, so gaps of up to two thousand kinds are larger than those of
/// `plan_order(wanted, limits)`, which see.
template <currency C>
[[nodiscard]] order_plan<C> plan_order(const order<C>& wanted, const order_limits& limits, const order_pass& pass,
                                       const order_cutter& cut) {
    return detail::planned_order(wanted, limits, {.pass = pass, .cut = cut});
}

/// Plans an order whose loins are ready. Complexity and errors as below.
template <currency C>
[[nodiscard]] order_plan<C> plan_order(const order<C>& wanted, const order_batch& batch,
                                       const order_limits& limits = {}) {
    if (batch.first() != 0 || batch.size() != wanted.loins.size())
        throw invalid_input("batch", std::to_string(batch.size()) + " loins", "all loins of the order");
    if (auto plan = detail::planned_prisms(wanted, batch, limits)) return *std::move(plan);
    detail::loin_keepers keepers{
        .pass = [&](std::span<const std::int64_t> prices, std::span<const std::uint32_t> loins,
                    order_offers& offers) { batch.offers(prices, loins, offers); },
        .cut = [&](std::span<const std::int64_t> prices, std::size_t loin) { return batch.cut_at(prices, loin); },
        .counts_opened = true,
        .threads = batch.threads(),
        .cut_aside = [&](std::span<const std::int64_t> prices, std::size_t loin,
                         std::size_t thread) { return batch.cut_at(prices, loin, thread); }};
    if (batch.lists_plans()) {
        keepers.list = [&](std::span<const std::int64_t> prices, std::size_t loin, std::int64_t most_loss,
                           std::size_t& most_labels) {
            return batch.plans_within(prices, loin, most_loss, most_labels, limits.stop);
        };
        keepers.cut_by_counts = [&](std::size_t loin, const std::uint16_t* portions) {
            return batch.cut_into(loin, portions);
        };
    }
    return detail::planned_order(wanted, limits, keepers);
}

/// Which loins to open and how to cut each, so that what portions and by-products are worth, less the loins that are opened and
/// what is missing, is the most; with a bound that no plan on these grids exceeds.
///
/// Prices of the lines make each loin a problem of its own, whose best plan is found exactly: their sum bounds the order (Geoffrion
/// 1974, doi 10.1007/BFb0120690). `price_hunt` finds the best prices, from a sample first if there are a thousand loins; bounds come
/// from prices in whole billionths and sums of whole numbers. A plan is rounded from the shares of the best prices, and bettered
/// by exchanges over all plans that were seen and, up to two thousand kinds, by dives. Orders over prisms, and small ones by
/// branches on what is opened, are searched to the end: `proven()` says whether that came to one.
///
/// Throws `invalid_input` for what `validate` refuses, cuts and rules that do not go together with a loin, by its name, and sums
/// beyond 8e9 of the currency. O(passes × loins × cells × cuts); some 30 bytes a position and different trim are kept of a loin. The
/// same order and limits have the same answer, to the last bit, with any number of threads.
template <currency C>
[[nodiscard]] order_plan<C> plan_order(const order<C>& wanted, const order_limits& limits = {}) {
    return plan_order(wanted, order_batch(wanted, limits.threads), limits);
}

/// The same by a want instead of the order's prices by weight, by-products and labour: see `additive_want`.
template <currency C, want W>
[[nodiscard]] order_plan<C> plan_order(const order<C>& wanted, const W& want, const order_limits& limits = {}) {
    static_assert(
        additive_want<W>,
        "an order takes wants that add up over loins, as best_value(prices) does: scores that are one whole number, "
        "a sum over slabs; see docs/orders.md");
    if constexpr (additive_want<W>)
        return plan_order(wanted, order_batch(wanted, want, limits.threads), limits);
    else
        return {};
}

} // namespace tranche
