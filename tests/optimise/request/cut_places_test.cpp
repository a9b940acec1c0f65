// Cuts that are pinned and stretches that are kept whole: what is refused, what plans, sessions and polish make of them.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <limits>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"
#include "optimise/three_cuts.hpp"

namespace cut_places_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

bool is_cut_at(const cutting_plan& p, length at) {
    return std::any_of(p.slabs.begin(), p.slabs.end(),
                       [&](const slab& s) { return detail::snapped(s.end()) == detail::snapped(at); });
}
/// What `cutting_rules` on a loin of 42 cm are refused for.
std::string refused(const cutting_rules& rules) {
    try {
        validate(rules, 42_cm);
        return "";
    } catch (const invalid_input& error) {
        return error.what();
    }
}

struct nan_in_the_middle {
    using score_type = double;
    const cutting_problem* problem;
    [[nodiscard]] double slab(std::size_t o, std::size_t from, std::size_t) const {
        if (problem->is_portion(o) && from == 100) return std::numeric_limits<double>::quiet_NaN();
        return problem->is_portion(o) ? 1.0 : 0.0;
    }
};

} // namespace

TEST_CASE("places that make no sense are refused by field, value and what was expected") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(refused({.cut_at = {12_cm, 42_cm}, .kept_whole = {{12_cm, 20_cm}, {30_cm, 50_cm}}}).empty() == false);
    CHECK(refused({.cut_at = {12_cm, 30_cm}, .kept_whole = {{12_cm, 20_cm}, {30_cm, 50_cm}}}) == "");
    CHECK_THAT(refused({.cut_at = {12_cm, 43_cm}}), ContainsSubstring("cut_at[1]") && ContainsSubstring("430 mm") &&
                                                        ContainsSubstring("to the sirloin face at 420 mm"));
    CHECK_THAT(refused({.facing = 6_mm, .cut_at = {5_mm}}),
               ContainsSubstring("cut_at[0]") && ContainsSubstring("from the facing cut at 6 mm"));
    CHECK_THAT(refused({.cut_at = {nan * metre}}), ContainsSubstring("cut_at[0]"));
    CHECK_THAT(refused({.cut_at = {15_cm}, .kept_whole = {{12_cm, 20_cm}}}),
               ContainsSubstring("cut_at[0]") && ContainsSubstring("outside of kept_whole[0], 120 mm to 200 mm"));
    CHECK_THAT(refused({.kept_whole = {{12_cm, 10_cm}}}), ContainsSubstring("kept_whole[0].max"));
    CHECK_THAT(refused({.kept_whole = {{-1_cm, 10_cm}}}), ContainsSubstring("kept_whole[0].min"));
    CHECK_THAT(refused({.facing = 6_mm, .kept_whole = {{0_mm, 10_cm}}}),
               ContainsSubstring("kept_whole[0].min") && ContainsSubstring("facing cut at 6 mm"));
    // Whole steps of the grid decide where the facing is cut.
    const profile coarse = measured_strip(5_mm);
    CHECK_THROWS_AS(cutting_problem(coarse, three_cuts(), {.facing = 6_mm, .kept_whole = {{8_mm, 50_mm}}}),
                    invalid_input);
}

TEST_CASE("one place is one cut, in whatever unit it is written") {
    const profile meat = measured_strip(0.5_mm);
    const cutting_rules metric{.cut_at = {127_mm}}, inches{.cut_at = {5_in}};
    CHECK(most_portions(meat, three_cuts(), metric).plan == most_portions(meat, three_cuts(), inches).plan);
}

TEST_CASE("a plan has the cuts that are pinned, none in what is kept whole, and verify says so") {
    const profile meat = measured_strip(0.5_mm);
    const std::vector<cut_spec> cuts = three_cuts();
    const cutting_rules rules{.facing = 6_mm, .cut_at = {201.3_mm}, .kept_whole = {{240_mm, 262_mm}}};
    for (const auto& best : {most_portions(meat, cuts, rules), least_waste(meat, cuts, rules),
                             fewest_settings(meat, cuts, rules).planned, even_portions(meat, cuts, rules)}) {
        CHECK(best.feasible());
        CHECK(is_cut_at(best.plan, 201.5_mm)); // the nearest position
        CHECK(verify(best.plan, meat, cuts, rules) == std::vector<std::string>{});
    }
    for (const front_point& point : count_and_waste_front(meat, cuts, rules))
        CHECK(verify(point.plan, meat, cuts, rules) == std::vector<std::string>{});
    planned free = most_portions(meat, cuts, {.facing = 6_mm});
    free.plan.rules = rules;
    const std::vector<std::string> faults = verify(free.plan, meat, cuts, rules);
    REQUIRE_FALSE(faults.empty());
    CHECK_THAT(faults.back(), ContainsSubstring("no cut at 201.3 mm"));
    // Each cut of the free plan, kept whole one by one, is a fault.
    for (const slab& s : free.plan.slabs) {
        if (s.kind == slab_kind::facing || detail::snapped(s.end()) == meat.extent()) continue;
        free.plan.rules = {.facing = 6_mm, .kept_whole = {{s.end() - 0.25_mm, s.end() + 0.25_mm}}};
        CHECK(verify(free.plan, meat, cuts, free.plan.rules).size() == 1);
    }
}

TEST_CASE("demands and what-ifs keep to pinned cuts, and what they shut out is named") {
    const profile meat = measured_strip(1_mm);
    const cutting_rules rules{.cut_at = {200_mm}};
    const auto best = plan(meat, {three_cuts(), rules, {exactly(4, "fillet")}}, most_portions());
    CHECK(best.feasible());
    CHECK(is_cut_at(best.plan, 200_mm));
    // Pinned cuts 2 cm apart leave a roast of 8 cm no room.
    cutting_rules everywhere;
    for (int k = 1; k < 21; ++k) everywhere.cut_at.push_back(2.0 * k * centimetre);
    const std::vector<cut_spec> roast{{.name = "roast", .thickness = {80_mm, 100_mm}}};
    const auto none = most_portions(meat, roast, everywhere);
    CHECK(none.stop == stop_reason::no_portion_fits);
    CHECK(none.limits.front().what == binding_limit::kind::places);
    CHECK_THAT(none.why_not(), ContainsSubstring("roast: every slab") && ContainsSubstring("has to be there"));
    CHECK(none.plan.slabs.size() == 21); // loose meat, cut where it has to be
}

TEST_CASE("polish puts a pinned cut where it was asked for, to the finer grid") {
    const profile meat = measured_strip(2_mm);
    const cutting_rules rules{.cut_at = {201.3_mm}, .kept_whole = {{240_mm, 262_mm}}};
    const auto check = [&](const polished_cuts& fine) {
        CHECK(fine.planned.feasible());
        CHECK(is_cut_at(fine.planned.plan, 201.3_mm));
        CHECK(verify(fine.planned.plan, fine.meat, three_cuts(), rules) == std::vector<std::string>{});
    };
    check(polish(meat, {three_cuts(), rules}, most_portions(), 0.1_mm));
    check(polish(meat, {three_cuts(), rules, {exactly(4, "fillet")}}, most_portions(), 0.1_mm)); // cuts move
    check(polish(meat, {three_cuts(), rules}, even_portions(), 0.1_mm));
}

TEST_CASE("an objective that is not finite somewhere is found out between pinned cuts too") {
    const profile meat = measured_strip(1_mm);
    const cutting_problem problem(meat, three_cuts(), {.cut_at = {60_mm}});
    CHECK(plan(problem, nan_in_the_middle{&problem}).stop == stop_reason::objective_not_finite);
    // Where no slab may start, nobody asks.
    const cutting_problem elsewhere(meat, three_cuts(), {.kept_whole = {{98_mm, 102_mm}}});
    CHECK(plan(elsewhere, nan_in_the_middle{&elsewhere}).feasible());
}

TEST_CASE("a session that goes as planned makes the pinned cuts of its first plan") {
    std::size_t made = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 1'830'000);
        request r = request_of_size(d, 40, 120);
        for (cut_spec& spec : r.specs) spec.kerf = length{};
        add_places(d, r);
        const length start = r.meat.position(detail::position_behind_facing(r.meat, r.rules));
        const auto inside = [&](const quantity_range<length>& s) { return detail::is_inside(start, s); };
        if (std::any_of(r.rules.kept_whole.begin(), r.rules.kept_whole.end(), inside)) continue;
        CAPTURE(seed);
        cutting_session session(r.meat, {r.specs, r.rules}, most_portions());
        const std::vector<grid_slab> first(session.plan_of_rest().begin(), session.plan_of_rest().end());
        const detail::cut_places places(r.meat, r.rules);
        std::size_t crossed = 0;
        for (std::size_t k = 0; session.next() && k < 100; ++k) {
            const auto rest = session.plan_of_rest();
            for (const grid_slab& s : rest) crossed += places.next_pin(s.from, r.meat.cells()) < s.to;
            const grid_slab next = rest.front();
            made += places.is_pinned(next.to);
            if (session.next()->last) break;
            session.record({.weight = to_mass({r.meat.cumulative()[next.to] - r.meat.cumulative()[next.from]}),
                            .thickness = r.meat.position(next.to) - r.meat.position(next.from)});
        }
        CHECK(crossed == 0);
    }
    CHECK(made > 20);
}

} // namespace cut_places_test
