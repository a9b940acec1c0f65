// What a plan says without being asked.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace plan_hint_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// 100 cm² of eye at 1 g/cm³, so that a millimetre weighs 10 g.
profile ten_grams_a_millimetre(length extent) {
    tissue_densities dense = densities_at_4_celsius();
    dense[tissue::eye] = 1000.0 * kilogram_per_cubic_metre;
    const prism_loin loin{.length = extent, .face = {.width = 10_cm, .depth = 10_cm}, .shape = {.fill = 1.0}};
    return tabulate(loin, 0.5_mm, dense);
}

} // namespace

TEST_CASE("meat left loose that one change would make a portion is named with that change") {
    const profile meat = ten_grams_a_millimetre(130_mm);
    // Two steaks of 50 mm leave 30 mm; a thinner steak would use it.
    const cut_spec steak{.name = "steak", .thickness = {50_mm, 60_mm}, .portion = {250_g, 510_g}};
    const auto thick = most_portions(meat, steak);
    REQUIRE(thick.plan.portion_count() == 2);
    CHECK(thick.hints.empty()); // 280 to 300 g are less than a portion

    // One roast that must be thick leaves 60 mm beside it, which is as heavy as a roast may be light.
    const cut_spec roast{.name = "roast", .thickness = {70_mm, 75_mm}, .portion = {500_g, 800_g}};
    const auto one = most_portions(meat, roast);
    REQUIRE(one.plan.portion_count() == 1);
    CHECK(one.hints.empty()); // 550 g, and the roast weighs 750

    const cut_spec halves{.name = "half", .thickness = {70_mm, 75_mm}, .pieces = 2};
    const auto two = most_portions(meat, halves);
    REQUIRE(two.plan.portion_count() == 2);
    REQUIRE(two.hints.size() == 1);
    CHECK(two.hints[0].what == plan_hint::kind::left_loose);
    CHECK(two.hints[0].loose >= 375_g);
    CHECK_THAT(two.hints[0].text(),
               ContainsSubstring(" left loose, no less than a portion; half: allow a cut 55 mm thick"));
    // What is named helps.
    cut_spec thinner = halves;
    thinner.thickness.min = 55_mm;
    CHECK(most_portions(meat, thinner).plan.portion_count() == 4);
}

TEST_CASE("a limit that keeps a cut out of loose meat is the one that binds there") {
    const profile meat = ten_grams_a_millimetre(130_mm);
    // Any slab of 60 to 65 mm is heavier than 550 g, but in halves.
    const std::vector<cut_spec> cuts{{.name = "thin", .thickness = {20_mm, 20_mm}, .zone = {0_mm, 70_mm}},
                                     {.name = "thick", .thickness = {40_mm, 60_mm}, .portion = {100_g, 390_g}}};
    const auto found = most_portions(meat, cuts);
    REQUIRE(found.plan.portion_count() == 3);
    REQUIRE(found.limits.size() == 1); // of the thick one none can be cut anywhere
    REQUIRE(found.hints.size() == 1);
    CHECK(found.hints[0].spec == 1);
    CHECK_THAT(found.hints[0].text(), ContainsSubstring("thick: the lightest slab, 40 mm thick"));
}

TEST_CASE("a cut that the want leaves out is named, and nothing is said of plans that need nothing") {
    const profile meat = ten_grams_a_millimetre(400_mm);
    const std::vector<cut_spec> cuts{{.name = "steak", .thickness = {30_mm, 33_mm}},
                                     {.name = "end steak", .thickness = {15_mm, 40_mm}}};
    const auto found = most_portions(meat, cuts);
    CHECK(found.plan.portion_count() == 26);
    REQUIRE(found.hints.size() == 1);
    CHECK(found.hints[0].what == plan_hint::kind::left_out);
    CHECK(found.hints[0].spec == 0);
    CHECK(found.hints[0].text() == "steak: could be cut, but the best plan has none");
    CHECK(most_portions(meat, cuts[0]).hints.empty());
    CHECK(most_portions(meat, cuts, {}, {at_least(2, "steak")}).hints.empty());
    CHECK(most_portions(meat, {{.name = "steak", .thickness = {50_cm, 60_cm}}}).hints.empty()); // says why not instead
}

TEST_CASE("where a hint names loose meat, its cut can be cut there once the limit is moved") {
    std::size_t hinted = 0, without = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        dice d(seed + 920'000);
        const request r = random_request(d, 20, 120);
        const auto found = least_waste(r.meat, r.specs, r.rules);
        const auto named = std::find_if(found.hints.begin(), found.hints.end(),
                                        [](const plan_hint& hint) { return hint.what == plan_hint::kind::left_loose; });
        without += named == found.hints.end();
        if (named == found.hints.end()) continue;
        ++hinted;
        CAPTURE(seed, named->text());
        CHECK(named->text().find(r.specs[named->spec].name) != std::string::npos);
        // It is as heavy as a portion, and no slab of the cut lies inside of it.
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto at = std::find_if(found.plan.slabs.begin(), found.plan.slabs.end(),
                                     [&](const slab& s) { return s.start == named->at; });
        REQUIRE(at != found.plan.slabs.end());
        const std::size_t from = r.meat.nearest(at->start), to = r.meat.nearest(at->end());
        for (std::size_t a = from; a < to; ++a)
            for (std::size_t b = a + 1; b <= to; ++b)
                CHECK_FALSE(problem.allows(problem.loose_count() + named->spec, a, b));
    }
    CHECK(hinted > 20);
    CHECK(without > 100);
}

} // namespace plan_hint_test
