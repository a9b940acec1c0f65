// Fronts with evenness: against every tiling of small loins, and within their stated bound on larger ones.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <set>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/even_front.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace even_front_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Portions, micrograms in them, the thinnest slab in sixteenths of a micrometre, and the spread, negative: more of each
/// is better.
using choice = std::array<std::int64_t, 4>;

std::int64_t sixteenths_of_a_micrometre(length l) { return std::llround(l.value() * 1.6e7); }

bool covers(const choice& a, const choice& b, std::int64_t spread_bound = 0) {
    return a[0] >= b[0] && a[1] >= b[1] && a[2] >= b[2] && a[3] >= b[3] - spread_bound;
}

/// The choices of all tilings that have portions, whose slabs go together and that meet the demands.
std::set<choice> all_choices(const request& r, const small_request& all, const std::vector<demand>& demands = {}) {
    std::set<choice> found;
    all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
        std::int64_t count = 0, mass_in = 0, thinnest = std::numeric_limits<std::int64_t>::max();
        std::int64_t lightest = std::numeric_limits<std::int64_t>::max(), heaviest = 0;
        std::vector<std::int64_t> portions(r.specs.size());
        for (const auto& s : slabs) {
            if (!all.is_portion(s.option)) continue;
            const std::int64_t slab = all.masses(s.option, s.from, s.to).weight(), pieces = all.spec(s.option).pieces;
            const length kerf = s.to < all.cells() ? all.spec(s.option).kerf : length{};
            portions[s.option - r.rules.loose.size()] += all.spec(s.option).pieces;
            count += pieces;
            mass_in += slab;
            thinnest =
                std::min(thinnest, sixteenths_of_a_micrometre(r.meat.position(s.to) - r.meat.position(s.from) - kerf));
            lightest = std::min(lightest, slab / pieces);
            heaviest = std::max(heaviest, slab / pieces + (slab % pieces != 0 ? 1 : 0));
        }
        for (const demand& wanted : demands) {
            const std::int64_t n = portions[spec_of(wanted, r.specs)];
            if (n < wanted.at_least || n > wanted.at_most) return;
        }
        if (count > 0 && all.go_together(slabs)) found.insert({count, mass_in, thinnest, lightest - heaviest});
    });
    return found;
}

/// Those that no other one is as good as in everything; without thickness, of the other three.
std::set<choice> best_of(const std::set<choice>& all, bool with_thickness) {
    std::set<choice> looked_at, best;
    for (choice mine : all) {
        if (!with_thickness) mine[2] = 0;
        looked_at.insert(mine);
    }
    for (const choice& mine : looked_at)
        if (std::none_of(looked_at.begin(), looked_at.end(),
                         [&](const choice& other) { return other != mine && covers(other, mine); }))
            best.insert(mine);
    return best;
}

std::set<choice> as_choices(const request& r, const even_front& front, bool with_thickness) {
    std::set<choice> found;
    for (const front_point& p : front.points)
        found.insert({static_cast<std::int64_t>(p.portions), r.meat.total().count - p.waste.count,
                      with_thickness ? sixteenths_of_a_micrometre(p.thinnest) : 0, -p.spread.count});
    return found;
}

} // namespace

TEST_CASE("a front with evenness holds the plans that no tiling beats, and no others") {
    std::size_t points = 0, uneven = 0, linked = 0, costs = 0;
    for (std::uint64_t seed = 0; seed < rounds(120, many_instances); ++seed) {
        dice d(seed + 740'000);
        request r = random_request(d, 3, 10);
        if (!(r.rules.facing < r.meat.extent())) continue;
        if (seed % 3 == 0) add_links(d, r);
        const small_request all(r);
        if (all.tilings() > 2e3) continue;
        CAPTURE(seed);
        const std::vector<demand> demands = seed % 5 < 2 ? some_demands(d, r) : std::vector<demand>{};
        const std::set<choice> choices = all_choices(r, all, demands);
        if (!demands.empty()) costs += best_of(choices, false) != best_of(all_choices(r, all), false);
        const evenness_search exact{.most_tables = 10'000'000};
        const even_front front = count_waste_and_evenness_front(r.meat, r.specs, r.rules, exact, demands);
        CHECK(front.spread_bound == micrograms{});
        CHECK(as_choices(r, front, false) == best_of(choices, false));
        CHECK(front.points.size() == best_of(choices, false).size());
        points += front.points.size();
        if (cutting_problem(r.meat, r.specs, r.rules).links_slabs()) linked += front.points.size();
        for (const front_point& p : front.points) uneven += p.spread > micrograms{};
        for (const front_point& p : front.points)
            CHECK(verify(p.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
        if (seed % 4 != 0) continue;
        const even_front of_four = count_waste_thickness_and_evenness_front(r.meat, r.specs, r.rules, exact, demands);
        CHECK(as_choices(r, of_four, true) == best_of(choices, true));
        CHECK(of_four.points.size() == best_of(choices, true).size());
    }
    CHECK(points > 100);
    CHECK(uneven > 30);
    CHECK(linked > 20);
    CHECK(costs > 5);
}

TEST_CASE("with few tables no plan is missed by more than the bound") {
    std::size_t bounded = 0;
    for (std::uint64_t seed = 0; seed < rounds(60, many_instances); ++seed) {
        dice d(seed + 750'000);
        const request r = random_request(d, 3, 12);
        if (!(r.rules.facing < r.meat.extent())) continue;
        const small_request all(r);
        if (all.tilings() > 2e3) continue;
        CAPTURE(seed);
        const even_front front = count_waste_and_evenness_front(r.meat, r.specs, r.rules, {.most_tables = 6});
        const std::set<choice> have = as_choices(r, front, false);
        for (const choice& best : best_of(all_choices(r, all), false))
            CHECK(std::any_of(have.begin(), have.end(),
                              [&](const choice& mine) { return covers(mine, best, front.spread_bound.count); }));
        for (const choice& a : have)
            for (const choice& b : have) CHECK((a == b || !covers(a, b)));
        bounded += front.spread_bound > micrograms{};
    }
    CHECK(bounded > 20);
}

TEST_CASE("where a front with evenness is cut short it says that nothing is known of what is not there") {
    // Invented: six cuts of which three to six each are asked for, 117,649 counts.
    const profile meat = tabulate(prism_loin{.length = 40_cm, .face = {.width = 15_cm, .depth = 7_cm}}, 1_mm);
    std::vector<cut_spec> specs;
    std::vector<demand> demands;
    for (std::size_t i = 0; i < 6; ++i) {
        const length thin = (8.0 + static_cast<double>(i)) * millimetre;
        specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i), .thickness = {thin, thin + 4_mm}});
        demands.push_back({.spec = i, .at_least = 3, .at_most = 6});
    }
    const even_front front = count_waste_and_evenness_front(meat, specs, {}, {}, demands);
    CHECK(front.spread_bound.count == even_front::unknown);
    REQUIRE_FALSE(front.points.empty());
    for (const front_point& p : front.points) CHECK(p.waste_bound <= p.waste);
    demands.front().at_least = 60;
    demands.front().at_most = 60;
    CHECK(count_waste_and_evenness_front(meat, specs, {}, {}, demands).points.empty());
}

TEST_CASE("a prism offers as many portions evenly as the grid lets it") {
    // 12 cm on a grid of 1 cm, slabs of 2 to 4 cm: six of 2, four of 3 and three of 4 cm are even and leave nothing.
    // Five are even at 2 cm and leave 2 cm, or leave nothing with a spread of 1 cm, but six are better in everything.
    const profile meat = tabulate(prism_loin{.length = 12_cm, .face = {.width = 15_cm, .depth = 7_cm}}, 1_cm);
    const even_front front = count_waste_and_evenness_front(meat, {{.name = "steak", .thickness = {2_cm, 4_cm}}});
    REQUIRE(front.points.size() >= 1);
    CHECK(front.points.front().portions == 6);
    CHECK(front.points.front().waste == micrograms{});
    CHECK(front.points.front().spread.count <= 2); // cells differ by rounding
    for (const front_point& p : front.points) CHECK(p.spread.count <= 2);
    CHECK(count_waste_and_evenness_front(meat, {{.name = "long", .thickness = 13_cm}}).points.empty());
    CHECK_THROWS_AS(
        count_waste_and_evenness_front(meat, {{.name = "steak", .thickness = 3_cm}}, {}, {.most_tables = 0}),
        invalid_input);
}

} // namespace even_front_oracle
