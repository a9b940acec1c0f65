// The one call: a loin, what is asked of it, and what is best give a plan and what is known of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <vector>

#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/detail/demands/priced_score.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/want.hpp>

namespace tranche {

namespace detail {

/// Without demands.
template <objective O>
[[nodiscard]] planned plan_alone(const cutting_problem& problem, const O& objective, const search_limits& search) {
    auto best = best_path(problem, objective, search);
    even_out(problem, objective, best.stretches);
    planned result = planned_from(problem, best.stretches, best.score, best.finite);
    result.searched.states = best.searched;
    result.searched.ended = best.ended;
    if (best.score < best.bound && result.stop != stop_reason::objective_not_finite)
        say_gap_left(result, numbers_of(best.bound));
    return result;
}

} // namespace detail

/// For who has a problem and its objective already, as an engine of their own has: `best_path`, then `even_out`, then weights.
/// Without the demands no search for them is compiled. Complexity as for `best_path`, and O(cells × specs) for the weights.
/// Scores are in units of the objective. Ties go as in `best_path`. Throws what `best_path` throws; an objective that is not
/// finite is an answer, `objective_not_finite`.
template <objective O>
[[nodiscard]] planned plan(const cutting_problem& problem, const O& objective) {
    return detail::plan_alone(problem, objective, {});
}

/// The same among plans that have the portions asked for, by `best_path_with_demand`. Demands that cannot be met are an
/// answer: see `stop` and `shortfalls`. Throws `invalid_input` for a demand that is impossible in itself. Complexity as
/// for `best_path_with_demand`. Counts are portions, scores in units of the objective.
template <objective O>
[[nodiscard]] planned plan(const cutting_problem& problem, const O& objective, const std::vector<demand>& demands,
                           const search_limits& search = {}) {
    if (demands.empty()) return detail::plan_alone(problem, objective, search);
    auto best = best_path_with_demand(problem, objective, demands, search);
    even_out(problem, objective, best.stretches);
    if (best.outcome == demand_outcome::met && !best.proven_optimal()) // evening out may have found a better one
        best.score = detail::score_of(problem, objective, best.stretches);
    planned result = detail::planned_from(problem, best.stretches, best.score, best.finite);
    result.searched.states = best.states;
    result.searched.ended = best.ended;
    result.shortfalls = std::move(best.shortfalls);
    if (result.stop == stop_reason::objective_not_finite) return result;
    result.score_parts.clear();
    detail::add_parts(result.score_parts, best.score, best.bound);
    if (best.outcome == demand_outcome::impossible)
        result.stop = stop_reason::demand_impossible;
    else if (best.outcome == demand_outcome::not_found || best.outcome == demand_outcome::not_searched)
        result.stop = stop_reason::demand_not_found;
    else if (!best.proven_optimal())
        result.stop = stop_reason::gap_left;
    else if (result.stop == stop_reason::no_portion_pays && detail::allow_none(problem, demands, result.limits))
        result.stop = stop_reason::no_portion_wanted;
    return result;
}

/// The plan of a request that is best by a want, and what is known of it: the best tiling on the grid of the profile that has
/// what the demands ask for, evened out among equals. A request that cannot be met is an answer: `feasible()` is false, and
/// `why_not()` says why.
///
/// Throws `invalid_input` for cuts, rules or demands that are impossible in themselves, and what the want throws where it is
/// bound. A cut is counted in portions, lengths are met on the grid of the profile to half a step, weights to the microgram.
/// Ties go as in `best_path`: loose meat first, then earlier cuts, then earlier starts. O(positions × cuts) for separable
/// objectives, times the states of demands; `search` says how far exact states go, and when to end a search that takes long.
/// A want that plans by itself is given it where it takes it: want(meat, request, search).
template <want W>
[[nodiscard]] planned plan(const profile& meat, const cutting_request& request, const W& want,
                           [[maybe_unused]] const search_limits& search = {}) {
    if constexpr (planning_want<W> && requires { want(meat, request, search); })
        return want(meat, request, search);
    else if constexpr (planning_want<W>)
        return want(meat, request);
    else {
        const cutting_problem problem(meat, request.cuts, request.rules);
        return detail::with_objective(
            want, problem, [&](const auto& objective) { return plan(problem, objective, request.demands, search); });
    }
}

namespace detail {

/// The same for a request about the loin of another one, with its tables.
template <want W>
[[nodiscard]] planned plan_like(const cutting_problem& like, const cutting_request& request, const W& want,
                                const search_limits& search) {
    if constexpr (planning_want<W>)
        return plan(like.meat(), request, want, search);
    else {
        const cutting_problem problem(like, request.cuts, request.rules);
        return with_objective(want, problem,
                              [&](const auto& objective) { return plan(problem, objective, request.demands, search); });
    }
}

/// The plan of cuts without demands: no search for them is compiled.
template <objective_want W>
[[nodiscard]] planned plan_cuts(const profile& meat, const cut_list& cuts, const cutting_rules& rules, const W& want) {
    const cutting_problem problem(meat, cuts, rules);
    return with_objective(want, problem, [&](const auto& objective) { return plan(problem, objective); });
}

} // namespace detail

} // namespace tranche
