// That quantities are written as a kitchen writes them, to the division asked for.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <limits>
#include <string>

#include <tranche/text/to_text.hpp>
#include <tranche/units/literals.hpp>

namespace to_text_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();
} // namespace

TEST_CASE("a weight is written in pounds and ounces") {
    CHECK(to_text(12_lb + 6_oz, pounds_and_whole_ounces) == "12 lb 6 oz");
    CHECK(to_text(11.9_lb, pounds_and_quarter_ounces) == "11 lb 14 1/2 oz"); // 14.4 oz to the nearest quarter
    CHECK(to_text(12_lb, pounds_and_whole_ounces) == "12 lb");
    CHECK(to_text(15.9_oz, pounds_and_whole_ounces) == "1 lb"); // rounds up into the next pound
    CHECK(to_text(15.4_oz, pounds_and_whole_ounces) == "15 oz");
    CHECK(to_text(0_g, pounds_and_whole_ounces) == "0 oz");
    CHECK(to_text(-(1_lb + 0.25_oz), pounds_and_quarter_ounces) == "-1 lb 1/4 oz");
}

TEST_CASE("a weight is written in one unit") {
    CHECK(to_text(11.25_oz, quarter_ounces) == "11 1/4 oz");
    CHECK(to_text(0.75_oz, quarter_ounces) == "3/4 oz");
    CHECK(to_text(11.5_oz, quarter_ounces) == "11 1/2 oz");
    CHECK(to_text(340.4_g, whole_grams) == "340 g");
    CHECK(to_text(340.5_g, whole_grams) == "341 g");
    CHECK(to_text(-340.5_g, whole_grams) == "-341 g");
    CHECK(to_text(5.398_kg, thousandths_of_kilogram) == "5.398 kg");
    CHECK(to_text(5.03_kg, thousandths_of_kilogram) == "5.030 kg");
    CHECK(to_text(11.9_lb, hundredths_of_pound) == "11.90 lb");
    CHECK(to_text(12_oz, whole_ounces) == "12 oz");
    CHECK(to_text(-0.2_g, whole_grams) == "0 g"); // no minus before nothing
    CHECK(to_text(5_oz, {mass_division::unit::ounces, 3}) == "5 oz");
    CHECK(to_text(5.7_oz, {mass_division::unit::ounces, 3}) == "5 2/3 oz");
}

TEST_CASE("a length is written in its unit") {
    CHECK(to_text(1.25_in, quarters_of_inch) == "1 1/4 in");
    CHECK(to_text(0.75_in, sixteenths_of_inch) == "3/4 in"); // in lowest terms
    CHECK(to_text(3.0_in / 16.0, sixteenths_of_inch) == "3/16 in");
    CHECK(to_text(16.5_in, sixteenths_of_inch) == "16 1/2 in");
    CHECK(to_text(19.05_mm, whole_millimetres) == "19 mm");
    CHECK(to_text(31.75_mm, tenths_of_millimetre) == "31.8 mm");
    CHECK(to_text(41.9_cm, tenths_of_centimetre) == "41.9 cm");
    CHECK(to_text(0.419_m, {length_division::unit::metres, 100}) == "0.42 m");
    CHECK(to_text(-1.25_in, quarters_of_inch) == "-1 1/4 in");
}

TEST_CASE("a time is written in hours and minutes") {
    CHECK(to_text(3_h + 20_min) == "3 h 20 min");
    CHECK(to_text(20_min) == "20 min");
    CHECK(to_text(2_h) == "2 h");
    CHECK(to_text(59.6_min) == "1 h");
    CHECK(to_text(0_s) == "0 min");
    CHECK(to_text(-90_min) == "-1 h 30 min");
}

TEST_CASE("an amount is written to its minor unit, exactly") {
    CHECK(to_text(amount<usd>{12361}) == "123.61 USD");
    CHECK(to_text(amount<usd>{5}) == "0.05 USD");
    CHECK(to_text(amount<usd>{-5}) == "-0.05 USD");
    CHECK(to_text(amount<jpy>{1200}) == "1200 JPY");
    CHECK(to_text(amount<bhd>{7900}) == "7.900 BHD");
    CHECK(to_text(amount<usd>{std::numeric_limits<std::int64_t>::max()}) == "92233720368547758.07 USD");
    CHECK(to_text(amount<usd>{std::numeric_limits<std::int64_t>::min()}) == "-92233720368547758.08 USD");
}

TEST_CASE("a price is written per its weight and a wage per hour") {
    const unit_price<usd> price = 7.9_usd / 1_lb;
    CHECK(to_text(price, price_basis::per_pound) == "7.90 USD/lb");
    CHECK(to_text(price, price_basis::per_pound, 2) == "7.9000 USD/lb");
    CHECK(to_text(price, price_basis::per_kilogram) == "17.42 USD/kg");  // 7.90 / 0.45359237 = 17.4165
    CHECK(to_text(price, price_basis::per_ounce, 2) == "0.4938 USD/oz"); // 7.90 / 16 = 0.49375
    CHECK(to_text(price, price_basis::per_100_grams) == "1.74 USD/100 g");
    CHECK(to_text(1200_jpy / 1_kg, price_basis::per_kilogram) == "1200 JPY/kg");
    CHECK(to_text(7.9_bhd / 1_kg, price_basis::per_kilogram) == "7.900 BHD/kg");
    CHECK(to_text(18_eur / 1_h) == "18.00 EUR/h");
    CHECK(to_text(7.9_usd) == "7.90 USD");
    CHECK(to_text(7.905_usd, 1) == "7.905 USD");
    CHECK(to_text(-1200_jpy) == "-1200 JPY");
    CHECK(to_text(18.125_eur / 1_h, 1) == "18.125 EUR/h");
}

TEST_CASE("shares and plain numbers are written with the digits asked for") {
    CHECK(percent_text(0.1677, 2) == "16.77 %");
    CHECK(percent_text(0.885) == "88.5 %");
    CHECK(percent_text(0.885, 0) == "89 %"); // halves away from zero
    CHECK(percent_text(-0.05) == "-5.0 %");
    CHECK(to_text(5.156136, 3) == "5.156");
    CHECK(to_text(0.05, 1) == "0.1");
    CHECK(to_text(-0.04, 1) == "0.0");
    CHECK(to_text(1234567.0, 0) == "1234567");
    CHECK(to_text(0.25, 12) == "0.250000000000");
    CHECK(to_text(0.5, 15) == "0.500000000000000");
}

TEST_CASE("what is not finite or has too many digits is not written") {
    CHECK_THROWS_AS(to_text(mass::from_value(not_a_number), whole_grams), invalid_input);
    CHECK_THROWS_AS(to_text(mass::from_value(infinity), pounds_and_whole_ounces), invalid_input);
    CHECK_THROWS_AS(to_text(length::from_value(-infinity), whole_millimetres), invalid_input);
    CHECK_THROWS_AS(to_text(duration::from_value(not_a_number)), invalid_input);
    CHECK_THROWS_AS(to_text(unit_price<usd>::from_value(not_a_number), price_basis::per_pound), invalid_input);
    CHECK_THROWS_AS(to_text(wage<usd>::from_value(infinity)), invalid_input);
    CHECK_THROWS_AS(percent_text(not_a_number), invalid_input);
    CHECK_THROWS_AS(to_text(1e15, 6), invalid_input);
    CHECK_THROWS_AS(to_text(1.0, 16), invalid_input);
    CHECK_THROWS_AS(to_text(1.0, -1), invalid_input);
    CHECK_THROWS_WITH(to_text(1_kg, {mass_division::unit::grams, 0}), "parts: got 0, expected at least 1");
}

} // namespace to_text_test
