// What each place costs where the knife could go: the best plan less the best plan that has a cut there.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/detail/best_first.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/rest_table.hpp>
#include <tranche/optimise/engine/detail/thickness_choices.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// What a cut at one position of the grid costs.
struct cut_regret {
    length at{}; ///< from the rib face
    double lost =
        0.0; ///< score of the best plan less that of the best plan with a cut here, in units of the objective;
             ///< infinity where no plan has one; NaN where they differ in a part that is no number
    std::size_t part = 0; ///< of the score: the first in which the two differ, from 0; the last if in none

    friend bool operator==(const cut_regret&, const cut_regret&) = default;
};

namespace detail {

/// best - other in the first part in which they differ, and which that is.
template <additive_score Score>
[[nodiscard]] std::pair<double, std::size_t> lost_against(const Score& best, const Score& other) {
    if constexpr (std::is_arithmetic_v<Score>)
        return {static_cast<double>(best - other), 0};
    else if constexpr (requires { best.parts; }) {
        std::pair<double, std::size_t> lost{0.0, 0};
        const auto look = [&]<std::size_t I>(std::integral_constant<std::size_t, I>) {
            if (lost.first == 0.0) lost = {lost_against(std::get<I>(best.parts), std::get<I>(other.parts)).first, I};
        };
        [&]<std::size_t... I>(std::index_sequence<I...>) { (look(std::integral_constant<std::size_t, I>{}), ...); }
        (std::make_index_sequence<std::tuple_size_v<decltype(best.parts)>>{});
        return lost;
    } else {
        const std::vector<double> a = numbers_of(best), b = numbers_of(other);
        const bool equal = !(best < other) && !(other < best);
        return {a.empty() ? (equal ? 0.0 : std::numeric_limits<double>::quiet_NaN()) : a.front() - b.front(), 0};
    }
}

/// The best score of all paths through each position of a problem that keep some counts; nothing where there is none.
template <objective O>
void add_ways_through(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows,
                      std::size_t most_entries, std::vector<reached<typename O::score_type>>& through) {
    const demand_memory states = demand_memory_within(problem, rows, most_entries);
    const path_table<O, demand_memory> front(problem.graph(), objective, states);
    const rest_table<O, demand_memory> rest(problem.graph(), objective, states,
                                            [&](std::size_t state) { return has_all(states, rows, state); });
    for (std::size_t s = 0; s < states.size(); ++s)
        for (std::size_t p = problem.start(); p <= problem.cells(); ++p)
            if (front.at(s, p) && rest.behind(s, p))
                through[p].offer(front.at(s, p).score + rest.behind(s, p).score, p, s);
}

} // namespace detail

/// For who has a problem and its objective already.
template <objective O>
[[nodiscard]] std::vector<cut_regret> cut_regrets(const cutting_problem& problem, const O& objective,
                                                  const std::vector<demand>& demands = {},
                                                  const search_limits& search = {}) {
    validate(demands, problem.specs());
    if (!detail::all_finite(problem.graph(), objective)) return {};
    detail::require_few_thickness_choices(problem, 2000);
    const detail::slab_demands wanted = detail::in_slabs(problem, demands);
    std::vector<detail::reached<typename O::score_type>> through(problem.cells() + 1);
    if (wanted.shortfalls.empty())
        detail::each_thickness_choice(problem, length{}, [&](const cutting_problem& one) {
            detail::add_ways_through(one, objective, wanted.rows, search.most_entries, through);
        });
    const auto& best = through[problem.start()];
    std::vector<cut_regret> regrets;
    if (!best || !is_finite(best.score)) return regrets;
    for (std::size_t p = problem.start(); p <= problem.cells(); ++p) {
        cut_regret here{.at = problem.meat().position(p), .lost = std::numeric_limits<double>::infinity()};
        if (through[p]) std::tie(here.lost, here.part) = detail::lost_against(best.score, through[p].score);
        if (here.lost < 0.0) here.lost = 0.0; // of floating scores, by rounding
        regrets.push_back(here);
    }
    return regrets;
}

/// For each position of the grid from where the facing is cut to the sirloin face what a cut there costs:
/// s(best plan) - s(best plan that has a cut there), with s the score. Both have what the demands ask for, and keep every limit.
/// Zero where some best plan is cut; elsewhere it says how much hangs on cutting just so, and along a plan how far each cut may
/// be off before it matters. The same as planning again with each position in `cutting_rules::cut_at`, but for loose meat beside it,
/// which has to be as thick as elsewhere. Evening out is not looked at.
///
/// Empty where no plan has what the demands ask for, and where the objective is not finite. Exact on the grid, of floating scores
/// up to rounding: one table of the best paths to each position, and one of the best paths from it. O(slabs of portions + positions ×
/// options) for separable objectives, O(slabs) for others; times the states of demands and of an order of cuts, of which tables of
/// `search.most_entries` have to hold all, and times the choices of a common thickness, of which there are at most 2000; beyond
/// either, `invalid_input`. Throws what `plan` does.
template <objective_want W>
[[nodiscard]] std::vector<cut_regret> cut_regrets(const profile& meat, const cutting_request& request, const W& want,
                                                  const search_limits& search = {}) {
    const cutting_problem problem(meat, request.cuts, request.rules);
    return detail::with_objective(
        want, problem, [&](const auto& objective) { return cut_regrets(problem, objective, request.demands, search); });
}

} // namespace tranche
