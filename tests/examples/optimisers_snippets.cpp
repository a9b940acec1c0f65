// The code that docs/optimisers.md and docs/cutting.md show, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <iostream>
#include <sstream>
#include <vector>

#include <tranche/tranche.hpp>

namespace optimisers_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Invented: an even loin and three cuts.
profile even_loin() {
    return tabulate(
        prism_loin{.length = 42_cm, .face = {.width = 16_cm, .depth = 7_cm, .fat_cover = 8_mm, .tail = 3_cm}}, 1_mm);
}
std::vector<cut_spec> three_cuts() {
    return {{.name = "steak", .thickness = {25_mm, 38_mm}, .portion = {280_g, 380_g}},
            {.name = "fillet", .thickness = {40_mm, 60_mm}, .pieces = 2},
            {.name = "roast", .thickness = {80_mm, 100_mm}}};
}

} // namespace

TEST_CASE("docs: the cut that is shown is one") {
    const cut_spec steak{.name = "strip steak",
                         .thickness = {25_mm, 38_mm}, // or one value: .thickness = 1.25_in
                         .portion = {300_g, 400_g},   // of one portion, trimmed
                         .trim = {.fat_cover = 6_mm, .tail = 25_mm}};
    CHECK_NOTHROW(validate(steak));
}

TEST_CASE("docs: objectives in order, demands and fronts do what is said of them") {
    const profile meat = even_loin();
    const std::vector<cut_spec> specs = three_cuts();
    const cutting_rules rules{};
    const cutting_problem problem(meat, specs, rules);
    {
        const auto even = evenness_objective(problem, 330_g);
        const auto planned = plan_with(problem, lexicographic(portion_count_objective(problem), even));
        CHECK(planned.feasible());
        CHECK(planned.score_parts.size() == 2);
    }
    {
        const auto planned =
            most_portions(meat, specs, rules, {at_least(6, "steak"), at_most(4, "fillet"), exactly(1, "roast")});
        CHECK(planned.feasible());
    }
    std::ostringstream text;
    std::streambuf* const screen = std::cout.rdbuf(text.rdbuf());
    for (const front_point& choice : count_and_waste_front(meat, specs, rules))
        std::cout << choice.portions << " portions waste " << to_mass(choice.waste) / gram << " g\n";
    std::cout.rdbuf(screen);
    CHECK_THAT(text.str(), ContainsSubstring(" portions waste "));
    segment_workspace<kept_mass_objective> room;
    const auto objective = kept_mass_objective::portions_then_mass(problem);
    const auto& best = room.segment(problem, objective); // allocates nothing once it has seen problems as large
    CHECK(best.score == segment(problem, objective).score);
}

} // namespace optimisers_snippets
