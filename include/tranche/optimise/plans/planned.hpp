// What every way to plan gives: the plan, why the search stopped, what it scores and what no plan can exceed, and why not.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/explain/binding_limit.hpp>
#include <tranche/optimise/explain/plan_hint.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/score.hpp>
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
    demand_impossible, ///< no plan meets the demands; this one comes nearest, or as near as was found
    demand_not_found, ///< no plan that meets the demands was found, nor a proof that there is none; this one keeps to what is
                      ///< allowed and has as much of what is asked for as was found, if that was looked for
    objective_not_finite ///< a user's objective returned NaN or +infinity, or forbids every plan; this one means nothing
};

/// One part of a score: what the plan has of it, and what no plan that meets the demands can exceed, in the units of the
/// objective (`kept_mass_objective`: micrograms and its weights; `worth_objective`: billionths of the currency). Rounded to
/// doubles, but equal only if the exact numbers are. The bound is NaN where none is known.
struct score_part {
    double value = 0.0, bound = 0.0;

    /// NaN is the same as NaN here: what is not known of one plan is not known of its copy either.
    friend bool operator==(const score_part& a, const score_part& b) {
        return detail::same_number(a.value, b.value) && detail::same_number(a.bound, b.bound);
    }
};

/// How much was searched for a plan.
struct search_figures {
    std::size_t positions = 0, options = 0; ///< of the problem
    std::size_t states = 1; ///< that all searches for the plan told apart: one a search that counts nothing, else its
                            ///< counts; the look without demands that comes first is left out; 0 by relaxation

    search_end ended = search_end::by_itself;

    /// Positions × options × states: how much was looked at, which is the work of a separable objective. A plain
    /// number, zero or more. Throws nothing.
    [[nodiscard]] std::size_t evaluated() const { return positions * options * states; }

    friend bool operator==(const search_figures&, const search_figures&) = default;
};

/// A plan and what is known of it.
struct planned {
    cutting_plan plan;
    stop_reason stop = stop_reason::optimal;
    search_figures searched{};
    std::vector<binding_limit> limits{};   ///< of each spec of which no portion at all can be cut
    std::vector<score_part> score_parts{}; ///< one for each part of the score, the first of which decides; none for
                                           ///< a score of a user's own type, and for one that is not finite
    std::vector<demand_shortfall> shortfalls{}; ///< the demands that cannot be met
    std::vector<plan_hint> hints{}; ///< of a plan with portions: meat that one change would use, cuts left out

    /// What the plan scores, and its bound, where a score is one number; otherwise NaN, and `score_parts` says more. In
    /// units of the objective, any number. Throws nothing.
    [[nodiscard]] double score() const { return score_parts.size() == 1 ? score_parts[0].value : unknown; }
    /// What no plan that meets the demands exceeds, in units of the objective, any number; NaN where it is not known.
    /// Throws nothing.
    [[nodiscard]] double bound() const { return score_parts.size() == 1 ? score_parts[0].bound : unknown; }

    /// How far value and bound lie apart in the first part in which they do: no plan that meets the demands is better
    /// in the parts before that, and none by more than the gap in it; of the parts behind it the gap says nothing. Zero
    /// only for a plan that is proven best; NaN where no bound is known, and where the plan does not have what the
    /// demands ask for. In units of the objective, zero or more. Throws nothing.
    [[nodiscard]] double gap() const {
        if (stop == stop_reason::demand_impossible || stop == stop_reason::demand_not_found ||
            stop == stop_reason::objective_not_finite)
            return unknown;
        if (stop != stop_reason::gap_left) return 0.0;
        for (const score_part& part : score_parts)
            if (!(part.value == part.bound)) return part.bound < part.value ? 0.0 : part.bound - part.value;
        return unknown; // they differ in a part that is no number
    }

    /// Whether the plan has portions that meet every limit, as many as the demands ask for. Throws nothing.
    [[nodiscard]] bool feasible() const { return stop == stop_reason::optimal || stop == stop_reason::gap_left; }
    explicit operator bool() const { return feasible(); }
    /// Whether no other plan on the grid that meets the demands scores higher. Not so when the objective was not
    /// finite, when a gap is left, or when the demands are not met. Throws nothing.
    [[nodiscard]] bool proven_optimal() const {
        return stop != stop_reason::objective_not_finite && stop != stop_reason::gap_left &&
               stop != stop_reason::demand_impossible && stop != stop_reason::demand_not_found;
    }

    /// One sentence for each spec and each demand that cannot be met, on lines of their own; empty if all can. Throws
    /// nothing but for lack of memory.
    template <class = detail::when_called>
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

    friend bool operator==(const planned&, const planned&) = default;

private:
    static constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
};

namespace detail {

/// The parts of a score and of its bound, in their order; none of a type of a user's own.
template <additive_score Score>
void add_parts(std::vector<score_part>& parts, const Score& value, const Score& bound) {
    if constexpr (requires { value.parts; }) [&]<std::size_t... I>(std::index_sequence<I...>) {
            (add_parts(parts, std::get<I>(value.parts), std::get<I>(bound.parts)), ...);
        }
    (std::make_index_sequence<std::tuple_size_v<decltype(value.parts)>>{});
    else if constexpr (requires {
                           { value.value() } -> std::convertible_to<double>;
                       }) add_parts(parts, value.value(), bound.value());
    else if constexpr (std::is_arithmetic_v<Score>) {
        score_part part{static_cast<double>(value), static_cast<double>(bound)};
        if (value < bound && !(part.value < part.bound)) // 64 bits, rounded
            part.bound = std::nextafter(part.value, std::numeric_limits<double>::infinity());
        parts.push_back(part);
    }
}

/// What is said of a plan once the objective has returned NaN or +infinity, or has forbidden every plan.
template <class = when_called>
void say_not_finite(planned& found) {
    found.stop = stop_reason::objective_not_finite;
    found.score_parts.clear();
}

/// What is said of a plan above which a better one may lie, part by part no better than `bounds`; none is known without.
template <class = when_called>
void say_gap_left(planned& found, const std::vector<double>& bounds = {}) {
    found.stop = stop_reason::gap_left;
    for (std::size_t i = 0; i < found.score_parts.size(); ++i)
        found.score_parts[i].bound = i < bounds.size() ? bounds[i] : std::numeric_limits<double>::quiet_NaN();
}

/// The plan that the stretches of a search make, and why the search stopped as far as the portions tell.
template <class Score>
[[nodiscard]] planned planned_from(const cutting_problem& problem, const std::vector<grid_slab>& stretches,
                                   const Score& score, bool finite = true) {
    planned result{.plan = laid_out(problem.meat(), problem.specs(), problem.rules(), stretches, &problem.tables()),
                   .searched = {problem.cells() + 1, problem.option_count()}};
    std::size_t without = 0;
    std::vector<bool> used(problem.specs().size());
    for (const grid_slab& s : stretches)
        if (s.kind == slab_kind::portions) used[s.option] = true;
    for (std::size_t spec = 0; spec < used.size(); ++spec) {
        if (used[spec]) continue;
        ++without;
        if (auto limit = binding_limit_of(problem, spec)) result.limits.push_back(std::move(*limit));
    }
    if (without == used.size())
        result.stop = result.limits.size() == used.size() ? stop_reason::no_portion_fits : stop_reason::no_portion_pays;
    result.hints = hints_of(problem, result.plan, result.limits);
    add_parts(result.score_parts, score, score);
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

} // namespace tranche
