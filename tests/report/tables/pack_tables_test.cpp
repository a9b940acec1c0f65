// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/html_report.hpp>
#include <tranche/report/tables/pack_tables.hpp>
#include <tranche/text/from_text.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <sstream>
#include <string>
#include <vector>

#include "report/xml.hpp"
#include "support/catch.hpp"

namespace pack_tables_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Invented packs.
std::vector<pack_appraisal<usd>> packs() {
    const std::vector<steak_pack<usd>> all{
        {.name = "value tray, four \"thin\" <steaks>",
         .weight = 2.4_lb,
         .price = 11.99_usd / 1_lb,
         .pieces = 4,
         .steak = {.thickness = 0.75_in, .fat_cover = 0.5_in, .tail = 1.5_in, .gluteus_medius = 0.25}},
        {.name = "centre cut",
         .weight = 1.5_lb,
         .price = 14.99_usd / 1_lb,
         .pieces = 2,
         .steak = {.thickness = 1.25_in, .fat_cover = 0.125_in}}};
    return rank_packs<usd>(all, {.fat_cover = 0.25_in});
}

} // namespace

TEST_CASE("packs stand in a table that fits a page, in their order") {
    const auto ranked = packs();
    const report_table table = packs_table<usd>(ranked);
    REQUIRE(table.rows.size() == 2);
    CHECK(table.rows[0].cells[1] == ranked[0].pack.name);
    CHECK(table.rows[0].cells[2] == (ranked[0].pack.name == "centre cut" ? "14.99" : "11.99"));
    for (const auto& row : table.rows) CHECK(row.cells.size() == table.columns.size());
    for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
        std::istringstream lines(text_table(packs_table<usd>(ranked, units)));
        for (std::string line; std::getline(lines, line);) CHECK(detail::columns_of(line) <= detail::report_width);
    }
    const auto elements = parse_xml(detail::html_table(table, "a table"));
    CHECK(std::count_if(elements.begin(), elements.end(), [](const auto& e) { return e.name == "tr"; }) == 3);
}

TEST_CASE("a pack without wanted lean has no price for it") {
    auto ranked = packs();
    ranked[0].per_wanted.reset();
    ranked[0].per_wanted_credited.reset();
    CHECK(packs_table<usd>(ranked).rows[0].cells[3] == "none");
    CHECK_THAT(packs_csv<usd>(ranked), ContainsSubstring(",,"));
}

TEST_CASE("masses of packs in CSV add up to the pack") {
    const auto ranked = packs();
    std::istringstream lines(packs_csv<usd>(ranked));
    std::string line;
    std::getline(lines, line);
    CHECK_THAT(line, StartsWith("place,pack,pieces,weight_g,eye_g,gluteus_medius_g,fat_cover_g,tail_g,"));
    const auto commas = std::count(line.begin(), line.end(), ',');
    for (std::size_t i = 0; i < ranked.size(); ++i) {
        REQUIRE(std::getline(lines, line));
        std::string name = detail::csv_text(ranked[i].pack.name);
        CHECK_THAT(line, StartsWith(std::to_string(i + 1) + ',' + name + ','));
        line.erase(2, name.size()); // no commas are left but those between cells
        CHECK(std::count(line.begin(), line.end(), ',') == commas);
        std::istringstream cells(line);
        std::vector<std::int64_t> masses;
        std::string cell;
        for (int c = 0; std::getline(cells, cell, ',') && c < 9; ++c) {
            const auto point = cell.find('.');
            if (c >= 3) masses.push_back(std::stoll(cell.substr(0, point) + cell.substr(point + 1)));
        }
        REQUIRE(masses.size() == 6);
        CHECK(masses[0] == to_micrograms(ranked[i].pack.weight).count);
        CHECK(masses[0] == masses[1] + masses[2] + masses[3] + masses[4] + masses[5]);
        CHECK_THAT(line, EndsWith(",USD\r"));
    }
    CHECK_FALSE(std::getline(lines, line));
}

TEST_CASE("a table of tolerances heads the source and the verdict") {
    const steak_pack<usd> pack{
        .name = "p", .weight = 12_oz, .price = 10_usd / 1_lb, .steak = {.thickness = 1_in, .fat_cover = 0.375_in}};
    const auto limits = deca_2012_tolerances();
    const report_table table = tolerances_table(limits, held_against(limits, pack), us_kitchen);
    CHECK_THAT(table.caption, StartsWith("Defense Commissary Agency") && EndsWith(": outside"));
    REQUIRE(table.rows.size() == 2);
    CHECK(table.rows[0].cells[2] == "outside");
    CHECK(table.rows[1].cells[2] == "not known");
}

TEST_CASE("a table of tolerances writes the units of the kitchen") {
    const steak_pack<usd> pack{.name = "p",
                               .weight = 25_oz,
                               .price = 10_usd / 1_lb,
                               .pieces = 2,
                               .steak = {.thickness = 1_in, .fat_cover = 8_mm}};
    const auto text = [&](const pack_tolerances& limits, const kitchen_units& units, const ordered_steak& ordered) {
        std::vector<std::string> cells;
        for (const auto& row : tolerances_table(limits, held_against(limits, pack, ordered), units).rows)
            cells.push_back(row.cells[1] + ": " + row.cells[2]);
        return cells;
    };
    CHECK(text(imps_series_100_tolerances(), us_kitchen, {12_oz, 1.25_in}) ==
          std::vector<std::string>{"12 1/2 oz; ordered 12 oz, 11 1/2 oz to 12 1/2 oz allowed: inside",
                                   "1 in; ordered 1 1/4 in, 1 in to 1 1/2 in allowed: inside"});
    CHECK(text(imps_series_100_tolerances(), metric_kitchen, {.portion = 12_oz}) ==
          std::vector<std::string>{"354 g; ordered 340 g, 326 g to 354 g allowed: inside",
                                   "25 mm; none was ordered: not known"});
    CHECK(text(deca_2012_tolerances(), us_kitchen, {}) ==
          std::vector<std::string>{"5/16 in; at most 1/4 in allowed: outside",
                                   "not measured; at most 1/2 in allowed: not known"});
}

TEST_CASE("a table of tolerances shows what is outside beyond its limit, however little") {
    for (double beyond = 0.3; beyond > 1e-5; beyond /= 3.0)
        for (const kitchen_units& units : {us_kitchen, metric_kitchen})
            for (const double side : {1.0, -1.0}) {
                CAPTURE(beyond, side);
                const mass piece = (12.0 + side * (0.5 + beyond)) * ounce;
                const length thickness = (1.0 + side * (0.1875 + beyond)) * inch;
                const steak_pack<usd> pack{
                    .name = "p", .weight = piece, .price = 10_usd / 1_lb, .steak = {.thickness = thickness}};
                const auto limits = imps_series_100_tolerances();
                const auto rows = tolerances_table(limits, held_against(limits, pack, {12_oz, 1_in}), units).rows;
                REQUIRE(rows.size() == 2);
                for (const auto& row : rows) {
                    CHECK(row.cells[2] == "outside");
                    const std::string& text = row.cells[1];
                    const auto between = [&](const std::string& from, const std::string& to) {
                        const std::size_t begin = text.find(from) + from.size();
                        return text.substr(begin, text.find(to, begin) - begin);
                    };
                    const std::string found = text.substr(0, text.find(';'));
                    const std::string limit = side > 0.0 ? between(" to ", " allowed") : between(", ", " to ");
                    if (row.cells[0] == "thickness")
                        CHECK(side * (from_text<length>(found) - from_text<length>(limit)).value() > 0.0);
                    else
                        CHECK(side * (from_text<mass>(found) - from_text<mass>(limit)).value() > 0.0);
                }
            }
}

} // namespace pack_tables_test
