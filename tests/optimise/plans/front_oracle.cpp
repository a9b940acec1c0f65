// Fronts against every tiling of small loins.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise/plans/front.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace front_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Portions, micrograms in them, and the thinnest slab in sixteenths of a micrometre: more of each is better.
using choice = std::tuple<std::int64_t, std::int64_t, std::int64_t>;

std::int64_t sixteenths_of_a_micrometre(length l) { return std::llround(l.value() * 1.6e7); }

/// The choices of all tilings that have portions and whose slabs go together.
std::set<choice> all_choices(const request& r, const small_request& all) {
    std::set<choice> found;
    all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
        std::int64_t count = 0, mass_in = 0, thinnest = std::int64_t{1} << 40U;
        for (const auto& s : slabs) {
            if (!all.is_portion(s.option)) continue;
            const length thickness = r.meat.position(s.to) - r.meat.position(s.from) -
                                     (s.to < all.cells() ? all.spec(s.option).kerf : length{});
            count += all.spec(s.option).pieces;
            mass_in += all.masses(s.option, s.from, s.to).weight();
            thinnest = std::min(thinnest, sixteenths_of_a_micrometre(thickness));
        }
        if (count > 0 && all.go_together(slabs)) found.insert({count, mass_in, thinnest});
    });
    return found;
}

/// Those that no other one is as good as in everything.
std::set<choice> best_of(const std::set<choice>& all) {
    std::set<choice> best;
    for (const choice& mine : all) {
        const bool beaten = std::any_of(all.begin(), all.end(), [&mine](const choice& other) {
            return other != mine && std::get<0>(other) >= std::get<0>(mine) &&
                   std::get<1>(other) >= std::get<1>(mine) && std::get<2>(other) >= std::get<2>(mine);
        });
        if (!beaten) best.insert(mine);
    }
    return best;
}

std::set<choice> as_choices(const request& r, const std::vector<front_point>& front, bool with_thickness) {
    std::set<choice> found;
    for (const front_point& p : front)
        found.insert({static_cast<std::int64_t>(p.portions), r.meat.total().count - p.waste.count,
                      with_thickness ? sixteenths_of_a_micrometre(p.thinnest) : 0});
    return found;
}

} // namespace

TEST_CASE("a front holds the plans that no tiling beats, and no others") {
    std::size_t points = 0, several = 0, linked = 0;
    for (std::uint64_t seed = 0; seed < rounds(400, many_instances); ++seed) {
        dice d(seed + 700'000);
        request r = random_request(d, 3, 16);
        if (!(r.rules.facing < r.meat.extent())) continue;
        if (seed % 2 == 0) add_links(d, r);
        const small_request all(r);
        if (all.tilings() > 4e3) continue;
        CAPTURE(seed);
        const std::set<choice> choices = all_choices(r, all);
        const auto front = count_waste_and_thickness_front(r.meat, r.specs, r.rules);
        CHECK(as_choices(r, front, true) == best_of(choices));
        CHECK(front.size() == best_of(choices).size());
        points += front.size();

        std::set<choice> of_two;
        for (const auto& [count, mass, thinnest] : choices) of_two.insert({count, mass, 0});
        const auto counts = count_and_waste_front(r.meat, r.specs, r.rules);
        CHECK(as_choices(r, counts, false) == best_of(of_two));
        CHECK(counts.size() == best_of(of_two).size());
        several += counts.size() > 1;
        linked += front.size() > 1 && cutting_problem(r.meat, r.specs, r.rules).links_slabs();
        for (const front_point& p : front)
            CHECK(verify(p.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
    }
    CHECK(points > 400);
    CHECK(several > 20);
    CHECK(linked > 20);
}

TEST_CASE("a front refuses more choices of a common thickness than it can look at") {
    dice d(710'000);
    request r = request_of_size(d, 200, 300);
    r.specs.resize(1);
    r.specs.front() = {
        .name = "steak", .thickness = {3.0 * r.meat.step(), 60.0 * r.meat.step()}, .one_thickness = true};
    CHECK_FALSE(count_and_waste_front(r.meat, r.specs, r.rules).empty());
    r.specs.push_back(r.specs.front());
    r.specs.back().name = "another"; // 58 times 58 choices
    CHECK_THROWS_AS(count_and_waste_front(r.meat, r.specs, r.rules), invalid_input);
    CHECK_THROWS_AS(count_waste_and_thickness_front(r.meat, r.specs, r.rules), invalid_input);
}

} // namespace front_oracle
