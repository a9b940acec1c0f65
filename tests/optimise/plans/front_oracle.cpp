// Fronts against every tiling of small loins.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/front.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/front_choices.hpp"
#include "optimise/instances.hpp"

namespace front_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

constexpr front_aims of_two{}, of_three{.thickness = true};

} // namespace

TEST_CASE("a front holds the plans that no tiling beats, and no others") {
    std::size_t points = 0, several = 0, linked = 0, costs = 0;
    for (std::uint64_t seed = 0; seed < rounds(400, many_instances); ++seed) {
        dice d(seed + 700'000);
        request r = random_request(d, 3, 16);
        if (!(r.rules.facing < r.meat.extent())) continue;
        if (seed % 2 == 0) add_links(d, r);
        const small_request all(r);
        if (all.tilings() > 4e3) continue;
        CAPTURE(seed);
        const std::vector<demand> demands = seed % 3 == 1 ? some_demands(d, r) : std::vector<demand>{};
        const std::set<front_choice> choices = all_choices(r, all, demands);
        if (!demands.empty()) costs += best_of(choices, of_three) != best_of(all_choices(r, all), of_three);
        const auto front = count_waste_and_thickness_front(r.meat, r.specs, r.rules, demands);
        CHECK(as_choices(r, front, of_three) == best_of(choices, of_three));
        CHECK(front.size() == best_of(choices, of_three).size());
        points += front.size();

        const auto counts = count_and_waste_front(r.meat, r.specs, r.rules, demands);
        CHECK(as_choices(r, counts, of_two) == best_of(choices, of_two));
        CHECK(counts.size() == best_of(choices, of_two).size());
        several += counts.size() > 1;
        linked += front.size() > 1 && cutting_problem(r.meat, r.specs, r.rules).links_slabs();
        for (const front_point& p : front) CHECK(p.waste_bound == p.waste);
        for (const front_point& p : front)
            CHECK(verify(p.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
    }
    CHECK(points > 300);
    CHECK(several > 20);
    CHECK(linked > 20);
    CHECK(costs > 20); // choices that demands take away
}

TEST_CASE("a front finds the best of thousands of choices of a common thickness") {
    dice d(710'000);
    request r = request_of_size(d, 100, 120);
    r.specs.resize(1);
    r.specs.front() = {
        .name = "steak", .thickness = {5.0 * r.meat.step(), 40.0 * r.meat.step()}, .one_thickness = true};
    r.specs.push_back(r.specs.front());
    r.specs.back().name = "another"; // 36 times 36 choices
    const auto front = count_and_waste_front(r.meat, r.specs, r.rules);
    std::map<std::size_t, micrograms> least; // by number of portions, of all choices
    for (int i = 5; i <= 40; ++i)
        for (int k = 5; k <= 40; ++k) {
            std::vector<cut_spec> single = r.specs;
            single[0].thickness = static_cast<double>(i) * r.meat.step();
            single[1].thickness = static_cast<double>(k) * r.meat.step();
            for (const front_point& p : count_and_waste_front(r.meat, single, r.rules)) {
                const auto [at, first] = least.emplace(p.portions, p.waste);
                at->second = std::min(at->second, p.waste);
            }
        }
    REQUIRE_FALSE(front.empty());
    CHECK(front.front().portions == least.rbegin()->first);
    for (const front_point& p : front) {
        CHECK(p.waste == least.at(p.portions));
        CHECK(p.waste_bound == p.waste);
    }
    for (const auto& [portions, waste] : least)
        CHECK(std::any_of(front.begin(), front.end(), [portions = portions, waste = waste](const front_point& p) {
            return p.portions >= portions && p.waste <= waste;
        }));
}

TEST_CASE("a front of more demands than can be told apart is its ends, with what they might waste less") {
    // Invented: six cuts of 8 to 16 mm, of which three to six each are asked for: 117,649 counts.
    const profile meat =
        tabulate(prism_loin{.length = 40 * centimetre, .face = {16 * centimetre, 7 * centimetre}}, millimetre);
    std::vector<cut_spec> specs;
    std::vector<demand> demands;
    for (std::size_t i = 0; i < 6; ++i) {
        const length thin = (8.0 + static_cast<double>(i)) * millimetre;
        specs.push_back(
            {.name = std::string("cut ") + static_cast<char>('A' + i), .thickness = {thin, thin + 4.0 * millimetre}});
        demands.push_back({.spec = i, .at_least = 3, .at_most = 6});
    }
    for (const auto& front :
         {count_and_waste_front(meat, specs, {}, demands), count_waste_and_thickness_front(meat, specs, {}, demands)}) {
        REQUIRE_FALSE(front.empty());
        CHECK(front.front().portions > 30); // 36 of A to F, as computed
        for (const front_point& p : front) {
            CHECK(verify(p.plan, meat, specs, {}) == std::vector<std::string>{});
            CHECK(p.waste_bound <= p.waste);
            std::vector<std::int64_t> counts(6);
            for (const slab& s : p.plan.slabs)
                if (s.kind == slab_kind::portions) ++counts[s.option];
            for (const std::int64_t n : counts) CHECK((n >= 3 && n <= 6));
        }
    }
}

} // namespace front_oracle
