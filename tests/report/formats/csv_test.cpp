// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/table_csv.hpp>
#include <tranche/report/text_report.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>
#include <cstdint>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "report/csv_reading.hpp"
#include "report/sample.hpp"
#include "support/catch.hpp"

namespace csv_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

template <currency C>
void check_closing(double dearer) {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    cuts.specs[1].pieces = 7; // so that micrograms are left over
    const bill<C> settled = settle(cuts, bought<C>(dearer), prices<C>(dearer));
    const auto places = static_cast<std::size_t>(C::minor_digits);

    const records slabs = read_csv(slabs_csv(cuts, settled));
    std::int64_t mass = 0;
    for (const std::string& name : slabs[0])
        if (name.size() > 2 && name.substr(name.size() - 2) == "_g") mass += sum_of(slabs, name, 6);
    CHECK(mass == cuts.total.count);
    CHECK(sum_of(slabs, "cost", places) == settled.test.primary_value.minor);
    CHECK(slabs.size() == 1 + cuts.portion_count() + 3); // facing, loose meat, end
    for (const auto& row : slabs) CHECK(row.size() == slabs[0].size());

    const records account = read_csv(account_csv(settled));
    const std::vector<std::string> whole = account.back();
    records lines = account;
    lines.pop_back();
    CHECK(sum_of(lines, "weight_g", 6) == settled.test.whole.count);
    CHECK(digits_of(whole[column(account, "weight_g")], 6) == settled.test.whole.count);
    CHECK(sum_of(lines, "credit", places) == settled.test.credit.minor);
    CHECK(sum_of(lines, "credit", places) + sum_of(lines, "cost", places) == settled.test.paid.minor);
    CHECK(digits_of(whole[column(account, "cost")], places) == settled.test.paid.minor);
    for (const auto& row : account) CHECK(row.size() == account[0].size());
    CHECK(whole.back() == C::code);
}

} // namespace

TEST_CASE("masses and costs read back from CSV add up exactly in every currency") {
    check_closing<usd>(1.0);
    check_closing<eur>(0.9);
    check_closing<gbp>(0.8);
    check_closing<cad>(1.4);
    check_closing<aud>(1.5);
    check_closing<jpy>(150.0);
    check_closing<bhd>(0.377);
    check_closing<jpy>(1e6);
}

TEST_CASE("an account writes any finite price without an exponent") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const auto price_of = [&](double number) {
        settled.test.purchase.price = number * money<usd>::from_value(1.0) / kilogram;
        const records rows = read_csv(account_csv(settled));
        return rows.back()[column(rows, "value_per_kg")];
    };
    CHECK(price_of(17.857375) == "17.857375");
    CHECK(price_of(-0.25) == "-0.250000");
    CHECK(price_of(-1e-9) == "0.000000");
    CHECK(price_of(2204.5e9) == "2204500000000.000000");
    CHECK(price_of(1e22) == "10000000000000000000000.000000"); // 10^22 is a double exactly
    for (const double large : {std::numeric_limits<double>::max(), -std::numeric_limits<double>::max()})
        CHECK(std::stod(price_of(large)) == large);
    CHECK_THROWS_AS(price_of(std::numeric_limits<double>::infinity()), invalid_input);
    CHECK_THROWS_AS(price_of(std::numeric_limits<double>::quiet_NaN()), invalid_input);
    // Twelve pounds at a price that the text report can write as well. Doubles of this size are 0.0002 apart.
    const bill<jpy> dear = settle(cuts, bought<jpy>(1e11), prices<jpy>(1e11));
    const records rows = read_csv(account_csv(dear));
    CHECK(std::stod(rows.back()[column(rows, "value_per_kg")]) == dear.test.purchase.price.value());
    CHECK_THAT(text_report(as_given(cuts), dear), ContainsSubstring("810000000000 JPY/lb"));
}

TEST_CASE("each usable line of an account has the costs of its own portions") {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    cuts.specs.insert(cuts.specs.begin() + 1, cut_spec{.name = "not cut"});
    for (slab& s : cuts.slabs)
        if (s.kind == slab_kind::portions && s.option > 0) ++s.option;
    std::reverse(cuts.slabs.begin(), cuts.slabs.end()); // the last spec comes first
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const records rows = read_csv(account_csv(settled));
    std::size_t usable = 0;
    for (const std::vector<std::string>& row : rows) {
        if (row[column(rows, "role")] != "usable") continue;
        ++usable;
        std::int64_t cost = 0;
        for (const costed_portion<usd>& p : settled.portions)
            if (cuts.specs[p.spec].name == row[column(rows, "part")]) cost += p.cost.minor;
        CHECK(digits_of(row[column(rows, "cost")], 2) == cost);
    }
    CHECK(usable == 3);
}

TEST_CASE("each portion stands in CSV with its place, weight and cost") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const records rows = read_csv(slabs_csv(cuts, settled));
    std::size_t r = 1, k = 0;
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
        const slab& s = cuts.slabs[i];
        const auto weights = cuts.portions_of(s);
        for (std::size_t piece = 0; piece < std::max<std::size_t>(1, weights.size()); ++piece, ++r) {
            CHECK(rows[r][column(rows, "slab")] == std::to_string(i + 1));
            CHECK(rows[r][column(rows, "kind")] == name_of(s.kind));
            // Six decimals of a millimetre: half a nanometre off at most.
            CHECK(std::stod(rows[r][column(rows, "start_mm")]) == Approx(s.start / millimetre).margin(1e-6));
            CHECK(std::stod(rows[r][column(rows, "thickness_mm")]) == Approx(s.thickness / millimetre).margin(1e-6));
            const bool portions = !weights.empty();
            CHECK(rows[r][column(rows, "cut")] == (portions ? cuts.spec_of(s).name : "grind"));
            CHECK(rows[r][column(rows, "portion")] == (portions ? std::to_string(piece + 1) : ""));
            CHECK(rows[r][column(rows, "currency")] == (portions ? "USD" : ""));
            if (!portions) continue;
            CHECK(digits_of(rows[r][column(rows, "weight_g")], 6) == weights[piece].count);
            CHECK(digits_of(rows[r][column(rows, "cost")], 2) == settled.portions[k++].cost.minor);
        }
    }
    CHECK(r == rows.size());
}

TEST_CASE("a plan without a bill has the same records with no costs") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    records with = read_csv(slabs_csv(cuts, settle(cuts, bought<usd>())));
    const records without = read_csv(slabs_csv(cuts));
    for (std::size_t r = 1; r < with.size(); ++r)
        for (const char* name : {"cost", "currency"}) with[r][column(with, name)].clear();
    CHECK(with == without);
}

TEST_CASE("names with commas, quotes and line breaks survive CSV") {
    profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    cuts.specs[0].name = R"(12 oz "strip", centre)";
    cuts.specs[1].name = "two\r\nlines";
    const records rows = read_csv(slabs_csv(cuts));
    CHECK(rows[2][column(rows, "cut")] == R"(12 oz "strip", centre)");
    CHECK(rows[4][column(rows, "cut")] == "two  lines");
    CHECK(rows.size() == 1 + cuts.portion_count() + 3);
}

TEST_CASE("grams in CSV are exact to the microgram") {
    CHECK(detail::csv_grams({0}) == "0.000000");
    CHECK(detail::csv_grams({1}) == "0.000001");
    CHECK(detail::csv_grams({340'194'277}) == "340.194277");
    CHECK(detail::csv_grams({-1'500'000}) == "-1.500000");
}

TEST_CASE("an account of a cutting test says where parts go, and shares the cost among what is usable") {
    using namespace tranche::literals;
    // Invented: 50 USD less 1 USD for the trim are 49, on 2 and 1 kg: 32.666... and 16.333...
    const auto test = cutting_yield_test<usd>({.weight = 5_kg, .price = 10_usd / 1_kg},
                                              {{"steaks, thick", 2_kg, part_role::usable, {}},
                                               {"trim", 1_kg, part_role::by_product, 1_usd / 1_kg, "mince"},
                                               {"scraps", 0.9_kg, part_role::by_product, {}},
                                               {"fillet", 1_kg, part_role::usable, {}, "the counter"}},
                                              200_g);
    CHECK(account_csv(test) == "role,part,goes_to,weight_g,share,value_per_kg,credit,cost,currency\r\n"
                               "usable,\"steaks, thick\",portions,2000.000000,0.4,,,32.67,USD\r\n"
                               "by-product,trim,mince,1000.000000,0.2,1.000000,1.00,,USD\r\n"
                               "by-product,scraps,by-products,900.000000,0.18,0.000000,0.00,,USD\r\n"
                               "usable,fillet,the counter,1000.000000,0.2,,,16.33,USD\r\n"
                               "loss,unaccounted for,lost,100.000000,0.02,,,,USD\r\n"
                               "whole,bought,,5000.000000,1,10.000000,1.00,50.00,USD\r\n");
    const auto waste =
        cutting_yield_test<usd>({.weight = 1_kg, .price = 5_usd / 1_kg},
                                {{"steak", 0_kg, part_role::usable, {}}, {"waste", 1_kg, part_role::loss, {}}});
    CHECK_THAT(account_csv(waste), ContainsSubstring("usable,steak,portions,0.000000,0,,,,USD\r\n"));
    const cutting_plan cuts = mixed_plan(meat());
    const records rows = read_csv(account_csv(settle(cuts, bought<usd>(), prices<usd>())));
    for (const auto& row : rows)
        if (row[column(rows, "part")] == "trim to grind") CHECK(row[column(rows, "goes_to")] == "grind");
}

TEST_CASE("a bill without portions has an account without costs of its lines") {
    const profile loin = meat();
    const cutting_plan cuts = lay_out(loin, specs(), {}, {{0, loin.cells(), slab_kind::loose, 0}});
    const records rows = read_csv(account_csv(settle(cuts, bought<usd>(), prices<usd>())));
    REQUIRE(rows.size() == 4); // head, loose meat, purge, whole
    CHECK(rows[1][column(rows, "role")] == "by-product");
    CHECK(rows[2][column(rows, "role")] == "loss");
    CHECK(rows[1][column(rows, "cost")].empty());
    CHECK(rows[3][column(rows, "cost")] == "97.20");
}

TEST_CASE("a cell of numbers is a number only if all of it is one") {
    const auto cell = [](const std::string& words) {
        const report_table table{.columns = {{"", report_table::align::right}}, .rows = {{.cells = {words}}}};
        return read_csv(table_csv(table)).at(0).at(0);
    };
    for (const std::string number : {"-5", "+5", "-5.00", "+8 1/4", "-8 1/4", "-3/4", "-3/4 oz", "-1 lb 4 oz", "-12 lb",
                                     "-1 lb 1/4 oz", "-1 h 20 min", "-16.8 %", "-1.47 ± 1.27 %", "-12.00 USD",
                                     "-7.90 USD/lb", "-1.74 USD/100 g", "-18.00 USD/h", "8.31–8.32", "2 × 7"}) {
        CAPTURE(number);
        CHECK(cell(number) == number);
    }
    for (const std::string words : {"-1+cmd|' /C calc'!A0",
                                    "-1-1",
                                    "+1*2",
                                    "-1 1/4+2",
                                    "-",
                                    "+",
                                    "-.5",
                                    "-5.",
                                    "-1/",
                                    "--1",
                                    "-1 2",
                                    "-1 USDX",
                                    "-A1",
                                    "-1 lb 4",
                                    "-1 lb 4 oz+1",
                                    "-1 %+1",
                                    "-1 USD/lb+1",
                                    "-1 USD/cmd",
                                    "-1 (2)",
                                    "=1",
                                    "@1",
                                    "-1\u00A0+1",
                                    "＝1"}) {
        CAPTURE(words);
        CHECK(cell(words) == "'" + words);
    }
}

TEST_CASE("every signed number that the library writes stays one in a table") {
    const auto stays = [](const std::string& text) {
        const report_table table{.columns = {{"", report_table::align::right}}, .rows = {{.cells = {text}}}};
        const records rows = read_csv(table_csv(table));
        INFO(text);
        CHECK(rows.at(0).at(0) == text);
    };
    for (int i = -100; i <= 100; ++i) {
        const double x = 0.173 * i;
        for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
            stays(detail::number_of(x * 1_oz, units.portion));
            stays(to_text(x * 1_oz, units.bulk));
            stays(detail::number_of(x * 1_lb, units.bulk));
            stays(to_text(x * 1_in, units.along));
        }
        stays('+' + detail::number_of(x * x * 1_oz, us_kitchen.portion));
        stays(percent_text(x));
        stays(to_text(x * 10_min));
        stays(to_text(amount<usd>{i}));
        stays(to_text(amount<jpy>{i}));
        for (const price_basis basis :
             {price_basis::per_kilogram, price_basis::per_pound, price_basis::per_ounce, price_basis::per_100_grams})
            stays(to_text(per_lb<bhd>(x), basis, 2));
    }
}

TEST_CASE("no cell that a table writes is a formula, whatever its words") {
    std::mt19937 random(44);
    const std::vector<std::string> pieces{"=", "+",  "-", "@", "1",      "2",  " ",  "/", ".",  "|",    "'",  "(",
                                          "A", "lb", "%", "±", "\u00A0", "＝", "\"", ",", "\t", "\xFF", "USD"};
    for (int i = 0; i < 10000; ++i) {
        std::string words;
        for (auto n = 1 + random() % 8; n > 0; --n) words += pieces[random() % pieces.size()];
        const report_table table{.columns = {{""}, {"", report_table::align::right}},
                                 .rows = {{.cells = {words, words}}}};
        const records rows = read_csv(table_csv(table));
        REQUIRE(rows.at(0).size() == 2);
        CAPTURE(words);
        // The words again, printable and behind an apostrophe at most.
        for (const std::string& cell : rows[0])
            REQUIRE((cell == detail::printable(words) || cell == '\'' + detail::printable(words)));
        REQUIRE_FALSE(detail::looks_like_formula(rows[0][0]));
        // Behind the sign of what is left of numbers nothing is computed or called.
        if (detail::looks_like_formula(rows[0][1]))
            REQUIRE(rows[0][1].find_first_of("=+-@|'(\"", 1) == std::string::npos);
    }
}

} // namespace csv_test
