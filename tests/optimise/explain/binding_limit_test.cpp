// Requests that cannot be met: which limit binds, what its sentence says, and that the change it names helps.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace limits_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

using kind = binding_limit::kind;

// Invented: 80 % of 16 × 7 cm is 89.6 cm² of lean, 94.83 g of it a centimetre.
profile prism(length step = 1_mm) {
    return tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, step);
}

/// The one limit of a request that has no plan.
binding_limit only_limit(const profile& meat, const cut_spec& spec, const cutting_rules& rules = {}) {
    const tranche::planned planned = most_portions(meat, spec, rules);
    CHECK_FALSE(planned.feasible());
    CHECK(planned.proven_optimal());
    CHECK(planned.stop == stop_reason::no_portion_fits);
    REQUIRE(planned.limits.size() == 1);
    CHECK(planned.limits.front().spec == 0);
    CHECK(planned.why_not() == planned.limits.front().text());
    CHECK_THAT(planned.why_not(), StartsWith(spec.name + ": "));
    return planned.limits.front();
}

} // namespace

TEST_CASE("a slab too heavy for its portion says how heavy the lightest is") {
    const profile meat = prism();
    cut_spec steak{.name = "thick steak", .thickness = {38_mm, 45_mm}, .portion = {250_g, 300_g}};
    const binding_limit limit = only_limit(meat, steak);
    CHECK(limit.what == kind::too_heavy);
    CHECK_THAT(limit.nearest / gram, WithinAbs(360.4, 0.1)); // 3.8 cm of 94.83 g
    CHECK(limit.thickness / millimetre == Approx(38.0));
    CHECK_THAT(limit.text(),
               ContainsSubstring("360.4 g") && ContainsSubstring("300 g") && ContainsSubstring("2 pieces"));

    steak.portion.max = limit.nearest;
    CHECK(most_portions(meat, steak).feasible());
    steak.portion.max = limit.nearest - 1e-9 * kilogram; // a microgram less is not enough
    CHECK_FALSE(most_portions(meat, steak).feasible());
    steak.portion.max = 300_g;
    steak.pieces = 2; // the other change it names
    steak.portion.min = 150_g;
    CHECK(most_portions(meat, steak).feasible());
}

TEST_CASE("a slab too light for its portion says how heavy the heaviest is") {
    const profile meat = prism();
    cut_spec fillet{.name = "fillet", .thickness = {20_mm, 30_mm}, .portion = {150_g, 200_g}, .pieces = 2};
    const binding_limit limit = only_limit(meat, fillet);
    CHECK(limit.what == kind::too_light);
    CHECK_THAT(limit.nearest / gram, WithinAbs(142.2, 0.1)); // half of 3 cm of 94.83 g
    CHECK(limit.thickness / millimetre == Approx(30.0));
    CHECK_THAT(limit.text(), ContainsSubstring("142.2 g in 2 pieces") && ContainsSubstring("150 g"));

    fillet.portion.min = limit.nearest;
    CHECK(most_portions(meat, fillet).feasible());
    fillet.portion.min = limit.nearest + 1e-9 * kilogram;
    CHECK_FALSE(most_portions(meat, fillet).feasible());
}

TEST_CASE("weights between two positions of the grid say so and name the nearest") {
    const profile meat = prism(10_mm);
    cut_spec steak{.name = "steak", .thickness = {20_mm, 40_mm}, .portion = {300_g, 310_g}};
    const binding_limit limit = only_limit(meat, steak);
    CHECK(limit.what == kind::grid);
    CHECK_THAT(limit.nearest / gram, WithinAbs(284.5, 0.1)); // 3 cm; 4 cm give 379.3 g, further away
    CHECK_THAT(limit.text(), ContainsSubstring("a grid of 10 mm") && ContainsSubstring("284.4 g"));

    steak.portion.min = limit.nearest;
    CHECK(most_portions(meat, steak).feasible());
    steak.portion.min = 300_g;
    CHECK(most_portions(prism(1_mm), steak).feasible()); // the other change it names

    steak.portion = {300_g, 370_g};
    const binding_limit heavier = only_limit(meat, steak);
    CHECK(heavier.what == kind::grid);
    CHECK_THAT(heavier.text(), ContainsSubstring("379.4 g") && ContainsSubstring("370 g allowed"));
    steak.portion.max = heavier.nearest;
    CHECK(most_portions(meat, steak).feasible());
}

TEST_CASE("a slab thicker than the loin says how thick a slab has room") {
    const profile meat = prism();
    cut_spec roast{.name = "roast", .thickness = {25_cm, 30_cm}};
    const binding_limit limit = only_limit(meat, roast, {.facing = 5_mm});
    CHECK(limit.what == kind::room);
    CHECK(limit.thickness / millimetre == Approx(195.0));
    CHECK_THAT(limit.text(), ContainsSubstring("250 mm thick") && ContainsSubstring("5 mm") &&
                                 ContainsSubstring("sirloin face at 200 mm") &&
                                 ContainsSubstring("allow a cut 195 mm"));
    roast.thickness.min = limit.thickness;
    CHECK(most_portions(meat, roast, {.facing = 5_mm}).feasible());
}

TEST_CASE("a second muscle that leaves no room is named") {
    const measured_loin loin{.length = 20_cm,
                             .stations = {{.width = 16_cm, .depth = 7_cm}},
                             .gluteus_medius = {.onset = 3_cm, .share_at_end = 0.5}};
    const profile meat = tabulate(loin, 1_mm);
    cut_spec clean{.name = "clean steak", .thickness = {40_mm, 60_mm}, .gluteus_medius = no_gluteus_medius};
    const binding_limit limit = only_limit(meat, clean);
    CHECK(limit.what == kind::room);
    CHECK(limit.at / millimetre == Approx(30.0));
    CHECK(limit.thickness / millimetre == Approx(30.0));
    CHECK_THAT(limit.text(), ContainsSubstring("gluteus medius") && ContainsSubstring("allow a cut 30 mm thick"));
    clean.thickness.min = limit.thickness;
    CHECK(most_portions(meat, clean).feasible());

    // Behind a facing of 4 cm there is no face without it.
    const binding_limit none = only_limit(meat, clean, {.facing = 4_cm});
    CHECK(none.what == kind::room);
    CHECK(none.thickness == 0_mm);
    CHECK_THAT(none.text(), ContainsSubstring("allow more gluteus medius"));
    clean.gluteus_medius = any_gluteus_medius;
    CHECK(most_portions(meat, clean, {.facing = 4_cm}).feasible());
}

TEST_CASE("with several specs only those that cannot be cut anywhere have a limit") {
    const profile meat = prism();
    const std::vector<cut_spec> specs{{.name = "steak", .thickness = {25_mm, 30_mm}},
                                      {.name = "roast", .thickness = {25_cm, 30_cm}},
                                      {.name = "cutlet", .thickness = {10_mm, 20_mm}, .portion = {400_g, 500_g}}};
    const tranche::planned planned = most_portions(meat, specs);
    CHECK(planned.feasible());
    REQUIRE(planned.limits.size() == 2);
    CHECK(planned.limits[0].spec == 1);
    CHECK(planned.limits[1].spec == 2);
    CHECK_THAT(planned.why_not(), ContainsSubstring("roast: ") && ContainsSubstring("\ncutlet: "));
}

TEST_CASE("portions that are worth less than loose meat are possible but do not pay") {
    const profile meat = prism();
    price_list<usd> prices{.portions = {{"steak", {.by_weight = 3_usd / 1_kg}}}};
    prices.by_products[destination::grind] = 9_usd / 1_kg; // invented
    const tranche::planned planned = best_value(meat, {{.name = "steak", .thickness = {25_mm, 30_mm}}}, prices);
    CHECK(planned.stop == stop_reason::no_portion_pays);
    CHECK_FALSE(planned.feasible());
    CHECK(planned.proven_optimal());
    CHECK(planned.limits.empty());
    CHECK(planned.plan.portion_count() == 0);
    CHECK_THAT(planned.why_not(), ContainsSubstring("worth"));
}

TEST_CASE("the change that a binding limit names makes any request feasible") {
    std::size_t seen[4] = {}; // these requests have no remnant
    for (std::uint64_t seed = 0; seed < rounds(20'000); ++seed) {
        dice d(seed + 100'000);
        request r = random_request(d, 1, 40);
        if (!(r.rules.facing < r.meat.extent())) continue;
        r.specs.resize(1);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto limit = binding_limit_of(problem, 0);
        const auto plan = [&] { return most_portions(r.meat, r.specs, r.rules); };
        CAPTURE(seed, limit ? limit->text() : "");
        if (plan().feasible() != !limit) CHECK(plan().feasible() == !limit);
        if (!limit) continue;
        ++seen[static_cast<std::size_t>(limit->what)];

        cut_spec& spec = r.specs[0];
        bool helps = true;
        if (problem.start() == problem.cells()) {
            CHECK_THAT(limit->text(), ContainsSubstring("facing"));
        } else if (limit->what == kind::room && limit->thickness > length{}) {
            const bool thinner = limit->thickness < spec.thickness.min;
            (thinner ? spec.thickness.min : spec.thickness.max) = limit->thickness;
            const auto next = binding_limit_of(cutting_problem(r.meat, r.specs, r.rules), 0);
            helps = !next || next->what != kind::room; // the weights may still bind
            CHECK((thinner || limit->text().find("finer grid") != std::string::npos));
        } else if (limit->what == kind::room) {
            spec.gluteus_medius = any_gluteus_medius;
            const auto next = binding_limit_of(cutting_problem(r.meat, r.specs, r.rules), 0);
            helps = !next || next->what != kind::room || next->thickness > length{};
        } else if (limit->nearest > spec.portion.max) {
            spec.portion.max = limit->nearest;
            helps = plan().feasible();
        } else {
            spec.portion.min = limit->nearest;
            helps = plan().feasible();
        }
        if (!helps) CHECK(helps);
    }
    for (const std::size_t count : seen) CHECK(count > 10);
}

TEST_CASE("the weight in the sentence is enough when it is allowed as written") {
    const profile meat = prism();
    for (int tenths = 200; tenths < 400; ++tenths) {
        cut_spec steak{.name = "steak", .thickness = {0.1 * tenths * 1_mm, 45_mm}, .portion = {1_g, 2_g}};
        const auto heavy = binding_limit_of(cutting_problem(meat, {steak}, {}), 0);
        REQUIRE(heavy.has_value());
        const auto stated = [](const std::string& text) {
            const std::string gives = "gives ";
            return std::stod(text.substr(text.find(gives) + gives.size())) * gram;
        };
        steak.portion.max = stated(heavy->text());
        CHECK(most_portions(meat, steak).feasible());

        steak.thickness = {10_mm, 0.1 * tenths * 1_mm};
        steak.portion = {900_g, 901_g};
        const auto light = binding_limit_of(cutting_problem(meat, {steak}, {}), 0);
        REQUIRE(light.has_value());
        steak.portion.min = stated(light->text());
        CHECK(most_portions(meat, steak).feasible());
    }
}

TEST_CASE("a zone without room, and notches that miss the weights, are named") {
    const profile meat =
        tabulate(prism_loin{.length = 40_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm); // invented
    cut_spec steak{.name = "steak", .thickness = {20_mm, 40_mm}, .zone = {10_cm, 11_cm}};
    const planned nowhere = most_portions(meat, steak);
    CHECK(nowhere.stop == stop_reason::no_portion_fits);
    CHECK(nowhere.why_not() == "steak: there is no stretch 20 mm thick in its zone, from 100 mm to 110 mm from the rib "
                               "face; allow a wider zone, "
                               "or a cut 10 mm thick");
    steak.zone.max = 12_cm; // as wide as the steak is thick
    CHECK(most_portions(meat, steak).feasible());

    // 20, 30 and 40 mm: what 25 mm weigh is between notches.
    const mass of_25_mm = to_mass(meat.total()) * (25.0 / 400.0);
    cut_spec notched{.name = "notched",
                     .thickness = {20_mm, 40_mm},
                     .portion = {0.9 * of_25_mm, 1.1 * of_25_mm},
                     .thickness_step = 10_mm};
    const planned between = most_portions(meat, notched);
    CHECK(between.stop == stop_reason::no_portion_fits);
    REQUIRE(between.limits.size() == 1);
    CHECK(between.limits.front().what == binding_limit::kind::grid);
    notched.portion.max = 1.21 * of_25_mm; // 30 mm, a tenth of a per cent above 1.2 for rounding
    CHECK(most_portions(meat, notched).feasible());
    notched.thickness_step = 0.7_mm;
    CHECK_THROWS_AS(most_portions(meat, notched), invalid_input); // no multiple of the grid
}

TEST_CASE("with notches the slab that is named is the nearest of all that the slicer can cut") {
    const taped_readings thick{.width = 20_cm, .depth = 8_cm}, thin{.width = 12_cm, .depth = 5_cm}; // invented
    for (const bool falls : {true, false})
        for (const bool heavy : {true, false}) {
            CAPTURE(falls, heavy);
            const profile meat = tabulate(
                tapered_loin{.length = 40_cm, .rib = falls ? thick : thin, .sirloin = falls ? thin : thick}, 1_mm);
            // Nothing is left out: every position, and the three notches.
            mass best = heavy ? unlimited<mass>() : mass{};
            for (const std::size_t cells : {20U, 30U, 40U})
                for (std::size_t from = 0; from + cells <= meat.cells(); ++from) {
                    const mass m = to_mass(meat.between(from, from + cells));
                    best = heavy ? std::min(best, m) : std::max(best, m);
                }
            cut_spec notched{.name = "notched", .thickness = {20_mm, 40_mm}, .thickness_step = 10_mm};
            notched.portion = heavy ? quantity_range<mass>{0_g, 0.9 * best} : quantity_range<mass>{1.1 * best, 9_kg};
            const binding_limit limit = only_limit(meat, notched);
            CHECK(limit.what == (heavy ? kind::too_heavy : kind::too_light));
            CHECK(limit.nearest == best);
            CHECK_THAT(limit.thickness / millimetre, WithinAbs(heavy ? 20.0 : 40.0, 1e-9));
            // The lightest at the thin end, the heaviest at the thick one.
            const double at_sirloin = heavy ? 380.0 : 360.0;
            CHECK_THAT(limit.at / millimetre, WithinAbs(heavy == falls ? at_sirloin : 0.0, 1e-9));
            notched.portion = heavy ? quantity_range<mass>{0_g, best} : quantity_range<mass>{best, 9_kg};
            CHECK(most_portions(meat, notched).feasible());
        }
}

TEST_CASE("of a zone and a second muscle the one that binds is named") {
    // No muscle in front of 300 mm, some of it behind.
    const profile meat = tabulate(measured_loin{.length = 40_cm,
                                                .stations = {{.width = 16_cm, .depth = 7_cm}},
                                                .gluteus_medius = {.onset = 30_cm, .share_at_end = 0.5}},
                                  1_mm); // invented
    const auto said = [&](const cut_spec& cut) {
        const binding_limit limit = only_limit(meat, cut);
        CHECK(limit.what == kind::room);
        return limit.text();
    };
    const auto wanting = [](const tranche::quantity_range<tranche::length>& zone,
                            const tranche::quantity_range<tranche::length>& thick = 40_mm) {
        return cut_spec{.name = "steak", .thickness = thick, .gluteus_medius = no_gluteus_medius, .zone = zone};
    };
    // A zone that the muscle does not reach: only the zone is too narrow.
    CHECK(said(wanting({10_cm, 13_cm})) ==
          "steak: there is no stretch 40 mm thick in its zone, from 100 mm to 130 mm from "
          "the rib face; allow a wider zone, or a cut 30 mm thick");
    CHECK(most_portions(meat, wanting({10_cm, 14_cm})).feasible());
    CHECK(most_portions(meat, wanting({10_cm, 13_cm}, 30_mm)).feasible());
    // A zone that is wide enough and begins just in front of the muscle: a zone that begins earlier would do as well.
    cut_spec both = wanting({27_cm, 35_cm});
    CHECK(said(both) ==
          "steak: there is no stretch 40 mm thick in its zone, from 270 mm to 350 mm from the rib face, that "
          "lies in front of where the gluteus medius is no longer tolerated, 300 mm; allow a wider zone or "
          "more gluteus medius, or a cut 30 mm thick");
    both.gluteus_medius = any_gluteus_medius;
    CHECK(most_portions(meat, both).feasible());
    CHECK(most_portions(meat, wanting({26_cm, 35_cm})).feasible());
    // The muscle leaves 300 mm, so a cut of 320 mm needs more of it whatever its zone.
    cut_spec muscle = wanting({1_cm, 40_cm}, 32_cm);
    CHECK(said(muscle) ==
          "steak: there is no stretch 320 mm thick behind 10 mm and in front of where the gluteus medius is no "
          "longer tolerated, 300 mm; allow more gluteus medius, or a cut 290 mm thick");
    muscle.zone = {};
    CHECK_FALSE(most_portions(meat, muscle).feasible());
    muscle.zone = {1_cm, 40_cm};
    muscle.gluteus_medius = any_gluteus_medius;
    CHECK(most_portions(meat, muscle).feasible());
    // Neither alone is enough.
    cut_spec neither = wanting({15_cm, 40_cm}, 32_cm);
    CHECK_THAT(said(neither),
               ContainsSubstring("in its zone, from 150 mm to 400 mm from the rib face, nor in front of") &&
                   ContainsSubstring("allow a wider zone and more gluteus medius, or a cut 150 mm thick"));
    neither.zone = {};
    CHECK_FALSE(most_portions(meat, neither).feasible());
    neither.gluteus_medius = any_gluteus_medius;
    CHECK(most_portions(meat, neither).feasible());
    // Nor does anything help a cut that is thicker than the loin.
    CHECK_THAT(said(wanting({15_cm, 40_cm}, 41_cm)), ContainsSubstring("allow a thinner cut"));
}

TEST_CASE("a least remnant that leaves no portion is named with the largest one that does") {
    const profile meat = prism(); // 200 mm, 94.83 g a centimetre
    const cut_spec steak{
        .name = "steak", .thickness = {25_mm, 35_mm}, .portion = {250_g, 400_g}, .zone = {0_mm, 19_cm}};
    // 250 g are 26.4 mm, so 27 mm: behind the first slab, and behind a facing of 5 mm, there are 168 mm.
    cutting_rules rules{.facing = 5_mm, .remnant = {.thickness = 17_cm}};
    const binding_limit thick = only_limit(meat, steak, rules);
    CHECK(thick.what == kind::remnant);
    CHECK(thick.at / millimetre == Approx(32.0));
    CHECK(thick.thickness / millimetre == Approx(168.0));
    CHECK(thick.text() ==
          "steak: beside a portion at most 168 mm would be left up to the sirloin face, less than the least "
          "remnant of 170 mm; allow that");
    rules.remnant.thickness = thick.thickness;
    CHECK(most_portions(meat, steak, rules).feasible());
    rules.remnant.thickness = thick.thickness + 0.01_mm;
    CHECK_FALSE(most_portions(meat, steak, rules).feasible());

    rules.remnant = {.weight = 1.8_kg};
    const binding_limit heavy = only_limit(meat, steak, rules);
    CHECK(heavy.what == kind::remnant);
    CHECK_THAT(heavy.nearest / gram, WithinAbs(1593.2, 0.1)); // 168 mm
    CHECK_THAT(heavy.text(),
               ContainsSubstring("at most 1593.1 g would be left") && ContainsSubstring("remnant of 1800 g"));
    rules.remnant.weight = heavy.nearest;
    CHECK(most_portions(meat, steak, rules).feasible());
    rules.remnant.weight = heavy.nearest + 1e-9 * kilogram;
    CHECK_FALSE(most_portions(meat, steak, rules).feasible());

    rules.remnant = {.thickness = 19_cm, .weight = 1.8_kg};
    CHECK_THAT(only_limit(meat, steak, rules).text(), ContainsSubstring("at most 168 mm and 1593.1 g would be left"));

    // A cut that may reach the sirloin face leaves no remnant at all.
    cut_spec anywhere = steak;
    anywhere.name = "end steak";
    anywhere.zone = {};
    CHECK(most_portions(meat, anywhere, rules).feasible());
    // So it opens the way for one that may not.
    const planned beside = most_portions(meat, {steak, anywhere}, rules);
    CHECK(beside.feasible());
    CHECK(beside.limits.empty());
}

TEST_CASE("a remnant is to blame just where no tiling with a portion keeps it, and the one named is the largest") {
    std::size_t blamed = 0, feasible = 0;
    for (std::uint64_t seed = 0; seed < rounds(4'000); ++seed) {
        dice d(seed + 140'000);
        request r = random_request(d, 1, 30);
        if (!(r.rules.facing < r.meat.extent())) continue;
        add_limits(d, r);
        r.rules.remnant.thickness = d.between(0.0, 1.2) * r.meat.extent();
        const auto planned = [&] { return most_portions(r.meat, r.specs, r.rules); };
        const tranche::planned now = planned();
        CAPTURE(seed, now.why_not());
        if (now.feasible() == (now.limits.size() == r.specs.size())) CHECK(now.feasible());
        if (now.stop == stop_reason::no_portion_pays) CHECK(now.stop == stop_reason::no_portion_fits);
        feasible += now.feasible();
        if (now.feasible()) continue;
        for (const binding_limit& limit : now.limits) {
            if (limit.what != kind::remnant) continue;
            ++blamed;
            const least_remnant asked = r.rules.remnant;
            r.rules.remnant = {.thickness = std::min(asked.thickness, limit.thickness),
                               .weight = std::min(asked.weight, limit.nearest)};
            const bool helps = planned().feasible();
            if (!helps) CHECK(helps);
            const auto still_bound = [&] {
                return binding_limit_of(cutting_problem(r.meat, r.specs, r.rules), limit.spec).has_value();
            };
            const length thicker = limit.thickness + 0.01 * r.meat.step();
            const mass heavier = limit.nearest + 1e-9 * kilogram;
            r.rules.remnant = {.thickness = thicker};
            if (thicker <= asked.thickness && !still_bound()) CHECK(still_bound());
            r.rules.remnant = {.weight = heavier};
            if (heavier <= asked.weight && !still_bound()) CHECK(still_bound());
            r.rules.remnant = asked;
        }
    }
    CHECK(blamed > 50);
    CHECK(feasible > 50);
}

} // namespace limits_test
