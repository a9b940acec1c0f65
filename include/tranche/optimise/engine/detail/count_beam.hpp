// Plans with as many slabs of some cuts as are asked for, by a search through count states that a bound prunes: as a beam, or
// to the end.
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

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/priced_score.hpp>
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

/// Goes through the count states level by level of slabs counted, and keeps those of each level that may come furthest: what
/// has been reached at the prices, and the best that the rest of the loin can give at the prices, less what the slabs that
/// are still wanted are paid for. That is a bound on every plan through the state, so what cannot reach a target is dropped,
/// and where the width was never too small the search is exact. How far an order of cuts has come is part of a state.
/// `Priced` gives a score a `value` and each slab of an option a `bonus`; `offset` is taken off values.
template <objective O, objective Priced>
class count_beam {
public:
    using score_type = typename O::score_type;
    using number = typename Priced::score_type;

    count_beam(const cutting_problem& problem, const O& objective, const Priced& priced, number offset,
               const std::vector<slab_demand>& rows, const order_states& orders)
        : problem_(problem), priced_(priced), offset_(offset), rows_(rows), orders_(orders),
          filler_(problem, objective), rest_(orders.count() <= most_rests / (problem.cells() + 1) ? orders.count() : 1,
                                             std::vector<number>(problem.cells() + 1, nothing)),
          row_of_(problem.option_count(), rows.size()) {
        for (std::size_t k = 0; k < rows.size(); ++k) {
            const option_window& w = problem.window(rows[k].option);
            row_of_[rows[k].option] = k;
            thinnest_.push_back(std::min(w.least_cells, problem.cells() - std::min(w.last_to_end, problem.cells())));
        }
        find_rest();
    }

    /// Calls offer(stretches, score) for the best tiling of each state kept that meets the demands and reaches the value
    /// that target() then says, if it says one. The clock is asked before each state.
    template <class Target, class Offer>
    [[nodiscard]] beam_outcome<number> run(const beam_limits& limits, const Target& target, const Offer& offer,
                                           search_clock& clock) {
        beam_outcome<number> outcome;
        const auto drop = [&](number value) { outcome.above = std::max(outcome.above.value_or(value), value); };
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
                layer l = filled(at, before, target());
                if (l.row.empty()) continue; // beyond reach, or below the target
                kept_entries += l.row.size();
                level.push_back(std::move(l));
            }
            std::stable_sort(level.begin(), level.end(),
                             [](const layer& a, const layer& b) { return b.rank < a.rank; });
            for (std::size_t i = limits.width; i < level.size(); ++i) drop(level[i].rank);
            while (level.size() > limits.width) level.pop_back();
            kept.push_back(std::move(level));
            for (const layer& l : kept.back()) {
                if (all_met(rows_, l.at.counts) && l.first + l.row.size() > problem_.cells() && l.row.back())
                    offer(traced(l), l.row.back().score);
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

private:
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
    using entry = reached<score_type>;
    /// The positions in one state from which a plan may still reach the target, as in `count_states`.
    struct layer {
        state at;
        std::size_t first = 0; ///< position of the first entry
        std::vector<entry> row;
        std::vector<step> before; ///< that lead here from another layer
        number rank{};            ///< no plan through the state has a larger value

        void copy_to(std::vector<entry>& all) const {
            std::copy(row.begin(), row.end(), all.begin() + static_cast<std::ptrdiff_t>(first));
        }
        void clear(std::vector<entry>& all) const {
            if (!row.empty()) std::fill_n(all.begin() + static_cast<std::ptrdiff_t>(first), row.size(), entry{});
        }
    };

    [[nodiscard]] static std::int64_t top_of(const slab_demand& row) { return row.capped() ? row.most : row.least; }
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

    /// Whether a cut may no longer come of which there are too few.
    [[nodiscard]] bool hopeless(const state& s) const {
        for (std::size_t k = 0; k < rows_.size(); ++k)
            if (s.counts[k] < rows_[k].least && orders_.behind(s.order, rows_[k].option) == order_states::none)
                return true;
        return false;
    }

    /// The last position behind which slabs that are still wanted have room.
    [[nodiscard]] std::size_t last_with_room(const state& s) const {
        std::size_t wanted = 0;
        for (std::size_t k = 0; k < rows_.size(); ++k)
            wanted += static_cast<std::size_t>(std::max<std::int64_t>(rows_[k].least - s.counts[k], 0)) * thinnest_[k];
        return problem_.cells() - std::min(problem_.cells(), wanted);
    }

    /// What slabs still wanted are paid at the least, and those still allowed cost at the most.
    [[nodiscard]] number owed(const state& s) const {
        number sum = offset_;
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            const number price = priced_.bonus[rows_[k].option];
            const std::int64_t left = price < number{} ? rows_[k].most - s.counts[k]
                                                       : std::max<std::int64_t>(rows_[k].least - s.counts[k], 0);
            sum += product_of(price, static_cast<number>(left));
        }
        return sum;
    }

    [[nodiscard]] layer filled(const state& at, const std::vector<step>& before, std::optional<number> target) {
        while (scratch_.size() <= before.size()) scratch_.emplace_back(problem_.cells() + 1);
        std::vector<entry>& row = scratch_[before.size()];
        const std::size_t last = last_with_room(at);
        block range{level_of(at) == 0 ? problem_.start() : problem_.cells(), last + 1};
        std::vector<typename layer_filler<O>::way> ways;
        for (std::size_t b = 0; b < before.size(); ++b) {
            before[b].from->copy_to(scratch_[b]);
            range.first = std::min(range.first, before[b].from->first);
            ways.push_back({before[b].option, scratch_[b].data(), problem_.option_count() + b});
        }
        for (std::size_t o = 0; o < problem_.option_count(); ++o)
            if (behind(at, o) == at) ways.push_back({o, row.data(), o});
        if (level_of(at) == 0) row[problem_.start()].source = entry::origin;
        filler_.fill(row.data(), ways, range);
        for (std::size_t b = 0; b < before.size(); ++b) before[b].from->clear(scratch_[b]);

        layer l{at, problem_.cells() + 1, {}, before, nothing};
        const number price = owed(at);
        const std::vector<number>& rest = rest_behind(at.order);
        std::size_t past = 0;
        for (std::size_t p = range.first; p <= last; ++p) {
            if (!row[p]) continue;
            const bool open = rest[p] != nothing;
            const number value = open ? priced_.value(row[p].score) + rest[p] - price : nothing;
            if (!open || (target && value < *target)) {
                row[p] = {};
                continue;
            }
            l.rank = std::max(l.rank, value);
            l.first = std::min(l.first, p);
            past = p + 1;
        }
        if (past > 0)
            l.row.assign(row.begin() + static_cast<std::ptrdiff_t>(l.first),
                         row.begin() + static_cast<std::ptrdiff_t>(past));
        l.clear(row);
        return l;
    }

    /// The best that the rest of the loin gives from each position on; in any order if there are too many of its states.
    [[nodiscard]] const std::vector<number>& rest_behind(std::size_t order) const {
        return rest_[rest_.size() > 1 ? order : 0];
    }
    /// In every state of the order, or without it if there are too many.
    void find_rest() {
        const auto accepts = [](std::size_t) { return true; };
        const auto keep = [&](std::size_t states, const auto& rest) {
            for (std::size_t order = 0; order < states; ++order)
                for (std::size_t p = problem_.start(); p <= problem_.cells(); ++p)
                    if (const auto& way = rest.behind(order, p)) rest_[order][p] = way.score;
        };
        if (rest_.size() == orders_.count())
            keep(rest_.size(), rest_table<Priced, order_states>(problem_.graph(), priced_, orders_, accepts));
        else
            keep(1, rest_table<Priced, no_memory>(problem_.graph(), priced_, {}, accepts));
    }

    [[nodiscard]] std::vector<grid_slab> traced(const layer& last) const {
        std::vector<grid_slab> stretches;
        const layer* l = &last;
        for (std::size_t at = problem_.cells(); at > problem_.start();) {
            const entry& best = l->row[at - l->first];
            const bool stepped = best.source >= problem_.option_count();
            const step by = stepped ? l->before[best.source - problem_.option_count()] : step{best.source, l};
            stretches.push_back(grid_slab_of(problem_, by.option, best.from, at));
            at = best.from;
            l = by.from;
        }
        std::reverse(stretches.begin(), stretches.end());
        return stretches;
    }

    /// Of a position from which there is no way to the end. Sums of values stay far above it.
    static constexpr number nothing = std::is_floating_point_v<number> ? -std::numeric_limits<number>::infinity()
                                                                       : std::numeric_limits<number>::min() / 2;

    static constexpr std::size_t most_rests = std::size_t{1} << 18U; ///< positions × states of the order

    const cutting_problem& problem_;
    const Priced& priced_;
    number offset_;
    const std::vector<slab_demand>& rows_;
    const order_states& orders_;
    layer_filler<O> filler_;
    std::vector<std::vector<number>> rest_;   ///< by state of the order and position: see `rest_behind`
    std::vector<std::size_t> thinnest_;       ///< by row: no slab of it has fewer cells
    std::vector<std::vector<entry>> scratch_; ///< rows of all positions, without an entry between one use and the next
    std::vector<std::size_t> row_of_;         ///< by option; the number of rows where it has none
};

} // namespace tranche::detail
