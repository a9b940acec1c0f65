// Plans fixed loin by loin, with prices for the rest found anew each time.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/orders/detail/offer_pools.hpp>
#include <tranche/orders/detail/order_choice.hpp>
#include <tranche/orders/detail/pair_exchange.hpp>
#include <tranche/orders/detail/price_hunt.hpp>

namespace tranche::detail {

/// Numbers that are the same everywhere (xorshift).
class order_dice {
public:
    explicit order_dice(std::uint64_t seed) : mixed_(seed * 0x9E37'79B9'7F4A'7C15U + 0x1234'5678'9ABC'DEFU) {}
    [[nodiscard]] std::size_t below(std::size_t past) {
        mixed_ ^= mixed_ << 13U, mixed_ ^= mixed_ >> 7U, mixed_ ^= mixed_ << 17U;
        return static_cast<std::size_t>((mixed_ >> 11U) % past);
    }
    template <class T>
    void shuffle(std::vector<T>& list) {
        for (std::size_t k = list.size(); k > 1; --k) std::swap(list[k - 1], list[below(k)]);
    }

private:
    std::uint64_t mixed_;
};

/// Chooses plans for some units anew, with those of all others as they are, and perhaps so that loins opened are worth something
/// too. Of many units, half are fixed as the shares of
/// the best prices say, and prices found for the rest; the last forty one after the other, the surest first.
class order_dive {
public:
    order_dive(order_choice& choice, offer_pools& pools, const line_worth* opened)
        : choice_(choice), pools_(pools), opened_(opened) {}

    template <class = when_called>
    void run(std::vector<std::uint32_t> units, std::vector<double> prices, order_dice& dice);

private:
    static constexpr std::size_t few = 40; ///< so that each is a group of its own

    /// Makes the surest of few units what it is, and any others that are as good as sure; returns those that are left.
    template <class = when_called>
    [[nodiscard]] std::vector<std::uint32_t> fix_surest(const found_prices& found,
                                                        const std::vector<std::uint32_t>& kinds,
                                                        const std::vector<std::uint32_t>& units);
    order_choice& choice_;
    offer_pools& pools_;
    const line_worth* opened_;
};

template <class>
std::vector<std::uint32_t> order_dive::fix_surest(const found_prices& found, const std::vector<std::uint32_t>& kinds,
                                                  const std::vector<std::uint32_t>& units) {
    struct candidate {
        double share;
        std::uint32_t kind, plan;
    };
    std::vector<candidate> candidates;
    for (std::size_t i = 0; i < kinds.size(); ++i) { // each is a group of its own
        std::vector<double> shares(pools_.of(kinds[i]).size());
        double rest = 1.0;
        for (const shared_offer& offer : found.mix[i]) {
            shares[found.picks[offer.pass][i]] += offer.share;
            rest -= offer.share;
        }
        if (!pools_.facts().kinds[kinds[i]].always) shares[0] += rest;
        double loins = 0.0;
        for (const std::uint32_t u : units)
            if (choice_.units()[u].kind == kinds[i]) loins += 1.0;
        for (std::uint32_t p = 0; p < shares.size(); ++p)
            if (shares[p] > 1e-9) candidates.push_back({shares[p] * loins, kinds[i], p});
    }
    std::sort(candidates.begin(), candidates.end(), [](const candidate& a, const candidate& b) {
        return std::pair{-a.share, std::pair{a.kind, a.plan}} < std::pair{-b.share, std::pair{b.kind, b.plan}};
    });
    std::vector<bool> fixed(units.size());
    std::size_t count = 0;
    const std::size_t most = std::max<std::size_t>(1, units.size() / 8);
    for (const candidate& sure : candidates) {
        std::size_t times = static_cast<std::size_t>(sure.share + 1e-3);
        if (count > 0 && (times == 0 || count >= most)) break;
        times = std::max<std::size_t>(1, times);
        for (std::size_t k = 0; k < units.size() && times > 0; ++k) {
            if (fixed[k] || choice_.units()[units[k]].kind != sure.kind) continue;
            choice_.set(units[k], sure.plan);
            fixed[k] = true;
            ++count;
            --times;
        }
    }
    if (count == 0) { // nothing is known of any: as they are
        for (std::size_t k = 0; k < units.size(); ++k) fixed[k] = true;
    }
    std::vector<std::uint32_t> left;
    for (std::size_t k = 0; k < units.size(); ++k)
        if (!fixed[k]) left.push_back(units[k]);
    return left;
}

template <class>
void order_dive::run(std::vector<std::uint32_t> units, std::vector<double> prices, order_dice& dice) {
    const std::size_t m = pools_.lines();
    std::vector<std::int64_t> made = choice_.made(); // by all others and those that are fixed
    std::int64_t opened = 0;
    for (std::uint32_t u = 0; u < choice_.units().size(); ++u)
        if (choice_.opens(u)) opened += choice_.units()[u].count;
    const auto count_in = [&](const std::vector<std::uint32_t>& some, std::int64_t sign) {
        for (const std::uint32_t u : some) {
            const std::uint16_t* const portions = choice_.pool(u).portions(choice_.plan(u));
            for (std::size_t j = 0; j < m; ++j) made[j] += sign * choice_.units()[u].count * portions[j];
            if (choice_.opens(u)) opened += sign * choice_.units()[u].count;
        }
    };
    count_in(units, -1);
    while (!units.empty() && pools_.clock().go_on(units.size())) {
        std::sort(units.begin(), units.end());
        std::vector<line_worth> lines;
        for (std::size_t j = 0; j < m; ++j) lines.push_back(pools_.facts().lines[j].after(made[j]));
        if (opened_) lines.push_back(opened_->after(opened));
        hunt_terms terms{
            .from = prices, .reach = 0.05, .tolerance = units.size() <= few ? 1e-6 : 1e-5, .most_passes = 60};
        for (const std::uint32_t u : units) {
            const chosen_unit& unit = choice_.units()[u];
            if (terms.kinds.empty() || terms.kinds.back() != unit.kind)
                terms.kinds.push_back(unit.kind), terms.counts.push_back(0);
            terms.counts.back() += unit.count;
        }
        const std::vector<std::uint32_t> kinds = terms.kinds;
        const found_prices found = price_hunt(pools_, lines, std::move(terms)).run();
        prices = found.prices;
        std::vector<std::uint32_t> left;
        if (units.size() <= few) {
            left = fix_surest(found, kinds, units);
        } else {
            choice_.round(found, kinds, units);
            left = units;
            dice.shuffle(left);
            left.resize(std::max(few / 2, left.size() / 2));
        }
        std::vector<std::uint32_t> fixed;
        std::sort(left.begin(), left.end());
        std::set_difference(units.begin(), units.end(), left.begin(), left.end(), std::back_inserter(fixed));
        count_in(fixed, 1);
        units = std::move(left);
    }
}

/// Dives of all loins, then of some at a time, as long as the work is worth it; with prices of a line of opened loins, if there is one.
template <class = when_called>
void better_by_dives(order_choice& choice, offer_pools& pools, const found_prices& found, std::size_t most_plans,
                     const line_worth* opened = nullptr, std::uint64_t seed = 7) {
    order_dice dice(seed);
    std::vector<std::int64_t> prices = found.whole;
    prices.resize(pools.lines());
    const std::size_t until = pools.clock().known.loin_plans + most_plans;
    std::vector<std::uint32_t> all;
    for (std::uint32_t u = 0; u < choice.units().size(); ++u) all.push_back(u);
    // Very many loins of few kinds are planned at once, and exchanged for much longer: so much of that is worth it.
    const std::size_t most_tried = all.size() > 1000 ? std::size_t{1} << 23U : std::numeric_limits<std::size_t>::max();
    std::size_t tried = 0;
    for (std::size_t round = 0; pools.clock().known.loin_plans < until && tried < most_tried && !pools.clock().ended();
         ++round) {
        order_choice next = choice;
        std::vector<std::uint32_t> some = all;
        if (round % 3 != 0 || all.size() > 1000)
            dice.shuffle(some), some.resize(std::min<std::size_t>(some.size(), 40));
        order_dive(next, pools, opened).run(std::move(some), found.prices, dice);
        next.exchange(pools.clock());
        tried += pair_exchange(next, prices, pools.clock()).run(std::size_t{1} << 20U);
        if (next.value() > choice.value()) {
            choice = std::move(next);
            pools.clock().found_value(choice.value());
        }
        if (pools.clock().close_enough()) return;
    }
}

} // namespace tranche::detail
