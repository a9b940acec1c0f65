// The tables of cooking loss, joint cost, the plate and loins to buy, as text, CSV and HTML.
// SPDX-License-Identifier: BSL-1.0
#include <string>
#include <vector>

#include <tranche/cost/joint/joint_products.hpp>
#include <tranche/report/formats/table_csv.hpp>
#include <tranche/report/html_report.hpp>
#include <tranche/report/tables/cost_tables.hpp>
#include <tranche/report/tables/usable_cost_table.hpp>
#include <tranche/text/from_text.hpp>
#include <tranche/units/literals.hpp>

#include "report/xml.hpp"
#include "support/catch.hpp"

namespace cost_tables_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Dittmer and Keefe, 9th edition, chapter 6, rib of beef: weights and prices read in the source. The use of the carved
// bones is invented.
cooking_loss<usd> roast_rib() {
    const auto cut = cutting_yield_test<usd>({.weight = 38_lb + 12_oz, .price = 3.19_usd / 1_lb},
                                             {{"fat", 6_lb + 8_oz, part_role::by_product, {}, "rendering"},
                                              {"bones", 4_lb + 4_oz, part_role::by_product, 0.32_usd / 1_lb, "stock"},
                                              {"short ribs", 3_lb + 4_oz, part_role::by_product, 1.49_usd / 1_lb},
                                              {"chopped beef", 2_lb + 8_oz, part_role::by_product, 1.59_usd / 1_lb},
                                              {"loss in cutting", 4_oz, part_role::loss, {}},
                                              {"oven-ready rib", 22_lb, part_role::usable, {}}});
    return cooking_loss_test<usd>(cut, 20_lb + 4_oz,
                                  {{"bones and trim", 1_lb + 4_oz, part_role::by_product, 0.40_usd / 1_lb, "stock"},
                                   {"salable rib", 19_lb, part_role::usable, {}}});
}

std::vector<joint_product<usd>> dairy() { // Horngren, Cost Accounting: inputs read in the source, outputs computed
    return {{.name = "butter",
             .weight = 20000_kg,
             .split_off_value = 20000_usd,
             .final_value = 50000_usd,
             .separable_cost = 5000_usd},
            {.name = "buttermilk", .weight = 80000_kg, .split_off_value = 30000_usd}};
}

/// The cells of a column.
std::vector<std::string> column_of(const report_table& table, std::size_t c) {
    std::vector<std::string> cells;
    for (const auto& row : table.rows) cells.push_back(row.cells.at(c));
    return cells;
}

} // namespace

TEST_CASE("the table of a cutting test says where each part goes") {
    // Credits computed: 4.25 × 0.32, 3.25 × 1.49 and 2.5 × 1.59 to the cent; ratios as printed in the source, to a tenth.
    CHECK(text_table(yield_lines_table(roast_rib().cut, us_kitchen)) ==
          "                                                    Value,  Credit,\n"
          "Part             Goes to           Weight    Share  USD/lb      USD\n"
          "---------------  -----------  -----------  -------  ------  -------\n"
          "fat              rendering      6 lb 8 oz   16.8 %    0.00     0.00\n"
          "bones            stock          4 lb 4 oz   11.0 %    0.32     1.36\n"
          "short ribs       by-products    3 lb 4 oz    8.4 %    1.49     4.84\n"
          "chopped beef     by-products    2 lb 8 oz    6.5 %    1.59     3.98\n"
          "loss in cutting  lost                4 oz    0.6 %\n"
          "oven-ready rib   portions           22 lb   56.8 %\n"
          "---------------  -----------  -----------  -------  ------  -------\n"
          "bought                        38 lb 12 oz  100.0 %            10.18\n");
    CHECK(text_table(costs_table(roast_rib().cut, us_kitchen)) ==
          "Paid: 38 lb 12 oz at 3.19 USD/lb            123.61 USD\n"
          "Credit for by-products                      -10.18 USD\n"
          "-----------------------------------------  -----------\n"
          "Cost of the usable meat                     113.43 USD\n"
          "Yield: usable meat out of what was bought       56.8 %\n"
          "Cost of the usable meat by weight          5.16 USD/lb\n"
          "Cost factor: that over the price paid            1.616\n");
    const auto waste =
        cutting_yield_test<usd>({.weight = 1_kg, .price = 5_usd / 1_kg}, {{"waste", 1_kg, part_role::loss, {}}});
    CHECK(costs_table(waste, us_kitchen).rows[2].cells.front() == "Cost that nothing carries");
}

TEST_CASE("the table of a usable cost answers what a kitchen asks of it") {
    // Computed from the rib of beef: 113.435 / 22 lb, / 352 oz, / 22 / 3.19; 10 oz of it; 22 lb are 35.2 portions of 10 oz;
    // 50 of them need 31.25 × 38.75 / 22 = 55.0426 lb, 55 lb 0.68 oz, and so 55 lb 3/4 oz.
    const usable_cost<usd> rib = roast_rib().cut.costs();
    const report_table table =
        usable_cost_table(rib, {.portion = 10_oz, .quantity = 38_lb + 12_oz, .portions = 50}, us_kitchen);
    CHECK(text_table(table) == "Yield: usable out of what was bought          56.8 %\n"
                               "Cost of a usable pound                   5.16 USD/lb\n"
                               "Cost of a usable ounce                 0.3223 USD/oz\n"
                               "Cost factor: that over the price paid          1.616\n"
                               "Cost of a portion of 10 oz                  3.22 USD\n"
                               "Weight as bought that costs as much        16 1/4 oz\n"
                               "Portions from 38 lb 12 oz as bought               35\n"
                               "To buy for 50 portions                  55 lb 3/4 oz\n");
    // 11.3671 USD/kg; nothing asked but the portion.
    const report_table metric = usable_cost_table(rib, {.portion = 250_g}, metric_kitchen);
    CHECK(column_of(metric, 1) ==
          std::vector<std::string>{"56.8 %", "11.37 USD/kg", "1.1367 USD/100 g", "1.616", "2.84 USD", "404 g"});
    // Whole pounds stay whole: 22 lb usable of 44 bought, 352 portions of 1 oz each.
    const usable_cost<usd> half{1_usd / 1_lb, 44_lb, 22_lb, 44_usd};
    CHECK(usable_cost_table(half, {.portion = 1_oz, .portions = 352}, us_kitchen).rows.back().cells[1] == "44 lb");
    const usable_cost<usd> nothing{1_usd / 1_lb, 44_lb, mass{}, 44_usd};
    CHECK(column_of(usable_cost_table(nothing, {.portion = 1_oz, .quantity = 1_lb, .portions = 1}, us_kitchen), 1) ==
          std::vector<std::string>{"0.0 %", "none", "none", "none", "none", "none", "0", "none"});
    CHECK_THROWS_WITH(usable_cost_table(rib, {}, us_kitchen), StartsWith("portion: got 0 g"));
}

TEST_CASE("the table of a cooking-loss test follows the purchase to the plate") {
    const report_table table = cooking_loss_table(roast_rib(), us_kitchen);
    CHECK(text_table(table) == "                                                    Value,  Credit,\n"
                               "Part             Goes to           Weight    Share  USD/lb      USD\n"
                               "---------------  -----------  -----------  -------  ------  -------\n"
                               "fat              rendering      6 lb 8 oz   16.8 %    0.00     0.00\n"
                               "bones            stock          4 lb 4 oz   11.0 %    0.32     1.36\n"
                               "short ribs       by-products    3 lb 4 oz    8.4 %    1.49     4.84\n"
                               "chopped beef     by-products    2 lb 8 oz    6.5 %    1.59     3.98\n"
                               "loss in cutting  lost                4 oz    0.6 %\n"
                               "lost in cooking  lost          1 lb 12 oz    4.5 %\n"
                               "bones and trim   stock          1 lb 4 oz    3.2 %    0.40     0.50\n"
                               "salable rib      portions           19 lb   49.0 %\n"
                               "---------------  -----------  -----------  -------  ------  -------\n"
                               "bought                        38 lb 12 oz  100.0 %            10.68\n");
}

TEST_CASE("the costs of a cooking-loss test say what raw and salable meat cost") {
    // Computed: 123.61 - 10.18 - 0.50; (113.435 - 0.50) / 19 lb and that / 3.19.
    CHECK(text_table(cooking_costs_table(roast_rib(), us_kitchen)) ==
          "Paid: 38 lb 12 oz at 3.19 USD/lb        123.61 USD\n"
          "Credit for by-products of cutting       -10.18 USD\n"
          "Credit for by-products of carving        -0.50 USD\n"
          "-------------------------------------  -----------\n"
          "Cost of the salable meat                112.93 USD\n"
          "Cooking yield: cooked out of raw            92.0 %\n"
          "Yield: salable out of what was bought       49.0 %\n"
          "Cost by raw weight                     5.16 USD/lb\n"
          "Cost by salable weight                 5.94 USD/lb\n"
          "Cost factor: that over the price paid        1.863\n");
    const auto burnt = cooking_loss_test<usd>(roast_rib().cut, mass{}, {{"ash", mass{}, part_role::loss, {}}});
    const auto rows = column_of(cooking_costs_table(burnt, us_kitchen), 0);
    CHECK(rows.size() == 7);
    CHECK(rows[3] == "Cost that nothing carries");
}

TEST_CASE("the table of a joint cost adds up product by product") {
    const auto shared = allocate_joint_cost(amount<usd>{20'000'00}, dairy(), joint_method::net_realisable_value);
    CHECK(text_table(joint_cost_table(shared)) ==
          "Joint cost by net realisable value, USD and share of sales\n"
          "                        Joint                                               of\n"
          "Product       Share      cost  Finishing     Total     Sales    Margin   sales\n"
          "----------  -------  --------  ---------  --------  --------  --------  ------\n"
          "butter       60.0 %  12000.00    5000.00  17000.00  50000.00  33000.00  66.0 %\n"
          "buttermilk   40.0 %   8000.00       0.00   8000.00  30000.00  22000.00  73.3 %\n"
          "----------  -------  --------  ---------  --------  --------  --------  ------\n"
          "all         100.0 %  20000.00    5000.00  25000.00  80000.00  55000.00  68.8 %\n");
    // Without a value there is no margin, and no sum of margins. By weight butter carries 4,000 + 5,000 of 50,000.
    auto bare = dairy();
    bare[1].split_off_value.reset();
    const auto by_weight =
        joint_cost_table(allocate_joint_cost(amount<usd>{20'000'00}, bare, joint_method::physical_measure));
    CHECK(by_weight.rows[0].cells[6] == "41000.00");
    CHECK(by_weight.rows[1].cells[6].empty());
    CHECK(by_weight.rows[2].cells[5].empty());
    CHECK(by_weight.rows[2].cells[6].empty());
    CHECK(by_weight.rows[2].cells[4] == "25000.00");
}

TEST_CASE("the methods of joint cost stand side by side and have one sum") {
    std::vector<joint_allocation<usd>> methods;
    for (const joint_method method : {joint_method::physical_measure, joint_method::split_off_value,
                                      joint_method::net_realisable_value, joint_method::constant_margin})
        methods.push_back(allocate_joint_cost(amount<usd>{20'000'00}, dairy(), method));
    const report_table table = joint_methods_table(methods);
    CHECK(table.rows[0].cells == std::vector<std::string>{"butter", "4000.00", "8000.00", "12000.00", "10625.00"});
    CHECK(table.rows[1].cells == std::vector<std::string>{"buttermilk", "16000.00", "12000.00", "8000.00", "9375.00"});
    CHECK(table.rows[2].cells == std::vector<std::string>{"all", "20000.00", "20000.00", "20000.00", "20000.00"});
    CHECK_THROWS_WITH(joint_methods_table<usd>({}), StartsWith("methods: got none"));
    methods[1].lines.pop_back();
    CHECK_THROWS_WITH(joint_methods_table(methods), StartsWith("methods: got 1 products"));
    methods[1] = methods[0];
    methods[1].lines[1].product.name = "whey";
    CHECK_THROWS_WITH(joint_methods_table(methods), StartsWith("methods: got \"whey\""));
}

TEST_CASE("the table of a plate goes from its cost to what it leaves") {
    const report_table table = plate_table<usd>({.meat = 7.204_usd, .other = 1.8_usd}, {3095});
    CHECK(column_of(table, 1) ==
          std::vector<std::string>{"7.20 USD", "1.80 USD", "9.00 USD", "30.95 USD", "29.1 %", "21.95 USD"});
}

TEST_CASE("the figures of a plate add up as they are shown, each within a cent of its own worth") {
    const auto written = [](const std::string& cell) { return from_text<amount<usd>>(cell); };
    for (int meat = 0; meat < 40; ++meat)
        for (int other = 0; other < 40; ++other) {
            // Thousandths of a dollar, so that every way of rounding comes up: 5.004 + 1.004 is 6.008.
            const plate_cost<usd> plate{.meat = static_cast<double>(5000 + meat) * 0.001_usd,
                                        .other = static_cast<double>(1000 + other) * 0.001_usd};
            const auto cells = column_of(plate_table(plate, amount<usd>{2000}), 1);
            INFO(meat << " and " << other << " thousandths");
            CHECK(written(cells[0]) + written(cells[1]) == written(cells[2]));
            CHECK(written(cells[2]) + written(cells[5]) == written(cells[3]));
            CHECK_THAT(to_money(written(cells[0])).value(), WithinAbs(plate.meat.value(), 0.005 + 1e-12));
            CHECK_THAT(to_money(written(cells[1])).value(), WithinAbs(plate.other.value(), 0.01 + 1e-12));
            CHECK_THAT(to_money(written(cells[2])).value(), WithinAbs(plate.food().value(), 0.005 + 1e-12));
        }
}

TEST_CASE("the table of orders says where no number of loins is enough") {
    // 10 or 14 portions, each in half of all loins: five give 60 if at least three give 14, and four never do.
    const auto loin = counted(std::vector<std::int64_t>{10, 14});
    const count_distribution poor{{0.9999, 0.0001}}; // 10,000 loins give one portion on average
    const report_table table = loin_orders_table({{0.5, loins_to_buy(loin, exactly_counted(60), 0.5)},
                                                  {0.98, loins_to_buy(poor, exactly_counted(3), 0.98)},
                                                  {0.2, loins_to_buy(loin, counts_wanted_by(2, 0.5), 0.2)}});
    CHECK(table.rows[0].cells == std::vector<std::string>{"50.0 %", "5", "50.0 %", "0.0 %", "0.0"});
    CHECK(table.rows[1].cells == std::vector<std::string>{"98.0 %", "no number", "", "", ""});
    CHECK(table.rows[2].cells == std::vector<std::string>{"20.0 %", "0", "25.0 %", "", "-1.0"});
}

TEST_CASE("the tables of costs are at most 80 columns wide, and well-formed as HTML") {
    const auto shared = allocate_joint_cost(amount<usd>{2'000'000'00}, dairy(), joint_method::constant_margin);
    for (const report_table& table :
         {yield_lines_table(roast_rib().cut, us_kitchen), costs_table(roast_rib().cut, metric_kitchen),
          usable_cost_table(roast_rib().costs(), {.portion = 10_oz, .quantity = 10_kg, .portions = 1000}, us_kitchen),
          cooking_loss_table(roast_rib(), us_kitchen), cooking_loss_table(roast_rib(), metric_kitchen),
          cooking_costs_table(roast_rib(), metric_kitchen), joint_cost_table(shared),
          joint_methods_table<usd>({shared}), plate_table<usd>({.meat = 7_usd}, {3095}),
          loin_orders_table({{0.9, {}}})}) {
        const std::string text = text_table(table);
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = text.find('\n', at);
            CHECK(detail::columns_of(text.substr(at, end - at)) <= detail::report_width);
            at = end + 1;
        }
        CHECK_NOTHROW(parse_xml(detail::html_table(table, "a table")));
        for (const auto& row : table.rows) CHECK(row.cells.size() == table.columns.size());
    }
}

TEST_CASE("table_csv: guards words and keeps negative numbers") {
    report_table table;
    table.columns = {{"Part, or \"line\""}, {"USD", report_table::align::right}};
    table.rows = {{.cells = {"=1+1", "-5.00"}}, {.cells = {"-trim", "-A1"}}, {.cells = {"fat", ""}, .total = true}};
    CHECK(table_csv(table) == "\"Part, or \"\"line\"\"\",USD\r\n'=1+1,-5.00\r\n'-trim,'-A1\r\nfat,\r\n");
    table.columns = {{""}, {""}};
    table.rows.resize(1);
    CHECK(table_csv(table) == "'=1+1,'-5.00\r\n"); // words, and no row of heads
    const std::string csv = table_csv(cooking_loss_table(roast_rib(), metric_kitchen));
    CHECK_THAT(csv, StartsWith("Part,Goes to,\"Weight, kg\",Share,\"Value, USD/kg\",\"Credit, USD\"\r\n"));
    CHECK_THAT(csv, ContainsSubstring("\r\nbones,stock,1.928,11.0 %,0.71,1.36\r\n"));
}

} // namespace cost_tables_test
