// What is best, as a value that knows no loin yet: the same for plans, polishing, what-ifs, sessions and studies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <utility>

#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche {

/// A want that is an objective as soon as there is a problem: `want(problem)` gives it, and it may point into the problem.
/// `most_portions()`, `best_by<near_target>(330_g)` and `[](const cutting_problem& p) { return near_target{p, 330_g}; }` are
/// such; an objective itself is none, as it belongs to one problem.
template <class W>
concept objective_want = requires(const W& want, const cutting_problem& problem) {
    { want(problem) } -> objective;
};

/// A want that no sum over slabs can say: `want(meat, request)` gives the plan. `even_portions(11)` is one. It has to answer
/// for all of the request, or throw.
template <class W>
concept planning_want = requires(const W& want, const profile& meat, const cutting_request& request) {
    { want(meat, request) } -> std::same_as<planned>;
};

/// What is best, said without a loin. One value for `plan`, `polish`, `what_ifs_of`, `cutting_session` and studies.
template <class W>
concept want = objective_want<W> || planning_want<W>;

/// The want that is an objective of that type, made of the problem and of `more`: `Objective{problem, more...}`. Scores
/// are in the unit of that objective. Throws what copies of `more` throw; when it is bound, what the objective throws.
template <class Objective, class... More>
[[nodiscard]] auto best_by(More... more) {
    return [... more = std::move(more)](const cutting_problem& problem) { return Objective{problem, more...}; };
}

/// `first`, then the others in turn, as wants: the objective is made of theirs when there is a problem. Throws what they throw.
template <objective_want... Wants>
requires(sizeof...(Wants) >= 2) [[nodiscard]] auto lexicographic(Wants... wants) {
    return [... wants = std::move(wants)](const cutting_problem& problem) { return lexicographic(wants(problem)...); };
}

namespace detail {

/// use(objective) with the objective of a want for a problem. A want may have several types of objective and choose by the
/// problem: then it has a member of this name, and `want(problem)` is one that does in every case.
template <objective_want W, class Use>
decltype(auto) with_objective(const W& want, const cutting_problem& problem, const Use& use) {
    if constexpr (requires { want.with_objective(problem, use); })
        return want.with_objective(problem, use);
    else
        return use(want(problem));
}

/// The want of a request, for requests that are that one but for a limit. What a want takes from the limits of a request, as the
/// weight that a portion is charged at, is not to move with them: then it has `for_request(request)`, which gives the want that
/// says it outright. A reference to the want otherwise.
template <want W>
[[nodiscard]] decltype(auto) bound_to(const W& want, [[maybe_unused]] const cutting_request& request) {
    if constexpr (requires { want.for_request(request); })
        return want.for_request(request);
    else
        return (want);
}

} // namespace detail

} // namespace tranche
