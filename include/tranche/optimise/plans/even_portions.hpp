// Equal weights by varying thickness: the plan whose lightest and heaviest portion lie nearest together.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/even_search.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/score.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

namespace detail {

/// Positions × counts of demands that searches for equal portions tell apart.
inline constexpr std::size_t most_even_entries = std::size_t{1} << 18U;

/// Windows of weights that a search looks into for the most mass among plans that are even enough.
inline constexpr std::size_t most_even_windows = 300;

/// The lightest and the heaviest portion of some slabs.
template <class = when_called>
[[nodiscard]] even_weights weights_of(const cutting_problem& problem, const std::vector<grid_slab>& slabs) {
    even_weights all{std::numeric_limits<std::int64_t>::max(), 0};
    for (const grid_slab& s : slabs) {
        if (s.kind != slab_kind::portions) continue;
        const std::size_t option = problem.loose_count() + s.option;
        const std::int64_t weight = problem.weight(option, s.from, s.to), pieces = problem.pieces(option);
        all = {std::min(all.lightest, weight / pieces), std::max(all.heaviest, (weight + pieces - 1) / pieces)};
    }
    return all;
}

/// A tiling, rated as `even_portions` does: minus the spread, the heaviest portion, the mass in portions. Where it is even
/// enough: minus what is, zero, the mass.
struct even_tiling {
    std::vector<grid_slab> stretches;
    lexicographic_score<std::int64_t, std::int64_t, std::int64_t> score{}, bound{};
};

/// The most equal tiling of a problem into so many portions with what the rows ask for, or of those whose weights are `within`
/// the one of the most mass in portions; cuts that must have one thickness taken as they are in its windows; none if there is
/// no tiling. Portions that are `held`
/// count too, and are not cut. Adds what it searched to `states`.
template <class = when_called>
[[nodiscard]] std::optional<even_tiling> most_even(const cutting_problem& problem, std::int64_t portions,
                                                   const std::vector<slab_demand>& rows, std::int64_t within,
                                                   std::size_t& states,
                                                   const even_weights& held = {window_cost::never, window_cost::none},
                                                   search_clock* clock = nullptr) {
    const auto most_mass_in = [&](const even_weights& window) -> std::optional<std::pair<even_tiling, std::int64_t>> {
        cutting_problem narrow = problem;
        narrow.let_thicknesses_differ();
        narrow.narrow_weights(window.lightest, window.heaviest);
        const portion_mass_objective mass_in_portions(narrow);
        const auto n = static_cast<std::size_t>(portions);
        const count_states<portion_mass_objective> table(narrow, mass_in_portions, counters_of(narrow, rows, n));
        states += table.searched();
        const auto best = best_state(table, rows, n);
        if (!best) return std::nullopt;
        return std::pair{even_tiling{.stretches = table.stretches(*best)}, table.score(*best)};
    };
    even_search<> search(problem, portions, rows, clock);
    const std::optional<even_weights> window = search.narrowest(held);
    states += search.states();
    if (!window) return std::nullopt;
    auto [found, mass] = *most_mass_in(*window);
    const bool enough = within > 0 && window->spread() <= within;
    found.score = {{enough ? -within : -window->spread(), enough ? 0 : window->heaviest, mass}};
    found.bound = found.score;
    if (!enough) return found;
    std::size_t left = most_even_windows;
    return branch(
        even_weights{0, problem.meat().total().count},
        [&](const even_weights& node) -> std::optional<even_tiling> {
            auto best = most_mass_in(node);
            if (!best) return std::nullopt;
            best->first.score = best->first.bound = {{-within, 0, best->second}};
            return std::move(best->first);
        },
        [&](const even_weights& node, const even_tiling& relaxed) {
            return split_weights(node, weights_of(problem, relaxed.stretches), within);
        },
        [&] { return left-- > 0 && (clock == nullptr || clock->go_on()); }, std::identity{},
        std::optional<even_tiling>(std::move(found)));
}

template <class = when_called>
[[nodiscard]] even_weights weights_in(const cutting_plan& cuts) {
    even_weights all{std::numeric_limits<std::int64_t>::max(), 0};
    for (const slab& s : cuts.slabs)
        for (const micrograms m : cuts.portions_of(s))
            all = {std::min(all.lightest, m.count), std::max(all.heaviest, m.count)};
    return all;
}

/// Where demands take more states than a search tells apart: the plan that meets them, as even as narrower and narrower windows
/// about the best one without demands make it, which is the bound.
template <class = when_called>
[[nodiscard]] planned nearly_even(const cutting_problem& problem, const std::vector<demand>& demands,
                                  std::int64_t portions, planned found) {
    std::optional<even_weights> bound = even_search<>(problem, portions).narrowest();
    std::optional<even_weights> has;
    if (found.plan.portion_count() == static_cast<std::size_t>(portions)) has = weights_in(found.plan);
    const std::int64_t total = problem.meat().total().count;
    for (std::int64_t more = total / 1024; bound && more < total && more > 0; more *= 2) {
        cutting_problem narrow = problem;
        const even_weights window{std::max<std::int64_t>(bound->lightest - more, 0), bound->heaviest + more};
        if (has && window.spread() >= has->spread()) break;
        narrow.narrow_weights(window.lightest, window.heaviest);
        planned other = plan(narrow, kept_mass_objective::portions_then_mass(narrow), demands);
        if (!other.feasible() || other.plan.portion_count() != static_cast<std::size_t>(portions)) continue;
        found = std::move(other);
        has = weights_in(found.plan);
        break;
    }
    if (!has) {
        found.stop = stop_reason::demand_not_found;
        return found;
    }
    found.score_parts.clear();
    add_parts(found.score_parts, -has->spread(), bound ? -bound->spread() : std::int64_t{0});
    found.stop =
        found.score_parts[0].value == found.score_parts[0].bound ? stop_reason::optimal : stop_reason::gap_left;
    return found;
}

/// `even_portions` of a request, and what else a want of them and a search may say.
template <class = when_called>
[[nodiscard]] planned planned_even(const profile& meat, const cutting_request& request,
                                   std::optional<std::int64_t> portions, mass even_enough = {},
                                   const search_limits& limits = {}) {
    if (portions && *portions < 1) throw invalid_input("portions", std::to_string(*portions), "one or more");
    require_not_negative(even_enough, "even_enough");
    const std::vector<demand>& demands = request.demands;
    const cutting_problem problem(meat, request.cuts, request.rules);
    planned most = plan(problem, kept_mass_objective::portions_then_mass(problem), demands, limits);
    search_clock clock(limits);
    if (most.stop == stop_reason::demand_impossible || most.stop == stop_reason::demand_not_found) return most;
    const auto possible = static_cast<std::int64_t>(most.plan.portion_count());
    const std::int64_t wanted = portions.value_or(possible);
    if (possible == 0 && !portions) return most;
    const std::vector<slab_demand> rows = in_slabs(problem, demands).rows;
    if (!rows.empty() && !few_states(problem, counters_of(problem, rows), most_even_entries))
        return nearly_even(problem, demands, wanted, std::move(most));
    const std::int64_t within = to_micrograms(even_enough).count;
    std::optional<even_tiling> best;
    if (wanted <= possible) {
        const auto solve = [&](const cutting_problem& p) {
            return most_even(p, wanted, rows, within, most.searched.states, {window_cost::never, window_cost::none},
                             &clock);
        };
        best = problem.varying().empty()
                   ? solve(problem)
                   : best_of_one_thickness<even_tiling>(problem, solve, [&] { return !clock.stopped(); });
    }
    if (!best && clock.stopped()) { // there may be one
        most.searched.ended = clock.ended();
        if (possible != wanted) {
            most.stop = stop_reason::demand_not_found;
            return most;
        }
        most.score_parts.assign(1, {-static_cast<double>(weights_in(most.plan).spread()), 0.0});
        most.stop = stop_reason::gap_left;
        return most;
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
    const std::int64_t spread = std::get<0>(best->score.parts), in_portions = std::get<2>(best->score.parts);
    using both = lexicographic_score<std::int64_t, std::int64_t>;
    planned result = within > 0 ? planned_from(problem, best->stretches, both{{spread, in_portions}})
                                : planned_from(problem, best->stretches, spread);
    result.searched.states = most.searched.states;
    result.searched.ended = clock.ended();
    if (clock.stopped() && spread < 0)
        say_gap_left(result, {0.0}); // of what was left over nothing is known
    else if (best->score < best->bound)
        say_gap_left(result, {static_cast<double>(std::get<0>(best->bound.parts)),
                              static_cast<double>(std::get<2>(best->bound.parts))});
    return result;
}

} // namespace detail

/// The most equal portions: of all plans with just `portions` of them (of all specs together; by default the most that the
/// limits and the demands allow) one with the smallest difference between the heaviest and the lightest. Of equally narrow
/// weights the heavier ones, and within these the most mass in portions. Portions within a slab are equal to the microgram.
///
/// Exact on the grid: for growing lower limits and falling upper ones, the narrowest window is closed in on by searches for
/// the counts that portions of a window of weights can make. O(positions × options) each, however wide the limits of the
/// specs; how many there are depends on how near to the best the others come: some thousand on a loin. An order of cuts and
/// the counts of demands multiply that by their states. Cuts that must have one thickness are found by branch and
/// bound over thicknesses, up to twice as many searches as there are choices.
///
/// Where the `search_limits` of `plan` end the search, the plan of the narrowest weights so far is the answer, or else that of the most portions, and the
/// bound is no difference at all.
///
/// The want `even_portions(portions, even_enough)` takes a difference of weights too, zero or more: where portions can be as near
/// together as that, the plan is the one
/// of the most mass in portions that keeps to it, by branch and bound over windows of weights. `score` is minus the difference
/// in micrograms; with `even_enough`, `score_parts` are that, but no less than `even_enough`, and micrograms in portions. After
/// 300 windows the best plan so far is the answer, and the second part has a bound.
///
/// If there is no plan with so many portions, the answer is `demand_impossible`, with the plan of the most portions; so it is
/// with demands that cannot be met. Beyond 262,144 positions × counts of demands, the plan is one that meets them, `stop` is
/// `gap_left`, and the bound is the difference that portions have without demands, as many. Throws `invalid_input` as
/// `most_portions`, for less than one portion and for an `even_enough` below zero.
template <class = detail::when_called>
[[nodiscard]] planned even_portions(const profile& meat, const cut_list& specs, const cutting_rules& rules = {},
                                    std::optional<std::int64_t> portions = {},
                                    const std::vector<demand>& demands = {}) {
    return detail::planned_even(meat, {specs, rules, demands}, portions);
}

} // namespace tranche
