// Orders on a sheet: loins are opened as far as they take it, sums agree with each loin's bill, and every output says so.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include <boost/property_tree/ptree.hpp>
#include <boost/property_tree/xml_parser.hpp>
#include <nlohmann/json.hpp>

#include "report/csv_reading.hpp"
#include "sheet_texts.hpp"
#include <tranche/sheet.hpp>
#include <tranche/sheet/answer_json.hpp>
#include <tranche/sheet/board/board_session.hpp>

namespace sheet_orders_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;
using json = nlohmann::ordered_json;

namespace {

/// The sheet with a text in it replaced.
std::string with(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}
/// Throws where a page or a picture is not well-formed.
void read_as_xml(const std::string& text) {
    std::istringstream in(text);
    boost::property_tree::ptree tree;
    boost::property_tree::read_xml(in, tree);
}
std::string refused(const std::string& text) {
    try {
        (void)read_sheet(text);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "accepted";
}
const answer_file& file(const std::vector<answer_file>& files, const std::string& name) {
    const auto found = std::find_if(files.begin(), files.end(), [&](const answer_file& f) { return f.name == name; });
    REQUIRE(found != files.end());
    return *found;
}

/// On a coarse grid, so that orders are planned soon.
const std::string& quick_covers() {
    static const std::string text = with(covers_sheet, "grid = 1 mm", "grid = 4 mm");
    return text;
}
const sheet_answer& covers() {
    static const sheet_answer answer = plan_sheet(read_sheet(quick_covers()));
    return answer;
}

} // namespace

TEST_CASE("sheet_orders: loins are opened as far as the order takes it, and the others stay whole") {
    const sheet_answer& answer = covers();
    REQUIRE(answer.order);
    const order_account& order = answer.order->account;
    CHECK(answer.feasible());
    CHECK(order.filled());
    REQUIRE(order.lines.size() == 3);
    CHECK((order.lines[0].filled.made >= 16 && order.lines[1].filled.made >= 8));
    CHECK(order.lines[2].filled.made == 0); // nobody ordered it
    CHECK(order.opened + order.unopened == 4);
    CHECK((order.opened >= 2 && order.unopened >= 1));
    std::size_t opened = 0;
    for (const loin_answer& loin : answer.loins) {
        opened += loin.opened ? 1U : 0U;
        CHECK(loin.opened == !loin.planned.plan.slabs.empty());
        CHECK(loin.opened == loin.settled.has_value());
        CHECK(loin.opened == (loin.account.loins == 1));
    }
    CHECK(opened == static_cast<std::size_t>(order.opened));
    CHECK(answer.all.loins == opened);
}

TEST_CASE("sheet_orders: the order's account agrees with the bills, to the microgram and the minor unit") {
    const sheet_answer& answer = covers();
    const order_account& order = answer.order->account;
    for (std::size_t c = 0; c < answer.all.cuts.size(); ++c) {
        CHECK(order.lines[c].weight == answer.all.cuts[c].weight);
        CHECK(order.lines[c].filled.made == static_cast<std::int64_t>(answer.all.cuts[c].portions));
        if (answer.all.cuts[c].portions == 0) continue;
        CHECK(order.lines[c].lightest == answer.all.cuts[c].lightest);
        CHECK(order.lines[c].heaviest == answer.all.cuts[c].heaviest);
    }
    CHECK(order.whole() == answer.all.on_the_board);
    CHECK(order.loose == answer.all.loose);
    CHECK(order.trim == answer.all.trim);
    CHECK(order.cutting_loss == answer.all.cutting_loss);
    // Nothing is left over, so what is sold is portions at their price each, and loins cost what was paid, each rounded once.
    if (order.lines[0].filled.made == 16) CHECK(order.lines[0].by_piece == 16 * 14'50);
    CHECK(std::abs(order.loins_worth - answer.all.paid->minor) <= 2);
}

TEST_CASE("sheet_orders: every output has the order, and reads back") {
    const sheet_answer& answer = covers();
    const order_account& order = answer.order->account;
    const std::string text = answer_text(answer);
    CHECK_THAT(text, ContainsSubstring("Open " + std::to_string(order.opened) + " of 4 loins: ") &&
                         ContainsSubstring("the order is filled") && ContainsSubstring("stays whole") &&
                         ContainsSubstring("Loins that are opened"));
    std::size_t widest = 0;
    for (std::size_t at = 0, end = 0; at < text.size(); at = end + 1) {
        end = std::min(text.find('\n', at), text.size());
        widest = std::max(widest, detail::columns_of(text.substr(at, end - at)));
    }
    CHECK(widest <= 80);

    const std::string page = answer_page(answer);
    CHECK_NOTHROW(read_as_xml(page));
    CHECK_THAT(page, ContainsSubstring("portions of each product out of each loin"));

    const json j = json::parse(answer_json(answer));
    CHECK(j["order"]["filled"] == true);
    CHECK(j["order"]["lines"].size() == 3);
    CHECK(j["loins"].size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(j["loins"][i]["opened"] == answer.loins[i].opened);
        CHECK(j["loins"][i].contains("slabs") == answer.loins[i].opened);
    }

    const std::vector<answer_file> tables = answer_csv(answer);
    const records lines = read_csv(file(tables, "order_lines.csv").text);
    CHECK(sum_of(lines, "weight_g", 6) == order.portions().count);
    CHECK(read_csv(file(tables, "order_loins.csv").text).size() == 5);
    const records slabs = read_csv(file(tables, "slabs.csv").text);
    for (std::size_t r = 1; r < slabs.size(); ++r)
        for (const loin_answer& loin : answer.loins)
            if (slabs[r][0] == loin.name) CHECK(loin.opened);
    CHECK_NOTHROW(read_as_xml(file(answer_pictures(answer), "order.svg").text));
    CHECK(board_cards(answer).size() == static_cast<std::size_t>(order.opened));
}

TEST_CASE("sheet_orders: what cannot be filled is named, and what it costs") {
    const sheet_answer answer =
        plan_sheet(read_sheet(with(quick_covers(), "number = 16", "number = at least 200")), {.what_ifs = false});
    CHECK_FALSE(answer.feasible());
    const order_account& order = answer.order->account;
    CHECK(order.opened == 4);
    CHECK(order.lines[0].filled.unfilled > 100);
    CHECK(order.lines[0].unfilled == order.lines[0].filled.unfilled * 4'00);
    CHECK_THAT(answer_text(answer), ContainsSubstring("missing: ") && ContainsSubstring("× strip steak"));
}

TEST_CASE("sheet_orders: an order of nothing opens nothing, and is answered") {
    std::string text = with(quick_covers(), "number = 16", "number = at most 0");
    text = with(text, "number = 8 to 10", "number = at most 0");
    const sheet_answer answer = plan_sheet(read_sheet(text));
    CHECK(answer.feasible());
    CHECK((answer.order->account.opened == 0 && answer.order->account.unopened == 4));
    CHECK_THAT(answer_text(answer), ContainsSubstring("Open none of 4 loins."));
    CHECK_NOTHROW(read_as_xml(answer_page(answer)));
    CHECK(json::parse(answer_json(answer))["all"]["portions"] == 0);
    CHECK(answer_cards(answer).empty());
    CHECK_FALSE(answer_csv(answer).empty());
    CHECK_FALSE(answer_pictures(answer).empty());
}

TEST_CASE("sheet_orders: without prices as few portions as can be are missing, and then as little meat is opened as "
          "will do") {
    std::string text =
        "[cutting]\ngrid = 1 mm\n[loin A]\nweight = 5.2 kg\n[loin B]\nweight = 4.2 kg\n[loin C]\nweight = 6.4 kg\n"
        "[cut steak]\nthickness = 25 mm to 40 mm\nportion = 280 g to 360 g\n[order steak]\nnumber = ";
    const sheet_answer one = plan_sheet(read_sheet(with(text + "10", "1 mm", "4 mm")));
    CHECK(one.feasible());
    REQUIRE(one.loins.size() == 3);
    CHECK((!one.loins[0].opened && one.loins[1].opened && !one.loins[2].opened)); // the lightest
    const std::string says = answer_text(one);
    CHECK_THAT(says, ContainsSubstring("Open 1 of 3 loins: B; ") && ContainsSubstring("A guess") &&
                         !ContainsSubstring("0 to 0"));
    CHECK_THAT(says, !ContainsSubstring("XXX") && !ContainsSubstring("comes to"));
    const sheet_answer all = plan_sheet(read_sheet(text + "at least 100"));
    CHECK(all.order->account.opened == 3);
    std::size_t most = 0; // of each loin by itself
    for (const loin_answer& loin :
         plan_sheet(read_sheet(text.substr(0, text.find("[order"))), {.what_ifs = false}).loins)
        most += loin.planned.plan.portion_count();
    CHECK(all.order->account.lines[0].filled.made == static_cast<std::int64_t>(most));
    CHECK_FALSE(all.feasible());
}

TEST_CASE("sheet_orders: one loin and its order are answered like any other loin") {
    const sheet_answer answer =
        plan_sheet(read_sheet("[sheet]\ncurrency = USD\n[loin]\nweight = 12 lb\nprice = 8 USD/lb\n[cutting]\ngrid = 4 "
                              "mm\n[cut steak]\nthickness = 1 in to 1 1/2 in\n"
                              "price each = 15 USD\n[order steak]\nnumber = 9"));
    REQUIRE(answer.order);
    CHECK(answer.loins[0].opened);
    CHECK(answer.order->account.lines[0].filled.made == 9);
    CHECK_THAT(answer_text(answer), ContainsSubstring("Open 1 of 1 loin: the loin.") && ContainsSubstring("Cutting"));
    CHECK_NOTHROW(read_as_xml(answer_page(answer)));
}

TEST_CASE(
    "sheet_orders: what is above a number that is asked for at least is left over where that is worth something") {
    const std::string text =
        "[sheet]\ncurrency = USD\n[loin]\nweight = 12 lb\nprice = 1 USD/lb\n[cutting]\ngrid = 4 mm\n"
        "[cut steak]\nthickness = 1 in to 1 1/2 in\nprice each = 15 USD\n[order steak]\n"
        "number = at least 4\n";
    const sheet_answer sold = plan_sheet(read_sheet(text), {.what_ifs = false});
    const sheet_answer kept = plan_sheet(read_sheet(text + "left over is worth = 6 USD\n"), {.what_ifs = false});
    const order_line_account& all = sold.order->account.lines[0];
    const order_line_account& four = kept.order->account.lines[0];
    REQUIRE(all.filled.made > 4);
    CHECK((all.by_piece == all.filled.made * 15'00 && all.left_over == 0));
    CHECK(four.filled.made == all.filled.made);
    CHECK((four.by_piece == 4 * 15'00 && four.left_over == (four.filled.made - 4) * 6'00));
    CHECK_THAT(answer_text(kept), ContainsSubstring("left over: " + std::to_string(four.filled.made - 4) + " × steak"));
}

TEST_CASE("sheet_orders: the order is held against what it comes to at the price of each offer of loins") {
    std::string text = with(quick_covers(), "grid = 4 mm", "grid = 8 mm");
    std::string theirs = text; // the same loins, bought there
    for (const char* price : {"18.40", "17.20", "21.50", "18.40"})
        theirs = with(theirs, std::string("price = ") + price, "price = 16.00");
    const std::string offers = "\n[offer Saltmarsh]\nprice = 16.00 EUR/kg\nweight = 20 kg\nyield = 75 %\n"
                               "[offer cut elsewhere]\nprice = 30 EUR/kg\nweight = 20 kg\nyield = 100 %\n";
    text += offers, theirs += offers;
    const sheet_answer answer = plan_sheet(read_sheet(text));
    const std::vector<supplied_order>& by = answer.order->suppliers;
    REQUIRE(by.size() == 2); // what is bought as portions is no loin
    CHECK((by[0].name == "Saltmarsh" && by[0].rank == 1));
    CHECK((by[1].name == "this sheet" && by[1].rank == 2));
    CHECK(by[1].account.lines == answer.order->account.lines);
    const sheet_answer there = plan_sheet(read_sheet(theirs), {.what_ifs = false});
    CHECK(by[0].account == there.order->account);
    CHECK(there.order->suppliers.empty()); // not looked for

    const std::string worth = detail::money_number(by[0].account.total(), by[0].account.currency);
    const std::string page = answer_page(answer);
    CHECK_NOTHROW(read_as_xml(page));
    for (const std::string& report : {answer_text(answer), page})
        CHECK_THAT(report, ContainsSubstring("With other loins") && ContainsSubstring("this sheet") &&
                               ContainsSubstring("at the price of each offer") && ContainsSubstring(worth));
    const records rows = read_csv(file(answer_csv(answer), "order_suppliers.csv").text);
    REQUIRE(rows.size() == 3);
    CHECK(sum_of(rows, "worth", 2) == by[0].account.total() + by[1].account.total());
    CHECK(sum_of(rows, "loins_cost", 2) == by[0].account.loins_worth + by[1].account.loins_worth);
    const json j = json::parse(answer_json(answer));
    CHECK((j["order"]["suppliers"].size() == 2 && j["order"]["suppliers"][0]["worth"] == worth));
    CHECK(j["order"]["suppliers"][0]["loins_of"] == "Saltmarsh");
}

TEST_CASE("sheet_orders: what an order does not go together with is refused by its section") {
    CHECK_THAT(refused(with(covers_sheet, "[order Fillet]", "[order fillets]")),
               ContainsSubstring("expected the name of a cut in the sheet, perhaps fillet"));
    CHECK_THAT(refused(with(covers_sheet, "pieces = 2", "pieces = 2\nnumber = 4")),
               ContainsSubstring("[order strip steak]") && ContainsSubstring("an order is for all loins together"));
    CHECK_THAT(refused(with(covers_sheet, "grid = 1 mm", "grid = 1 mm\nplan for = least waste")),
               ContainsSubstring("a plan for best value or most portions"));
    CHECK_THAT(refused(with(covers_sheet, "price = 17.20 EUR/kg\n", "")),
               StartsWith("[loin B] price: got nothing, expected a price"));
    CHECK_THAT(refused(with(covers_sheet, "number = 16\n", "")), ContainsSubstring("how many are ordered"));
    CHECK_THAT(refused(with(covers_sheet, "left over is worth", "leftover is worth")),
               ContainsSubstring("perhaps left over is worth"));
}

TEST_CASE("sheet_orders: on the board a loin has what the order has of it") {
    const cut_sheet sheet = read_sheet(with(quick_covers(), "grid = 4 mm", "grid = 8 mm"));
    const sheet_answer answer = plan_sheet(sheet, {.what_ifs = false});
    CHECK((answer.order->account.opened > 0 && answer.order->account.unopened > 0));
    for (std::size_t i = 0; i < answer.loins.size(); ++i) {
        if (answer.loins[i].opened) {
            const auto portions =
                with_board_session(sheet, i, [](const auto& session) { return session.portions_to_come(); });
            CHECK(portions == answer.loins[i].planned.plan.portion_count());
        } else {
            CHECK_THROWS_AS(with_board_session(sheet, i, [](const auto&) {}), invalid_input);
        }
    }
}

} // namespace sheet_orders_test
