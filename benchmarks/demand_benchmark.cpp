// How long a plan with demands takes: exact count states against an integer program in GLPK and in CBC, against the
// relaxation and against a plan without demands. GLPK solves the coarser grid alone: on the finer it takes ten times longer.
// Ends in a table of ratios; with --markdown it is Markdown.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <functional>
#include <iostream>
#include <string>
#include <vector>

#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/engine/detail/demands/relaxed_demand.hpp>
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
const search_limits relaxed{.most_entries = 0};

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

    [[nodiscard]] auto with(const std::vector<demand>& demands, const search_limits& search = {}) const {
        return best_path_with_demand(problem, objective, demands, search);
    }
};

void require(bool holds, const char* what) {
    if (holds) return;
    std::cerr << "error: " << what << '\n';
    std::exit(EXIT_FAILURE);
}

std::vector<task> tasks_on(const prepared& p, const std::string& grid) {
    const auto score = [&p](const std::vector<demand>& demands, const search_limits& search = {}) {
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

/// The bound by prices moved along subgradients, by Polyak's step towards a guess of 5 % below (Held, Wolfe and Crowder 1974,
/// Mathematical Programming 6:62): what the library did before it kept the plans that it had seen.
double by_subgradients(const cutting_problem& problem, const kept_mass_objective& objective,
                       const std::vector<detail::slab_demand>& rows, int rounds) {
    detail::priced_objective<std::int64_t, detail::separable_slabs::all> priced(problem, objective);
    detail::leaf_prices<std::int64_t> now{.price = {1}, .bonus = std::vector<std::int64_t>(problem.option_count())};
    std::vector<double> prices(rows.size());
    double least = 0.0, pace = 1.5;
    for (int round = 0, in_vain = 0; round < rounds; ++round) {
        double constant = 0.0, square = 0.0;
        for (std::size_t k = 0; k < rows.size(); ++k) {
            const std::int64_t price = std::llround(prices[k]);
            now.bonus[rows[k].option] = price;
            constant += static_cast<double>(price) * static_cast<double>(price < 0 ? rows[k].most : rows[k].least);
        }
        priced.set(now);
        const auto best = best_path(problem, priced);
        const double bound = static_cast<double>(best.score) - constant;
        in_vain = round == 0 || bound < least ? 0 : in_vain + 1;
        least = round == 0 ? bound : std::min(least, bound);
        if (in_vain == 6) {
            pace *= 0.6;
            in_vain = 0;
        }
        const auto counts = detail::slabs_of(problem, rows, best.stretches);
        std::vector<double> slopes;
        for (std::size_t k = 0; k < rows.size(); ++k) {
            const double above = static_cast<double>(counts[k] - rows[k].least),
                         below = rows[k].capped() ? static_cast<double>(counts[k] - rows[k].most) : 0.0;
            slopes.push_back(prices[k] > 0.0   ? above
                             : prices[k] < 0.0 ? below
                             : above < 0.0     ? above
                                               : std::max(below, 0.0));
            square += slopes.back() * slopes.back();
        }
        if (!(square > 0.0)) break;
        for (std::size_t k = 0; k < rows.size(); ++k) {
            double moved = prices[k] - pace * 0.05 * std::abs(bound) / square * slopes[k];
            if (prices[k] * moved < 0.0 && rows[k].least != rows[k].most) moved = 0.0;
            prices[k] = rows[k].capped() ? moved : std::max(moved, 0.0);
        }
    }
    return least;
}

/// Numbers by SplitMix64 (Steele, Lea and Flood 2014), the same everywhere.
struct dice {
    std::uint64_t state;
    double between(double low, double high) {
        std::uint64_t z = state += 0x9E3779B97F4A7C15U;
        z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
        z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
        return low + (high - low) * static_cast<double>((z ^ (z >> 31U)) >> 11U) * 0x1p-53;
    }
    std::int64_t whole(int low, int high) {
        return low + static_cast<std::int64_t>(between(0.0, static_cast<double>(high - low + 1)));
    }
};

std::string part_of(std::vector<double> values, double part) {
    std::sort(values.begin(), values.end());
    return number(values[static_cast<std::size_t>(part * static_cast<double>(values.size() - 1))], 3);
}

/// Gaps on random requests (invented) whose optimum the exact count states prove.
table gaps_of_many(std::size_t instances) {
    table gaps("Gaps on " + std::to_string(instances) + " random requests: per cent of the proven score above it",
               {"wanted, bound", "median", "95th percentile", "largest", "95th percentile, portions"});
    std::vector<double> percent[2][3], portions[2][3];
    std::size_t found = 0;
    for (std::uint64_t seed = 0; found < instances; ++seed) {
        dice d{seed * 7919 + 1};
        const auto readings = [&] {
            return taped_readings{.width = d.between(13, 18) * centimetre,
                                  .depth = d.between(5, 8) * centimetre,
                                  .fat_cover = d.between(0, 1.5) * centimetre};
        };
        const tapered_loin loin{.length = d.between(30, 50) * centimetre, .rib = readings(), .sirloin = readings()};
        const profile meat = tabulate(loin, 1_mm);
        std::vector<cut_spec> specs;
        std::vector<demand> demands(static_cast<std::size_t>(d.whole(2, 4)));
        for (std::size_t i = 0; i < demands.size(); ++i) {
            const length thin = static_cast<double>(d.whole(8, 30)) * millimetre;
            specs.push_back(
                {.name = "cut " + std::to_string(i), .thickness = {thin, thin + d.between(0, 20) * millimetre}});
            demands[i].spec = i;
            demands[i].at_least = d.whole(0, 4);
            demands[i].at_most = demands[i].at_least + d.whole(0, 3);
        }
        const cutting_problem problem(meat, specs, {});
        const bool by_mass = seed % 2 == 1;
        const auto objective = by_mass ? kept_mass_objective::mass_then_portions(problem)
                                       : kept_mass_objective::portions_then_mass(problem);
        const auto exact = best_path_with_demand(problem, objective, demands);
        if (exact.outcome != demand_outcome::met || exact.states == 1) continue;
        ++found;
        const auto rows = detail::in_slabs(problem, demands).rows;
        const search_limits limits{};
        detail::search_clock clock(limits);
        const auto now = detail::relaxed_demand(problem, objective, rows, clock).run();
        require(exact.score <= now.bound && now.score <= exact.score && now.found, "a bound does not hold");
        const auto best = static_cast<double>(exact.score);
        const double bounds[] = {by_subgradients(problem, objective, rows, 150), static_cast<double>(now.by_prices),
                                 static_cast<double>(now.bound)};
        for (std::size_t b = 0; b < 3; ++b) {
            percent[by_mass][b].push_back(1e2 * (bounds[b] - best) / best);
            portions[by_mass][b].push_back((bounds[b] - best) / static_cast<double>(meat.total().count));
        }
    }
    const char* const names[] = {"subgradients", "prices", "prices and beam"};
    for (std::size_t by_mass = 0; by_mass < 2; ++by_mass)
        for (std::size_t b = 0; b < 3; ++b)
            gaps.add({std::string(by_mass ? "mass, " : "portions, ") + names[b], part_of(percent[by_mass][b], 0.5),
                      part_of(percent[by_mass][b], 0.95), part_of(percent[by_mass][b], 1.0),
                      by_mass ? "" : part_of(portions[by_mass][b], 0.95)});
    return gaps;
}

/// Six cuts of three to five each, too many to count: 46,656 states.
table gaps_of_six_cuts() {
    table gaps("Six cuts of 3 to 5 each at 0.5 mm: per cent of the plan's score",
               {"wanted", "free of demands", "subgradients", "prices and beam", "milliseconds"});
    const profile meat = tabulate(tapered_loin{.length = 42_cm,
                                               .rib = {.width = 17_cm, .depth = 7_cm, .fat_cover = 1_cm},
                                               .sirloin = {.width = 14_cm, .depth = 6_cm, .fat_cover = 1_cm}},
                                  0.5_mm); // invented
    std::vector<cut_spec> specs;
    std::vector<demand> demands;
    for (std::size_t i = 0; i < 6; ++i) {
        const length thin = (8.0 + static_cast<double>(i)) * millimetre;
        specs.push_back({.name = "cut " + std::to_string(i), .thickness = {thin, thin + 3_mm}});
        demands.push_back({.spec = i, .at_least = 3, .at_most = 5});
    }
    const cutting_problem problem(meat, specs, {});
    for (const bool by_mass : {false, true}) {
        const auto objective = by_mass ? kept_mass_objective::mass_then_portions(problem)
                                       : kept_mass_objective::portions_then_mass(problem);
        demand_tiling<std::int64_t> found;
        const double taken = seconds([&] {
            found = best_path_with_demand(problem, objective, demands);
            return found.score;
        });
        require(found.outcome == demand_outcome::met, "no plan for six cuts");
        const auto above = [&](double bound) {
            return number(1e2 * (bound / static_cast<double>(found.score) - 1.0), 3);
        };
        gaps.add({by_mass ? "mass" : "portions", above(static_cast<double>(best_path(problem, objective).score)),
                  above(by_subgradients(problem, objective, detail::in_slabs(problem, demands).rows, 150)),
                  above(static_cast<double>(found.bound)), number(1e3 * taken, 3)});
    }
    return gaps;
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
    gaps_of_six_cuts().print(std::cout, markdown);
    gaps_of_many(500).print(std::cout, markdown);
    growth_with_demand(fine).print(std::cout, markdown);
    return EXIT_SUCCESS;
}
