// Evening out moves cuts, and nothing else about a plan.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace even_out_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Heaviest less lightest slab of each run of neighbouring slabs of one spec.
std::vector<std::int64_t> spreads(const cutting_problem& problem, const std::vector<grid_slab>& stretches) {
    std::vector<std::int64_t> result;
    for (std::size_t i = 0; i < stretches.size();) {
        std::int64_t low = std::numeric_limits<std::int64_t>::max(), high = 0;
        const grid_slab& head = stretches[i];
        if (head.kind != slab_kind::portions) {
            ++i;
            continue;
        }
        for (; i < stretches.size() && stretches[i].kind == head.kind && stretches[i].option == head.option; ++i) {
            const std::int64_t w =
                problem.weight(problem.loose_count() + head.option, stretches[i].from, stretches[i].to);
            low = std::min(low, w);
            high = std::max(high, w);
        }
        result.push_back(high - low);
    }
    return result;
}

template <objective O>
std::size_t check_laws(const cutting_problem& problem, const O& objective) {
    const auto found = best_path(problem, objective);
    std::vector<grid_slab> even = found.stretches;
    even_out(problem, objective, even);

    REQUIRE(even.size() == found.stretches.size());
    typename O::score_type score{};
    for (std::size_t i = 0; i < even.size(); ++i) {
        CHECK(even[i].kind == found.stretches[i].kind);
        CHECK(even[i].option == found.stretches[i].option);
        const bool portions = even[i].kind == slab_kind::portions;
        const std::size_t o = even[i].option + (portions ? problem.loose_count() : 0);
        CHECK(problem.allows(o, even[i].from, even[i].to));
        score = score + slab_score(objective, o, even[i].from, even[i].to);
    }
    CHECK(score == found.score);
    const std::vector<std::int64_t> before = spreads(problem, found.stretches), after = spreads(problem, even);
    CHECK(before.size() == after.size());
    for (std::size_t run = 0; run < before.size(); ++run) CHECK(after[run] <= before[run]);
    return before != after;
}

} // namespace

TEST_CASE("evening out keeps score, limits and count, and spreads no run further apart") {
    std::size_t moved = 0;
    for (std::uint64_t seed = 0; seed < rounds(500); ++seed) {
        dice d(seed + 300'000);
        const length step = detail::snapped(d.between(1.0, 5.0) * millimetre);
        request r{random_profile(d, d.whole(20, 300), step), {}, {}};
        const std::size_t specs = d.whole(1, 2);
        for (std::size_t i = 0; i < specs; ++i)
            r.specs.push_back(random_spec(d, r.meat, std::string("cut ") + static_cast<char>('A' + i), 3.0, 25.0));
        r.rules = random_rules(d, r.meat, 8.0);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        moved += check_laws(problem, kept_mass_objective::portions_then_mass(problem));
        moved += check_laws(problem, kept_mass_objective::mass_then_portions(problem));
        moved += check_laws(problem, value_objective<usd>(problem, random_prices(d, r.specs)));
    }
    CHECK(moved > 50);
}

TEST_CASE("a run with room to spare comes out even to the grid") {
    // Invented: a prism of 200 cells of 9.483 g, as many portions as fit between 30 and 45 mm: six, of 33 or 34 mm.
    const profile meat = tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const cutting_problem problem(meat, {{.name = "steak", .thickness = {30_mm, 45_mm}}}, {});
    const auto objective = kept_mass_objective::portions_then_mass(problem);
    auto found = best_path(problem, objective);
    REQUIRE(found.stretches.size() == 6);
    even_out(problem, objective, found.stretches);
    for (const grid_slab& s : found.stretches) CHECK((s.to - s.from == 33 || s.to - s.from == 34));
}

TEST_CASE("a limit in the way of the whole run leaves the longest part of it even") {
    // Invented: a face that halves towards the sirloin. Five equal weights would need 27 mm at its end.
    const profile meat = tabulate(tapered_loin{.length = 10_cm,
                                               .rib = {.width = 20_cm, .depth = 8_cm},
                                               .sirloin = {.width = 14_cm, .depth = 5.7_cm}},
                                  1_mm);
    const cutting_problem problem(meat, {{.name = "steak", .thickness = {15_mm, 25_mm}}}, {});
    std::vector<grid_slab> run;
    const std::size_t cuts[] = {0, 22, 40, 62, 80, 100};
    for (std::size_t k = 0; k < 5; ++k) run.push_back({cuts[k], cuts[k + 1], slab_kind::portions, 0});
    even_out(problem, kept_mass_objective::mass_then_portions(problem), run);

    const grid_slab last{80, 100, slab_kind::portions, 0};
    CHECK(run.back() == last);
    // Half of a cell, at most the one at the rib, at each of a slab's two cuts: two slabs differ by no more than two.
    run.pop_back();
    CHECK(run.front().from == 0);
    CHECK(run.back().to == 80);
    CHECK(spreads(problem, run).front() <= 2 * meat.between(0, 1).count);
}

TEST_CASE("cuts that already differ by less than the nearest positions would stay where they are") {
    // Found among random loins: the positions nearest to equal shares can be further apart than the cuts as they were.
    std::size_t kept = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        dice d(seed + 310'000);
        const profile meat = random_profile(d, 12, 5_mm);
        const cutting_problem problem(meat, {{.name = "cut", .thickness = {5_mm, 40_mm}}}, {});
        const auto objective = kept_mass_objective::mass_then_portions(problem);
        for (std::size_t a = 2; a < 6; ++a)
            for (std::size_t b = a + 2; b < 11; ++b) {
                std::vector<grid_slab> run{
                    {0, a, slab_kind::portions, 0}, {a, b, slab_kind::portions, 0}, {b, 12, slab_kind::portions, 0}};
                if (!problem.allows(1, 0, a) || !problem.allows(1, a, b) || !problem.allows(1, b, 12)) continue;
                const std::vector<grid_slab> before = run;
                even_out(problem, objective, run);
                if (spreads(problem, run) > spreads(problem, before))
                    CHECK(spreads(problem, run) <= spreads(problem, before));
                kept += run == before;
            }
    }
    CHECK(kept > 0);
}

} // namespace even_out_laws
