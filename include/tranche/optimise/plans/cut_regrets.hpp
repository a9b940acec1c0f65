// What each place costs where the knife could go: the best plan less the best plan that has a cut there.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
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
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/detail/thickness_choices.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/want.hpp>

namespace tranche {

/// What a cut at one position of the grid costs.
struct cut_regret {
    length at{}; ///< from the rib face
    double lost =
        0.0; ///< score of the best plan less that of the best plan with a cut here, in units of the objective;
             ///< infinity where no plan has one; NaN where they differ in a part that is no number
    std::size_t part = 0;          ///< of the score: the first in which the two differ, from 0; the last if in none
    double at_least = 0.0;         ///< what is lost in any case: `lost`, unless the search was ended
    std::size_t part_at_least = 0; ///< of the score

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
class scores_through {
public:
    using score_type = typename O::score_type;

    explicit scores_through(std::size_t cells) : best_(cells + 1) {}

    [[nodiscard]] const reached<score_type>& operator[](std::size_t position) const { return best_[position]; }
    /// Paths of a problem; none if that is ended.
    void add(const cutting_problem& problem, const O& objective, const demands_in_table& rows, search_clock& clock) {
        const demand_memory states = rows.memory(problem);
        const path_table<O, demand_memory> front(problem.graph(), objective, states, [&] { return clock.go_on(); });
        if (!front.complete() || !clock.go_on(states.size())) return;
        const rest_table<O, demand_memory> rest(problem.graph(), objective, states,
                                                [&](std::size_t state) { return has_all(states, rows.held, state); });
        for (std::size_t s = 0; s < states.size(); ++s)
            for (std::size_t p = problem.start(); p <= problem.cells(); ++p)
                if (front.at(s, p) && rest.behind(s, p))
                    best_[p].offer(front.at(s, p).score + rest.behind(s, p).score, p, s);
    }
    /// A plan.
    void add(const cutting_problem& problem, const std::vector<grid_slab>& slabs, const score_type& score) {
        best_[problem.start()].offer(score, 0, 0);
        for (const grid_slab& s : slabs) best_[s.to].offer(score, 0, 0);
    }

private:
    std::vector<reached<score_type>> best_;
};

} // namespace detail

/// For who has a problem and its objective already: what is said below. Throws as that does.
template <objective O>
[[nodiscard]] found_list<cut_regret> cut_regrets(const cutting_problem& problem, const O& objective,
                                                 const std::vector<demand>& demands = {},
                                                 const search_limits& search = {}) {
    using score_type = typename O::score_type;
    validate(demands, problem.specs());
    found_list<cut_regret> regrets;
    if (!detail::all_finite(problem.graph(), objective)) return regrets;
    const detail::slab_demands wanted = detail::in_slabs(problem, demands);
    if (!wanted.shortfalls.empty()) return regrets;
    detail::search_clock clock(search);
    const detail::demands_in_table rows(problem, wanted.rows, search.most_entries);
    detail::scores_through<O> known(problem.cells());
    bool all = rows.left.empty() && detail::thickness_choices(problem) <= detail::most_thickness_choices;
    if (all)
        detail::each_thickness_choice(
            problem, [&](const cutting_problem& one) { known.add(one, objective, rows, clock); },
            [&] { return !clock.stopped(); });
    all = all && !clock.stopped();
    // Otherwise what is lost lies between what is lost without some of the limits, and what is by plans that are known.
    detail::scores_through<O> relaxed(problem.cells());
    score_type best{}, bound{};
    if (all) {
        if (!known[problem.start()]) return regrets;
        best = bound = known[problem.start()].score;
    } else {
        regrets.ended = clock.stopped() ? clock.ended() : search_end::out_of_work;
        const auto plan = best_path_with_demand(problem, objective, demands, search);
        if (!plan.finite || plan.outcome != demand_outcome::met) return regrets;
        best = plan.score, bound = plan.bound;
        known.add(problem, plan.stretches, plan.score);
        if (best < known[problem.start()].score) best = known[problem.start()].score;
        cutting_problem apart = problem;
        apart.let_thicknesses_differ();
        const search_limits unlimited{};
        detail::search_clock to_the_end(unlimited); // two passes, if no table of demands may be made
        const detail::demands_in_table in_bound(
            problem, clock.stopped() ? std::vector<detail::slab_demand>{} : wanted.rows, search.most_entries);
        relaxed.add(apart, objective, in_bound, to_the_end);
    }
    if (!is_finite(best)) return regrets;
    for (std::size_t p = problem.start(); p <= problem.cells(); ++p) {
        constexpr double never = std::numeric_limits<double>::infinity();
        cut_regret here{.at = problem.meat().position(p), .lost = never, .at_least = never};
        if (known[p]) std::tie(here.lost, here.part) = detail::lost_against(bound, known[p].score);
        here.lost = std::max(here.lost, 0.0); // of floating scores, by rounding
        if (all)
            here.at_least = here.lost, here.part_at_least = here.part;
        else if (relaxed[p])
            std::tie(here.at_least, here.part_at_least) =
                relaxed[p].score < best ? detail::lost_against(best, relaxed[p].score) : std::pair{0.0, here.part};
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
/// Empty where no plan has what the demands ask for, or none was found, and where the objective is not finite. Exact on the grid, of
/// floating scores up to rounding: one table of the best paths to each position, and one of the best paths from it. O(slabs of portions +
/// positions × options) for separable objectives, O(slabs) for others; times the states of demands and of an order of cuts, and times
/// the choices of a common thickness.
///
/// Where tables of `search.most_entries` do not hold all states, a common thickness has more than 2000 choices, or
/// `search` ends it (a pass a state of a table), `ended` says so, and what is lost lies between `at_least`, by plans
/// that need not keep those demands nor one thickness, and `lost`, by the plans that were found: infinity where none of
/// them has a cut. Throws what `plan` does. Regrets are in units of the objective, zero or more.
template <objective_want W>
[[nodiscard]] found_list<cut_regret> cut_regrets(const profile& meat, const cutting_request& request, const W& want,
                                                 const search_limits& search = {}) {
    const cutting_problem problem(meat, request.cuts, request.rules);
    return detail::with_objective(
        want, problem, [&](const auto& objective) { return cut_regrets(problem, objective, request.demands, search); });
}

} // namespace tranche
