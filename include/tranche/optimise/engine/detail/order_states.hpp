// How far an order of cuts has come along the loin: which cuts may no longer come, because one behind them is there.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <map>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// The sets of cuts that may no longer come, numbered so that a slab leads to the same set or to one of a larger number; 0 is
/// the empty one. That is all that has to be remembered: of n cuts each of which must lie before all later ones there are n
/// sets, of n pairs that have nothing to do with each other 2^n.
class order_states {
public:
    static constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

    /// Gives up when there are more than `most`: see `fit`. O(states × options²).
    template <class = when_called>
    order_states(const cutting_problem& problem, std::size_t most) : options_(problem.option_count()) {
        const cuts no_cut(options_, '\0');
        std::vector<cuts> ruled_out(options_, no_cut); // by a slab of an option, behind it
        for (const cut_order& order : problem.rules().order)
            for (std::size_t then = problem.loose_count(); then < options_; ++then)
                for (std::size_t first = problem.loose_count(); first < options_; ++first)
                    if (problem.spec_of(then).name == order.then && problem.spec_of(first).name == order.first)
                        ruled_out[then][first] = 1;

        std::map<cuts, std::size_t> found{{no_cut, 0}};
        std::vector<cuts> sets{no_cut};
        std::vector<std::size_t> next;
        for (std::size_t s = 0; s < sets.size(); ++s) {
            for (std::size_t o = 0; o < options_; ++o) {
                if (sets[s][o] != 0) {
                    next.push_back(none);
                    continue;
                }
                cuts with = sets[s];
                for (std::size_t other = 0; other < options_; ++other)
                    if (ruled_out[o][other] != 0) with[other] = 1;
                const auto [at, is_new] = found.try_emplace(with, sets.size());
                if (is_new) sets.push_back(std::move(with));
                next.push_back(at->second);
            }
            fit_ = sets.size() <= most;
            if (!fit_) return;
        }
        number_by_size(sets, next);
    }

    /// Whether there are no more than asked for; otherwise nothing else is known.
    [[nodiscard]] bool fit() const { return fit_; }
    [[nodiscard]] std::size_t count() const { return sizes_.size(); }
    /// As a `slab_memory`.
    [[nodiscard]] std::size_t size() const { return sizes_.size(); }
    template <class F>
    void each_before(std::size_t state, std::size_t option, const F& f) const {
        for (std::size_t before = 0; before <= state; ++before)
            if (behind(before, option) == state) f(before);
    }
    /// How many cuts may no longer come.
    [[nodiscard]] std::size_t size(std::size_t state) const { return sizes_[state]; }
    [[nodiscard]] std::size_t largest() const { return sizes_.back(); }
    /// The state behind a slab of an option, or `none` where that may not come.
    [[nodiscard]] std::size_t behind(std::size_t state, std::size_t option) const {
        return next_[state * options_ + option];
    }

private:
    using cuts = std::string; // by option, 0 or 1: quick to compare

    void number_by_size(const std::vector<cuts>& sets, const std::vector<std::size_t>& next) {
        std::vector<std::size_t> sizes, by_size(sets.size()), number(sets.size());
        for (const cuts& set : sets)
            sizes.push_back(static_cast<std::size_t>(std::count(set.begin(), set.end(), '\1')));
        std::iota(by_size.begin(), by_size.end(), std::size_t{0});
        std::stable_sort(by_size.begin(), by_size.end(),
                         [&](std::size_t a, std::size_t b) { return sizes[a] < sizes[b]; });
        for (std::size_t s = 0; s < by_size.size(); ++s) number[by_size[s]] = s;
        for (const std::size_t s : by_size) {
            sizes_.push_back(sizes[s]);
            for (std::size_t o = 0; o < options_; ++o) {
                const std::size_t to = next[s * options_ + o];
                next_.push_back(to == none ? none : number[to]);
            }
        }
    }

    std::size_t options_;
    bool fit_ = true;
    std::vector<std::size_t> sizes_; ///< by state
    std::vector<std::size_t> next_;  ///< by state and option
};

/// What a table may hold where an order of cuts multiplies its states, if nothing else is said: positions × states.
inline constexpr std::size_t most_ordered_entries = std::size_t{1} << 22U;

/// Those that a table of `most_entries` has room for, if each of them has `states` of its own at every position. Throws
/// `invalid_input` if there are more.
template <class = when_called>
[[nodiscard]] order_states order_states_within(const cutting_problem& problem, std::size_t most_entries,
                                               std::size_t states = 1) {
    const std::size_t width = problem.cells() + 1, room = most_entries / width / states;
    order_states orders(problem, std::max(room, std::size_t{1}));
    if (!orders.fit())
        throw invalid_input("order", "one that takes more than " + std::to_string(room) + " states",
                            "at most that many at " + std::to_string(width) + " positions" +
                                (states > 1 ? " with " + std::to_string(states) + " counts" : "") +
                                ": fewer pairs of cuts, or a coarser grid");
    return orders;
}

} // namespace tranche::detail
