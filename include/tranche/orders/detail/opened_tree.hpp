// Branches on loins that are opened or not, each with a bound of its own, until no branch may hold a better plan.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/orders/detail/line_worth.hpp>
#include <tranche/orders/detail/offer_pools.hpp>
#include <tranche/orders/detail/order_choice.hpp>
#include <tranche/orders/detail/order_dive.hpp>
#include <tranche/orders/detail/order_proof.hpp>
#include <tranche/orders/detail/pair_exchange.hpp>
#include <tranche/orders/detail/price_hunt.hpp>

namespace tranche::detail {

/// Prices open parts of loins; once it is settled which are opened, bound and best plan are close. So the loin that is most in question
/// is opened in one branch and stays whole in the other, best bound first (Land and Doig 1960, doi 10.2307/1910129), and
/// a branch without questions is searched to the end (`order_proof`).
class opened_tree {
public:
    /// Of the lines of an order and one more of opened loins, as `opened_branch` has them.
    opened_tree(order_choice& choice, offer_pools& pools, const plan_lister& list, const std::vector<line_worth>& lines)
        : choice_(choice), pools_(pools), list_(list), lines_(lines) {}

    /// Betters the choice, and returns what no plan exceeds, from prices with such a bound, by so many plans of single loins. Labels
    /// that the proofs took are no longer among `most_labels`.
    template <class = when_called>
    [[nodiscard]] std::int64_t run(const std::vector<double>& prices, std::int64_t bound, std::size_t most_loin_plans,
                                   std::size_t& most_labels);

private:
    struct branch {
        std::int64_t bound = 0;
        std::size_t number = 0;           ///< the latest first, among equal bounds
        std::vector<loin_state> states{}; ///< by kind
        std::vector<double> prices{};
    };
    [[nodiscard]] static bool later(const branch& a, const branch& b) {
        return std::pair{a.bound, a.number} < std::pair{b.bound, b.number};
    }
    void push(branch next) {
        branches_.push_back(std::move(next));
        std::push_heap(branches_.begin(), branches_.end(), later);
    }
    [[nodiscard]] branch pop() {
        std::pop_heap(branches_.begin(), branches_.end(), later);
        branch next = std::move(branches_.back());
        branches_.pop_back();
        return next;
    }
    /// The kind whose opening is most in question, and its share that is opened; no kind if there is none.
    template <class = when_called>
    [[nodiscard]] std::pair<std::size_t, double> question(const found_prices& found,
                                                          const std::vector<std::uint32_t>& kinds,
                                                          const branch& of) const;
    /// Tries what the shares of a branch are nearest to; of a branch without questions a dive of its opened loins too.
    template <class = when_called>
    void better(const found_prices& found, const std::vector<std::uint32_t>& kinds, const branch& of, bool settled);

    static constexpr std::size_t rounds_ = 10; ///< of dives in a branch without questions

    order_choice& choice_;
    offer_pools& pools_;
    const plan_lister& list_;
    const std::vector<line_worth>& lines_;
    std::vector<branch> branches_; ///< a heap
    order_dice dice_{11};
};

template <class>
std::pair<std::size_t, double> opened_tree::question(const found_prices& found, const std::vector<std::uint32_t>& kinds,
                                                     const branch& of) const {
    std::pair<std::size_t, double> most{pools_.facts().kinds.size(), 0.0};
    double nearest = 1e-6;                           // to a half, as the distance from whole
    for (std::size_t i = 0; i < kinds.size(); ++i) { // each is a group of its own
        const order_kind& kind = pools_.facts().kinds[kinds[i]];
        if (kind.count != 1 || kind.always || of.states[kinds[i]] != loin_state::open_question) continue;
        double opened = 0.0;
        for (const shared_offer& offer : found.mix[i])
            if (found.picks[offer.pass][i] != 0) opened += offer.share;
        if (const double whole = std::min(opened, 1.0 - opened); whole > nearest)
            nearest = whole, most = {kinds[i], opened};
    }
    return most;
}

template <class>
void opened_tree::better(const found_prices& found, const std::vector<std::uint32_t>& kinds, const branch& of,
                         bool settled) {
    order_choice next = choice_;
    std::vector<std::uint32_t> taking_part;
    for (std::uint32_t u = 0; u < next.units().size(); ++u)
        if (of.states[next.units()[u].kind] == loin_state::unopened)
            next.set(u, 0);
        else
            taking_part.push_back(u);
    next.round(found, kinds, taking_part);
    next.exchange(pools_.clock());
    for (std::size_t round = 0; settled && round < rounds_; ++round) {
        order_choice other = next;
        std::vector<std::uint32_t> opened;
        for (const std::uint32_t u : taking_part)
            if (other.opens(u)) opened.push_back(u);
        if (round > 0) dice_.shuffle(opened), opened.resize((opened.size() + 1) / 2);
        order_dive(other, pools_, nullptr).run(std::move(opened), found.prices, dice_);
        other.exchange(pools_.clock());
        std::vector<std::int64_t> prices = found.whole;
        prices.resize(pools_.lines());
        pair_exchange(other, prices, pools_.clock()).run(std::size_t{1} << 16U);
        if (other.value() > next.value()) next = std::move(other);
    }
    if (next.value() <= choice_.value()) return;
    choice_ = std::move(next);
    pools_.clock().found_value(choice_.value());
}

template <class>
std::int64_t opened_tree::run(const std::vector<double>& prices, std::int64_t bound, std::size_t most_loin_plans,
                              std::size_t& most_labels) {
    order_clock& clock = pools_.clock();
    const std::size_t all = pools_.facts().kinds.size(), until = clock.known.loin_plans + most_loin_plans;
    std::int64_t left_open =
        std::numeric_limits<std::int64_t>::min(); // the bound of branches that were not searched to the end
    struct leaf {                                 ///< a branch without questions
        branch of;
        std::vector<std::int64_t> whole; ///< prices
        std::int64_t bound = 0;          ///< of these prices, from which plans lose
    };
    std::vector<leaf> leaves;
    push({.bound = bound, .states = std::vector<loin_state>(all), .prices = prices});
    for (std::size_t number = 1; !branches_.empty() && branches_.front().bound > choice_.value();) {
        if (clock.known.loin_plans >= until || clock.close_enough() || !clock.go_on(all)) break;
        branch now = pop();
        hunt_terms terms{
            .from = now.prices, .reach = 0.01, .tolerance = 1e-6, .most_passes = 60, .enough = choice_.value()};
        for (std::uint32_t k = 0; k < all; ++k) {
            if (now.states[k] == loin_state::unopened) continue;
            terms.kinds.push_back(k);
            terms.anyway.push_back(now.states[k] == loin_state::opened);
        }
        terms.most_groups = std::max<std::size_t>(1, terms.kinds.size());
        const std::vector<std::uint32_t> kinds = terms.kinds;
        const found_prices found = price_hunt(pools_, lines_, std::move(terms)).run();
        now.prices = found.prices;
        if (found.bound < now.bound) now.bound = static_cast<std::int64_t>(found.bound);
        if (now.bound <= choice_.value()) continue;
        const auto [kind, opened] = question(found, kinds, now);
        const bool settled = kind == all;
        better(found, kinds, now, settled);
        if (now.bound <= choice_.value()) continue;
        if (!settled) {
            const bool likely = opened >= 0.5;
            for (const bool open : {!likely, likely}) { // the likelier one is the later, and comes first
                branch next = now;
                next.number = number++;
                next.states[kind] = open ? loin_state::opened : loin_state::unopened;
                push(std::move(next));
            }
            continue;
        }
        const wide_integer most = std::numeric_limits<std::int64_t>::max();
        leaves.push_back({std::move(now), found.whole, static_cast<std::int64_t>(std::min(found.bound, most))});
    }
    // Those that are nearest to the best plan are proven first, which is quick; a better plan leaves less to prove of the others.
    std::sort(leaves.begin(), leaves.end(), [](const leaf& a, const leaf& b) { return later(a.of, b.of); });
    for (const leaf& last : leaves) {
        if (last.of.bound <= choice_.value()) continue;
        const std::int64_t gap = last.bound - choice_.value();
        order_proof::outcome best;
        if (list_ && !clock.close_enough() && !clock.ended())
            best =
                order_proof(pools_, choice_.units(), lines_, last.whole, list_, last.of.states).run(gap, most_labels);
        for (std::size_t u = 0; u < best.plans.size(); ++u) choice_.set(u, best.plans[u]);
        clock.found_value(choice_.value());
        if (!best.proven) left_open = std::max(left_open, last.of.bound);
    }
    if (!branches_.empty()) left_open = std::max(left_open, branches_.front().bound);
    return std::max(left_open, choice_.value());
}

} // namespace tranche::detail
