// That a price list answers by name and refuses prices that are none.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <tranche/cut/price_list.hpp>

#include "loin/samples.hpp"

namespace price_list_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {
price_list<usd> some_prices() { // invented
    price_list<usd> prices{.portions = {{"steak", {.by_weight = 14.9_usd / 1_lb}}, {"fillet", {.each = 9.5_usd}}}};
    prices.by_products[destination::grind] = 4.2_usd / 1_lb;
    prices.by_products[destination::discard] = -0.1_usd / 1_lb;
    return prices;
}
} // namespace

TEST_CASE("a price is found by the name of its cut") {
    const auto prices = some_prices();
    CHECK(prices.of("steak").by_weight == 14.9_usd / 1_lb);
    CHECK(prices.of("steak").each == 0_usd);
    CHECK(prices.of("fillet").each == 9.5_usd);
    CHECK_NOTHROW(validate(prices)); // a negative value is a cost of disposal
}

TEST_CASE("a cut without a price is refused by its name") {
    CHECK(message_of([] { (void)some_prices().of("Steak"); }) ==
          "price of Steak: got none, expected a price by weight or by the piece");
}

TEST_CASE("a by-product without a value counts as nothing, and is not one that is worth nothing") {
    price_list<usd> prices = some_prices();
    CHECK(prices.of(destination::grind) == 4.2_usd / 1_lb);
    CHECK(prices.of(destination::discard) == -0.1_usd / 1_lb);
    CHECK_FALSE(prices.by_products[destination::rendering].has_value());
    CHECK(prices.of(destination::rendering) == unit_price<usd>{});
    prices.by_products[destination::rendering] = unit_price<usd>{};
    CHECK(prices.of(destination::rendering) == unit_price<usd>{});
    CHECK_FALSE(prices == some_prices());
    CHECK_NOTHROW(validate(prices));
}

TEST_CASE("a price that is not finite is refused by its name") {
    for (const double bad : {not_a_number, infinite, -infinite}) {
        const auto refusal = [&](auto change) {
            auto prices = some_prices();
            change(prices);
            return message_of([&] { validate(prices); });
        };
        const std::string end = ": got " + detail::shown(bad) + ", expected a finite value";
        CHECK(refusal([&](auto& p) { p.portions["steak"].by_weight = unit_price<usd>::from_value(bad); }) ==
              "price of steak by weight" + end);
        CHECK(refusal([&](auto& p) { p.portions["steak"].each = money<usd>::from_value(bad); }) ==
              "price of steak by the piece" + end);
        CHECK(refusal([&](auto& p) { p.by_products[destination::dice] = unit_price<usd>::from_value(bad); }) ==
              "value of dice" + end);
    }
}

} // namespace price_list_test
