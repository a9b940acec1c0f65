// The named plans on published cuts and on invented requests with an answer that can be worked out by hand.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

namespace plans_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// The changing face of the published cuts: A(x) = 90 − 0.9 x + 0.006 x² cm², x in cm, all of it lean.
struct curved_loin {
    tranche::length length{};
    [[nodiscard]] tranche::length extent() const { return length; }
    [[nodiscard]] static face face_at(tranche::length at) {
        const double x = at / centimetre;
        face f;
        f.areas[tissue::eye] = (90.0 - 0.9 * x + 0.006 * x * x) * 1_cm2;
        return f;
    }
};
constexpr tissue_densities lean_only{{1.05_g_per_cm3, 1.05_g_per_cm3, 1.05_g_per_cm3, 1.05_g_per_cm3, 1.05_g_per_cm3}};

// Cuts for portions of 340 g in centimetres, computed to 12 digits from the antiderivative of A; the whole 40 cm weigh
// 3158.4 g.
constexpr double published_cuts[] = {3.66391184184, 7.46516571427, 11.4117677483, 15.5116515192,
                                     19.7723755496, 24.2006993492, 28.8020117369, 33.5795920439};

// Invented: 94.83 g a centimetre.
profile prism(length extent, length step = 1_mm) {
    return tabulate(prism_loin{.length = extent, .face = {.width = 16_cm, .depth = 7_cm}}, step);
}

} // namespace

TEST_CASE("the published loin with a changing face weighs what was published") {
    // Degree two: Simpson's rule is exact, and the sum is rounded to a microgram.
    CHECK_THAT(to_mass(tabulate(curved_loin{40_cm}, 1_mm, lean_only).total()) / gram, WithinAbs(3158.4, 1e-6));
    CHECK_THAT(to_mass(tabulate(curved_loin{published_cuts[3] * 1_cm}, 1_mm, lean_only).total()) / gram,
               WithinAbs(4 * 340.0, 1e-7)); // the cut is given to 1e-10 cm of 81 g each, and a microgram
}

TEST_CASE("equal portions of a changing face are cut within half a step of the published positions") {
    // The loin ends with its eighth portion, so that no meat is left over that could lie in front of the first.
    const curved_loin loin{published_cuts[7] * 1_cm};
    for (const length& step : {5_mm, 2_mm, 1_mm, 0.5_mm, 0.25_mm, 0.1_mm, 0.05_mm}) {
        const profile meat = tabulate(loin, step, lean_only);
        // The tightest limits that the grid can promise: each of a portion's two cuts lies up to half a cell from where it
        // should, and the heaviest cell, at the rib, has 90 cm² × 1.05 g/cm³.
        const mass cell = 90_cm2 * step * 1.05_g_per_cm3;
        const cut_spec portion{.name = "portion", .thickness = {20_mm, 80_mm}, .portion = {340_g - cell, 340_g + cell}};
        const tranche::planned planned = most_portions(meat, portion);
        CAPTURE(step / millimetre);
        REQUIRE(planned.plan.slabs.size() == 8);
        for (std::size_t k = 0; k < 8; ++k) {
            const slab& s = planned.plan.slabs[k];
            CHECK(s.kind == slab_kind::portions);
            // The published digits end at 1e-10 cm.
            CHECK(std::abs(s.end() / centimetre - published_cuts[k]) <= 0.5 * (step / centimetre) + 1e-9);
        }
        CHECK(verify(planned.plan, meat, {portion}, {}) == std::vector<std::string>{});
    }
}

TEST_CASE("one spec of a given thickness gives as many slices as there is room for behind the facing") {
    const profile meat = prism(41.9_cm);
    const cut_spec steak{.name = "steak", .thickness = 32_mm};
    for (int facing = 0; facing <= 40; ++facing) {
        const tranche::planned planned = most_portions(meat, steak, {.facing = static_cast<double>(facing) * 1_mm});
        CHECK(planned.plan.portion_count() == static_cast<std::size_t>((419 - facing) / 32));
    }
    // A kerf of 1 mm goes with every slice that does not end at the sirloin face: 12 × 33 + 23 mm.
    CHECK(most_portions(meat, {{.name = "steak", .thickness = 32_mm, .kerf = 1_mm}}).plan.portion_count() == 12);
    // 13 × 33 - 1 mm is 428 mm, so with this loin the last slice needs no kerf.
    CHECK(most_portions(prism(42.8_cm), {{.name = "steak", .thickness = 32_mm, .kerf = 1_mm}}).plan.portion_count() ==
          13);
    CHECK(most_portions(prism(42.7_cm), {{.name = "steak", .thickness = 32_mm, .kerf = 1_mm}}).plan.portion_count() ==
          12);
}

TEST_CASE("most portions and least waste differ where they must") {
    // 20 cells: six portions of 3 keep 18 of them, four of 5 keep all.
    const profile meat = prism(20_cm, 1_cm);
    const std::vector<cut_spec> specs{{.name = "thin", .thickness = 3_cm}, {.name = "thick", .thickness = 5_cm}};
    const planned most = most_portions(meat, specs), least = least_waste(meat, specs);
    CHECK(most.plan.portion_count() == 6);
    CHECK(least.plan.portion_count() == 6); // 5 × 3 + 5 keeps all 20 in six portions as well
    CHECK(balance_of(least.plan).portion_total() == meat.total());

    const profile nineteen = prism(19_cm, 1_cm);
    const std::vector<cut_spec> coarse{{.name = "thin", .thickness = 4_cm}, {.name = "thick", .thickness = 9_cm}};
    CHECK(most_portions(nineteen, coarse).plan.portion_count() == 4); // 4 × 4 = 16
    CHECK(least_waste(nineteen, coarse).plan.portion_count() == 2);   // 2 × 9 = 18
}

TEST_CASE("best value follows the prices") {
    const profile meat = prism(19_cm, 1_cm);
    const std::vector<cut_spec> specs{{.name = "thin", .thickness = 4_cm}, {.name = "thick", .thickness = 9_cm}};
    // Invented prices: by weight the thick cut is ahead, by the piece the thin one.
    price_list<usd> by_weight{
        .portions = {{"thin", {.by_weight = 20_usd / 1_kg}}, {"thick", {.by_weight = 21_usd / 1_kg}}}};
    CHECK(best_value(meat, specs, by_weight).plan.portion_count() == 2);
    const price_list<usd> by_piece{.portions = {{"thin", {.each = 10_usd}}, {"thick", {.each = 11_usd}}}};
    CHECK(best_value(meat, specs, by_piece).plan.portion_count() == 4);
    // Loose meat at more than either: nothing is portioned.
    by_weight.by_products[destination::grind] = 22_usd / 1_kg;
    CHECK(best_value(meat, specs, by_weight).stop == stop_reason::no_portion_pays);
}

TEST_CASE("a plan says how much work it was") {
    const profile meat = prism(20_cm);
    const tranche::planned planned = most_portions(
        meat, {{.name = "thin", .thickness = 3_cm}, {.name = "thick", .thickness = 5_cm}}, {.loose = {{}, {}}});
    CHECK(planned.searched.positions == 201);
    CHECK(planned.searched.options == 4);
    CHECK(planned.feasible());
    CHECK(planned.proven_optimal());
    CHECK(planned.why_not().empty());
}

} // namespace plans_test
