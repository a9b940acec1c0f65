// Plans whose cuts lie between the positions of the profile's grid.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/on_finer_grid.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/detail/cut_mover.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A plan with its cuts on a finer grid.
struct polished_cuts {
    profile meat;             ///< the loin on the grid of the plan: what to `verify` it against and to draw it with
    tranche::planned planned; ///< weights are those of `meat`, in whole micrograms that add up to the loin

    friend bool operator==(const polished_cuts&, const polished_cuts&) = default;
};

namespace detail {

/// A plan on the finer grid, or that of the profile's own where there is none on the finer one.
struct polished_plan {
    planned found;
    bool finer = true;
};

/// `polish` for a want that is an objective: that of the finer problem.
template <want W, objective O>
[[nodiscard]] polished_plan polished_by(const profile& meat, const cutting_request& request, const W& want,
                                        const cutting_problem& problem, const O& objective, std::size_t parts,
                                        const search_limits& search) {
    if constexpr (separable_objective<O>) {
        constexpr std::size_t most_entries = std::size_t{1}
                                             << 18U; // a search each; hundreds of them, where cuts are linked
        if (request.demands.empty() ||
            (has_choice_of_one_thickness(request.cuts) &&
             few_states(problem, counters_of(problem, in_slabs(problem, request.demands).rows), most_entries)))
            return {plan(problem, objective, request.demands, search)};
    }
    planned coarse = plan(meat, request, want, search);
    if (!coarse.feasible()) return {std::move(coarse), false};
    const std::vector<grid_slab> start = slabs_on(problem, coarse.plan);
    bool finite = true;
    search_clock clock(search);
    const auto best = best_moved(problem, objective, start, groups_of_one_thickness(problem, start), parts, finite,
                                 [&] { return clock.go_on(); });
    if (!best || !finite) {
        if (!finite) say_not_finite(coarse);
        return {std::move(coarse), false};
    }
    std::vector<grid_slab> slabs = best->slabs();
    even_out(problem, objective, slabs);
    planned found = planned_from(problem, slabs, best->score());
    if (found.stop == stop_reason::optimal) say_gap_left(found);
    found.searched.ended = clock.stopped() ? clock.ended() : coarse.searched.ended;
    return {std::move(found)};
}

} // namespace detail

/// The plan of a request with its cuts on a grid of `resolution` or a little finer, whatever the grid of the profile.
///
/// - Separable objectives without demands are planned on the finer grid outright: the plan is the best one there, and
///   may have more portions than that of the coarse grid. O(positions × options) of the finer grid, some 42 000
///   positions on a loin of 42 cm at 0.01 mm. So are they with demands if a cut must have one thickness and may choose it:
///   all of its slabs move together then, by a branch and bound over thicknesses of some hundred such searches, each times
///   the count states of the demands, as long as those are no more than 262,144 positions × states.
/// - Otherwise the plan of the profile's own grid is made first, and its cuts then move, in their order, to where they
///   score most: each round looks at all combinations of neighbouring cuts within a step of the coarse grid, and
///   rounds go on as long as they gain. O(slabs × (step / resolution)²) a round. That is the best plan nearby, not
///   proven to be the best of all: `stop` is `gap_left`, and its `bound` and `gap` are NaN.
///
/// Then `even_out` on the finer grid. A window of thickness narrower than the profile's grid, which a plan there may
/// miss by half a step, is kept to half of `resolution`. If the slabs of the coarse plan cannot keep such windows (one
/// of them must go), and in the second case only, the coarse plan comes back as it is, and `meat` is on the profile's
/// grid. So it does, with `stop` `objective_not_finite`, if the objective is not finite for a slab of the finer grid.
///
/// Cuts that must have one thickness move together: that thickness is closed in on, by up to 400 such rounds.
///
/// `search` limits the plan on the coarse grid, or that on the finer one, and the rounds of moving cuts, each counted as a pass; a
/// want that polishes in its own way is given it where it takes it: want.polished(meat, request, resolution, search). Where it ends
/// the search, the best plan so far is the answer, and `searched.ended` says why.
///
/// A want that plans by itself polishes as it says, `even_portions` and `fewest_settings` by moving cuts; one of your own is
/// planned with on the finer grid.
///
/// `resolution` is a length above zero; finer than the most cells that a profile may have throws `invalid_input`, as
/// does what `plan` refuses. What the masses miss between positions: see `on_finer_grid`.
template <want W>
[[nodiscard]] polished_cuts polish(const profile& meat, const cutting_request& request, const W& want,
                                   length resolution = 0.01 * millimetre,
                                   [[maybe_unused]] const search_limits& search = {}) {
    if constexpr (requires { want.polished(meat, request, resolution, search); })
        return want.polished(meat, request, resolution, search);
    else if constexpr (requires { want.polished(meat, request, resolution); })
        return want.polished(meat, request, resolution);
    else {
        const std::size_t finer = detail::parts_of_a_cell(meat, resolution);
        profile fine = on_finer_grid(meat, finer);
        if constexpr (planning_want<W>) {
            planned found = plan(fine, request, want, search);
            return {std::move(fine), std::move(found)};
        } else {
            const cutting_problem problem(fine, request.cuts, request.rules);
            detail::polished_plan best = detail::with_objective(want, problem, [&](const auto& objective) {
                return detail::polished_by(meat, request, want, problem, objective, finer, search);
            });
            if (!best.finer) return {meat, std::move(best.found)};
            return {std::move(fine), std::move(best.found)};
        }
    }
}

} // namespace tranche
