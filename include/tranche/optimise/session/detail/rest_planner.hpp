// The rest of a loin behind slabs that are cut, as a problem, and the best plan of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <span>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/plans/even_out.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/session/actual_slab.hpp>
#include <tranche/optimise/session/detail/demand_left.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/rest_want.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// A request for what is left of a loin: the problem, which starts behind what is cut, and the demands for the whole loin.
template <class = when_called>
class loin_rest {
public:
    /// With nothing cut. Throws as `cutting_problem` and `validate` do.
    loin_rest(const profile& meat, cutting_request&& request)
        : problem_(std::make_unique<cutting_problem>(meat, std::move(request.cuts), std::move(request.rules))),
          demands_(std::move(request.demands)), facing_(problem_->start()), links_(problem_->links_slabs()) {
        validate(demands_, problem_->specs());
    }

    [[nodiscard]] const cutting_problem& problem() const { return *problem_; }
    /// Where the facing ends; 0 without one.
    [[nodiscard]] std::size_t facing() const { return facing_; }

    /// From now on the problem is that of what lies behind `cut` and a position, `ratio` times as heavy as the profile has it.
    /// O(cells × options).
    void start_at(std::size_t position, double ratio, std::span<const actual_slab> cut) {
        if (links_ || !cut.empty())
            problem_->plan_rest(position, ratio, in_front_of_rest(*problem_, cut));
        else
            problem_->plan_rest(position, ratio);
    }
    /// What is asked for and not cut.
    [[nodiscard]] std::vector<demand> demands_left(std::span<const actual_slab> cut) const {
        return detail::demands_left(demands_, problem_->specs(), cut);
    }

private:
    std::unique_ptr<cutting_problem> problem_; // objectives point into it, so it stays where it is
    std::vector<demand> demands_;
    std::size_t facing_;
    bool links_; // whether an order or a common thickness links slabs
};

/// Plans the rest by a want.
template <class Way>
class rest_planner;

/// By an objective: the best path, the one that comes nearest to the demands that are left, evened out.
template <objective O>
class rest_planner<O> {
public:
    template <objective_want W>
    rest_planner(const cutting_problem& problem, const W& want) : objective_(want(problem)) {}

    [[nodiscard]] rest_plan operator()(const loin_rest<>& rest, std::span<const actual_slab> cut, double ratio,
                                       const search_limits& search) {
        if constexpr (requires { objective_.set_mass_ratio(1.0); }) objective_.set_mass_ratio(ratio);
        const std::vector<demand> left = rest.demands_left(cut);
        rest_plan plan;
        const auto take = [&](auto&& best) {
            plan.finite = best.finite;
            plan.ended = best.ended;
            if (!best.finite) return;
            add_parts(plan.score_parts, best.score, best.bound);
            plan.stretches = std::move(best.stretches);
        };
        if (left.empty())
            take(best_path(rest.problem(), objective_, search));
        else
            take(best_path_with_demand(rest.problem(), objective_, left, search));
        even_out(rest.problem(), objective_, plan.stretches);
        return plan;
    }

private:
    O objective_;
};

/// By a want that is no objective.
template <rest_want W>
class rest_planner<W> {
public:
    rest_planner(const cutting_problem& /*problem*/, const W& want) : want_(want) {}

    [[nodiscard]] rest_plan operator()(const loin_rest<>& rest, std::span<const actual_slab> cut, double ratio,
                                       [[maybe_unused]] const search_limits& search) {
        const rest_of_loin left{rest.problem(), rest.demands_left(cut), as_in_front(cut, rest.problem().specs(), ratio),
                                ratio};
        if constexpr (requires { want_.rest(left, search); })
            return want_.rest(left, search);
        else
            return want_.rest(left);
    }

private:
    W want_;
};

/// What a session of a want is made with.
template <class W>
struct way_of {
    using type = W;
};
template <objective_want W>
struct way_of<W> {
    using type = std::invoke_result_t<const W&, const cutting_problem&>;
};

/// By a want of a type that only who makes the session knows.
template <>
class rest_planner<any_want> {
public:
    template <class W>
    rest_planner(const cutting_problem& problem, const W& want)
        : plan_(rest_planner<typename way_of<W>::type>(problem, want)) {}

    [[nodiscard]] rest_plan operator()(const loin_rest<>& rest, std::span<const actual_slab> cut, double ratio,
                                       const search_limits& search) {
        return plan_(rest, cut, ratio, search);
    }

private:
    std::function<rest_plan(const loin_rest<>&, std::span<const actual_slab>, double, const search_limits&)> plan_;
};

} // namespace tranche::detail
