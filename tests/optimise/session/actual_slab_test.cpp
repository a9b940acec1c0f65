// Which cut a slab that is too light for its own may become: one whose limits it all keeps.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <vector>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/units/literals.hpp>

namespace actual_slab_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const auto most = [](const cutting_problem& problem) { return kept_mass_objective::portions_then_mass(problem); };

/// Invented: a second muscle from 40 mm on, so that the second slab of about 30 mm has it on one face and the third on both.
profile loin_with_second_muscle() {
    return tabulate(measured_loin{.length = 30_cm,
                                  .stations = {{.at = 0_cm, .width = 16_cm, .depth = 7_cm}},
                                  .gluteus_medius = {.onset = 4_cm, .share_at_end = 0.5}},
                    0.5_mm);
}

/// What becomes of the slab behind so many good ones, a tenth lighter than advised, if a second cut might take it.
actual_slab light_slab(std::size_t behind, const cut_spec& other) {
    static const profile meat = loin_with_second_muscle();
    const mass slab = to_mass(meat.between(0, 60)); // 30 mm at the rib
    const cut_spec steak{.name = "steak",
                         .thickness = {29_mm, 31_mm},
                         .portion = {0.95 * slab, 1.1 * slab},
                         .gluteus_medius = any_gluteus_medius};
    // Advice is by the number of steaks alone as long as the other is rarer.
    cutting_session s(meat, {{steak, other}, {}, {at_most(0, 1)}}, most);
    for (std::size_t i = 0; i < behind; ++i) s.record({.weight = s.next()->weight, .thickness = s.next()->thickness});
    REQUIRE(s.next());
    REQUIRE(s.next()->kind == slab_kind::portions);
    REQUIRE(s.next()->option == 0);
    return s.record({.weight = 0.88 * s.next()->weight, .thickness = s.next()->thickness});
}

/// A cut that takes any slab of about that thickness and weight.
cut_spec taker() { return {.name = "taker", .thickness = {25_mm, 35_mm}, .gluteus_medius = any_gluteus_medius}; }

} // namespace

TEST_CASE("a light slab becomes another cut only if it keeps that one's rule for the second muscle, on both faces") {
    const auto with = [](gluteus_medius_rule rule) {
        cut_spec other = taker();
        other.gluteus_medius = rule;
        return other;
    };
    const struct {
        std::size_t behind;
        gluteus_medius_rule rule;
        bool taken;
    } cases[] = {{0, no_gluteus_medius, true},  {0, on_one_face, true},  {0, any_gluteus_medius, true},
                 {1, no_gluteus_medius, false}, {1, on_one_face, true},  {1, any_gluteus_medius, true},
                 {2, no_gluteus_medius, false}, {2, on_one_face, false}, {2, any_gluteus_medius, true}};
    for (const auto& c : cases) {
        const actual_slab s = light_slab(c.behind, with(c.rule));
        CAPTURE(c.behind, c.rule.towards_rib, c.rule.towards_sirloin);
        CHECK(s.off < mass{});
        CHECK((s.to_do == remedy::another_spec) == c.taken);
        CHECK((s.to_do == remedy::to_loose) == !c.taken);
        if (c.taken) CHECK(s.other_spec == 1);
    }
}

TEST_CASE("a light slab becomes another cut only if it is as thick and as heavy as that one is to be") {
    CHECK(light_slab(0, taker()).to_do == remedy::another_spec);
    const mass portion = light_slab(0, taker()).portion;
    cut_spec other = taker();
    other.thickness = {25_mm, 28_mm};
    CHECK(light_slab(0, other).to_do == remedy::to_loose);
    other.thickness = {32_mm, 35_mm};
    CHECK(light_slab(0, other).to_do == remedy::to_loose);
    other = taker();
    other.portion = {0.9 * portion, 1.1 * portion};
    CHECK(light_slab(0, other).to_do == remedy::another_spec);
    other.portion = {1.05 * portion, 1.1 * portion};
    CHECK(light_slab(0, other).to_do == remedy::to_loose);
    other.portion = {0.9 * portion, 0.95 * portion};
    CHECK(light_slab(0, other).to_do == remedy::to_loose);
    other.portion = {0.45 * portion, 0.55 * portion};
    CHECK(light_slab(0, other).to_do == remedy::to_loose);
    other.pieces = 2;
    CHECK(light_slab(0, other).to_do == remedy::another_spec);
}

} // namespace actual_slab_test
