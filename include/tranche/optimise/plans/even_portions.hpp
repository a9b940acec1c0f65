// Equal weights by varying thickness: the plan whose lightest and heaviest portion lie nearest together.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/even_search.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/score.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// A tiling, rated as `even_portions` does: minus the spread, the heaviest portion, the mass in portions.
struct even_tiling {
    std::vector<grid_slab> stretches;
    lexicographic_score<std::int64_t, std::int64_t, std::int64_t> score{}, bound{};
    [[nodiscard]] std::int64_t spread() const { return -std::get<0>(score.parts); }
};

/// The most equal tiling of a problem into so many portions, cuts that must have one thickness taken as they are in its
/// windows; none if there is no tiling. Portions that are `held` count too, and are not cut. Adds what it searched to `states`.
template <class = when_called>
[[nodiscard]] std::optional<even_tiling> most_even(const cutting_problem& problem, std::int64_t portions,
                                                   std::size_t& states,
                                                   const even_weights& held = {window_cost::never, window_cost::none}) {
    even_search<> search(problem, portions);
    const std::optional<even_weights> window = search.narrowest(held);
    states += search.states();
    if (!window) return std::nullopt;
    cutting_problem narrow = problem;
    narrow.let_thicknesses_differ();
    narrow.narrow_weights(window->lightest, window->heaviest);
    const portion_mass_objective mass_in_portions(narrow);
    const auto state = static_cast<std::size_t>(portions);
    const count_states<portion_mass_objective> table(narrow, mass_in_portions, {all_portions(narrow, state)});
    states += table.searched();
    even_tiling found{table.stretches(state), {{-window->spread(), window->heaviest, table.score(state)}}};
    found.bound = found.score;
    return found;
}

} // namespace detail

/// The most equal portions: of all plans with just `portions` of them (of all specs together; by default the most that the
/// limits allow) one with the smallest difference between the heaviest and the lightest. Of equally narrow weights the
/// heavier ones, and within these the most mass in portions. Portions within a slab are equal to the microgram.
///
/// Exact on the grid: for growing lower limits and falling upper ones, the narrowest window is closed in on by searches for
/// the counts that portions of a window of weights can make. O(positions × options) each, however wide the limits of the
/// specs; how many there are depends on how near to the best the others come: some thousand on a loin. An order of cuts
/// multiplies that by its states. Cuts that must have one thickness are found by branch and
/// bound over thicknesses, up to twice as many searches as there are choices.
///
/// `score` is minus that difference in micrograms. If there is no plan with so many portions, the answer is
/// `demand_impossible`, with the plan of the most portions. Throws `invalid_input` as `most_portions`, and for less than one
/// portion.
template <class = detail::when_called>
[[nodiscard]] planned even_portions(const profile& meat, const cut_list& specs, const cutting_rules& rules = {},
                                    std::optional<std::int64_t> portions = {}) {
    if (portions && *portions < 1) throw invalid_input("portions", std::to_string(*portions), "one or more");
    const cutting_problem problem(meat, specs, rules);
    planned most = plan(problem, kept_mass_objective::portions_then_mass(problem));
    const auto possible = static_cast<std::int64_t>(most.plan.portion_count());
    const std::int64_t wanted = portions.value_or(possible);
    if (possible == 0 && !portions) return most;
    std::optional<detail::even_tiling> best;
    if (wanted <= possible) {
        const auto solve = [&](const cutting_problem& p) { return detail::most_even(p, wanted, most.searched.states); };
        best = problem.varying().empty() ? solve(problem)
                                         : detail::best_of_one_thickness<detail::even_tiling>(problem, solve);
    }
    if (!best) {
        most.stop = stop_reason::demand_impossible;
        most.shortfalls.push_back(
            {.spec = 0,
             .wanted = wanted,
             .possible = possible,
             .text = std::to_string(wanted) + (wanted == 1 ? " portion is" : " portions are") +
                     " asked for in all, and " +
                     (wanted > possible ? "the loin gives " + std::to_string(possible) + " at most"
                                        : std::string("there is no plan with just that number"))});
        return most;
    }

    planned result = detail::planned_from(problem, best->stretches, -best->spread(), true);
    result.searched.states = most.searched.states;
    return result;
}

} // namespace tranche
