// Every slab that a cut may have, for searches that look at all of them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>

#include <tranche/optimise/request/cutting_problem.hpp>

namespace tranche::detail {

/// Calls f(from, to) for each slab of an option of portions that the problem allows, by where it ends and then by where it
/// starts. Slabs that are linked with others (an order, one thickness) are not left out. O(slabs within the windows).
template <class F>
void each_allowed_slab(const cutting_problem& problem, std::size_t option, const F& f) {
    const option_window& w = problem.window(option);
    for (std::size_t to = problem.start() + 1; to <= problem.cells(); ++to) {
        const bool at_end = to == problem.cells();
        const std::size_t first = at_end ? w.first_to_end : to - std::min(to, w.most_cells);
        const std::size_t past = at_end ? w.last_to_end + 1 : to + 1 - std::min(to + 1, w.least_cells);
        for (std::size_t from = std::max(first, problem.start()); from < std::min(past, to); ++from)
            if (problem.allows(option, from, to)) f(from, to);
    }
}

} // namespace tranche::detail
