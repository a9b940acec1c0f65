// Equal portions below the grid: against a closed form, Boost.Math's root finding, and the exact search on finer grids.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <set>
#include <string>
#include <vector>

#include <boost/math/tools/toms748_solve.hpp>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/polish_even.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/changing_face.hpp"
#include "optimise/instances.hpp"

namespace polish_even_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// What half of 0.01 mm weighs at either face of a portion of the changing face, at most, and so by how much the heaviest and
/// the lightest portion can differ where the cuts of exactly equal ones are rounded: in grams, 90 cm² × 1.05 g/cm³.
constexpr double rounding = 2.0 * 0.001 * 94.5;

double spread_in_grams(const cutting_plan& cuts) {
    double low = std::numeric_limits<double>::infinity(), high = 0.0;
    for (const slab& s : cuts.slabs)
        for (const micrograms w : cuts.portions_of(s)) {
            low = std::min<double>(low, to_mass(w) / gram);
            high = std::max<double>(high, to_mass(w) / gram);
        }
    return high - low;
}

/// Where f is zero between two numbers, by Boost.Math (Alefeld, Potra and Shi 1995, algorithm 748).
template <class F>
double root(const F& f, double low, double high) {
    std::uintmax_t steps = 100;
    const auto [a, b] =
        boost::math::tools::toms748_solve(f, low, high, boost::math::tools::eps_tolerance<double>(50), steps);
    return 0.5 * (a + b);
}

} // namespace

TEST_CASE("equal portions below the grid are cut where the closed form says") {
    const profile meat = lean_loin(cuts_for_340_g.back() * centimetre, 0.5_mm);
    const cut_spec steak{.name = "steak", .thickness = {3_cm, 6_cm}, .portion = {330_g, 350_g}};
    const planned coarse = even_portions(meat, steak, {}, 8);
    CHECK(-coarse.score() / 1e6 > 1.0); // grams: the grid is some 5 g a step
    const polished_cuts polished = polish(meat, {steak}, even_portions(8));
    REQUIRE(polished.planned.plan.portion_count() == 8);
    REQUIRE(polished.planned.plan.slabs.size() == 8);
    CHECK(verify(polished.planned.plan, polished.meat, {steak}, {}) == std::vector<std::string>{});
    const double spread = spread_in_grams(polished.planned.plan);
    CHECK(spread <= rounding);
    CHECK_THAT(-polished.planned.score() / 1e6, WithinAbs(spread, 1e-9));
    CHECK(polished.planned.stop == stop_reason::gap_left);
    CHECK(polished.planned.bound() == 0.0);
    CHECK(polished.planned.gap() == -polished.planned.score());
    // Weights within s of each other that add up to 8 × 340 g: the first i of them are off by i (8 - i) / 8 × s <= 2 s at
    // most, on a face of 63 g a centimetre or more.
    for (std::size_t i = 0; i + 1 < cuts_for_340_g.size(); ++i)
        CHECK_THAT(polished.planned.plan.slabs[i].end() / centimetre,
                   WithinAbs(cuts_for_340_g[i], 2.0 * spread / 63.0 + 0.000004));
}

TEST_CASE("equal portions below the grid lie where Boost.Math finds equal weights, with a facing and a kerf") {
    const profile meat = lean_loin(40_cm, 1_mm);
    const double kerf = 0.13;
    for (const std::int64_t n : {6, 11}) {
        const cut_spec steak{.name = "steak", .thickness = {25_mm, 65_mm}, .kerf = kerf * centimetre};
        const cutting_rules rules{.facing = 7.2_mm};
        const polished_cuts polished = polish(meat, {steak, rules}, even_portions(n));
        CAPTURE(n);
        CHECK(verify(polished.planned.plan, polished.meat, {steak}, rules) == std::vector<std::string>{});
        REQUIRE(polished.planned.plan.portion_count() == static_cast<std::size_t>(n));
        const double spread = spread_in_grams(polished.planned.plan);
        CHECK(spread <= rounding);
        // Whatever loose meat there is: in a run of portions each cut is where the next ones weigh what all weigh.
        double all = 0.0;
        for (const slab& s : polished.planned.plan.slabs)
            if (s.kind == slab_kind::portions) all += to_mass(s.weight()) / gram;
        const double each = all / static_cast<double>(n);
        double at = -1.0, off = 0.0;
        for (const slab& s : polished.planned.plan.slabs) {
            if (s.kind != slab_kind::portions) {
                at = -1.0;
                continue;
            }
            if (at < 0.0) {
                at = s.start / centimetre;
                off = 0.0;
            }
            const double back = root([&](double x) { return lean_grams(x) - lean_grams(at) - each; }, at, 41.0);
            off += spread / 60.0; // of the weights so far, at 60 g a centimetre or more
            const double found = (s.start + s.thickness) / centimetre;
            CHECK_THAT(found, WithinAbs(back, off + 0.0002)); // and the line between positions of 1 mm
            at = back + kerf;
        }
    }
}

TEST_CASE("the last portion ends at the sirloin face where nothing may be left") {
    // Nine portions and no remnant that is thinner than a portion: the weight of all is a root in one unknown.
    const profile meat = lean_loin(40_cm, 0.5_mm);
    const cut_spec steak{.name = "steak", .thickness = {2_cm, 7_cm}, .portion = {345_g, 360_g}};
    const cutting_rules rules{.remnant = {.thickness = 15_cm}};
    const polished_cuts polished = polish(meat, {steak, rules}, even_portions(9));
    CHECK(verify(polished.planned.plan, polished.meat, {steak}, rules) == std::vector<std::string>{});
    REQUIRE(polished.planned.plan.portion_count() == 9);
    CHECK(spread_in_grams(polished.planned.plan) <= rounding);
    const double start = polished.planned.plan.slabs.front().kind == slab_kind::portions
                             ? 0.0
                             : double(polished.planned.plan.slabs.front().end() / centimetre); // loose meat in front
    const double each = root(
        [&](double w) {
            double at = start;
            for (int i = 0; i < 9; ++i)
                at = root([&](double x) { return lean_grams(x) - lean_grams(at) - w; }, at, 60.0);
            return at - 40.0;
        },
        300.0, 380.0);
    for (const slab& s : polished.planned.plan.slabs)
        if (s.kind == slab_kind::portions) CHECK_THAT(to_mass(s.weight()) / gram, WithinAbs(each, rounding));
}

TEST_CASE("equal steaks of a loin differ by grams on the grid and by less than a fifth of a gram below it") {
    // Invented measurements, those of the test of `even_portions`; figures in docs/explaining_plans.md.
    const profile meat = tabulate(measured_loin{.length = 42_cm,
                                                .stations = {{0_cm, 17.0_cm, 7.2_cm, 1.0_cm, 4_cm},
                                                             {20_cm, 15.8_cm, 6.9_cm, 0.8_cm, 3_cm},
                                                             {42_cm, 15.0_cm, 7.1_cm, 0.7_cm, 2_cm}}},
                                  0.5_mm);
    const cut_spec steak{
        .name = "steak", .thickness = {25_mm, 45_mm}, .portion = {300_g, 420_g}, .gluteus_medius = any_gluteus_medius};
    const planned coarse = even_portions(meat, steak);
    const polished_cuts polished = polish(meat, {steak}, even_portions());
    CHECK(polished.planned.plan.portion_count() == 11);
    CHECK(coarse.plan.portion_count() == 11);
    CHECK_THAT(spread_in_grams(coarse.plan), WithinAbs(2.4, 0.05));
    CHECK_THAT(spread_in_grams(polished.planned.plan), WithinAbs(0.08, 0.005));
    CHECK(verify(polished.planned.plan, polished.meat, {steak}, {}) == std::vector<std::string>{});
}

TEST_CASE("polished portions are no less equal than those of the grid, and no more than the finer grid allows") {
    std::size_t better = 0, best = 0, seen = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 850'000);
        request r = request_on_coarse_grid(d, 12, 30, 6);
        const length step = r.meat.step();
        const std::size_t parts = 4, specs = r.specs.size();
        r.rules = random_rules(d, r.meat, 6.0);
        r.rules.facing = std::floor(r.rules.facing / step) * step;
        if (specs == 2 && d.once_in(2)) r.rules.order.push_back({r.specs[1].name, r.specs[0].name});
        const planned by_default = even_portions(r.meat, r.specs, r.rules);
        if (!by_default.feasible()) continue;
        const auto n = static_cast<std::int64_t>(by_default.plan.portion_count());
        const polished_cuts polished =
            polish(r.meat, {r.specs, r.rules}, even_portions(n), step / static_cast<double>(parts));
        CAPTURE(seed, n);
        ++seen;
        CHECK(verify(polished.planned.plan, polished.meat, r.specs, r.rules) == std::vector<std::string>{});
        CHECK(polished.planned.plan.portion_count() == static_cast<std::size_t>(n));
        CHECK_THAT(spread_in_grams(polished.planned.plan), WithinAbs(-polished.planned.score() / 1e6, 1e-9));
        const double finest = even_portions(on_finer_grid(r.meat, parts), r.specs, r.rules, n).score();
        // More mass in portions may come before evenness within two cells of the finer grid. Trims are rounded to the
        // microgram a cell and tissue: 70 cells a slab at most, of which two may be trimmed.
        std::int64_t cell = 0;
        for (std::size_t i = 0; i < polished.meat.cells(); ++i)
            cell = std::max(cell, polished.meat.between(i, i + 1).count);
        CHECK(polished.planned.score() >= std::min(by_default.score() - 150.0, -2.0 * static_cast<double>(cell)));
        CHECK(polished.planned.score() <= finest);
        better += polished.planned.score() > by_default.score();
        best += polished.planned.score() == finest;
    }
    CHECK(seen > 20);
    CHECK(better > 15);
    CHECK(best > 7);
}

TEST_CASE("portions that no limit keeps apart differ by no more than two cells weigh") {
    double widest = 0.0;
    for (std::uint64_t seed = 0; seed < rounds(12); ++seed) {
        dice d(seed + 860'000);
        const profile meat = random_profile(d, d.whole(20, 40), d.between(5.0, 10.0) * millimetre);
        std::vector<cut_spec> specs;
        const std::size_t kinds = d.whole(1, 2);
        for (std::size_t i = 0; i < kinds; ++i)
            specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i),
                             .thickness = {0.5 * meat.step(), meat.extent()},
                             .pieces = static_cast<int>(d.whole(1, 2)),
                             .trim = random_trim(d),
                             .gluteus_medius = any_gluteus_medius,
                             .kerf = d.once_in(2) ? length{} : 0.3 * meat.step()});
        const auto n = static_cast<std::int64_t>(2 * d.whole(1, 4)); // so that pieces come out even
        const polished_cuts polished = polish(meat, {specs}, even_portions(n));
        CAPTURE(seed, n);
        CHECK(verify(polished.planned.plan, polished.meat, specs, {}) == std::vector<std::string>{});
        CHECK(polished.planned.plan.portion_count() == static_cast<std::size_t>(n));
        std::int64_t cell = 0;
        for (std::size_t i = 0; i < polished.meat.cells(); ++i)
            cell = std::max(cell, polished.meat.between(i, i + 1).count);
        CHECK(polished.planned.gap() <= 2.0 * static_cast<double>(cell));
        widest = std::max(widest, polished.planned.gap() / static_cast<double>(cell));
    }
    CHECK(widest > 0.1); // of a cell: there is something to round
}

TEST_CASE("by default the finer grid says how many portions there are") {
    // 200 mm in cuts of 28.55 mm or more: seven, but six on a grid of a millimetre, where the thinnest is 29 mm.
    const profile meat = tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const cut_spec steak{.name = "steak", .thickness = {28.55_mm, 40_mm}};
    CHECK(even_portions(meat, steak).plan.portion_count() == 6);
    const polished_cuts polished = polish(meat, {steak}, even_portions());
    CHECK(polished.planned.plan.portion_count() == 7);
    CHECK(verify(polished.planned.plan, polished.meat, {steak}, {}) == std::vector<std::string>{});
    CHECK(spread_in_grams(polished.planned.plan) < 0.095); // 94.83 g a centimetre: 0.01 mm
    // And the other way round: 20.1 mm is met by 20 mm on the grid, ten times.
    const cut_spec single{.name = "steak", .thickness = 20.1_mm};
    CHECK(even_portions(meat, single).plan.portion_count() == 10);
    CHECK(polish(meat, {single}, even_portions()).planned.plan.portion_count() == 9);
}

TEST_CASE("what cannot be cut evenly on the finer grid is an answer, and bad input is refused") {
    const profile meat = lean_loin(40_cm, 1_mm);
    const cut_spec steak{.name = "steak", .thickness = {3_cm, 5_cm}};
    const polished_cuts many = polish(meat, {steak}, even_portions(50));
    CHECK(many.planned.stop == stop_reason::demand_impossible);
    CHECK(many.meat.cells() == meat.cells());
    CHECK_FALSE(polish(meat, {.cuts = {{.name = "long", .thickness = 50_cm}}}, even_portions()).planned.feasible());
    CHECK_THROWS_AS(polish(meat, {steak}, even_portions(0)), invalid_input);
    CHECK_THROWS_AS(polish(meat, {steak}, even_portions(5), 0_mm), invalid_input);
    CHECK_THROWS_AS(polish(meat, {steak}, even_portions(5), 1e-9 * millimetre), invalid_input);
    cut_spec linked = steak;
    linked.one_thickness = true;
    linked.thickness = 3_cm; // there is no choice to make
    CHECK(polish(meat, {linked}, even_portions()).planned.plan.portion_count() == 13);
}

TEST_CASE("equal portions of one thickness keep it below the grid") {
    // On a changing face cuts of one thickness cannot weigh alike; the thinner they are, the less they differ.
    const profile meat = lean_loin(40_cm, 2_mm);
    cut_spec linked{.name = "steak", .thickness = {33.4_mm, 38_mm}, .one_thickness = true};
    const planned coarse = even_portions(meat, {linked}, {}, 10);
    REQUIRE(coarse.feasible());
    const polished_cuts polished = polish(meat, {linked}, even_portions(10), 0.05_mm);
    CHECK(verify(polished.planned.plan, polished.meat, {linked}, {}) == std::vector<std::string>{});
    CHECK(polished.planned.plan.portion_count() == 10);
    std::set<long long> thicknesses;
    for (const slab& s : polished.planned.plan.slabs)
        if (s.kind == slab_kind::portions) thicknesses.insert(std::llround(s.thickness / (0.05_mm)));
    CHECK(thicknesses.size() == 1);
    CHECK(polished.planned.score() > coarse.score());
}

} // namespace polish_even_test
