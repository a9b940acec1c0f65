// What a request would need: the nearest change of each single limit that makes it possible or gives one more portion,
// and what each limit costs. A sensitivity analysis by planning again.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/explain/binding_limit.hpp>
#include <tranche/optimise/explain/detail/what_if_room.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/optimise/explain/what_if_workspace.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/want.hpp>
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

/// What moving one limit a stated step is worth, and the plan behind it.
struct limit_cost : limit_gain {
    tranche::planned planned{}; ///< made with the change, by the same want

    friend bool operator==(const limit_cost&, const limit_cost&) = default;
};

namespace detail {

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

/// Notes a change that `plan(request)` bears out, as far as `holds(planned)` says so.
template <class Plan, class Holds>
void note_change(found_list<limit_change>& changes, const cutting_request& request, const limit_move& found,
                 const Plan& plan, const Holds& holds, const search_limits& search) {
    limit_change change{.which = found.which,
                        .from = found.from,
                        .to = found.to,
                        .planned = plan(moved(request, found.which, found.to))};
    if (search.stop() || !holds(change.planned)) return;
    change.text = change_text(request, change) + " gives " + portions_text(change.planned.plan);
    changes.push_back(std::move(change));
}

/// What `nearest_feasible` and `one_more_portion` give.
template <want W>
[[nodiscard]] found_list<limit_change> changes_of(const profile& meat, const cutting_request& request, bool feasible,
                                                  const W& want, const limit_steps& steps,
                                                  const search_limits& search) {
    found_list<limit_change> changes;
    what_if_room room;
    const auto planned_with = [&](const cutting_request& r) { return plan_like(*room.asked, r, want, search); };
    const auto holds = [&](const planned& found) {
        return found.feasible() && (!feasible || found.plan.portion_count() > room.now.portions);
    };
    changes.ended = room.each_change(meat, request, feasible, want, steps, search, [&](const limit_move& found) {
        note_change(changes, request, found, planned_with, holds, search);
    });
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
    return detail::changes_of(meat, request, false, detail::bound_to(written, request), steps, search);
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
    detail::what_if_room room;
    room.begin(meat, request);
    const auto works = [&](const cutting_request& r) {
        return !binding_limit_of(cutting_problem(*room.asked, r.cuts, r.rules), spec).has_value();
    };
    if (works(request)) return {};
    std::erase_if(room.limits, [&](const request_limit& limit) {
        const bool of_spec = limit.of_a_spec() && limit.index == spec;
        using kind = request_limit::kind;
        const bool of_loin = limit.what == kind::whole_fat_left || limit.what == kind::whole_tail_left ||
                             (kind::facing <= limit.what && limit.what <= kind::loose_zone_to);
        return !of_spec && !of_loin;
    });
    found_list<limit_change> changes;
    changes.ended = room.each_nearest(meat, request, steps, search, works, works, [&](const limit_move& found) {
        detail::note_change(
            changes, request, found,
            [&](const cutting_request& r) {
                const cutting_problem problem(*room.asked, r.cuts, r.rules);
                return plan(problem, detail::slab_count_objective{problem.loose_count() + spec});
            },
            [&](const planned& planned) { return balance_of(planned.plan).portions[spec] > micrograms{}; }, search);
    });
    return changes;
}

/// For a feasible request: the nearest change of each single limit with which the plan has one more portion (or
/// several: pieces come by the slab). As `nearest_feasible` otherwise; with objectives that do not want portions first,
/// more room may also give fewer, and there may be a nearer value. Empty for a request that is not feasible. Throws as
/// `nearest_feasible`. Steps are a length, a mass and a share.
template <want W>
[[nodiscard]] found_list<limit_change> one_more_portion(const profile& meat, const cutting_request& request,
                                                        const W& written, const limit_steps& steps = {},
                                                        const search_limits& search = {}) {
    return detail::changes_of(meat, request, true, detail::bound_to(written, request), steps, search);
}

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
    const auto& want = detail::bound_to(written, request);
    found_list<limit_cost> costs;
    const cutting_problem asked(meat, request.cuts, request.rules);
    const planned as_asked = detail::plan_like(asked, request, want, search);
    const auto stopped = [&] {
        if (search.stop()) costs.ended = search_end::stopped;
        return costs.ended == search_end::stopped;
    };
    if (stopped() || !as_asked.feasible()) return costs;
    const detail::plan_glance now = detail::glance_of(as_asked);
    detail::each_step(meat, request, detail::limits_of(request), steps,
                      [&](const request_limit& limit, const limit_value& to, double by) {
                          limit_cost cost;
                          cost.which = limit;
                          cost.from = value_of(request, limit);
                          cost.to = to;
                          cost.moved_by = by;
                          cost.planned = detail::plan_like(asked, moved(request, limit, to), want, search);
                          if (stopped()) return false;
                          detail::write_gain(cost, now, detail::glance_of(cost.planned));
                          costs.push_back(std::move(cost));
                          return true;
                      });
    return costs;
}

} // namespace tranche
