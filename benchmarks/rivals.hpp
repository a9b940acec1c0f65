// What the engine is measured against: the triple loop of the textbooks, and a linear program of arcs for GLPK.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <memory>
#include <vector>

#include <glpk.h>

#include <tranche/optimise/plans.hpp>

#include "raw_twin.hpp"

namespace tranche_benchmark {

/// A problem of the library as plain numbers, with weights that put the number of portions before their mass.
template <class Number>
[[nodiscard]] raw_instance<Number> raw_numbers(const tranche::cutting_problem& problem) {
    raw_instance<Number> raw{{}, problem.loose_count(), problem.start(), problem.cells()};
    for (std::size_t o = 0; o < problem.option_count(); ++o) {
        const tranche::option_window& w = problem.window(o);
        raw_option<Number> option;
        const bool counts = problem.is_portion(o);
        for (const std::int64_t m : problem.front(o)) option.front.push_back(static_cast<Number>(counts ? m : 0));
        for (const std::int64_t m : problem.back(o)) option.back.push_back(static_cast<Number>(counts ? m : 0));
        option.constant = static_cast<Number>((problem.meat().total().count + 1) * problem.pieces(o));
        option.least_weight = static_cast<Number>(w.least_weight);
        option.most_weight = static_cast<Number>(w.most_weight);
        option.least_cells = w.least_cells;
        option.most_cells = w.most_cells;
        option.first_to_end = w.first_to_end;
        option.last_to_end = w.last_to_end;
        option.past_from = w.past_from;
        option.past_to = w.past_to;
        raw.options.push_back(std::move(option));
    }
    return raw;
}

/// For each end, each spec, each start: is the slab allowed, is it better? Loose meat has no upper limit and would need a
/// look at every start; it gets a running best, as anybody would write it, so that the rest is what is compared.
[[nodiscard]] inline std::int64_t triple_loop(const raw_instance<std::int64_t>& in) {
    std::vector<std::int64_t> best(in.cells + 1);
    std::vector<std::size_t> best_from(in.cells + 1), best_option(in.cells + 1);
    std::int64_t loose = 0;
    std::size_t loose_from = in.start, loose_next = in.start + 1;
    for (std::size_t to = in.start + 1; to <= in.cells; ++to) {
        const bool at_end = to == in.cells;
        const std::size_t least = at_end ? 1 : in.options[0].least_cells;
        for (; loose_next + least <= to; ++loose_next)
            if (best[loose_next] > loose) {
                loose = best[loose_next];
                loose_from = loose_next;
            }
        best[to] = loose;
        best_from[to] = loose_from;
        best_option[to] = 0;
        for (std::size_t o = 1; o < in.options.size(); ++o) {
            const raw_option<std::int64_t>& option = in.options[o];
            if (to >= option.past_to) continue;
            std::size_t first = to > option.most_cells ? to - option.most_cells : 0;
            std::size_t past = to + 1 > option.least_cells ? to + 1 - option.least_cells : 0;
            if (at_end) {
                first = option.first_to_end;
                past = option.last_to_end + 1;
            }
            first = std::max(first, in.start);
            past = std::min(past, option.past_from);
            for (std::size_t from = first; from < past; ++from) {
                const std::int64_t weight = option.back[to] - option.front[from];
                if (weight < option.least_weight || weight > option.most_weight) continue;
                const std::int64_t score = best[from] + weight + option.constant;
                if (score > best[to]) {
                    best[to] = score;
                    best_from[to] = from;
                    best_option[to] = o;
                }
            }
        }
    }
    return best[in.cells];
}

/// The same problem as a flow of one unit from the facing to the sirloin face, built and solved by GLPK's simplex method.
/// A node for each position, and one for "loose meat up to here"; an arc for each allowed portion and each step of loose
/// meat. Caps, if any, are one row for each option that counts its slabs; the flow then has to be whole by branch and bound.
/// Returns the exact score of the path found, or -1 if there is none.
[[nodiscard]] inline std::int64_t arc_flow(const raw_instance<std::int64_t>& in, const std::vector<int>& caps = {}) {
    struct arc {
        std::size_t from, to;
        std::int64_t weight, count_bonus;
        std::size_t option = 0;
    };
    std::vector<arc> arcs;
    const auto node = [&](std::size_t position) { return position - in.start; };
    const auto loose_node = [&](std::size_t position) { return in.cells - in.start + position - in.start; };
    const std::size_t least = in.options[0].least_cells;
    for (std::size_t p = in.start; p < in.cells; ++p) {
        const std::size_t reach = p == in.start ? p + 1 : p + least;
        arcs.push_back({node(p), node(in.cells), 0, 0});
        if (reach < in.cells) arcs.push_back({node(p), loose_node(reach), 0, 0});
        if (p > in.start) arcs.push_back({loose_node(p), node(p), 0, 0});
        if (p > in.start && p + 1 < in.cells) arcs.push_back({loose_node(p), loose_node(p + 1), 0, 0});
    }
    for (std::size_t o = 1; o < in.options.size(); ++o) {
        const raw_option<std::int64_t>& option = in.options[o];
        for (std::size_t to = in.start + 1; to <= in.cells && to < option.past_to; ++to)
            for (std::size_t from = in.start; from < std::min(to, option.past_from); ++from) {
                const bool thickness = to == in.cells
                                           ? option.first_to_end <= from && from <= option.last_to_end
                                           : option.least_cells <= to - from && to - from <= option.most_cells;
                const std::int64_t weight = option.back[to] - option.front[from];
                if (thickness && option.least_weight <= weight && weight <= option.most_weight)
                    arcs.push_back({node(from), node(to), weight, option.constant, o});
            }
    }

    const std::unique_ptr<glp_prob, decltype(&glp_delete_prob)> program(glp_create_prob(), &glp_delete_prob);
    glp_prob* lp = program.get();
    glp_set_obj_dir(lp, GLP_MAX);
    const std::size_t nodes = loose_node(in.cells - 1) + 1;
    glp_add_rows(lp, static_cast<int>(nodes));
    for (std::size_t n = 0; n < nodes; ++n) {
        const double supply = n == node(in.start) ? 1.0 : n == node(in.cells) ? -1.0 : 0.0;
        glp_set_row_bnds(lp, static_cast<int>(n) + 1, GLP_FX, supply, supply);
    }
    if (!caps.empty()) glp_add_rows(lp, static_cast<int>(caps.size()));
    for (std::size_t k = 0; k < caps.size(); ++k)
        glp_set_row_bnds(lp, static_cast<int>(nodes + k) + 1, GLP_UP, 0.0, caps[k]);
    glp_add_cols(lp, static_cast<int>(arcs.size()));
    for (std::size_t a = 0; a < arcs.size(); ++a) {
        const int column = static_cast<int>(a) + 1;
        const bool capped = arcs[a].option > 0 && !caps.empty();
        const int rows[] = {0, static_cast<int>(arcs[a].from) + 1, static_cast<int>(arcs[a].to) + 1,
                            capped ? static_cast<int>(nodes + arcs[a].option) : 0};
        const double entries[] = {0.0, 1.0, -1.0, 1.0};
        glp_set_mat_col(lp, column, capped ? 3 : 2, rows, entries);
        glp_set_col_bnds(lp, column, GLP_LO, 0.0, 0.0);
        // Binary, not only whole: GLPK 5.0 loses the optimum of such a program without upper bounds (observed).
        if (!caps.empty()) glp_set_col_kind(lp, column, GLP_BV);
        glp_set_obj_coef(lp, column, 1e-6 * static_cast<double>(arcs[a].weight + arcs[a].count_bonus)); // in grams
    }
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.tol_dj = 1e-10;
    if (glp_simplex(lp, &how) != 0 || glp_get_status(lp) != GLP_OPT) return -1;
    if (!caps.empty()) {
        glp_iocp whole;
        glp_init_iocp(&whole);
        whole.msg_lev = GLP_MSG_OFF;
        if (glp_intopt(lp, &whole) != 0 || glp_mip_status(lp) != GLP_OPT) return -1;
    }
    std::int64_t score = 0;
    for (std::size_t a = 0; a < arcs.size(); ++a)
        if ((caps.empty() ? glp_get_col_prim(lp, static_cast<int>(a) + 1)
                          : glp_mip_col_val(lp, static_cast<int>(a) + 1)) > 0.5)
            score += arcs[a].weight + arcs[a].count_bonus;
    return score;
}

} // namespace tranche_benchmark
