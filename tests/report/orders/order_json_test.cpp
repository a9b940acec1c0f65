// An order in JSON read back by the library that wrote it: figures of the account, to the microgram and the minor unit.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/order_json.hpp>

#include <cmath>
#include <cstdint>
#include <limits>
#include <string>

#include "orders/two_loins.hpp"
#include "support/catch.hpp"

namespace order_json_test {

using namespace tranche;
using namespace tranche_test;
using json = nlohmann::ordered_json;

namespace {

std::int64_t count_of(const json& grams) { return std::llround(grams.get<double>() * 1e6); }

} // namespace

TEST_CASE("order_json: says what the account says, and its figures add up") {
    const order_account account = account_of(two_loins<usd>(), plan_of_two_loins<usd>());
    const json j = json::parse(order_json(account));
    CHECK(j["format"] == "tranche order 1");
    CHECK((j["filled"] == true && j["ended"] == "proven" && j["currency"] == "USD"));
    CHECK((j["worth"] == "18.50" && j["bound"] == "18.50" && j["relative_gap"] == 0.0));
    REQUIRE(j["lines"].size() == 2);
    CHECK((j["lines"][0]["product"] == "thick" && j["lines"][0]["cut"] == 3 && j["lines"][0]["missing"] == 0));
    CHECK(j["lines"][0]["one_more_costs"] == "3.50");
    CHECK(j["lines"][1]["by_piece"] == "10.00");
    REQUIRE(j["loins"].size() == 2);
    CHECK(j["loins"][0]["portions"] == json{{"thick", 2}, {"thin", 2}});
    std::int64_t cents = 0;
    for (const json& figure : j["money"]) {
        std::string digits = figure["amount"].get<std::string>();
        digits.erase(digits.find('.'), 1);
        cents += std::stoll(digits);
    }
    CHECK(cents == 18'50);
    std::int64_t whole = 0;
    for (const json& loin : j["loins"]) {
        std::int64_t parts = 0;
        for (const char* part : {"portions_g", "remnant_g", "loose_g", "trim_g", "cutting_loss_g"})
            parts += count_of(loin[part]);
        CHECK(parts == count_of(loin["whole_g"]));
        whole += parts;
    }
    CHECK(whole == account.whole().count);
}

TEST_CASE("order_json: a gap that is not known is left out, for JSON has no infinity") {
    order_account account = account_of(two_loins<usd>(), plan_of_two_loins<usd>());
    account.relative_gap = std::numeric_limits<double>::infinity();
    CHECK_FALSE(json::parse(order_json(account)).contains("relative_gap"));
    account.relative_gap = 0.25;
    CHECK(json::parse(order_json(account))["relative_gap"] == 0.25);
}

TEST_CASE("order_json: a currency that there is none of leaves money out, and odd names stay what they are") {
    order_account account = account_of(two_loins<jpy>(), plan_of_two_loins<jpy>());
    CHECK(json::parse(order_json(account))["worth"] == "19"); // 27 + 10 + 2 (of 1.5, to the even one) - 20
    account.currency = {};
    account.lines[0].name = "\"thick\" \xff";
    account.lines[0].at_most = demand::any_number;
    const json j = json::parse(order_json(account));
    CHECK(!j.contains("worth"));
    CHECK(!j.contains("money"));
    CHECK(!j["lines"][0].contains("at_most"));
    CHECK(j["lines"][0]["product"].get<std::string>().starts_with("\"thick\" "));
}

} // namespace order_json_test
