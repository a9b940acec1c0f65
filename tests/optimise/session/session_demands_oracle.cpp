// Demands of a session that cannot be met: what can be kept is kept, by the plans of all tilings, and the right cut is named.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace session_demands_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const auto most = [](const cutting_problem& problem) { return kept_mass_objective::portions_then_mass(problem); };

/// 100 cm² of eye at 1 g/cm³, so that a millimetre weighs 10 g.
profile ten_grams_a_millimetre(length extent) {
    tissue_densities dense = densities_at_4_celsius();
    dense[tissue::eye] = 1000.0 * kilogram_per_cubic_metre;
    const prism_loin loin{.length = extent, .face = {.width = 10_cm, .depth = 10_cm}, .shape = {.fill = 1.0}};
    return tabulate(loin, 0.5_mm, dense);
}

template <class Session>
std::int64_t to_come(const Session& s, std::size_t spec) {
    return detail::portions_in(s.plan_of_rest(), s.specs(), spec);
}

} // namespace

TEST_CASE(
    "a session whose demands cannot be met lacks the fewest portions of all tilings, at its start and to its end") {
    std::size_t missed = 0, idle_in_front = 0, followed = 0;
    for (std::uint64_t seed = 0; seed < rounds(200, many_instances); ++seed) {
        dice d(seed + 850'000);
        request r = few_tilings(d);
        if (seed % 2 == 0) add_links(d, r);
        if (seed % 4 == 0) add_idle_cut(d, r);
        for (loose_cut& loose : r.rules.loose) loose.least_thickness = length{};
        for (cut_spec& spec : r.specs) spec.portion = {}; // at its very limits a slab may be found a hair too light
        const small_request all(r);
        if (all.tilings() > 2e4) continue;
        const std::vector<demand> demands = hard_demands(d, r, seed % 4 == 0 ? 1 : 0);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        const auto best = nearest_to(all, r, kept_mass_objective::portions_then_mass(problem), demands);
        REQUIRE(best); // a tiling without portions is above no cap
        cutting_session s(r.meat, {r.specs, r.rules, demands}, most, {.ruler = 0_mm, .scale = 0_g, .single_slab = 0.0});
        const auto missing = [&] {
            std::int64_t sum = 0;
            for (const demand_shortfall& one : s.shortfalls()) {
                CHECK(one.possible < one.wanted); // and never more than is allowed
                sum += one.wanted - one.possible;
            }
            return sum;
        };
        CHECK(detail::portions_missing(problem, demands, {s.plan_of_rest().begin(), s.plan_of_rest().end()}) ==
              -best->first);
        CHECK(missing() == -best->first);
        missed += best->first < 0;
        idle_in_front += best->first < 0 && seed % 4 == 0;
        if (!r.rules.order.empty()) continue; // what is cut may rule out another plan as near
        while (s.next()) {
            const next_cut advised = *s.next();
            const auto at = [&](length x) { return detail::profile_place::of(r.meat, x).in(r.meat.cumulative()); };
            s.record({.weight = std::max(to_mass({at(advised.start + advised.thickness) - at(advised.start)}),
                                         1e-9 * kilogram),
                      .thickness = advised.last ? std::nullopt : std::optional<length>(advised.thickness)});
            CHECK(missing() == -best->first);
            ++followed;
        }
    }
    CHECK(missed > 80);
    CHECK(idle_in_front > 20);
    CHECK(followed > 200);
}

TEST_CASE("of fourteen steaks asked for and ten possible a session plans ten, and of others no more than allowed") {
    const profile meat = ten_grams_a_millimetre(40_cm); // ten of 14 oz, 396.9 g, are 39.7 mm thick each
    const cut_spec steak{.name = "steak", .thickness = {30_mm, 50_mm}, .portion = {14_oz, 15_oz}},
        fillet{.name = "fillet", .thickness = {20_mm, 30_mm}, .portion = {200_g, 300_g}},
        idle{.name = "idle", .thickness = {20_mm, 30_mm}, .one_thickness = true};
    cutting_session s(meat, {{idle, steak, fillet}, {}, {at_least(14, "steak"), at_most(4, "fillet")}}, most);
    CHECK(to_come(s, 1) == 10);
    auto missed = s.shortfalls();
    REQUIRE(missed.size() == 1);
    CHECK(missed[0].spec == 1);
    CHECK(missed[0].wanted == 14);
    CHECK(missed[0].possible == 10);
    CHECK_THAT(missed[0].text, StartsWith("steak: "));

    // With one that slipped nine are left at the most, and what is over goes to no more than four fillets.
    s.record({.weight = 500_g, .thickness = 50_mm});
    CHECK(s.slabs()[0].to_do == remedy::trim_down);
    CHECK(to_come(s, 1) == 8); // 350 mm
    CHECK(to_come(s, 2) <= 4);
    missed = s.shortfalls();
    REQUIRE(missed.size() == 1);
    CHECK(missed[0].wanted == 13);
    CHECK(missed[0].possible == 8);
}

TEST_CASE("a cut of which too few can be had takes nothing from the other demands") {
    const profile meat = ten_grams_a_millimetre(40_cm);
    // Room for two even ones at the sirloin end, whatever becomes of the rest.
    const cut_spec thin{.name = "thin", .thickness = {25_mm, 27_mm}},
        even{.name = "even", .thickness = {30_mm, 33_mm}, .zone = {33_cm, 40_cm}, .one_thickness = true},
        other{.name = "other", .thickness = {20_mm, 24_mm}};
    const std::vector<demand> demands{at_least(2, "thin"), at_least(5, "even"), at_most(1, "other")};
    cutting_session s(meat, {{thin, even, other}, {}, demands}, most);
    CHECK(to_come(s, 0) >= 2);
    CHECK(to_come(s, 1) == 2);
    CHECK(to_come(s, 2) <= 1);
    CHECK(s.portions_to_come() == 15); // 12 thin ones and one other in 340 mm
    const auto missed = s.shortfalls();
    REQUIRE(missed.size() == 1);
    CHECK(missed[0].spec == 1);
    CHECK(missed[0].wanted == 5);
    CHECK(missed[0].possible == 2);
}

} // namespace session_demands_oracle
