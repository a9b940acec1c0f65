// Every choice of one thickness for each cut that must have one, where all of them have to be looked at.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

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

/// Throws `invalid_input` if there are more choices than `most`.
template <class = when_called>
void require_few_thickness_choices(const cutting_problem& problem, std::size_t most) {
    const std::size_t choices = thickness_choices(problem);
    if (choices <= most) return;
    std::string cuts;
    for (const std::size_t o : problem.varying()) cuts += (cuts.empty() ? "" : ", ") + problem.spec_of(o).name;
    throw invalid_input("one_thickness", "for " + cuts + ", " + std::to_string(choices) + " choices together",
                        "at most " + std::to_string(most) + ": fewer such cuts, narrower windows, or a coarser grid");
}

/// Calls f(problem) for each choice, with the problem that it leaves; `f(problem)` itself where no cut has a choice. Choices
/// that differ in slabs thinner than `thinnest` only, which nobody wants to see, are made once.
template <class F>
void each_thickness_choice(const cutting_problem& problem, length thinnest, const F& f) {
    const auto linked = problem.varying();
    if (linked.empty()) return f(problem);
    const std::size_t o = linked.front();
    const auto [least, most] = problem.cells_of(o);
    for (std::size_t cells = least; cells <= most; ++cells) {
        // A slab up to the sirloin face may be half a step thicker.
        const length thickest = unfused((static_cast<double>(cells) + 1.0) * problem.meat().step()) - problem.kerf(o);
        if (cells > least && snapped(thickest) < snapped(thinnest)) continue;
        cutting_problem one = problem;
        one.narrow_cells(o, cells, cells);
        each_thickness_choice(std::as_const(one), thinnest, f);
    }
}

} // namespace tranche::detail
