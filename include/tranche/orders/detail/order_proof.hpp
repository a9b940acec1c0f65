// The best choice for a small order, proven: all sums of portions whose losses stay below the gap.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <unordered_map>
#include <utility>
#include <vector>

#include <tranche/orders/detail/loin_plans.hpp>
#include <tranche/orders/detail/offer_pools.hpp>
#include <tranche/orders/detail/order_choice.hpp>

namespace tranche::detail {

/// The plans of a loin that lose at most so much at some prices; see `plans_within`.
using plan_lister = std::function<std::optional<std::vector<priced_plan>>(
    std::span<const std::int64_t> prices, std::size_t loin, std::int64_t most_loss, std::size_t& most_labels)>;

/// What is settled of a kind of loin.
enum class loin_state : std::uint8_t { open_question, opened, unopened };

/// Any choice misses the bound of some prices by what its loins and its lines lose (`pair_exchange`). So one that is better than
/// the best known one has only plans that lose less than the gap, and all of them together do: loin by loin, the sums of
/// portions that can be come by, each with the least loss, until none is left or the best of them is known.
class order_proof {
public:
    /// Lines of the order, and perhaps one more of opened loins, and their prices. If there is that one, it may be settled by kind which are
    /// opened.
    order_proof(offer_pools& pools, const std::vector<chosen_unit>& units, const std::vector<line_worth>& lines,
                const std::vector<std::int64_t>& prices, const plan_lister& list,
                const std::vector<loin_state>& states = {})
        : pools_(pools), units_(units), lines_(lines), prices_(prices), list_(list), states_(states) {}

    /// The plans of the units, by number in the pools of their kinds, that lose least in all, if that is less than `gap`; and whether
    /// that is proven. Without plans and proven, nothing loses less. Labels that it took are no longer among `most_labels`.
    struct outcome {
        bool proven = false;
        std::vector<std::uint32_t> plans{};
        std::int64_t loss = 0;
    };
    template <class = when_called>
    [[nodiscard]] outcome run(std::int64_t gap, std::size_t& most_labels);

private:
    struct state {
        line_counts made{};
        std::int64_t loss = 0;
        std::uint32_t before = 0, plan = 0; ///< the state it comes from, and the plan of this unit
    };
    /// What the lines lose at least, if what is made may still become more by up to `more`.
    [[nodiscard]] std::int64_t lost(const line_counts& made, const std::vector<std::int64_t>& more) const {
        std::int64_t sum = 0;
        for (std::size_t j = 0; j < prices_.size(); ++j) {
            const line_worth& line = lines_[j];
            const auto loss = [&](std::int64_t portions) {
                return beyond_[j] - (line(portions) - prices_[j] * portions);
            };
            const std::int64_t low = made.of(j), high = low + more[j];
            // A convex function is least at the corner where it turns, or at the end nearest to that.
            std::int64_t least = std::min(loss(low), loss(high));
            for (const std::int64_t corner : line.corners())
                if (low < corner && corner < high) least = std::min(least, loss(corner));
            sum += least;
        }
        return sum;
    }

    offer_pools& pools_;
    const std::vector<chosen_unit>& units_;
    const std::vector<line_worth>& lines_;
    const std::vector<std::int64_t>& prices_;
    const plan_lister& list_;
    const std::vector<loin_state> states_;
    std::vector<std::int64_t> beyond_;
};

template <class>
order_proof::outcome order_proof::run(std::int64_t gap, std::size_t& most_labels) {
    const std::size_t m = prices_.size();
    outcome result;
    if (m > line_counts::most_lines || units_.empty()) return result;
    for (std::size_t j = 0; j < m; ++j) beyond_.push_back(static_cast<std::int64_t>(lines_[j].beyond(prices_[j])));

    // Plans by kind; losing `gap` is no better than what is known.
    std::vector<std::vector<priced_plan>> plans(pools_.facts().kinds.size());
    std::vector<std::int64_t> more(m);
    for (const chosen_unit& unit : units_) {
        std::vector<priced_plan>& of = plans[unit.kind];
        if (unit.count != 1) return result;
        if (of.empty()) {
            if (!pools_.clock().go_on(0)) return result;
            const loin_state settled = states_.empty() ? loin_state::open_question : states_[unit.kind];
            std::optional<std::vector<priced_plan>> listed;
            if (settled == loin_state::unopened) {
                listed.emplace(1); // nothing, which loses nothing
            } else {
                std::vector<std::int64_t> prices = prices_;
                if (settled == loin_state::opened) prices[pools_.lines()] = offer_pools::for_opening_anyway;
                listed = list_(prices, unit.kind, gap - 1, most_labels);
            }
            if (!listed || !pools_.clock().go_on(0)) return result;
            of = std::move(*listed);
        }
        if (of.empty()) { // not even the best plan of this loin loses so little
            result.proven = true;
            return result;
        }
        for (std::size_t j = 0; j < m; ++j) {
            std::int64_t most = 0;
            for (const priced_plan& plan : of) most = std::max(most, plan.counts.of(j));
            more[j] += most;
            if (more[j] > 0xFFFF) return result;
        }
    }

    std::vector<std::vector<state>> layers{{state{}}};
    for (std::size_t u = 0; u < units_.size(); ++u) {
        const std::vector<priced_plan>& of = plans[units_[u].kind];
        for (std::size_t j = 0; j < m; ++j) {
            std::int64_t most = 0;
            for (const priced_plan& plan : of) most = std::max(most, plan.counts.of(j));
            more[j] -= most;
        }
        const std::vector<state>& now = layers.back();
        std::vector<state> next;
        std::unordered_map<line_counts, std::uint32_t, line_counts_hash> known;
        for (std::uint32_t s = 0; s < now.size(); ++s)
            for (std::uint32_t p = 0; p < of.size(); ++p) {
                if (!pools_.clock().go_on_after(16)) return result; // hashing takes its time
                const std::int64_t loss = now[s].loss + of[p].loss;
                if (loss >= gap) break;
                if (most_labels == 0) return result;
                --most_labels;
                line_counts made = now[s].made;
                made.add(of[p].counts);
                if (const auto there = known.find(made); there != known.end()) {
                    state& other = next[there->second];
                    if (loss < other.loss) other = {made, loss, s, p};
                    continue;
                }
                if (loss + lost(made, more) >= gap) continue;
                known.emplace(made, static_cast<std::uint32_t>(next.size()));
                next.push_back({made, loss, s, p});
            }
        layers.push_back(std::move(next));
    }
    const std::vector<std::int64_t> no_more(m);
    const state* best = nullptr;
    std::int64_t least = gap;
    for (const state& last : layers.back())
        if (const std::int64_t loss = last.loss + lost(last.made, no_more); loss < least) least = loss, best = &last;
    result.proven = true;
    if (best == nullptr) return result;
    result.loss = least;
    result.plans.resize(units_.size());
    std::vector<std::uint16_t> portions(pools_.lines());
    for (std::size_t u = units_.size(); u-- > 0;) {
        const priced_plan& plan = plans[units_[u].kind][best->plan];
        for (std::size_t j = 0; j < portions.size(); ++j) portions[j] = static_cast<std::uint16_t>(plan.counts.of(j));
        result.plans[u] = pools_.of(units_[u].kind).enter(plan.worth, portions.data(), offer_pool::by_counts);
        best = &layers[u][best->before];
    }
    return result;
}

} // namespace tranche::detail
