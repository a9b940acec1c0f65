// The code that docs/orders.md shows of cutting an order and of its answers, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <string>
#include <vector>

#include <tranche/order_report.hpp>
#include <tranche/orders.hpp>
#include <tranche/study.hpp>
#include <tranche/tranche.hpp>

#include "orders/two_loins.hpp"

namespace orders_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

measured_loin house_loin() { // invented
    return {.length = 42_cm,
            .stations = {{.at = 0_cm, .width = 22_cm, .depth = 7.8_cm, .fat_cover = 1_cm, .tail = 4_cm},
                         {.at = 42_cm, .width = 20_cm, .depth = 7.6_cm, .fat_cover = 0.7_cm, .tail = 2_cm}}};
}

} // namespace

TEST_CASE("docs orders: six loins are planned for two lines as the page says") {
    const cut_spec steak{.name = "steak", .thickness = {19_mm, 28_mm}, .portion = {330_g, 360_g}};
    const cut_spec fillet{.name = "fillet", .thickness = {30_mm, 45_mm}, .portion = {190_g, 260_g}, .pieces = 2};
    order<usd> wanted{.rules = {.facing = 8_mm}};
    wanted.by_products[destination::grind] = 4_usd / 1_kg;
    for (int i = 0; i < 6; ++i) { // six loins, each as it was taped, at what was paid for it
        measured_loin taped = house_loin();
        taped.length += i * 5_mm;
        wanted.loins.push_back(
            {.name = "loin " + std::to_string(i + 1), .meat = loin_source(taped, 1_mm), .worth = 80_usd});
    }
    wanted.lines.push_back({.cut = steak, .at_least = 30, .at_most = 30, .unfilled = 14_usd, .surplus = 4_usd});
    wanted.lines.push_back({.cut = fillet, .at_least = 12, .price = {.each = 6_usd}, .unfilled = 5_usd});
    const order_plan<usd> plan = plan_order(wanted, {.threads = 2});
    CHECK(plan.lines[0].made + plan.lines[0].unfilled - plan.lines[0].surplus == 30);
    CHECK(plan.value() <= plan.bound());
    CHECK_FALSE(plan.opened.empty());
}

TEST_CASE("docs orders: what an order comes to is said, advised and compared as the page says") {
    const order<usd> wanted = two_loins<usd>();
    const order_plan<usd> plan = plan_order(wanted);
    const order_account account = account_of(wanted, plan); // weights, portions and money, which add up
    const auto helps = loins_that_help(wanted, plan);       // one more of which loin would bring what
    const auto ranked =
        rank_suppliers<usd>(wanted, {{"as bought", wanted.loins}, {"at 17.50", loins_at(wanted, 17.50_usd / 1_kg)}});
    const auto sections = order_sections(account, {metric_kitchen, helps, ranked});
    const std::string text = text_of(sections), page = html_of("Friday", sections), picture = order_svg(account);
    const std::string table = order_loins_csv(account); // and order_lines_csv, order_money_csv, order_suppliers_csv
    const std::vector<order_card> cards = order_cards("Friday", wanted, plan, {.units = metric_kitchen});
    CHECK_THAT(text, ContainsSubstring("The order comes to") && ContainsSubstring("With other loins"));
    CHECK_THAT(page, ContainsSubstring("<svg"));
    CHECK_FALSE(picture.empty());
    CHECK_THAT(table, StartsWith("loin,loins,opened,thick,thin,whole_g"));
    CHECK(cards.size() == plan.opened.size());
    CHECK(helps.size() == 2);
}

TEST_CASE("docs orders: the chance that an order is filled is studied as the page says") {
    const order<usd> wanted = two_loins<usd>();
    const order_plan<usd> plan = plan_order(wanted);
    const cutting_spreads spreads{.ratio = 0.03, .knife = 1.5_mm}; // how far loins and hand are known
    const study_result evenings = run_study(order_as_cut(wanted, plan, spreads), {.replicates = 5'000});
    const auto chance = estimate_mean(evenings["filled"]); // with its interval
    const double missing = *evenings["missing"].mean();    // portions, on average
    CHECK(chance->mean == 1.0);                            // no portion has a least weight
    CHECK(missing == 0.0);
}

TEST_CASE("docs orders: an order is cut loin by loin, kept and gone on with as the page says") {
    const order<usd> wanted = two_loins<usd>();
    order_session<usd> session(wanted);
    std::vector<order_session_state> kept;
    while (const auto loin = session.next_loin()) { // none once no more have to be opened
        session.open(*loin);
        while (const auto next = session.next()) session.record({.weight = next->weight}); // as the scale says
        session.finish();                // what was really cut counts; all that is left is planned again
        kept.push_back(session.state()); // a plain value, which order_session_csv writes
    }
    const order_session<usd> again(wanted, kept.front()); // goes on from there, with the same advice
    CHECK(session.made()[0] >= 2);
    CHECK(again.finished().size() == 1);
    CHECK(again.finished()[0] == session.finished()[0]);
}

} // namespace orders_snippets
