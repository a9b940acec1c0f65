// What a request would need: the nearest change of each single limit that makes it possible or gives one more portion,
// and what each limit costs. A sensitivity analysis by planning again.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/explain/binding_limit.hpp>
#include <tranche/optimise/explain/detail/nearest_value.hpp>
#include <tranche/optimise/explain/detail/wider_values.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/same_number.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// One limit moved, everything else as asked, and the plan that this gives.
struct limit_change {
    request_limit which;
    limit_value from{}, to{};
    tranche::planned planned; ///< made with the change, by the same want
    std::string text{};       ///< one line that says this, to 0.01 mm, 0.1 g and 0.1 %

    friend bool operator==(const limit_change&, const limit_change&) = default;
};

/// What moving one limit a stated step is worth.
struct limit_cost {
    request_limit which;
    limit_value from{}, to{};
    double gain =
        0.0; ///< what the plan scores more, in units of the objective; NaN for scores that are no numbers, and
             ///< where a user's objective is not finite or the demands cannot be met with the change: then
             ///< nothing is said of portions either
    std::vector<double>
        gain_parts{};      ///< `gain`, or that of each part of a lexicographic score; empty where it is unknown
    double moved_by = 0.0; ///< how far, in metres, kilograms, shares, pieces or portions; 1 for what is not asked for
    std::int64_t more_portions = 0; ///< how many more there are
    micrograms more_in_portions{};  ///< how much more they weigh together
    tranche::planned planned;       ///< made with the change, by the same want

    /// Whether the limit binds: whether the plan scores more without the last step of it. Throws nothing.
    [[nodiscard]] bool binds() const {
        const auto differs = std::find_if(gain_parts.begin(), gain_parts.end(), [](double g) { return g != 0.0; });
        return differs != gain_parts.end() && *differs > 0.0;
    }
    /// The shadow price of the limit in units of the objective: gain for each metre, kilogram, whole share, piece or
    /// portion that it is moved, over the step from `from` to `to`. Plans are discrete, so another step has another
    /// price. A trim that leaves all is moved from the thickest that there is. Throws nothing.
    [[nodiscard]] double shadow_price() const { return gain / moved_by; }

    /// As of `planned`, NaN is the same as NaN.
    friend bool operator==(const limit_cost& a, const limit_cost& b) {
        const auto& [limit, was, is, gained, gained_parts, by, more, more_mass, then] = a;
        return limit == b.which && was == b.from && is == b.to && detail::same_number(gained, b.gain) &&
               detail::same_numbers(gained_parts, b.gain_parts) && by == b.moved_by && more == b.more_portions &&
               more_mass == b.more_in_portions && then == b.planned;
    }
};

namespace detail {

/// As much of a plan as the search for a change needs to see.
struct plan_glance {
    bool feasible = false;
    std::size_t portions = 0;
};

template <want W>
[[nodiscard]] plan_glance glance_at(const cutting_problem& asked, const cutting_request& request, const W& want,
                                    const search_limits& search) {
    if constexpr (planning_want<W>) {
        const planned found = plan(asked.meat(), request, want, search);
        return plan_glance{found.feasible(), found.plan.portion_count()};
    } else {
        const cutting_problem problem(asked, request.cuts, request.rules);
        const auto seen = [&](const auto& best, bool met) {
            const std::size_t portions = portion_count(request.cuts, best.stretches);
            return plan_glance{met && best.finite && portions > 0, portions};
        };
        return with_objective(want, problem, [&](const auto& objective) {
            if (request.demands.empty()) return seen(best_path(problem, objective, search), true);
            const auto best = best_path_with_demand(problem, objective, request.demands, search);
            return seen(best, best.outcome == demand_outcome::met);
        });
    }
}

/// Whether a plan of a request might have more than so many portions, whatever its objective wants: false only if none has.
template <class = when_called>
[[nodiscard]] bool might_have_more_than(const cutting_problem& asked, const cutting_request& request,
                                        std::size_t portions, const search_limits& search) {
    const cutting_problem problem(asked, request.cuts, request.rules);
    const portion_count_objective count(problem);
    const auto more = [&](std::int64_t most) { return most > static_cast<std::int64_t>(portions); };
    if (request.demands.empty()) return more(best_path(problem, count).score);
    const auto best = best_path_with_demand(problem, count, request.demands, search);
    if (best.outcome == demand_outcome::met) return more(best.bound);
    return best.outcome != demand_outcome::impossible;
}

/// An empty list, stopped if the search is.
template <class T>
[[nodiscard]] found_list<T> nothing_found(const search_limits& search) {
    found_list<T> none;
    if (search.stop()) none.ended = search_end::stopped;
    return none;
}

template <class = when_called>
[[nodiscard]] std::string change_text(const cutting_request& request, const limit_change& change) {
    return owner_of(request, change.which) + ": " + name_in(request, change.which) + " " +
           limit_text(change.which, change.to) + " instead of " + limit_text(change.which, change.from);
}

/// "12 portions, 4012.5 g together".
template <class = when_called>
[[nodiscard]] std::string portions_text(const cutting_plan& cuts) {
    const std::size_t count = cuts.portion_count();
    return std::to_string(count) + (count == 1 ? " portion, " : " portions, ") +
           detail::shown(to_mass(balance_of(cuts).portion_total())) + " together";
}

/// The changes of all limits for which `works(request)`, and see `nearest_value` for `might`; `plan(request)` gives what
/// stands behind each, and `holds(planned)` whether that bears it out. What was being looked for when `search` stopped is left out.
template <class Works, class Might, class Plan, class Holds>
[[nodiscard]] found_list<limit_change> nearest_changes(const profile& meat, const cutting_request& request,
                                                       const std::vector<request_limit>& limits,
                                                       const limit_steps& steps, const search_limits& search,
                                                       const Works& works, const Might& might, const Plan& plan,
                                                       const Holds& holds) {
    validate(steps);
    found_list<limit_change> changes;
    const auto stopped = [&] {
        if (search.stop()) changes.ended = search_end::stopped;
        return changes.ended == search_end::stopped;
    };
    for (const request_limit& limit : limits) {
        if (stopped()) break;
        const std::optional<limit_value> to = nearest_value(meat, request, limit, steps, works, might);
        if (stopped()) break;
        if (!to) continue;
        limit_change change{
            .which = limit, .from = value_of(request, limit), .to = *to, .planned = plan(moved(request, limit, *to))};
        if (stopped()) break;
        if (!holds(change.planned)) continue;
        change.text = change_text(request, change) + " gives " + portions_text(change.planned.plan);
        changes.push_back(std::move(change));
    }
    return changes;
}

} // namespace detail

/// For a request without a feasible plan: the nearest change of each single limit that gives one, in the order of
/// `limits_of`; limits that cannot help by themselves are left out. Empty for a request that is feasible.
///
/// Each value is a whole number of `steps`, found by bisection and then planned with: `planned` is that plan, and
/// feasible. It is the nearest such value as long as widening the limit further never loses the plan again. That holds
/// for objectives that want portions first, by count or mass, on windows of thickness no narrower than the grid and without
/// notches, for all limits but the kerf; otherwise one with a nearer neighbour that does not do, and there may be one nearer
/// still. Numbers of pieces are tried one by one, and always nearest.
///
/// A trim may have to leave more (portions are too light) or less (they are too heavy): the nearer of the two is named.
/// What is found for it is the nearest of all, whatever the windows and the objective, as long as nothing is over-cut and
/// the search is not given up (`detail::trim_search`).
///
/// O(log(range / step)) plans a limit, up to 99 for pieces, and some hundreds for a trim at worst. `search` holds for each of
/// those plans by itself; once its `stop` says so, the limits that have not been looked at to the end are left out, and the list
/// says that it was stopped. Throws as `plan`
/// does, and for steps that are not above zero. Steps are a length, a mass and a share, each above zero.
template <want W>
[[nodiscard]] found_list<limit_change> nearest_feasible(const profile& meat, const cutting_request& request,
                                                        const W& written, const limit_steps& steps = {},
                                                        const search_limits& search = {}) {
    const auto want = detail::bound_to(written, request);
    const cutting_problem asked(meat, request.cuts, request.rules);
    const auto works = [&](const cutting_request& r) { return detail::glance_at(asked, r, want, search).feasible; };
    if (works(request) || search.stop()) return detail::nothing_found<limit_change>(search);
    return detail::nearest_changes(
        meat, request, detail::limits_of(request), steps, search, works,
        [&](const cutting_request& r) { return detail::might_have_more_than(asked, r, 0, search); },
        [&](const cutting_request& r) { return detail::plan_like(asked, r, want, search); },
        [](const planned& planned) { return planned.feasible(); });
}

/// For a spec of which no portion can be cut (`planned::limits`), whatever becomes of the others: the nearest
/// change of each single limit of that spec, and of whole trim, facing, remnant and loose meat, that lets one be cut. The plan behind
/// each has as many of that spec as there can be. Empty if it can be cut as it is. As `nearest_feasible` otherwise, without
/// regard to demands or an order of cuts; O(positions) a value, and `search` is asked before each limit. Throws `invalid_input` for an index that no spec has.
template <class = detail::when_called>
[[nodiscard]] found_list<limit_change> nearest_portion_of(const profile& meat, const cutting_request& request,
                                                          std::size_t spec, const limit_steps& steps = {},
                                                          const search_limits& search = {}) {
    if (spec >= request.cuts.size())
        throw invalid_input("spec", std::to_string(spec),
                            "an index below the number of specs, " + std::to_string(request.cuts.size()));
    const cutting_problem asked(meat, request.cuts, request.rules);
    const auto works = [&](const cutting_request& r) {
        return !binding_limit_of(cutting_problem(asked, r.cuts, r.rules), spec).has_value();
    };
    if (works(request)) return {};
    std::vector<request_limit> limits;
    for (const request_limit& limit : detail::limits_of(request)) {
        const bool of_spec = limit.of_a_spec() && limit.index == spec;
        using kind = request_limit::kind;
        const bool of_loin = limit.what == kind::whole_fat_left || limit.what == kind::whole_tail_left ||
                             (kind::facing <= limit.what && limit.what <= kind::loose_zone_to);
        if (of_spec || of_loin) limits.push_back(limit);
    }
    return detail::nearest_changes(
        meat, request, limits, steps, search, works, works,
        [&](const cutting_request& r) {
            const cutting_problem problem(asked, r.cuts, r.rules);
            return plan(problem, detail::slab_count_objective{problem.loose_count() + spec});
        },
        [&](const planned& planned) { return balance_of(planned.plan).portions[spec] > micrograms{}; });
}

/// For a feasible request: the nearest change of each single limit with which the plan has one more portion (or
/// several: pieces come by the slab). As `nearest_feasible` otherwise; with objectives that do not want portions first,
/// more room may also give fewer, and there may be a nearer value. Empty for a request that is not feasible. Throws as
/// `nearest_feasible`. Steps are a length, a mass and a share.
template <want W>
[[nodiscard]] found_list<limit_change> one_more_portion(const profile& meat, const cutting_request& request,
                                                        const W& written, const limit_steps& steps = {},
                                                        const search_limits& search = {}) {
    const auto want = detail::bound_to(written, request);
    const cutting_problem asked(meat, request.cuts, request.rules);
    const detail::plan_glance now = detail::glance_at(asked, request, want, search);
    if (!now.feasible || search.stop()) return detail::nothing_found<limit_change>(search);
    return detail::nearest_changes(
        meat, request, detail::limits_of(request), steps, search,
        [&](const cutting_request& r) {
            const detail::plan_glance then = detail::glance_at(asked, r, want, search);
            return then.feasible && then.portions > now.portions;
        },
        [&](const cutting_request& r) { return detail::might_have_more_than(asked, r, now.portions, search); },
        [&](const cutting_request& r) { return detail::plan_like(asked, r, want, search); },
        [&](const planned& planned) { return planned.feasible() && planned.plan.portion_count() > now.portions; });
}

namespace detail {

/// How far `limit_costs` moves each limit unless told: far enough to be felt, near enough to be given.
inline constexpr limit_steps small_steps{.thickness = 1.0 * millimetre, .portion = 10.0 * gram, .share = 0.05};

} // namespace detail

/// What each limit costs: what the plan gains when that limit alone is made wider by a step, by planning again. Pieces
/// are moved by one both ways, trims by a step both ways, portions of demands by one, and what is asked for or not is not
/// asked for. Limits that cannot be wider on this loin are left out; so is a request that is not feasible. A gain below
/// zero there can be only for pieces and trims, and where a plan is not proven optimal.
///
/// Scores of the library's objectives look at what lies behind the facing: what the facing's own meat fetches is not
/// in the gain. The difference of `worth_of` two plans, in money, has it.
///
/// One plan a limit, `search` as for `nearest_feasible`. Throws as `plan` does, and for steps that are not above zero. Gains
/// are in units of the objective; steps are lengths, masses and shares above zero.
template <want W>
[[nodiscard]] found_list<limit_cost> limit_costs(const profile& meat, const cutting_request& request, const W& written,
                                                 const limit_steps& steps = detail::small_steps,
                                                 const search_limits& search = {}) {
    validate(steps);
    const auto want = detail::bound_to(written, request);
    found_list<limit_cost> costs;
    const cutting_problem asked(meat, request.cuts, request.rules);
    const planned now = detail::plan_like(asked, request, want, search);
    if (!now.feasible() || search.stop()) return detail::nothing_found<limit_cost>(search);
    const micrograms in_portions = balance_of(now.plan).portion_total();
    const auto add = [&](const request_limit& limit, const limit_value& to, double was) {
        limit_cost cost{.which = limit,
                        .from = value_of(request, limit),
                        .to = to,
                        .moved_by = std::abs(detail::raw_number(to) - was),
                        .planned = detail::plan_like(asked, moved(request, limit, to), want, search)};
        if (search.stop()) return void(costs.ended = search_end::stopped);
        const stop_reason stop = cost.planned.stop;
        if (stop == stop_reason::objective_not_finite || stop == stop_reason::demand_impossible ||
            stop == stop_reason::demand_not_found) {
            cost.gain = std::numeric_limits<double>::quiet_NaN();
            return costs.push_back(std::move(cost));
        }
        cost.gain = cost.planned.score() - now.score();
        const std::vector<score_part>& then_parts = cost.planned.score_parts;
        std::transform(then_parts.begin(), then_parts.end(), now.score_parts.begin(),
                       std::back_inserter(cost.gain_parts),
                       [](const score_part& a, const score_part& b) { return a.value - b.value; });
        const cutting_plan& then = cost.planned.plan;
        cost.more_portions =
            static_cast<std::int64_t>(then.portion_count()) - static_cast<std::int64_t>(now.plan.portion_count());
        cost.more_in_portions = balance_of(then).portion_total() - in_portions;
        costs.push_back(std::move(cost));
    };
    for (const request_limit& limit : detail::limits_of(request)) {
        if (search.stop()) costs.ended = search_end::stopped;
        if (costs.ended == search_end::stopped) break;
        if (limit.what == request_limit::kind::pieces) {
            const std::int64_t pieces = request.cuts[limit.index].pieces;
            const auto now_pieces = static_cast<double>(pieces);
            if (pieces > 1) add(limit, pieces - 1, now_pieces);
            if (pieces < 100) add(limit, pieces + 1, now_pieces);
            continue;
        }
        using way = detail::wider_values<>::way;
        for (const way which : {way::wider, way::less_left}) {
            if (which == way::less_left && !limit.of_a_trim()) continue;
            const detail::wider_values values(meat, request, limit, steps, which);
            if (const auto to = values.one_step()) add(limit, *to, values.now());
        }
    }
    return costs;
}

} // namespace tranche
