// Equal portions of the rest of a loin, together with those that are cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/even_search.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/rest_want.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Of all plans of the rest with which there are just `portions` in all (by default as many as the rest gives) one in which
/// those that are cut and those to come differ by least; among these as `even_portions`. Where so many can no longer be had,
/// as many as can; what is missing is a shortfall. What is `within` is even enough, in micrograms. Searches as `even_portions`
/// has them, for each number that is tried.
template <class = when_called>
[[nodiscard]] rest_plan even_rest(const rest_of_loin& rest, std::optional<std::int64_t> portions, std::int64_t within,
                                  const search_limits& limits) {
    even_weights held{window_cost::never, window_cost::none};
    std::int64_t cut = 0;
    for (const portions_in_front& slab : rest.cut) {
        cut += slab.portions;
        held.lightest = std::min(held.lightest, slab.weight);
        held.heaviest = std::max(held.heaviest, slab.weight);
    }
    // Demands that cannot be met are come near to; those of too many counts are met, as evenly as it happens.
    const auto most = best_path_with_demand(rest.problem, kept_mass_objective::portions_then_mass(rest.problem),
                                            rest.demands, limits);
    search_clock clock(limits);
    const std::vector<slab_demand> rows = in_slabs(rest.problem, rest.demands).rows;
    if (most.outcome != demand_outcome::met ||
        (!rows.empty() && !few_states(rest.problem, counters_of(rest.problem, rows), most_even_entries)))
        return {.stretches = most.stretches, .finite = most.finite, .ended = most.ended};
    const auto possible = static_cast<std::int64_t>(portion_count(rest.problem.specs(), most.stretches));
    const std::int64_t wanted = portions ? std::max<std::int64_t>(*portions - cut, 0) : possible;
    std::size_t states = 0;
    const auto solve = [&](const cutting_problem& p, std::int64_t count) {
        return most_even(p, count, rows, within, states, held, &clock);
    };
    const auto as_many = [&](const std::vector<grid_slab>& stretches, std::int64_t count) {
        rest_plan plan{.stretches = stretches, .ended = clock.ended()};
        if (count < wanted)
            plan.shortfalls.push_back({.spec = 0,
                                       .wanted = wanted,
                                       .possible = count,
                                       .text = std::to_string(wanted) + " more asked for in all, and the rest gives " +
                                               (count > 0 ? std::to_string(count) : "none")});
        return plan;
    };
    for (std::int64_t count = std::min(wanted, possible); count > 0; --count) {
        const auto best = rest.problem.varying().empty()
                              ? solve(rest.problem, count)
                              : best_of_one_thickness<even_tiling>(
                                    rest.problem, [&](const cutting_problem& p) { return solve(p, count); },
                                    [&] { return !clock.stopped(); });
        if (!best && clock.stopped()) break; // there may be one
        if (!best) continue;
        rest_plan plan = as_many(best->stretches, count);
        const auto spread = static_cast<double>(std::get<0>(best->score.parts));
        plan.score_parts = {{spread, clock.stopped() ? 0.0 : static_cast<double>(std::get<0>(best->bound.parts))}};
        return plan;
    }
    if (clock.stopped()) return as_many(most.stretches, possible); // which asks nothing of evenness
    cutting_problem none = rest.problem;
    none.let_thicknesses_differ();
    none.narrow_weights(no_limit, 0);
    return as_many(best_path(none, portion_mass_objective(none)).stretches, 0);
}

} // namespace tranche::detail
