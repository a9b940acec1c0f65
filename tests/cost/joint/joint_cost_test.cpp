// Joint cost against worked problems of accounting texts, and its edges.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include <tranche/cost/joint/joint_cost.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace joint_cost_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

using products = std::vector<joint_product<usd>>;

std::vector<std::string> costs_of(const joint_allocation<usd>& allocation) {
    std::vector<std::string> texts;
    for (const auto& line : allocation.lines) texts.push_back(to_text(line.joint_cost));
    return texts;
}
using texts = std::vector<std::string>;

// Horngren, Cost Accounting, exercise on a dairy: inputs read in the source, outputs computed. The physical measure is
// cups, here a kilogram each: only the proportion counts. Butter sells for 2.00 a pound (10,000 of them) at split-off;
// further processing at 0.50 a pound makes 20,000 tubs at 2.50 of it. Buttermilk: 20,000 quarts at 1.50.
const products dairy{{.name = "butter",
                      .weight = 20000_kg,
                      .split_off_value = 20000_usd,
                      .final_value = 50000_usd,
                      .separable_cost = 5000_usd},
                     {.name = "buttermilk", .weight = 80000_kg, .split_off_value = 30000_usd}};
constexpr amount<usd> dairy_cost{20'000'00};

} // namespace

TEST_CASE("allocate_joint_cost: gives the computed figures of the dairy by every method") {
    const auto by = [](joint_method method) { return costs_of(allocate_joint_cost(dairy_cost, dairy, method)); };
    CHECK(by(joint_method::physical_measure) == texts{"4000.00 USD", "16000.00 USD"});
    CHECK(by(joint_method::split_off_value) == texts{"8000.00 USD", "12000.00 USD"});
    CHECK(by(joint_method::net_realisable_value) == texts{"12000.00 USD", "8000.00 USD"});
    // Constant margin, computed: costs are 25,000 of sales of 80,000, so 31.25 %: 15,625 - 5,000 and 9,375.
    CHECK(by(joint_method::constant_margin) == texts{"10625.00 USD", "9375.00 USD"});
}

TEST_CASE("allocate_joint_cost: gives all products one margin by constant margin") {
    const auto shared = allocate_joint_cost(dairy_cost, dairy, joint_method::constant_margin);
    for (const auto& line : shared.lines) CHECK(percent_text(*line.margin_share(), 2) == "68.75 %");
    const auto by_nrv = allocate_joint_cost(dairy_cost, dairy, joint_method::net_realisable_value);
    // Computed: 50,000 - 17,000 of 50,000, and 30,000 - 8,000 of 30,000.
    CHECK(percent_text(*by_nrv.lines[0].margin_share(), 2) == "66.00 %");
    CHECK(percent_text(*by_nrv.lines[1].margin_share(), 2) == "73.33 %");
    CHECK(by_nrv.lines[0].share == 0.6);
    // Finishing the butter adds 50,000 - 5,000 - 20,000.
    CHECK(dairy[0].gain_of_finishing()->value() == 25000.0);
    CHECK_FALSE(dairy[1].gain_of_finishing());
}

// A sawmill, problem of a management-accounting examination, partly from memory; outputs computed. A unit is a kilogram
// here. 75,000 at 8, 5,000 at 60, 20,000 at 20.
TEST_CASE("allocate_joint_cost: gives the computed figures of the sawmill to the cent") {
    const products boards{{.name = "studs", .weight = 75000_kg, .split_off_value = 600000_usd},
                          {.name = "decorative pieces", .weight = 5000_kg, .split_off_value = 300000_usd},
                          {.name = "posts", .weight = 20000_kg, .split_off_value = 400000_usd}};
    constexpr amount<usd> cost{1'010'000'00};
    CHECK(costs_of(allocate_joint_cost(cost, boards, joint_method::physical_measure)) ==
          texts{"757500.00 USD", "50500.00 USD", "202000.00 USD"});
    // Exact: 6/13, 3/13 and 4/13 of 101,000,000 cents: ...384.6, ...692.3, ...923.1; the odd cent goes to the first.
    CHECK(costs_of(allocate_joint_cost(cost, boards, joint_method::split_off_value)) ==
          texts{"466153.85 USD", "233076.92 USD", "310769.23 USD"});
    const auto by_value = allocate_joint_cost(cost, boards, joint_method::split_off_value);
    for (const std::size_t i : {0U, 1U, 2U}) {
        const std::vector<double> thirteenths{6.0, 3.0, 4.0}, twentieths{15.0, 1.0, 4.0};
        CHECK_THAT(by_value.lines[i].share, WithinRel(thirteenths[i] / 13.0, 1e-15));
        CHECK_THAT(allocate_joint_cost(cost, boards, joint_method::physical_measure).lines[i].share,
                   WithinRel(twentieths[i] / 20.0, 1e-15));
    }
    // Sold as they are, without separable cost, net realisable value says the same, and so does constant margin.
    for (const joint_method method : {joint_method::net_realisable_value, joint_method::constant_margin})
        CHECK(costs_of(allocate_joint_cost(cost, boards, method)) ==
              texts{"466153.85 USD", "233076.92 USD", "310769.23 USD"});
}

// A public outline of joint cost allocation: 2,400 of joint cost, 700 lb selling for 1,800 and 300 lb for 1,200 at
// split-off; read in the source: 1,680 and 720 by weight, gross margins of 7 % and 40 %.
TEST_CASE("allocate_joint_cost: gives the printed costs and margins of two products by weight") {
    const products two{{.name = "A", .weight = 700_lb, .split_off_value = 1800_usd},
                       {.name = "B", .weight = 300_lb, .split_off_value = 1200_usd}};
    const auto shared = allocate_joint_cost(amount<usd>{2400'00}, two, joint_method::physical_measure);
    CHECK(costs_of(shared) == texts{"1680.00 USD", "720.00 USD"});
    CHECK(percent_text(*shared.lines[0].margin_share(), 0) == "7 %"); // 6.67 %
    CHECK(percent_text(*shared.lines[1].margin_share(), 0) == "40 %");
}

TEST_CASE("allocate_joint_cost: credits by-products first") {
    const auto shared = allocate_joint_cost<usd>(dairy_cost, dairy, joint_method::split_off_value,
                                                 {{"whey", 1200_usd, 200_usd}, {"waste water", {}, 500_usd}});
    CHECK(shared.credit == amount<usd>{500'00});
    CHECK(shared.shared == amount<usd>{19'500'00});
    CHECK(costs_of(shared) == texts{"7800.00 USD", "11700.00 USD"});
    // Worth more than everything cost: what is left is negative, and adds up all the same.
    const auto gold =
        allocate_joint_cost<usd>(dairy_cost, dairy, joint_method::split_off_value, {{"gold", 20000.01_usd, {}}});
    CHECK(gold.shared == amount<usd>{-1});
    CHECK(gold.lines[0].joint_cost + gold.lines[1].joint_cost == amount<usd>{-1});
}

TEST_CASE("allocate_joint_cost: charges nothing to a product whose net realisable value is below zero") {
    products three = dairy;
    three.push_back({.name = "casein", .weight = 100_kg, .final_value = 1000_usd, .separable_cost = 1500_usd});
    const auto shared = allocate_joint_cost(dairy_cost, three, joint_method::net_realisable_value);
    CHECK(costs_of(shared) == texts{"12000.00 USD", "8000.00 USD", "0.00 USD"});
    CHECK(*shared.lines[2].margin == amount<usd>{-500'00}); // its own loss, and nobody else's
}

// Horngren, Datar and Rajan, Cost Accounting, 14th edition, page 586, read in a quotation: constant margin is the only
// method under which a product may receive a negative allocation. Figures invented: costs are 80 + 100 of sales of 200.
TEST_CASE("allocate_joint_cost: may credit a product under constant margin") {
    const products two{{.name = "plain", .final_value = 100_usd},
                       {.name = "laboured", .final_value = 100_usd, .separable_cost = 100_usd}};
    const auto shared = allocate_joint_cost(amount<usd>{80'00}, two, joint_method::constant_margin);
    CHECK(costs_of(shared) == texts{"90.00 USD", "-10.00 USD"});
    for (const auto& line : shared.lines) CHECK(percent_text(*line.margin_share()) == "10.0 %");
}

TEST_CASE("allocate_joint_cost: breaks ties by order, to the earlier product") {
    const products equal{{.name = "a", .final_value = 0.1_usd},
                         {.name = "b", .final_value = 0.1_usd},
                         {.name = "c", .final_value = 0.1_usd}};
    CHECK(costs_of(allocate_joint_cost(amount<usd>{100}, equal, joint_method::constant_margin)) ==
          texts{"0.34 USD", "0.33 USD", "0.33 USD"});
    // Two cents in the proportion 1 to 3 are half a cent each beyond whole ones. Binary has neither 0.1 nor 0.3
    // exactly, and 0.3 / 3 is above 0.1: the tie is seen all the same.
    const products tied{{.name = "a", .final_value = 0.1_usd}, {.name = "b", .final_value = 0.3_usd}};
    CHECK(costs_of(allocate_joint_cost(amount<usd>{2}, tied, joint_method::net_realisable_value)) ==
          texts{"0.01 USD", "0.01 USD"});
}

TEST_CASE("allocate_joint_cost: asks for the values that its method needs, by name") {
    const products bare{{.name = "steaks", .weight = 3_kg}, {.name = "fillets", .weight = 1_kg}};
    constexpr amount<usd> cost{10000};
    const auto by_weight = allocate_joint_cost(cost, bare, joint_method::physical_measure);
    CHECK(costs_of(by_weight) == texts{"75.00 USD", "25.00 USD"});
    CHECK_FALSE(by_weight.lines[0].sales);
    CHECK_FALSE(by_weight.lines[0].margin_share());
    CHECK_THROWS_WITH(allocate_joint_cost(cost, bare, joint_method::split_off_value),
                      StartsWith("steaks: split_off_value: got none, expected a value"));
    CHECK_THROWS_WITH(allocate_joint_cost(cost, bare, joint_method::net_realisable_value),
                      StartsWith("steaks: final_value: got none"));
    CHECK_THROWS_WITH(allocate_joint_cost(cost, bare, joint_method::constant_margin),
                      StartsWith("steaks: final_value: got none"));
}

TEST_CASE("allocate_joint_cost: names what is wrong with its input") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    constexpr amount<usd> cost{10000};
    const auto with = [&](const joint_product<usd>& p, joint_method method = joint_method::net_realisable_value) {
        return allocate_joint_cost<usd>(cost, {p}, method);
    };
    CHECK_THROWS_WITH(allocate_joint_cost<usd>(cost, {}, joint_method::physical_measure), StartsWith("products: got none"));
    CHECK_THROWS_WITH(with({.name = "a", .weight = -1_kg}), StartsWith("a: weight: got -1000 g"));
    CHECK_THROWS_WITH(with({.name = "a", .split_off_value = -1_usd}), StartsWith("a: split_off_value: got -1 USD"));
    CHECK_THROWS_WITH(with({.name = "a", .final_value = nan * 1_usd}), StartsWith("a: final_value: got nan USD"));
    CHECK_THROWS_WITH(with({.name = "a", .final_value = 1_usd, .separable_cost = -1_usd}),
                      StartsWith("a: separable_cost: got -1 USD"));
    CHECK_THROWS_WITH(allocate_joint_cost<usd>(cost, dairy, joint_method::physical_measure, {{"whey", nan * 1_usd, {}}}),
                      StartsWith("whey: final_value: got nan USD"));
    CHECK_THROWS_WITH(with({.name = "a"}, joint_method::physical_measure), StartsWith("weight: got none above zero"));
    CHECK_THROWS_WITH(with({.name = "a", .split_off_value = 0_usd}, joint_method::split_off_value),
                      StartsWith("sales value at split-off: got none above zero"));
    CHECK_THROWS_WITH(with({.name = "a", .final_value = 1_usd, .separable_cost = 1_usd}),
                      StartsWith("net realisable value: got none above zero"));
    CHECK_THROWS_WITH(with({.name = "a", .final_value = 0_usd}, joint_method::constant_margin),
                      StartsWith("constant gross margin: got none above zero"));
}

TEST_CASE("allocate_joint_cost: shares amounts near the end of 64 bits exactly, and refuses those beyond") {
    constexpr amount<usd> cost{9'000'000'000'000'000'001};
    const products two{{.name = "a", .weight = 1_kg, .final_value = 1_usd, .separable_cost = 5e15_usd},
                       {.name = "b", .weight = 2_kg, .final_value = 1_usd}};
    const products fair{{.name = "a", .weight = 1_kg}, {.name = "b", .weight = 2_kg}};
    const auto shared = allocate_joint_cost(cost, fair, joint_method::physical_measure);
    CHECK(shared.lines[0].joint_cost == amount<usd>{3'000'000'000'000'000'000});
    CHECK(shared.lines[1].joint_cost == amount<usd>{6'000'000'000'000'000'001});
    CHECK_THROWS_WITH(allocate_joint_cost(cost, two, joint_method::constant_margin),
                      StartsWith("amount of USD: got a sum beyond 64 bits"));
    CHECK_THROWS_WITH(
        allocate_joint_cost<usd>(cost, {{.name = "a", .final_value = 1e300_usd}}, joint_method::constant_margin),
        StartsWith("sales value: got 1e+300 USD"));
    const products huge{{.name = "a", .final_value = 1e308_usd}, {.name = "b", .final_value = 1e308_usd}};
    CHECK_THROWS_WITH(allocate_joint_cost(cost, huge, joint_method::net_realisable_value),
                      StartsWith("net realisable value: got a sum beyond 1.8e308"));
}

} // namespace joint_cost_test
