// The named plans against an independent solver: GLPK finds the best tiling as a flow from the rib to the sirloin face.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <vector>

#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/arc_flow.hpp"
#include "optimise/three_cuts.hpp"

namespace plans_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const cutting_rules two_ways_to_be_loose{
    .facing = 8_mm,
    .loose = {{.goes_to = destination::grind}, {.goes_to = destination::dice, .least_thickness = 25_mm}}};

/// The path that GLPK finds, without any demand.
std::vector<arc> heaviest_path(const cutting_problem& problem, const value_of_arc& value) {
    const auto path = best_path_by_glpk(flow_of(problem), value);
    REQUIRE(path);
    return *path;
}

} // namespace

TEST_CASE("an independent solver finds no plan with more portions, and the same mass to the microgram") {
    const profile meat = measured_strip(1_mm);
    const cutting_problem problem(meat, three_cuts(), two_ways_to_be_loose);
    const auto objective = kept_mass_objective::portions_then_mass(problem);
    // In grams; one portion outweighs the loin.
    const double portion = 1.1 * (to_mass(meat.total()) / gram);
    const auto path = heaviest_path(problem, [&](const arc& a) {
        if (!problem.is_portion(a.option)) return 0.0;
        return problem.pieces(a.option) * portion + 1e-6 * static_cast<double>(problem.weight(a.option, a.from, a.to));
    });
    const auto found = best_path(problem, objective);
    CHECK(found.score == score_of(objective, path));
    CHECK(found.score > 8 * meat.total().count); // more than eight portions: not an empty plan
}

TEST_CASE("an independent solver finds no plan with less waste") {
    const profile meat = measured_strip(1_mm);
    const cutting_problem problem(meat, three_cuts(), two_ways_to_be_loose);
    const auto objective = kept_mass_objective::mass_then_portions(problem);
    // In grams, and a portion a hundredth of a microgram: less than any difference in mass.
    const auto path = heaviest_path(problem, [&](const arc& a) {
        if (!problem.is_portion(a.option)) return 0.0;
        return 1e-8 * problem.pieces(a.option) + 1e-6 * static_cast<double>(problem.weight(a.option, a.from, a.to));
    });
    const auto found = best_path(problem, objective);
    CHECK(found.score == score_of(objective, path));
    CHECK(found.score > 0);
}

TEST_CASE("an independent solver finds no plan of higher value") {
    const profile meat = measured_strip(1_mm);
    const cutting_problem problem(meat, three_cuts(), two_ways_to_be_loose);
    // Invented prices.
    price_list<usd> prices{.portions = {{"steak", {.by_weight = 18_usd / 1_lb}},
                                        {"fillet", {.by_weight = 19_usd / 1_lb, .each = 1_usd}},
                                        {"end steak", {.by_weight = 13_usd / 1_lb}}}};
    prices.by_products[destination::grind] = 4.5_usd / 1_lb;
    prices.by_products[destination::dice] = 6_usd / 1_lb;
    prices.by_products[destination::rendering] = 0.2_usd / 1_lb;
    const value_objective<usd> objective(problem, prices);
    const auto path = heaviest_path(problem, [&](const arc& a) {
        return 1e-9 * static_cast<double>(slab_score(objective, a.option, a.from, a.to)); // in dollars
    });
    const auto found = best_path(problem, objective);
    // 1e-9 of the value: the solver leaves reduced costs of 1e-10 × (1 + a tenth of an arc's value) unimproved.
    const std::int64_t solved = score_of(objective, path);
    CHECK(found.score >= solved);
    CHECK_THAT(static_cast<double>(found.score), WithinRel(static_cast<double>(solved), 1e-9));
    CHECK(value_objective<usd>::worth(found.score) > 100_usd);
}

} // namespace plans_oracle
