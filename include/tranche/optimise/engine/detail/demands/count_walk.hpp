// Count states level by level, as a beam or to the end: what a state is, what a bound makes of it, and which are gone through.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <limits>
#include <map>
#include <optional>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/detail/demands/priced_score.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/rest_table.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche::detail {

/// How far a search through the count states may go.
struct beam_limits {
    std::size_t width = 64;                     ///< states kept on a level
    std::size_t states = std::size_t{1} << 20U; ///< looked at, in all
    std::size_t kept = std::size_t{1} << 22U;   ///< entries of them that are kept, in all
};

/// What a search through the count states has shown: no plan that it has not offered has a larger value than `above` at the
/// prices, if there is such a value. Without one it has been everywhere that the target left.
template <class Number>
struct beam_outcome {
    std::optional<Number> above;
    std::size_t states = 0; ///< looked at
};

/// The best that the rest of the loin gives at the prices, from each position on and for each state of an order.
template <class Number>
class best_rests {
public:
    template <separable_slabs Kind>
    best_rests(const cutting_problem& problem, const priced_objective<Number, Kind>& priced, const order_states& orders)
        : rest_(orders.count() <= most_rests / (problem.cells() + 1) ? orders.count() : 1,
                std::vector<Number>(problem.cells() + 1, nothing)) {
        const auto accepts = [](std::size_t) { return true; };
        const auto keep = [&](const auto& known) {
            for (std::size_t order = 0; order < rest_.size(); ++order)
                for (std::size_t p = problem.start(); p <= problem.cells(); ++p)
                    if (const auto& way = known.behind(order, p)) rest_[order][p] = way.score;
        };
        if (rest_.size() == orders.count())
            keep(rest_table<priced_objective<Number, Kind>, order_states>(problem.graph(), priced, orders, accepts));
        else
            keep(rest_table<priced_objective<Number, Kind>, no_memory>(problem.graph(), priced, {}, accepts));
    }

    /// In any order if there are too many of its states.
    [[nodiscard]] const std::vector<Number>& operator[](std::size_t order) const {
        return rest_[rest_.size() > 1 ? order : 0];
    }

    /// Of a position from which there is no way to the end. Sums of values stay far above it.
    static constexpr Number nothing = std::is_floating_point_v<Number> ? -std::numeric_limits<Number>::infinity()
                                                                       : std::numeric_limits<Number>::min() / 2;

private:
    static constexpr std::size_t most_rests = std::size_t{1} << 18U; ///< positions × states of the order

    std::vector<std::vector<Number>> rest_; ///< by state of the order and position
};

/// Goes through the count states level by level of slabs counted, and keeps those of each level that may come furthest: what
/// has been reached at the prices, and the best that the rest of the loin can give at the prices, less what the slabs that
/// are still wanted are paid for. That is a bound on every plan through the state, so what cannot reach a target is dropped,
/// and where the width was never too small the search is exact. How far an order of cuts has come is part of a state.
/// `offset` is taken off values. The ways that reach a state are kept by who fills the layers.
template <class Number>
class count_walk {
public:
    template <separable_slabs Kind>
    count_walk(const cutting_problem& problem, const priced_objective<Number, Kind>& priced, Number offset,
               const std::vector<slab_demand>& rows, const order_states& orders)
        : problem_(problem), prices_(priced.prices()), offset_(offset), rows_(rows), orders_(orders),
          rest_(problem, priced, orders), row_of_(problem.option_count(), rows.size()) {
        for (std::size_t k = 0; k < rows.size(); ++k) {
            const option_window& w = problem.window(rows[k].option);
            row_of_[rows[k].option] = k;
            thinnest_.push_back(std::min(w.least_cells, problem.cells() - std::min(w.last_to_end, problem.cells())));
        }
    }
    count_walk(const count_walk&) = delete;
    count_walk& operator=(const count_walk&) = delete;
    virtual ~count_walk() = default;

    /// Offers the best tiling of each state kept that meets the demands and reaches the value that `target` then says, if
    /// it says one. The clock is asked before each state.
    [[nodiscard]] beam_outcome<Number> run(const beam_limits& limits, search_clock& clock) {
        beam_outcome<Number> outcome;
        const auto drop = [&](Number value) { outcome.above = std::max(outcome.above.value_or(value), value); };
        std::size_t kept_entries = 0;
        std::deque<std::vector<layer>> kept;                              // layers stay where they are
        std::map<std::size_t, std::map<state, std::vector<step>>> wanted; // by level
        wanted[0][{std::vector<std::int64_t>(rows_.size()), 0}];
        while (!wanted.empty()) {
            const auto lowest = wanted.extract(wanted.begin());
            std::vector<layer> level;
            for (const auto& [at, before] : lowest.mapped()) {
                if (outcome.states == limits.states || kept_entries > limits.kept || !clock.go_on()) {
                    for (const step& s : before) drop(s.from->rank);
                    continue;
                }
                ++outcome.states;
                layer l{.at = at, .before = before};
                fill(l);
                if (l.past == 0) continue; // beyond reach, or below the target
                kept_entries += l.past - l.first;
                level.push_back(std::move(l));
            }
            std::stable_sort(level.begin(), level.end(),
                             [](const layer& a, const layer& b) { return b.rank < a.rank; });
            for (std::size_t i = limits.width; i < level.size(); ++i) drop(level[i].rank);
            for (; level.size() > limits.width; level.pop_back()) forget(level.back());
            kept.push_back(std::move(level));
            for (const layer& l : kept.back()) {
                if (all_met(rows_, l.at.counts) && l.past > problem_.cells()) offer(l);
                for (std::size_t o = 0; o < problem_.option_count(); ++o)
                    if (state to = behind(l.at, o); to.order != order_states::none && to != l.at && !hopeless(to))
                        wanted[level_of(to)][to].push_back({o, &l});
            }
        }
        return outcome;
    }

    /// The width that leaves so many entries for all levels together, if nothing is dropped for other reasons.
    [[nodiscard]] std::size_t width_within(std::size_t entries) const {
        std::size_t most_levels = 1 + orders_.largest();
        for (const slab_demand& row : rows_) most_levels += static_cast<std::size_t>(top_of(row));
        return std::max(entries / (problem_.cells() + 1) / most_levels, std::size_t{1});
    }

protected:
    struct state {
        std::vector<std::int64_t> counts; ///< by row; the least one of a row without a cap stands for more as well
        std::size_t order = 0;
        friend bool operator==(const state&, const state&) = default;
        friend bool operator<(const state& a, const state& b) { // libc++ 14 has no <=> for vectors
            return std::tie(a.counts, a.order) < std::tie(b.counts, b.order);
        }
    };
    struct layer;
    struct step {
        std::size_t option;
        const layer* from;
    };
    /// The positions in one state from which a plan may still reach the target.
    struct layer {
        state at;
        std::vector<step> before{};      ///< that lead here from another layer
        std::size_t first = 0, past = 0; ///< positions of its entries; none if that is zero
        std::size_t row = 0;             ///< where the entries are kept
        Number rank = nothing;           ///< no plan through the state has a larger value
    };

    /// Finds the ways that reach a state, from the layers before it.
    virtual void fill(layer& l) = 0;
    /// The entries of a layer are not wanted any more.
    virtual void forget(const layer& l) = 0;
    /// A layer that meets the demands and reaches the sirloin face.
    virtual void offer(const layer& l) = 0;

    /// Every slab that leads to another state leads to a higher level.
    [[nodiscard]] std::size_t level_of(const state& s) const {
        std::size_t level = orders_.size(s.order);
        for (const std::int64_t n : s.counts) level += static_cast<std::size_t>(n);
        return level;
    }
    /// The state behind a slab; its order is `none` where that may not come.
    [[nodiscard]] state behind(state s, std::size_t option) const {
        s.order = orders_.behind(s.order, option);
        const std::size_t k = row_of_[option];
        if (k == rows_.size()) return s;
        if (s.counts[k] < top_of(rows_[k]))
            ++s.counts[k];
        else if (rows_[k].capped())
            s.order = order_states::none;
        return s;
    }
    /// The last position behind which slabs that are still wanted have room.
    [[nodiscard]] std::size_t last_with_room(const state& s) const {
        std::size_t wanted = 0;
        for (std::size_t k = 0; k < rows_.size(); ++k)
            wanted += static_cast<std::size_t>(std::max<std::int64_t>(rows_[k].least - s.counts[k], 0)) * thinnest_[k];
        return problem_.cells() - std::min(problem_.cells(), wanted);
    }
    /// What slabs still wanted are paid at the least, and those still allowed cost at the most.
    [[nodiscard]] Number owed(const state& s) const {
        Number sum = offset_;
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            const Number price = prices_.bonus[rows_[k].option];
            const std::int64_t left = price < Number{} ? rows_[k].most - s.counts[k]
                                                       : std::max<std::int64_t>(rows_[k].least - s.counts[k], 0);
            sum += product_of(price, static_cast<Number>(left));
        }
        return sum;
    }

    static constexpr Number nothing = best_rests<Number>::nothing;

    const cutting_problem& problem_;
    const leaf_prices<Number>& prices_;
    Number offset_;
    const std::vector<slab_demand>& rows_;
    const order_states& orders_;
    best_rests<Number> rest_;

private:
    [[nodiscard]] static std::int64_t top_of(const slab_demand& row) { return row.capped() ? row.most : row.least; }

    /// Whether a cut may no longer come of which there are too few.
    [[nodiscard]] bool hopeless(const state& s) const {
        for (std::size_t k = 0; k < rows_.size(); ++k)
            if (s.counts[k] < rows_[k].least && orders_.behind(s.order, rows_[k].option) == order_states::none)
                return true;
        return false;
    }

    std::vector<std::size_t> thinnest_; ///< by row: no slab of it has fewer cells
    std::vector<std::size_t> row_of_;   ///< by option; the number of rows where it has none
};

} // namespace tranche::detail
