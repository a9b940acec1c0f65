// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/savings_grid.hpp>

#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <limits>
#include <vector>

#include "cost/samples.hpp"
#include "support/catch.hpp"

namespace what_if_test {

using namespace cost_samples;
using namespace tranche_test;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Invented, round figures: 10 kg at 10 EUR/kg, 6 kg of steaks against ready cut at 24, 2 kg of trim at 3, 2 kg lost.
savings<eur> by_hand() {
    const auto test =
        cutting_yield_test<eur>({.weight = 10_kg, .price = 10_eur / 1_kg},
                                {{.name = "steak", .weight = 6_kg, .role = part_role::usable},
                                 {.name = "trim", .weight = 2_kg, .role = part_role::by_product, .value = 3_eur / 1_kg},
                                 {.name = "purge", .weight = 2_kg}});
    return make_or_buy<eur>({.name = "ready-cut steak", .price = 24_eur / 1_kg},
                            {{.name = "steak", .weight = test.usable, .count = 20}}, test,
                            {.costs = {.time = 30_min, .pay = 20_eur / 1_h, .packaging = 0.15_eur}});
}

std::vector<unit_price<eur>> per_kilogram(const std::vector<double>& numbers) {
    std::vector<unit_price<eur>> prices;
    for (const double n : numbers) prices.push_back(n * 1_eur / 1_kg);
    return prices;
}

} // namespace

TEST_CASE("a what-if grid holds the figures worked by hand") {
    const auto table = tabulate_savings(by_hand(), per_kilogram({0, 10, 14}), {0.3, 0.6, 1.0});
    // Computed. At yield 0.6: 144 + 6 - 10 p - 10 - 3. At 0.3: 72 of steaks, trim 6 × 7 / 4 = 10.50, packaging 1.50. At 1:
    // 240 of steaks, no trim, packaging 5.
    const std::vector<std::vector<std::int64_t>> cents{{7100, -2900, -6900}, {13700, 3700, -300}, {22500, 12500, 8500}};
    for (std::size_t i = 0; i < cents.size(); ++i)
        for (std::size_t k = 0; k < cents[i].size(); ++k) CHECK(table.net_saving[i][k].minor == cents[i][k]);
    CHECK_THAT(table.break_evens[0].at.value().value(), WithinRel(7.1, 1e-13));
    CHECK_THAT(table.break_evens[1].at.value().value(), WithinRel(13.7, 1e-13));
    CHECK_THAT(table.break_evens[2].at.value().value(), WithinRel(22.5, 1e-13));
    CHECK(table.price == 10_eur / 1_kg);
    CHECK(table.yield == 0.6);
    CHECK(table.against == "ready-cut steak");
}

TEST_CASE("the cell of the price paid and the yield cut is the figure of the bill") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const scenario s = invented(seed);
        const ready_cut<eur> ready{.name = "ready", .price = 28_eur / 1_kg, .replaces = {"steak"}};
        const auto saved = [&](unit_price<eur> price) {
            const purchase<eur> bought{.weight = s.bought.weight, .price = price};
            return make_or_buy(ready, s.cuts.plan, settle(s.cuts.plan, bought, s.prices), {.prices = s.prices});
        };
        const savings<eur> now = saved(s.bought.price);
        const auto prices = stepped(s.bought.price, 2_eur / 1_kg, 2);
        const auto table = tabulate_savings(now, prices, {now.terms.yield()});
        for (std::size_t k = 0; k < prices.size(); ++k) {
            const savings<eur> then = saved(prices[k]);
            // Both figures carry half a cent a line, and the cell half a cent of its own.
            CHECK(std::abs(table.net_saving[0][k].minor - then.net_saving.minor) <=
                  static_cast<std::int64_t>(now.lines.size()) + 1);
            if (prices[k] == s.bought.price) CHECK(table.net_saving[0][k] == now.net_saving);
        }
    }
}

TEST_CASE("a what-if grid falls with the price and breaks even where it says") {
    const savings<eur> saved = by_hand();
    const auto prices = stepped(saved.terms.bought.price, 1.5_eur / 1_kg, 5);
    const auto yields = stepped(saved.terms.yield(), 0.05, 6, 0.05, 1.0);
    const auto table = tabulate_savings(saved, prices, yields);
    for (std::size_t i = 0; i < yields.size(); ++i) {
        for (std::size_t k = 0; k < prices.size(); ++k) {
            if (k > 0) CHECK(table.net_saving[i][k] < table.net_saving[i][k - 1]);
            if (i > 0)
                CHECK(table.net_saving[i][k] > table.net_saving[i - 1][k]); // a steak is worth more than the rest
            REQUIRE(table.break_evens[i].at.has_value());
            const double cents_off = 1000.0 * (*table.break_evens[i].at - prices[k]).value(); // of 10 kg
            CHECK(std::abs(static_cast<double>(table.net_saving[i][k].minor) - cents_off) <= 0.5 + 1e-9);
        }
    }
}

TEST_CASE("steps stand around the middle and stay within their bounds") {
    CHECK(stepped(1.0, 0.25, 2) == std::vector<double>{0.5, 0.75, 1.0, 1.25, 1.5});
    CHECK(stepped(0.25, 0.25, 2) == std::vector<double>{0.0, 0.25, 0.5, 0.75});
    CHECK(stepped(0.875, 0.125, 3, 0.75, 1.0) == std::vector<double>{0.75, 0.875, 1.0});
    CHECK(stepped(4_eur / 1_kg, 1_eur / 1_kg, 0) == std::vector<unit_price<eur>>{4_eur / 1_kg});
    CHECK_THROWS_WITH(stepped(1.0, 0.0, 2), StartsWith("step: got 0"));
    CHECK_THROWS_WITH(stepped(1.0, not_a_number, 2), StartsWith("step: got nan"));
    CHECK_THROWS_WITH(stepped(not_a_number, 1.0, 2), StartsWith("middle: got nan"));
    CHECK_THROWS_WITH(stepped(1.0, 1.0, -1), StartsWith("steps: got -1"));
    CHECK_THROWS_WITH(stepped(1.0, 1.0, 101), StartsWith("steps: got 101"));
}

TEST_CASE("steps reach a bound that rounding puts them beside, and the middle stays whatever the bounds") {
    CHECK(stepped(0.3, 0.1, 3).size() == 7); // 0.3 - 3 × 0.1 is below zero by 5.6e-17
    CHECK(stepped(0.3, 0.1, 3).front() == 0.0);
    CHECK(stepped(0.3_eur / 1_kg, 0.1_eur / 1_kg, 3).size() == 7);
    CHECK(stepped(0.005, 0.02, 2, 0.01, 1.0) == std::vector<double>{0.005, 0.005 + 0.02, 0.005 + 2 * 0.02});
    CHECK(stepped(1.001, 0.02, 1, 0.01, 1.0) == std::vector<double>{1.001 - 0.02, 1.001});
    // Computed: all of 0, d … n d and 2 n d from their middle n d, in tenths, hundredths and thousandths.
    for (int n = 1; n <= 100; ++n)
        for (const double d : {0.1, 0.01, 0.001, 0.05, 1.0 / 3.0}) {
            const double middle = n * d;
            const auto values = stepped(middle, d, n, 0.0, 2 * n * d);
            INFO(n << " steps of " << d);
            REQUIRE(values.size() == static_cast<std::size_t>(2 * n + 1));
            CHECK(values.front() == 0.0);
            CHECK(values[static_cast<std::size_t>(n)] == middle);
            CHECK(values.back() == 2 * n * d);
        }
}

TEST_CASE("what cannot stand in a what-if grid is refused by name") {
    const savings<eur> saved = by_hand();
    CHECK_THROWS_WITH(tabulate_savings(saved, {}, {0.5}), StartsWith("prices: got none"));
    CHECK_THROWS_WITH(tabulate_savings(saved, per_kilogram({1}), {}), StartsWith("yields: got none"));
    CHECK_THROWS_WITH(tabulate_savings(saved, per_kilogram({-1}), {0.5}),
                      StartsWith("price of the whole loin: got -1 EUR/kg"));
    CHECK_THROWS_WITH(tabulate_savings(saved, per_kilogram({not_a_number}), {0.5}),
                      StartsWith("price of the whole loin: got nan"));
    for (const double y : {0.0, -0.1, 1.1, not_a_number})
        CHECK_THROWS_WITH(tabulate_savings(saved, per_kilogram({1}), {y}), StartsWith("yield: got"));
    CHECK_THROWS_WITH(tabulate_savings(saved, per_kilogram({1e300}), {0.5}), StartsWith("change of the saving: got"));
    savings<eur> none = saved;
    none.terms.portions = {};
    CHECK_THROWS_WITH(tabulate_savings(none, per_kilogram({1}), {0.5}), StartsWith("portions: got 0 g"));
}

} // namespace what_if_test
