// Where each unit of money went, over many invented loins: every total is the bill's, to the minor unit.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/cost_breakdown.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "cost/samples.hpp"
#include "support/catch.hpp"

namespace money_flow_laws {

using namespace cost_samples;
using namespace tranche_test;

namespace {

savings<eur> saved_by(const scenario& s, const bill<eur>& settled) {
    return make_or_buy<eur>(
        {.name = "ready", .price = 28_eur / 1_kg, .replaces = {"steak"}, .edible_share = 0.8}, s.cuts.plan, settled,
        {.prices = s.prices, .costs = {.time = 30_min, .pay = 18_eur / 1_h, .packaging = 0.11_eur}});
}

} // namespace

TEST_CASE("cost_breakdown: has the steps worked by hand") {
    // Invented, round figures: 10 kg at 10 EUR/kg, 6 kg of steaks, 3 kg of trim at 2, 0.4 kg kerf, 0.6 kg purge.
    const auto test = cutting_yield_test<eur>(
        {.weight = 10_kg, .price = 10_eur / 1_kg},
        {{.name = "steak", .weight = 6_kg, .role = part_role::usable},
         {.name = "trim to grind", .weight = 3_kg, .role = part_role::by_product, .value = 2_eur / 1_kg},
         {.name = "cutting loss", .weight = 0.4_kg},
         {.name = "purge", .weight = 0.6_kg}});
    const auto saved = make_or_buy<eur>({.name = "ready", .price = 20_eur / 1_kg},
                                        {{.name = "steak", .weight = test.usable, .count = 20}}, test,
                                        {.costs = {.knife_wear = 1_eur}});
    // Computed: paid 60 + 30 + 4 + 6 = 100; then 6 for the trim, 6 × 20 for the steaks, and 1 for the knife: 25 saved.
    const std::vector<std::pair<std::int64_t, std::int64_t>> expected{{-6000, -6000}, {-3000, -9000},   {-400, -9400},
                                                                      {-600, -10000}, {-10000, -10000}, {600, -9400},
                                                                      {12000, 2600},  {-100, 2500},     {2500, 2500}};
    const auto steps = cost_breakdown(saved, test);
    REQUIRE(steps.size() == expected.size());
    for (std::size_t i = 0; i < steps.size(); ++i) {
        INFO(steps[i].text);
        CHECK(steps[i].change.minor == expected[i].first);
        CHECK(steps[i].level.minor == expected[i].second);
        CHECK(steps[i].total == (i == 4 || i == 8));
    }
    CHECK(steps[3].text == "paid for purge");
    CHECK(steps[5].text == "credit: trim to grind");
    CHECK(steps[8].text == "saved by cutting");
}

TEST_CASE("cost_breakdown: agrees with the bill and the saving to the cent and the microgram") {
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        const scenario s = invented(seed);
        const auto settled = settle(s.cuts.plan, s.bought, s.prices);
        const auto saved = saved_by(s, settled);
        const auto steps = cost_breakdown(saved, settled.test);
        amount<eur> level, credit;
        micrograms paid_for;
        std::vector<amount<eur>> totals;
        for (const auto& step : steps) {
            if (!step.total) {
                level += step.change;
                if (step.part == savings_part::by_product) credit += step.change;
                if (totals.empty()) paid_for += step.weight;
                if (step.part == savings_part::loss || (totals.empty() && step.part == savings_part::paid)) {
                    CHECK(step.change <= amount<eur>{});
                    // Its weight at the price paid; the first step carries half a cent of each of the others as well.
                    const double cents = 100.0 * (to_mass(step.weight) * s.bought.price).value();
                    CHECK(std::abs(static_cast<double>(step.change.minor) + cents) <=
                          0.5 * static_cast<double>(settled.test.lines.size()) + 1e-6);
                }
            } else {
                totals.push_back(step.change);
            }
            CHECK(step.level == level);
        }
        REQUIRE(totals.size() == 2);
        CHECK(totals[0] == -settled.test.paid);
        CHECK(totals[1] == saved.net_saving);
        CHECK(credit == settled.test.credit);
        CHECK(paid_for == settled.test.whole);
        CHECK(steps.back().text == (saved.net_saving < amount<eur>{} ? "lost by cutting" : "saved by cutting"));
    }
}

TEST_CASE("cost_breakdown: ends a test by itself with what the portions carry") {
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        const scenario s = invented(seed);
        const auto settled = settle(s.cuts.plan, s.bought, s.prices);
        const auto alone = cost_breakdown(settled.test), compared = cost_breakdown(saved_by(s, settled), settled.test);
        amount<eur> level, credit;
        micrograms credited;
        std::size_t first_total = alone.size();
        for (std::size_t i = 0; i < alone.size(); ++i) {
            if (alone[i].total) {
                first_total = std::min(first_total, i);
            } else {
                level += alone[i].change;
                if (alone[i].part == savings_part::by_product) {
                    credit += alone[i].change;
                    credited += alone[i].weight;
                }
            }
            CHECK(alone[i].level == level);
        }
        REQUIRE(first_total < alone.size());
        CHECK(alone[first_total].change == -settled.test.paid);
        for (std::size_t i = 0; i <= first_total; ++i) { // as far as what was paid, both say the same
            CHECK(alone[i].text == compared[i].text);
            CHECK(alone[i].change == compared[i].change);
        }
        CHECK(credit == settled.test.credit);
        CHECK(alone.back().total);
        CHECK(alone.back().change == -settled.test.primary_value);
        CHECK(alone.back().weight == settled.test.usable);
    }
}

TEST_CASE("cost_breakdown: has the steps of a test worked by hand, and of one that nothing is left of") {
    // Invented: 10 kg at 10, 6 kg usable, 3 kg of trim at 2, 1 kg lost: paid 60 + 30 + 10, 6 back, 94 left.
    const auto test =
        cutting_yield_test<eur>({.weight = 10_kg, .price = 10_eur / 1_kg},
                                {{.name = "steak", .weight = 6_kg, .role = part_role::usable},
                                 {.name = "trim", .weight = 3_kg, .role = part_role::by_product, .value = 2_eur / 1_kg},
                                 {.name = "purge", .weight = 1_kg}});
    std::vector<std::pair<std::string, std::int64_t>> steps;
    for (const auto& step : cost_breakdown(test)) steps.emplace_back(step.text, step.change.minor);
    CHECK(steps == std::vector<std::pair<std::string, std::int64_t>>{{"paid for the meat of the portions", -6000},
                                                                     {"paid for what became by-products", -3000},
                                                                     {"paid for purge", -1000},
                                                                     {"paid for the whole loin", -10000},
                                                                     {"credit: trim", 600},
                                                                     {"left for the portions to carry", -9400}});
    const auto waste =
        cutting_yield_test<eur>({.weight = 1_kg, .price = 5_eur / 1_kg}, {{.name = "waste", .weight = 1_kg}});
    CHECK(cost_breakdown(waste).back().text == "left for nothing to carry");
    CHECK(cost_breakdown(waste).back().level == amount<eur>{-500});
}

TEST_CASE("cost_breakdown: refuses a test that is not the saving's") {
    const scenario s = invented(1);
    const auto settled = settle(s.cuts.plan, s.bought, s.prices);
    const auto other = settle(s.cuts.plan, {.weight = s.bought.weight, .price = 2.0 * s.bought.price}, s.prices);
    CHECK_THROWS_WITH(cost_breakdown(saved_by(s, settled), other.test), StartsWith("test: got"));
}

} // namespace money_flow_laws
