// The named ways to plan: most portions, least waste, best value, or by an objective of your own.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/priced_score.hpp>
#include <tranche/optimise/engine/segment.hpp>
#include <tranche/optimise/engine/segment_with_demand.hpp>
#include <tranche/optimise/explain/limits.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/giveaway.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/score.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/same_number.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Why the optimiser stopped.
enum class stop_reason {
    optimal,           ///< the best tiling on the grid was found
    no_portion_fits,   ///< the best tiling has no portion because none of any spec can be cut
    no_portion_pays,   ///< portions can be cut, but the objective rates every plan with one below loose meat alone
    no_portion_wanted, ///< the demands allow no portion of what could be cut
    gap_left,          ///< a plan that meets the demands was found, and a bound above it: the optimum lies between
    demand_impossible, ///< no plan meets the demands; this is the best one without them
    demand_not_found, ///< no plan that meets the demands was found, nor a proof that there is none; this one is without
    objective_not_finite ///< a user's objective returned NaN or +infinity, or forbids every plan; this one means nothing
};

/// A plan and what is known of it.
struct planned {
    tranche::cutting_plan plan;
    stop_reason stop = stop_reason::optimal;
    std::size_t positions = 0, options = 0; ///< of the problem
    std::size_t states = 1;            ///< that all searches for the plan told apart: one a search that counts nothing,
                                       ///< else its counts; the look without demands that comes first is left out;
                                       ///< 0 by relaxation
    std::vector<binding_limit> limits; ///< of each spec of which no portion at all can be cut

    /// What the plan scores, what no plan that meets the demands can exceed, and how far they lie apart: in the units of the
    /// objective (`kept_mass_objective`: micrograms and its weights; `value_objective`: billionths of the currency), rounded
    /// to a double. The gap is a difference of exact scores, and zero only if they are equal. A score of several parts is no
    /// number: score and bound are NaN, their parts say more, and the gap is that of the first part in which they differ.
    /// No plan is better in the parts before that, and none by more than the gap in that part; of the parts behind it the
    /// gap says nothing. The gap is NaN where that is not known, and where the plan does not have what the demands ask for.
    /// All are NaN for an objective that is not finite.
    double score = 0.0, bound = 0.0, gap = 0.0;
    std::vector<double> score_parts{};          ///< `score`, or the parts of a lexicographic one in their order
    std::vector<double> bound_parts{};          ///< the same of `bound`; empty if there is no bound
    std::vector<demand_shortfall> shortfalls{}; ///< the demands that cannot be met

    /// Whether the plan has portions that meet every limit, as many as the demands ask for.
    [[nodiscard]] bool feasible() const { return stop == stop_reason::optimal || stop == stop_reason::gap_left; }
    /// Whether no other plan on the grid that meets the demands scores higher. Not so when the objective was not finite, when
    /// a gap is left, or when the demands are not met.
    [[nodiscard]] bool proven_optimal() const {
        return stop != stop_reason::objective_not_finite && stop != stop_reason::gap_left &&
               stop != stop_reason::demand_impossible && stop != stop_reason::demand_not_found;
    }

    /// Positions × options × states: how much was looked at, which is the work of a separable objective.
    [[nodiscard]] std::size_t evaluated() const { return positions * options * states; }

    /// One sentence for each spec and each demand that cannot be met, on lines of their own; empty if all can.
    [[nodiscard]] TRANCHE_COLD std::string why_not() const {
        std::string text;
        for (const binding_limit& limit : limits) text += (text.empty() ? "" : "\n") + limit.text();
        for (const demand_shortfall& shortfall : shortfalls) text += (text.empty() ? "" : "\n") + shortfall.text;
        if (stop == stop_reason::no_portion_wanted) text = "portions can be cut, but the demands allow none";
        if (stop == stop_reason::demand_not_found)
            text = "no plan that meets all demands was found, nor a proof that there is none; try fewer demands";
        if (stop == stop_reason::no_portion_pays) text = "portions can be cut, but none is worth more than loose meat";
        if (stop == stop_reason::objective_not_finite) text = "the objective returned a value that is not finite";
        return text;
    }

    /// NaN is the same as NaN here: what is not known of one plan is not known of its copy either.
    friend bool operator==(const planned& a, const planned& b) {
        const auto& [its_plan, why, places, kinds, told_apart, out, value, most, apart, values, mosts, missing] = a;
        return its_plan == b.plan && why == b.stop && places == b.positions && kinds == b.options &&
               told_apart == b.states && out == b.limits && detail::same_number(value, b.score) &&
               detail::same_number(most, b.bound) && detail::same_number(apart, b.gap) &&
               detail::same_numbers(values, b.score_parts) && detail::same_numbers(mosts, b.bound_parts) &&
               missing == b.shortfalls;
    }
};

namespace detail {

/// What is said of a plan once the objective has returned NaN or +infinity, or has forbidden every plan.
template <class = when_called>
void say_not_finite(planned& planned) {
    planned.stop = stop_reason::objective_not_finite;
    planned.score = planned.bound = planned.gap = std::numeric_limits<double>::quiet_NaN();
    planned.score_parts.clear();
    planned.bound_parts.clear();
}

/// What is said of a plan above which a better one may lie, without a bound between them that is a number.
template <class = when_called>
void say_gap_left(planned& planned, std::vector<double> bound_parts = {}) {
    planned.stop = stop_reason::gap_left;
    planned.bound = planned.gap = std::numeric_limits<double>::quiet_NaN();
    planned.bound_parts = std::move(bound_parts);
}

/// The plan that the stretches of a search make, and why the search stopped as far as the portions tell.
template <class Score>
[[nodiscard]] planned planned_from(const cutting_problem& problem, const std::vector<stretch>& stretches,
                                   const Score& score, bool finite = true) {
    planned result{.plan = lay_out(problem.meat(), problem.specs(), problem.rules(), stretches),
                   .stop = stop_reason::optimal,
                   .positions = problem.cells() + 1,
                   .options = problem.option_count(),
                   .limits = {}};
    std::size_t without = 0;
    std::vector<bool> used(problem.specs().size());
    for (const stretch& s : stretches)
        if (s.kind == slab_kind::portions) used[s.option] = true;
    for (std::size_t spec = 0; spec < used.size(); ++spec) {
        if (used[spec]) continue;
        ++without;
        if (auto limit = binding_limit_of(problem, spec)) result.limits.push_back(std::move(*limit));
    }
    if (without == used.size())
        result.stop = result.limits.size() == used.size() ? stop_reason::no_portion_fits : stop_reason::no_portion_pays;
    result.score = result.bound = number_of(score);
    result.score_parts = result.bound_parts = numbers_of(score);
    if (!finite || !is_finite(score)) say_not_finite(result);
    return result;
}

/// Whether the demands forbid every portion of whatever could be cut.
template <class = when_called>
[[nodiscard]] bool allow_none(const cutting_problem& problem, const std::vector<demand>& demands,
                              const std::vector<binding_limit>& limits) {
    std::vector<bool> out(problem.specs().size());
    for (const binding_limit& limit : limits) out[limit.spec] = true;
    for (const demand& wanted : demands) {
        const std::size_t spec = spec_of(wanted, problem.specs());
        if (wanted.at_most < problem.specs()[spec].pieces) out[spec] = true;
    }
    return std::find(out.begin(), out.end(), false) == out.end();
}

} // namespace detail

/// Plans by any objective, including one of your own: `segment`, then `even_out`, then weights.
/// Complexity as for `segment`, and O(cells × specs) for the weights. Scores are in units of the objective. Ties go as
/// in `segment`. Throws what `segment` throws; an objective that is not finite is an answer, `objective_not_finite`.
template <objective O>
[[nodiscard]] planned plan(const cutting_problem& problem, const O& objective) {
    auto best = segment(problem, objective);
    even_out(problem, objective, best.stretches);
    planned result = detail::planned_from(problem, best.stretches, best.score, best.finite);
    result.states = best.searched;
    return result;
}

/// The same among plans that have the portions asked for, by `segment_with_demand`. Demands that cannot be met are an answer:
/// see `stop` and `shortfalls`. Throws `invalid_input` for a demand that is impossible in itself. Complexity as for
/// `segment_with_demand`.
template <objective O>
[[nodiscard]] planned plan(const cutting_problem& problem, const O& objective, const std::vector<demand>& demands,
                           const demand_search& search = {}) {
    if (demands.empty()) return plan(problem, objective);
    auto best = segment_with_demand(problem, objective, demands, search);
    even_out(problem, objective, best.stretches);
    if (best.outcome == demand_outcome::met && !best.proven_optimal()) { // evening out may have found a better one
        best.score = {};
        for (const detail::stretch& s : best.stretches)
            best.score = best.score + slab_score(objective,
                                                 s.option + (s.kind == slab_kind::portions ? problem.loose_count() : 0),
                                                 s.from, s.to);
    }
    planned result = detail::planned_from(problem, best.stretches, best.score, best.finite);
    result.states = best.states;
    result.shortfalls = std::move(best.shortfalls);
    if (result.stop == stop_reason::objective_not_finite) return result;
    result.bound = detail::number_of(best.bound);
    result.bound_parts = detail::numbers_of(best.bound);
    result.gap = best.outcome == demand_outcome::met ? detail::gap_between(best.score, best.bound)
                                                     : std::numeric_limits<double>::quiet_NaN();
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

/// The most portions that meet the limits of their specs; among those the most mass in portions.
/// With one spec of a given thickness this is how many such slices the loin gives, squared at the rib end.
/// All named ways take demands: portions of a spec that there must or may be. Without the argument no search for them is
/// compiled.
/// Throws `invalid_input` for specs, rules or demands that are impossible in themselves. A spec is counted in portions,
/// lengths are met on the grid of the profile to half a step, weights to the microgram. Ties go as in `segment`: loose
/// meat first, then earlier specs, then earlier starts. O(positions × specs), times the states of demands. Thickness is
/// above zero, weights and shares as `validate` of a spec wants them; counts of demands are zero or more.
template <class = detail::when_called>
[[nodiscard]] planned most_portions(const profile& meat, const cut_list& specs, const cutting_rules& rules = {}) {
    const cutting_problem problem(meat, specs, rules);
    return plan(problem, kept_mass_objective::portions_then_mass(problem));
}
template <class = detail::when_called>
[[nodiscard]] planned most_portions(const profile& meat, const cut_list& specs, const cutting_rules& rules,
                                    const std::vector<demand>& demands) {
    const cutting_problem problem(meat, specs, rules);
    return plan(problem, kept_mass_objective::portions_then_mass(problem), demands);
}

/// The most mass in portions that meet their limits, which leaves the least as trim, loose meat and loss; among equals
/// the most portions. Throws as `most_portions`.
template <class = detail::when_called>
[[nodiscard]] planned least_waste(const profile& meat, const cut_list& specs, const cutting_rules& rules = {}) {
    const cutting_problem problem(meat, specs, rules);
    return plan(problem, kept_mass_objective::mass_then_portions(problem));
}
template <class = detail::when_called>
[[nodiscard]] planned least_waste(const profile& meat, const cut_list& specs, const cutting_rules& rules,
                                  const std::vector<demand>& demands) {
    const cutting_problem problem(meat, specs, rules);
    return plan(problem, kept_mass_objective::mass_then_portions(problem), demands);
}

namespace detail {

/// `demands`, one list of them or nothing: what is not asked for is not compiled.
template <class... Demands>
[[nodiscard]] planned plan_of_least_giveaway(const profile& meat, const std::vector<cut_spec>& specs,
                                             const charged_weights& charged, const cutting_rules& rules,
                                             const Demands&... demands) {
    const cutting_problem problem(meat, specs, rules);
    const portion_count_objective count(problem);
    const std::vector<mass> charges = charges_of(specs, charged);
    bool short_weight = false;
    for (std::size_t s = 0; s < specs.size(); ++s) {
        if (!(charges[s] > mass{}))
            throw invalid_input("weight charged for " + specs[s].name, "none",
                                "a weight, or a least portion of the cut");
        short_weight = short_weight || charges[s] > specs[s].portion.min;
    }
    if (short_weight) return plan(problem, lexicographic(count, overweight_objective(problem, charged)), demands...);
    return plan(problem, lexicographic(count, giveaway_objective(problem, charged)), demands...);
}

} // namespace detail

/// The most portions, and among plans of as many the least weight in them above what is charged for: portions are charged at
/// a fixed weight each, by the name of their cut, or at the least one that the cut allows. Where all charges are at or below
/// that, portions cannot be short, and the search is as quick as for `most_portions`; otherwise it looks at every slab, and
/// short portions give nothing away. Minus the giveaway in micrograms is `score_parts[1]`.
/// Throws as `most_portions`, and for a charge that is missing, bad, or for a cut that does not exist.
template <class = detail::when_called>
[[nodiscard]] planned least_giveaway(const profile& meat, const cut_list& specs, const charged_weights& charged = {},
                                     const cutting_rules& rules = {}) {
    return detail::plan_of_least_giveaway(meat, specs, charged, rules);
}
template <class = detail::when_called>
[[nodiscard]] planned least_giveaway(const profile& meat, const cut_list& specs, const charged_weights& charged,
                                     const cutting_rules& rules, const std::vector<demand>& demands) {
    return detail::plan_of_least_giveaway(meat, specs, charged, rules, demands);
}

/// The highest worth of portions, loose meat and trim at these prices, less the labour on portions: a mix of products.
/// Every spec needs a price. Throws as `most_portions`, and for a price that is missing or not finite. Scores are
/// billionths of the currency, ties go as in `segment`. Negative values of by-products are costs of disposal.
template <currency C>
[[nodiscard]] planned best_value(const profile& meat, const cut_list& specs, const price_list<C>& prices,
                                 const cutting_rules& rules = {}) {
    const cutting_problem problem(meat, specs, rules);
    return plan(problem, worth_objective(problem, prices));
}
template <currency C>
[[nodiscard]] planned best_value(const profile& meat, const cut_list& specs, const price_list<C>& prices,
                                 const cutting_rules& rules, const std::vector<demand>& demands) {
    const cutting_problem problem(meat, specs, rules);
    return plan(problem, worth_objective(problem, prices), demands);
}

} // namespace tranche
