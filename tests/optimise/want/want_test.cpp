// One want for every way to plan: what is a want, and that named calls, objectives of one's own and what-ifs go by it.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <type_traits>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/polish_even.hpp>
#include <tranche/optimise/plans/robust_plans.hpp>
#include <tranche/optimise/plans/settings_want.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/score_numbers.hpp"

namespace want_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Invented.
const profile meat = tabulate(
    tapered_loin{.length = 40_cm, .rib = {.width = 17_cm, .depth = 8_cm}, .sirloin = {.width = 15_cm, .depth = 7_cm}},
    1_mm);
const cut_list cuts{{.name = "steak", .thickness = {25_mm, 35_mm}, .portion = {280_g, 380_g}},
                    {.name = "roast", .thickness = {80_mm, 100_mm}}};
const cutting_rules rules{.facing = 6_mm};
const std::vector<demand> demands{exactly(1, "roast")};
const price_list<usd> prices{
    .portions = {{"steak", {.by_weight = 36_usd / 1_kg}}, {"roast", {.by_weight = 30_usd / 1_kg}}}};

/// Near a weight; of a user's own.
struct near_target {
    using score_type = double;
    const cutting_problem& problem;
    mass target;

    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const {
        if (!problem.is_portion(option)) return 0.0;
        const double off = to_mass({problem.weight(option, from, to)}) / target - 1.0;
        return 1.0 - 25.0 * off * off;
    }
};
const auto near_330_g = [](const cutting_problem& problem) { return near_target{problem, 330_g}; };
/// A way to plan of a user's own.
const auto of_ones_own = [](const profile& m, const cutting_request& r) { return most_portions(m, r.cuts, r.rules); };

static_assert(want<decltype(most_portions())> && want<decltype(best_value(prices))> &&
              want<decltype(least_giveaway())>);
static_assert(want<decltype(even_portions(3))> && want<decltype(fewest_settings())> && want<decltype(near_330_g)>);
static_assert(planning_want<decltype(of_ones_own)> && planning_want<decltype(even_portions())>);
static_assert(!planning_want<decltype(most_portions())> && !objective_want<decltype(of_ones_own)>);
// An objective belongs to one problem, so it is no want.
static_assert(!want<kept_mass_objective> && !want<near_target> && !want<int>);

} // namespace

TEST_CASE("a named call is the plan by the want of that name") {
    CHECK(most_portions(meat, cuts, rules) == plan(meat, {cuts, rules}, most_portions()));
    CHECK(most_portions(meat, cuts, rules, demands) == plan(meat, {cuts, rules, demands}, most_portions()));
    CHECK(least_waste(meat, cuts, rules) == plan(meat, {cuts, rules}, least_waste()));
    CHECK(least_waste(meat, cuts, rules, demands) == plan(meat, {cuts, rules, demands}, least_waste()));
    CHECK(best_value(meat, cuts, prices, rules) == plan(meat, {cuts, rules}, best_value(prices)));
    CHECK(best_value(meat, cuts, prices, rules, demands) == plan(meat, {cuts, rules, demands}, best_value(prices)));
    for (const mass& charge : {280_g, 320_g}) {
        const charged_weights charged{{"steak", charge}, {"roast", 900_g}};
        CHECK(least_giveaway(meat, cuts, charged, rules) == plan(meat, {cuts, rules}, least_giveaway(charged)));
        CHECK(least_giveaway(meat, cuts, charged, rules, demands) ==
              plan(meat, {cuts, rules, demands}, least_giveaway(charged)));
    }
    CHECK(even_portions(meat, cuts, rules, 9) == plan(meat, {cuts, rules}, even_portions(9)));
    CHECK(of_ones_own(meat, {cuts, rules}) == plan(meat, {cuts, rules}, of_ones_own));
    CHECK(plan(meat, {cuts[0]}, most_portions()) == most_portions(meat, cuts[0]));
}

TEST_CASE("the want of fewest settings tells settings as a part of the score") {
    const few_settings few = fewest_settings(meat, cuts, rules);
    const planned found = plan(meat, {cuts, rules}, fewest_settings());
    CHECK(found.plan == few.planned.plan);
    REQUIRE(found.score_parts.size() == 3);
    CHECK(values_of(found)[0] == static_cast<double>(found.plan.portion_count()));
    CHECK(values_of(found)[1] == -static_cast<double>(few.settings));
    CHECK(bounds_of(found)[1] == -static_cast<double>(few.at_least));
    CHECK(found.gap() == 0.0);
    CHECK(plan(meat, {cuts, rules, demands}, fewest_settings()).plan ==
          fewest_settings(meat, cuts, rules, demands).planned.plan);
    CHECK(plan(meat, {cuts, rules, demands}, even_portions(8)) == even_portions(meat, cuts, rules, 8, demands));
}

TEST_CASE("an objective of one's own is a want by its type, and by a function of the problem") {
    const cutting_request request{cuts, rules, demands};
    const cutting_problem problem(meat, cuts, rules);
    const planned by_hand = plan(problem, near_target{problem, 330_g}, demands);
    CHECK(plan(meat, request, near_330_g) == by_hand);
    CHECK(plan(meat, request, best_by<near_target>(330_g)) == by_hand);
    const auto costs = limit_costs(meat, request, best_by<near_target>(330_g));
    const auto same = limit_costs(meat, request, near_330_g);
    CHECK(costs == same);
    CHECK_FALSE(costs.empty());
}

TEST_CASE("wants in order are the objective that their objectives make in order") {
    const cutting_problem problem(meat, cuts, rules);
    const auto even = evenness_objective(problem, 330_g);
    const auto in_order = lexicographic(best_by<portion_count_objective>(), best_by<evenness_objective>(330_g));
    static_assert(objective_want<decltype(in_order)>);
    CHECK(plan(meat, {cuts, rules}, in_order) == plan(problem, lexicographic(portion_count_objective(problem), even)));
}

TEST_CASE("a session takes the wants that a plan takes") {
    const auto to_come = [](const auto& want) {
        return cutting_session(meat, {cuts, rules, demands}, want).portions_to_come();
    };
    for (const mass& charge : {280_g, 320_g}) {
        const charged_weights charged{{"steak", charge}, {"roast", 900_g}};
        CHECK(to_come(least_giveaway(charged)) ==
              plan(meat, {cuts, rules, demands}, least_giveaway(charged)).plan.portion_count());
    }
    CHECK(to_come(best_value(prices)) == best_value(meat, cuts, prices, rules, demands).plan.portion_count());
    CHECK(to_come(best_by<near_target>(330_g)) == plan(meat, {cuts, rules, demands}, near_330_g).plan.portion_count());
}

TEST_CASE("a what-if lowers a least portion below its charge, which stays") {
    // 14 cells of 1 cm, all of one weight m; one portion at the charge of 4 m and more needs five cells.
    const profile prism = tabulate(prism_loin{.length = 14_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_cm);
    const mass cell = to_mass(prism.total()) / 14.0;
    const cutting_request request{
        .cuts = {{.name = "steak", .thickness = {3_cm, 4_cm}, .portion = {4.5 * cell, 9.0 * cell}}}};
    for (const limit_change& change : nearest_feasible(prism, request, least_giveaway({{"steak", 4.5 * cell}}))) {
        CHECK(change.planned.feasible());
        if (change.which.what == request_limit::kind::portion_min)
            CHECK(change.planned.score_parts[1].value == 0.0); // all are short, and give nothing away
    }
}

TEST_CASE("value and bound of a score are equal doubles only if the exact scores are equal") {
    constexpr std::int64_t large = std::int64_t{1} << 60; // where doubles are 256 apart
    std::vector<score_part> parts;
    detail::add_parts(parts, large, large + 1);
    detail::add_parts(parts, large, large);
    REQUIRE(parts.size() == 2);
    CHECK(parts[0].value < parts[0].bound);
    CHECK(parts[1].value == parts[1].bound);
    detail::add_parts(parts, lexicographic_score<std::int64_t, double>{{3, 1.5}},
                      lexicographic_score<std::int64_t, double>{{3, 2.5}});
    CHECK(parts[2] == score_part{3.0, 3.0});
    CHECK(parts[3] == score_part{1.5, 2.5});
}

TEST_CASE("the gap is that of the first part in which value and bound differ, where a bound is known") {
    planned found;
    CHECK(found);
    CHECK(found.gap() == 0.0);
    CHECK(std::isnan(found.score()));
    found.score_parts = {{7.0, 7.0}};
    CHECK(found.score() == 7.0);
    found.stop = stop_reason::gap_left;
    found.score_parts = {{3.0, 3.0}, {5.0, 6.5}, {1.0, 9.0}};
    CHECK(found.gap() == 1.5);
    CHECK(std::isnan(found.score()));
    CHECK(std::isnan(found.bound()));
    found.score_parts[1].bound = std::numeric_limits<double>::quiet_NaN();
    CHECK(std::isnan(found.gap()));
    found.score_parts.clear();
    found.stop = stop_reason::gap_left; // of a score of a user's own type
    CHECK(std::isnan(found.gap()));
    found.stop = stop_reason::demand_impossible;
    found.score_parts = {{1.0, 1.0}};
    CHECK(std::isnan(found.gap()));
    CHECK_FALSE(found);
}

} // namespace want_test
