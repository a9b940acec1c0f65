// Fronts with evenness: against every tiling of small loins, and within their stated bound on larger ones.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/even_front.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/front_choices.hpp"
#include "optimise/instances.hpp"

namespace even_front_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr front_aims even{.evenness = true}, even_and_thick{.thickness = true, .evenness = true};

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
        const std::set<front_choice> choices = all_choices(r, all, demands);
        if (!demands.empty()) costs += best_of(choices, even) != best_of(all_choices(r, all), even);
        const evenness_search exact{.most_tables = 10'000'000};
        const even_front front = count_waste_and_evenness_front(r.meat, r.specs, r.rules, exact, demands);
        CHECK(front.spread_bound == micrograms{});
        CHECK(as_choices(r, front.points, even) == best_of(choices, even));
        CHECK(front.points.size() == best_of(choices, even).size());
        points += front.points.size();
        if (cutting_problem(r.meat, r.specs, r.rules).links_slabs()) linked += front.points.size();
        for (const front_point& p : front.points) uneven += p.spread > micrograms{};
        for (const front_point& p : front.points)
            CHECK(verify(p.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
        if (seed % 4 != 0) continue;
        const even_front of_four = count_waste_thickness_and_evenness_front(r.meat, r.specs, r.rules, exact, demands);
        CHECK(as_choices(r, of_four.points, even_and_thick) == best_of(choices, even_and_thick));
        CHECK(of_four.points.size() == best_of(choices, even_and_thick).size());
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
        const std::set<front_choice> have = as_choices(r, front.points, even);
        for (const front_choice& best : best_of(all_choices(r, all), even))
            CHECK(std::any_of(have.begin(), have.end(),
                              [&](const front_choice& mine) { return covers(mine, best, front.spread_bound.count); }));
        for (const front_choice& a : have)
            for (const front_choice& b : have) CHECK((a == b || !covers(a, b)));
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
