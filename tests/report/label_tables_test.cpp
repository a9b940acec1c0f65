// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/label_tables.hpp>

#include <string>
#include <vector>

#include <tranche/report/html_report.hpp>
#include <tranche/report/text_report.hpp>
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
    CHECK(table.rows[0].cells == std::vector<std::string>{"strip steak", "0.75 lb", "0 g", "12.99 USD/lb", "9.74"});
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
    const report_table table = lot_table(check_lot(400_g, {401_g, 380_g, 401_g}));
    REQUIRE(table.rows.size() == 4);
    CHECK(table.rows[0].cells == std::vector<std::string>{"mean at least 400 g", "394 g", "no"});
    CHECK(table.rows[1].cells == std::vector<std::string>{"at most 2.5 % below 388 g", "1 of 3", "no"});
    CHECK(table.rows[2].cells == std::vector<std::string>{"none below 376 g", "0 of 3", "yes"});
    CHECK(table.rows[3].cells[2] == "fails");
    CHECK(table.rows[3].total);
    CHECK(lot_table(check_lot(400_g, {401_g})).rows[3].cells[2] == "passes");
}

} // namespace label_tables_test
