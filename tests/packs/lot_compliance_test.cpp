// SPDX-License-Identifier: BSL-1.0
#include <limits>
#include <vector>

#include <tranche/packs/lot_compliance.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace lot_compliance_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("tolerable_negative_error: has the rows of the published table") {
    // OIML R 87 as in the New Zealand Weights and Measures Regulations 1999, Schedule 7A: read there.
    struct row {
        double nominal, error; // grams
    };
    for (const row& r : {row{30, 2.7}, row{50, 4.5}, row{75, 4.5}, row{100, 4.5}, row{150, 6.75}, row{200, 9},
                         row{250, 9}, row{300, 9}, row{400, 12}, row{500, 15}, row{700, 15}, row{1000, 15},
                         row{2000, 30}, row{10'000, 150}, row{12'000, 150}, row{15'000, 150}, row{20'000, 200}}) {
        CAPTURE(r.nominal);
        CHECK_THAT(detail::tolerable_negative_error(r.nominal * gram) / gram, WithinRel(r.error, 1e-13));
    }
}

TEST_CASE("lot_compliance: passes a lot that holds all three rules, and fails each by itself") {
    // 40 packs of 400 g: T is 12 g, and 2.5 % is one pack.
    std::vector<mass> packs(40, 401_g);
    CHECK(lot_compliance(400_g, packs).passes());
    packs[0] = 387.9_g;
    nominal_lot lot = lot_compliance(400_g, packs);
    CHECK(lot.below_once == 1);
    CHECK(lot.passes()); // one of forty is just allowed
    packs[1] = 387.9_g;
    packs[2] = 440_g;
    lot = lot_compliance(400_g, packs);
    CHECK(lot.below_once == 2);
    CHECK_FALSE(lot.few_below);
    CHECK(lot.mean_holds);
    CHECK_FALSE(lot.passes());

    packs.assign(40, 401_g);
    packs[7] = 375.9_g;
    lot = lot_compliance(400_g, packs);
    CHECK(lot.below_twice == 1);
    CHECK(lot.few_below);
    CHECK(lot.mean_holds);
    CHECK_FALSE(lot.none_far_below);
    CHECK_FALSE(lot.passes());

    packs.assign(40, 400_g);
    CHECK(lot_compliance(400_g, packs).passes()); // at the nominal quantity exactly
    packs[0] = 399.999999_g;                      // a microgram less
    lot = lot_compliance(400_g, packs);
    CHECK_FALSE(lot.mean_holds);
    CHECK_FALSE(lot.passes());
    CHECK(lot.below_once == 0);
}

TEST_CASE("lot_compliance: counts a pack at Q - T and at Q - 2T as not below") {
    const nominal_lot lot = lot_compliance(400_g, {388_g, 376_g, 500_g});
    CHECK(lot.below_once == 1);
    CHECK(lot.below_twice == 0);
    CHECK(lot_compliance(400_g, {387.999999_g, 375.999999_g, 500_g}).below_once == 2);
    CHECK(lot_compliance(400_g, {387.999999_g, 375.999999_g, 500_g}).below_twice == 1);
    CHECK_THAT(lot.mean / gram, WithinRel(1264.0 / 3.0, 1e-14));
}

TEST_CASE("lot_compliance: has a weight on a border on it, whatever its unit and last bits") {
    // Nominal 1/4 lb to 4 lb by the quarter ounce; T is a share of it or a mass by the table.
    for (int quarters = 16; quarters <= 256; ++quarters) {
        const mass nominal = 0.25 * quarters * ounce, t = detail::tolerable_negative_error(nominal);
        const mass in_pounds = quarters / 64.0 * pound;
        CAPTURE(quarters);
        for (const int packs : {1, 3, 30, 1000}) {
            const auto n = static_cast<std::size_t>(packs);
            CHECK(lot_compliance(nominal, std::vector<mass>(n, in_pounds)).mean_holds);
            CHECK(lot_compliance(in_pounds, std::vector<mass>(n, 0.3 * nominal + 0.7 * nominal)).mean_holds);
            // A tenth of a microgram less each is less.
            CHECK_FALSE(lot_compliance(nominal, std::vector<mass>(n, in_pounds - 1e-10 * kilogram)).mean_holds);
        }
        CHECK(lot_compliance(nominal, {in_pounds - t}).below_once == 0);
        CHECK(lot_compliance(in_pounds, {nominal - 2.0 * t}).below_twice == 0);
        CHECK(lot_compliance(nominal, {in_pounds - t - 1e-10 * kilogram}).below_once == 1);
        CHECK(lot_compliance(in_pounds, {nominal - 2.0 * t - 1e-10 * kilogram}).below_twice == 1);
        const auto one_percent = [](mass labelled) { return 0.01 * labelled; };
        const auto errors = lot_compliance({{nominal, in_pounds}, {in_pounds, nominal}}, one_percent, 0);
        CHECK(errors.passes());
        CHECK(lot_compliance({{nominal, 0.99 * in_pounds}}, one_percent, 0).over_limit == 0);
        CHECK(lot_compliance({{nominal, 0.99 * in_pounds - 1e-10 * kilogram}}, one_percent, 0).over_limit == 1);
    }
    CHECK(detail::tolerable_negative_error(0.75 * pound) / (0.36 * ounce) - 1.0 <
          1e-15); // 3 % of 12 oz, not of whole micrograms
}

TEST_CASE("lot_compliance: adds up a million packs without rounding") {
    std::vector<mass> packs(500'000, 400.1_g);
    packs.insert(packs.end(), 500'000, 399.9_g);
    CHECK(lot_compliance(400_g, packs).mean_holds);
    packs.back() -= 0.01_g; // by more than the noise of 400 t, 1.4 micrograms
    CHECK_FALSE(lot_compliance(400_g, packs).mean_holds);
}

TEST_CASE("lot_compliance: takes the variation from the caller") {
    // Invented: 4 % of what the label says. No published table, on purpose.
    const auto variation = [](mass labelled) { return 0.04 * labelled; };
    const std::vector<inspected_pack> fair{{300_g, 301_g}, {500_g, 499_g}, {400_g, 400_g}};
    CHECK(lot_compliance(fair, variation, 0).passes());
    const std::vector<inspected_pack> one_short{{300_g, 287_g}, {500_g, 520_g}};
    const auto lot = lot_compliance(one_short, variation, 0);
    CHECK(lot.mean_holds);
    CHECK(lot.over_limit == 1);
    CHECK_FALSE(lot.passes());
    CHECK(lot_compliance(one_short, variation, 1).passes());
    CHECK(lot_compliance(std::vector<inspected_pack>{{300_g, 288_g}, {500_g, 520_g}}, variation, 0).passes());
    const auto low = lot_compliance(std::vector<inspected_pack>{{300_g, 299_g}}, variation, 0);
    CHECK_FALSE(low.mean_holds);
    CHECK_THAT(low.mean_error / gram, WithinRel(-1.0, 1e-12));
}

TEST_CASE("lot_compliance: names the field of a bad input") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto variation = [](mass) { return 1_g; };
    CHECK_THROWS_WITH(lot_compliance(0_g, {1_g}), StartsWith("nominal: got 0 g"));
    CHECK_THROWS_WITH(lot_compliance(400_g, {}), StartsWith("net_weights: got none"));
    CHECK_THROWS_WITH(lot_compliance(400_g, {400_g, nan * 1_g}), StartsWith("net_weights[1]: got nan"));
    CHECK_THROWS_WITH(detail::tolerable_negative_error(-1_g), StartsWith("nominal: got -1 g"));
    CHECK_THROWS_WITH(lot_compliance({}, variation, 0), StartsWith("packs: got none"));
    CHECK_THROWS_WITH(lot_compliance({{0_g, 1_g}}, variation, 0), StartsWith("packs[0].labelled: got 0 g"));
    CHECK_THROWS_WITH(lot_compliance({{1_g, nan * 1_g}}, variation, 0), StartsWith("packs[0].found: got nan"));
    const auto odd = [nan](mass) { return nan * 1_g; };
    CHECK_THROWS_WITH(lot_compliance({{1_g, 1_g}}, odd, 0), StartsWith("maximum allowed variation: got nan"));
}

} // namespace lot_compliance_test
