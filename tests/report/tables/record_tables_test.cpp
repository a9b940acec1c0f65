// Tables of a record, and its way through CSV and back.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/html_report.hpp>
#include <tranche/report/tables/record_tables.hpp>
#include <tranche/units/literals.hpp>

#include <sstream>
#include <string>

#include "records/invented_records.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace record_tables_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("records come back from CSV as they were, and CSV from records") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const auto records = invented_cuts::records(seed, 30);
        const std::string text = cutting_records_csv(records);
        const auto again = read_cutting_records(text);
        CHECK(again == records); // whole grams, and predictions to the last bit
        CHECK(cutting_records_csv(again) == text);
    }
}

TEST_CASE("any text and any weight in micrograms survives CSV") {
    cutting_record r{.date = invented_cuts::day(0), .supplier = "North, \"Ltd.\"", .bought = to_mass({5'412'345'678})};
    r.usable = to_mass({1});
    r.purge = to_mass({999'999});
    for (const char* note :
         {"",   "=1+2", "-2 °C",   "'=x", "''+y", "'",   "it's",  "a,b",           "\"",       "\"\"",      "@",
          "'-", "' =1", "Größe ¾", "肉",  ",",    "+49", "'''@@", "x\xEF\xBF\xBD", "\u00A0=1", "'\u00A0=1", "＝1",
          "'＠"}) {
        r.note = r.grade = note;
        for (const std::optional<fraction> predicted :
             {std::optional<fraction>{}, std::optional(0.0), std::optional(1.0), std::optional(1.0 / 3.0),
              std::optional(5e-324), std::optional(0.1 + 0.2)}) {
            r.predicted_yield = predicted;
            const std::string text = cutting_records_csv({r});
            INFO(text);
            const auto again = read_cutting_records(text);
            REQUIRE(again.size() == 1);
            CHECK(again[0] == r);
            CHECK(cutting_records_csv(again) == text);
        }
    }
    // No cell of text starts as a formula does.
    r.supplier = "=cmd";
    r.note = "-1";
    r.grade = "@a";
    CHECK_THAT(cutting_records_csv({r}), ContainsSubstring(",'=cmd,'@a,'-1,"));
}

TEST_CASE("a record in ounces that fills its whole is read back from what was written") {
    for (int tenths = 1; tenths <= 200; ++tenths) {
        const mass part = tenths / 10.0 * 1_oz;
        cutting_record r{.date = invented_cuts::day(0),
                         .supplier = "A",
                         .bought = 8.0 * part,
                         .usable = part,
                         .cutting_loss = part,
                         .purge = part};
        for (mass& m : r.by_products.values) m = part;
        const std::string text = cutting_records_csv({r});
        CHECK(cutting_records_csv(read_cutting_records(text)) == text);
    }
}

TEST_CASE("the loss of any one character gives a table or an error that says where") {
    auto records = invented_cuts::records(4, 4);
    records[1].supplier = "North, \"Ltd.\"";
    records[2].note = "=first\xC3\xA4";
    const std::string text = cutting_records_csv(records);
    std::size_t read = 0, refused = 0;
    for (std::size_t at = 0; at < text.size(); ++at) {
        std::string torn = text;
        torn.erase(at, 1);
        try {
            const auto rest = read_cutting_records(torn);
            CHECK(rest.size() == records.size());
            for (const cutting_record& r : rest) validate(r);
            (void)summarise_records(rest);
            ++read;
        } catch (const invalid_input& error) {
            ++refused;
            INFO("without character " << at << ": " << error.what());
            CHECK_THAT(error.field(), StartsWith("line ") || StartsWith("table"));
            CHECK_FALSE(error.value().empty());
            CHECK_FALSE(error.expected().empty());
        }
    }
    // A digit less is another weight, which may be a valid one; headings, dates, commas and quotes are missed.
    CHECK(read > 0);
    CHECK(refused > text.find('\n'));
}

TEST_CASE("records that cannot be written are refused with their place") {
    auto records = invented_cuts::records(4, 3);
    records[1].usable = 7_kg;
    CHECK_THROWS_WITH(cutting_records_csv(records), StartsWith("records[1].parts: got"));
    records[1] = records[0];
    records[1].bought = 1000000_kg;
    CHECK_THROWS_WITH(cutting_records_csv(records),
                      StartsWith("records[1].bought: got") && EndsWith("expected less than 1000 tonnes"));
    records[1] = records[0];
    CHECK_THROWS_WITH(cutting_records_csv(records), StartsWith("records[1]: got the same as records[0]"));
    records[1].date = std::chrono::year(12026) / 1 / 1;
    CHECK_THROWS_WITH(cutting_records_csv(records), StartsWith("records[1].date: got 12026-01-01"));
    CHECK(date_text(std::chrono::year(7) / 3 / 9) == "0007-03-09");
}

TEST_CASE("the tables of a record fit a page and say what is not known") {
    const auto records = invented_cuts::records(8, 30);
    const record_summary summary = summarise_records(records);
    const report_table table = record_table(summary);
    CHECK(table.rows.size() == summary.by_supplier.size() + 1);
    CHECK(table.rows.back().total);
    CHECK(table.rows.back().cells[1] == "30");
    for (const report_table& t : {table, record_findings_table(summary), learned_table(learn_losses(records))}) {
        std::istringstream lines(text_table(t));
        for (std::string line; std::getline(lines, line);) CHECK(detail::columns_of(line) <= detail::report_width);
        for (const auto& row : t.rows) CHECK(row.cells.size() == t.columns.size());
        CHECK_FALSE(parse_xml(detail::html_table(t, "a table")).empty());
    }
    const record_summary one = summarise_records({records[0]});
    const auto cells = record_table(one).rows[0].cells;
    CHECK(cells[2] == percent_text(records[0].yield())); // without an interval
    CHECK(cells[3] == "not known");
    CHECK(cells[4] == "not known");
    for (const report_table& t : {record_table(one), record_findings_table(one)}) {
        const std::string text = text_table(t);
        CHECK(text.find("nan") == std::string::npos);
        CHECK(text.find("inf") == std::string::npos);
    }
}

TEST_CASE("the table of a record shows the numbers of its summary") {
    cutting_record a{.date = invented_cuts::day(0), .supplier = "a", .bought = 1_kg, .usable = 0.7_kg};
    cutting_record b = a, c = a;
    b.date = invented_cuts::day(30);
    b.usable = 0.72_kg;
    c.date = invented_cuts::day(60);
    c.usable = 0.74_kg;
    const auto row = record_table(summarise_records({a, b, c})).rows[0].cells;
    // Mean 0.72, deviation 0.02, half-width 4.3027 x 0.02 / sqrt(3) = 0.0497; two points in 30 days, exactly on a line.
    CHECK(row == std::vector<std::string>{"a", "3", "72.0 ± 5.0 %", "2.0 %", "2.00 ± 0.00 %", "no plans"});
    // Planned at 73 %, a came to 70 and b to 72: differences of -3 and -1, together -2 with a deviation of sqrt(2) and a
    // half-width of 12.7062 x sqrt(2) / sqrt(2). One difference alone has no interval.
    a.predicted_yield = 0.73;
    b.predicted_yield = 0.73;
    b.supplier = c.supplier = "b";
    const record_summary two = summarise_records({a, b, c});
    CHECK(record_table(two).rows[0].cells[5] == "-3.00 %");
    CHECK(record_table(two).rows[1].cells[5] == "-1.00 %");
    CHECK(record_table(two).rows[2].cells[5] == "-2.00 ± 12.71 %");
}

} // namespace record_tables_test
