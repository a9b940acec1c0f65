// That planning again in the same room allocates nothing.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/optimise/engine/demand_workspace.hpp>
#include <tranche/optimise/plans/compact_problem.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/lexicographic.hpp>

#include "optimise/counted_allocations.hpp"
#include "optimise/instances.hpp"

namespace allocations_test {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Plans all problems twice in one workspace; the allocations of the second time.
template <objective O>
std::size_t allocations_after_warm_up(const std::vector<cutting_problem>& problems, const std::vector<O>& objectives) {
    path_workspace<O> room;
    std::vector<typename O::score_type> scores;
    for (std::size_t i = 0; i < problems.size(); ++i)
        scores.push_back(room.best_path(problems[i], objectives[i]).score);
    const std::size_t before = allocations();
    bool same = true;
    for (std::size_t i = 0; i < problems.size(); ++i)
        same = same && room.best_path(problems[i], objectives[i]).score == scores[i];
    const std::size_t after = allocations();
    CHECK(same);
    return after - before;
}

} // namespace

TEST_CASE("a workspace allocates nothing once it has seen problems as large") {
    std::vector<request> requests;
    for (std::uint64_t seed = 0; seed < 30; ++seed) {
        dice d(seed + 900'000);
        requests.push_back(request_of_size(d, 20, 300));
        if (seed % 2 == 1) add_limits(d, requests.back());
    }
    std::vector<cutting_problem> problems;
    std::vector<kept_mass_objective> by_mass;
    std::vector<lexicographic_objective<portion_count_objective, portion_mass_objective>> in_order;
    for (const request& r : requests) problems.emplace_back(r.meat, r.specs, r.rules);
    for (const cutting_problem& problem : problems) {
        by_mass.push_back(kept_mass_objective::mass_then_portions(problem));
        in_order.push_back(lexicographic(portion_count_objective(problem), portion_mass_objective(problem)));
    }
    CHECK(allocations_after_warm_up(problems, by_mass) == 0);
    CHECK(allocations_after_warm_up(problems, in_order) == 0);

    const std::size_t before = allocations();
    CHECK(best_path(problems.front(), by_mass.front()).finite);
    CHECK(allocations() > before); // they are counted
}

TEST_CASE("demands are met again at other prices, to the same plans and without an allocation") {
    std::size_t counted = 0;
    for (std::uint64_t seed = 0; seed < rounds(40); ++seed) {
        dice d(seed + 930'000);
        request r = request_of_size(d, 20, 200);
        if (seed % 2 == 1) add_limits(d, r);
        if (seed % 8 == 7) add_links(d, r);
        const std::vector<demand> demands = some_demands(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        std::vector<worth_objective> at_prices;
        for (int k = 0; k < 3; ++k) at_prices.emplace_back(problem, random_prices(d, r.specs));
        demand_workspace<worth_objective> room(problem, demands);
        bool exact = !problem.links_slabs();
        CAPTURE(seed);
        for (const worth_objective& worth : at_prices) {
            const auto expected = best_path_with_demand(problem, worth, demands);
            const auto& found = room.best(worth);
            CHECK(found.stretches == expected.stretches);
            CHECK(found.score == expected.score);
            CHECK(found.bound == expected.bound);
            CHECK(found.outcome == expected.outcome);
            CHECK(found.shortfalls == expected.shortfalls);
            CHECK(found.states == expected.states);
            exact = exact && expected.outcome == demand_outcome::met;
            counted += exact && expected.states > 1 ? 1U : 0U;
        }
        if (!exact) continue;
        const std::size_t before = allocations();
        for (const worth_objective& worth : at_prices) static_cast<void>(room.best(worth));
        CHECK(allocations() == before);
    }
    CHECK(counted > 10);
}

TEST_CASE("compact problems are planned again at other prices without an allocation") {
    std::vector<compact_problem> problems;
    std::vector<cut_values> values;
    for (std::uint64_t seed = 0; seed < 20; ++seed) {
        dice d(seed + 920'000);
        request r = request_of_size(d, 20, 300);
        if (seed % 2 == 1) add_limits(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        problems.emplace_back(problem, worth_objective(problem, random_prices(d, r.specs)), kept_weights::all);
        for (int again = 0; again < 2; ++again)
            values.push_back({.each = std::vector<std::int64_t>(r.specs.size(), again * std::int64_t{1'000'000'000}),
                              .by_weight = std::vector<double>(r.specs.size(), 7.0 * again + 3.0)});
    }
    compact_workspace room;
    std::int64_t first = 0, second = 0;
    for (std::size_t k = 0; k < values.size(); ++k) first += room.plan(problems[k / 2], values[k]).score;
    const std::size_t before = allocations();
    for (std::size_t k = 0; k < values.size(); ++k) second += room.plan(problems[k / 2], values[k]).score;
    CHECK(allocations() == before);
    CHECK(first == second);
}

TEST_CASE("a workspace gives the plans that best_path gives, whatever it planned before") {
    path_workspace<kept_mass_objective> room;
    path_workspace<as_whole_slabs<kept_mass_objective>> slab_by_slab;
    for (std::uint64_t seed = 0; seed < rounds(200); ++seed) {
        dice d(seed + 910'000);
        request r = request_of_size(d, 5, 150);
        if (seed % 2 == 1) add_limits(d, r);
        if (seed % 4 == 3) add_links(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto objective = kept_mass_objective::portions_then_mass(problem);
        const auto alone = best_path(problem, objective);
        CAPTURE(seed);
        CHECK(room.best_path(problem, objective).stretches == alone.stretches);
        CHECK(room.best_path(problem, objective).score == alone.score);
        CHECK(slab_by_slab.best_path(problem, {objective}).stretches == alone.stretches);
    }
}

} // namespace allocations_test
