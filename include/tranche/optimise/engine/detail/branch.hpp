// Branch and bound: one search for everything that links slabs beyond what a state can remember.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>

namespace tranche::detail {

/// The best result of a tree. `solve(node)` gives an optional relaxation: a result with a `score`, and a `bound` that no result
/// below the node exceeds; none where there is nothing. `split(node, relaxation)` gives the nodes that together hold all
/// results which are better than nothing, the more promising first, or none where the relaxation is a result itself. A node is
/// left where its bound is no better than the best result so far, which may be one that is known before. The bound of the
/// result is that of all; so it is where `go_on()`, which is asked before each node, ends the search. `better(result)` is told of
/// each best result so far.
template <class Node, class Solve, class Split, class GoOn = always, class Better = std::identity>
[[nodiscard]] auto branch(const Node& root, const Solve& solve, const Split& split, const GoOn& go_on = {},
                          const Better& better = {}, decltype(solve(root)) best = {}) -> decltype(solve(root)) {
    using result = typename decltype(solve(root))::value_type;
    using bound_type = decltype(result{}.bound);
    struct open_node {
        Node node;
        std::optional<bound_type> bound; ///< of the node that it is a part of
    };
    std::optional<bound_type> bound;
    const auto raise = [&](const bound_type& to) {
        if (!bound || *bound < to) bound = to;
    };
    std::vector<open_node> open{{root, {}}}; // the next one last
    while (!open.empty() && go_on()) {
        const Node node = std::move(open.back().node);
        open.pop_back();
        std::optional<result> relaxed = solve(node);
        if (!relaxed || (best && !(best->score < relaxed->bound))) continue;
        std::vector<Node> parts = split(node, *relaxed);
        const bound_type above = relaxed->bound;
        if (parts.empty()) {
            raise(above);
            if (!best || best->score < relaxed->score) {
                best = std::move(relaxed);
                static_cast<void>(better(*best));
            }
        }
        for (auto part = parts.rbegin(); part != parts.rend(); ++part) open.push_back({std::move(*part), above});
    }
    for (const open_node& left : open)
        if (left.bound && best && best->score < *left.bound) raise(*left.bound);
    if (best && bound && best->bound < *bound) best->bound = *bound;
    return best;
}

/// Whether no slab lies behind one that it should lie before.
[[nodiscard]] inline bool keeps_order(const cutting_problem& problem, const std::vector<grid_slab>& stretches) {
    for (const cut_order& order : problem.rules().order) {
        bool then_seen = false;
        for (const grid_slab& s : stretches) {
            if (s.kind != slab_kind::portions) continue;
            const std::string& name = problem.specs()[s.option].name;
            if (then_seen && name == order.first) return false;
            then_seen = then_seen || name == order.then;
        }
    }
    return true;
}

/// Whether every slab is one that the problem allows: a search that lets loose meat lie anywhere may find others.
[[nodiscard]] inline bool keeps_places(const cutting_problem& problem, const std::vector<grid_slab>& stretches) {
    if (problem.graph().loose_everywhere) return true;
    return std::all_of(stretches.begin(), stretches.end(), [&](const grid_slab& s) {
        return problem.allows(s.option + (s.kind == slab_kind::portions ? problem.loose_count() : 0), s.from, s.to);
    });
}

/// A range of cells for each of some options.
using cell_ranges = std::vector<std::pair<std::size_t, std::size_t>>;

/// The first of the options whose slabs differ in thickness splits its range between the thinnest and the thickest of them, so
/// that neither half contains that tiling again: the thicker half first. Empty if none of them does.
[[nodiscard]] inline std::vector<cell_ranges> split_thickness(const cutting_problem& problem,
                                                              const std::vector<std::size_t>& options,
                                                              const cell_ranges& node,
                                                              const std::vector<grid_slab>& stretches) {
    for (std::size_t k = 0; k < options.size(); ++k) {
        std::optional<std::pair<std::size_t, std::size_t>> cells;
        for (const grid_slab& s : stretches) {
            if (s.kind != slab_kind::portions || problem.loose_count() + s.option != options[k]) continue;
            const std::size_t c = problem.cells_of(options[k], s.from, s.to);
            cells = cells ? std::pair{std::min(cells->first, c), std::max(cells->second, c)} : std::pair{c, c};
        }
        if (!cells || cells->first == cells->second) continue;
        cell_ranges thinner = node, thicker = node;
        thinner[k].second = (cells->first + cells->second - 1) / 2;
        thicker[k].first = thinner[k].second + 1;
        return {std::move(thicker), std::move(thinner)};
    }
    return {};
}

/// The best result in which cuts that must have one thickness have one; none if there is none. `solve(problem)` gives an
/// optional `Result`, with `stretches` too, for a problem in which their ranges are narrowed and thicknesses may differ.
/// `go_on` and `better` as for `branch`.
template <class Result, class Solve, class GoOn = always, class Better = std::identity>
[[nodiscard]] std::optional<Result> best_of_one_thickness(const cutting_problem& problem, const Solve& solve,
                                                          const GoOn& go_on = {}, const Better& better = {}) {
    const std::vector<std::size_t> linked = problem.varying();
    cell_ranges all;
    for (const std::size_t o : linked) all.push_back(problem.cells_of(o));
    return branch(
        all,
        [&](const cell_ranges& node) -> std::optional<Result> {
            cutting_problem narrowed = problem;
            narrowed.let_thicknesses_differ();
            for (std::size_t k = 0; k < linked.size(); ++k)
                narrowed.narrow_cells(linked[k], node[k].first, node[k].second);
            return solve(std::as_const(narrowed));
        },
        [&](const cell_ranges& node, const Result& relaxed) {
            return split_thickness(problem, linked, node, relaxed.stretches);
        },
        go_on, better);
}

} // namespace tranche::detail
