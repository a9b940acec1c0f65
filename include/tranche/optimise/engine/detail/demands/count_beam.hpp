// Plans with as many slabs of some cuts as are asked for, by a search through count states that a bound prunes: the ways that
// reach each state.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/demands/count_walk.hpp>
#include <tranche/optimise/engine/detail/demands/priced_score.hpp>
#include <tranche/optimise/engine/detail/lane_filler.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche::detail {

/// A walk through the count states with the best way to each position in each, by the score of an objective. Tilings go to
/// `offer(stretches, score)`; a target is asked for before each layer.
template <objective O, class Number>
class count_beam : public count_walk<Number> {
    using walk = count_walk<Number>;
    using typename walk::layer;
    using typename walk::step;

public:
    using score_type = typename O::score_type;

    template <separable_slabs Kind>
    count_beam(const cutting_problem& problem, const O& objective, const priced_objective<Number, Kind>& priced,
               Number offset, const std::vector<slab_demand>& rows, const order_states& orders,
               std::function<void(const std::vector<grid_slab>&, const score_type&)> offer)
        : walk(problem, priced, offset, rows, orders), filler_(problem, objective), offer_(std::move(offer)) {}

    /// Whatever is dropped has a value below the target, if there is one.
    [[nodiscard]] beam_outcome<Number> run(const beam_limits& limits, std::function<std::optional<Number>()> target,
                                           search_clock& clock) {
        target_ = std::move(target);
        rows_of_.clear();
        return walk::run(limits, clock);
    }

private:
    using entry = reached<score_type>;

    void fill(layer& l) override {
        const cutting_problem& problem = this->problem_;
        while (scratch_.size() <= l.before.size()) scratch_.emplace_back(problem.cells() + 1);
        std::vector<entry>& row = scratch_[l.before.size()];
        const std::optional<Number> target = target_();
        const std::size_t last = this->last_with_room(l.at);
        const bool first_level = this->level_of(l.at) == 0;
        block range{first_level ? problem.start() : problem.cells(), last + 1};
        std::vector<typename layer_filler<O>::way> ways;
        for (std::size_t b = 0; b < l.before.size(); ++b) {
            const layer& from = *l.before[b].from;
            const std::vector<entry>& entries = rows_of_[from.row];
            std::copy(entries.begin(), entries.end(), scratch_[b].begin() + static_cast<std::ptrdiff_t>(from.first));
            range.first = std::min(range.first, from.first);
            ways.push_back({l.before[b].option, scratch_[b].data(), problem.option_count() + b});
        }
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            if (this->behind(l.at, o) == l.at) ways.push_back({o, row.data(), o});
        if (first_level) row[problem.start()].source = entry::origin;
        filler_.fill(row.data(), ways, range);
        for (std::size_t b = 0; b < l.before.size(); ++b) clear(scratch_[b], *l.before[b].from);

        const Number price = this->owed(l.at);
        const std::vector<Number>& rest = this->rest_[l.at.order];
        l.first = problem.cells() + 1;
        for (std::size_t p = range.first; p <= last; ++p) {
            if (!row[p]) continue;
            const bool open = rest[p] != walk::nothing;
            const Number value = open ? this->prices_.value(row[p].score) + rest[p] - price : walk::nothing;
            if (!open || (target && value < *target)) {
                row[p] = {};
                continue;
            }
            l.rank = std::max(l.rank, value);
            l.first = std::min(l.first, p);
            l.past = p + 1;
        }
        if (l.past == 0) return;
        l.row = rows_of_.size();
        rows_of_.emplace_back(row.begin() + static_cast<std::ptrdiff_t>(l.first),
                              row.begin() + static_cast<std::ptrdiff_t>(l.past));
        clear(row, l);
    }
    void forget(const layer& l) override { std::vector<entry>().swap(rows_of_[l.row]); }
    void offer(const layer& l) override {
        if (rows_of_[l.row].back()) offer_(traced(l), rows_of_[l.row].back().score);
    }

    static void clear(std::vector<entry>& row, const layer& l) {
        std::fill(row.begin() + static_cast<std::ptrdiff_t>(l.first), row.begin() + static_cast<std::ptrdiff_t>(l.past),
                  entry{});
    }

    [[nodiscard]] std::vector<grid_slab> traced(const layer& last) const {
        const cutting_problem& problem = this->problem_;
        std::vector<grid_slab> stretches;
        const layer* l = &last;
        for (std::size_t at = problem.cells(); at > problem.start();) {
            const entry& best = rows_of_[l->row][at - l->first];
            const bool stepped = best.source >= problem.option_count();
            const step by = stepped ? l->before[best.source - problem.option_count()] : step{best.source, l};
            stretches.push_back(grid_slab_of(problem, by.option, best.from, at));
            at = best.from;
            l = by.from;
        }
        std::reverse(stretches.begin(), stretches.end());
        return stretches;
    }

    layer_filler<O> filler_;
    std::function<void(const std::vector<grid_slab>&, const score_type&)> offer_;
    std::function<std::optional<Number>()> target_;
    std::vector<std::vector<entry>> rows_of_; ///< the entries of layers
    std::vector<std::vector<entry>> scratch_; ///< rows of all positions, without an entry between one use and the next
};

} // namespace tranche::detail
