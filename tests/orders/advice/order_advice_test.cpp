// What would help an order, worked by hand: one loin more, and the same loins at another price.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include "orders/two_loins.hpp"
#include <tranche/orders/advice/loins_that_help.hpp>
#include <tranche/orders/advice/rank_suppliers.hpp>

namespace order_advice_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("loins_that_help: one loin more brings what the order then comes to") {
    // B alone: two thick portions, 6.00. With a second B, 24.00 as both loins cost 8.00: three thick ones and the two thin ones
    // are 130 mm of 120: 3 thick ones and 30 mm with one thin: 27.00 + 5.00 - 1.00 + 10 mm of loose meat, 0.50, - 16.00 = 15.50,
    // which is 9.50 more.
    order<usd> wanted = two_loins<usd>();
    wanted.loins.erase(wanted.loins.begin());
    const order_plan<usd> alone = plan_order(wanted);
    REQUIRE(alone.value_billionths == 6'000'000'000);
    const auto helps = loins_that_help(wanted, alone);
    REQUIRE(helps.size() == 1);
    CHECK((helps[0].loin == 0 && helps[0].name == "B"));
    REQUIRE(helps[0].gains);
    CHECK(*helps[0].gains == 9'50);
    CHECK(helps[0].fills == 2);
    CHECK(helps[0].at_most >= 9'50);
}

TEST_CASE("loins_that_help: nothing helps an order that is filled, and a bound is no promise") {
    order<usd> wanted = two_loins<usd>();
    for (auto& line : wanted.lines) line.at_least = line.at_most = 0;
    const order_plan<usd> none = plan_order(wanted);
    CHECK(none.value_billionths == 0);
    for (const loin_help& help : loins_that_help(wanted, none)) {
        CHECK(help.at_most >= 0);
        CHECK(help.gains.value_or(0) == 0);
        CHECK(help.fills == 0);
    }
    const order<usd> again = two_loins<usd>();
    const auto planned = plan_order(again);
    const auto bounds = loins_that_help(again, planned, {}, 0);
    REQUIRE(bounds.size() == 2);
    CHECK_FALSE(bounds[0].gains);
    CHECK(bounds[0].at_most >= bounds[1].at_most);
}

TEST_CASE("rank_suppliers: the same loins at another price, and another batch") {
    const order<usd> wanted = two_loins<usd>();
    // At 10.00 a kilogram A costs 10.00 and B 6.00: 4.00 less in all.
    const auto cheaper = loins_at(wanted, 10_usd / 1_kg);
    CHECK_THAT(cheaper[0].worth / 1_usd, WithinAbs(10.0, 1e-9));
    CHECK_THAT(cheaper[1].worth / 1_usd, WithinAbs(6.0, 1e-9));
    std::vector<order_loin<usd>> shorter{wanted.loins[1]};
    const auto ranked = rank_suppliers<usd>(
        wanted, {{"own", wanted.loins}, {"B alone", shorter}, {"cheaper", cheaper}, {"again", wanted.loins}});
    REQUIRE(ranked.size() == 4);
    CHECK((ranked[0].name == "cheaper" && ranked[0].rank == 1));
    CHECK((ranked[1].name == "own" && ranked[1].rank == 2));
    CHECK((ranked[2].name == "again" && ranked[2].rank == 2));
    CHECK((ranked[3].name == "B alone" && ranked[3].rank == 4));
    CHECK(ranked[0].account.total() == 22'50);
    CHECK(ranked[1].account.total() == 18'50);
    CHECK(ranked[3].account.total() == 6'00);
    CHECK_THROWS_AS(loins_at(wanted, std::numeric_limits<double>::quiet_NaN() * (1_usd / 1_kg)), invalid_input);
    try {
        (void)rank_suppliers<usd>(wanted, {{"nobody", {}}});
        FAIL("no loins are accepted");
    } catch (const invalid_input& error) {
        CHECK_THAT(error.what(), StartsWith("nobody: loins: got none"));
    }
}

} // namespace order_advice_test
