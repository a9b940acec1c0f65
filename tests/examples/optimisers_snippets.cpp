// The code that docs/optimisers.md and docs/cutting.md show, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <iostream>
#include <stop_token>
#include <string>
#include <vector>

#include <tranche/tranche.hpp>

#include "docs_pages.hpp"

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
        const cut_spec &steak = specs[0], &fillet = specs[1];
        const cutting_request request{
            .cuts = {steak, fillet}, .rules = {.facing = 6_mm}, .demands = {at_least(4, "fillet")}};
        const auto best = plan(meat, request, most_portions());
        CHECK(best.feasible());
    }
    {
        const auto even = lexicographic(best_by<portion_count_objective>(), best_by<evenness_objective>(330_g));
        const auto planned = plan(meat, {specs, rules}, even);
        CHECK(planned.feasible());
        CHECK(planned.score_parts.size() == 2);
    }
    {
        const auto planned =
            most_portions(meat, specs, rules, {at_least(6, "steak"), at_most(4, "fillet"), exactly(1, "roast")});
        CHECK(planned.feasible());
    }
    path_workspace<kept_mass_objective> room;
    const auto objective = kept_mass_objective::portions_then_mass(problem);
    const auto& best = room.best_path(problem, objective); // allocates nothing once it has seen problems as large
    CHECK(best.score == best_path(problem, objective).score);
}

TEST_CASE("docs on optimisers: a loin is planned again at other prices") {
    const profile meat = even_loin();
    const std::vector<cut_spec> specs{three_cuts()[0], three_cuts()[1]};
    const cutting_problem problem(meat, specs, {});
    price_list<usd> prices;
    for (const cut_spec& spec : specs) prices.portions[spec.name].by_weight = 20.0_usd / 1_kg;
    for (const destination to : all_destinations) prices.by_products[to] = 4.0_usd / 1_kg;
    const compact_problem compact(problem, worth_objective(problem, prices)); // 15 KB with twenty cuts at 1 mm
    compact_workspace desk;                                                   // one a thread
    const cut_values more{.each = {2'500'000'000, 900'000'000}};              // $2.50 and $0.90 a portion
    const auto how_many = desk.plan(compact, more).portions;                  // `stretches` say where
    CHECK(how_many.size() == 2);
    CHECK(how_many[0] + how_many[1] > 4);
}

TEST_CASE("docs on optimisers: cuts are where they have to be, and say what they cost") {
    const profile meat = even_loin();
    const cut_spec steak = three_cuts()[0], fillet = three_cuts()[1];
    const cutting_rules rules{.cut_at = {200_mm},                // this face is to be seen
                              .kept_whole = {{240_mm, 262_mm}}}; // what the probe has marked: no cut through it
    const auto planned = most_portions(meat, {steak, fillet}, rules);
    CHECK(planned.feasible());
    CHECK(verify(planned.plan, meat, {steak, fillet}, rules).empty());

    const auto both = lexicographic(best_by<portion_count_objective>(), best_by<portion_mass_objective>());
    const cutting_request request{{steak, fillet}};
    const auto regrets = cut_regrets(meat, request, both);
    const std::string picture = cut_regrets_svg(regrets, plan(meat, request, both).plan, {"g", 1e6}, metric_kitchen);
    CHECK(regrets.size() == meat.cells() + 1);
    CHECK_FALSE(picture.empty());

    const auto three = best_plans(meat, request, both, {.most = 3}); // each differs in a count or by 5 mm in a cut
    const auto mixes = counts_within(meat, request, both, 1);       // with at most one portion less than the best
    const auto counts = best_counts(meat, request, both)->portions; // how many of each, and nothing else
    CHECK(three.size() == 3);
    CHECK(mixes.size() > 1);
    CHECK(mixes.front().lost == 0.0);
    CHECK(counts.size() == 2);
}

TEST_CASE("docs on optimisers: a search ends when it is told to") {
    const profile meat = even_loin();
    std::vector<cut_spec> cuts = three_cuts();
    for (cut_spec& cut : cuts) cut.one_thickness = true;
    const cutting_request request{cuts};
    std::stop_source window_closed;
    std::size_t told = 0;
    const auto show = [&](const std::vector<grid_slab>& slabs) { told += !slabs.empty(); };
    const search_limits search{.most_passes = 2'000, // the same plan on every machine
                               .stop = window_closed.get_token(),
                               .found = [&](const incumbent& now) { show(now.slabs); }};
    const auto planned = plan(meat, request, most_portions(), search);
    if (planned.searched.ended != search_end::by_itself && planned.stop == stop_reason::gap_left)
        std::cout << "at most " << planned.gap() << " better\n";
    CHECK(planned.feasible());
    CHECK(told > 0);
}

TEST_CASE("docs on optimisers: a session takes what the scale says of each slab") {
    const profile meat = even_loin();
    const std::vector<cut_spec> specs{three_cuts().front()};
    const cutting_rules rules{};
    cutting_session session(meat, {specs, rules}, most_portions());
    const length where = session.next()->at; // the knife goes, from the rib end
    session.record({.weight = 331_g});       // or with .thickness = 31_mm, if it was measured
    session.weigh_rest(3.24_kg);             // all that is left on the board
    session.undo();
    const auto missing = session.shortfalls();         // what demands ask for and can no longer have
    const cutting_account account = session.account(); // slabs + rest + unaccounted = the loin, to the microgram
    CHECK(where > length{});
    CHECK(session.next());
    CHECK(missing.empty());
    CHECK(account.rest <= meat.total());
}

TEST_CASE("docs on optimisers: a session is kept as a value, and goes on by any way to plan") {
    const profile meat = even_loin();
    const cut_spec steak = three_cuts().front(), roast = three_cuts().back();
    const cutting_rules rules{};
    cutting_session session(meat, {steak, rules, {}}, even_portions(11));
    session.record({.weight = session.next()->weight});
    const session_state kept = session.state(); // a plain value, to be kept in a file
    const cutting_session again(meat, {steak, rules, {}}, even_portions(11), kept); // gives the same advice
    CHECK(again.next() == session.next());
    CHECK(again.portions_to_come() == session.portions_to_come());

    const front_point choice = count_and_waste_front(meat, {steak, roast}, rules).front();
    const cutting_request as_chosen{{steak, roast}, rules, demands_of(choice.plan)};
    const cutting_session of_choice(meat, as_chosen, least_waste());
    CHECK(of_choice.portions_to_come() == choice.portions);
    CHECK(polish(meat, as_chosen, least_waste()).planned.plan.portion_count() == choice.portions);
}

TEST_CASE("docs on optimisers: a plan says what one change would make of its loose meat") {
    const auto planned = most_portions(even_loin(), {{.name = "half", .thickness = {150_mm, 160_mm}, .pieces = 2}});
    REQUIRE(planned.hints.size() == 1);
    CHECK_THAT(in_one_line(page("optimisers.md")), ContainsSubstring(in_one_line(planned.hints[0].text())));
}

TEST_CASE("docs on cutting: loose meat is kept to its place, and a remnant is left") {
    const profile meat = even_loin();
    const cutting_rules rules{.loose = {{.goes_to = destination::grind, .place = loose_place::ends}},
                              .remnant = {.thickness = 5_cm, .required = true}};
    const auto planned = least_waste(meat, three_cuts(), rules);
    CHECK(planned.feasible());
    CHECK(planned.plan.slabs.back().thickness > 49.9_mm);
    CHECK(verify(planned.plan, meat, three_cuts(), rules).empty());
}

TEST_CASE("docs on optimisers: demands beyond the loin are answered as the page says") {
    const profile meat = even_loin();
    const auto planned = most_portions(meat, three_cuts(), {}, {at_least(6, "roast")});
    CHECK_FALSE(planned.feasible());
    CHECK_THAT(in_one_line(page("optimisers.md")), ContainsSubstring(in_one_line(planned.why_not())));
    const auto too_heavy =
        most_portions(meat, {{.name = "steak", .thickness = {38_mm, 45_mm}, .portion = {200_g, 300_g}}});
    CHECK_FALSE(too_heavy.feasible());
    CHECK_THAT(in_one_line(page("optimisers.md")), ContainsSubstring(in_one_line(too_heavy.why_not())));
}

} // namespace optimisers_snippets
