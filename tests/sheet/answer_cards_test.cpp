// Cards to print: one a cut with what it weighs and costs, and the labels of the packs.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <boost/property_tree/ptree.hpp>
#include <boost/property_tree/xml_parser.hpp>

#include <tranche/report/card_sheet.hpp>
#include <tranche/sheet/answer_cards.hpp>
#include <tranche/sheet/plan_sheet.hpp>
#include <tranche/sheet/read_sheet.hpp>

namespace answer_cards_test {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Invented.
constexpr std::string_view meat_case = R"([sheet]
title = Case of an invented shop <Tuesday>
currency = USD
[loin]
weight = 12.84 lb
price = 7.89 USD/lb
length = 16 in
lot = L-17
[cutting]
plan for = most portions
[cut thick steak]
thickness = 1 1/4 in to 1 1/2 in
portion = 10 oz to 14 oz
fat cover = 1/4 in
price = 15.99 USD/lb
[cut end steak]
thickness = 3/4 in to 1 1/4 in
gluteus medius = any
price = 11.99 USD/lb
[cut never cut]
thickness = 30 in to 31 in
price = 1 USD/lb
[case]
packed on = 2026-03-14
sell by = 2026-03-18
[menu]
food cost = 30 %
)";

/// Throws for what is not well-formed.
void read_as_xml(const std::string& page) {
    std::istringstream in(page);
    boost::property_tree::ptree tree;
    boost::property_tree::read_xml(in, tree);
}

std::size_t count_of(const std::string& text, const std::string& what) {
    std::size_t count = 0;
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size())) ++count;
    return count;
}

} // namespace

TEST_CASE("portion cards: one for each cut that has portions, with limits, trim and money") {
    const sheet_answer answer = plan_sheet(read_sheet(meat_case), {.what_ifs = false});
    const std::string page = portion_cards(answer);
    CHECK_NOTHROW(read_as_xml(page));
    std::size_t with_portions = 0;
    for (const cut_account& cut : answer.all.cuts) {
        with_portions += cut.portions > 0 ? 1U : 0U;
        CHECK((page.find("<h2>" + cut.name + "</h2>") != std::string::npos) == (cut.portions > 0));
    }
    CHECK(count_of(page, "class=\"card\"") == with_portions);
    CHECK(with_portions >= 1);
    CHECK_THAT(page, ContainsSubstring("Cost each") && ContainsSubstring("Price it needs") &&
                         ContainsSubstring("145 °F") && ContainsSubstring("&lt;Tuesday&gt;"));
}

TEST_CASE("labels to print: as many as there are packs, with dates, lot and what a scale has to say") {
    const sheet_answer answer = plan_sheet(read_sheet(meat_case), {.what_ifs = false});
    REQUIRE_FALSE(answer.labels.empty());
    const std::string page = label_sheet(answer);
    CHECK_NOTHROW(read_as_xml(page));
    CHECK(count_of(page, "class=\"card\"") == answer.labels.size());
    CHECK(count_of(page, "2026-03-18") >= answer.labels.size());
    CHECK(count_of(page, "L-17") == answer.labels.size());
    CHECK_THAT(page, ContainsSubstring("legal-for-trade scale") && !ContainsSubstring("Tare"));
    cut_sheet packed = answer.sheet;
    packed.retail->tare = 0.013 * pound;
    const std::string of_packed = label_sheet(plan_sheet(packed, {.what_ifs = false}));
    CHECK_NOTHROW(read_as_xml(of_packed));
    CHECK(count_of(of_packed, "<dt>Tare</dt><dd>0.013 lb</dd>") == answer.labels.size());
    const auto files = answer_cards(answer);
    const auto has = [&](const char* name) {
        return std::any_of(files.begin(), files.end(), [&](const answer_file& f) { return f.name == name; });
    };
    CHECK(has("board_card.html"));
    CHECK(has("portion_cards.html"));
    CHECK(has("labels.html"));
}

TEST_CASE("a sheet of cards: columns are 1 to 4, and what is written cannot break the page") {
    CHECK_THROWS_AS(card_sheet("x", {}, "", {.columns = 0}), invalid_input);
    CHECK_THROWS_AS(card_sheet("x", {}, "", {.columns = 5}), invalid_input);
    const std::string page =
        card_sheet(" ", {{.heading = "a<b", .lines = {{"&", "\"</dd>"}}, .note = "\x1b[31m"}}, "w<w", {.columns = 4});
    CHECK_NOTHROW(read_as_xml(page));
    CHECK_THAT(page, ContainsSubstring("<h1>Cards</h1>") && ContainsSubstring("a&lt;b") && !ContainsSubstring("\x1b"));
}

} // namespace answer_cards_test
