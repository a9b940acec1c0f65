// Forms of a yield test: blank, filled in, read, compared over a class; a textbook's test through a form.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <string>
#include <vector>

#include <tranche/report/text_report.hpp>
#include <tranche/sheet/forms/class_results.hpp>
#include <tranche/sheet/forms/yield_form.hpp>
#include <tranche/units/literals.hpp>

namespace yield_form_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const iso_currency dollars{"USD", 2};

// Dittmer and Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th edition, chapter 6, exercise on a rib of
// beef (tests/cost/yield/yield_test_test.cpp has its source line by line).
const std::string rib = "team,part,role,weight,value\r\n"
                        "Textbook,rib,bought,38 lb 12 oz,3.19 USD/lb\r\n"
                        "Textbook,fat,by-product,6 lb 8 oz,0 USD/lb\r\n"
                        "Textbook,bones,by-product,4 lb 4 oz,0.32 USD/lb\r\n"
                        "Textbook,short ribs,by-product,3 lb 4 oz,1.49 USD/lb\r\n"
                        "Textbook,chopped beef,by-product,2 lb 8 oz,1.59 USD/lb\r\n"
                        "Textbook,loss in cutting,loss,4 oz,\r\n"
                        "Textbook,oven-ready rib,portions,22 lb,\r\n";

/// An invented team that cut 10 kg at 12.00 into portions of this weight and dice.
std::string team(const std::string& name, const std::string& portions, const std::string& dice) {
    return "team,part,role,weight,value\r\n" + name + ",loin,bought,10 kg,12.00 USD/kg\r\n" + name +
           ",steaks,portions," + portions + ",\r\n" + name + ",dice,by-product," + dice + ",5.00 USD/kg\r\n";
}

std::string refusal(const std::string& text) {
    try {
        (void)read_yield_forms(text, dollars);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "taken";
}

cut_sheet some_sheet() {
    cut_sheet sheet;
    sheet.currency = dollars;
    sheet.loins.push_back({.weight = 12_lb + 2_oz, .price = 8.10 * (sheet_money::from_value(1.0) / pound)});
    sheet.cuts.push_back({.spec = {.name = "strip steak"}});
    sheet.rules.facing = 6_mm;
    sheet.by_products[destination::grind] = 4.60 * (sheet_money::from_value(1.0) / pound);
    return sheet;
}

} // namespace

TEST_CASE("a textbook's yield test comes through a form with the textbook's figures") {
    const auto forms = read_yield_forms(rib, dollars);
    REQUIRE(forms.size() == 1);
    const class_results results = results_of(forms, dollars);
    const std::string text = text_of(sections_of(results, us_kitchen, true));
    CHECK_THAT(text, ContainsSubstring("56.8 %"));     // 22 / 38.75, printed as 56.77 %
    CHECK_THAT(text, ContainsSubstring("123.61 USD")); // as printed
    CHECK_THAT(text, ContainsSubstring("113.43 USD")); // 123.61 - 10.18
    CHECK_THAT(text, ContainsSubstring("1.616"));      // the cost factor, as printed
    CHECK_FALSE(results.yield->interval);              // one team tells nothing of others
}

TEST_CASE("a class: each team, the mean, and where the mean of many such tests lies") {
    // Yields 0.70, 0.72, 0.74: mean 0.72, s = 0.02, t(0.975; 2) = 4.30265 (NIST/SEMATECH e-Handbook, table 1.3.6.7.2), so
    // ± 4.30265 × 0.02 / sqrt 3 = 0.04968. By hand.
    const std::string text =
        team("A", "7.0 kg", "3.0 kg") + team("B", "7.2 kg", "2.8 kg") + team("C", "7.4 kg", "2.6 kg");
    const class_results results = results_of(read_yield_forms(text, dollars), dollars);
    REQUIRE(results.teams.size() == 3);
    CHECK(results.yield->mean == Approx(0.72));
    CHECK(results.yield->interval->low == Approx(0.72 - 0.04968).epsilon(1e-4));
    CHECK(results.yield->interval->high == Approx(0.72 + 0.04968).epsilon(1e-4));
    // A: 120.00 - 15.00 for 7 kg is 15.00 a kilogram; B: 106.00 / 7.2 = 14.7222; C: 107.00 / 7.4 = 14.4595. By hand.
    CHECK(results.cost_by_weight->mean == Approx((15.0 + 106.0 / 7.2 + 107.0 / 7.4) / 3.0));
    const auto sections = sections_of(results, metric_kitchen);
    REQUIRE(sections.size() == 1);
    CHECK_THAT(sections.front().pictures.at(0), ContainsSubstring("72.0 %"));
    CHECK_THAT(text_of(sections), ContainsSubstring("67.0 %") && ContainsSubstring("77.0 %"));
}

TEST_CASE("a team whose parts do not add up is left out by name, and the others count") {
    const std::string text =
        team("A", "7.0 kg", "3.0 kg") + team("B", "17.2 kg", "2.8 kg") + team("", "7.4 kg", "2.6 kg");
    const class_results results = results_of(read_yield_forms(text, dollars), dollars);
    CHECK_FALSE(results.teams[1].test);
    CHECK(results.yield->count == 2);
    const std::string report = text_of(sections_of(results, metric_kitchen));
    CHECK_THAT(report, ContainsSubstring("B is left out") && ContainsSubstring("team 3"));
    CHECK(results_of({}, dollars).teams.empty());
    CHECK_FALSE(results_of({}, dollars).yield);
    CHECK_FALSE(text_of(sections_of(results_of({}, dollars), us_kitchen)).empty());
}

TEST_CASE("a blank form has the cuts and destinations of its sheet, and is read back as it was") {
    const yield_form form = blank_form(some_sheet());
    REQUIRE(form.parts.size() == 6); // the cut, grind, rendering, discard, purge, cutting loss
    CHECK(form.parts.front().name == "strip steak");
    const std::string csv = yield_forms_csv({form}, dollars, us_kitchen);
    const auto read = read_yield_forms(csv, dollars);
    REQUIRE(read.size() == 1);
    REQUIRE(read.front().parts.size() == form.parts.size());
    for (std::size_t i = 0; i < form.parts.size(); ++i) {
        CHECK(read.front().parts[i].name == form.parts[i].name);
        CHECK(read.front().parts[i].role == form.parts[i].role);
        CHECK_FALSE(read.front().parts[i].weight);
    }
    CHECK(*read.front().bought / pound == Approx(12.125));
    CHECK(yield_forms_csv(read, dollars, us_kitchen) == csv);
    CHECK_THAT(text_of(sections_of(form, dollars, us_kitchen)),
               ContainsSubstring("strip steak") && ContainsSubstring("....") && ContainsSubstring("8.10 USD/lb"));
    CHECK_THROWS_AS(blank_form(some_sheet(), 1), invalid_input);
    CHECK_THROWS_AS(test_of(form), invalid_input); // nothing is weighed
}

TEST_CASE("a form that cannot be read is refused by line and column") {
    CHECK_THAT(refusal("a,b\r\n1,2\r\n"), ContainsSubstring("team, part, role, weight, value"));
    CHECK_THAT(refusal("A,loin,bought,10 kg,12 USD/kg\r\n"), ContainsSubstring("heading"));
    CHECK_THAT(refusal(team("A", "7 kgg", "3 kg")), ContainsSubstring("line 3, column 4"));
    CHECK_THAT(refusal(team("A", "-7 kg", "3 kg")), ContainsSubstring("line 3, column 4"));
    CHECK_THAT(refusal(team("A", "7 kg", "3 kg") + "A,x,gift,1 kg,\r\n"), ContainsSubstring("by-product or loss"));
    CHECK_THAT(refusal("team,part,role,weight,value\r\nA,x,loss,1 kg,\r\n"), ContainsSubstring("bought, in front"));
    CHECK_THAT(refusal(team("A", "7 kg", "3 kg") + "A,,loss,1 kg,\r\n"), ContainsSubstring("the name of a part"));
}

} // namespace yield_form_test
