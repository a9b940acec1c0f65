// Where a request is planned again and again with one limit moved: the room for it, and what each plan is seen to have.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <any>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/explain/detail/nearest_value.hpp>
#include <tranche/optimise/explain/detail/wider_values.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

namespace detail {

/// As much of a plan as what-ifs compare.
struct plan_glance {
    bool known = false;    ///< whether it has a score, and what the demands ask for
    bool feasible = false; ///< as `planned::feasible`
    std::size_t portions = 0;
    micrograms in_portions{};
    std::vector<score_part> parts{};
};

[[nodiscard]] inline plan_glance glance_of(const planned& found) {
    return {.known = found.stop != stop_reason::objective_not_finite && found.stop != stop_reason::demand_impossible &&
                     found.stop != stop_reason::demand_not_found,
            .feasible = found.feasible(),
            .portions = found.plan.portion_count(),
            .in_portions = balance_of(found.plan).portion_total(),
            .parts = found.score_parts};
}

/// Portions of a plan, for a bound on how many there can be.
struct portions_in_plan {
    using score_type = std::int64_t;
    const cutting_problem* problem;

    [[nodiscard]] score_type opening(std::size_t /*option*/, std::size_t /*from*/) const { return 0; }
    [[nodiscard]] score_type closing(std::size_t option, std::size_t /*to*/) const { return problem->pieces(option); }
};

/// Searches for plans of requests that are one but for a limit. It is told of that one first, and keeps what is known of its plan
/// for the others: where cuts must have one thickness, what cannot reach its score is not looked at.
struct what_if_room : limit_room {
    std::vector<request_limit> limits{}; ///< of the request
    plan_glance now{}, seen{};           ///< of the request, and of the last one that was looked at

    template <class = when_called>
    void begin(const profile& meat, const cutting_request& request) {
        for (std::optional<cutting_problem>* other : {&then_, &light, &heavy})
            if (*other) (*other)->let_tables_go();
        if (asked)
            asked->become(meat, request.cuts, request.rules);
        else
            asked.emplace(meat, request.cuts, request.rules);
        incumbent_.clear();
        write_limits(request, limits);
    }
    template <want W>
    void look_at_now(const cutting_request& request, const W& want, const search_limits& search) {
        slabs_.clear();
        look(request, want, search, now);
        if (now.feasible) incumbent_ = slabs_;
    }
    template <want W>
    const plan_glance& look(const cutting_request& request, const W& want, const search_limits& search) {
        look(request, want, search, seen);
        return seen;
    }
    /// Whether a plan of a request might have more than so many portions, whatever its objective wants: false only if none has.
    template <class = when_called>
    [[nodiscard]] bool might_have_more_than(const cutting_request& request, std::size_t portions,
                                            const search_limits& search) {
        const cutting_problem& problem = make(then_, *asked, request);
        const portions_in_plan count{&problem};
        const auto exceeds = [&](std::int64_t most) { return most > static_cast<std::int64_t>(portions); };
        if (request.demands.empty()) return exceeds(search_for<portions_in_plan>().best_path(problem, count).score);
        const auto best = best_path_with_demand(problem, count, request.demands, search);
        if (best.outcome == demand_outcome::met) return exceeds(best.bound);
        return best.outcome != demand_outcome::impossible;
    }

    /// f(change) for each limit in `limits` with a value for which `works(request)`; see `nearest_value` for `might`. What was
    /// being looked for when `search` stopped is left out.
    template <class Works, class Might, class F>
    search_end each_nearest(const profile& meat, const cutting_request& request, const limit_steps& steps,
                            const search_limits& search, const Works& works, const Might& might, const F& f) {
        validate(steps);
        for (const request_limit& limit : limits) {
            if (search.stop()) return search_end::stopped;
            const std::optional<limit_value> to =
                nearest_value(meat, request, limit, steps, works, might, std::move(*this));
            if (search.stop()) return search_end::stopped;
            if (to) f(limit_move{.which = limit, .from = value_of(request, limit), .to = *to});
        }
        return search.stop() ? search_end::stopped : search_end::by_itself;
    }
    /// The same for each change that gives more portions to a feasible request, or else a plan to one without; none if it is the
    /// other.
    template <want W, class F>
    search_end each_change(const profile& meat, const cutting_request& request, bool feasible, const W& want,
                           const limit_steps& steps, const search_limits& search, const F& f) {
        begin(meat, request);
        look_at_now(request, want, search);
        if (has_plan(now) != feasible || search.stop())
            return search.stop() ? search_end::stopped : search_end::by_itself;
        const std::size_t portions = feasible ? now.portions : 0;
        return each_nearest(
            meat, request, steps, search,
            [&](const cutting_request& r) { return has_plan(look(r, want, search)) && seen.portions > portions; },
            [&](const cutting_request& r) { return might_have_more_than(r, portions, search); }, f);
    }
    [[nodiscard]] static bool has_plan(const plan_glance& of) { return of.feasible && of.portions > 0; }

private:
    template <want W>
    void look(const cutting_request& request, const W& want, const search_limits& search, plan_glance& into) {
        if constexpr (!planning_want<W>)
            if (request.demands.empty()) {
                const cutting_problem& problem = make(then_, *asked, request);
                return with_objective(want, problem,
                                      [&](const auto& objective) { look_by(problem, objective, search, into); });
            }
        into = glance_of(plan_like(*asked, request, want, search));
    }
    /// As `plan` does without demands.
    template <objective O>
    void look_by(const cutting_problem& problem, const O& objective, const search_limits& search, plan_glance& into) {
        search_clock clock(search);
        const auto& best =
            search_for<O>().best_path(problem, objective, clock, known_score(problem, objective, search));
        slabs_ = best.stretches;
        // Without a kerf evening out moves no meat into or out of portions, and is most of the work.
        const auto loses = [&](const grid_slab& slab) { return problem.kerf(option_of(problem, slab)) > length{}; };
        if (std::any_of(slabs_.begin(), slabs_.end(), loses)) even_out(problem, objective, slabs_, std::move(even_));
        into.known = best.finite && is_finite(best.score);
        into.parts.clear();
        if (into.known) add_parts(into.parts, best.score, best.score);
        into.portions = 0;
        into.in_portions = {};
        for (const grid_slab& s : slabs_) {
            if (s.kind != slab_kind::portions) continue;
            const std::size_t option = problem.loose_count() + s.option;
            into.portions += static_cast<std::size_t>(problem.pieces(option));
            into.in_portions.count += problem.weight(option, s.from, s.to);
        }
        into.feasible = into.known && (into.portions > 0 || best.score < best.bound);
    }
    /// What the plan of the request scores under a problem that allows it too and takes a search over thicknesses.
    template <objective O>
    [[nodiscard]] std::optional<typename O::score_type> known_score(const cutting_problem& problem, const O& objective,
                                                                    const search_limits& search) const {
        if constexpr (always_finite<typename O::score_type>) {
            const std::vector<std::size_t> linked = problem.varying();
            const auto allowed = [&](const grid_slab& s) {
                return problem.allows(option_of(problem, s), s.from, s.to);
            };
            if (!linked.empty() && !incumbent_.empty() && search.most_passes == search_limits{}.most_passes &&
                incumbent_.front().from == problem.start() && incumbent_.back().to == problem.cells() &&
                std::all_of(incumbent_.begin(), incumbent_.end(), allowed) && keeps_order(problem, incumbent_) &&
                split_thickness(problem, linked, cell_ranges(linked.size()), incumbent_).empty())
                return score_of(problem, objective, incumbent_);
        }
        return std::nullopt;
    }
    /// The room of all searches by one type of objective.
    template <objective O>
    [[nodiscard]] path_workspace<O>& search_for() {
        for (std::any& known : searches_)
            if (auto* const found = std::any_cast<path_workspace<O>>(&known)) return *found;
        return *std::any_cast<path_workspace<O>>(&searches_.emplace_back(path_workspace<O>{}));
    }

    std::optional<cutting_problem> then_{};
    std::vector<grid_slab> slabs_{}, even_{}, incumbent_{}; ///< of the plan seen last; to work in; of the request
    std::vector<std::any> searches_{};                      ///< a `path_workspace` for each type of objective
};

} // namespace detail

} // namespace tranche
