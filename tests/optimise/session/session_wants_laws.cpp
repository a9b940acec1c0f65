// Sessions of ways to plan that no sum over slabs can say: equal portions, the fewest settings, a choice from a front.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <set>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/front.hpp>
#include <tranche/optimise/plans/polish_even.hpp>
#include <tranche/optimise/plans/settings_want.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/units/literals.hpp>

#include "loin/samples.hpp"
#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace session_wants_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

mass weight_of(const profile& meat, length from, length thick) {
    const auto in_front = [&](length at) { return detail::profile_place::of(meat, at).in(meat.cumulative()); };
    return std::max(to_mass({in_front(from + thick) - in_front(from)}), 1e-9 * kilogram);
}
/// Readings without noise.
constexpr cutting_spreads exact{.ruler = 0.0 * metre, .scale = 0.0 * kilogram, .single_slab = 0.0};

template <class Session>
void follow(Session& s) {
    const next_cut advised = *s.next();
    s.record({.weight = weight_of(s.meat(), advised.start, advised.thickness),
              .thickness = advised.last ? std::nullopt : std::optional<length>(advised.thickness)});
}

request free_of_weights(dice& d) {
    request r = few_tilings(d);
    for (loose_cut& loose : r.rules.loose) loose.least_thickness = length{};
    for (cut_spec& spec : r.specs) spec.portion = {}; // at its very limits a slab may be found a hair too light
    return r;
}

struct weights {
    std::int64_t lightest = std::numeric_limits<std::int64_t>::max(), heaviest = 0, count = 0;
    void add(std::int64_t weight, std::int64_t pieces) {
        lightest = std::min(lightest, weight / pieces);
        heaviest = std::max(heaviest, (weight + pieces - 1) / pieces);
        count += pieces;
    }
};

/// 100 cm² of eye at 1 g/cm³, so that a millimetre weighs 10 g.
profile ten_grams_a_millimetre(length extent) {
    tissue_densities dense = densities_at_4_celsius();
    dense[tissue::eye] = 1000.0 * kilogram_per_cubic_metre;
    const prism_loin loin{.length = extent, .face = {.width = 10_cm, .depth = 10_cm}, .shape = {.fill = 1.0}};
    return tabulate(loin, 0.5_mm, dense);
}

} // namespace

TEST_CASE(
    "a session of equal portions starts with their plan, and its rest is as equal to what is cut as any tiling is") {
    std::size_t rests = 0, linked = 0;
    for (std::uint64_t seed = 0; seed < rounds(80, many_instances); ++seed) {
        CAPTURE(seed);
        dice d(seed + 900'000);
        request r = free_of_weights(d);
        if (seed % 3 == 0) add_links(d, r);
        const small_request all(r);
        if (all.tilings() > 4e3) continue;
        cutting_session s(r.meat, {r.specs, r.rules, {}}, even_portions(), exact);
        const planned first = even_portions(r.meat, r.specs, r.rules);
        CHECK(s.portions_to_come() == first.plan.portion_count());
        const auto total = static_cast<std::int64_t>(first.plan.portion_count());
        if (total == 0) continue;
        cutting_session fixed(r.meat, {r.specs, r.rules, {}}, even_portions(total), exact);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto spread_of = [&](const weights& w) { return w.heaviest - w.lightest; };
        for (std::size_t slabs = 0; fixed.next() && slabs < 6; ++slabs) {
            weights planned; // those cut and those to come, as the profile has them
            for (const actual_slab& cut : fixed.slabs())
                if (cut.kind == slab_kind::portions)
                    planned.add(std::llround(cut.portion.value() * 1e9) * r.specs[cut.option].pieces,
                                r.specs[cut.option].pieces);
            for (const grid_slab& slab : fixed.plan_of_rest())
                if (slab.kind == slab_kind::portions)
                    planned.add(problem.weight(problem.loose_count() + slab.option, slab.from, slab.to),
                                r.specs[slab.option].pieces);
            CHECK(planned.count == total);
            CHECK(fixed.shortfalls().empty());
            // Followed exactly, it stays as even as the first plan was: weights are found to some micrograms.
            CHECK(std::abs(static_cast<double>(spread_of(planned)) + first.score()) < 1e3);
            ++rests;
            linked += problem.links_slabs();
            follow(fixed);
        }
    }
    CHECK(rests > 120);
    CHECK(linked > 10);
}

TEST_CASE("a session of any want advises what one of its own want does, slab by slab") {
    std::size_t advised = 0;
    for (std::uint64_t seed = 0; seed < rounds(12); ++seed) {
        CAPTURE(seed);
        dice d(seed + 980'000);
        request r = request_of_size(d, 20, 60);
        if (seed % 2 == 1) add_limits(d, r);
        if (seed % 3 == 2) add_links(d, r);
        cutting_request asked{r.specs, r.rules, {}};
        if (seed % 4 == 3) asked.demands = some_demands(d, r);
        const auto same = [&](const auto& want) {
            cutting_session own(r.meat, asked, want);
            cutting_session<any_want> any(r.meat, asked, want);
            for (std::size_t slabs = 0; own.next() && slabs < 5; ++slabs) {
                CHECK(any.next() == own.next());
                CHECK(any.shortfalls() == own.shortfalls());
                const mass weight = 1.02 * own.next()->weight;
                own.record({.weight = weight});
                any.record({.weight = weight});
                ++advised;
            }
            CHECK(any.next() == own.next());
            CHECK(any.state() == own.state());
        };
        same([](const cutting_problem& problem) { return kept_mass_objective::mass_then_portions(problem); });
        same(even_portions());
    }
    CHECK(advised > 40);
}

TEST_CASE("equal portions come as near to a slab that slipped as they can") {
    const profile meat = ten_grams_a_millimetre(400_mm);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 50_mm}};
    cutting_session s(meat, {steak, {}, {}}, even_portions(10), exact);
    REQUIRE(s.next());
    CHECK(s.next()->thickness == 40_mm);
    s.record({.weight = 370_g, .thickness = 37_mm});
    // Nine of 363 mm, and as loose meat takes the rest, 37 mm each is as near as can be.
    CHECK(s.portions_to_come() == 9);
    for (const grid_slab& slab : s.plan_of_rest())
        if (slab.kind == slab_kind::portions) CHECK(slab.to - slab.from == 74);
    REQUIRE(s.undo());
    s.record({.weight = 490_g, .thickness = 49_mm}); // nine of 351 mm: 39 mm each
    CHECK(s.portions_to_come() == 9);
    for (const grid_slab& slab : s.plan_of_rest()) CHECK(slab.to - slab.from == 78);
    while (s.next()) follow(s);
    CHECK(s.slabs().size() == 10);

    cutting_session short_of_it(meat, {steak, {}, {}}, even_portions(30), exact);
    CHECK(short_of_it.portions_to_come() == 20);
    REQUIRE(short_of_it.shortfalls().size() == 1);
    CHECK(short_of_it.shortfalls()[0].wanted == 30);
    CHECK(short_of_it.shortfalls()[0].possible == 20);
    const cutting_session again(meat, {steak, {}, {}}, even_portions(10), s.state());
    CHECK(again.slabs().size() == 10);
}

TEST_CASE("a session of the fewest settings keeps to those that the slicer was set to") {
    std::size_t steps = 0, same = 0;
    for (std::uint64_t seed = 0; seed < rounds(60, many_instances); ++seed) {
        CAPTURE(seed);
        dice d(seed + 910'000);
        const request r = free_of_weights(d);
        const few_settings first = fewest_settings(r.meat, r.specs, r.rules);
        cutting_session s(r.meat, {r.specs, r.rules, {}}, fewest_settings(), exact);
        CHECK(s.portions_to_come() == first.planned.plan.portion_count());
        std::set<std::int64_t> settings;
        std::size_t portions = 0;
        while (s.next()) {
            const next_cut advised = *s.next();
            if (advised.kind == slab_kind::portions) {
                const bool last = advised.last; // of the thickness that it is nearest to
                if (!last) settings.insert(std::llround(detail::in_grains(advised.thickness)));
                portions += static_cast<std::size_t>(r.specs[advised.option].pieces);
            }
            follow(s);
            ++steps;
        }
        CHECK(portions == first.planned.plan.portion_count());
        CHECK(settings.size() <= first.settings);
        same += settings.size() == first.settings;
    }
    CHECK(steps > 150);
    CHECK(same > 20);

    const profile meat = ten_grams_a_millimetre(400_mm);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 50_mm}};
    cutting_session s(meat, {steak, {}, {}}, fewest_settings(), exact);
    CHECK(s.next()->thickness == 20_mm);
    s.record({.weight = 300_g, .thickness = 30_mm, .set = 30_mm}); // another setting than was advised
    CHECK(s.portions_to_come() == 18);
    for (const grid_slab& slab : s.plan_of_rest())
        if (slab.kind == slab_kind::portions)
            CHECK((slab.to - slab.from == 40 || slab.to == meat.cells() || slab.to - slab.from == 60));
}

TEST_CASE("sessions of equal portions and of the fewest settings keep demands, and come as near to them as plans do") {
    static_assert(rest_want<decltype(even_portions())> && rest_want<decltype(fewest_settings())>);
    static_assert(session_want<decltype(most_portions())>);
    const auto whole_loins = [](const profile& meat, const cutting_request& r) {
        return plan(meat, r, most_portions());
    };
    static_assert(planning_want<decltype(whole_loins)> && !session_want<decltype(whole_loins)>);

    const profile meat = ten_grams_a_millimetre(400_mm);
    const std::vector<cut_spec> cuts{{.name = "steak", .thickness = {20_mm, 50_mm}},
                                     {.name = "roast", .thickness = {60_mm, 120_mm}}};
    const auto check = [&](const auto& want) {
        cutting_session s(meat, {cuts, {}, {exactly(2, "roast"), at_most(6, "steak")}}, want, exact);
        const auto counts = [&](std::size_t spec) {
            return detail::portions_in(s.plan_of_rest(), s.specs(), spec) +
                   detail::portions_cut(s.slabs(), s.specs(), spec);
        };
        while (s.next()) {
            CHECK(counts(1) == 2);
            CHECK(counts(0) <= 6);
            CHECK(s.shortfalls().empty());
            follow(s);
        }
        CHECK(counts(1) == 2);
        cutting_session beyond(meat, {cuts, {}, {at_least(9, "roast")}}, want, exact);
        CHECK(beyond.portions_to_come() >= 6);
        REQUIRE(beyond.shortfalls().size() == 1);
        CHECK(beyond.shortfalls()[0].spec == 1);
        CHECK(beyond.shortfalls()[0].possible == 6);
    };
    check(even_portions());
    check(fewest_settings());
}

TEST_CASE("a choice from a front is followed by asking for as many of each cut") {
    const profile meat = tabulate(strip_loin(), 1_mm);
    const std::vector<cut_spec> cuts{
        {.name = "steak", .thickness = {24_mm, 40_mm}, .portion = {300_g, 380_g}},
        {.name = "fillet", .thickness = {20_mm, 30_mm}, .portion = {120_g, 200_g}, .pieces = 2}};
    const cutting_rules rules{.facing = 8_mm};
    const auto front = count_and_waste_front(meat, cuts, rules);
    REQUIRE(front.size() > 1);
    for (const front_point& choice : front) {
        const cutting_request request{cuts, rules, demands_of(choice.plan)};
        const planned again = plan(meat, request, least_waste());
        CHECK(again.plan.portion_count() == choice.portions);
        CHECK(balance_of(again.plan).portion_total() == balance_of(choice.plan).portion_total());
        const cutting_session s(meat, request, least_waste());
        CHECK(s.portions_to_come() == choice.portions);
        CHECK(s.shortfalls().empty());
    }
}

} // namespace session_wants_laws
