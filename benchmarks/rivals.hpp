// What the engine is measured against: the triple loop of the textbooks, Boost.Graph by shortest path, GLPK by critical path and
// by simplex, and CBC.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <memory>
#include <vector>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dag_shortest_paths.hpp>
#include <coin/Cbc_C_Interface.h>
#include <glpk.h>

#include <tranche/optimise/plans/plans.hpp>

#include "raw_twin.hpp"

namespace tranche_benchmark {

/// A problem of the library as plain numbers, with weights that put the number of portions before their mass.
template <class Number>
[[nodiscard]] raw_instance<Number> raw_numbers(const tranche::cutting_problem& problem) {
    raw_instance<Number> raw{{}, problem.loose_count(), problem.start(), problem.cells()};
    for (std::size_t o = 0; o < problem.option_count(); ++o) {
        const tranche::detail::option_window& w = problem.window(o);
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
        for (std::size_t to = 0; to <= problem.cells(); ++to) {
            const tranche::detail::slab_starts& starts = problem.graph().lanes[o].to(to);
            option.first.push_back(starts.first);
            option.past.push_back(starts.past);
        }
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

/// Calls use(option, from, to, score) for each allowed slab of portions.
template <class Use>
void for_each_slab(const raw_instance<std::int64_t>& in, const Use& use) {
    for (std::size_t o = in.loose; o < in.options.size(); ++o) {
        const raw_option<std::int64_t>& option = in.options[o];
        for (std::size_t to = in.start + 1; to <= in.cells && to < option.past_to; ++to) {
            const bool at_end = to == in.cells;
            const std::size_t first = at_end ? option.first_to_end : to - std::min(to, option.most_cells);
            const std::size_t past = at_end ? option.last_to_end + 1 : to + 1 - std::min(to + 1, option.least_cells);
            for (std::size_t from = std::max(first, in.start); from < std::min(past, option.past_from); ++from) {
                const std::int64_t weight = option.back[to] - option.front[from];
                if (option.least_weight <= weight && weight <= option.most_weight)
                    use(o, from, to, weight + option.constant);
            }
        }
    }
}

/// The nodes of a network for one kind of loose meat: each position, and "loose meat up to here" for those inside the loin.
struct network_nodes {
    std::size_t start, cells, least_loose;

    explicit network_nodes(const raw_instance<std::int64_t>& in)
        : start(in.start), cells(in.cells), least_loose(in.options[0].least_cells) {}
    [[nodiscard]] std::size_t position(std::size_t p) const { return p - start; }
    [[nodiscard]] std::size_t loose(std::size_t p) const { return cells - start + p - start; }
    [[nodiscard]] std::size_t count() const { return loose(cells - 1) + 1; }

    /// Calls use(tail, head) for each step of loose meat: in, one position further, and out. At either end of the loin it may
    /// be as thin as it comes.
    template <class Use>
    void for_each_loose_step(const Use& use) const {
        for (std::size_t p = start; p < cells; ++p) {
            const std::size_t reach = p == start ? p + 1 : p + least_loose;
            use(position(p), position(cells));
            if (reach < cells) use(position(p), loose(reach));
            if (p > start) use(loose(p), position(p));
            if (p > start && p + 1 < cells) use(loose(p), loose(p + 1));
        }
    }
};

/// The same problem as a project whose activities are the slabs, each as long as its score, and whose events are the
/// positions: its critical path is the best plan. GLPK's routine for that takes time in proportion to the slabs, which is the
/// least that a program can do that looks at each of them. All numbers are whole and below 2^53, so the result is exact.
[[nodiscard]] inline std::int64_t critical_path(const raw_instance<std::int64_t>& in) {
    const std::unique_ptr<glp_graph, decltype(&glp_delete_graph)> project(glp_create_graph(sizeof(double), 0),
                                                                          &glp_delete_graph);
    glp_graph* graph = project.get();
    const network_nodes nodes(in);
    const auto add = [graph](std::size_t count, double duration) {
        const int first = glp_add_vertices(graph, static_cast<int>(count));
        for (std::size_t v = 0; v < count; ++v)
            *static_cast<double*>(graph->v[static_cast<std::size_t>(first) + v]->data) = duration;
        return first;
    };
    const auto vertex = [](std::size_t node) { return static_cast<int>(node) + 1; };
    add(nodes.count(), 0.0);
    nodes.for_each_loose_step(
        [&](std::size_t tail, std::size_t head) { glp_add_arc(graph, vertex(tail), vertex(head)); });
    for_each_slab(in, [&](std::size_t, std::size_t from, std::size_t to, std::int64_t score) {
        const int slab = add(1, static_cast<double>(score));
        glp_add_arc(graph, vertex(nodes.position(from)), slab);
        glp_add_arc(graph, slab, vertex(nodes.position(to)));
    });
    return static_cast<std::int64_t>(glp_cpp(graph, 0, -1, -1));
}

/// The same problem as a flow of one unit from the facing to the sirloin face: an arc for each allowed slab of portions and
/// each step of loose meat. Caps, if any, are one row for each option that counts its slabs; the flow then has to be whole.
struct arc_flow {
    struct arc {
        std::size_t tail, head;
        std::int64_t score;
        std::size_t option = 0; ///< 0 for loose meat
    };
    std::size_t nodes, source, sink;
    std::vector<arc> arcs;
    std::vector<int> caps;

    explicit arc_flow(const raw_instance<std::int64_t>& in, std::vector<int> most = {}) : caps(std::move(most)) {
        const network_nodes network(in);
        nodes = network.count();
        source = network.position(in.start);
        sink = network.position(in.cells);
        network.for_each_loose_step([&](std::size_t tail, std::size_t head) { arcs.push_back({tail, head, 0}); });
        for_each_slab(in, [&](std::size_t option, std::size_t from, std::size_t to, std::int64_t score) {
            arcs.push_back({network.position(from), network.position(to), score, option});
        });
    }
    [[nodiscard]] double supply(std::size_t node) const { return node == source ? 1.0 : node == sink ? -1.0 : 0.0; }
    /// The row that counts an arc; only where there are caps.
    [[nodiscard]] int cap_row(const arc& a) const { return static_cast<int>(nodes + a.option) - 1; }
    [[nodiscard]] bool capped(const arc& a) const { return a.option > 0 && !caps.empty(); }
    /// The solvers are given grams, and the exact score of the path that they find is added up again.
    template <class Flow>
    [[nodiscard]] std::int64_t score_of(const Flow& flow_on) const {
        std::int64_t score = 0;
        for (std::size_t a = 0; a < arcs.size(); ++a)
            if (flow_on(a) > 0.5) score += arcs[a].score;
        return score;
    }
};

/// By Boost.Graph's shortest paths of a directed graph without cycles, arcs as long as minus their scores: the whole of it, or the
/// search on a network that is there.
class boost_graph {
public:
    explicit boost_graph(const arc_flow& flow) : network_(flow.nodes), source_(flow.source), sink_(flow.sink) {
        for (const arc_flow::arc& a : flow.arcs) boost::add_edge(a.tail, a.head, -a.score, network_);
    }
    [[nodiscard]] std::int64_t longest() const {
        std::vector<std::int64_t> distance(boost::num_vertices(network_));
        boost::dag_shortest_paths(network_, source_,
                                  boost::distance_map(boost::make_iterator_property_map(
                                      distance.begin(), boost::get(boost::vertex_index, network_))));
        return -distance[sink_];
    }

private:
    boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property,
                          boost::property<boost::edge_weight_t, std::int64_t>>
        network_;
    std::size_t source_, sink_;
};

/// By GLPK's simplex method and, with caps, branch and bound. The exact score of the path found, or -1 if there is none.
[[nodiscard]] inline std::int64_t by_glpk(const arc_flow& flow) {
    const std::unique_ptr<glp_prob, decltype(&glp_delete_prob)> program(glp_create_prob(), &glp_delete_prob);
    glp_prob* lp = program.get();
    glp_set_obj_dir(lp, GLP_MAX);
    glp_add_rows(lp, static_cast<int>(flow.nodes + flow.caps.size()));
    for (std::size_t n = 0; n < flow.nodes; ++n)
        glp_set_row_bnds(lp, static_cast<int>(n) + 1, GLP_FX, flow.supply(n), flow.supply(n));
    for (std::size_t k = 0; k < flow.caps.size(); ++k)
        glp_set_row_bnds(lp, static_cast<int>(flow.nodes + k) + 1, GLP_UP, 0.0, flow.caps[k]);
    glp_add_cols(lp, static_cast<int>(flow.arcs.size()));
    for (std::size_t a = 0; a < flow.arcs.size(); ++a) {
        const arc_flow::arc& arc = flow.arcs[a];
        const int column = static_cast<int>(a) + 1;
        const int rows[] = {0, static_cast<int>(arc.tail) + 1, static_cast<int>(arc.head) + 1, flow.cap_row(arc) + 1};
        const double entries[] = {0.0, 1.0, -1.0, 1.0};
        glp_set_mat_col(lp, column, flow.capped(arc) ? 3 : 2, rows, entries);
        glp_set_col_bnds(lp, column, GLP_LO, 0.0, 0.0);
        // Binary, not only whole: GLPK 5.0 loses the optimum of such a program without upper bounds (observed).
        if (!flow.caps.empty()) glp_set_col_kind(lp, column, GLP_BV);
        glp_set_obj_coef(lp, column, 1e-6 * static_cast<double>(arc.score));
    }
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.tol_dj = 1e-10;
    if (glp_simplex(lp, &how) != 0 || glp_get_status(lp) != GLP_OPT) return -1;
    if (flow.caps.empty())
        return flow.score_of([&](std::size_t a) { return glp_get_col_prim(lp, static_cast<int>(a) + 1); });
    glp_iocp whole;
    glp_init_iocp(&whole);
    whole.msg_lev = GLP_MSG_OFF;
    if (glp_intopt(lp, &whole) != 0 || glp_mip_status(lp) != GLP_OPT) return -1;
    return flow.score_of([&](std::size_t a) { return glp_mip_col_val(lp, static_cast<int>(a) + 1); });
}

/// By CBC's branch and cut, to no gap. The exact score of the path found, or -1 if there is none.
[[nodiscard]] inline std::int64_t by_cbc(const arc_flow& flow) {
    std::vector<CoinBigIndex> starts{0};
    std::vector<int> rows;
    std::vector<double> entries, scores;
    for (const arc_flow::arc& arc : flow.arcs) {
        const auto enter = [&](int row, double entry) {
            rows.push_back(row);
            entries.push_back(entry);
        };
        enter(static_cast<int>(arc.tail), 1.0);
        enter(static_cast<int>(arc.head), -1.0);
        if (flow.capped(arc)) enter(flow.cap_row(arc), 1.0);
        starts.push_back(static_cast<CoinBigIndex>(rows.size()));
        scores.push_back(1e-6 * static_cast<double>(arc.score));
    }
    std::vector<double> least_rows, most_rows;
    for (std::size_t n = 0; n < flow.nodes; ++n) least_rows.push_back(flow.supply(n));
    most_rows = least_rows;
    for (const int cap : flow.caps) {
        least_rows.push_back(0.0);
        most_rows.push_back(cap);
    }
    const std::vector<double> least(flow.arcs.size(), 0.0), most(flow.arcs.size(), 1.0);
    const std::unique_ptr<Cbc_Model, decltype(&Cbc_deleteModel)> program(Cbc_newModel(), &Cbc_deleteModel);
    Cbc_Model* const model = program.get();
    Cbc_setParameter(model, "log", "0");
    Cbc_setParameter(model, "ratioGap", "0");
    Cbc_setParameter(model, "allowableGap", "1e-9");
    Cbc_loadProblem(model, static_cast<int>(flow.arcs.size()), static_cast<int>(least_rows.size()), starts.data(),
                    rows.data(), entries.data(), least.data(), most.data(), scores.data(), least_rows.data(),
                    most_rows.data());
    Cbc_setObjSense(model, -1.0);
    for (std::size_t a = 0; a < flow.arcs.size(); ++a) Cbc_setInteger(model, static_cast<int>(a));
    Cbc_solve(model);
    if (Cbc_isProvenOptimal(model) == 0) return -1;
    const double* const solution = Cbc_getColSolution(model);
    return flow.score_of([&](std::size_t a) { return solution[a]; });
}

} // namespace tranche_benchmark
