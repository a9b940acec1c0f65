// Plans an order: prices from a sample, then from all loins, then a choice, then whatever closes the gap.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include <tranche/orders/detail/offer_pools.hpp>
#include <tranche/orders/detail/opened_branch.hpp>
#include <tranche/orders/detail/opened_tree.hpp>
#include <tranche/orders/detail/order_choice.hpp>
#include <tranche/orders/detail/order_dive.hpp>
#include <tranche/orders/detail/order_proof.hpp>
#include <tranche/orders/detail/pair_exchange.hpp>
#include <tranche/orders/detail/price_hunt.hpp>

namespace tranche::detail {

/// What is found for an order, but for cuts.
struct found_order {
    std::vector<chosen_unit> units{};
    std::vector<std::uint32_t> plans{}; ///< by unit: a number in the pool of its kind
    std::vector<std::int64_t> made{};   ///< by line
    std::vector<std::int64_t> prices{};
    std::int64_t value = 0, bound = 0;
    std::size_t passes = 0;
};

/// Throws `invalid_input` for a sum that 64 bits do not hold.
[[nodiscard]] inline std::int64_t in_64_bits(const wide_integer& sum) {
    constexpr std::int64_t most = 8'000'000'000'000'000'000;
    if (sum > most || sum < -most)
        throw invalid_input("values of the order", "more than 8e9 in all", "less, in units of the currency");
    return static_cast<std::int64_t>(sum);
}

/// More plans of each loin, at prices near the best ones: some thousands of passes of a loin in all, up to a hundred each.
template <class = when_called>
void seek_offers(offer_pools& pools, const found_prices& found, const std::vector<std::uint32_t>& kinds) {
    const std::vector<line_worth>& lines = pools.facts().lines;
    const std::size_t passes = std::min<std::size_t>(100, 20'000 / kinds.size());
    std::uint64_t mixed = 0xD1B5'4A32'D192'ED03U;
    std::vector<std::uint32_t> picks;
    for (std::size_t pass = 0; pass < passes && pools.clock().go_on(kinds.size()); ++pass) {
        std::vector<std::int64_t> prices = found.whole;
        for (std::size_t j = 0; j < prices.size(); ++j) {
            mixed ^= mixed << 13U, mixed ^= mixed >> 7U, mixed ^= mixed << 17U;
            const double off = (static_cast<double>(mixed >> 11U) * 0x1p-53 - 0.5) * (pass % 2 == 0 ? 0.04 : 0.12);
            prices[j] = std::clamp<std::int64_t>(prices[j] + std::llround(off * static_cast<double>(prices[j])),
                                                 lines[j].lowest(), lines[j].highest());
        }
        pools.ask(prices, kinds, picks);
    }
}

/// The most portions of a line that all loins give if they give nothing else.
template <class = when_called>
[[nodiscard]] std::int64_t most_of(offer_pools& pools, std::size_t line) {
    std::vector<std::int64_t> prices(pools.lines());
    prices[line] = 1'000'000'000'000'000; // a million for each: worth any loin
    std::vector<std::uint32_t> kinds, picks;
    for (std::uint32_t k = 0; k < pools.facts().kinds.size(); ++k) kinds.push_back(k);
    pools.ask(prices, kinds, picks);
    std::int64_t most = 0;
    for (std::size_t k = 0; k < kinds.size(); ++k)
        most += pools.facts().kinds[k].count * pools.of(kinds[k]).portions(picks[k])[line];
    return most;
}

/// Proves a choice, or finds the best one; whether that is proven.
template <class = when_called>
[[nodiscard]] bool prove(order_choice& choice, order_proof proof, std::int64_t bound, std::size_t& most_labels) {
    const order_proof::outcome found = proof.run(bound - choice.value(), most_labels);
    for (std::size_t u = 0; u < found.plans.size(); ++u) choice.set(u, found.plans[u]);
    return found.proven;
}

/// Closes the gap of a small order by branches: no more loins opened than so many, or one more. Betters the choice in each, and the
/// bound, which is the better one of both.
template <class = when_called>
void branch_by_opened(order_choice& choice, offer_pools& pools, const found_prices& found,
                      const std::vector<std::uint32_t>& kinds, const plan_lister& list, std::int64_t& bound) {
    order_clock& clock = pools.clock();
    const opened_branch branch(pools, kinds);
    if (branch.all_loins() > 100'000) return; // which are as good as portions
    const double opened = branch.opened(found);
    const auto loins = static_cast<std::int64_t>(std::floor(opened + 1e-6));
    struct side {
        std::vector<line_worth> lines;
        found_prices found;
        std::int64_t bound;
    };
    std::vector<side> sides;
    for (const bool at_least : {false, true}) {
        side& of = sides.emplace_back(side{branch.lines(loins + (at_least ? 1 : 0), at_least), {}, 0});
        if (!clock.go_on(kinds.size())) return;
        of.found = branch.hunt(of.lines, found, 1e-7);
        of.bound = std::min(bound, in_64_bits(of.found.bound));
    }
    std::sort(sides.begin(), sides.end(), [](const side& a, const side& b) { return a.bound > b.bound; });
    std::vector<std::uint32_t> units;
    for (std::uint32_t u = 0; u < choice.units().size(); ++u) units.push_back(u);
    for (const side& of : sides) {
        if (of.bound <= choice.value() || clock.close_enough() || clock.ended()) continue;
        order_choice next = choice;
        next.round(of.found, kinds, units);
        next.exchange(clock);
        better_by_dives(next, pools, of.found, 4000, &of.lines.back());
        if (next.value() > choice.value()) choice = std::move(next);
        clock.found_value(choice.value());
    }
    std::size_t labels = clock.limits().most_labels;
    for (side& of : sides) {
        if (of.bound <= choice.value() || clock.close_enough() || clock.ended()) continue;
        if (kinds.size() <= 64)
            of.bound = opened_tree(choice, pools, list, of.lines).run(of.found.prices, of.bound, 60'000, labels);
        else if (list && prove(choice, {pools, choice.units(), of.lines, of.found.whole, list},
                               in_64_bits(of.found.bound), labels))
            of.bound = choice.value();
    }
    bound = std::max({sides[0].bound, sides[1].bound, choice.value()});
}

/// Of very many loins, prices open a half of one, and what is rounded from them has portions of half a loin too many or too few. Plans
/// from prices that open whole loins, the nearer number first, come much closer to the bound, which is the better side's if both were looked at.
template <class = when_called>
void better_by_opened(order_choice& choice, offer_pools& pools, const found_prices& found,
                      const std::vector<std::uint32_t>& kinds, std::int64_t& bound) {
    order_clock& clock = pools.clock();
    const opened_branch branch(pools, kinds);
    const double opened = branch.opened(found), below = std::floor(opened + 1e-6);
    std::vector<std::uint32_t> units;
    for (std::uint32_t u = 0; u < choice.units().size(); ++u) units.push_back(u);
    std::int64_t best_side = std::numeric_limits<std::int64_t>::min();
    bool both = true;
    for (const bool at_least : {opened - below > 0.5, opened - below <= 0.5}) {
        if (clock.close_enough() || !clock.go_on(kinds.size())) return;
        const auto lines = branch.lines(static_cast<std::int64_t>(below) + (at_least ? 1 : 0), at_least);
        const found_prices side = branch.hunt(lines, found, 5e-6);
        best_side = std::max(best_side, in_64_bits(side.bound));
        order_choice next = choice;
        next.round(side, kinds, units);
        next.exchange(clock);
        better_by_dives(next, pools, side, 1, &lines.back());
        if (next.value() > choice.value()) choice = std::move(next);
        clock.found_value(choice.value());
        both = at_least != (opened - below > 0.5);
        if (static_cast<double>(bound - choice.value()) <= 3e-4 * std::abs(static_cast<double>(choice.value()))) break;
    }
    if (both) bound = std::min(bound, best_side);
}

template <class = when_called>
[[nodiscard]] found_order search_order(offer_pools& pools, const plan_lister& list, bool counts_opened) {
    const order_facts& facts = pools.facts();
    order_clock& clock = pools.clock();
    const std::size_t kinds = facts.kinds.size();
    found_order result;
    result.units = units_of(facts);

    hunt_terms terms{.tolerance = kinds <= 100 ? 1e-9 : clock.limits().price_tolerance,
                     .most_passes = clock.limits().most_passes};
    const std::vector<std::int64_t>& first_prices = clock.limits().first_prices;
    for (const std::int64_t price : first_prices) terms.from.push_back(1e-9 * static_cast<double>(price));
    const bool warm = first_prices.size() >= facts.lines.size();
    // Passes over very many loins cost more than a programme with more groups, which takes half as many.
    if (kinds >= 5000) terms.most_groups = std::clamp<std::size_t>(8 * facts.lines.size(), 20, 160);
    if (warm) {
        terms.reach = 0.01;
    } else if (kinds >= 1000) { // a sample, with the demand scaled
        const std::size_t every = kinds >= 5000 ? 20 : 5;
        hunt_terms sample = terms;
        sample.most_groups = 20;
        std::int64_t all = 0, sampled = 0;
        for (std::size_t k = 0; k < kinds; ++k) {
            all += facts.kinds[k].count;
            if (k % every != 0) continue;
            sample.kinds.push_back(static_cast<std::uint32_t>(k));
            sampled += facts.kinds[k].count;
        }
        sample.scale = static_cast<double>(sampled) / static_cast<double>(all);
        terms.from = price_hunt(pools, facts.lines, std::move(sample)).run().prices;
        terms.reach = 0.001;
    }
    for (std::size_t k = 0; k < kinds; ++k) terms.kinds.push_back(static_cast<std::uint32_t>(k));
    const std::vector<std::uint32_t> all_kinds = terms.kinds;
    const found_prices found = price_hunt(pools, facts.lines, std::move(terms)).run();
    result.passes = found.passes;
    result.prices = found.whole;
    result.bound = in_64_bits(found.bound);
    clock.found_bound(result.bound);

    order_choice choice(pools, result.units);
    std::vector<std::uint32_t> all_units;
    for (std::uint32_t u = 0; u < result.units.size(); ++u) all_units.push_back(u);
    choice.round(found, all_kinds, all_units);
    choice.exchange(clock);
    clock.found_value(choice.value());
    const auto proven = [&](std::size_t most_labels) {
        if (!prove(choice, {pools, result.units, facts.lines, found.whole, list}, result.bound, most_labels))
            return false;
        result.bound = choice.value();
        return true;
    };
    // A few loins are proven at once, if that is quick.
    const bool done = choice.value() == result.bound ||
                      (list && kinds <= 8 && !clock.ended() && proven(clock.limits().most_labels / 32));
    if (!done) {
        if (kinds < 500) seek_offers(pools, found, all_kinds);
        choice.exchange(clock);
        clock.found_value(choice.value());
        if (kinds <= 2000 && !clock.ended()) {
            const bool many = kinds > 200, whole = many && counts_opened;
            if (whole)
                better_by_opened(choice, pools, found, all_kinds, result.bound);
            else
                better_by_dives(choice, pools, found, many ? 1 : 16'000);
            clock.found_value(choice.value());
            pair_exchange(choice, found.whole, clock).run(clock.limits().most_exchanges);
            clock.found_value(choice.value());
            const auto far_off = [&] {
                return static_cast<double>(result.bound - choice.value()) >
                       4e-4 * std::abs(static_cast<double>(choice.value()));
            };
            for (std::uint64_t seed = 8; many && seed < 10 && far_off() && !clock.ended(); ++seed)
                better_by_dives(choice, pools, found, 1, nullptr, seed);
        }
        const bool goes_on = choice.value() < result.bound && !clock.ended() && !clock.close_enough();
        if (goes_on && counts_opened && kinds <= 200)
            branch_by_opened(choice, pools, found, all_kinds, list, result.bound);
        else if (goes_on && list && kinds <= 64)
            (void)proven(clock.limits().most_labels);
    }
    result.value = choice.value();
    clock.found_bound(result.bound);
    clock.found_value(result.value);
    for (std::size_t u = 0; u < result.units.size(); ++u) result.plans.push_back(choice.plan(u));
    result.made = choice.made();
    return result;
}

} // namespace tranche::detail
