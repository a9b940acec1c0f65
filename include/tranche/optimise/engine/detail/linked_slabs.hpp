// Slabs that depend on each other: the order of cuts along the loin, and cuts that must have one thickness.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/segment.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche::detail {

template <objective O>
class count_states; // whose header may be the one that led here

/// Whether no slab lies behind one that it should lie before.
[[nodiscard]] inline bool keeps_order(const cutting_problem& problem, const std::vector<stretch>& stretches) {
    for (const cut_order& order : problem.rules().order) {
        bool then_seen = false;
        for (const stretch& s : stretches) {
            if (s.kind != slab_kind::portions) continue;
            const std::string& name = problem.specs()[s.option].name;
            if (then_seen && name == order.first) return false;
            then_seen = then_seen || name == order.then;
        }
    }
    return true;
}

/// Cells of the thinnest and the thickest slab of an option; zeros if there is none.
[[nodiscard]] inline std::pair<std::size_t, std::size_t> used_cells(const cutting_problem& problem, std::size_t option,
                                                                    const std::vector<stretch>& stretches) {
    std::optional<std::pair<std::size_t, std::size_t>> cells;
    for (const stretch& s : stretches) {
        if (s.kind != slab_kind::portions || problem.loose_count() + s.option != option) continue;
        const std::size_t c = problem.cells_of(option, s.from, s.to);
        cells = cells ? std::pair{std::min(cells->first, c), std::max(cells->second, c)} : std::pair{c, c};
    }
    return cells.value_or(std::pair<std::size_t, std::size_t>{});
}

/// Branch and bound over the thicknesses of specs that must have one. A node is a range of thicknesses for each of them; the
/// best tiling within the ranges, thicknesses differing as they like, bounds it. If its slabs differ in one spec, the range
/// is split between its thinnest and its thickest slab, so neither half contains that tiling again.
///
/// `solve(problem)` gives an optional result with `stretches`, `score` and `bound` for a problem of such ranges; none if it
/// has no tiling.
template <class Result, class Solve>
class thickness_search {
public:
    thickness_search(const cutting_problem& problem, const Solve& solve)
        : problem_(problem), solve_(solve), linked_(problem.varying()) {}

    /// The best result with one thickness for each, if there is one; its bound is that of all.
    [[nodiscard]] std::optional<Result> run() {
        ranges all;
        for (const std::size_t o : linked_) all.push_back(problem_.cells_of(o));
        visit(all);
        if (best_ && bound_ && best_->bound < *bound_) best_->bound = *bound_;
        return std::move(best_);
    }

private:
    using ranges = std::vector<std::pair<std::size_t, std::size_t>>;
    using score_type = decltype(Result{}.score);

    void visit(const ranges& node) {
        cutting_problem narrowed = problem_;
        narrowed.let_thicknesses_differ();
        for (std::size_t k = 0; k < linked_.size(); ++k)
            narrowed.narrow_cells(linked_[k], node[k].first, node[k].second);
        std::optional<Result> relaxed = solve_(std::as_const(narrowed));
        if (!relaxed || (best_ && !(best_->score < relaxed->bound))) return;
        for (std::size_t k = 0; k < linked_.size(); ++k) {
            const auto [thin, thick] = used_cells(problem_, linked_[k], relaxed->stretches);
            if (thin >= thick) continue;
            ranges thinner = node, thicker = node;
            thinner[k].second = (thin + thick - 1) / 2;
            thicker[k].first = thinner[k].second + 1;
            visit(thicker);
            visit(thinner);
            return;
        }
        if (!bound_ || *bound_ < relaxed->bound) bound_ = relaxed->bound;
        if (!best_ || best_->score < relaxed->score) best_ = std::move(relaxed);
    }

    const cutting_problem& problem_;
    const Solve& solve_;
    std::vector<std::size_t> linked_;
    std::optional<Result> best_;
    std::optional<score_type> bound_;
};

template <class Score>
struct bounded_segmentation : segmentation<Score> {
    Score bound{};
};

/// The answer where an objective forbids every tiling that keeps slabs linked.
template <class Score>
[[nodiscard]] segmentation<Score> all_forbidden(segmentation<Score> free) {
    free.finite = false;
    if constexpr (std::is_floating_point_v<Score>) free.score = -std::numeric_limits<Score>::infinity();
    return free;
}

template <objective O>
segmentation<typename O::score_type> segment_linked(const cutting_problem& problem, const O& objective,
                                                    segmentation<typename O::score_type> free) {
    using score_type = typename O::score_type;
    if (!free.finite) return free;
    if (problem.varying().empty()) {
        if (keeps_order(problem, free.stretches)) return free;
        const count_states<O> table(problem, objective, {});
        if (!table.possible(0)) return all_forbidden(std::move(free));
        return {table.stretches(0), table.score(0), is_finite(table.score(0)), free.searched + table.searched()};
    }
    using result = bounded_segmentation<score_type>;
    std::size_t searched = free.searched;
    const auto solve = [&](const cutting_problem& narrowed) -> std::optional<result> {
        auto best = segment(narrowed, objective);
        searched += best.searched;
        if (!best.finite) return std::nullopt;
        const score_type score = best.score;
        return result{{std::move(best)}, score};
    };
    // There is one, as loose meat alone has no thickness at all, unless an objective forbids that.
    auto best = thickness_search<result, decltype(solve)>(problem, solve).run();
    if (!best) return all_forbidden(std::move(free));
    best->searched = searched;
    return *std::move(best);
}

} // namespace tranche::detail
