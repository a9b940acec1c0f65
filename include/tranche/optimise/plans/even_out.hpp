// Among plans of equal score: shares the meat of neighbouring portions of one kind out evenly between them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <limits>
#include <span>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche {

namespace detail {

/// Writes the slabs of a run moved to the positions that make their weights most equal; the outer ends stay.
inline void even_into(std::vector<grid_slab>& even, std::span<const std::int64_t> front,
                      std::span<const grid_slab> run) {
    even.assign(run.begin(), run.end());
    const auto first = front.begin() + static_cast<std::ptrdiff_t>(run.front().from);
    const auto last = front.begin() + static_cast<std::ptrdiff_t>(run.back().to);
    for (std::size_t k = 1; k < run.size(); ++k) {
        const double share = static_cast<double>(k) / static_cast<double>(run.size());
        const std::int64_t target = *first + static_cast<std::int64_t>(static_cast<double>(*last - *first) * share);
        auto cut = std::lower_bound(first, last, target);
        if (cut != first && target - *std::prev(cut) < *cut - target) --cut;
        even[k - 1].to = even[k].from = static_cast<std::size_t>(cut - front.begin());
    }
}

/// Whether every slab of `after` is allowed, their scores add up to no less than those of `before`, and none is
/// lighter or heavier than all were before: the nearest positions of a coarse grid need not be the most equal ones.
template <objective O>
[[nodiscard]] bool as_good(const cutting_problem& problem, const O& objective, std::span<const grid_slab> before,
                           std::span<const grid_slab> after) {
    const std::size_t option = problem.loose_count() + before.front().option;
    struct run_measures {
        typename O::score_type score{};
        std::int64_t lightest = std::numeric_limits<std::int64_t>::max(), heaviest = 0;
    } was, is;
    const auto measure = [&](const grid_slab& s, run_measures& m) {
        m.score = m.score + slab_score(objective, option, s.from, s.to);
        const std::int64_t weight = problem.weight(option, s.from, s.to);
        m.lightest = std::min(m.lightest, weight);
        m.heaviest = std::max(m.heaviest, weight);
    };
    for (std::size_t k = 0; k < after.size(); ++k) {
        if (!problem.allows(option, after[k].from, after[k].to)) return false;
        measure(before[k], was);
        measure(after[k], is);
    }
    return is_finite(is.score) && !(is.score < was.score) && is.lightest >= was.lightest && is.heaviest <= was.heaviest;
}

} // namespace detail

/// Moves the cuts inside each run of neighbouring slabs of one spec to the positions that make their weights most
/// equal. If a limit stands in the way for the whole run, the longest part of it from the rib that can be evened is,
/// and then the rest. Cuts move only where every slab stays allowed, the score does not fall and weights do not spread
/// further apart, so an optimum remains one, and never to where a score is not finite. Cuts that must have one
/// thickness keep it. O(slabs² log positions) where limits stand in the way, O(slabs log positions) otherwise. The
/// stretches must be a tiling that `best_path` gave for this problem; `even` is room to work in. Throws nothing of its own.
/// Positions are whole steps of the profile, weights whole micrograms.
template <objective O>
void even_out(const cutting_problem& problem, const O& objective, std::vector<grid_slab>& stretches,
              std::vector<grid_slab>&& even = {}) {
    for (std::size_t first = 0; first < stretches.size();) {
        std::size_t past = first + 1;
        while (past < stretches.size() && stretches[past].kind == stretches[first].kind &&
               stretches[past].option == stretches[first].option)
            ++past;
        const auto may_move = [&](std::size_t option) {
            const auto [least, most] = problem.cells_of(problem.loose_count() + option);
            return least < most && !problem.specs()[option].one_thickness;
        };
        const bool moves = stretches[first].kind == slab_kind::portions && may_move(stretches[first].option);
        for (; moves && past > first + 1; --past) {
            const std::span<grid_slab> run(&stretches[first], past - first);
            detail::even_into(even, problem.front(problem.loose_count() + run.front().option), run);
            if (!detail::as_good(problem, objective, run, even)) continue;
            std::copy(even.begin(), even.end(), run.begin());
            break;
        }
        first = past;
    }
}

} // namespace tranche
