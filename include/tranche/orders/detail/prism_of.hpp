// Whether a loin is one on which only the number of portions matters, not where they lie.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The grid of a loin whose cuts have one thickness each, lie anywhere, and are worth nothing but by the piece.
struct loin_prism {
    std::size_t start = 0, cells = 0;
    std::size_t room = 0;              ///< for widths with a kerf behind every slab
    std::vector<std::size_t> widths{}; ///< by line; 0 for a cut that is not given
    std::vector<std::int64_t> pieces{};

    /// Slabs from the start on; if they fill the loin so far that the last one needs the sirloin face, what is left lies in front.
    [[nodiscard]] std::vector<compact_cut> cuts(const std::vector<std::int64_t>& slabs) const {
        std::vector<compact_cut> result;
        std::size_t total = 0, last = widths.size();
        for (std::size_t j = 0; j < widths.size(); ++j) {
            total += static_cast<std::size_t>(slabs[j]) * widths[j];
            if (slabs[j] > 0) last = j;
        }
        const auto cut = [&](std::size_t to, std::size_t option, slab_kind kind) {
            result.push_back({static_cast<std::uint32_t>(to), static_cast<std::uint16_t>(option), kind});
        };
        std::size_t at = start;
        const bool to_the_face = last < widths.size() && total >= cells - start;
        if (to_the_face && room > total) cut(at += room - total, 0, slab_kind::loose);
        for (std::size_t j = 0; j < widths.size(); ++j)
            for (std::int64_t n = 0; n < slabs[j]; ++n) {
                const bool ends = to_the_face && j == last && n + 1 == slabs[j];
                cut(at = ends ? cells : at + widths[j], j, slab_kind::portions);
            }
        if (at < cells) cut(cells, 0, slab_kind::loose);
        return result;
    }
};

/// Nothing for any other loin. O(positions × cuts) for loins whose cuts have one thickness, O(cuts) for others.
template <class Objective>
[[nodiscard]] std::optional<loin_prism> prism_of(const cutting_problem& problem, const Objective& objective) {
    const std::size_t start = problem.start(), end = problem.cells(), loose = problem.loose_count();
    if (problem.links_slabs() || end <= start) return std::nullopt;
    const auto worth = [&](std::size_t o, std::size_t from, std::size_t to) {
        return objective.opening(o, from) + objective.closing(o, to);
    };
    loin_prism prism{.start = start, .cells = end, .room = end - start - 1};
    constexpr std::size_t none = static_cast<std::size_t>(-1);
    std::vector<std::size_t> to_the_face; // by line: cells of a slab up to the sirloin face, which needs no kerf
    std::size_t spared = none, narrowest = none;
    for (std::size_t o = loose; o < problem.option_count(); ++o) {
        prism.pieces.push_back(problem.pieces(o));
        std::size_t& width = prism.widths.emplace_back(0);
        const std::size_t cells = problem.window(o).least_cells;
        if (start + cells < end && cells > 0 && problem.allows(o, start, start + cells)) {
            if (cells != problem.window(o).most_cells) return std::nullopt;
            width = cells;
            narrowest = std::min(narrowest, width);
        }
        for (std::size_t from = start; from + cells < end; ++from)
            if (problem.allows(o, from, from + cells) != (width > 0) ||
                (width > 0 && worth(o, from, from + cells) != 0))
                return std::nullopt;
        std::size_t last = none;
        for (std::size_t from = start; from < end; ++from) {
            if (!problem.allows(o, from, end)) continue;
            if (worth(o, from, end) != 0) return std::nullopt;
            last = from;
        }
        to_the_face.push_back(last == none ? none : end - last);
        if (last == none || width == 0) continue;
        if (end - last > width || (spared != none && spared != width - (end - last))) return std::nullopt;
        spared = width - (end - last);
    }
    for (std::size_t j = 0; j < prism.widths.size(); ++j) {
        if (prism.widths[j] == 0 &&
            to_the_face[j] != none) { // a slab that leaves no room for a kerf, let alone for another
            if (narrowest != none && to_the_face[j] + narrowest <= end - start) return std::nullopt;
            if (spared == none) spared = 0;
            prism.widths[j] = to_the_face[j] + spared;
        } else if (prism.widths[j] > 0 && to_the_face[j] == none && spared != none) {
            return std::nullopt;
        }
    }
    if (spared != none) prism.room = end - start + spared;
    for (std::size_t p = start; p <= end; ++p) { // loose meat of no worth in front, behind, or all of it
        if (p > start && (!problem.allows(0, start, p) || worth(0, start, p) != 0)) return std::nullopt;
        if (p < end && (!problem.allows(0, p, end) || worth(0, p, end) != 0)) return std::nullopt;
    }
    for (std::size_t o = 1; o < loose; ++o)
        for (std::size_t p = start; p <= end; ++p)
            if (objective.opening(o, p) > 0 || objective.closing(o, p) > 0) return std::nullopt;
    return prism;
}

} // namespace tranche::detail
