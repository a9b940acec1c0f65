// What a record teaches of fat cover and tail, on records invented from loins that differ from their tape by known factors.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <tuple>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/records/learned_losses.hpp>
#include <tranche/records/learned_trim.hpp>
#include <tranche/units/literals.hpp>

#include "records/invented_records.hpp"
#include "support/catch.hpp"

namespace learned_trim_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct taped_test {
    measured_loin readings;
    mass board;
};

/// Four loins of one length and different girth, cover and tail. Invented.
std::vector<taped_test> taped_tests() {
    std::vector<taped_test> tests;
    for (const double k : {0.0, 1.0, 2.0, 3.0}) {
        const measured_loin loin{
            .length = 40_cm,
            .stations = {
                {.at = 0_cm,
                 .width = (20.0 + 0.5 * k) * 1_cm,
                 .depth = (7.5 + 0.2 * k) * 1_cm,
                 .fat_cover = (9.0 + k) * 1_mm,
                 .tail = 5_cm},
                {.at = 40_cm, .width = 20_cm, .depth = 7_cm, .fat_cover = 8_mm, .tail = (3.5 + 0.2 * k) * 1_cm}}};
        tests.push_back({loin, (4.6 + 0.2 * k) * 1_kg});
    }
    return tests;
}

/// Loins are cut as follows, however they were modelled: a facing, ten slabs of 32 mm, and the end to grind.
cutting_plan cut_up(const taped_test& test, const trim_factors& factors,
                    const cutting_rules& rules = {.facing = 8_mm}) {
    const profile meat = calibrated_profile(with_trim_factors(test.readings, factors), test.board, {.step = 4_mm});
    const cut_spec steak{.name = "steak", .thickness = 32_mm, .trim = {.fat_cover = 5_mm, .tail = 2_cm}};
    std::vector<grid_slab> stretches;
    for (std::size_t from = 2; from < 82; from += 8) stretches.push_back({from, from + 8, slab_kind::portions, 0});
    stretches.push_back({82, meat.cells(), slab_kind::loose, 0});
    return lay_out(meat, {steak}, rules, stretches);
}

/// The record of loins whose true cover and tail are the taped ones times `truth`, planned with the factors `believed`.
std::vector<cutting_record> record_of(const trim_factors& truth, const trim_factors& believed,
                                      const cutting_rules& rules = {.facing = 8_mm}) {
    std::vector<cutting_record> records;
    for (const taped_test& test : taped_tests()) {
        const mass_balance came = balance_of(cut_up(test, truth, rules));
        cutting_record r{.date = invented_cuts::day(static_cast<int>(records.size())),
                         .supplier = "a",
                         .bought = test.board + 60_g,
                         .usable = to_mass(came.portion_total()),
                         .cutting_loss = to_mass(came.cutting_loss),
                         .purge = 60_g};
        for (const destination d : all_destinations) r.by_products[d] = to_mass(came.loose[d] + came.trim[d]);
        r.predicted_yield = to_mass(balance_of(cut_up(test, believed, rules)).portion_total()) / r.bought;
        records.push_back(r);
    }
    return records;
}

std::optional<learned_trim> learned_by_cutting(const std::vector<cutting_record>& records,
                                               const cutting_rules& rules = {.facing = 8_mm}) {
    const std::vector<taped_test> tests = taped_tests();
    return learn_trim(records, [&](std::size_t i, const trim_factors& f) { return cut_up(tests[i], f, rules); });
}

} // namespace

TEST_CASE("learned trim: fed back to the plans brings the rest to what was planned") {
    for (const trim_factors truth : {trim_factors{1.2, 0.9}, trim_factors{0.8, 1.3}, trim_factors{1.1, 1.1}}) {
        const std::vector<cutting_record> before = record_of(truth, {});
        CHECK(std::abs(learn_losses(before).rest_over_planned->value - 1.0) > 0.005);
        const auto learned = learned_by_cutting(before);
        REQUIRE(learned);
        CHECK(learned->told_apart);
        // The sums are solved to 1e-7 of the 19.6 kg on the board, 2 mg. The plans leave more than a quarter of it as rest,
        // and so miss 1 by no more than 4e-7.
        CHECK_THAT(learned->rest_over_planned, WithinAbs(1.0, 4e-7));
        const learned_losses after = learn_losses(record_of(truth, learned->factors));
        CHECK_THAT(after.rest_over_planned->value, WithinAbs(1.0, 4e-7));
        CHECK_THAT(after.rest_over_planned->value, WithinAbs(learned->rest_over_planned, 1e-12));
        // Both sums have one solution, the truth: 2 mg out of more than a gram for each 1 % of either factor.
        CHECK_THAT(learned->factors.fat_cover, WithinAbs(truth.fat_cover, 1e-4));
        CHECK_THAT(learned->factors.tail, WithinAbs(truth.tail, 1e-4));
        // The shares of trim are those of the record as well.
        const learned_losses recorded = learn_losses(before);
        micrograms rendered, board;
        for (const taped_test& test : taped_tests()) {
            const cutting_plan cuts = cut_up(test, learned->factors);
            rendered += balance_of(cuts).trim[destination::rendering];
            board += cuts.total;
        }
        CHECK_THAT(to_mass(rendered) / to_mass(board),
                   WithinAbs(recorded.by_products[destination::rendering].value, 2e-7));
    }
}

TEST_CASE("learned trim: leaves readings alone that were right") {
    const auto learned = learned_by_cutting(record_of({}, {}));
    REQUIRE(learned);
    CHECK(learned->factors.fat_cover == 1.0);
    CHECK(learned->factors.tail == 1.0);
    CHECK_THAT(learned->rest_over_planned, WithinAbs(1.0, 1e-12));
}

TEST_CASE("learned trim: says when one destination takes fat and tail alike, and corrects both together") {
    cutting_rules rules{.facing = 8_mm};
    rules.trim_goes_to[tissue::fat_cover] = destination::grind;
    const auto learned = learned_by_cutting(record_of({1.2, 1.1}, {}, rules), rules);
    REQUIRE(learned);
    CHECK_FALSE(learned->told_apart);
    CHECK(learned->factors.fat_cover == learned->factors.tail);
    CHECK(learned->factors.tail > 1.1);
    CHECK(learned->factors.tail < 1.2);
    CHECK_THAT(learned->rest_over_planned, WithinAbs(1.0, 4e-7)); // as above
}

TEST_CASE("factor_without_excess: asks for no more values once one is within the tolerance") {
    int calls = 0;
    const auto zero_at = [&](double root) {
        return [&calls, root](double factor) {
            ++calls;
            return factor - root;
        };
    };
    // The bracket grows from 1 by tenths: 1.1, 1.21 upwards.
    for (const auto& [root, found, needed] :
         {std::tuple{1.005, 1.0, 1}, std::tuple{1.095, 1.1, 2}, std::tuple{1.105, 1.1, 2}, std::tuple{1.215, 1.21, 3},
          std::tuple{1.0 / 1.1 - 0.005, 1.0 / 1.1, 2}}) {
        CAPTURE(root);
        calls = 0;
        const auto factor = detail::factor_without_excess(zero_at(root), 1.0, 0.01);
        REQUIRE(factor);
        CHECK_THAT(*factor, WithinRel(found, 1e-14));
        CHECK(calls == needed);
    }
    calls = 0;
    CHECK_THAT(*detail::factor_without_excess(zero_at(1.15), 1.0, 1e-9), WithinAbs(1.15, 1e-9));
    CHECK(calls <= 6); // a straight line: three for the bracket, and the secant hits
}

TEST_CASE("learned trim: plans each loin as often as its accuracy needs and no more") {
    const std::vector<taped_test> tests = taped_tests();
    const auto plans_for = [&](const trim_factors& truth, const cutting_rules& rules) {
        std::size_t plans = 0;
        const auto learned = learn_trim(record_of(truth, {}, rules), [&](std::size_t i, const trim_factors& f) {
            ++plans;
            return cut_up(tests[i], f, rules);
        });
        REQUIRE(learned);
        return (plans - 1) / tests.size(); // of each loin; the first is planned once more for its destinations
    };
    const cutting_rules apart{.facing = 8_mm};
    cutting_rules together = apart;
    together.trim_goes_to[tissue::fat_cover] = destination::grind;
    CHECK(plans_for({1.0, 1.0}, apart) == 1); // both sums hold as they are
    CHECK(plans_for({1.0, 1.0}, together) == 1);
    CHECK(plans_for({1.2, 0.9}, apart) <= 40);   // measured: 29
    CHECK(plans_for({1.2, 1.1}, together) <= 7); // measured: 5
}

TEST_CASE("learned trim: finds nothing where the difference is no trim") {
    std::vector<cutting_record> records = record_of({}, {});
    for (cutting_record& r : records) { // a kilogram of steaks that went to dice in every loin
        r.usable -= 1_kg;
        r.by_products[destination::dice] += 1_kg;
    }
    CHECK_FALSE(learned_by_cutting(records));
}

TEST_CASE("learned trim: names what is wrong with a record, a factor or a reading") {
    CHECK_THROWS_WITH(learned_by_cutting({}), StartsWith("records: got none"));
    std::vector<cutting_record> records = record_of({}, {});
    records[1].usable = -1_kg;
    CHECK_THROWS_WITH(learned_by_cutting(records), StartsWith("records[1].usable: got -1000 g"));
    const measured_loin loin = taped_tests()[0].readings;
    CHECK_THROWS_WITH(with_trim_factors(loin, {0.0, 1.0}), StartsWith("factors.fat_cover: got 0"));
    CHECK_THROWS_WITH(with_trim_factors(loin, {1.0, std::numeric_limits<double>::quiet_NaN()}),
                      StartsWith("factors.tail: got nan"));
    CHECK_THROWS_WITH(with_trim_factors(loin, {1.0, 4.0}), StartsWith("stations[0].tail: got"));
}

} // namespace learned_trim_test
