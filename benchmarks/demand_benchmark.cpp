// How long a plan with demands takes: exact count states against an integer program in GLPK and in CBC, against the
// relaxation and against a plan without demands. GLPK solves the coarser grid alone: on the finer it takes ten times longer.
// Ends in a table of ratios; with --markdown it is Markdown.
// SPDX-License-Identifier: BSL-1.0
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <string>
#include <vector>

#include <tranche/optimise/front.hpp>
#include <tranche/optimise/plans.hpp>

#include "in_turn.hpp"
#include "instance.hpp"
#include "rivals.hpp"

namespace {

using namespace tranche_benchmark;

/// At most 6, 2 and 4 slabs: 105 count states.
const std::vector<demand> capped{at_most(6, "steak"), at_most(4, "halved fillet"), at_most(4, "end steak")};
const std::vector<int> caps{6, 2, 4};
constexpr demand_search relaxed{.most_entries = 0};

struct prepared {
    profile meat;
    cutting_problem problem;
    kept_mass_objective objective;
    raw_instance<std::int64_t> integers;

    explicit prepared(length step)
        : meat(loin_on_grid(step)), problem(meat, three_cuts(), facing_of_8_mm()),
          objective(kept_mass_objective::portions_then_mass(problem)), integers(raw_numbers<std::int64_t>(problem)) {}
    prepared(const prepared&) = delete;
    prepared& operator=(const prepared&) = delete;

    [[nodiscard]] auto with(const std::vector<demand>& demands, const demand_search& search = {}) const {
        return segment_with_demand(problem, objective, demands, search);
    }
};

void require(bool holds, const char* what) {
    if (holds) return;
    std::cerr << "error: " << what << '\n';
    std::exit(EXIT_FAILURE);
}

std::vector<task> tasks_on(const prepared& p, const std::string& grid) {
    const auto score = [&p](const std::vector<demand>& demands, const demand_search& search = {}) {
        return [&p, demands, search] { return static_cast<double>(p.with(demands, search).score); };
    };
    return {
        {grid + ": exact count states", score(capped)},
        {grid + ": relaxation", score(capped, relaxed)},
        {grid + ": one cap of 6 alone", score({capped[0]})},
        {grid + ": without demand", score({})},
        {grid + ": front of count and waste",
         [&p] { return static_cast<double>(count_and_waste_front(p.meat, three_cuts(), facing_of_8_mm()).size()); }},
        {grid + ": front of count, waste, thickness", [&p] {
             return static_cast<double>(count_waste_and_thickness_front(p.meat, three_cuts(), facing_of_8_mm()).size());
         }}};
}

} // namespace

int main(int argc, char** argv) {
    const bool markdown = start(argc, argv);
    const prepared coarse(1_mm), fine(0.5_mm);

    // No figure is worth anything unless all solve the same problem.
    for (const prepared* p : {&coarse, &fine}) {
        const auto exact = p->with(capped), by_bound = p->with(capped, relaxed);
        require(exact.proven_optimal() && exact.states == 105, "the exact search does not end with an optimum");
        require(by_bound.score <= exact.score && exact.score <= by_bound.bound,
                "the relaxation's plan and bound do not enclose the optimum");
        std::cout << "relaxation on " << p->problem.cells() + 1 << " positions: "
                  << 1e2 * static_cast<double>(by_bound.bound - by_bound.score) / static_cast<double>(by_bound.bound)
                  << " % between plan and bound, "
                  << 1e2 * static_cast<double>(exact.score - by_bound.score) / static_cast<double>(exact.score)
                  << " % between plan and optimum\n";
    }
    require(by_glpk(arc_flow(coarse.integers, caps)) == coarse.with(capped).score, "GLPK finds another optimum");
    for (const prepared* p : {&coarse, &fine})
        require(by_cbc(arc_flow(p->integers, caps)) == p->with(capped).score, "CBC finds another optimum");

    std::vector<task> tasks = tasks_on(coarse, "1 mm");
    const auto cbc = [](const prepared& p) {
        return [&p] { return static_cast<double>(by_cbc(arc_flow(p.integers, caps))); };
    };
    tasks.insert(tasks.begin(), {"1 mm: GLPK, integer program",
                                 [&coarse] { return static_cast<double>(by_glpk(arc_flow(coarse.integers, caps))); }});
    tasks.push_back({"1 mm: CBC, integer program", cbc(coarse)});
    std::vector<task> finer = tasks_on(fine, "0.5 mm");
    finer.push_back({"0.5 mm: CBC, integer program", cbc(fine)});
    tasks.insert(tasks.end(), finer.begin(), finer.end());
    run_in_turn(tasks, 5, "Three caps of 6, 2 and 4 slabs on a loin of 42 cm", markdown);
    return EXIT_SUCCESS;
}
