// Labels: the order of rounding, digit by digit.
// SPDX-License-Identifier: BSL-1.0
#include <limits>
#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/packs/pack_label.hpp>
#include <tranche/units/literals.hpp>

#include "cut/samples.hpp"
#include "support/catch.hpp"

namespace pack_label_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr mass_division five_grams{mass_division::unit::kilograms, 200};
constexpr mass_division grams{mass_division::unit::kilograms, 1000};

/// The net weight of so many divisions.
net_weight weighed(std::int64_t divisions, mass_division division) { return {divisions, division}; }

} // namespace

TEST_CASE("total_price: rounds halves as the rules say") {
    // Half-up 0.125 -> 0.13, 0.135 -> 0.14, 0.175 -> 0.18 and half-even 0.5 -> 0, 1.5 -> 2, 2.5 -> 2, 3.5 -> 4 (IEEE
    // 754-2019, 4.3, from memory), as weights at one unit of money a kilogram.
    const label_price<usd> dollar{.each = {100}};
    CHECK(total_price(weighed(125, grams), dollar, rounding::half_up) == amount<usd>{13});
    CHECK(total_price(weighed(135, grams), dollar, rounding::half_up) == amount<usd>{14});
    CHECK(total_price(weighed(175, grams), dollar, rounding::half_up) == amount<usd>{18});
    CHECK(total_price(weighed(125, grams), dollar, rounding::half_even) == amount<usd>{12});
    CHECK(total_price(weighed(135, grams), dollar, rounding::half_even) == amount<usd>{14});
    const label_price<jpy> yen{.each = {1}};
    CHECK(total_price(weighed(500, grams), yen, rounding::half_even) == amount<jpy>{0});
    CHECK(total_price(weighed(1500, grams), yen, rounding::half_even) == amount<jpy>{2});
    CHECK(total_price(weighed(2500, grams), yen, rounding::half_even) == amount<jpy>{2});
    CHECK(total_price(weighed(3500, grams), yen, rounding::half_even) == amount<jpy>{4});
    CHECK(total_price(weighed(500, grams), yen, rounding::half_up) == amount<jpy>{1});
    CHECK(total_price(weighed(499, grams), yen, rounding::half_up) == amount<jpy>{0});
}

TEST_CASE("total_price: is the product of the printed figures in every unit") {
    // 12.06 lb at 12.99 USD/lb: 156.6594. 0.365 kg at 32.90 EUR/kg: 12.0085. Computed.
    CHECK(total_price(weighed(1206, hundredths_of_pound), label_price<usd>{{1299}, price_basis::per_pound},
                      rounding::half_up) == amount<usd>{15666});
    CHECK(total_price(weighed(73, five_grams), label_price<eur>{{3290}}, rounding::half_up) == amount<eur>{1201});
    // 11 1/4 oz at 16 USD/lb: 11.25. At 3.29 EUR/100 g, 365 g: 12.0085.
    CHECK(total_price(weighed(45, quarter_ounces), label_price<usd>{{1600}, price_basis::per_pound},
                      rounding::half_up) == amount<usd>{1125});
    CHECK(total_price(weighed(365, whole_grams), label_price<eur>{{329}, price_basis::per_100_grams},
                      rounding::half_up) == amount<eur>{1201});
    // 1 lb at 10 USD/kg, by the exact pound of 0.45359237 kg: 4.5359237.
    CHECK(total_price(weighed(1, {mass_division::unit::pounds, 1}), label_price<usd>{{1000}}, rounding::half_up) ==
          amount<usd>{454});
    CHECK(total_price(weighed(16, whole_ounces), label_price<bhd>{{10'000}}, rounding::half_up) == amount<bhd>{4536});
}

TEST_CASE("net_weight_of: rounds once, exactly, in the unit of the scale") {
    CHECK(net_weight_of(367.4_g, 0_g, {five_grams}).text() == "0.365 kg");
    CHECK(net_weight_of(367.5_g, 0_g, {five_grams}).text() == "0.370 kg");
    CHECK(net_weight_of(369.9_g, 0_g, {five_grams, weight_rounding::down}).text() == "0.365 kg");
    CHECK(net_weight_of(370_g, 0_g, {five_grams, weight_rounding::down}).divisions == 74);
    CHECK(net_weight_of(1_lb, 0_g, {hundredths_of_pound}).text() == "1.00 lb");
    CHECK(net_weight_of(11.3_oz, 0_g, {quarter_ounces}).text() == "11 1/4 oz");
    // A pound in a scale of grams.
    CHECK(net_weight_of(1_lb, 0_g, {whole_grams}).text() == "454 g");
    // Divisions are written as the trade writes them.
    CHECK(weighed(3, {mass_division::unit::pounds, 4}).text() == "3/4 lb");
    CHECK(weighed(3, {mass_division::unit::pounds, 200}).text() == "0.015 lb");
    CHECK(weighed(7, {mass_division::unit::kilograms, 2}).text() == "3.5 kg");
    CHECK(weighed(7, {mass_division::unit::grams, 3}).text() == "2 1/3 g");
    CHECK(size_of(five_grams) == 5_g);
    CHECK_THAT(size_of(hundredths_of_pound).value(), WithinRel(0.0045359237, 1e-15));
}

TEST_CASE("net_weight_of: takes the tare off before the weight is rounded") {
    // 372 g with 4.6 g of tray: 367.4. The tare as a whole division: 367.
    CHECK(net_weight_of(372_g, 4.6_g, {five_grams}).divisions == 73);
    CHECK(net_weight_of(372.5_g, 4.6_g, {five_grams}).divisions == 74); // 367.9
    CHECK(net_weight_of(372.4_g, 4.6_g, {five_grams, weight_rounding::nearest, tare_rounding::up_to_division})
              .divisions == 73); // 367.4
    CHECK(net_weight_of(372.4_g, 5.1_g, {five_grams, weight_rounding::nearest, tare_rounding::up_to_division})
              .divisions == 72); // 362.4
}

TEST_CASE("label_of: computes the total from what is printed, which exact figures may not give") {
    // 9.99 USD/lb is 22.0242... a kilogram, printed 22.02. 0.3674 kg are printed 0.365. 0.365 × 22.02 = 8.0373, while
    // 0.3674 kg at 9.99 a pound are 8.0917. Computed.
    const label_rules rules{.weighing = {five_grams}, .basis = price_basis::per_kilogram};
    const auto label = label_of<usd>("strip steak", 372_g, 4.6_g, 9.99_usd / 1_lb, rules);
    CHECK(label.price.text() == "22.02 USD/kg");
    CHECK(label.net.text() == "0.365 kg");
    CHECK(label.total == amount<usd>{804});
    CHECK(rounded<usd>(367.4_g * (9.99_usd / 1_lb), rounding::half_up) == amount<usd>{809});
    const auto fields = fields_of(label);
    REQUIRE(fields.size() == 5);
    CHECK(fields[0].value == "strip steak");
    CHECK(fields[1].value == "0.365 kg");
    CHECK(fields[2].value == "0.0046 kg"); // in the unit of the scale, in full
    CHECK(fields[3].value == "22.02 USD/kg");
    CHECK(fields[4].value == "8.04 USD");
    const label_rules pounds{.weighing = {hundredths_of_pound}, .basis = price_basis::per_pound};
    const auto tare = [&](mass m) { return fields_of(label_of<usd>("a", 1_lb, m, 9_usd / 1_lb, pounds))[2].value; };
    CHECK(tare(0.5_oz) == "0.03125 lb");
    CHECK(tare(0.02_lb) == "0.02 lb");
    CHECK(tare(0_g) == "0.00 lb");
    CHECK(tare(10_g) == "0.022046 lb"); // never exact: 10 / 453.59237
    const label_rules ounces{.weighing = {quarter_ounces}};
    CHECK(fields_of(label_of<usd>("a", 1_lb, 0.75_oz, 9_usd / 1_lb, ounces))[2].value == "3/4 oz");
    CHECK(fields_of(label_of<usd>("a", 1_lb, 0.3_oz, 9_usd / 1_lb, ounces))[2].value == "0.3 oz");
}

TEST_CASE("label_price_of: states a price by the pound, the ounce, the kilogram and 100 g") {
    const unit_price<usd> price = 7.9_usd / 1_lb; // 17.4165 a kilogram, 0.49375 an ounce
    CHECK(label_price_of<usd>(price, price_basis::per_pound).text() == "7.90 USD/lb");
    CHECK(label_price_of<usd>(price, price_basis::per_kilogram).text() == "17.42 USD/kg");
    CHECK(label_price_of<usd>(price, price_basis::per_ounce).text() == "0.49 USD/oz");
    CHECK(label_price_of<usd>(price, price_basis::per_100_grams).text() == "1.74 USD/100 g");
    CHECK(label_price_of<jpy>(1234.5_jpy / 1_kg, price_basis::per_kilogram, rounding::half_up).text() == "1235 JPY/kg");
    CHECK(label_price_of<jpy>(1234.5_jpy / 1_kg, price_basis::per_kilogram, rounding::half_even).text() ==
          "1234 JPY/kg");
}

TEST_CASE("order_of_rounding: names every step") {
    CHECK(order_of_rounding<usd>({.weighing = {hundredths_of_pound}, .basis = price_basis::per_pound}) ==
          "First the unit price is rounded to 0.01 USD/lb (halves up), and the net weight, after the tare is taken off "
          "as "
          "given, to the nearest division of the scale, 0.01 lb; then the total price, their product, to 0.01 USD "
          "(halves "
          "up).");
    CHECK_THAT(order_of_rounding<eur>({.weighing = {five_grams, weight_rounding::down, tare_rounding::up_to_division},
                                       .money = rounding::half_even}),
               ContainsSubstring("rounded up to a whole division, down to a whole division of the scale, 0.005 kg") &&
                   ContainsSubstring("(halves to the even neighbour)"));
}

TEST_CASE("labels_of: has a label for every portion of a plan") {
    const cutting_plan cuts = lay_out(strip_table(), two_cuts(), two_ways(), every_way());
    price_list<eur> prices;
    prices.portions["steak"] = {.by_weight = 32.9_eur / 1_kg};
    prices.portions["fillet"] = {.by_weight = 45_eur / 1_kg};
    const label_rules rules{.weighing = {five_grams, weight_rounding::down}};
    const auto labels = labels_of(cuts, prices, 6_g, rules);
    REQUIRE(labels.size() == cuts.portion_count());
    micrograms all;
    for (const slab& s : cuts.slabs)
        if (s.kind == slab_kind::portions) all += s.weight();
    mass labelled{};
    for (const auto& label : labels) {
        labelled += label.net.weight();
        CHECK(label.total == total_price(label.net, label.price, rounding::half_up));
    }
    CHECK(labelled <= to_mass(all));
    CHECK(labelled > to_mass(all) - static_cast<double>(labels.size()) * 5_g);
    CHECK_THROWS_WITH(labels_of(cuts, price_list<eur>{}, 6_g, rules), StartsWith("price of steak: got none"));
    prices.portions["fillet"].each = 1_eur;
    CHECK_THROWS_WITH(labels_of(cuts, prices, 6_g, rules), StartsWith("price of fillet by the piece: got 1"));
    CHECK_THROWS_WITH(labels_of(cuts, prices, -6_g, rules), StartsWith("tare: got -6 g"));
}

TEST_CASE("pack_label: names the field of a bad input") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const weighing_rules rules{five_grams};
    CHECK_THROWS_WITH(net_weight_of(0_g, 0_g, rules), StartsWith("gross: got 0 g"));
    CHECK_THROWS_WITH(net_weight_of(nan * 1_g, 0_g, rules), StartsWith("gross: got nan"));
    CHECK_THROWS_WITH(net_weight_of(10_g, -1_g, rules), StartsWith("tare: got -1 g"));
    CHECK_THROWS_WITH(
        net_weight_of(10_g, 20_g, rules),
        StartsWith("gross: got 10 g with a tare of 20 g, expected a net weight of at least one division"));
    CHECK_THROWS_WITH(net_weight_of(10_g, 8_g, rules), StartsWith("gross: got 10 g with a tare of 8 g"));
    CHECK_THROWS_WITH(net_weight_of(10_g, 0_g, {pounds_and_quarter_ounces}),
                      StartsWith("division: got pounds and ounces"));
    CHECK_THROWS_WITH(net_weight_of(10_g, 0_g, {{mass_division::unit::grams, 0}}), StartsWith("division: got 1/0"));
    CHECK_THROWS_WITH(label_price_of<usd>(-1_usd / 1_lb, price_basis::per_pound), StartsWith("unit price: got -1"));
    CHECK_THROWS_WITH(label_price_of<usd>(nan * 1_usd / 1_lb, price_basis::per_pound),
                      StartsWith("unit price: got nan"));
    CHECK_THROWS_WITH(label_price_of<usd>(1e20_usd / 1_kg, price_basis::per_kilogram), StartsWith("unit price"));
    const label_price<usd> dear{.each = {9'000'000'000'000'000'000}};
    CHECK_THROWS_WITH(total_price(weighed(2000, grams), dear, rounding::half_up),
                      StartsWith("total price: got 2000 divisions at"));
    CHECK_THROWS_WITH(total_price(weighed(4'000'000'000'000'000'000, grams), dear, rounding::half_up),
                      StartsWith("total price"));
    CHECK_THROWS_WITH(total_price(weighed(-1, grams), dear, rounding::half_up), StartsWith("net weight: got -1"));
    CHECK_THROWS_WITH(total_price(weighed(1, grams), label_price<usd>{.each = {-1}}, rounding::half_up),
                      StartsWith("unit price: got -0.01 USD"));
}

} // namespace pack_label_test
