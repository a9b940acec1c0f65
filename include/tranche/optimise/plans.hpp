// The named ways to plan: most portions, least waste, best value, or by an objective of your own.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <type_traits>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/plan.hpp>
#include <tranche/optimise/cutting_problem.hpp>
#include <tranche/optimise/even_out.hpp>
#include <tranche/optimise/limits.hpp>
#include <tranche/optimise/objective.hpp>
#include <tranche/optimise/segment.hpp>

namespace tranche {

/// Why the optimiser stopped.
enum class stop_reason {
    optimal,             ///< the best tiling on the grid was found
    no_portion_fits,     ///< the best tiling has no portion because none of any spec can be cut
    no_portion_pays,     ///< portions can be cut, but the objective rates every plan with one below loose meat alone
    objective_not_finite ///< a user's objective returned NaN or infinity; the plan means nothing
};

/// A plan and what is known of it.
struct planned_cuts {
    tranche::plan plan;
    stop_reason stop = stop_reason::optimal;
    std::size_t positions = 0, options = 0; ///< of the problem: their product is the work of a separable objective
    std::vector<binding_limit> limits;      ///< of each spec of which no portion at all can be cut

    /// Whether the plan has portions that meet every limit.
    [[nodiscard]] bool feasible() const { return stop == stop_reason::optimal; }
    /// Whether no other plan on the grid scores higher. Not so when the objective was not finite.
    [[nodiscard]] bool proven_optimal() const { return stop != stop_reason::objective_not_finite; }

    /// One sentence for each spec that cannot be met, on lines of their own; empty if every spec can be cut somewhere.
    [[nodiscard]] std::string why_not() const {
        std::string text;
        for (const binding_limit& limit : limits) text += (text.empty() ? "" : "\n") + limit.text;
        if (stop == stop_reason::no_portion_pays) text = "portions can be cut, but none is worth more than loose meat";
        if (stop == stop_reason::objective_not_finite) text = "the objective returned a value that is not finite";
        return text;
    }
};

/// Plans by any objective, including one of your own: `segment`, then `even_out`, then weights.
/// Complexity as for `segment`, and O(cells × specs) for the weights.
template <objective O>
[[nodiscard]] planned_cuts plan_with(const cutting_problem& problem, const O& objective) {
    auto best = segment(problem, objective);
    even_out(problem, objective, best.stretches);
    planned_cuts result{.plan = lay_out(problem.meat(), problem.specs(), problem.rules(), best.stretches),
                        .stop = stop_reason::optimal,
                        .positions = problem.cells() + 1,
                        .options = problem.option_count(),
                        .limits = {}};
    std::size_t without = 0;
    std::vector<bool> used(problem.specs().size());
    for (const stretch& s : best.stretches)
        if (s.kind == slab_kind::portions) used[s.option] = true;
    for (std::size_t spec = 0; spec < used.size(); ++spec) {
        if (used[spec]) continue;
        ++without;
        if (auto limit = binding_limit_of(problem, spec)) result.limits.push_back(std::move(*limit));
    }
    if (without == used.size())
        result.stop = result.limits.size() == used.size() ? stop_reason::no_portion_fits : stop_reason::no_portion_pays;
    if constexpr (std::is_floating_point_v<typename O::score_type>)
        if (!std::isfinite(best.score)) result.stop = stop_reason::objective_not_finite;
    return result;
}

/// The most portions that meet the limits of their specs; among those the most mass in portions.
/// With one spec of a given thickness this is how many such slices the loin gives, squared at the rib end.
/// Throws `invalid_input` for specs or rules that are impossible in themselves.
[[nodiscard]] inline planned_cuts most_portions(const profile& meat, const std::vector<cut_spec>& specs,
                                                const cutting_rules& rules = {}) {
    const cutting_problem problem(meat, specs, rules);
    return plan_with(problem, kept_mass_objective::portions_then_mass(problem));
}
[[nodiscard]] inline planned_cuts most_portions(const profile& meat, const cut_spec& spec,
                                                const cutting_rules& rules = {}) {
    return most_portions(meat, std::vector{spec}, rules);
}

/// The most mass in portions that meet their limits, which leaves the least as trim, loose meat and loss; among equals
/// the most portions. Throws as `most_portions`.
[[nodiscard]] inline planned_cuts least_waste(const profile& meat, const std::vector<cut_spec>& specs,
                                              const cutting_rules& rules = {}) {
    const cutting_problem problem(meat, specs, rules);
    return plan_with(problem, kept_mass_objective::mass_then_portions(problem));
}
[[nodiscard]] inline planned_cuts least_waste(const profile& meat, const cut_spec& spec,
                                              const cutting_rules& rules = {}) {
    return least_waste(meat, std::vector{spec}, rules);
}

/// The highest worth of portions, loose meat and trim at these prices: a mix of products. Every spec needs a price.
/// Throws as `most_portions`, and for a price that is missing or not finite.
template <currency C>
[[nodiscard]] planned_cuts best_value(const profile& meat, const std::vector<cut_spec>& specs,
                                      const price_list<C>& prices, const cutting_rules& rules = {}) {
    const cutting_problem problem(meat, specs, rules);
    return plan_with(problem, value_objective<C>(problem, prices));
}

} // namespace tranche
