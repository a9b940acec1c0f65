// Fronts on an invented prism, where the answer can be worked out by hand, and what must hold on larger loins.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/front.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace front_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

request request_for_fronts(dice& d) {
    const length step = detail::snapped(d.between(2.0, 5.0) * millimetre);
    request r{random_profile(d, d.whole(40, 120), step), {}, {}};
    const std::size_t specs = d.whole(1, 2);
    for (std::size_t i = 0; i < specs; ++i)
        r.specs.push_back(random_spec(d, r.meat, std::string("cut ") + static_cast<char>('A' + i), 3.0, 15.0));
    r.rules = random_rules(d, r.meat, 8.0);
    return r;
}

/// Whether `a` is as good as `b` in everything.
bool covers(const front_point& a, const front_point& b) {
    return a.portions >= b.portions && a.waste <= b.waste && a.thinnest >= b.thinnest - 1e-9 * metre;
}

} // namespace

TEST_CASE("a prism gives one portion fewer for each bit of thickness, and no waste where the cuts fit") {
    // 12 cm in slabs of 2 to 4 cm: n slabs are at most 12 cm / n thick, and 3 to 6 of them leave nothing.
    const profile meat = tabulate(prism_loin{.length = 12_cm, .face = {.width = 15_cm, .depth = 7_cm}}, 1_cm);
    const cut_spec steak{.name = "steak", .thickness = {2_cm, 4_cm}};
    const auto two = count_and_waste_front(meat, {steak});
    REQUIRE(two.size() == 1);
    CHECK(two[0].portions == 6);
    CHECK(two[0].waste == micrograms{0});

    const auto three = count_waste_and_thickness_front(meat, {steak});
    REQUIRE(three.size() == 3); // 5 slabs are no thicker than 2 cm either, on a grid of 1 cm
    const std::pair<std::size_t, double> expected[] = {{3, 4.0}, {4, 3.0}, {6, 2.0}};
    for (std::size_t i = 0; i < three.size(); ++i) {
        CHECK(three[i].portions == expected[i].first);
        CHECK_THAT(three[i].thinnest / centimetre,
                   WithinAbs(expected[i].second, 1e-9)); // the binary noise of positions
        CHECK(three[i].waste == micrograms{0});
    }
}

TEST_CASE("where more portions waste more meat, a front offers both") {
    // 12 cm: 3 rounds of 4 cm leave nothing, but 5 of 2.2 cm, 11 cm, are more.
    const profile meat = tabulate(prism_loin{.length = 12_cm, .face = {.width = 15_cm, .depth = 7_cm}}, 1_mm);
    const std::vector<cut_spec> thin_and_thick{{.name = "thin", .thickness = 22_mm},
                                               {.name = "thick", .thickness = 4_cm}};
    const auto front = count_and_waste_front(meat, thin_and_thick);
    REQUIRE(front.size() == 2);
    CHECK(front[0].portions == 5); // more than 4 and more meat than 3 thin ones with a thick one
    CHECK(front[1].portions == 3);
    CHECK(front[1].waste == micrograms{0});
}

TEST_CASE("a loin that gives no portion has an empty front") {
    const profile meat = tabulate(prism_loin{.length = 12_cm, .face = {.width = 15_cm, .depth = 7_cm}}, 1_mm);
    CHECK(count_and_waste_front(meat, {{.name = "long", .thickness = 13_cm}}).empty());
    CHECK(count_waste_and_thickness_front(meat, {{.name = "long", .thickness = 13_cm}}).empty());
    CHECK_THROWS_AS(count_and_waste_front(meat, {}), invalid_input);
}

TEST_CASE("no point of a front is as good as another, and each has its plan") {
    std::size_t points = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 710'000);
        const request r = request_for_fronts(d);
        const auto front = count_waste_and_thickness_front(r.meat, r.specs, r.rules);
        CAPTURE(seed, front.size());
        for (std::size_t i = 0; i < front.size(); ++i) {
            const front_point& p = front[i];
            for (std::size_t k = 0; k < front.size(); ++k)
                if (k != i) CHECK_FALSE(covers(front[k], p));
            CHECK(p.portions == p.plan.portion_count());
            CHECK(p.waste + balance_of(p.plan).portion_total() == r.meat.total());
            CHECK(verify(p.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            if (i > 0) CHECK(front[i - 1].thinnest > p.thinnest - 1e-9 * metre); // positions have binary noise
        }
        points += front.size();
    }
    CHECK(points > 100);
}

TEST_CASE("a front starts with the most portions and ends with the least waste") {
    std::size_t with_portions = 0;
    for (std::uint64_t seed = 0; seed < rounds(100); ++seed) {
        dice d(seed + 720'000);
        const request r = request_for_fronts(d);
        const auto front = count_and_waste_front(r.meat, r.specs, r.rules);
        const planned most = most_portions(r.meat, r.specs, r.rules), least = least_waste(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        CHECK(front.empty() == !most.feasible());
        if (front.empty()) continue;
        ++with_portions;
        CHECK(front.front().portions == most.plan.portion_count());
        CHECK(front.front().waste == r.meat.total() - balance_of(most.plan).portion_total());
        CHECK(front.back().portions == least.plan.portion_count());
        CHECK(front.back().waste == r.meat.total() - balance_of(least.plan).portion_total());
        for (std::size_t i = 1; i < front.size(); ++i) {
            CHECK(front[i].portions < front[i - 1].portions);
            CHECK(front[i].waste < front[i - 1].waste);
        }
        const auto of_three = count_waste_and_thickness_front(r.meat, r.specs, r.rules);
        for (const front_point& p : front)
            CHECK(std::any_of(of_three.begin(), of_three.end(),
                              [&](const front_point& q) { return q.portions == p.portions && q.waste == p.waste; }));
    }
    CHECK(with_portions > 50);
}

TEST_CASE("a wider weight window offers nothing worse") {
    std::size_t better = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 730'000);
        request r = request_for_fronts(d);
        const auto before = count_waste_and_thickness_front(r.meat, r.specs, r.rules);
        for (cut_spec& spec : r.specs) spec.portion = {0.8 * spec.portion.min, 1.2 * spec.portion.max};
        const auto after = count_waste_and_thickness_front(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        const auto covered = [](const std::vector<front_point>& front, const front_point& p) {
            return std::any_of(front.begin(), front.end(), [&](const front_point& q) { return covers(q, p); });
        };
        for (const front_point& p : before) CHECK(covered(after, p));
        for (const front_point& p : after) better += !covered(before, p);
    }
    CHECK(better > 20);
}

} // namespace front_test
