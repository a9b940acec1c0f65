// How much more of one source would make a blend possible.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <optional>
#include <vector>

#include <tranche/grind/detail/blend_problem.hpp>
#include <tranche/grind/detail/free_batch.hpp>

namespace tranche::detail {

/// Beyond its supply, of source `i`, so that a batch of this mass is no fatter than allowed: what is added takes the place
/// of the fattest meat that need not be in. None if it would not help however much there were. O(sources log sources).
[[nodiscard]] inline std::optional<std::int64_t> more_to_be_lean_enough(const blend_problem& p, std::size_t i) {
    const std::vector<std::int64_t> leanest = p.leanest_fill();
    if (leanest[i] < p.sources[i].most) return std::nullopt;
    std::vector<std::size_t> order(p.sources.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return p.sources[a].fat > p.sources[b].fat; });
    wide_integer excess = p.fat_of(leanest) - p.fat_allowed();
    std::int64_t more = 0;
    for (const std::size_t k : order) {
        const wide_integer difference = wide_integer{p.sources[k].fat} - p.sources[i].fat;
        if (excess <= 0 || difference <= 0) break;
        const wide_integer in = leanest[k] - p.sources[k].least;
        const auto moved = static_cast<std::int64_t>(std::min(in, divided_up(excess, difference)));
        more += moved;
        excess -= moved * difference;
    }
    return excess <= 0 ? std::optional(more) : std::nullopt;
}

/// The same for a blend of open mass that is still `excess` too fat with all that is lean and nothing fat that need not be.
[[nodiscard]] inline std::optional<wide_integer> more_to_be_lean_enough(const blend_problem& p, std::size_t i,
                                                                        wide_integer excess) {
    const std::int64_t leaner = p.fattest - p.sources[i].fat;
    if (leaner <= 0) return std::nullopt;
    return divided_up(excess, leaner);
}

/// Whether a batch that lies between the sums of the least and the most masses can be lean and fat enough.
[[nodiscard]] inline bool reaches_range(const blend_problem& p) {
    return p.fat_of(p.leanest_fill()) <= p.fat_allowed() && p.fat_of(p.fattest_fill()) >= p.fat_needed();
}

} // namespace tranche::detail
