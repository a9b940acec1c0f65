// Fronts against every tiling of small loins.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise/front.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace front_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Portions, micrograms in them, and the thinnest slab in tenths of a micrometre: more of each is better.
using choice = std::tuple<std::int64_t, std::int64_t, std::int64_t>;

std::int64_t tenths_of_a_micrometre(length l) { return std::llround(l.value() * 1e7); }

/// The choices of all tilings that have portions.
std::set<choice> all_choices(const request& r, const small_request& all) {
    std::set<choice> found;
    const std::function<void(std::size_t, const choice&)> lay = [&](std::size_t from, const choice& so_far) {
        if (from == all.cells()) {
            if (std::get<0>(so_far) > 0) found.insert(so_far);
            return;
        }
        for (std::size_t to = from + 1; to <= all.cells(); ++to)
            for (std::size_t o = 0; o < all.options(); ++o) {
                if (!all.allowed(o, from, to)) continue;
                auto [count, mass, thinnest] = so_far;
                if (all.is_portion(o)) {
                    const length thickness =
                        r.meat.position(to) - r.meat.position(from) - (to < all.cells() ? all.spec(o).kerf : length{});
                    count += all.spec(o).pieces;
                    mass += all.masses(o, from, to).weight();
                    thinnest = std::min(thinnest, tenths_of_a_micrometre(thickness));
                }
                lay(to, {count, mass, thinnest});
            }
    };
    lay(all.start(), {0, 0, std::int64_t{1} << 40U});
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
                      with_thickness ? tenths_of_a_micrometre(p.thinnest) : 0});
    return found;
}

} // namespace

TEST_CASE("a front holds the plans that no tiling beats, and no others") {
    std::size_t points = 0, several = 0;
    for (std::uint64_t seed = 0; seed < rounds(400, many_instances); ++seed) {
        dice d(seed + 700'000);
        const request r = random_request(d, 3, 16);
        if (!(r.rules.facing < r.meat.extent())) continue;
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
        for (const front_point& p : front)
            CHECK(verify(p.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
    }
    CHECK(points > 400);
    CHECK(several > 20);
}

} // namespace front_oracle
