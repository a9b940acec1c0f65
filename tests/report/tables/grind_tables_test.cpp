// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/tables/grind_tables.hpp>

#include <string>
#include <vector>

#include <tranche/grind/least_cost_blend.hpp>
#include <tranche/report/html_report.hpp>
#include <tranche/report/text_report.hpp>
#include <tranche/units/literals.hpp>

#include "report/xml.hpp"
#include "support/catch.hpp"

namespace grind_tables_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Invented: trim, a middling source and <lean>, the name of which has to be escaped.
blend<usd> made(const fat_range& fat = fat_of_exactly(0.20), mass lean = 20_lb) {
    return least_cost_blend<usd>(
        {{.name = "own trim", .fat = 0.40, .price = 0.5_usd / 1_lb, .supply = {0_lb, 2_lb}},
         {.name = "chuck", .fat = 0.16, .price = 4.1_usd / 1_lb},
         {.name = "<lean>, \"round\"", .fat = 0.06, .price = 5.6_usd / 1_lb, .supply = {0_lb, lean}}},
        {.batch = 10_lb, .fat = fat}, us_ground_beef_limit());
}

} // namespace

TEST_CASE("blend_facts_table: shows why a blend is not made, by as little as it may be") {
    const auto facts =
        blend_facts_table(least_cost_blend<usd>({{.name = "meat", .fat = 0.2004, .price = 5_usd / 1_lb}},
                                                {.batch = 10_lb, .fat = fat_at_most(0.2)}, us_ground_beef_limit()));
    REQUIRE(facts.rows.size() == 4);
    CHECK(facts.rows[0].cells[1] == "at most 20.00 %");
    CHECK(facts.rows[1].cells[1] == "30.00 %, 9 CFR 319.15(a)");
    CHECK(facts.rows[2].cells[1] == "20.04 %");
    CHECK(facts.rows[3].cells[1] == "20.04 %");
}

TEST_CASE("blend_table: shows what goes in and what it comes to") {
    const blend<usd> b = made();
    // 2 lb at 40 % and 8 lb of 15 %: 7.2 lb at 16 % and 0.8 at 6 % (computed). 1.00 + 29.52 + 4.48 = 35.00 USD.
    REQUIRE(b.made());
    CHECK(b.cost == amount<usd>{3500});
    const report_table table = blend_table(b, us_kitchen);
    REQUIRE(table.rows.size() == 4);
    CHECK(table.rows[0].cells ==
          std::vector<std::string>{"own trim", "40.0 %", "0.50", "2 lb", "20.0 %", "1.00", "0.50"});
    CHECK(table.rows[1].cells[3] == "7 lb 3 1/4 oz");
    CHECK(table.rows[1].cells[5] == "29.52");
    CHECK(table.rows[1].cells[6] == "4.10"); // worth its price, as it is strictly between its bounds
    CHECK(table.rows[2].cells[6] == "5.60");
    CHECK(table.rows[3].total);
    CHECK(table.rows[3].cells ==
          std::vector<std::string>{"the blend", "20.0 %", "3.50", "10 lb", "100.0 %", "35.00", ""});
    for (const auto& row : table.rows) CHECK(row.cells.size() == table.columns.size());
}

TEST_CASE("fat_square_table: shows parts, shares and weights") {
    // FFA meat calculations: 30.8 to 6.1 parts, read in the source; shares 30.8 and 6.1 of 36.9, computed.
    const report_table table = fat_square_table(square_for(0.089, 0.458, 0.15), "lean", "fat", 36.9_kg, metric_kitchen);
    REQUIRE(table.rows.size() == 3);
    CHECK(table.rows[0].cells == std::vector<std::string>{"lean", "8.9 %", "30.8", "83.5 %", "30.800"});
    CHECK(table.rows[1].cells == std::vector<std::string>{"fat", "45.8 %", "6.1", "16.5 %", "6.100"});
    CHECK(table.rows[2].cells == std::vector<std::string>{"the blend", "15.0 %", "36.9", "100.0 %", "36.900"});
    CHECK(table.rows[2].total);
    CHECK_THROWS_WITH(fat_square_table({0.2, 0.2, 0.2}, "a", "b", 1_kg, us_kitchen),
                      StartsWith("fat of the second source: got 20.00 %"));
}

TEST_CASE("own_trim_table: adds loose meat and trim up by tissue") {
    // Invented: 300 g of eye at 5 %, 100 + 100 g of fat at 70 %: 155 of 500 g.
    own_trim own;
    own.loose[tissue::eye] = to_micrograms(300_g);
    own.loose[tissue::fat_cover] = own.trim[tissue::fat_cover] = to_micrograms(100_g);
    by_tissue<fraction> lipids;
    lipids[tissue::eye] = 0.05;
    lipids[tissue::fat_cover] = 0.70;
    const report_table table = own_trim_table(own, lipids, metric_kitchen);
    REQUIRE(table.rows.size() == 3);
    CHECK(table.rows[0].cells ==
          std::vector<std::string>{std::string(name_of(tissue::eye)), "0.300", "0.000", "0.300", "5.0 %"});
    CHECK(table.rows[1].cells ==
          std::vector<std::string>{std::string(name_of(tissue::fat_cover)), "0.100", "0.100", "0.200", "70.0 %"});
    CHECK(table.rows[2].cells == std::vector<std::string>{"all", "0.400", "0.100", "0.500", "31.0 %"});
    CHECK(table.rows[2].total);
    CHECK(own_trim_table({}, lipids, metric_kitchen).rows[0].cells.back().empty());
    lipids[tissue::eye] = 5.0;
    CHECK_THROWS_WITH(own_trim_table(own, lipids, metric_kitchen), StartsWith("lipid of "));
}

TEST_CASE("blend_section: carries the law, the cautions and what is in the way") {
    const std::string good = text_of({blend_section(made(), us_kitchen)});
    CHECK_THAT(good, ContainsSubstring("30.0 %, 9 CFR 319.15(a)"));
    CHECK_THAT(good, ContainsSubstring("legal-for-trade"));
    CHECK_THAT(good, ContainsSubstring("160 °F (71.1 °C)"));
    CHECK_THAT(good, ContainsSubstring("would be worth in this"));
    const auto bought = cheapest_addition<usd>({.name = "own trim", .fat = 0.4, .supply = {0_lb, 2_lb}},
                                               {{.name = "lean", .fat = 0.1, .price = 5_usd / 1_lb}}, fat_at_most(0.2),
                                               us_ground_beef_limit());
    CHECK_THAT(text_of({blend_section(bought, us_kitchen)}), ContainsSubstring("would save in purchases"));
    const blend<usd> lean = made(fat_at_most(0.10), 1_lb);
    REQUIRE_FALSE(lean.made());
    const std::string bad = text_of({blend_section(lean, metric_kitchen)});
    CHECK_THAT(bad, ContainsSubstring("at most 10.0 %"));
    CHECK_THAT(bad, ContainsSubstring("- The leanest blend of"));
    CHECK_THAT(bad, ContainsSubstring("would do."));
    CHECK_THAT(bad, ContainsSubstring("any")); // chuck has no upper end
    CHECK(lean.why_not().size() == 1 + lean.remedies.size());
}

TEST_CASE("html_of: shows a blend on a well-formed page and escapes the names") {
    const std::string page = html_of("Grind <today>", {blend_section(made(), us_kitchen), {.title = "Warnings"}});
    CHECK_THAT(page, ContainsSubstring("Grind &lt;today&gt;") && ContainsSubstring("&lt;lean&gt;"));
    CHECK_NOTHROW(parse_xml(page));
    CHECK_THAT(html_of(" \t", {}), ContainsSubstring("<h1>Report</h1>"));
}

TEST_CASE("blend_csv: adds up exactly") {
    const blend<usd> b = made();
    const std::string csv = blend_csv(b);
    CHECK(csv.substr(0, csv.find("\r\n")) ==
          "role,source,fat,price_per_kg,least_g,most_g,weight_g,cost,worth_per_kg,currency");
    CHECK_THAT(csv, ContainsSubstring("source,own trim,0.4,1.102311,0.000000,907.184740,907.184740,1.00,"));
    CHECK_THAT(csv, ContainsSubstring("source,chuck,0.16,9.038953,0.000000,,"));
    CHECK_THAT(csv, ContainsSubstring("\"<lean>, \"\"round\"\"\""));
    CHECK_THAT(csv, ContainsSubstring("blend,,0.2,7.716179,,,4535.923700,35.00,,USD\r\n"));
    const std::string none = blend_csv(made(fat_at_most(0.05)));
    CHECK_THAT(none, ContainsSubstring("source,own trim,0.4,1.102311,0.000000,907.184740,,,,USD"));
    CHECK(none.find("blend,") == std::string::npos);
}

} // namespace grind_tables_test
