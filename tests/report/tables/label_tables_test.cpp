// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/tables/label_tables.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include <tranche/report/html_report.hpp>
#include <tranche/report/text_report.hpp>
#include <tranche/text/from_text.hpp>
#include <tranche/units/literals.hpp>

#include "report/xml.hpp"
#include "support/catch.hpp"

namespace label_tables_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const label_rules pounds{.weighing = {hundredths_of_pound}, .basis = price_basis::per_pound};

std::vector<pack_label<usd>> two_labels() {
    // Invented: 0.75 lb at 12.99 is 9.7425, 1.06 lb at 4.50 is 4.77.
    return {label_of<usd>("strip steak", 0.752_lb, 0_lb, 12.99_usd / 1_lb, pounds),
            label_of<usd>("grind, 20 %", 1.08_lb, 0.02_lb, 4.5_usd / 1_lb, pounds)};
}

} // namespace

TEST_CASE("labels_table: shows the labels and adds the totals up") {
    const report_table table = labels_table(two_labels());
    REQUIRE(table.rows.size() == 3);
    CHECK(table.rows[0].cells == std::vector<std::string>{"strip steak", "0.75 lb", "0.00 lb", "12.99 USD/lb", "9.74"});
    CHECK(table.rows[1].cells[4] == "4.77");
    CHECK(table.rows[2].cells == std::vector<std::string>{"2 packs", "", "", "", "14.51"});
    CHECK(labels_table(std::vector<pack_label<usd>>{}).rows[0].cells[0] == "0 packs");
}

TEST_CASE("labels_section: says in which order was rounded, and defers to scale and law") {
    const auto section = labels_section(two_labels(), pounds);
    const std::string text = text_of({section});
    CHECK_THAT(text, ContainsSubstring("First the unit price is rounded") &&
                         ContainsSubstring("legal-for-trade scale") && ContainsSubstring("local law"));
    CHECK_NOTHROW(parse_xml(html_of("Labels", {section})));
}

TEST_CASE("labels_csv: writes decimals and escapes names") {
    const std::string csv = labels_csv(two_labels());
    CHECK_THAT(csv, ContainsSubstring("strip steak,0.75,lb,0.000000,12.99,lb,9.74,USD\r\n"));
    CHECK_THAT(csv, ContainsSubstring("\"grind, 20 %\",1.06,lb,9.071847,4.50,lb,4.77,USD\r\n"));
    const auto ounces = label_of<usd>("steak", 11.25_oz, 0_oz, 16_usd / 1_lb,
                                      {.weighing = {quarter_ounces}, .basis = price_basis::per_pound});
    CHECK_THAT(labels_csv(std::vector{ounces}), ContainsSubstring("steak,11.250000,oz,0.000000,16.00,lb,11.25,USD"));
}

TEST_CASE("lot_table: shows each rule and the verdict") {
    const report_table table = lot_table(lot_compliance(400_g, {401_g, 380_g, 401_g}), metric_kitchen);
    REQUIRE(table.rows.size() == 4);
    CHECK(table.rows[0].cells == std::vector<std::string>{"mean at least 400 g", "394 g", "no"});
    CHECK(table.rows[1].cells == std::vector<std::string>{"at most 2.5 % below 388 g", "1 of 3", "no"});
    CHECK(table.rows[2].cells == std::vector<std::string>{"none below 376 g", "0 of 3", "yes"});
    CHECK(table.rows[3].cells[2] == "fails");
    CHECK(table.rows[3].total);
    CHECK(lot_table(lot_compliance(400_g, {401_g}), metric_kitchen).rows[3].cells[2] == "passes");
}

TEST_CASE("lot_table: shows the rules of packs of different weights") {
    // Invented: errors of -3, +1 and -1 g; 2 g are allowed, of one pack none.
    const std::vector<inspected_pack> packs{{500_g, 497_g}, {600_g, 601_g}, {700_g, 699_g}};
    const auto two_grams = [](mass) { return 2_g; };
    const report_table table = lot_table(lot_compliance(packs, two_grams, 0), metric_kitchen);
    REQUIRE(table.rows.size() == 3);
    CHECK(table.rows[0].cells == std::vector<std::string>{"on average no less than labelled", "-1.000 g off", "no"});
    CHECK(table.rows[1].cells ==
          std::vector<std::string>{"at most 0 short by more than the allowed variation", "1 of 3", "no"});
    CHECK(table.rows[2].cells[2] == "fails");
    CHECK(table.rows[2].total);
    const report_table good = lot_table(lot_compliance({{500_g, 500_g}}, two_grams, 0), metric_kitchen);
    CHECK(good.rows[0].cells[1] == "0.000 g off");
    CHECK(good.rows[2].cells[2] == "passes");
    // One of them allowed, the mean still fails.
    const report_table mean = lot_table(lot_compliance(packs, two_grams, 1), metric_kitchen);
    CHECK(mean.rows[1].cells[2] == "yes");
    CHECK(mean.rows[2].cells[2] == "fails");
}

TEST_CASE("lot_table: writes what fails so that it does not look like the limit, in the units of the kitchen") {
    const auto mean_of = [](const nominal_lot& lot, const kitchen_units& units) {
        const auto cells = lot_table(lot, units).rows[0].cells;
        return cells[0] + " | " + cells[1] + " | " + cells[2];
    };
    const std::vector<mass> low(30, 339.96_g);
    CHECK(mean_of(lot_compliance(340_g, low), metric_kitchen) == "mean at least 340 g | 339.96 g | no");
    CHECK(mean_of(lot_compliance(12_oz, std::vector<mass>(30, 11.96_oz)), us_kitchen) ==
          "mean at least 12 oz | 11.96 oz | no");
    CHECK(mean_of(lot_compliance(12_oz, std::vector<mass>(30, 0.75_lb)), us_kitchen) ==
          "mean at least 12 oz | 12 oz | yes");
    // T of 12 oz is 3 %, 0.36 oz.
    const auto rows = lot_table(lot_compliance(12_oz, {12_oz}), us_kitchen).rows;
    CHECK(rows[1].cells[0] == "at most 2.5 % below 11.64 oz");
    CHECK(rows[2].cells[0] == "none below 11.28 oz");
    kitchen_units by_the_pound = us_kitchen;
    by_the_pound.portion = pounds_and_quarter_ounces;
    CHECK(lot_table(lot_compliance(12_oz, {12_oz}), by_the_pound).rows[1].cells[0] == "at most 2.5 % below 11.64 oz");
    const auto off = [](mass found, const kitchen_units& units) {
        const auto variation = [](mass) { return 10_g; };
        return lot_table(lot_compliance({{1_lb, found}}, variation, 0), units).rows[0].cells[1];
    };
    CHECK(off(15.9_oz, us_kitchen) == "-0.100 oz off");
    CHECK(off(1_lb, us_kitchen) == "0.000 oz off");
    CHECK(off(16_oz - 0.0001_g, metric_kitchen) == "-0.0001 g off");
}

TEST_CASE("report tables: show no verdict that the figures beside it gainsay") {
    // Means, loads and readings from the limit outwards by ever less, as a reader would compare them.
    for (double less = 0.1; less > 2e-6; less /= 3.0) {
        CAPTURE(less);
        const auto lot = lot_table(lot_compliance(340_g, {340_g - less * 1_g}), metric_kitchen).rows[0].cells;
        CHECK(lot[2] == "no");
        CHECK("mean at least " + lot[1] != lot[0]);
        CHECK(from_text<mass>(lot[1]) < 340_g);
        const mass_division five_grams{mass_division::unit::kilograms, 200};
        CHECK(scale_table({{5_kg, 5.010_kg - less * 1_g}}, five_grams).rows[0].cells[4] == "yes");
        for (const mass& indicated : {5.010_kg + less * 1_g, 4.990_kg - less * 1_g}) {
            const auto scale = scale_table({{5_kg, indicated}}, five_grams).rows[0].cells;
            CHECK(scale[4] == "no");
            const mass error = from_text<mass>(scale[2]);
            CHECK(std::max(error, -error) > from_text<mass>(scale[3]));
        }
    }
    const auto coarse = scale_table({{2_kg, 2.007_kg}}, {mass_division::unit::kilograms, 200}).rows[0].cells;
    CHECK(coarse == std::vector<std::string>{"2.000 kg", "2.007 kg", "0.007 kg", "0.005 kg", "no"});
}

TEST_CASE("scale_table: holds each reading against the tolerance at its load") {
    // Divisions of 0.01 lb: 5 lb are 500 of them, tolerance 1; 6 lb are 600, tolerance 2 (NIST Handbook 44, Table 6).
    const report_table table = scale_table({{5_lb, 5.01_lb}, {6_lb, 5.98_lb}, {5_lb, 5.02_lb}}, hundredths_of_pound);
    REQUIRE(table.rows.size() == 4);
    CHECK(table.rows[0].cells == std::vector<std::string>{"5.00 lb", "5.01 lb", "0.01 lb", "0.01 lb", "yes"});
    CHECK(table.rows[1].cells == std::vector<std::string>{"6.00 lb", "5.98 lb", "-0.02 lb", "0.02 lb", "yes"});
    CHECK(table.rows[2].cells == std::vector<std::string>{"5.00 lb", "5.02 lb", "0.02 lb", "0.01 lb", "no"});
    CHECK(table.rows[3].cells.back() == "fails");
    CHECK(scale_table({{5_lb, 5_lb}}, hundredths_of_pound).rows.back().cells.back() == "holds");
    CHECK_THROWS_WITH(scale_table({}, hundredths_of_pound), StartsWith("readings: got none"));
    CHECK_NOTHROW(parse_xml(detail::html_table(table, "a table")));
}

} // namespace label_tables_test
