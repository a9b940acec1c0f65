// Standard against actual, worked by hand; the three variances add up whatever the loin.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <string>
#include <vector>

#include <tranche/cost/yield/cost_variances.hpp>
#include <tranche/units/literals.hpp>

namespace cost_variances_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct cut_of {
    std::string name{};
    std::vector<double> grams{};
};

/// A plan that has portions of these weights and nothing else.
cutting_plan plan_of(const std::vector<cut_of>& cuts) {
    cutting_plan plan;
    for (const cut_of& cut : cuts) {
        for (const double grams : cut.grams) {
            slab s{.kind = slab_kind::portions, .option = plan.specs.size()};
            s.kept[tissue::eye] = to_micrograms(grams * gram);
            plan.slabs.push_back(s);
            plan.total += s.kept[tissue::eye];
        }
        plan.specs.push_back({.name = cut.name});
    }
    return plan;
}

} // namespace

TEST_CASE("cost variances: a worked example of price, usage and yield") {
    // Invented figures, worked by hand. Standard: 10 kg at 12.00, 8 kg of portions: twenty of 400 g, so Y = 0.8.
    const cutting_standard<usd> standard{{10_kg, 12.00_usd / 1_kg},
                                         plan_of({{"steak", std::vector<double>(20, 400.0)}})};
    // Actual: 10.5 kg at 12.40 gave nineteen portions, 7.98 kg; they should weigh 19 × 0.4 = 7.6 kg.
    const cutting_plan actual = plan_of({{"steak", std::vector<double>(19, 420.0)}});
    const auto found = variances_of<usd>(actual, {10.5_kg, 12.40_usd / 1_kg}, standard);
    CHECK(found.paid.minor == 13'020);    // 10.5 × 12.40
    CHECK(found.allowed.minor == 11'400); // 7.6 / 0.8 × 12
    CHECK(found.price.minor == 420);      // 0.40 × 10.5
    CHECK(found.usage.minor == 570);      // (7.98 - 7.6) / 0.8 × 12
    CHECK(found.yield.minor == 630);      // (10.5 - 7.98 / 0.8) × 12 = 0.525 × 12
    CHECK(found.total.minor == 1'620);
}

TEST_CASE(
    "cost variances: a loin that comes as planned has none, and a cut that was not planned weighs what it should") {
    const cutting_standard<usd> standard{{10_kg, 12.00_usd / 1_kg},
                                         plan_of({{"steak", {400.0, 410.0}}, {"end", {300.0}}})};
    const auto none = variances_of<usd>(standard.plan, standard.bought, standard);
    CHECK(none.price.minor == 0);
    CHECK(none.usage.minor == 0);
    CHECK(none.yield.minor == 0);
    const auto other = variances_of<usd>(plan_of({{"fillet", {1'110.0}}}), standard.bought, standard);
    CHECK(other.usage.minor == 0);
    CHECK(other.yield.minor == 0);
}

TEST_CASE("cost variances: the three add up to what was paid less what was allowed") {
    for (int i = 1; i < 40; ++i) {
        const double x = 0.37 * i;
        const cutting_standard<usd> standard{{(5.0 + x) * kilogram, (9.13 + 0.31 * x) * (1_usd / 1_kg)},
                                             plan_of({{"steak", {381.3 + x, 402.7}}, {"end", {250.1 + 3.0 * x}}})};
        const cutting_plan actual = plan_of({{"end", {271.0, 280.3 - x}}, {"steak", {377.7 + 2.0 * x}}});
        const purchase<usd> bought{(4.7 + x) * kilogram, (9.87 + 0.1 * x) * (1_usd / 1_kg)};
        const auto found = variances_of<usd>(actual, bought, standard);
        CHECK(found.price + found.usage + found.yield == found.total);
        CHECK(found.total == found.paid - found.allowed);
    }
}

TEST_CASE("cost variances: without portions there is nothing to compare") {
    const cutting_standard<usd> standard{{10_kg, 12.00_usd / 1_kg}, plan_of({{"steak", {400.0}}})};
    CHECK_THROWS_AS(variances_of<usd>(cutting_plan{}, standard.bought, standard), invalid_input);
    CHECK_THROWS_AS(variances_of<usd>(standard.plan, standard.bought, {standard.bought, {}}), invalid_input);
    CHECK_THROWS_AS(variances_of<usd>(standard.plan, {}, standard), invalid_input);
}

} // namespace cost_variances_test
