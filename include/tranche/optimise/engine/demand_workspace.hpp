// Room for planning one request with its demands again and again, by objectives that change, as prices do.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/detail/slab_memory.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche {

/// What is known of a problem and its demands before there is an objective, and the tables of exact count states. A plan allocates
/// nothing from the second one on, by objectives that are not `banded_objective`s, as long as it meets the demands and their states
/// fit. The problem must outlive it and stay as it is. Not to be shared by threads.
template <objective O>
class demand_workspace {
public:
    using score_type = typename O::score_type;

    /// Throws as `best_path_with_demand`. `demands` are in portions; `search` is as for `best_path_with_demand`.
    demand_workspace(const cutting_problem& problem, std::vector<demand> demands, search_limits search = {})
        : problem_(&problem), demands_(std::move(demands)), search_(std::move(search)) {
        validate(demands_, problem.specs());
        const detail::slab_demands wanted = detail::in_slabs(problem, demands_);
        rows_ = wanted.rows;
        // What a table of states does not say is asked anew each time.
        exact_ = wanted.shortfalls.empty() && !problem.links_slabs() && !problem.places().any() &&
                 problem.graph().loose_everywhere &&
                 detail::few_states(problem, detail::counters_of(problem, rows_), search_.most_entries) &&
                 detail::states_of(detail::counters_of(problem, rows_)) <= search_.most_passes;
        if (exact_) memory_ = detail::slab_counts(detail::counters_of(problem, rows_));
    }
    demand_workspace(const cutting_problem&&, std::vector<demand>, search_limits = {}) = delete;

    /// As `best_path_with_demand`, but for the `prices` of demands, which are left out. Valid until the next call.
    /// Scores are in units of the objective; throws as `best_path_with_demand`.
    const demand_tiling<score_type>& best(const O& objective) {
        if (!exact_) return result_ = best_path_with_demand(*problem_, objective, demands_, search_);
        const tiling<score_type>& free = free_.best_path(*problem_, objective);
        result_.stretches = free.stretches;
        result_.score = result_.bound = free.score;
        result_.finite = free.finite;
        result_.states = 1;
        result_.outcome = demand_outcome::met;
        result_.shortfalls.clear();
        result_.prices.clear();
        result_.ended = search_end::by_itself;
        if (!free.finite || met(free.stretches)) return result_;
        detail::search_clock clock(search_);
        table_.fill(detail::graph_for(*problem_, objective, in_bands_), objective, memory_,
                    [&] { return clock.go_on(); });
        std::size_t best = memory_.size();
        for (std::size_t s = 0; s < memory_.size() && table_.complete(); ++s)
            if (table_.whole(s) && detail::has_all(memory_, rows_, s) &&
                (best == memory_.size() || table_.whole(best).score < table_.whole(s).score))
                best = s;
        if (best == memory_.size()) return result_ = best_path_with_demand(*problem_, objective, demands_, search_);
        result_.states = memory_.size();
        result_.score = result_.bound = table_.whole(best).score;
        result_.finite = is_finite(result_.score);
        result_.stretches.clear();
        table_.each_slab_backwards(best, [&](std::size_t option, std::size_t from, std::size_t to) {
            result_.stretches.push_back(detail::grid_slab_of(*problem_, option, from, to));
        });
        std::reverse(result_.stretches.begin(), result_.stretches.end());
        return result_;
    }

private:
    [[nodiscard]] bool met(const std::vector<grid_slab>& slabs) const {
        return std::all_of(rows_.begin(), rows_.end(), [&](const detail::slab_demand& row) {
            return row.met_by(std::count_if(slabs.begin(), slabs.end(), [&](const grid_slab& s) {
                return s.kind == slab_kind::portions && problem_->loose_count() + s.option == row.option;
            }));
        });
    }

    const cutting_problem* problem_;
    std::vector<demand> demands_;
    search_limits search_;
    std::vector<detail::slab_demand> rows_;
    bool exact_ = false;
    detail::slab_counts memory_{{}};
    path_workspace<O> free_;
    detail::path_table<O, detail::slab_counts> table_;
    detail::slab_graph in_bands_;
    demand_tiling<score_type> result_;
};

} // namespace tranche
