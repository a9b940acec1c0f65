// The fewest settings of the slicer for the rest of a loin, beside those that it was set to.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/rest_want.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The most portions of the rest; among such plans the fewest thicknesses that the slicer was not set to before, then the most
/// mass in portions. As `fewest_settings` with its 10,000 tilings: where they run out, the best plan found.
template <class = when_called>
[[nodiscard]] rest_plan few_settings_rest(const rest_of_loin& rest, const search_limits& search) {
    const auto both = lexicographic(portion_count_objective(rest.problem), portion_mass_objective(rest.problem));
    // Demands that cannot be met are come near to; those of too many counts are met, with whatever settings.
    auto free = best_path_with_demand(rest.problem, both, rest.demands, search);
    const std::vector<slab_demand> rows = in_slabs(rest.problem, rest.demands).rows;
    if (!free.finite || free.outcome != demand_outcome::met ||
        !few_states(rest.problem, counters_of(rest.problem, rows), most_ordered_entries))
        return {.stretches = free.stretches, .finite = free.finite, .ended = free.ended};
    std::vector<std::int64_t> held;
    for (const portions_in_front& slab : rest.cut) held.push_back(static_cast<std::int64_t>(in_grains(slab.thickness)));
    const search_limits limits = with_tilings(search);
    search_clock clock(limits);
    settings_search<std::remove_const_t<decltype(both)>> sets(rest.problem, both, rows, clock, held);
    const auto enough = [&](const auto& score) { return !(std::get<0>(score.parts) < std::get<0>(free.score.parts)); };
    const auto [chosen, at_least] = sets.fewest(sets.as_tiling(std::move(free.stretches), free.score), enough);
    rest_plan plan{.stretches = chosen.stretches, .ended = clock.ended()};
    add_parts(plan.score_parts, std::get<0>(chosen.score.parts), std::get<0>(free.bound.parts));
    plan.score_parts.push_back({-static_cast<double>(chosen.settings()), -static_cast<double>(at_least)});
    return plan;
}

} // namespace tranche::detail
