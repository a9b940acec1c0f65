// What answers to sheets say, as text, tables, pictures, a page and JSON. Scenarios and prices are invented.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include <boost/property_tree/ptree.hpp>
#include <boost/property_tree/xml_parser.hpp>
#include <nlohmann/json.hpp>

#include "full_sheet.hpp"
#include "report/csv_reading.hpp"
#include <tranche/sheet.hpp>
#include <tranche/sheet/answer_json.hpp>

namespace answers_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const sheet_answer& full() {
    static const sheet_answer answer = plan_sheet(full_sheet());
    return answer;
}

const answer_file& named(const std::vector<answer_file>& files, const std::string& name) {
    const auto found = std::find_if(files.begin(), files.end(), [&](const answer_file& f) { return f.name == name; });
    REQUIRE(found != files.end());
    return *found;
}

/// Minor units of "12.34".
std::int64_t minor(const std::string& figure) {
    std::string digits = figure;
    digits.erase(std::remove(digits.begin(), digits.end(), '.'), digits.end());
    return std::stoll(digits);
}

} // namespace

TEST_CASE("answer_text: puts what all loins come to first, and every line in 80 columns") {
    const std::string text = answer_text(full());
    CHECK_THAT(text, StartsWith("Saturday at the Tide Table"));
    const std::vector<std::string> order{
        "The answer\n", "All loins\n",     "On the menu\n",          "In the case\n",
        "Loin A\n",     "Loin A: Cutting", "Loin B, the long one\n", "Loin B, the long one: Cutting",
        "Cautions\n"};
    std::size_t at = 0;
    for (const std::string& part : order) {
        INFO(part);
        const std::size_t next = text.find('\n' + part, at);
        REQUIRE(next != std::string::npos);
        at = next;
    }
    CHECK(text.find("Cautions\n", at + 10) == std::string::npos);
    CHECK_THAT(text, ContainsSubstring("It arrived warmer than 40") && ContainsSubstring("6.5 °C (44 °F)") &&
                         ContainsSubstring("Numbers of portions are asked of each loin") &&
                         ContainsSubstring("Robin") && ContainsSubstring("2026-03-14") &&
                         ContainsSubstring("for 20 % add "));
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) CHECK(detail::columns_of(line) <= 80);
}

TEST_CASE("answer_text: marks a guess as one, and has no money where there are no prices") {
    const std::string text = answer_text(plan_sheet(weight_alone()));
    CHECK_THAT(text, ContainsSubstring("A guess: this is a typical beef strip loin of that weight.") &&
                         ContainsSubstring("(standard deviation 5.5 %)") && !ContainsSubstring("XXX") &&
                         !ContainsSubstring("Cost") && !ContainsSubstring("Worth"));
}

TEST_CASE("answer_text: says how the scale and the tape agree, and that settings are few") {
    cut_sheet sheet = weight_alone();
    sheet.loins = {even_loin("", 12_lb, 16_in)};
    sheet.plan_for = sheet_aim::fewest_settings;
    const std::string few = answer_text(plan_sheet(sheet));
    CHECK_THAT(few, ContainsSubstring("The scale says 9 % less than the measurements") &&
                        ContainsSubstring("1 thickness, and fewer would not do"));
    sheet.plan_for = sheet_aim::even_portions;
    CHECK_THAT(answer_text(plan_sheet(sheet)), ContainsSubstring("Apart by"));
}

TEST_CASE("answer_csv: has files that add up to the account, with the loin in front") {
    const std::vector<answer_file> files = answer_csv(full());
    const records cuts = read_csv(named(files, "cuts.csv").text);
    REQUIRE(cuts.size() >= 7); // heads, two cuts of two loins and of all
    std::map<std::string, std::int64_t> costs;
    for (std::size_t r = 1; r < cuts.size(); ++r)
        if (cuts[r].size() > 6) costs[cuts[r][0]] += minor(cuts[r][6]);
    CHECK(costs.at("all loins") == full().all.primary_value->minor);
    CHECK(costs.at("A") + costs.at("B, the long one") == costs.at("all loins"));

    const records slabs = read_csv(named(files, "slabs.csv").text);
    CHECK(slabs[0][0] == "loin");
    CHECK(slabs[1][0] == "A");
    std::int64_t cost = 0;
    std::size_t heads = 0;
    for (const auto& row : slabs) {
        if (row.size() < 2) continue;
        heads += row[0] == "loin" ? 1 : 0;
        const std::string& figure = row[row.size() - 2];
        if (row[0] != "loin" && !figure.empty()) cost += minor(figure);
    }
    CHECK(heads == 1);
    CHECK(cost == full().all.primary_value->minor);

    const records labels = read_csv(named(files, "labels.csv").text);
    CHECK(labels.size() >= full().labels.size() + 1);
    CHECK(labels[0].back() == "sell_by");
    CHECK(labels[1][labels[1].size() - 3] == "'=4711");
    CHECK(labels[1].back() == "2026-03-14");
    CHECK(labels[1][column(labels, "tare_g")] == "5.896701"); // 0.013 × 453.59237 g
    CHECK(labels[1][column(labels, "net_weight")] + " lb" == full().labels[0].label.net.text());
    for (const char* name : {"account.csv", "savings.csv", "what_if.csv", "offers.csv", "menu.csv"})
        CHECK(named(files, name).text.size() > 50);
    CHECK(answer_csv(plan_sheet(weight_alone())).size() == 2); // slabs and cuts
}

TEST_CASE("answer_json: says the same as the answer, and adds up") {
    const auto j = nlohmann::json::parse(answer_json(full()));
    CHECK(j["format"] == "tranche answer 1");
    CHECK(j["currency"] == "USD");
    CHECK(j["feasible"] == true);
    REQUIRE(j["loins"].size() == 2);
    std::int64_t slabs = 0;
    double grams = 0.0;
    for (const auto& loin : j["loins"])
        for (const auto& slab : loin["slabs"]) {
            if (slab.contains("costs"))
                for (const auto& cost : slab["costs"]) slabs += minor(cost);
            grams += slab["weight_g"].get<double>() + slab["trim_g"].get<double>();
        }
    CHECK(slabs == full().all.primary_value->minor);
    CHECK(minor(j["all"]["primary_value"]) == slabs);
    CHECK(minor(j["all"]["paid"]) - minor(j["all"]["credit"]) == slabs);
    CHECK_THAT(grams, WithinAbs(j["all"]["on_the_board_g"].get<double>(), 1e-5));
    CHECK(j["all"]["portions"] == full().all.portions());
    CHECK(j["labels"].size() == full().labels.size());
    CHECK(j["loins"][0]["would_help"].is_array());
    CHECK(j["offers"].size() == 3);

    const auto bare = nlohmann::json::parse(answer_json(plan_sheet(weight_alone())));
    CHECK_FALSE(bare.contains("currency"));
    CHECK_FALSE(bare["all"].contains("paid"));
    CHECK(bare["loins"][0]["guess"] == true);
    CHECK(bare["loins"][0]["spread"]["most_portions"] > bare["loins"][0]["spread"]["fewest_portions"]);

    cut_sheet odd = weight_alone();
    odd.title = "no \xFF UTF-8";
    CHECK_NOTHROW(nlohmann::json::parse(answer_json(plan_sheet(odd))));
}

TEST_CASE("answer_page: is well-formed for one loin and for several, and so are the pictures") {
    cut_sheet compared = weight_alone();
    compared.thicknesses = {0.75_in, 1_in};
    const sheet_answer one = plan_sheet(compared);
    const auto parsed = [](const std::string& markup) {
        std::istringstream in(markup);
        boost::property_tree::ptree tree;
        CHECK_NOTHROW(boost::property_tree::read_xml(in, tree));
    };
    for (const sheet_answer* answer : {&one, &full()}) {
        const std::string page = answer_page(*answer);
        parsed(page.substr(page.find("<html")));
        CHECK_THAT(page, ContainsSubstring("The answer") && ContainsSubstring("Cautions") && ContainsSubstring("<svg"));
        for (const answer_file& picture : answer_pictures(*answer)) {
            INFO(picture.name);
            parsed(picture.text);
        }
    }
    CHECK(named(answer_pictures(one), "thicknesses.svg").text.find("3/4 in") != std::string::npos);
    CHECK(named(answer_pictures(full()), "loin_2_cut_ruler.svg").text.size() > 200);
}

} // namespace answers_test
