// A plan with as many slabs of some cuts as are asked for, where there are too many count states to look at all: a beam.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <limits>
#include <map>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// Goes through the count states level by level of slabs counted, and keeps those of each level that fall least behind the
/// best at the prices somewhere along the loin where there is room for what is still wanted. How far an order of cuts has
/// come is part of a state. With few states on each level it is exact. `Priced` gives a score a `value` and each slab of an
/// option a `bonus`.
template <objective O, objective Priced>
class count_beam {
public:
    using score_type = typename O::score_type;

    count_beam(const cutting_problem& problem, const O& objective, const Priced& priced,
               const std::vector<slab_demand>& rows, const order_states& orders)
        : problem_(problem), priced_(priced), rows_(rows), orders_(orders), filler_(problem, objective),
          optimum_(problem.cells() + 1), row_of_(problem.option_count(), rows.size()) {
        for (std::size_t k = 0; k < rows.size(); ++k) {
            const option_window& w = problem.window(rows[k].option);
            row_of_[rows[k].option] = k;
            thinnest_.push_back(std::min(w.least_cells, problem.cells() - std::min(w.last_to_end, problem.cells())));
        }
        optimum_[problem.start()].source = reached<typename Priced::score_type>::origin;
        std::vector<typename layer_filler<Priced>::way> ways;
        for (std::size_t o = 0; o < problem.option_count(); ++o) ways.push_back({o, optimum_.data(), o});
        layer_filler<Priced>(problem, priced).fill(optimum_.data(), ways);
    }

    /// Calls offer(stretches, score) for the best tiling of each state kept that meets the demands.
    template <class Offer>
    void run(const Offer& offer) const {
        std::size_t most_levels = 1 + orders_.largest();
        for (const slab_demand& row : rows_) most_levels += static_cast<std::size_t>(top_of(row));
        const std::size_t width = std::clamp(most_entries / optimum_.size() / most_levels, std::size_t{1}, widest);
        std::deque<std::vector<layer>> kept;                              // layers stay where they are
        std::map<std::size_t, std::map<state, std::vector<step>>> wanted; // by level
        wanted[0][{std::vector<std::int64_t>(rows_.size()), 0}];
        while (!wanted.empty()) {
            const auto lowest = wanted.extract(wanted.begin());
            std::vector<layer> level;
            for (const auto& [at, before] : lowest.mapped()) {
                layer l = filled(at, before);
                if (std::isfinite(l.rank)) level.push_back(std::move(l)); // or the state is beyond reach
            }
            std::stable_sort(level.begin(), level.end(),
                             [](const layer& a, const layer& b) { return b.rank < a.rank; });
            level.resize(std::min(level.size(), width));
            kept.push_back(std::move(level));
            for (const layer& l : kept.back()) {
                if (all_met(rows_, l.at.counts) && l.row.back()) offer(traced(l), l.row.back().score);
                for (std::size_t o = 0; o < problem_.option_count(); ++o)
                    if (state to = behind(l.at, o); to.order != order_states::none && to != l.at && !hopeless(to))
                        wanted[level_of(to)][to].push_back({o, &l});
            }
        }
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
    /// All positions in one state, as in `count_states`, but of few states only.
    struct layer {
        state at;
        std::vector<reached<score_type>> row;
        std::vector<step> before; ///< that lead here from another layer
        double rank = 0.0;
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

    [[nodiscard]] layer filled(const state& at, const std::vector<step>& before) const {
        layer l{at, std::vector<reached<score_type>>(problem_.cells() + 1), before, 0.0};
        double price = 0.0;
        for (std::size_t k = 0; k < rows_.size(); ++k)
            price += unfused(static_cast<double>(priced_.bonus[rows_[k].option]) * static_cast<double>(at.counts[k]));
        std::vector<typename layer_filler<O>::way> ways;
        for (std::size_t b = 0; b < before.size(); ++b)
            ways.push_back({before[b].option, before[b].from->row.data(), problem_.option_count() + b});
        for (std::size_t o = 0; o < problem_.option_count(); ++o)
            if (behind(at, o) == at) ways.push_back({o, l.row.data(), o});
        if (level_of(at) == 0) l.row[problem_.start()].source = reached<score_type>::origin;
        filler_.fill(l.row.data(), ways);
        l.rank = -std::numeric_limits<double>::infinity();
        for (std::size_t p = problem_.start(), last = last_with_room(at); p <= last; ++p)
            if (l.row[p] && optimum_[p])
                l.rank = std::max(l.rank, static_cast<double>(priced_.value(l.row[p].score)) + price -
                                              static_cast<double>(optimum_[p].score));
        return l;
    }

    [[nodiscard]] std::vector<stretch> traced(const layer& last) const {
        std::vector<stretch> stretches;
        const layer* l = &last;
        for (std::size_t at = problem_.cells(); at > problem_.start();) {
            const reached<score_type>& best = l->row[at];
            const bool stepped = best.source >= problem_.option_count();
            const step by = stepped ? l->before[best.source - problem_.option_count()] : step{best.source, l};
            stretches.push_back(stretch_of(problem_, by.option, best.from, at));
            at = best.from;
            l = by.from;
        }
        std::reverse(stretches.begin(), stretches.end());
        return stretches;
    }

    static constexpr std::size_t widest = 32;                          ///< layers kept on a level
    static constexpr std::size_t most_entries = std::size_t{1} << 22U; ///< of all layers together

    const cutting_problem& problem_;
    const Priced& priced_;
    const std::vector<slab_demand>& rows_;
    const order_states& orders_;
    layer_filler<O> filler_;
    std::vector<reached<typename Priced::score_type>> optimum_; ///< up to each position, at the prices, in any order
    std::vector<std::size_t> thinnest_;                         ///< by row: no slab of it has fewer cells
    std::vector<std::size_t> row_of_;                           ///< by option; the number of rows where it has none
};

} // namespace tranche::detail
