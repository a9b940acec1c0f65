// Rules on where loose meat may lie, and a remnant that is required, against every tiling of small loins.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace loose_places_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Small, with rules on loose meat; pinned cuts and other limits in turn.
request with_rules(dice& d, std::uint64_t seed) {
    return few_tilings(d, 3.0, [&](request& r) {
        add_loose_rules(d, r);
        if (seed % 3 == 0) add_limits(d, r);
        if (seed % 4 == 0) add_places(d, r);
        if (seed % 2 == 0) add_links(d, r);
    });
}

/// 100 cm² of eye at 1 g/cm³, so that a millimetre weighs 10 g.
profile ten_grams_a_millimetre(length extent) {
    tissue_densities dense = densities_at_4_celsius();
    dense[tissue::eye] = 1000.0 * kilogram_per_cubic_metre;
    const prism_loin loin{.length = extent, .face = {.width = 10_cm, .depth = 10_cm}, .shape = {.fill = 1.0}};
    return tabulate(loin, 0.5_mm, dense);
}

} // namespace

TEST_CASE("what rules say of the place of a slab of loose meat is what enumeration says") {
    std::size_t restricted = 0;
    for (std::uint64_t seed = 0; seed < rounds(300, many_instances); ++seed) {
        dice d(seed + 860'000);
        const request r = with_rules(d, seed);
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        restricted += !problem.graph().loose_everywhere;
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            for (std::size_t from = problem.start(); from < problem.cells(); ++from)
                for (std::size_t to = from + 1; to <= problem.cells(); ++to)
                    if (problem.allows(o, from, to) != all.allowed(o, from, to)) {
                        CAPTURE(o, from, to);
                        CHECK(problem.allows(o, from, to) == all.allowed(o, from, to));
                    }
    }
    CHECK(restricted > 50);
}

TEST_CASE("plans under rules on loose meat equal the best of all tilings, with demands too") {
    std::size_t costs = 0, none = 0, met = 0, missed = 0;
    for (std::uint64_t seed = 0; seed < rounds(300, many_instances); ++seed) {
        dice d(seed + 870'000);
        const request r = with_rules(d, seed);
        const std::vector<demand> demands = hard_demands(d, r, 0);
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        request free = r;
        for (loose_cut& loose : free.rules.loose) loose.place = loose_place::anywhere, loose.zone = {};
        const cutting_problem anywhere(free.meat, free.specs, free.rules);
        CAPTURE(seed, problem.cells());
        const auto check = [&](const auto& objective) {
            const auto best = nearest_to(all, r, objective, {});
            REQUIRE(best);
            const auto found = best_path(problem, objective);
            CHECK(found.score == best->second);
            CHECK(verify(lay_out(r.meat, r.specs, r.rules, found.stretches), r.meat, r.specs, r.rules) ==
                  std::vector<std::string>{});
            const auto nearest = nearest_to(all, r, objective, demands);
            const auto asked = best_path_with_demand(problem, objective, demands);
            CHECK((asked.outcome == demand_outcome::met) == (nearest->first == 0));
            CHECK(asked.score == nearest->second);
            CHECK(detail::portions_missing(problem, demands, asked.stretches) == -nearest->first);
            CHECK(verify(lay_out(r.meat, r.specs, r.rules, asked.stretches), r.meat, r.specs, r.rules).empty());
            ++(nearest->first == 0 ? met : missed);
            const auto beyond = best_path_with_demand(problem, objective, demands, {.most_entries = 0, .rounds = 40});
            CHECK(verify(lay_out(r.meat, r.specs, r.rules, beyond.stretches), r.meat, r.specs, r.rules).empty());
            if (nearest->first == 0) CHECK_FALSE(beyond.bound < nearest->second);
        };
        check(kept_mass_objective::portions_then_mass(problem));
        check(kept_mass_objective::mass_then_portions(problem));
        check(odd_thickness{&problem});
        const auto planned = most_portions(r.meat, r.specs, r.rules);
        none += !planned.feasible();
        costs += planned.score() < most_portions(free.meat, free.specs, free.rules).score();
    }
    CHECK(costs > 10);
    CHECK(none > 30);
    CHECK(met > 100);
    CHECK(missed > 100);
}

TEST_CASE("equal portions and the fewest settings keep the rules on loose meat") {
    std::size_t even = 0;
    for (std::uint64_t seed = 0; seed < rounds(120, many_instances); ++seed) {
        dice d(seed + 880'000);
        const request r = with_rules(d, seed);
        const small_request all(r);
        CAPTURE(seed);
        const auto planned = even_portions(r.meat, r.specs, r.rules);
        CHECK(verify(planned.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
        std::optional<std::int64_t> least; // spread of the portions, of all tilings with as many
        all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
            if (!all.go_together(slabs)) return;
            std::size_t count = 0;
            std::int64_t lightest = std::numeric_limits<std::int64_t>::max(), heaviest = 0;
            for (const auto& s : slabs) {
                if (!all.is_portion(s.option)) continue;
                const std::int64_t pieces = all.spec(s.option).pieces;
                const std::int64_t weight = all.masses(s.option, s.from, s.to).weight();
                count += static_cast<std::size_t>(pieces);
                lightest = std::min(lightest, weight / pieces);
                heaviest = std::max(heaviest, (weight + pieces - 1) / pieces);
            }
            if (count == planned.plan.portion_count() && count > 0 && (!least || heaviest - lightest < *least))
                least = heaviest - lightest;
        });
        if (planned.feasible()) {
            REQUIRE(least);
            CHECK(-planned.score() == static_cast<double>(*least));
            ++even;
        }
        const auto few = fewest_settings(r.meat, r.specs, r.rules);
        CHECK(verify(few.planned.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
        CHECK(few.planned.plan.portion_count() == most_portions(r.meat, r.specs, r.rules).plan.portion_count());
    }
    CHECK(even > 60);
}

TEST_CASE("a limit binds a cut exactly where no tiling has it, and the limit that is named is in the way") {
    std::size_t free = 0, by_rule[3] = {};
    for (std::uint64_t seed = 0; seed < rounds(400, many_instances); ++seed) {
        dice d(seed + 890'000);
        request r = few_tilings(d, 1.0, [&](request& it) {
            if (seed % 4 != 0) add_loose_rules(d, it);
            if (seed % 3 == 0) add_limits(d, it);
            if (seed % 4 == 1) add_places(d, it);
        });
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        std::vector<bool> there(r.specs.size());
        all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
            for (const auto& s : slabs)
                if (all.is_portion(s.option)) there[s.option - r.rules.loose.size()] = true;
        });
        CAPTURE(seed);
        for (std::size_t spec = 0; spec < r.specs.size(); ++spec) {
            CAPTURE(spec);
            const auto limit = binding_limit_of(problem, spec);
            CHECK(limit.has_value() == !there[spec]);
            if (!limit) {
                ++free;
                continue;
            }
            CHECK(limit->text().find(r.specs[spec].name) == 0);
            cutting_rules without = r.rules;
            using kind = binding_limit::kind;
            if (limit->what == kind::remnant) without.remnant = {};
            if (limit->what == kind::loose || limit->what == kind::places) {
                for (loose_cut& loose : without.loose) loose.place = loose_place::anywhere, loose.zone = {};
                if (problem.places().any()) without.remnant = {};
            }
            if (limit->what == kind::places) without.cut_at.clear(), without.kept_whole.clear();
            const bool rule = limit->what == kind::remnant || limit->what == kind::loose || limit->what == kind::places;
            const cutting_problem others(r.meat, r.specs, without);
            if (limit->what == kind::loose && binding_limit_of(others, spec)) without.remnant = {};
            CHECK(binding_limit_of(cutting_problem(r.meat, r.specs, without), spec).has_value() == !rule);
            by_rule[0] += limit->what == kind::remnant;
            by_rule[1] += limit->what == kind::loose;
            by_rule[2] += limit->what == kind::places;
        }
    }
    CHECK(free > 100);
    CHECK(by_rule[0] > 3);
    CHECK(by_rule[1] > 5);
    CHECK(by_rule[2] > 3);
}

TEST_CASE("loose meat can be forbidden, kept to the ends or given a place, and a remnant can be asked for") {
    // 400 mm in steaks of 30 to 33 mm; 20 mm of facing.
    const profile meat = ten_grams_a_millimetre(400_mm);
    const cut_spec steak{.name = "steak", .thickness = {30_mm, 33_mm}};
    cutting_rules rules{.facing = 20_mm};
    const auto loose_slabs = [&](const cutting_plan& p) {
        std::vector<slab> found;
        for (const slab& s : p.slabs)
            if (s.kind == slab_kind::loose || s.kind == slab_kind::end) found.push_back(s);
        return found;
    };
    rules.loose[0].place = loose_place::nowhere;
    const auto all = most_portions(meat, steak, rules);
    CHECK(all.plan.portion_count() == 12);
    CHECK(loose_slabs(all.plan).empty());

    rules.loose[0].place = loose_place::ends;
    const cut_spec zoned{.name = "steak", .thickness = {30_mm, 33_mm}, .zone = {10_cm, 30_cm}};
    const auto ends = most_portions(meat, zoned, rules);
    CHECK(ends.plan.portion_count() == 6);
    REQUIRE(loose_slabs(ends.plan).size() == 2);
    CHECK(loose_slabs(ends.plan)[1].kind == slab_kind::end);

    rules.loose[0] = {.zone = {0_mm, 40_mm}};
    rules.remnant = {.thickness = 25_mm, .required = true};
    const auto none = most_portions(meat, steak, rules);
    CHECK_FALSE(none.feasible());
    CHECK(none.stop == stop_reason::no_portion_fits);
    CHECK_THAT(none.why_not(), StartsWith("steak: no portions fill what must not be loose beside it; loose meat for "
                                          "grind may lie from 0 mm to 40 mm only; allow a wider zone"));
    const auto helps = nearest_feasible(meat, {steak, rules, {}}, most_portions(), {.thickness = 1_mm});
    REQUIRE(helps.size() >= 2);
    CHECK(std::any_of(helps.begin(), helps.end(), [](const limit_change& change) {
        return change.which.what == request_limit::kind::remnant_required &&
               change.text.find("whole loin: a remnant at all not asked for instead of asked for gives 12") == 0;
    }));
    const auto wider = std::find_if(helps.begin(), helps.end(), [](const limit_change& change) {
        return change.which.what == request_limit::kind::loose_zone_to;
    });
    REQUIRE(wider != helps.end());
    CHECK(std::get<length>(wider->to) / millimetre == Approx(400.0)); // up to the sirloin face

    rules.loose[0] = {};
    const auto left = most_portions(meat, steak, rules);
    CHECK(left.plan.portion_count() == 11);
    CHECK(left.plan.slabs.back().kind == slab_kind::end);
    CHECK(left.plan.slabs.back().thickness >= 25_mm);
    CHECK(most_portions(meat, steak, {.facing = 20_mm}).plan.portion_count() == 12);
}

TEST_CASE("a plan that breaks a rule on loose meat is a fault") {
    const profile meat = ten_grams_a_millimetre(200_mm);
    const cut_spec steak{.name = "steak", .thickness = {30_mm, 33_mm}};
    const std::vector<grid_slab> slabs{{0, 60, slab_kind::portions, 0},
                                       {60, 100, slab_kind::loose, 0},
                                       {100, 160, slab_kind::portions, 0},
                                       {160, 400, slab_kind::loose, 0}};
    const auto fault = [&](const loose_cut& loose, const least_remnant& remnant = {},
                           std::vector<grid_slab> stretches = {}) {
        const cutting_rules rules{.loose = {loose}, .remnant = remnant};
        const auto plan = lay_out(meat, {steak}, rules, stretches.empty() ? slabs : stretches);
        const auto faults = verify(plan, meat, steak, rules);
        return faults.empty() ? std::string("none") : faults.front();
    };
    CHECK(fault({}) == "none");
    CHECK(fault({.place = loose_place::ends}) == "slab 2: loose meat between portions");
    CHECK(fault({.place = loose_place::nowhere}) == "slab 2: loose meat, and none is allowed");
    CHECK(fault({.zone = {31_mm, 20_cm}}) == "slab 2: loose meat outside its zone");
    CHECK(fault({.zone = {30_mm, 20_cm}}) == "none");
    CHECK(fault({.zone = {30_mm, 199_mm}}) == "slab 4: loose meat outside its zone");
    CHECK(fault({.place = loose_place::nowhere}, {}, {{0, 400, slab_kind::loose, 0}}) == "none");
    CHECK(fault({}, {.required = true}) == "none");
    CHECK(fault({}, {.required = true}, {{0, 340, slab_kind::loose, 0}, {340, 400, slab_kind::portions, 0}}) ==
          "plan: nothing is left at the sirloin end");
    CHECK_THROWS_WITH(most_portions(meat, steak, {.loose = {{.zone = {5_cm, 4_cm}}}}), StartsWith("loose[0].zone"));
}

} // namespace loose_places_oracle
