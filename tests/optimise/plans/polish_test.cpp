// Cuts below the grid: against published positions of equal portions, and prisms that can be worked out by hand.
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

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/optimise/plans/polish.hpp>
#include <tranche/optimise/plans/settings_want.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/changing_face.hpp"
#include "optimise/instances.hpp"

namespace polish_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr auto by_count = [](const cutting_problem& problem) {
    return kept_mass_objective::portions_then_mass(problem);
};

/// Wants every portion near 340 g.
struct near_340_g {
    using score_type = double;
    const cutting_problem& problem;
    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const {
        if (!problem.is_portion(option)) return 0.0;
        const double off = to_mass({problem.weight(option, from, to)}) / (340_g) - 1.0;
        return 1.0 - 25.0 * off * off;
    }
};

/// Wants every portion near a weight.
struct near_weight {
    using score_type = double;
    const cutting_problem& problem;
    mass target;
    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const {
        const int pieces = problem.pieces(option);
        if (pieces == 0) return 0.0;
        const double off = to_mass({problem.weight(option, from, to)}) / (pieces * target) - 1.0;
        return pieces * (1.0 - off * off);
    }
};

/// Counts slabs of portions, slab by slab.
struct slabs_counted {
    using score_type = double;
    const cutting_problem& problem;
    [[nodiscard]] double slab(std::size_t option, std::size_t, std::size_t) const {
        return problem.is_portion(option) ? 1.0 : 0.0;
    }
};

/// As `near_340_g`, but NaN or infinite for slabs of portions of an odd number of cells.
struct not_finite_for_odd {
    using score_type = double;
    near_340_g inner;
    double bad;
    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const {
        return inner.problem.is_portion(option) && (to - from) % 2 == 1 ? bad : inner.slab(option, from, to);
    }
};

std::pair<mass, mass> lightest_and_heaviest(const cutting_plan& cuts) {
    mass low = unlimited<mass>(), high{};
    for (const slab& s : cuts.slabs)
        for (const micrograms w : cuts.portions_of(s)) {
            low = std::min(low, to_mass(w));
            high = std::max(high, to_mass(w));
        }
    return {low, high};
}

std::vector<std::string> faults(const polished_cuts& p, const cutting_request& request) {
    return verify(p.planned.plan, p.meat, request.cuts, request.rules);
}

} // namespace

TEST_CASE("equal portions of a changing face are cut where the closed form says") {
    // As much of the loin as eight portions take, so that sharing it out evenly is portions of 340 g.
    const profile meat = lean_loin(cuts_for_340_g.back() * centimetre, 0.5_mm);
    const cutting_request request{
        .cuts = {{.name = "steak", .thickness = {3_cm, 6_cm}, .portion = {339.9_g, 340.1_g}}}};
    CHECK_FALSE(most_portions(meat, request.cuts).plan.portion_count() == 8); // the grid has no such cuts
    const polished_cuts polished = polish(meat, request, by_count);
    REQUIRE(polished.planned.plan.portion_count() == 8);
    REQUIRE(polished.planned.plan.slabs.size() == 8);
    CHECK(polished.planned.proven_optimal());
    CHECK(faults(polished, request) == std::vector<std::string>{});
    for (std::size_t i = 0; i + 1 < cuts_for_340_g.size(); ++i) {
        const double cut = polished.planned.plan.slabs[i].end() / centimetre;
        // Half a step of 0.01 mm. The straight line between positions of 0.5 mm is off by step²/8 × 0.9/90 per cm,
        // 3e-5 mm.
        CHECK_THAT(cut, WithinAbs(cuts_for_340_g[i], 0.0005 + 0.000004));
    }
    const auto [low, high] = lightest_and_heaviest(polished.planned.plan);
    CHECK((high - low) / gram < 2 * 0.0945); // either end of a portion within half of 0.01 mm × 90 cm² × 1.05 g/cm³
}

TEST_CASE("an objective by the whole slab is polished to the weight it wants") {
    const profile meat = lean_loin(40_cm, 1_mm);
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {3_cm, 5_cm}}}};
    const auto make = [](const cutting_problem& problem) { return near_340_g{problem}; };
    const planned coarse = plan(meat, request, make);
    const polished_cuts polished = polish(meat, request, make);
    CHECK(polished.planned.plan.portion_count() == coarse.plan.portion_count());
    CHECK(polished.planned.score() > coarse.score());
    CHECK(polished.planned.stop == stop_reason::gap_left);
    CHECK_FALSE(polished.planned.proven_optimal());
    CHECK(polished.planned.feasible());
    CHECK(faults(polished, request) == std::vector<std::string>{});
    // One cut after the other, each can be within half of 0.01 mm, 0.0473 g, of 340 g; the best is no worse in the sum
    // of squares, so no portion is further off than √9 times that.
    const auto [low, high] = lightest_and_heaviest(polished.planned.plan);
    CHECK(std::abs(low / gram - 340.0) < 3 * 0.0473);
    CHECK(std::abs(high / gram - 340.0) < 3 * 0.0473);
    const auto [coarse_low, coarse_high] = lightest_and_heaviest(coarse.plan);
    CHECK((coarse_high - coarse_low) / gram > 1.0); // the grid is 9 g a millimetre
}

TEST_CASE("a window narrower than the grid is kept below it") {
    const profile meat = tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    for (const double thick : {20.2, 20.5, 20.83}) {
        const cutting_request request{.cuts = {{.name = "steak", .thickness = thick * millimetre, .kerf = 0.3_mm}}};
        CAPTURE(thick);
        for (const slab& s : most_portions(meat, request.cuts).plan.slabs) // what there is to mend
            if (s.kind == slab_kind::portions) CHECK(std::abs(s.thickness / millimetre - thick) > 0.1);
        const auto kept = [&](const polished_cuts& polished) {
            CHECK(faults(polished, request) == std::vector<std::string>{});
            CHECK(polished.planned.plan.portion_count() == 9); // 9 × 20.5 to 21.13 mm of 200 mm
            for (const slab& s : polished.planned.plan.slabs)
                if (s.kind == slab_kind::portions) CHECK_THAT(s.thickness / millimetre, WithinAbs(thick, 1e-9));
        };
        kept(polish(meat, request, by_count));
        kept(polish(meat, request, [](const cutting_problem& p) { return slabs_counted{p}; }));
    }
}

TEST_CASE("slabs that do not fit below the grid stay as they are") {
    // On the grid 20.1 mm are met by 20 mm, which fit ten times into 200 mm; ten of 20.1 mm do not.
    const profile meat = tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const cutting_request request{.cuts = {{.name = "steak", .thickness = 20.1_mm}}};
    const polished_cuts kept = polish(meat, request, [](const cutting_problem& p) { return slabs_counted{p}; });
    CHECK(kept.planned.plan.portion_count() == 10);
    CHECK(kept.meat.cells() == meat.cells());
    CHECK(faults(kept, request) == std::vector<std::string>{});
    CHECK(polish(meat, request, by_count).planned.plan.portion_count() == 9); // planned anew, one goes
}

TEST_CASE("polishing shares a prism out to the last hundredth of a millimetre") {
    // 193 mm behind the facing in six: 32.1666 mm each, and on the grid of 0.01 mm 32.16 or 32.17.
    const profile meat = tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 5_mm);
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {30_mm, 40_mm}}}, .rules = {.facing = 7_mm}};
    const polished_cuts polished = polish(meat, request, by_count);
    REQUIRE(polished.planned.plan.slabs.size() == 7);
    CHECK_THAT(polished.planned.plan.slabs.front().thickness / millimetre, WithinAbs(7.0, 1e-9)); // the facing as asked
    for (std::size_t i = 1; i < 7; ++i)
        CHECK_THAT(polished.planned.plan.slabs[i].thickness / millimetre, WithinAbs(193.0 / 6.0, 0.01));
    CHECK(faults(polished, request) == std::vector<std::string>{});
}

TEST_CASE("demands hold after polishing") {
    const profile meat = lean_loin(40_cm, 1_mm);
    const cutting_request request{.cuts = {{.name = "thick", .thickness = {4_cm, 5_cm}, .portion = {355_g, 360_g}},
                                           {.name = "thin", .thickness = {2_cm, 3_cm}}},
                                  .demands = {exactly(3, "thick"), at_most(4, "thin")}};
    const polished_cuts polished = polish(meat, request, by_count);
    CHECK(polished.planned.feasible());
    CHECK(faults(polished, request) == std::vector<std::string>{});
    std::size_t thick = 0, thin = 0;
    for (const slab& s : polished.planned.plan.slabs)
        if (s.kind == slab_kind::portions) ++(s.option == 0 ? thick : thin);
    CHECK(thick == 3);
    CHECK(thin == 4);
}

TEST_CASE("what cannot be planned cannot be polished, and bad resolutions are refused") {
    const profile meat = lean_loin(40_cm, 1_mm);
    const cutting_request request{.cuts = {{.name = "long", .thickness = 50_cm}}};
    CHECK_FALSE(polish(meat, request, by_count).planned.feasible());
    CHECK_FALSE(polish(meat, request, [](const cutting_problem& p) { return near_340_g{p}; }).planned.feasible());
    CHECK_THROWS_AS(polish(meat, request, by_count, 0_mm), invalid_input);
    CHECK_THROWS_AS(polish(meat, request, by_count, 1e-9 * millimetre), invalid_input);
}

TEST_CASE("an objective that is not finite between the positions of the grid has no polished plan") {
    // Every slab of the coarse grid is a whole number of twenty finer cells, so the coarse plan meets no odd one; and the
    // first slab that is looked at on the finer grid is an even one as well.
    const profile meat = lean_loin(40_cm, 1_mm);
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {3_cm, 5_cm}}}};
    for (const double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
        const auto make = [&](const cutting_problem& p) {
            const bool fine = p.cells() > 400;
            return not_finite_for_odd{{p}, fine ? bad : 0.0};
        };
        REQUIRE(plan(meat, request, make).feasible());
        const polished_cuts polished = polish(meat, request, make, 0.05_mm);
        CHECK(polished.planned.stop == stop_reason::objective_not_finite);
        CHECK_FALSE(polished.planned.feasible());
        CHECK_FALSE(polished.planned.proven_optimal());
        CHECK(std::isnan(polished.planned.score()));
        CHECK_THAT(polished.planned.why_not(), ContainsSubstring("not finite"));
    }
}

TEST_CASE("polish keeps cuts off what an objective forbids between the positions of the grid") {
    const profile meat = lean_loin(40_cm, 1_mm);
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {3_cm, 5_cm}}}};
    const auto make = [&](const cutting_problem& p) {
        return not_finite_for_odd{{p}, -std::numeric_limits<double>::infinity()};
    };
    const polished_cuts polished = polish(meat, request, make, 0.05_mm);
    CHECK(polished.planned.stop == stop_reason::gap_left);
    CHECK(polished.planned.plan.portion_count() > 8);
    CHECK(polished.meat.cells() == 8000);
    for (const slab& s : polished.planned.plan.slabs)
        if (s.kind == slab_kind::portions)
            CHECK((polished.meat.nearest(s.end()) - polished.meat.nearest(s.start)) % 2 == 0);
}

TEST_CASE("polished cuts keep to zones and to the notches of a slicer") {
    const profile meat = lean_loin(40_cm, 1_mm);
    const cutting_request request{
        .cuts = {{.name = "notched", .thickness = {32_mm, 38.5_mm}, .zone = {5.05_cm, 30_cm}, .thickness_step = 2_mm}}};
    const auto by_weight = [](const cutting_problem& p) { return near_340_g{p}; };
    const polished_cuts separable = polish(meat, request, by_count, 0.05_mm);
    const polished_cuts whole = polish(meat, request, by_weight, 0.05_mm);
    for (const polished_cuts* polished : {&separable, &whole}) {
        CHECK(polished->planned.plan.portion_count() > 0);
        CHECK(faults(*polished, request) == std::vector<std::string>{});
    }
}

TEST_CASE("a polished plan scores no less than the coarse one, and a wider window no less than a narrow one") {
    std::size_t better = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 830'000);
        const length step = detail::snapped(d.between(3.0, 10.0) * millimetre);
        request r{random_profile(d, d.whole(20, 60), step), {}, {}};
        r.specs.push_back(random_spec(d, r.meat, "cut", 3.0, 9.0));
        const std::size_t parts = 20;
        const length fine = step / static_cast<double>(parts);
        quantity_range<length>& window = r.specs[0].thickness; // narrower than the grid, and on the finer one
        window.min = std::round(window.min / fine) * fine;
        window.max = window.min + static_cast<double>(d.whole(0, parts - 1)) * fine;
        r.specs[0].kerf = static_cast<double>(d.whole(0, 10)) * fine;
        r.specs[0].portion = {};
        const cutting_request narrow{r.specs, r.rules, {}};
        const cutting_request wide = moved(narrow, {request_limit::kind::thickness_max, 0}, window.max + step);
        CAPTURE(seed);
        const polished_cuts one = polish(r.meat, narrow, by_count, fine), two = polish(r.meat, wide, by_count, fine);
        CHECK(faults(one, narrow) == std::vector<std::string>{});
        CHECK(faults(two, wide) == std::vector<std::string>{});
        CHECK(two.planned.plan.portion_count() >= one.planned.plan.portion_count());
        CHECK(two.planned.score() >= one.planned.score());
        const std::size_t coarse = plan(r.meat, wide, by_count).plan.portion_count();
        CHECK(two.planned.plan.portion_count() >= coarse);
        better += two.planned.plan.portion_count() > coarse;
    }
    CHECK(better > 0);
}

TEST_CASE("cuts of one thickness are polished together") {
    // 193 mm behind the facing: 6 × 32.16 mm leave 0.04 mm, and 6 × 32.17 are too much. The coarse grid has 190 mm behind
    // the facing, and six cuts of 30 mm.
    const profile meat = tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 5_mm);
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {30_mm, 40_mm}, .one_thickness = true}},
                                  .rules = {.facing = 7_mm}};
    const polished_cuts polished = polish(meat, request, by_count);
    CHECK(faults(polished, request) == std::vector<std::string>{});
    REQUIRE(polished.planned.plan.portion_count() == 6);
    for (const slab& s : polished.planned.plan.slabs)
        if (s.kind == slab_kind::portions) CHECK_THAT(s.thickness / millimetre, WithinAbs(32.16, 1e-9));
    CHECK(polished.planned.proven_optimal());
    // So with a demand: four thick cuts and, of what is left, one roast of 40 mm or more; 4 × 38.25 mm leave just that.
    const cutting_request asked{.cuts = {{.name = "steak", .thickness = {30_mm, 40_mm}, .one_thickness = true},
                                         {.name = "roast", .thickness = {40_mm, 45_mm}}},
                                .rules = {.facing = 7_mm},
                                .demands = {exactly(4, "steak"), exactly(1, "roast")}};
    const polished_cuts both = polish(meat, asked, [](const cutting_problem& p) {
        return value_objective<usd>(
            p, {.portions = {{"steak", {.by_weight = 36_usd / 1_kg}}, {"roast", {.by_weight = 20_usd / 1_kg}}}});
    });
    CHECK(faults(both, asked) == std::vector<std::string>{});
    REQUIRE(both.planned.plan.portion_count() == 5);
    for (const slab& s : both.planned.plan.slabs) {
        if (s.kind == slab_kind::portions && s.option == 0)
            CHECK_THAT(s.thickness / millimetre, WithinAbs(38.25, 1e-9));
        if (s.kind == slab_kind::portions && s.option == 1) CHECK_THAT(s.thickness / millimetre, WithinAbs(40.0, 1e-9));
    }
}

TEST_CASE("polished cuts of one thickness are no fewer than on the coarse grid") {
    std::size_t better = 0, seen = 0, kept = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 840'000);
        request r = request_on_coarse_grid(d, 20, 50, 4);
        const length step = r.meat.step();
        const std::size_t parts = 5, specs = r.specs.size();
        for (cut_spec& spec : r.specs) spec.one_thickness = true;
        if (specs == 2 && d.once_in(2)) r.rules.order.push_back({r.specs[0].name, r.specs[1].name});
        const cutting_request asked{r.specs, r.rules, {}};
        const planned coarse = plan(r.meat, asked, by_count);
        if (!coarse.feasible()) continue;
        const polished_cuts polished = polish(r.meat, asked, by_count, step / static_cast<double>(parts));
        CAPTURE(seed);
        ++seen;
        CHECK(faults(polished, asked) == std::vector<std::string>{});
        CHECK(polished.planned.proven_optimal());
        // At the sirloin face half a step of either grid is one thickness, which is less on the finer one.
        const bool apart = std::any_of(coarse.plan.slabs.begin(), coarse.plan.slabs.end(), [&](const slab& s) {
            const auto same = [&](const slab& o) { return o.kind == s.kind && o.option == s.option; };
            const auto first = std::find_if(coarse.plan.slabs.begin(), coarse.plan.slabs.end(), same);
            return s.kind == slab_kind::portions && std::abs(double((s.thickness - first->thickness) / step)) > 1e-6;
        });
        if (!apart) CHECK(polished.planned.plan.portion_count() >= coarse.plan.portion_count());
        kept += !apart;
        better += polished.planned.score() > coarse.score();
    }
    CHECK(seen > 20);
    CHECK(better > 10);
    CHECK(kept > 10);
}

TEST_CASE("cuts of one thickness move together where an objective looks at whole slabs") {
    // 390 mm behind a facing of 10 mm: twelve cuts of 32.5 mm would weigh what is aimed at; the loose meat that the coarse plan
    // has behind its cuts of 32 mm stays, and 32.49 mm leave 0.12 mm for it.
    const profile meat = tabulate(prism_loin{.length = 40_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const mass target = 0.975 * to_mass(meat.total()) / 12.0;
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {31_mm, 40_mm}, .one_thickness = true}},
                                  .rules = {.facing = 10_mm}};
    const polished_cuts polished = polish(meat, request, best_by<near_weight>(target));
    CHECK(faults(polished, request) == std::vector<std::string>{});
    CHECK(polished.meat.cells() == 40'000);
    CHECK(polished.planned.stop == stop_reason::gap_left);
    REQUIRE(polished.planned.plan.portion_count() == 12);
    for (const slab& s : polished.planned.plan.slabs)
        if (s.kind == slab_kind::portions) CHECK_THAT(s.thickness / millimetre, WithinAbs(32.49, 1e-9));
}

TEST_CASE("cuts of one thickness that move together score between the coarse plan and the best on the finer grid") {
    std::size_t seen = 0, better = 0, best = 0;
    for (std::uint64_t seed = 0; seed < rounds(40); ++seed) {
        dice d(seed + 845'000);
        request r = request_on_coarse_grid(d, 20, 40, 4);
        const length step = r.meat.step();
        const std::size_t parts = 5;
        for (cut_spec& spec : r.specs) spec.one_thickness = &spec == &r.specs.front() || d.once_in(2);
        const cutting_request asked{r.specs, r.rules, {}};
        const auto want = best_by<near_weight>(to_mass(r.meat.total()) / d.between(4.0, 9.0));
        const planned coarse = plan(r.meat, asked, want);
        if (!coarse.feasible()) continue;
        const polished_cuts polished = polish(r.meat, asked, want, step / static_cast<double>(parts));
        CAPTURE(seed);
        CHECK(faults(polished, asked) == std::vector<std::string>{});
        if (polished.meat.cells() == r.meat.cells())
            continue; // half a step at the sirloin face is less on the finer grid
        ++seen;
        const double most = plan(polished.meat, asked, want).score();
        CHECK(polished.planned.score() <= most + 1e-9);
        better += polished.planned.score() > coarse.score() + 1e-9;
        best += polished.planned.score() > most - 1e-9;
    }
    CHECK(seen > 15);
    CHECK(better > 10);
    CHECK(best > 5);
}

TEST_CASE("a plan of few settings is polished setting by setting") {
    std::size_t seen = 0, heavier = 0;
    for (std::uint64_t seed = 0; seed < rounds(30); ++seed) {
        dice d(seed + 846'000);
        request r = request_on_coarse_grid(d, 20, 40, 4);
        const length step = r.meat.step();
        const std::size_t parts = 5;
        for (cut_spec& spec : r.specs) spec.kerf = static_cast<double>(d.whole(0, 1)) * step;
        const cutting_request asked{r.specs, r.rules, {}};
        const planned coarse = plan(r.meat, asked, fewest_settings());
        if (!coarse.feasible()) continue;
        const polished_cuts polished = polish(r.meat, asked, fewest_settings(), step / static_cast<double>(parts));
        CAPTURE(seed);
        CHECK(faults(polished, asked) == std::vector<std::string>{});
        if (polished.meat.cells() == r.meat.cells()) continue;
        ++seen;
        REQUIRE(polished.planned.score_parts.size() == 3);
        CHECK(polished.planned.score_parts[0].value == coarse.score_parts[0].value);
        CHECK(polished.planned.plan.portion_count() == coarse.plan.portion_count());
        // In cells of the finer grid; up to the sirloin face a thickness is the nearest one.
        std::set<long long> thicknesses;
        const length cell = step / static_cast<double>(parts);
        for (const slab& s : polished.planned.plan.slabs)
            if (s.kind == slab_kind::portions && s.end() < polished.meat.extent())
                thicknesses.insert(std::llround(s.thickness / cell));
        CHECK(static_cast<double>(thicknesses.size()) <= -coarse.score_parts[1].value);
        heavier += polished.planned.score_parts[2].value > coarse.score_parts[2].value;
    }
    CHECK(seen > 10);
    CHECK(heavier > 5);
}

} // namespace polish_test
