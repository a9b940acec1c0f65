// How long a plan with demands takes: exact count states against an integer program in GLPK and in CBC, against the
// relaxation and against a plan without demands. GLPK solves the coarser grid alone: on the finer it takes ten times longer.
// Ends in a table of ratios; with --markdown it is Markdown.
// SPDX-License-Identifier: BSL-1.0
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <functional>
#include <iostream>
#include <string>
#include <vector>

#include <tranche/optimise/plans/front.hpp>
#include <tranche/optimise/plans/plans.hpp>

#include "in_turn.hpp"
#include "instance.hpp"
#include "ratios.hpp"
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

/// The same cap on steaks, halved fillets and end steaks, higher and higher.
table growth_with_demand(const prepared& p) {
    table growth("Growth with demand at 0.5 mm: time as a multiple of that without",
                 {"slabs a cut", "count states", "time"});
    std::vector<std::function<double()>> searches{[&p] { return static_cast<double>(p.with({}).score); }};
    std::vector<std::vector<std::string>> rows{{"any", "1"}};
    for (const int cap : {1, 2, 4, 8}) {
        const std::vector<demand> demands{at_most(cap, "steak"), at_most(2 * cap, "halved fillet"),
                                          at_most(cap, "end steak")};
        const auto states = p.with(demands).states; // too many states for the search are left to the relaxation
        rows.push_back({"at most " + std::to_string(cap), states > 1 ? std::to_string(states) : "relaxation"});
        searches.emplace_back([&p, demands] { return static_cast<double>(p.with(demands).score); });
    }
    const std::vector<double> taken = times_in_turn(searches, 25);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        rows[i].push_back(times(taken[i] / taken[0]));
        growth.add(rows[i]);
    }
    return growth;
}

} // namespace

int main(int argc, char** argv) {
    const bool markdown = start(argc, argv);
    const prepared coarse(1_mm), fine(0.5_mm);

    table gaps("The relaxation, for more counts than the exact search has room for: per cent of the score",
               {"grid", "between plan and bound", "between plan and optimum"});
    // No figure is worth anything unless all solve the same problem.
    for (const prepared* p : {&coarse, &fine}) {
        const auto exact = p->with(capped), by_bound = p->with(capped, relaxed);
        require(exact.proven_optimal() && exact.states == 105, "the exact search does not end with an optimum");
        require(by_bound.score <= exact.score && exact.score <= by_bound.bound,
                "the relaxation's plan and bound do not enclose the optimum");
        const double gap = static_cast<double>(by_bound.bound - by_bound.score) / static_cast<double>(by_bound.bound);
        const double lost = static_cast<double>(exact.score - by_bound.score) / static_cast<double>(exact.score);
        gaps.add({p == &coarse ? "1 mm" : "0.5 mm", number(1e2 * gap, 3), number(1e2 * lost, 3)});
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
    gaps.print(std::cout, markdown);
    growth_with_demand(fine).print(std::cout, markdown);
    return EXIT_SUCCESS;
}
