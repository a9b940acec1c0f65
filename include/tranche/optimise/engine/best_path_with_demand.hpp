// The best tiling that has the portions asked for: exact by count states while they are few, by relaxation beyond.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_by_prices.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/demands/relaxed_demand.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

enum class demand_outcome {
    met,       ///< the tiling has what is asked for
    not_found, ///< the relaxation found no tiling that has, and no proof that there is none: the tiling keeps all caps and
               ///< has as many of the portions asked for as were found, if any were
    not_searched, ///< there are more states than `search_limits::most_entries`, and no number comes first in the score
    impossible ///< there is none: see `shortfalls`. The tiling is the nearest one: no cut is above its cap, then the fewest
               ///< portions are missing, then it is the best; beyond the exact states the nearest one found
};

/// The best tiling found, and what is known of it.
template <class Score>
struct demand_tiling {
    std::vector<grid_slab> stretches; ///< those without any demand if none were found that keep the caps
    Score score{};                    ///< of the stretches; if it is not `finite` as of a `tiling`
    bool finite = true;               ///< whether every score looked at was, apart from those that forbid a slab
    Score bound{}; ///< no tiling that meets the demands scores higher; of floating scores up to rounding. Of a score of
                   ///< several parts: equal to the score's in the first ones, as far as those are proven best; then the
                   ///< bound of the first that is not; then what each part behind it can reach by itself
    demand_outcome outcome = demand_outcome::met;
    std::size_t states = 1; ///< how many count states were searched, in all searches together where a common thickness
                            ///< takes several; 1 where the demands did not bind; by relaxation those of a proof
    std::vector<demand_shortfall> shortfalls;
    /// For each demand that may bind, what one more of the cut costs: above zero where more are asked for than are wanted,
    /// below zero (one more would bring something) where a cap holds them back, zero where it does not matter. In the exact
    /// search that is the last portion asked for, or allowed; by relaxation the Lagrange multiplier of the bound, between one
    /// fewer and one more. Of a score of several parts: in the first. Empty where the demands did not bind, are not met, or
    /// link with a common thickness, and for a score that is no number.
    std::vector<demand_price> prices{};
    search_end ended = search_end::by_itself;

    /// Whether no other tiling that meets the demands scores higher. Throws nothing.
    [[nodiscard]] bool proven_optimal() const { return finite && outcome == demand_outcome::met && !(score < bound); }

    friend bool operator==(const demand_tiling&, const demand_tiling&) = default;
};

template <objective O>
[[nodiscard]] demand_tiling<typename O::score_type> best_path_with_demand(const cutting_problem& problem,
                                                                          const O& objective,
                                                                          const std::vector<demand>& demands,
                                                                          const search_limits& search = {});

namespace detail {

template <objective O>
[[nodiscard]] demand_tiling<typename O::score_type> path_with_demand(const cutting_problem& problem, const O& objective,
                                                                     const std::vector<demand>& demands,
                                                                     search_clock& clock);

/// A plan that comes as near to the demands as it can, and how near.
template <class Score>
struct nearest_tiling {
    struct nearness {
        std::int64_t missing = 0; ///< portions
        Score score{};
        friend bool operator<(const nearness& a, const nearness& b) {
            return a.missing != b.missing ? b.missing < a.missing : a.score < b.score;
        }
    };
    demand_tiling<Score> found;
    std::vector<grid_slab> stretches;
    nearness score, bound;
};

/// With cuts that must have one thickness: the best over all thicknesses that the demands leave.
template <objective O>
[[nodiscard]] demand_tiling<typename O::score_type> linked_path_with_demand(const cutting_problem& problem,
                                                                            const O& objective,
                                                                            const std::vector<demand>& demands,
                                                                            search_clock& clock) {
    using result = demand_tiling<typename O::score_type>;
    using nearest = nearest_tiling<typename O::score_type>;
    cutting_problem apart = problem;
    apart.let_thicknesses_differ();
    const auto apart_from_others = [&](const cutting_problem& one) {
        const search_clock::inner_search inside(clock);
        return path_with_demand(one, objective, demands, clock);
    };
    result relaxed = apart_from_others(apart);
    const auto without_demands = [&](result none) { // but for caps, where that is known
        const search_clock::inner_search inside(clock);
        std::vector<demand> caps;
        for (const demand& wanted : demands)
            if (wanted.at_most != demand::any_number) caps.push_back({.spec = wanted.spec, .at_most = wanted.at_most});
        none.prices.clear();
        if (caps != demands && !caps.empty()) {
            auto within = path_with_demand(problem, objective, caps, clock);
            if (within.outcome == demand_outcome::met) {
                none.stretches = std::move(within.stretches);
                none.score = none.bound = within.score;
                return none;
            }
        }
        path_workspace<O> room;
        auto free = room.best_path(problem, objective, clock);
        none.stretches = std::move(free.stretches);
        none.score = none.bound = free.score;
        return none;
    };
    if (!relaxed.finite || relaxed.outcome == demand_outcome::not_searched) return without_demands(std::move(relaxed));
    bool all_known = true;
    std::size_t states = relaxed.states, work = 0;
    const auto solve = [&](const cutting_problem& narrowed) -> std::optional<nearest> {
        if (work > clock.limits().most_linked_entries) {
            all_known = false;
            return std::nullopt;
        }
        auto best = apart_from_others(narrowed);
        states += best.states;
        const std::size_t by_prices =
            16 * static_cast<std::size_t>(std::max(clock.limits().rounds, 1)) * problem.option_count();
        work += (best.states == 0 ? by_prices : best.states) * (problem.cells() + 1);
        all_known =
            all_known && best.outcome != demand_outcome::not_found && best.outcome != demand_outcome::not_searched;
        if ((best.outcome != demand_outcome::met && best.outcome != demand_outcome::impossible) || !best.finite)
            return std::nullopt;
        const auto missing = portions_missing(narrowed, demands, best.stretches);
        if (!missing) return std::nullopt;
        nearest near{.found = best,
                     .stretches = best.stretches,
                     .score = {*missing, best.score},
                     .bound = {*missing, best.bound}};
        return near;
    };
    auto best = best_of_one_thickness<nearest>(
        problem, solve, [&] { return clock.go_on(); },
        [&](const nearest& better) {
            if (better.score.missing == 0) clock.found(better.stretches, better.score.score, &relaxed.bound);
        });
    all_known = all_known && !clock.stopped();
    if (!best || (best->score.missing > 0 && !all_known)) {
        result none = without_demands(std::move(relaxed));
        none.states = states;
        if (none.outcome != demand_outcome::impossible)
            none.outcome = all_known ? demand_outcome::impossible : demand_outcome::not_found;
        if (none.outcome == demand_outcome::impossible)
            add_missing(problem, demands, none.stretches,
                        "with one thickness where a cut must have one no plan keeps to what is allowed; the best has",
                        none.shortfalls);
        return none;
    }
    result answer = std::move(best->found);
    answer.states = states;
    answer.bound = best->bound.missing == best->score.missing ? best->bound.score : answer.score;
    answer.prices.clear();
    if (best->score.missing == 0) {
        // An ended search has bounded what it has left over, but not what it was looking at.
        if (!all_known) answer.bound = relaxed.bound; // a better one may lie where none was found
        return answer;
    }
    answer.outcome = demand_outcome::impossible;
    answer.shortfalls = std::move(relaxed.shortfalls);
    add_missing(problem, demands, answer.stretches,
                "beside the other demands and with one thickness where a cut must have one the nearest plan has",
                answer.shortfalls);
    return answer;
}

} // namespace detail

/// The tiling with the highest sum of slab scores among those that meet all demands.
///
/// - If the best tiling without demands meets them, it is the answer. O(positions × options × (1 + demands)).
/// - While positions × count states are no more than `search.most_entries`, it is found exactly by dynamic programming over
///   positions and states: a spec with a cap of n slabs has n + 1 states, one with only a minimum of n has n + 1 as well,
///   and states multiply. O(positions × states × options) for separable objectives, times the window for others.
/// - Beyond, the rows of the demands are relaxed (Lagrange multipliers), which gives a bound; the prices are found by a
///   proximal bundle method (`detail::price_search`). A beam search over count states that follows the prices gives a plan,
///   and lowers the bound where it has looked at all that is left. Of a lexicographic score the first part is relaxed; where a
///   plan reaches its bound, the next part is, among plans that do, with a price on the parts before it. What has no number
///   first (a user's own type) cannot be relaxed: the outcome is `not_searched`, and more `most_entries`, which is memory, or
///   fewer demands are needed.
/// - With `search.prove` the search over count states then goes on, and leaves out only what the prices show to be no better
///   than the best plan known, until plan and bound meet or `search.most_states` states have been looked at. O(positions ×
///   options) a state; it keeps at most 2^25 entries of a score and 8 bytes.
///
/// All limits but `search.stop` count work and not time, so the same request has the same answer everywhere. Where `most_passes` are
/// fewer than the count states, demands are relaxed. A search that is ended answers with the best plan so far and its bound; with
/// `not_found`, and the bound of plans without demands, where it has none.
///
/// An order of cuts is kept by further states; a common thickness is found as by `best_path`, with one search like this a node,
/// until all searches together have looked at `search.most_linked_entries`: then the plan is the best so far, below a bound.
///
/// Ties go as in `best_path`, and towards fewer slabs of the specs asked for. Demands that no tiling meets are an answer: what
/// cannot be had is named, and the tiling is the one that comes nearest (see `demand_outcome::impossible`).
/// Throws `invalid_input` as `validate` does for the demands. Counts are portions, scores in units of the objective.
/// Source of relaxing and of the bundle: Geoffrion (1974) and Lemaréchal (1975), from memory.
template <objective O>
[[nodiscard]] demand_tiling<typename O::score_type> best_path_with_demand(const cutting_problem& problem,
                                                                          const O& objective,
                                                                          const std::vector<demand>& demands,
                                                                          const search_limits& search) {
    detail::search_clock clock(search);
    auto found = detail::path_with_demand(problem, objective, demands, clock);
    found.ended = clock.ended();
    return found;
}

namespace detail {

template <objective O>
[[nodiscard]] demand_tiling<typename O::score_type> path_with_demand(const cutting_problem& problem, const O& objective,
                                                                     const std::vector<demand>& demands,
                                                                     search_clock& clock) {
    using score_type = typename O::score_type;
    validate(demands, problem.specs());
    if (!problem.varying().empty()) return linked_path_with_demand(problem, objective, demands, clock);
    auto free = best_path(problem, objective);
    demand_tiling<score_type> result{.stretches = std::move(free.stretches),
                                     .score = free.score,
                                     .finite = free.finite,
                                     .bound = free.score,
                                     .shortfalls = {}};
    if (!result.finite) return result;
    slab_demands wanted = in_slabs(problem, demands);
    if (!wanted.shortfalls.empty()) result.outcome = demand_outcome::impossible;
    result.shortfalls = std::move(wanted.shortfalls);
    const std::vector<slab_demand>& rows = wanted.rows;
    if (all_met(rows, slabs_of(problem, rows, result.stretches))) return result;

    std::vector<slab_counter> counters = counters_of(problem, rows);
    const std::size_t most_entries = clock.limits().most_entries;
    const bool few = states_of(counters) <= clock.left() && few_states(problem, counters, most_entries);
    if constexpr (relaxed_demand<O>::has_prices)
        if (!few) {
            auto relaxed = relaxed_demand<O>(problem, objective, rows, clock).run();
            result.states = relaxed.states;
            result.bound = relaxed.bound;
            if (!relaxed.found) {
                auto nearest = nearest_by_prices(problem, objective, rows, clock);
                if (nearest.found) {
                    result.stretches = std::move(nearest.stretches);
                    result.score = nearest.score;
                    result.finite = is_finite(result.score);
                }
                if (nearest.found && !relaxed.impossible && result.shortfalls.empty() &&
                    all_met(rows, slabs_of(problem, rows, result.stretches)))
                    return result;
                const bool impossible = relaxed.impossible || !result.shortfalls.empty();
                result.outcome = impossible ? demand_outcome::impossible : demand_outcome::not_found;
                if (!impossible) return result;
                result.bound = result.score;
                add_missing(problem, demands, result.stretches, "the nearest plan that was found has",
                            result.shortfalls);
                if (result.shortfalls.empty()) result.shortfalls = shortfalls_of_clash(problem, rows);
                return result;
            }
            result.stretches = std::move(relaxed.stretches);
            result.score = relaxed.score;
            result.finite = is_finite(result.score) && is_finite(result.bound);
            for (std::size_t k = 0; k < rows.size() && result.outcome == demand_outcome::met; ++k)
                result.prices.push_back({.spec = rows[k].option - problem.loose_count(),
                                         .price = relaxed.prices[k] / problem.pieces(rows[k].option)});
            return result;
        }
    if (!few) {
        result.states = 0;
        if (result.outcome == demand_outcome::met) result.outcome = demand_outcome::not_searched;
        return result;
    }
    const count_states<O> table(problem, objective, std::move(counters), most_entries, [&] { return clock.go_on(); });
    result.states = table.searched();
    if (!table.complete()) { // the best plan without demands bounds those with
        if (result.outcome == demand_outcome::met) result.outcome = demand_outcome::not_found;
        return result;
    }
    const auto nearest = nearest_state(problem, table, rows);
    if (nearest) {
        result.stretches = table.stretches(*nearest);
        result.score = result.bound = table.score(*nearest);
        result.finite = is_finite(result.score);
    }
    if (nearest && has_all(table, rows, *nearest)) {
        if (result.outcome == demand_outcome::met) result.prices = prices_of(problem, table, rows, *nearest);
        return result;
    }
    result.outcome = demand_outcome::impossible;
    if (result.shortfalls.empty()) result.shortfalls = shortfalls_together(problem, objective, rows, most_entries);
    if (nearest)
        add_missing(problem, demands, result.stretches, "the plan that comes nearest to the demands has",
                    result.shortfalls);
    return result;
}

} // namespace detail

} // namespace tranche
