// The best tiling that has the portions asked for: exact by count states while they are few, by relaxation beyond.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/relaxed_demand.hpp>
#include <tranche/optimise/engine/segment.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Where exact states end, and how long a relaxation may go on.
struct demand_search {
    std::size_t most_entries = std::size_t{1} << 22U; ///< positions × count states; a score and 8 bytes each
    int rounds = 150; ///< of the subgradient method, for each part of the score; each one call of `segment`

    friend bool operator==(const demand_search&, const demand_search&) = default;
};

enum class demand_outcome {
    met,          ///< the tiling has what is asked for
    not_found,    ///< the relaxation found no tiling that has, and no proof that there is none
    not_searched, ///< there are more states than `demand_search::most_entries`, and no number comes first in the score
    impossible    ///< there is none: see `shortfalls`
};

/// The best tiling found, and what is known of it.
template <class Score>
struct demand_segmentation {
    std::vector<detail::stretch> stretches; ///< those without any demand unless the demands are met
    Score score{};                          ///< of the stretches; if it is not `finite` as of a `segmentation`
    bool finite = true;                     ///< whether every score looked at was, apart from those that forbid a slab
    Score bound{}; ///< no tiling that meets the demands scores higher; of floating scores up to rounding. Of a score of
                   ///< several parts: equal to the score's in the first ones, as far as those are proven best; then the
                   ///< bound of the first that is not; then what each part behind it can reach by itself
    demand_outcome outcome = demand_outcome::met;
    std::size_t states =
        1; ///< how many count states were searched, in all searches together where a common thickness takes
           ///< several; 1 where the demands did not bind, 0 by relaxation
    std::vector<demand_shortfall> shortfalls;

    /// Whether no other tiling that meets the demands scores higher.
    [[nodiscard]] bool proven_optimal() const { return finite && outcome == demand_outcome::met && !(score < bound); }

    friend bool operator==(const demand_segmentation&, const demand_segmentation&) = default;
};

template <objective O>
[[nodiscard]] demand_segmentation<typename O::score_type> segment_with_demand(const cutting_problem& problem,
                                                                              const O& objective,
                                                                              const std::vector<demand>& demands,
                                                                              const demand_search& search = {});

namespace detail {

template <class = when_called>
[[nodiscard]] std::vector<slab_counter> counters_of(const cutting_problem& problem,
                                                    const std::vector<slab_demand>& rows) {
    std::vector<slab_counter> counters;
    for (const slab_demand& row : rows) {
        slab_counter counter{.top = static_cast<std::size_t>(row.capped() ? row.most : row.least),
                             .saturates = !row.capped(),
                             .steps = std::vector<std::size_t>(problem.option_count())};
        counter.steps[row.option] = 1;
        counters.push_back(std::move(counter));
    }
    return counters;
}

/// The best state in which all rows are met; the one of fewest slabs among equals.
template <objective O>
[[nodiscard]] std::optional<std::size_t> best_state(const count_states<O>& table,
                                                    const std::vector<slab_demand>& rows) {
    std::optional<std::size_t> best;
    for (std::size_t state = 0; state < table.states(); ++state) {
        bool met = table.possible(state);
        for (std::size_t k = 0; met && k < rows.size(); ++k)
            met = static_cast<std::int64_t>(table.digit(state, k)) >= rows[k].least;
        if (met && (!best || table.score(*best) < table.score(state))) best = state;
    }
    return best;
}

/// Counts the slabs of one option in tilings that another objective does not forbid.
template <objective O>
struct allowed_slab_count {
    using score_type = double;
    const O* inner = nullptr;
    std::size_t counted = 0; ///< an option of the problem

    [[nodiscard]] double opening(std::size_t option, std::size_t from) const requires separable_objective<O> {
        return unless_forbidden(0.0, inner->opening(option, from));
    }
    [[nodiscard]] double closing(std::size_t option, std::size_t to) const requires separable_objective<O> {
        return unless_forbidden(option == counted ? 1.0 : 0.0, inner->closing(option, to));
    }
    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const
        requires(!separable_objective<O>) {
        return unless_forbidden(option == counted ? 1.0 : 0.0, inner->slab(option, from, to));
    }

private:
    [[nodiscard]] static double unless_forbidden(double count, const typename O::score_type& score) {
        return forbids(score) ? -std::numeric_limits<double>::infinity() : count;
    }
};
template <objective O>
[[nodiscard]] auto count_of_slabs(const O& objective, std::size_t option) {
    if constexpr (always_finite<typename O::score_type>)
        return slab_count_objective{option};
    else
        return allowed_slab_count<O>{&objective, option};
}

/// Demands that can be met one by one but not together, or not with what the objective leaves: how far each can be met
/// beside all others.
template <objective O>
[[nodiscard]] std::vector<demand_shortfall> shortfalls_together(const cutting_problem& problem, const O& objective,
                                                                const std::vector<slab_demand>& rows,
                                                                std::size_t most_entries) {
    std::vector<demand_shortfall> result;
    std::string clash;
    for (std::size_t k = 0; k < rows.size(); ++k) {
        if (rows[k].least == 0) continue;
        const cut_spec& spec = problem.spec_of(rows[k].option);
        clash += (clash.empty() ? "" : " and ") + std::to_string(rows[k].least * spec.pieces) + " of " + spec.name;
        std::vector<slab_demand> others = rows;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(k));
        const auto counted = count_of_slabs(objective, rows[k].option);
        const count_states table(problem, counted, counters_of(problem, others), most_entries);
        const auto best = best_state(table, others);
        if (!best) continue;
        const std::int64_t wanted = rows[k].least * spec.pieces,
                           possible = static_cast<std::int64_t>(table.score(*best)) * spec.pieces;
        result.push_back({.spec = rows[k].option - problem.loose_count(),
                          .wanted = wanted,
                          .possible = possible,
                          .text = spec.name + ": " + std::to_string(wanted) + " portions are asked for, and beside " +
                                  "the other demands the loin gives " + std::to_string(possible) + " at most"});
    }
    if (result.empty())
        result.push_back(
            {.spec = rows.front().option - problem.loose_count(),
             .wanted = rows.front().least * problem.spec_of(rows.front().option).pieces,
             .possible = 0,
             .text = clash.empty() // then they are caps, and it is the objective that wants more
                         ? "no plan that the objective allows has as few portions as the demands allow"
                         : "the loin does not give " + clash + " at once, nor if any one of these is left out"});
    return result;
}

/// With cuts that must have one thickness: the best over all thicknesses that the demands leave.
template <objective O>
[[nodiscard]] demand_segmentation<typename O::score_type> segment_with_demand_linked(const cutting_problem& problem,
                                                                                     const O& objective,
                                                                                     const std::vector<demand>& demands,
                                                                                     const demand_search& search) {
    using result = demand_segmentation<typename O::score_type>;
    cutting_problem apart = problem;
    apart.let_thicknesses_differ();
    result relaxed = segment_with_demand(apart, objective, demands, search);
    if (!relaxed.finite || relaxed.outcome == demand_outcome::impossible ||
        relaxed.outcome == demand_outcome::not_searched) {
        auto free = segment(problem, objective);
        relaxed.stretches = std::move(free.stretches);
        relaxed.score = relaxed.bound = free.score;
        return relaxed;
    }
    bool all_known = true;
    std::size_t states = relaxed.states;
    const auto solve = [&](const cutting_problem& narrowed) -> std::optional<result> {
        auto best = segment_with_demand(narrowed, objective, demands, search);
        states += best.states;
        all_known =
            all_known && best.outcome != demand_outcome::not_found && best.outcome != demand_outcome::not_searched;
        if (best.outcome != demand_outcome::met || !best.finite) return std::nullopt;
        return best;
    };
    if (auto best = best_of_one_thickness<result>(problem, solve)) {
        best->states = states;
        if (!all_known) best->bound = relaxed.bound; // a better one may lie where none was found
        return *std::move(best);
    }
    auto free = segment(problem, objective);
    result none{.stretches = std::move(free.stretches), .score = free.score, .bound = free.score, .shortfalls = {}};
    none.states = states;
    none.outcome = all_known ? demand_outcome::impossible : demand_outcome::not_found;
    if (all_known) {
        const std::size_t spec = problem.varying().front() - problem.loose_count();
        none.shortfalls.push_back(
            {.spec = spec,
             .wanted = 0,
             .possible = 0,
             .text = "the demands can be met, but not with one thickness for all of " + problem.specs()[spec].name});
    }
    return none;
}

} // namespace detail

/// The tiling with the highest sum of slab scores among those that meet all demands.
///
/// - If the best tiling without demands meets them, it is the answer. O(positions × options × (1 + demands)).
/// - While positions × count states are no more than `search.most_entries`, it is found exactly by dynamic programming over
///   positions and states: a spec with a cap of n slabs has n + 1 states, one with only a minimum of n has n + 1 as well,
///   and states multiply. O(positions × states × options) for separable objectives, times the window for others.
/// - Beyond, the rows of the demands are relaxed (Lagrange multipliers, subgradient method; Held, Wolfe and Crowder 1974,
///   Mathematical Programming 6:62), which gives a bound; and a beam search over count states that follows the multipliers gives
///   a plan. Of a lexicographic score the first part is relaxed; where a plan reaches its bound, the next part is, among plans
///   that do, with a price on the parts before it. What has no number first (a user's own type) cannot be relaxed: the
///   outcome is `not_searched`, and more `most_entries`, which is memory, or fewer demands are needed.
///
/// An order of cuts is kept by further states; a common thickness is found as by `segment`, with one search like this a node.
///
/// Ties go as in `segment`, and towards fewer slabs of the specs asked for. Demands that no tiling meets are an answer.
/// Throws `invalid_input` as `validate` does for the demands.
template <objective O>
[[nodiscard]] demand_segmentation<typename O::score_type> segment_with_demand(const cutting_problem& problem,
                                                                              const O& objective,
                                                                              const std::vector<demand>& demands,
                                                                              const demand_search& search) {
    using score_type = typename O::score_type;
    validate(demands, problem.specs());
    if (!problem.varying().empty()) return detail::segment_with_demand_linked(problem, objective, demands, search);
    auto free = segment(problem, objective);
    demand_segmentation<score_type> result{.stretches = std::move(free.stretches),
                                           .score = free.score,
                                           .finite = free.finite,
                                           .bound = free.score,
                                           .shortfalls = {}};
    if (!result.finite) return result;
    detail::slab_demands wanted = detail::in_slabs(problem, demands);
    if (!wanted.shortfalls.empty()) {
        result.outcome = demand_outcome::impossible;
        result.shortfalls = std::move(wanted.shortfalls);
        return result;
    }
    const std::vector<detail::slab_demand>& rows = wanted.rows;
    if (detail::all_met(rows, detail::slabs_of(problem, rows, result.stretches))) return result;

    std::vector<detail::slab_counter> counters = detail::counters_of(problem, rows);
    const std::size_t room = search.most_entries / (problem.cells() + 1) / detail::states_of(counters);
    const bool few = room > 0 && detail::order_states(problem, room).fit();
    if constexpr (detail::relaxed_demand<O>::has_prices)
        if (!few) {
            const auto relaxed = detail::relaxed_demand<O>(problem, objective, rows).run(search.rounds);
            result.states = 0;
            result.outcome = relaxed.found ? demand_outcome::met : demand_outcome::not_found;
            result.bound = relaxed.bound;
            if (!relaxed.found) return result;
            result.stretches = relaxed.stretches;
            result.score = relaxed.score;
            result.finite = is_finite(result.score) && is_finite(result.bound);
            return result;
        }
    if (!few) {
        result.states = 0;
        result.outcome = demand_outcome::not_searched;
        return result;
    }
    const detail::count_states<O> table(problem, objective, std::move(counters), search.most_entries);
    result.states = table.searched();
    if (const auto best = detail::best_state(table, rows)) {
        result.stretches = table.stretches(*best);
        result.score = result.bound = table.score(*best);
        result.finite = is_finite(result.score);
    } else {
        result.outcome = demand_outcome::impossible;
        result.shortfalls = detail::shortfalls_together(problem, objective, rows, search.most_entries);
    }
    return result;
}

} // namespace tranche
