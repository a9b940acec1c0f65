// Beyond the count states: a plan that keeps every cap and as many of the portions asked for as prices find.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/demands/relaxed_demand.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Portions of the options that are asked for.
struct asked_portions {
    using score_type = std::int64_t;
    std::vector<std::int64_t> pieces; ///< by option; zero for those that nobody asks for

    [[nodiscard]] score_type opening(std::size_t, std::size_t) const { return 0; }
    [[nodiscard]] score_type closing(std::size_t option, std::size_t) const { return pieces[option]; }
};

/// How many slabs of each row there can be at once, none above what is asked for or allowed: as many portions together as the
/// search by prices finds, which need not be the most; and the plan that has them. All zero, and no plan, where it finds none.
template <class = when_called>
[[nodiscard]] std::vector<std::int64_t> asked_and_had(const cutting_problem& problem,
                                                      const std::vector<slab_demand>& rows, search_clock& clock,
                                                      std::vector<grid_slab>& plan) {
    asked_portions objective{std::vector<std::int64_t>(problem.option_count())};
    std::vector<slab_demand> capped = rows;
    for (slab_demand& row : capped) {
        if (row.least == 0) continue;
        objective.pieces[row.option] = problem.pieces(row.option);
        row.most = std::min(row.most, row.least);
        row.least = 0;
    }
    const auto most = relaxed_demand<asked_portions>(problem, objective, capped, clock).run();
    plan = most.stretches;
    return most.found ? slabs_of(problem, rows, most.stretches) : std::vector<std::int64_t>(rows.size());
}

template <objective O>
[[nodiscard]] relaxed_answer<typename O::score_type> nearest_within(const cutting_problem& problem, const O& objective,
                                                                    const std::vector<slab_demand>& rows,
                                                                    search_clock& clock) {
    std::vector<grid_slab> plan;
    const std::vector<std::int64_t> had = asked_and_had(problem, rows, clock, plan);
    std::vector<slab_demand> lowered = rows;
    for (std::size_t k = 0; k < rows.size(); ++k) lowered[k].least = std::min(rows[k].least, had[k]);
    auto nearest = relaxed_demand<O>(problem, objective, lowered, clock).run();
    if (nearest.found) return nearest;
    if (!plan.empty()) { // it has what the search for a better one could not find again
        nearest.score = score_of(problem, objective, plan);
        nearest.stretches = std::move(plan);
        nearest.found = !forbids(nearest.score);
        if (nearest.found) return nearest;
    }
    for (slab_demand& row : lowered) row.least = 0;
    return relaxed_demand<O>(problem, objective, lowered, clock).run();
}

/// The best plan found that keeps all caps and has of each row what it can have beside the others (`asked_and_had`); failing
/// that, the best one found that keeps the caps. `found` is false where neither is. Where all that is asked for can be had
/// after all, the plan has it. Three searches by prices at the most, without proofs; none where the
/// clock has stopped.
template <objective O>
[[nodiscard]] relaxed_answer<typename O::score_type> nearest_by_prices(const cutting_problem& problem,
                                                                       const O& objective,
                                                                       const std::vector<slab_demand>& rows,
                                                                       search_clock& clock) {
    if (clock.stopped()) return {};
    search_limits limits = clock.limits();
    limits.prove = false;
    limits.found = {};
    limits.most_passes = clock.left();
    search_clock own(limits);
    auto nearest = nearest_within(problem, objective, rows, own);
    static_cast<void>(clock.go_on(limits.most_passes - own.left()));
    return nearest;
}

} // namespace tranche::detail
