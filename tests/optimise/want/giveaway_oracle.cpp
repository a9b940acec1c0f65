// Giveaway against every tiling of small loins, and what is refused.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <variant>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"
#include "optimise/score_numbers.hpp"

namespace giveaway_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("least giveaway equals the best of all tilings") {
    std::size_t gives = 0, whole_slabs = 0;
    for (std::uint64_t seed = 0; seed < rounds(500); ++seed) {
        dice d(seed + 750'000);
        request r = few_tilings(d);
        charged_weights charged;
        for (cut_spec& spec : r.specs) {
            if (!(spec.portion.min > mass{})) spec.portion.min = 10_g;
            spec.portion.max = std::max(spec.portion.max, spec.portion.min);
            if (d.once_in(2)) charged[spec.name] = d.between(0.5, 1.5) * spec.portion.min;
        }
        const small_request all(r);
        using score = lexicographic_score<std::int64_t, std::int64_t>;
        bool short_weight = false;
        const auto best = all.best<score>([&](std::size_t o, std::size_t from, std::size_t to) {
            if (!all.is_portion(o)) return score{};
            const cut_spec& spec = all.spec(o);
            const mass charge = charged.contains(spec.name) ? charged.at(spec.name) : spec.portion.min;
            short_weight = short_weight || charge > spec.portion.min;
            const std::int64_t above = all.masses(o, from, to).weight() - to_micrograms(charge).count * spec.pieces;
            // Limits and charges are rounded to whole micrograms, where a charge at the limit is met.
            return score{{spec.pieces, -std::max<std::int64_t>(above, 0)}};
        });
        CAPTURE(seed);
        const tranche::planned planned = least_giveaway(r.meat, r.specs, charged, r.rules);
        CHECK(values_of(planned) == detail::numbers_of(best));
        CHECK(verify(planned.plan, r.meat, r.specs, r.rules).empty());
        gives += std::get<1>(best.parts) < 0;
        whole_slabs += short_weight;
    }
    CHECK(gives > 100);
    CHECK(whole_slabs > 100);
}

TEST_CASE("giveaway of a prism is what its portions weigh above the charge") {
    // 14 cells of 1 cm, all of one weight m; portions of three or four cells charged at 2.9 m give 0.1 m or 1.1 m away.
    const profile meat = tabulate(prism_loin{.length = 14_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_cm);
    const mass cell = to_mass(meat.total()) / 14.0;
    const cut_spec steak{.name = "steak", .thickness = {3_cm, 4_cm}, .portion = {2.9 * cell, 5.0 * cell}};
    const tranche::planned planned = least_giveaway(meat, steak);
    REQUIRE(planned.feasible());
    CHECK(planned.plan.portion_count() == 4);
    // Masses of cells and limits are rounded to a microgram: at most one for each of 12 cells and 4 charges.
    CHECK_THAT(planned.score_parts[1].value, WithinAbs(-0.4 * cell.value() * 1e9, 16.0));
    CHECK(most_portions(meat, steak).plan.portion_count() == 4);
    CHECK(balance_of(most_portions(meat, steak).plan).portion_total() > balance_of(planned.plan).portion_total());
}

TEST_CASE("a charge that makes no sense is refused") {
    const profile meat = tabulate(prism_loin{.length = 14_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_cm);
    const cut_spec steak{.name = "steak", .thickness = {3_cm, 4_cm}, .portion = {300_g, 400_g}};
    const cut_spec any_weight{.name = "any", .thickness = {3_cm, 4_cm}};
    CHECK_THROWS_AS(least_giveaway(meat, any_weight), invalid_input);
    CHECK_THROWS_AS(least_giveaway(meat, steak, {{"chop", 300_g}}), invalid_input);
    CHECK_THROWS_AS(least_giveaway(meat, steak, {{"steak", 0_g}}), invalid_input);
    const cutting_problem problem(meat, {steak}, {});
    CHECK_THROWS_AS(giveaway_objective(problem, {{"steak", 301_g}}), invalid_input);
    CHECK_THROWS_AS(evenness_objective(problem, 0_g), invalid_input);
    CHECK_THROWS_AS(evenness_objective(problem, 1e6 * kilogram), invalid_input);
    CHECK(least_giveaway(meat, any_weight, {{"any", 300_g}}).feasible());
}

TEST_CASE("without a least portion all that a portion weighs is given away") {
    const profile meat = tabulate(prism_loin{.length = 14_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_cm);
    const cutting_problem problem(meat, {{.name = "any", .thickness = {3_cm, 4_cm}}}, {});
    const giveaway_objective giveaway(problem);
    CHECK(slab_score(giveaway, 1, 2, 6) == -problem.weight(1, 2, 6));
    // So that a what-if may lower a least portion all the way.
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {3_cm, 4_cm}, .portion = {9_kg, 10_kg}}}};
    const auto changes = nearest_feasible(meat, request, [](const cutting_problem& p) {
        return lexicographic(portion_count_objective(p), giveaway_objective(p));
    });
    CHECK(std::any_of(changes.begin(), changes.end(), [](const limit_change& change) {
        return change.which.what == request_limit::kind::portion_min && change.planned.feasible();
    }));
}

TEST_CASE("what-ifs keep the charges of the request, whatever becomes of its least portions") {
    // 20 g a millimetre: of the least portion that charges are taken from, a what-if leaves nothing.
    const profile meat = tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const cutting_request request{{{.name = "steak", .thickness = {10_mm, 40_mm}, .portion = {5_g, 400_g}}}, {}, {}};
    const auto costs = limit_costs(meat, request, least_giveaway(), {.thickness = 1_mm, .portion = 10_g});
    const auto said =
        limit_costs(meat, request, least_giveaway({{"steak", 5_g}}), {.thickness = 1_mm, .portion = 10_g});
    CHECK(costs == said);
    const auto lower = std::find_if(costs.begin(), costs.end(), [](const limit_cost& cost) {
        return cost.which.what == request_limit::kind::portion_min;
    });
    REQUIRE(lower != costs.end());
    CHECK(std::get<mass>(lower->to) == 0_g);
    CHECK(lower->planned.score_parts == least_giveaway(meat, request.cuts).score_parts); // no portion is as light
    CHECK_FALSE(one_more_portion(meat, request, least_giveaway()) ==
                std::vector<limit_change>{}); // a thinner one would do
    // A request that says no charge at all is still one to refuse.
    const cutting_request none{{{.name = "steak", .thickness = {10_mm, 40_mm}}}, {}, {}};
    CHECK_THROWS_AS(limit_costs(meat, none, least_giveaway()), invalid_input);
}

TEST_CASE("demands hold for least giveaway") {
    const profile meat = tabulate(prism_loin{.length = 24_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 5_mm);
    const cut_spec steak{.name = "steak", .thickness = {2_cm, 4_cm}, .portion = {240_g, 420_g}};
    const tranche::planned planned = least_giveaway(meat, steak, {}, {}, {exactly(3, "steak")});
    REQUIRE(planned.feasible());
    CHECK(planned.plan.portion_count() == 3);
    CHECK(planned.score_parts[0].value == 3.0);
}

TEST_CASE("labour is taken off the value of a slab") {
    const profile meat = tabulate(prism_loin{.length = 12_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_cm);
    const cut_spec plain{.name = "plain", .thickness = 3_cm, .pieces = 2},
        trimmed{.name = "trimmed", .thickness = 3_cm, .pieces = 2, .trim = {.tail = 1_cm}};
    price_list<usd> prices{.portions = {{"plain", {.each = 5_usd}}, {"trimmed", {.each = 5_usd}}}};
    const auto of_slab = [&](std::size_t option) {
        const cutting_problem problem(meat, {plain, trimmed}, {});
        return value_objective<usd>::worth(slab_score(value_objective<usd>(problem, prices), option, 0, 3)).value();
    };
    // Computed: two pieces at 5 USD less 0.40 for the slab, 2 × 0.25 for portions and 2 × 0.30 where trimmed.
    prices.labour = {.slab = 0.4_usd, .portion = 0.25_usd, .trimmed = 0.3_usd};
    CHECK_THAT(of_slab(1), WithinAbs(9.1, 1e-9));
    CHECK_THAT(of_slab(2), WithinAbs(8.5, 1e-9));
    prices.labour.slab = money<usd>::from_value(std::numeric_limits<double>::infinity());
    CHECK_THROWS_AS(of_slab(1), invalid_input);
}

} // namespace giveaway_oracle
