// The report of an order against what is worked by hand: lines, tables, CSV that adds up, cards, and a picture read as XML.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/order_report.hpp>

#include <cstdint>
#include <string>
#include <vector>

#include "orders/two_loins.hpp"
#include "report/csv_reading.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"
#include <tranche/report/html_report.hpp>
#include <tranche/report/text_report.hpp>

namespace order_report_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

order_account both_loins() { return account_of(two_loins<usd>(), plan_of_two_loins<usd>()); }

/// A alone, three thick portions of three and no thin one of two; B stays whole.
order_account one_loin() {
    auto plan = plan_of_two_loins<usd>();
    plan.opened = {{.loin = 0,
                    .portions = {3, 0},
                    .cuts = {{30, 0, slab_kind::portions},
                             {60, 0, slab_kind::portions},
                             {90, 0, slab_kind::portions},
                             {100, 0, slab_kind::loose}}}};
    plan.unopened = {{.loin = 1}};
    plan.lines = {{.made = 3, .most = 5}, {.made = 0, .unfilled = 2, .most = 1}};
    plan.value_billionths = 13'500'000'000;
    plan.bound_billionths = 14'000'000'000;
    plan.ended = order_end::gap_left;
    return account_of(two_loins<usd>(), plan);
}

/// Many loins of invented counts, each of them unlike most others, on 20 products.
order_account many_loins(std::size_t loins, std::size_t products) {
    order_account account{.currency = {"USD", 2}};
    for (std::size_t p = 0; p < products; ++p)
        account.lines.push_back({.name = "cut " + std::to_string(p),
                                 .at_least = 9,
                                 .at_most = 9,
                                 .filled = {.unfilled = p % 3 == 0 ? 2 : 0}});
    std::uint32_t state = 1;
    for (std::size_t i = 0; i < loins; ++i) {
        order_loin_account loin{.loin = i, .name = "loin " + std::to_string(i), .opened = i % 7 != 0};
        for (std::size_t p = 0; p < products; ++p) {
            state = state * 1664525U + 1013904223U;
            loin.portions.push_back(loin.opened ? static_cast<std::int64_t>(state >> 30U) : 0);
            account.lines[p].filled.made += loin.portions.back();
        }
        (loin.opened ? account.opened : account.unopened) += 1;
        account.loins.push_back(std::move(loin));
    }
    return account;
}

std::vector<std::string> texts(const std::vector<xml_element>& elements, const std::string& kind) {
    std::vector<std::string> all;
    for (const xml_element& e : of_kind(elements, kind)) all.push_back(e.text);
    return all;
}
std::int64_t sum(const std::vector<std::string>& numbers) {
    std::int64_t all = 0;
    for (const std::string& n : numbers) all += std::stoll(n);
    return all;
}

} // namespace

TEST_CASE("order_report: the answer says which loins to open, what is missing, and how good the plan is") {
    CHECK(order_lines(both_loins()) ==
          std::vector<std::string>{"Open 2 of 2 loins: A and B.", "5 portions: the order is filled.",
                                   "The order comes to 18.50 USD: what is sold and kept, less the loins that are "
                                   "opened. No other plan is better."});
    CHECK(order_lines(one_loin()) ==
          std::vector<std::string>{
              "Open 1 of 2 loins: A; B stays whole.", "3 portions; missing: 2 × thin (all loins together give 1).",
              "The order comes to 13.50 USD: what is sold and kept, less the loins that are opened "
              "and what is missing. The best there can be is at most 3.7 % better (14.00 USD)."});
    const auto many = order_lines(many_loins(1000, 3));
    CHECK(many[0] == "Open 857 of 1000 loins.");
}

TEST_CASE("order_report: without a currency nothing is said of money") {
    order_account account = both_loins();
    account.currency = {};
    const std::string text = text_of(order_sections(account, {.units = metric_kitchen}));
    CHECK_THAT(text, ContainsSubstring("the order is filled"));
    CHECK_THAT(text, !ContainsSubstring("worth") && !ContainsSubstring("costs") && !ContainsSubstring("0.00"));
    CHECK(order_money_csv(account).empty());
}

TEST_CASE("order_report: text and page say the same, and the page is well-formed") {
    const auto sections =
        order_sections(one_loin(), {.units = metric_kitchen,
                                    .helps = {{.loin = 1, .name = "B", .at_most = 5'00, .gains = 4'50, .fills = 2},
                                              {.loin = 0, .name = "A", .at_most = 0}},
                                    .suppliers = {{.name = "the other <market>", .account = both_loins()},
                                                  {.name = "own", .rank = 2, .account = one_loin()}}});
    const std::string text = text_of(sections);
    for (const char* words : {"thin                2    0        2", "stays whole", "thin: 2 missing", "-2.00",
                              "the other <market>", "B        4.50", "loose meat to grind"})
        CHECK_THAT(text, ContainsSubstring(words));
    CHECK_THAT(text, !ContainsSubstring("One more like  Brings, USD  Fills portions  At most, USD\nA"));
    const std::string page = html_of("An order", sections);
    CHECK_FALSE(parse_xml(page).empty());
    CHECK(fetched(page).empty());
    CHECK_THAT(page, ContainsSubstring("the other &lt;market&gt;") && ContainsSubstring("13.50"));
}

TEST_CASE("order_report: tables add up as they read") {
    const report_table money = order_money_table(one_loin());
    REQUIRE(money.rows.size() == 5);
    std::int64_t cents = 0;
    for (const auto& row : money.rows)
        if (!row.total) cents += digits_of(row.cells[1], 2);
    CHECK(cents == digits_of(money.rows.back().cells[1], 2));
    CHECK(cents == 13'50);
    const report_table loins = order_loins_table(many_loins(1000, 4), metric_kitchen);
    REQUIRE(loins.rows.size() == 40);
    CHECK(loins.rows.back().cells[1] ==
          "824 opened, 137 whole: see the files"); // 1000 - 39: every seventh of all is whole
}

TEST_CASE("order_report: CSV reads back and adds up to the microgram and the minor unit") {
    const order_account account = one_loin();
    const records lines = read_csv(order_lines_csv(account));
    REQUIRE(lines.size() == 3);
    CHECK(sum_of(lines, "weight_g", 6) == account.portions().count);
    CHECK(lines[2][column(lines, "missing")] == "2");
    CHECK(sum_of(lines, "by_piece", 2) + sum_of(lines, "left_over_worth", 2) - sum_of(lines, "missing_cost", 2) +
              account.by_products[destination::grind] - account.loins_worth ==
          account.total());
    const records loins = read_csv(order_loins_csv(account));
    REQUIRE(loins.size() == 3);
    std::int64_t parts = 0;
    for (const char* part : {"portions_g", "remnant_g", "loose_g", "trim_g", "cutting_loss_g"})
        parts += sum_of(loins, part, 6);
    CHECK(parts == sum_of(loins, "whole_g", 6));
    CHECK(parts == account.whole().count);
    CHECK(loins[1][column(loins, "thick")] == "3");
    CHECK(loins[2][column(loins, "opened")] == "no");
    const records money = read_csv(order_money_csv(account));
    CHECK(sum_of(money, "amount", 2) == 2 * account.total()); // with the total itself
    order_account odd = account;
    odd.lines[0].name = "=a, \"b\"";
    CHECK(read_csv(order_lines_csv(odd))[1][0] == "'=a, \"b\"");
}

TEST_CASE("order_report: the picture has each loin by each product, and its columns add up") {
    const auto small = parse_xml(order_svg(one_loin()));
    CHECK(texts(small, "loin") == std::vector<std::string>{"A", "B"});
    CHECK(texts(small, "portions") == std::vector<std::string>{"3"});
    CHECK(texts(small, "stays") == std::vector<std::string>{"stays whole"});
    CHECK(texts(small, "made") == std::vector<std::string>{"3", "0"});
    CHECK(texts(small, "ordered") == std::vector<std::string>{"3", "2"});
    CHECK(texts(small, "missing") == std::vector<std::string>{"2"});

    const order_account six = many_loins(6, 4);
    const auto drawn = parse_xml(order_svg(six));
    CHECK(texts(drawn, "loin").size() == 6);
    CHECK(sum(texts(drawn, "portions")) == sum(texts(drawn, "made")));
    for (const auto& label : of_kind(drawn, "portions")) CHECK(label.number("font-size") >= 10.0);

    for (const std::size_t products : {3U, 20U, 40U}) {
        const order_account many = many_loins(1000, products);
        const auto picture = parse_xml(order_svg(many));
        CHECK(of_kind(picture, "loin").size() <= 32);
        CHECK(of_kind(picture, "product").size() == std::min<std::size_t>(products, 24));
        for (const auto& label : of_kind(picture, "portions")) CHECK(label.number("font-size") >= 9.0);
        // Each group counts as often as it has loins; the row of all others is a sum by itself.
        const auto names = texts(picture, "loin");
        std::int64_t all = 0;
        std::size_t loins = 0, row = 0;
        std::vector<std::string> in_all = texts(picture, "all");
        REQUIRE(in_all.size() >= 2);
        for (const std::string& name : names) {
            const bool group = name.find("loins") != std::string::npos, rest = name.find("more") != std::string::npos;
            const std::size_t count = group || rest ? static_cast<std::size_t>(std::stoull(name)) : 1;
            loins += count;
            if (group && name.find("each") == std::string::npos) continue; // stay whole
            all += std::stoll(in_all[row++]) * (rest ? 1 : static_cast<std::int64_t>(count));
        }
        CHECK(loins == 1000);
        CHECK(all == std::stoll(in_all.back()));
    }
    CHECK_THROWS_AS(order_svg(order_account{}), invalid_input);
}

TEST_CASE("order_report: each way of cutting a loin has a board card") {
    auto wanted = two_loins<usd>();
    wanted.loins[0].count = 3;
    auto plan = plan_of_two_loins<usd>();
    plan.opened[0].count = 3;
    const auto cards = order_cards("Friday", wanted, plan, {.units = metric_kitchen});
    REQUIRE(cards.size() == 2);
    CHECK(cards[0].count == 3);
    CHECK_THAT(cards[0].html, ContainsSubstring("Friday, A (3 alike)"));
    CHECK_THAT(cards[1].html, ContainsSubstring("Friday, B") && ContainsSubstring("thick"));
    CHECK_FALSE(parse_xml(cards[1].html).empty());
}

} // namespace order_report_test
