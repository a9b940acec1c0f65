// That text is read as a person writes it, and that a refusal says what could not be read and where.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstdint>
#include <functional>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/text/from_text.hpp>
#include <tranche/units/literals.hpp>

namespace from_text_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Reading is one division and at most three products and sums of doubles: five halves of a unit in the last place, and
/// the rounding of the constants on either side.
constexpr double rounding_of_doubles = 1e-15;

double kg(std::string_view text) { return from_text<mass>(text) / kilogram; }
double mm(std::string_view text) { return from_text<length>(text) / millimetre; }

struct refusal {
    std::string text;      ///< what is read
    std::string complaint; ///< the end of the message: what could not be read, and where
};

template <class Quantity>
void check_refusals(const std::vector<refusal>& refusals, const std::string& expectation) {
    for (const auto& [text, complaint] : refusals) {
        CAPTURE(text);
        try {
            (void)from_text<Quantity>(text, "the field");
            FAIL_CHECK("accepted");
        } catch (const invalid_input& e) {
            CHECK(e.field() == "the field");
            CHECK(e.value() == '"' + text + '"');
            CHECK(e.expected() == expectation + " (" + complaint + ')');
        }
    }
}

std::string digits(std::size_t count) { return '1' + std::string(count - 1, '0'); }

} // namespace

TEST_CASE("a weight is read in every unit") {
    CHECK_THAT(kg("5.6 kg"), WithinRel(5.6, rounding_of_doubles));
    CHECK_THAT(kg("340 g"), WithinRel(0.34, rounding_of_doubles));
    CHECK_THAT(kg("11.9 lb"), WithinRel(11.9 * 0.45359237, rounding_of_doubles));
    CHECK(kg("1 lbs") == 0.45359237);
    CHECK(kg("11 oz") == 11_oz / kilogram);
    CHECK_THAT(kg("12 lb 6 oz"), WithinRel((12_lb + 6_oz) / kilogram, rounding_of_doubles));
    CHECK_THAT(kg("12lb 6oz"), WithinRel((12_lb + 6_oz) / kilogram, rounding_of_doubles));
    CHECK_THAT(kg("12 lb 6 1/4 oz"), WithinRel((12_lb + 6.25_oz) / kilogram, rounding_of_doubles));
    CHECK_THAT(kg(" \t 12 lb\t6 oz  "), WithinRel((12_lb + 6_oz) / kilogram, rounding_of_doubles));
    CHECK(kg("0 g") == 0.0);
}

TEST_CASE("a length is read in every unit") {
    CHECK_THAT(mm("19 mm"), WithinRel(19.0, rounding_of_doubles));
    CHECK_THAT(mm("41.5 cm"), WithinRel(415.0, rounding_of_doubles));
    CHECK_THAT(mm("0.42 m"), WithinRel(420.0, rounding_of_doubles));
    CHECK_THAT(mm("1 in"), WithinRel(25.4, rounding_of_doubles));
    CHECK_THAT(mm("1 inch"), WithinRel(25.4, rounding_of_doubles));
    CHECK_THAT(mm("1 \""), WithinRel(25.4, rounding_of_doubles));
    CHECK_THAT(mm("1\""), WithinRel(25.4, rounding_of_doubles));
    CHECK_THAT(mm("1 ft 4 in"), WithinRel(406.4, rounding_of_doubles));
    CHECK_THAT(mm("1 ft 4 1/2 in"), WithinRel(419.1, rounding_of_doubles));
    CHECK_THAT(mm("2 ft"), WithinRel(609.6, rounding_of_doubles));
}

TEST_CASE("fractions are read in every form") {
    for (const std::string form : {"1 1/4 in", "1-1/4 in", "1¼ in", "1 ¼ in", "1-¼ in", "5/4 in", "1.25 in", "1¼\""}) {
        CAPTURE(form);
        CHECK_THAT(mm(form), WithinRel(31.75, rounding_of_doubles));
    }
    CHECK_THAT(mm("3/4 in"), WithinRel(19.05, rounding_of_doubles));
    CHECK_THAT(mm("¾ in"), WithinRel(19.05, rounding_of_doubles));
    CHECK_THAT(mm(".75 in"), WithinRel(19.05, rounding_of_doubles));
    CHECK_THAT(mm("3/16 in"), WithinRel(4.7625, rounding_of_doubles));
    CHECK_THAT(mm("0 1/4 in"), WithinRel(6.35, rounding_of_doubles));
    CHECK(mm("0/4 in") == 0.0);
}

TEST_CASE("each fraction sign is read as its fraction") {
    const std::vector<std::pair<std::string, double>> signs{{"¼", 1. / 4}, {"½", 1. / 2}, {"¾", 3. / 4}, {"⅓", 1. / 3},
                                                            {"⅔", 2. / 3}, {"⅕", 1. / 5}, {"⅖", 2. / 5}, {"⅗", 3. / 5},
                                                            {"⅘", 4. / 5}, {"⅙", 1. / 6}, {"⅚", 5. / 6}, {"⅛", 1. / 8},
                                                            {"⅜", 3. / 8}, {"⅝", 5. / 8}, {"⅞", 7. / 8}};
    for (const auto& [sign, value] : signs) {
        CAPTURE(sign);
        CHECK(from_text<fraction>(sign) == value);
        CHECK(from_text<fraction>('2' + sign) == 2.0 + value);
    }
}

TEST_CASE("the first number may have a sign") {
    CHECK(from_text<mass>("-5 oz") == -5_oz);
    CHECK(from_text<mass>("\u22125 oz") == -5_oz); // the minus sign of typography
    CHECK(from_text<mass>("+5 oz") == 5_oz);
    CHECK(from_text<mass>("- 5 oz") == -5_oz);
    CHECK_THAT(kg("-1 lb 4 oz"), WithinRel(-1.25 * 0.45359237, rounding_of_doubles)); // holds for the whole
    CHECK_THAT(mm("-1 1/4 in"), WithinRel(-31.75, rounding_of_doubles));
    CHECK(from_text<amount<usd>>("-0.05 USD") == amount<usd>{-5});
    CHECK(from_text<fraction>("-30 %") == -0.3);
}

TEST_CASE("times, densities and shares are read") {
    CHECK(from_text<duration>("20 min") == 20_min);
    CHECK(from_text<duration>("1 h 20 min") == 80_min);
    CHECK(from_text<duration>("1 h 20 min 30 s") == 80.5_min);
    CHECK(from_text<duration>("1 h 30 s") == 60.5_min);
    CHECK(from_text<duration>("1.5 h") == 90_min);
    CHECK(from_text<density>("1060 kg/m3").value() == 1060.0);
    CHECK(from_text<density>("1060 kg/m³").value() == 1060.0);
    CHECK_THAT(from_text<density>("1.06 g/cm3").value(), WithinRel(1060.0, rounding_of_doubles));
    CHECK_THAT(from_text<density>("1.06 g/cm³").value(), WithinRel(1060.0, rounding_of_doubles));
    CHECK(from_text<fraction>("30 %") == 0.3);
    CHECK(from_text<fraction>("30%") == 0.3);
    CHECK(from_text<fraction>("0.3") == 0.3);
}

TEST_CASE("money, prices and wages are read in their currency") {
    CHECK(from_text<money<usd>>("7.90 USD").value() == 7.9);
    CHECK(from_text<amount<usd>>("7.90 USD") == amount<usd>{790});
    CHECK(from_text<amount<usd>>("7.9 USD") == amount<usd>{790});
    CHECK(from_text<amount<usd>>("7 USD") == amount<usd>{700});
    CHECK(from_text<amount<usd>>("123.61USD") == amount<usd>{12361});
    CHECK(from_text<amount<jpy>>("1200 JPY") == amount<jpy>{1200});
    CHECK(from_text<amount<bhd>>("7.905 BHD") == amount<bhd>{7905});
    CHECK_THAT(from_text<unit_price<usd>>("1.74 USD/100 g").value(), WithinRel(17.4, rounding_of_doubles));
    CHECK_THAT(from_text<unit_price<usd>>("7.90 USD/lb").value(), WithinRel(7.9 / 0.45359237, rounding_of_doubles));
    CHECK_THAT(from_text<unit_price<usd>>("7.90 USD / lb").value(), WithinRel(7.9 / 0.45359237, rounding_of_doubles));
    CHECK(from_text<unit_price<eur>>("16.50 EUR/kg").value() == 16.5);
    CHECK_THAT(from_text<unit_price<gbp>>("1 1/2 GBP/oz").value(),
               WithinRel(1.5 / 0.028349523125, rounding_of_doubles));
    CHECK_THAT(from_text<unit_price<cad>>("0.02 CAD/g").value(), WithinRel(20.0, rounding_of_doubles));
    CHECK_THAT(from_text<wage<usd>>("18 USD/h").value(), WithinRel(18.0 / 3600.0, rounding_of_doubles));
    CHECK_THAT(from_text<wage<aud>>("0.50 AUD/min").value(), WithinRel(30.0 / 3600.0, rounding_of_doubles));
}

TEST_CASE("units and currencies are read in any case, and units as words too") {
    for (const std::string pounds : {"12 pounds", "12 Pounds", "12 LB", "12 lb.", "12 Lbs", "12 pound", "12 lbs."}) {
        CAPTURE(pounds);
        CHECK_THAT(kg(pounds), WithinRel(12_lb / kilogram, rounding_of_doubles));
    }
    for (const std::string both : {"12 pounds 6 ounces", "12 lb. 6 oz.", "12 LB 6 OZ"}) {
        CAPTURE(both);
        CHECK_THAT(kg(both), WithinRel((12_lb + 6_oz) / kilogram, rounding_of_doubles));
    }
    CHECK_THAT(kg("5.6 Kilos"), WithinRel(5.6, rounding_of_doubles));
    CHECK_THAT(kg("340 grams"), WithinRel(0.34, rounding_of_doubles));
    for (const std::string inches : {"1 1/4 inches", "1 1/4 IN", "1 1/4 in.", "1¼″", "1 1/4 ”"}) {
        CAPTURE(inches);
        CHECK_THAT(mm(inches), WithinRel(31.75, rounding_of_doubles));
    }
    CHECK_THAT(mm("1' 4\""), WithinRel(406.4, rounding_of_doubles));
    CHECK_THAT(mm("1 foot 4 inches"), WithinRel(406.4, rounding_of_doubles));
    CHECK(from_text<duration>("1 hr 20 mins") == 80_min);
    CHECK(from_text<duration>("35 minutes") == 35_min);
    CHECK(from_text<fraction>("30 percent") == 0.3);
    CHECK(from_text<money<usd>>("7.90 usd").value() == 7.9);
}

TEST_CASE("a price is read as the trade writes it, with the sign of its currency too") {
    for (const std::string price :
         {"$8.49/lb", "$8.49 per lb", "$ 8.49 a pound", "8.49 $/lb", "USD 8.49/lb", "8.49 usd / LB", "$8.49 USD/lb"}) {
        CAPTURE(price);
        CHECK_THAT(from_text<unit_price<usd>>(price).value(), WithinRel(8.49 / 0.45359237, rounding_of_doubles));
    }
    CHECK_THAT(from_text<unit_price<usd>>("$8/lb").value(), WithinRel(8.0 / 0.45359237, rounding_of_doubles));
    CHECK_THAT(from_text<unit_price<usd>>("$2/100 g").value(), WithinRel(20.0, rounding_of_doubles));
    CHECK(from_text<unit_price<cad>>("$16.50/kg").value() == 16.5); // a dollar, if that is what CAD is written in
    CHECK(from_text<unit_price<eur>>("16.50 €/kg").value() == 16.5);
    CHECK(from_text<unit_price<gbp>>("£16.50/kg").value() == 16.5);
    CHECK(from_text<money<jpy>>("¥1200").value() == 1200.0);
    CHECK(from_text<amount<usd>>("-$0.05") == amount<usd>{-5});
    CHECK_THAT(from_text<wage<usd>>("$18 an hour").value(), WithinRel(18.0 / 3600.0, rounding_of_doubles));
    CHECK_THROWS_AS(from_text<unit_price<eur>>("$16.50/kg"), invalid_input);
}

TEST_CASE("a temperature is read on either scale") {
    for (const std::string cold : {"3.5 °C", "3.5°C", "3.5 C", "3.5 degC", "3.5 degrees Celsius", "38.3 °F", "38.3F"}) {
        CAPTURE(cold);
        CHECK_THAT(from_text<temperature>(cold).celsius, WithinAbs(3.5, 1e-12));
    }
    CHECK(from_text<temperature>("-18 °C") == temperature{-18.0});
    check_refusals<temperature>({{"38", "no such unit at character 3"},
                                 {"38 °", "no such unit at character 5"},
                                 {"cold", "no number at character 1"},
                                 {"38 °F and rising", "cannot read \"and rising\" at character 7"}},
                                "a temperature such as 3 °C or 38 °F");
}

TEST_CASE("limits are read as people write them, and a lower one may leave its unit to the upper one") {
    const auto range = [](std::string_view text) { return from_text<quantity_range<length>>(text); };
    const quantity_range<length> expected{from_text<length>("1 in"), from_text<length>("1 1/2 in")};
    for (const char* text :
         {"1 in to 1 1/2 in", "1 to 1 1/2 in", "1 - 1 1/2 in", "1–1½ in", "from 1 to 1 1/2 inches", "1 TO 1.5 in"}) {
        CAPTURE(text);
        CHECK(range(text) == expected);
    }
    for (const char* text : {"1 in", "exactly 1 in", "Exactly 1 in"})
        CHECK(range(text) == quantity_range<length>(1_in));
    for (const char* text : {"at least 1 in", "At Least 1 in", "1 in or more", "min 1 in", "from 1 in"})
        CHECK(range(text) == quantity_range<length>(1_in, unlimited<length>()));
    for (const char* text : {"at most 1 in", "up to 1 in", "1 in or less", "max 1 in"})
        CHECK(range(text) == quantity_range<length>(length{}, 1_in));
    CHECK(from_text<quantity_range<mass>>("10 to 12 1/2 oz") == quantity_range<mass>(10_oz, 12.5_oz));
    CHECK_THROWS_WITH(from_text<quantity_range<mass>>("12 to 13 lb 4 oz", "weight"),
                      ContainsSubstring("(no unit at character 3)"));
    for (const char* text :
         {"", "to", " to 1 in", "1 in to", "at least", "exactly", "1 to 2", "1 in to 2 in to 3 in"}) {
        CAPTURE(text);
        CHECK_THROWS_AS(range(text), invalid_input);
    }
}

TEST_CASE("an amount is read digit by digit up to the ends of 64 bits") {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
    constexpr std::int64_t least = std::numeric_limits<std::int64_t>::min();
    CHECK(from_text<amount<usd>>("92233720368547758.07 USD") == amount<usd>{most});
    CHECK(from_text<amount<usd>>("-92233720368547758.08 USD") == amount<usd>{least});
    CHECK(from_text<amount<jpy>>("9223372036854775807 JPY") == amount<jpy>{most});
    CHECK_THROWS_AS(from_text<amount<usd>>("92233720368547758.08 USD"), invalid_input);
    CHECK_THROWS_AS(from_text<amount<usd>>("-92233720368547758.09 USD"), invalid_input);
    CHECK_THROWS_AS(from_text<amount<usd>>("92233720368547759 USD"), invalid_input);
    CHECK_THROWS_AS(from_text<amount<jpy>>("9223372036854775808 JPY"), invalid_input);
}

TEST_CASE("a weight that is none is refused with the place where it ends being one") {
    check_refusals<mass>(
        {
            {"", "no number at character 1"},
            {"   ", "no number at character 4"},
            {"kg", "no number at character 1"},
            {"5", "no such unit at character 2"},
            {"5 ", "no such unit at character 3"},
            {"5 mm", "no such unit at character 3"},
            {"5 kilopounds", "no such unit at character 3"},
            {"5 kg/m3", "no such unit at character 3"},
            {"5 kg oz", "no number at character 6"},
            {"5,6 kg", "a comma; write a decimal point, at character 2"},
            {"1,000 g", "a comma; write a decimal point, at character 2"},
            {"1e5 g", "no such unit at character 2"},
            {"1.5e3 g", "no such unit at character 4"},
            {"0x10 g", "no such unit at character 2"},
            {"nan kg", "no number at character 1"},
            {"NaN", "no number at character 1"},
            {"inf kg", "no number at character 1"},
            {"-infinity kg", "no number at character 2"},
            {"--5 g", "no number at character 2"},
            {"+-5 g", "no number at character 2"},
            {"5. kg", "no digit behind the decimal point at character 3"},
            {". kg", "no number at character 1"},
            {"1.2.3 kg", "no such unit at character 4"},
            {"12 lb -6 oz", "no number at character 7"},
            {"12 lb 6", "no such unit at character 8"},
            {"12 lb6 oz", "no such unit at character 4"},
            {"6 oz 12 lb", "units that cannot follow one another at character 11"},
            {"12 lb 6 lb", "units that cannot follow one another at character 11"},
            {"5 kg 300 g", "units that cannot follow one another at character 11"},
            {"12 lb 300 g", "units that cannot follow one another at character 12"},
            {"12 lb 16 oz", "more than one of the larger unit at character 12"},
            {"1/0 lb", "no whole number above zero below the stroke of a fraction at character 4"},
            {"1/ lb", "no whole number below the stroke of a fraction at character 3"},
            {"1/2.5 lb", "no whole number above zero below the stroke of a fraction at character 6"},
            {"1 5/4 lb", "a fraction of one or more after a whole number at character 6"},
            {"1 4/4 lb", "a fraction of one or more after a whole number at character 6"},
            {"1 1.5/4 lb", "no such unit at character 3"},
            {"1.5 1/4 lb", "no such unit at character 5"},
            {"1.5¼ lb", "no such unit at character 4"},
            {"¼¼ lb", "no such unit at character 2"},
            {"¾ ¾ lb", "no such unit at character 3"},
            {"1 ¾ x", "no such unit at character 5"},
            {digits(400) + " kg", "a number that is out of range at character 1"},
            {"5 kg\n", "no number at character 5"},
            {std::string("5\0 kg", 5), "no such unit at character 2"},
        },
        "a mass such as 5.6 kg, 340 g or 12 lb 6 oz");
}

TEST_CASE("a length, a time, a density or a share that is none is refused") {
    check_refusals<length>(
        {
            {"1 ft 12 in", "more than one of the larger unit at character 11"},
            {"1 in 1 ft", "units that cannot follow one another at character 10"},
            {"5 cm 3 mm", "units that cannot follow one another at character 10"},
            {"¾", "no such unit at character 2"},
            {"1 1/4", "no such unit at character 6"},
        },
        "a length such as 32 mm, 41.5 cm, 1 1/4 in or ¾ in");
    check_refusals<duration>(
        {
            {"1 h 60 min", "more than one of the larger unit at character 11"},
            {"20 min 1 h", "units that cannot follow one another at character 11"},
            {"1:20 h", "no such unit at character 2"},
            // 10^308 hours are a double, the seconds in them are not.
            {digits(309) + " h", "a number that is out of range at character 312"},
        },
        "a time such as 20 min or 1 h 20 min");
    check_refusals<density>(
        {
            {"1060 kg", "no such unit at character 6"},
            {"1 g/cm3 1 g/cm3", "units that cannot follow one another at character 16"},
            {digits(309) + " g/cm3", "a number that is out of range at character 316"},
        },
        "a density such as 1060 kg/m3 or 1.06 g/cm3");
    check_refusals<fraction>(
        {
            {"", "no number at character 1"},
            {"30 % fat", "cannot read \"fat\" at character 6"},
            {"30 %%", "cannot read \"%\" at character 5"},
            {"0.3 kg", "cannot read \"kg\" at character 5"},
            {"0,3", "a comma; write a decimal point, at character 2"},
        },
        "a share such as 30 % or 0.3");
}

TEST_CASE("money that is none is refused") {
    check_refusals<unit_price<usd>>(
        {
            {"7.90", "no USD at character 5"},
            {"7.90 EUR/lb", "no USD at character 6"},
            {"€7.90/lb", "a sign that does not stand for USD at character 1"},
            {"7.90 £/lb", "a sign that does not stand for USD at character 6"},
            {"$ USD 7.90/lb", "no number at character 3"},
            {"7.90 USD", "no stroke at character 9"},
            {"7.90 USD/", "no such unit at character 10"},
            {"7.90 USD/in", "no such unit at character 10"},
            {"7.90 USD/0 g", "nothing to divide by at character 11"},
            {"7.90 USD/lb 3", "cannot read \"3\" at character 13"},
            {"7. USD/lb", "no digit behind the decimal point at character 3"},
            {digits(309) + " USD/g", "a number that is out of range at character 316"},
        },
        "a price such as 7.90 USD/lb or /kg");
    check_refusals<amount<usd>>(
        {
            {"", "no number at character 1"},
            {"7.905 USD", "a part of a minor unit at character 5"},
            {"7. USD", "no digit behind the decimal point at character 3"},
            {".90 USD", "no number at character 1"},
            {"7 1/2 USD", "no USD at character 3"},
            {"7,90 USD", "no USD at character 2"},
            {"7.90 USDX", "cannot read \"X\" at character 9"},
            {"7.90 USD 1", "cannot read \"1\" at character 10"},
            {digits(20) + " USD", "an amount beyond 64 bits at character 21"},
        },
        "an amount such as 7.90 USD");
    check_refusals<amount<jpy>>({{"7.5 JPY", "a part of a minor unit at character 3"}}, "an amount such as 790 JPY");
    check_refusals<amount<bhd>>({{"7.9055 BHD", "a part of a minor unit at character 6"}},
                                "an amount such as 7.900 BHD");
    check_refusals<money<eur>>(
        {{"7.90 USD", "no EUR at character 6"}, {"7.90 EUR/kg", "cannot read \"/kg\" at character 9"}},
        "money such as 7.90 EUR");
    check_refusals<wage<usd>>({{"18 USD/kg", "no such unit at character 8"}, {"18 USD", "no stroke at character 7"}},
                              "a wage such as 7.90 USD/h");
}

TEST_CASE("the field has a name when none is given") {
    CHECK_THROWS_WITH(from_text<mass>("x"), StartsWith("quantity: got \"x\", expected a mass such as"));
}

} // namespace from_text_test
