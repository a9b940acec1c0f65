// A problem as a flow for general solvers: one unit goes from the facing to the sirloin face, each allowed slab is an arc,
// and rows count the slabs of an option. Solved here by GLPK.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include <glpk.h>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche_test {

struct arc {
    std::size_t option, from, to;
};
/// How many slabs of an option there may be.
struct slab_row {
    std::size_t option;
    int least, most;
};

struct flow_program {
    std::vector<arc> arcs;
    std::vector<slab_row> rows;
    std::size_t start, end;

    /// Rows of the program: the positions, then the counts.
    [[nodiscard]] int node(std::size_t position) const { return static_cast<int>(position - start); }
    [[nodiscard]] int nodes() const { return node(end) + 1; }
    /// The row that counts an arc, or -1.
    [[nodiscard]] int counted_in(const arc& a) const {
        for (std::size_t k = 0; k < rows.size(); ++k)
            if (rows[k].option == a.option) return nodes() + static_cast<int>(k);
        return -1;
    }
    /// One unit leaves the facing and arrives at the sirloin face.
    [[nodiscard]] double supply(std::size_t position) const {
        return position == start ? 1.0 : position == end ? -1.0 : 0.0;
    }
};

[[nodiscard]] inline flow_program flow_of(const tranche::cutting_problem& problem, std::vector<slab_row> rows = {}) {
    flow_program flow{{}, std::move(rows), problem.start(), problem.cells()};
    for (std::size_t o = 0; o < problem.option_count(); ++o)
        for (std::size_t from = problem.start(); from < problem.cells(); ++from)
            for (std::size_t to = from + 1; to <= problem.cells(); ++to)
                if (problem.allows(o, from, to)) flow.arcs.push_back({o, from, to});
    return flow;
}

/// The exact score of a path that a solver found.
template <tranche::objective O>
[[nodiscard]] typename O::score_type score_of(const O& objective, const std::vector<arc>& path) {
    typename O::score_type sum{};
    for (const arc& a : path) sum = sum + tranche::slab_score(objective, a.option, a.from, a.to);
    return sum;
}

/// The arcs with a flow of one, or none if some flow is not whole.
template <class Flow>
[[nodiscard]] std::optional<std::vector<arc>> whole_path(const flow_program& flow, const Flow& flow_on) {
    std::vector<arc> path;
    for (std::size_t a = 0; a < flow.arcs.size(); ++a) {
        const double x = flow_on(a);
        if (std::abs(x - std::round(x)) > 1e-6) return std::nullopt;
        if (x > 0.5) path.push_back(flow.arcs[a]);
    }
    return path;
}

using value_of_arc = std::function<double(const arc&)>;

/// The path of highest value by GLPK: without rows by the simplex method alone, as the matrix is that of a network and ends on
/// whole numbers; with rows by branch and bound. None if GLPK finds none. `value` in a unit that keeps coefficients near 1000:
/// reduced costs count from 1e-10 of them on.
[[nodiscard]] inline std::optional<std::vector<arc>> best_path_by_glpk(const flow_program& flow,
                                                                       const value_of_arc& value) {
    const std::unique_ptr<glp_prob, decltype(&glp_delete_prob)> program(glp_create_prob(), &glp_delete_prob);
    glp_prob* lp = program.get();
    glp_set_obj_dir(lp, GLP_MAX);
    glp_add_rows(lp, flow.nodes() + static_cast<int>(flow.rows.size()));
    for (std::size_t p = flow.start; p <= flow.end; ++p)
        glp_set_row_bnds(lp, flow.node(p) + 1, GLP_FX, flow.supply(p), flow.supply(p));
    for (std::size_t k = 0; k < flow.rows.size(); ++k) {
        const slab_row& row = flow.rows[k];
        glp_set_row_bnds(lp, flow.nodes() + static_cast<int>(k) + 1, row.least == row.most ? GLP_FX : GLP_DB, row.least,
                         row.most);
    }
    glp_add_cols(lp, static_cast<int>(flow.arcs.size()));
    for (std::size_t a = 0; a < flow.arcs.size(); ++a) {
        const int column = static_cast<int>(a) + 1, counted = flow.counted_in(flow.arcs[a]);
        const int rows[] = {0, flow.node(flow.arcs[a].from) + 1, flow.node(flow.arcs[a].to) + 1, counted + 1};
        const double entries[] = {0.0, 1.0, -1.0, 1.0};
        glp_set_mat_col(lp, column, counted < 0 ? 2 : 3, rows, entries);
        glp_set_col_bnds(lp, column, GLP_LO, 0.0, 0.0);
        // Binary, not only whole: GLPK 5.0 loses the optimum of such a program without upper bounds (observed).
        if (!flow.rows.empty()) glp_set_col_kind(lp, column, GLP_BV);
        glp_set_obj_coef(lp, column, value(flow.arcs[a]));
    }
    glp_smcp simplex;
    glp_init_smcp(&simplex);
    simplex.msg_lev = GLP_MSG_OFF;
    simplex.tol_dj = 1e-10;
    if (glp_simplex(lp, &simplex) != 0 || glp_get_status(lp) != GLP_OPT) return std::nullopt;
    if (flow.rows.empty())
        return whole_path(flow, [&](std::size_t a) { return glp_get_col_prim(lp, static_cast<int>(a) + 1); });
    glp_iocp whole;
    glp_init_iocp(&whole);
    whole.msg_lev = GLP_MSG_OFF;
    if (glp_intopt(lp, &whole) != 0 || glp_mip_status(lp) != GLP_OPT) return std::nullopt;
    return whole_path(flow, [&](std::size_t a) { return glp_mip_col_val(lp, static_cast<int>(a) + 1); });
}

} // namespace tranche_test
