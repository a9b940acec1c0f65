// Every choice of one thickness for each cut that must have one, where all of them have to be looked at.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// More than so many are not looked at one by one.
inline constexpr std::size_t most_thickness_choices = 2000;

/// How many choices there are, one if no cut has any; the largest number there is if that is too small.
template <class = when_called>
[[nodiscard]] std::size_t thickness_choices(const cutting_problem& problem) {
    std::size_t product = 1;
    for (const std::size_t o : problem.varying()) {
        const auto [least, most] = problem.cells_of(o);
        if (product > std::numeric_limits<std::size_t>::max() / (most - least + 1))
            return std::numeric_limits<std::size_t>::max();
        product *= most - least + 1;
    }
    return product;
}

/// Calls f(problem) for each choice, with the problem that it leaves; `f(problem)` itself where no cut has a choice.
/// go_on() is asked before each thickness.
template <class F, class GoOn = always>
void each_thickness_choice(const cutting_problem& problem, const F& f, const GoOn& go_on = {}) {
    const auto linked = problem.varying();
    if (linked.empty()) return f(problem);
    const std::size_t o = linked.front();
    const auto [least, most] = problem.cells_of(o);
    for (std::size_t cells = least; cells <= most && go_on(); ++cells) {
        cutting_problem one = problem;
        one.narrow_cells(o, cells, cells);
        each_thickness_choice(std::as_const(one), f, go_on);
    }
}

} // namespace tranche::detail
