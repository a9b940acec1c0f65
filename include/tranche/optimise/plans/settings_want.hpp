// Fewest settings of the slicer as a want.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/on_finer_grid.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/detail/cut_mover.hpp>
#include <tranche/optimise/plans/detail/few_settings_rest.hpp>
#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/plans/polish.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/score.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// The slabs of a plan on a finer grid that have one setting on the plan's own, in a group each.
template <class = when_called>
[[nodiscard]] thickness_groups groups_of_settings(const cutting_problem& fine, const std::vector<grid_slab>& slabs,
                                                  const cutting_problem& grid, const cutting_plan& cuts) {
    std::vector<const slab*> behind_facing;
    for (const slab& s : cuts.slabs)
        if (s.kind != slab_kind::facing) behind_facing.push_back(&s);
    const profile& meat = grid.meat();
    return groups_by(fine, slabs, [&](std::size_t i) {
        const slab& s = *behind_facing[i];
        const std::size_t option = grid.loose_count() + s.option,
                          cells = grid.cells_of(option, meat.nearest(s.start), meat.nearest(s.end()));
        return static_cast<std::int64_t>(
            std::llround(static_cast<double>(cells) * step_in_grains(meat.step()) - in_grains(grid.kerf(option))));
    });
}

template <class = when_called>
struct fewest_settings_want {
    [[nodiscard]] planned operator()(const profile& meat, const cutting_request& request,
                                     const search_limits& search = {}) const {
        few_settings few = fewest_settings(meat, request.cuts, request.rules, request.demands, search);
        planned& found = few.planned;
        if (!found.score_parts.empty())
            found.score_parts.insert(found.score_parts.begin() + 1,
                                     {-static_cast<double>(few.settings), -static_cast<double>(few.at_least)});
        return std::move(found);
    }

    [[nodiscard]] rest_plan rest(const rest_of_loin& rest, const search_limits& search = {}) const {
        return few_settings_rest(rest, search);
    }

    /// The cuts of the plan of the profile's grid move, slabs of one setting together, to the most mass in portions.
    [[nodiscard]] polished_cuts polished(const profile& meat, const cutting_request& request, length resolution,
                                         const search_limits& search = {}) const {
        const std::size_t parts = parts_of_a_cell(meat, resolution);
        planned coarse = (*this)(meat, request, search);
        if (!coarse.feasible()) return {meat, std::move(coarse)};
        profile fine = on_finer_grid(meat, parts);
        const cutting_problem grid(meat, request.cuts, request.rules), problem(fine, request.cuts, request.rules);
        const std::vector<grid_slab> start = slabs_on(problem, coarse.plan);
        const thickness_groups groups = groups_of_settings(problem, start, grid, coarse.plan);
        const portion_mass_objective kept(problem);
        bool finite = true;
        search_clock clock(search);
        const auto best = best_moved(problem, kept, start, groups, parts, finite, [&] { return clock.go_on(); });
        if (!best) return {meat, std::move(coarse)};
        using parts_of_score = lexicographic_score<std::int64_t, std::int64_t, std::int64_t>;
        planned found = planned_from(problem, best->slabs(),
                                     parts_of_score{{static_cast<std::int64_t>(coarse.plan.portion_count()),
                                                     -static_cast<std::int64_t>(groups.cells.size()), best->score()}});
        say_gap_left(found);
        found.searched.ended = clock.stopped() ? clock.ended() : coarse.searched.ended;
        return {std::move(fine), std::move(found)};
    }
};

} // namespace detail

/// The most portions with the fewest settings of the slicer; among such plans the most mass in portions. `score_parts`
/// are portions, minus the settings, and micrograms in portions; minus the bound of the second is how few there might
/// be. See `fewest_settings` for a loin. Throws nothing; when planned with, what `fewest_settings` for a loin throws.
template <class = detail::when_called>
[[nodiscard]] detail::fewest_settings_want<> fewest_settings() {
    return {};
}

} // namespace tranche
