// What a request allows at its edges: one cell, a facing, thickness off the grid, a short last cell, a second muscle
// everywhere, loins of three grams and of three tonnes.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <type_traits>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/robust_plans.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/want/giveaway.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace cutting_problem_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Invented.
profile prism(length extent, length step, double scale = 1.0) {
    return tabulate(prism_loin{.length = extent, .face = {.width = scale * 16_cm, .depth = scale * 7_cm}}, step);
}

/// The plan, sound by a second opinion and closed to the microgram.
planned sound_plan(const profile& meat, const cut_spec& spec, const cutting_rules& rules = {}) {
    tranche::planned planned = most_portions(meat, spec, rules);
    CHECK(verify(planned.plan, meat, {spec}, rules) == std::vector<std::string>{});
    CHECK(balance_of(planned.plan).total() == meat.total());
    return planned;
}

} // namespace

TEST_CASE("a loin of one cell is one portion or all loose") {
    const profile meat = prism(25_mm, 40_mm);
    REQUIRE(meat.cells() == 1);
    CHECK(sound_plan(meat, {.name = "steak", .thickness = {20_mm, 30_mm}}).plan.portion_count() == 1);
    const planned none = sound_plan(meat, {.name = "steak", .thickness = {26_mm, 70_mm}});
    CHECK_FALSE(none.feasible());
    REQUIRE(none.plan.slabs.size() == 1);
    CHECK(none.plan.slabs.front().kind == slab_kind::end);
}

TEST_CASE("a spec thicker than the loin has no slab") {
    const profile meat = prism(10_cm, 1_mm);
    const cutting_problem problem(meat, {{.name = "roast", .thickness = {101_mm, 20_cm}}}, {});
    for (std::size_t from = 0; from < problem.cells(); ++from)
        for (std::size_t to = from + 1; to <= problem.cells(); ++to)
            if (problem.allows(1, from, to)) CHECK_FALSE(problem.allows(1, from, to));
    CHECK_FALSE(sound_plan(meat, {.name = "roast", .thickness = {101_mm, 20_cm}}).feasible());
    CHECK(sound_plan(meat, {.name = "roast", .thickness = {100_mm, 20_cm}}).plan.portion_count() == 1);
}

TEST_CASE("a facing that leaves one cell leaves one portion") {
    const profile meat = prism(50_mm, 10_mm);
    const cut_spec sliver{.name = "sliver", .thickness = 10_mm};
    const tranche::planned planned = sound_plan(meat, sliver, {.facing = 40_mm});
    REQUIRE(planned.plan.slabs.size() == 2);
    CHECK(planned.plan.slabs[0].kind == slab_kind::facing);
    CHECK(planned.plan.portion_count() == 1);
    // Just more than four cells is the whole loin on this grid: nothing is left to plan, and the answer says so.
    const tranche::planned all_faced = sound_plan(meat, sliver, {.facing = 41_mm});
    CHECK(all_faced.plan.slabs.size() == 1);
    CHECK_FALSE(all_faced.feasible());
    CHECK_THAT(all_faced.why_not(), ContainsSubstring("facing"));
}

TEST_CASE("a second muscle on every face leaves only cuts that tolerate it") {
    const profile meat = tabulate(measured_loin{.length = 20_cm,
                                                .stations = {{.width = 16_cm, .depth = 7_cm}},
                                                .gluteus_medius = {.onset = 0_cm, .share_at_end = 0.4}},
                                  1_mm);
    // It enters at the rib face itself, which is clean only in the very first position.
    CHECK(sound_plan(meat, {.name = "one face", .thickness = {20_mm, 30_mm}}).plan.portion_count() == 1);

    struct all_mixed {
        [[nodiscard]] static length extent() { return 10_cm; }
        [[nodiscard]] static face face_at(length /*at*/) {
            face f;
            f.areas[tissue::eye] = 70_cm2;
            f.areas[tissue::gluteus_medius] = 20_cm2;
            return f;
        }
    };
    const profile mixed = tabulate(all_mixed{}, 1_mm);
    for (const gluteus_medius_rule& rule : {no_gluteus_medius, on_one_face, gluteus_medius_up_to(0.2)}) {
        const planned none = sound_plan(mixed, {.name = "steak", .thickness = {20_mm, 30_mm}, .gluteus_medius = rule});
        CHECK(none.plan.portion_count() == 0);
        CHECK(none.stop == stop_reason::no_portion_fits);
    }
    for (const gluteus_medius_rule& rule : {any_gluteus_medius, gluteus_medius_up_to(0.25)})
        CHECK(sound_plan(mixed, {.name = "steak", .thickness = {20_mm, 30_mm}, .gluteus_medius = rule})
                  .plan.portion_count() == 5);
}

TEST_CASE("a loin of three grams is planned to the microgram") {
    const profile meat = prism(3_mm, 0.25_mm, 0.1); // 0.896 cm² × 3 mm is 0.28 g; ten times as long it is three
    const profile longer = prism(3.2_cm, 0.25_mm, 0.1);
    CHECK(to_mass(longer.total()) < 3.1_g);
    const cut_spec crumb{.name = "crumb", .thickness = {1_mm, 2_mm}, .portion = {0.1_g, 0.15_g}};
    CHECK(sound_plan(longer, crumb, {.loose = {{.least_thickness = 1_mm}}}).plan.portion_count() == 25); // of 1.25 mm
    CHECK(sound_plan(meat, crumb).plan.portion_count() == 2);
}

TEST_CASE("a loin of three tonnes is planned to the microgram") {
    const profile meat = prism(10_m, 5_mm, 5.625); // 0.2835 m² × 10 m
    CHECK(to_mass(meat.total()) > 2.9e3 * kilogram);
    const cut_spec slab{.name = "slab", .thickness = {40_mm, 60_mm}, .portion = {13_kg, 15_kg}};
    const tranche::planned planned = sound_plan(meat, slab);
    CHECK(planned.plan.portion_count() == 222); // 45 mm are 13.5 kg; 10 m are 222 of them and 10 mm
    CHECK(least_waste(meat, slab).plan.portion_count() > 190);
}

TEST_CASE("an exact thickness off the grid is met by the nearest position") {
    const profile meat = prism(20_cm, 1_mm);
    for (int tenths = 200; tenths <= 240; ++tenths) {
        const double asked = 0.1 * tenths;
        const tranche::planned planned = sound_plan(meat, {.name = "steak", .thickness = asked * 1_mm});
        REQUIRE(planned.plan.portion_count() >= 8);
        for (const slab& s : planned.plan.slabs)
            // Half a step, and what binary fractions of it add up to.
            if (s.kind == slab_kind::portions) CHECK(std::abs(s.thickness / millimetre - asked) <= 0.5 + 1e-9);
    }
    // Inches are never on a millimetre grid, and on one of their own always are.
    CHECK(sound_plan(meat, {.name = "steak", .thickness = 1_in}).plan.portion_count() == 8);
    const profile inches = prism(10_in, 0.125_in);
    const planned exact = sound_plan(inches, {.name = "steak", .thickness = 1_in});
    CHECK(exact.plan.portion_count() == 10);
    for (const slab& s : exact.plan.slabs) CHECK(s.thickness / inch == Approx(1.0).epsilon(1e-12));
}

TEST_CASE("a thickness far below the grid has no slab at all") {
    const profile meat = prism(10_cm, 5_mm);
    for (const length& thin : {0.1_mm, 1_mm, 2.4_mm}) {
        const tranche::planned planned = sound_plan(meat, {.name = "leaf", .thickness = thin});
        CHECK(planned.plan.portion_count() == 0);
        CHECK_FALSE(planned.feasible());
        CHECK_FALSE(planned.why_not().empty());
    }
    // From half a step on the nearest thickness is one step.
    CHECK(sound_plan(meat, {.name = "leaf", .thickness = 2.6_mm}).plan.portion_count() == 20);
    // A kerf as wide as the grid takes the step away again, except at the sirloin face, where there is none.
    CHECK(sound_plan(meat, {.name = "leaf", .thickness = 1_mm, .kerf = 5_mm}).plan.portion_count() == 0);
}

TEST_CASE("a short last cell counts with its own thickness") {
    const profile meat = prism(10.4_cm, 1_cm); // the last of eleven cells is 4 mm
    REQUIRE(meat.cells() == 11);
    const cut_spec steak{.name = "steak", .thickness = {24_mm, 30_mm}};
    const cutting_problem problem(meat, {steak}, {});
    CHECK(problem.allows(1, 8, 11)); // 24 mm
    CHECK_FALSE(problem.allows(1, 9, 11));
    CHECK_FALSE(problem.allows(1, 7, 11));
    CHECK(problem.allows(1, 5, 8));
    CHECK_FALSE(problem.allows(1, 5, 7));
    const tranche::planned planned = sound_plan(meat, steak);
    CHECK(planned.plan.portion_count() == 3);
    CHECK(least_waste(meat, steak).plan.slabs.back().kind == slab_kind::end);
}

TEST_CASE("an exact thickness half way between two positions behind a short last cell breaks no promise") {
    // Whether 90.5 steps fall up or down depends on binary noise; a slab may be half a step off, never more.
    for (int cells = 20; cells < 200; ++cells) {
        const profile meat = prism((cells + 0.5) * 1_mm, 1_mm);
        const cut_spec steak{.name = "steak", .thickness = 10_mm};
        const cutting_problem problem(meat, {steak}, {});
        const auto found = best_path(problem, kept_mass_objective::portions_then_mass(problem));
        for (const grid_slab& s : found.stretches) {
            const std::size_t option = s.kind == slab_kind::portions ? problem.loose_count() + s.option : s.option;
            if (!problem.allows(option, s.from, s.to)) CHECK(problem.allows(option, s.from, s.to));
        }
        sound_plan(meat, steak);
    }
}

TEST_CASE("impossible requests throw and name the field") {
    const profile meat = prism(10_cm, 1_mm);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 30_mm}};
    CHECK_THROWS_WITH(cutting_problem(meat, {}, {}), ContainsSubstring("specs"));
    CHECK_THROWS_WITH(cutting_problem(meat, {steak, steak}, {}), ContainsSubstring("twice"));
    CHECK_THROWS_WITH(cutting_problem(meat, {steak}, {.facing = 10_cm}), ContainsSubstring("facing"));
    CHECK_THROWS_WITH(cutting_problem(meat, {steak}, {.loose = {}}), ContainsSubstring("loose"));
    CHECK_THROWS_WITH(cutting_problem(meat, {{.name = "steak", .thickness = {30_mm, 20_mm}}}, {}),
                      ContainsSubstring("thickness"));
    price_list<usd> prices; // of nothing
    CHECK_THROWS_WITH(best_value(meat, {steak}, prices), ContainsSubstring("price of steak"));
    prices.portions["steak"].each = money<usd>::from_value(std::nan(""));
    CHECK_THROWS_WITH(best_value(meat, {steak}, prices), ContainsSubstring("by the piece"));
}

TEST_CASE("the rest can be planned again as a whole after a thickness was kept") {
    const profile meat = prism(30_cm, 1_mm);
    cutting_problem problem(meat, {{.name = "steak", .thickness = {2_cm, 3_cm}, .one_thickness = true}}, {});
    problem.plan_rest(50, 1.0, {{true}, {22_mm}});
    REQUIRE(problem.window(1).least_cells == 22);
    REQUIRE(problem.window(1).most_cells == 22);
    // The slabs in front have set a thickness, and without them the request is one that links slabs again.
    CHECK_THROWS_WITH(problem.plan_rest(0, 1.0), ContainsSubstring("steak: one_thickness"));
    CHECK(problem.start() == 50);
    CHECK(problem.window(1).most_cells == 22);
    problem.plan_rest(0, 1.0, {{false}, {0_mm}});
    CHECK(problem.window(1).least_cells == 20);
    CHECK(problem.window(1).most_cells == 30);

    // Cuts behind one that may no longer come do not link slabs without an order.
    cutting_problem given(meat, {{.name = "steak", .thickness = 2_cm, .one_thickness = true}}, {});
    const detail::option_window whole = given.window(1);
    given.plan_rest(50, 1.02, {{true}, {22_mm}});
    given.plan_rest(0, 1.0);
    CHECK(given.start() == 0);
    CHECK(given.window(1).least_cells == whole.least_cells);
    CHECK(given.window(1).first_to_end == whole.first_to_end);
    CHECK(given.window(1).last_to_end == whole.last_to_end);
}

TEST_CASE("a rest that makes no sense is refused and changes nothing") {
    const profile meat = prism(30_cm, 1_mm);
    cutting_problem problem(meat, {{.name = "steak", .thickness = {2_cm, 3_cm}, .one_thickness = true}}, {});
    problem.plan_rest(50, 1.0, {{true}, {22_mm}});
    for (const double ratio :
         {0.0, -1.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()})
        CHECK_THROWS_WITH(problem.plan_rest(0, ratio, {{false}, {0_mm}}), ContainsSubstring("mass_ratio"));
    CHECK_THROWS_WITH(problem.plan_rest(301, 1.0, {{false}, {0_mm}}), ContainsSubstring("start"));
    CHECK_THROWS_WITH(problem.plan_rest(0, 1.0, {{}, {0_mm}}), ContainsSubstring("before"));
    CHECK_THROWS_WITH(problem.plan_rest(0, 1.0, {{true}, {}}), ContainsSubstring("before"));
    CHECK(problem.start() == 50);
    CHECK(problem.window(1).most_cells == 22);
}

TEST_CASE("nothing that keeps a profile or a problem takes one that nobody else keeps") {
    using specs = std::vector<cut_spec>;
    STATIC_REQUIRE(std::is_constructible_v<cutting_problem, const profile&, specs, cutting_rules>);
    STATIC_REQUIRE_FALSE(std::is_constructible_v<cutting_problem, profile, specs, cutting_rules>);
    STATIC_REQUIRE_FALSE(std::is_constructible_v<cutting_problem, const profile, specs, cutting_rules>);
    STATIC_REQUIRE(std::is_constructible_v<yield_table, const profile&, trim_spec>);
    STATIC_REQUIRE_FALSE(std::is_constructible_v<yield_table, profile, trim_spec>);

    const auto make = [](const cutting_problem& p) { return portion_mass_objective(p); };
    using session = cutting_session<portion_mass_objective>;
    STATIC_REQUIRE(std::is_constructible_v<session, const profile&, cutting_request, decltype(make)>);
    STATIC_REQUIRE_FALSE(std::is_constructible_v<session, profile, cutting_request, decltype(make)>);

    const auto refuses_temporary = []<class Objective, class... More>(std::type_identity<Objective>, const More&...) {
        return std::is_constructible_v<Objective, const cutting_problem&, More...> &&
               !std::is_constructible_v<Objective, cutting_problem, More...> &&
               !std::is_constructible_v<Objective, const cutting_problem, More...>;
    };
    const price_list<usd> prices;
    const knife_spread knife;
    CHECK(refuses_temporary(std::type_identity<portion_mass_objective>{}));
    CHECK(refuses_temporary(std::type_identity<evenness_objective>{}, 300_g));
    CHECK(refuses_temporary(std::type_identity<giveaway_objective>{}));
    CHECK(refuses_temporary(std::type_identity<overweight_objective>{}));
    CHECK(refuses_temporary(std::type_identity<expected_portions_objective>{}, knife));
    CHECK(refuses_temporary(std::type_identity<expected_value_objective<usd>>{}, prices, knife));
    // These keep nothing of it.
    STATIC_REQUIRE(std::is_constructible_v<portion_count_objective, cutting_problem>);
    STATIC_REQUIRE(std::is_constructible_v<worth_objective, cutting_problem, price_list<usd>>);
}

} // namespace cutting_problem_test
