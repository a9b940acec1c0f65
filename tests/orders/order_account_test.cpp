// What a plan of an order comes to, against arithmetic by hand: weights to the microgram, money to the minor unit.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "orders/two_loins.hpp"
#include <tranche/orders/order_account.hpp>

namespace order_account_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("order_account: two loins and two products come to what they do by hand") {
    const auto wanted = two_loins<usd>();
    std::vector<std::string> laid_out;
    const order_account account =
        account_of(wanted, plan_of_two_loins<usd>(), [&](const opened_loin& opened, const cutting_plan& cuts) {
            laid_out.push_back(wanted.loins[opened.loin].name + ' ' + std::to_string(cuts.portion_count()));
        });
    CHECK(laid_out == std::vector<std::string>{"A 4", "B 1"});
    CHECK(account.currency.code == "USD");
    CHECK(account.filled());
    CHECK((account.opened == 2 && account.unopened == 0));

    // Weights: 2 × 300 g + 2 × 200 g of A, 300 g and 300 g loose of B.
    REQUIRE(account.lines.size() == 2);
    CHECK(account.lines[0].weight.count == 900'000'000);
    CHECK(account.lines[1].weight.count == 400'000'000);
    CHECK(account.lines[0].lightest.count == 300'000'000);
    CHECK(account.lines[1].heaviest.count == 200'000'000);
    CHECK(account.loose[destination::grind].count == 300'000'000);
    CHECK(account.whole().count == 1'600'000'000);
    REQUIRE(account.loins.size() == 2);
    CHECK(account.loins[0].whole.count == 1'000'000'000);
    CHECK(account.loins[0].in_portions.count == 1'000'000'000);
    CHECK(account.loins[1].in_portions.count == 300'000'000);
    CHECK(account.loins[1].loose.count == 300'000'000);
    CHECK(account.loins[1].portions == std::vector<std::int64_t>{1, 0});

    // Money: 27.00 + 10.00 + 1.50 - 20.00 = 18.50.
    CHECK(account.lines[0].by_piece == 27'00);
    CHECK(account.lines[1].by_piece == 10'00);
    CHECK((account.lines[0].unfilled == 0 && account.lines[0].left_over == 0));
    CHECK(account.by_products[destination::grind] == 1'50);
    CHECK(account.loins_worth == 20'00);
    CHECK(account.loins[1].gives == 1'50);
    CHECK(account.total() == 18'50);
    CHECK(account.bound == 18'50);
    CHECK(account.lines[0].last_portion == 3'50);
}

TEST_CASE("order_account: missing portions cost, and those left over are worth what is said") {
    // A alone gives three thick portions and 10 mm of loose meat: 27.00 - 2 × 1.00 + 0.50 - 12.00 = 13.50, and B keeps 8.00.
    const auto wanted = two_loins<usd>();
    auto plan = plan_of_two_loins<usd>();
    plan.opened = {{.loin = 0,
                    .portions = {3, 0},
                    .cuts = {{30, 0, slab_kind::portions},
                             {60, 0, slab_kind::portions},
                             {90, 0, slab_kind::portions},
                             {100, 0, slab_kind::loose}}}};
    plan.unopened = {{.loin = 1}};
    plan.lines = {{.made = 3, .most = 5}, {.made = 0, .unfilled = 2, .most = 8}};
    const order_account alone = account_of(wanted, plan);
    CHECK(alone.lines[1].unfilled == 2'00);
    CHECK(alone.total() == 13'50);
    CHECK(alone.unopened_worth == 8'00);
    CHECK_FALSE(alone.filled());
    CHECK(alone.whole().count == 1'000'000'000);
    REQUIRE(alone.loins.size() == 2);
    CHECK((!alone.loins[1].opened && alone.loins[1].name == "B" && alone.loins[1].worth == 8'00));

    // Two of three thick portions wanted: one is left over, 2 × 9.00 + 1.00 - 2.00 + 0.50 - 12.00 = 5.50.
    auto fewer = wanted;
    fewer.lines[0].at_least = fewer.lines[0].at_most = 2;
    plan.lines[0] = {.made = 3, .surplus = 1, .most = 5};
    const order_account over = account_of(fewer, plan);
    CHECK(over.lines[0].by_piece == 18'00);
    CHECK(over.lines[0].left_over == 1'00);
    CHECK(over.total() == 5'50);
}

TEST_CASE("order_account: loins alike count as often as they are") {
    auto wanted = two_loins<usd>();
    wanted.loins[0].count = 50;
    auto plan = plan_of_two_loins<usd>();
    plan.opened[0].count = 40;
    plan.unopened = {{.loin = 0, .count = 10}};
    const order_account account = account_of(wanted, plan);
    CHECK((account.opened == 41 && account.unopened == 10));
    CHECK(account.whole().count == 40'600'000'000);
    CHECK(account.lines[0].weight.count == (80 + 1) * std::int64_t{300'000'000});
    CHECK(account.loins_worth == 40 * 12'00 + 8'00);
    CHECK(account.unopened_worth == 120'00);
}

TEST_CASE("order_account: labour, prices by weight and a remnant that is kept each count") {
    auto wanted = two_loins<usd>();
    wanted.lines[0].price = {.by_weight = 20_usd / 1_kg, .each = 3_usd};
    wanted.labour = {.slab = 0.10_usd, .portion = 0.05_usd};
    wanted.remnant = kept_remnant<usd>{.least_thickness = 20_mm, .value = 8_usd / 1_kg};
    auto plan = plan_of_two_loins<usd>();
    plan.opened[1].cuts = {{30, 0, slab_kind::portions}, {60, 2, slab_kind::portions}};
    const order_account account = account_of(wanted, plan);
    CHECK(account.lines[0].by_weight == 18'00); // 900 g
    CHECK(account.lines[0].by_piece == 9'00);
    CHECK(account.remnants.count == 300'000'000);
    CHECK((account.remnants_kept == 1 && account.remnants_worth == 2'40));
    CHECK(account.labour == 5 * 15); // nobody works on a remnant
    CHECK(account.whole().count == 1'600'000'000);
    CHECK(account.total() == 18'00 + 9'00 + 10'00 + 2'40 - 75 - 20'00);
}

TEST_CASE("order_account: a plan of another order is refused") {
    auto other = two_loins<usd>();
    other.lines.pop_back();
    CHECK_THROWS_AS(account_of(other, plan_of_two_loins<usd>()), invalid_input);
}

} // namespace order_account_test
