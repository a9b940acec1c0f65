// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/records/learned_losses.hpp>
#include <tranche/units/literals.hpp>

#include <cmath>
#include <limits>

#include "records/invented_records.hpp"
#include "support/catch.hpp"

namespace learned_losses_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

cutting_record loin(int day, mass bought, mass usable, mass purge, std::optional<double> predicted = std::nullopt) {
    cutting_record r{.date = invented_cuts::day(day),
                     .supplier = "a",
                     .bought = bought,
                     .usable = usable,
                     .purge = purge,
                     .predicted_yield = predicted};
    r.by_products[destination::grind] = bought - usable - purge;
    return r;
}

} // namespace

TEST_CASE("the ratio of sums and its error follow the handbook formula") {
    // By hand: parts 10, 20, 42 of 1000, 2000, 3000: r = 72 / 6000 = 0.012; off by -2, -4, 6; se^2 = 3 / 2 x 56 / 6000^2.
    const auto r = learned_ratio({10, 20, 42}, {1000, 2000, 3000});
    REQUIRE(r);
    CHECK_THAT(r->value, WithinRel(0.012, 1e-14));
    CHECK_THAT(*r->standard_error, WithinRel(std::sqrt(84.0) / 6000.0, 1e-12));
    CHECK_THAT(r->interval->high - r->value, WithinRel(student_t(0.95, 2) * std::sqrt(84.0) / 6000.0, 1e-12));
    CHECK_FALSE(learned_ratio({}, {}));
    CHECK_FALSE(learned_ratio({0, 0}, {0, 0}));
    CHECK_FALSE(learned_ratio({1}, {100})->standard_error);
    CHECK_FALSE(learned_ratio({1}, {100})->interval);
    CHECK_THROWS_WITH(learned_ratio({1, 2}, {1}), StartsWith("parts: got 2, expected 1"));
    CHECK_THROWS_WITH(learned_ratio({std::nan("")}, {1}), StartsWith("parts[0]: got nan"));
    CHECK_THROWS_WITH(learned_ratio({1}, {1}, 0.0), StartsWith("confidence"));
}

TEST_CASE("purge, trim and the correction of plans are learned from weights") {
    // Invented: 1 % and 3 % of purge on 5 and 6 kg; plans of 75 % came to 72 % and 70 %.
    const std::vector<cutting_record> records{loin(0, 5_kg, 3.6_kg, 50_g, 0.75), loin(1, 6_kg, 4.2_kg, 180_g, 0.75)};
    const learned_losses l = learn_losses(records);
    CHECK_THAT(l.purge.value, WithinRel(230.0 / 11000.0, 1e-13));
    CHECK_THAT(l.usable.value, WithinRel(7800.0 / 10770.0, 1e-13));
    CHECK_THAT(l.by_products[destination::grind].value, WithinRel(2970.0 / 10770.0, 1e-12));
    CHECK(l.by_products[destination::dice].value == 0.0);
    CHECK(l.by_products[destination::dice].standard_error == 0.0);
    CHECK_THAT(l.rest_over_planned->value, WithinRel(3200.0 / 2750.0, 1e-13)); // rest 1.4 + 1.8 of 1.25 + 1.5 kg
    CHECK_THAT(l.corrected_yield(0.75), WithinRel(1.0 - 0.25 * 3200.0 / 2750.0, 1e-13));
    CHECK(l.corrected_yield(0.0) == 0.0); // never below
    CHECK_THAT(l.expected_board_weight(5.5_kg) / 1_kg, WithinRel(5.5 * (1.0 - 230.0 / 11000.0), 1e-13));
}

TEST_CASE("one record teaches shares without an error and a record without plans no correction") {
    const learned_losses l = learn_losses({loin(0, 5_kg, 3.6_kg, 50_g)});
    CHECK_THAT(l.purge.value, WithinRel(0.01, 1e-13));
    CHECK_FALSE(l.purge.standard_error);
    CHECK_FALSE(l.rest_over_planned);
    CHECK(l.corrected_yield(0.73) == Approx(0.73).epsilon(1e-14));
    // Plans that expected no rest at all say nothing of how it comes out.
    CHECK_FALSE(learn_losses({loin(0, 5_kg, 3.6_kg, 50_g, 1.0)}).rest_over_planned);
    CHECK_THROWS_WITH(learn_losses({}), StartsWith("records: got none"));
    CHECK_THROWS_WITH(learn_losses({loin(0, 5_kg, 3.6_kg, 50_g)}, {.confidence = 2.0}), StartsWith("confidence"));
}

TEST_CASE("what was learned of purge calibrates a loin that is still in its bag") {
    const learned_losses l = learn_losses(invented_cuts::records(9, 40));
    const measured_loin readings{
        .length = 42_cm, .stations = {{.at = 0_cm, .width = 22_cm, .depth = 8_cm, .fat_cover = 9_mm, .tail = 4_cm}}};
    const purchase<eur> bought{.weight = 5.9_kg, .price = 18_eur / 1_kg};
    const mass board = l.expected_board_weight(bought.weight);
    const profile meat = calibrated_profile(readings, board, {.step = 1_mm});
    const cutting_plan cuts = lay_out(meat, {{.name = "steak", .thickness = 30_mm}}, {},
                                      {{0, 300, slab_kind::portions, 0}, {300, meat.cells(), slab_kind::loose, 0}});
    const bill<eur> settled = settle(cuts, bought);
    CHECK_THAT(to_mass(settled.purge) / bought.weight, WithinAbs(l.purge.value, 1e-9)); // whole micrograms of 5.9 kg
}

TEST_CASE("learned losses: name an argument that cannot be") {
    learned_losses l = learn_losses({loin(0, 5_kg, 3.6_kg, 50_g)});
    const double nan = std::nan("");
    CHECK_THROWS_WITH(l.expected_board_weight(-1_kg), StartsWith("bought: got -1000 g"));
    CHECK_THROWS_WITH(l.expected_board_weight(nan * 1_kg), StartsWith("bought: got nan"));
    CHECK_THROWS_WITH(l.purchase_for(-1_kg), StartsWith("board: got -1000 g"));
    CHECK_THROWS_WITH(l.purchase_for(nan * 1_kg), StartsWith("board: got nan"));
    CHECK_THROWS_WITH(l.corrected_yield(-0.1), StartsWith("planned: got -0.1"));
    CHECK_THROWS_WITH(l.corrected_yield(nan), StartsWith("planned: got nan"));
    l.purge.value = 1.0;
    CHECK_THROWS_WITH(l.purchase_for(1_kg), StartsWith("purge: got 1, expected a share, 0 to below 1"));
}

} // namespace learned_losses_test
