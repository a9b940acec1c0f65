// Laws of text in and out: what is written is read back, and a text with a character missing is refused or means what
// it says.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include <tranche/text/from_text.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/literals.hpp>

namespace from_text_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A number from -1 to 1 of any magnitude, and now and then exactly zero.
double some_number(std::mt19937_64& random) {
    const double size = static_cast<double>(random() >> (11 + random() % 40)) / 9007199254740992.0; // 2^53
    return random() % 2 == 0 ? size : -size;
}

/// Writes and reads back many values of up to `most`: the text names the nearest division, and reading it gives that.
template <class Quantity, class Division>
void check_round_trip(Division how, Quantity one, Quantity most) {
    std::mt19937_64 random(31);
    const Quantity division = one / static_cast<double>(how.parts);
    for (int i = 0; i < 2000; ++i) {
        const Quantity value = some_number(random) * most;
        const std::string text = to_text(value, how);
        CAPTURE(text);
        const Quantity back = from_text<Quantity>(text);
        // Half a division, and for the roundings of at most ten operations ten units in the last place of the value.
        const double allowed = 0.5 * division.value() + 10 * 1.2e-16 * std::abs(value.value());
        REQUIRE(std::abs((back - value).value()) <= allowed);
        REQUIRE(to_text(back, how) == text);
    }
}

/// What is left of `text` without one character, and reads as a `Quantity` all the same: the value in SI units.
template <class Quantity>
std::map<std::string, double> readable_without_one_character(const std::string& text) {
    std::map<std::string, double> readable;
    for (std::size_t i = 0; i < text.size(); ++i) {
        std::string shorter = text;
        shorter.erase(i, 1);
        try {
            const auto value = from_text<Quantity>(shorter);
            if constexpr (std::is_same_v<Quantity, fraction>)
                readable[shorter] = value;
            else
                readable[shorter] = value.value();
        } catch (const invalid_input& e) {
            REQUIRE(e.value() == '"' + shorter + '"');
            REQUIRE_THAT(e.expected(), ContainsSubstring(" at character "));
        }
    }
    return readable;
}

/// Compares texts exactly, values to one part in 10^15 (a handful of roundings).
void check_same(const std::map<std::string, double>& read, const std::map<std::string, double>& expected) {
    for (const auto& [text, value] : read) {
        CAPTURE(text);
        REQUIRE(expected.count(text) == 1);
        CHECK_THAT(value, WithinRel(expected.at(text), 1e-15));
    }
    CHECK(read.size() == expected.size());
}

} // namespace

TEST_CASE("a weight written in any division is read back to it") {
    check_round_trip(whole_grams, gram, 20_kg);
    check_round_trip(whole_ounces, ounce, 40_lb);
    check_round_trip(quarter_ounces, ounce, 40_lb);
    check_round_trip(pounds_and_whole_ounces, ounce, 40_lb);
    check_round_trip(pounds_and_quarter_ounces, ounce, 40_lb);
    check_round_trip(hundredths_of_pound, pound, 40_lb);
    check_round_trip(thousandths_of_kilogram, kilogram, 20_kg);
    check_round_trip(mass_division{mass_division::unit::ounces, 3}, ounce, 40_lb);
    check_round_trip(mass_division{mass_division::unit::pounds_and_ounces, 10}, ounce, 40_lb);
    check_round_trip(mass_division{mass_division::unit::kilograms, 7}, kilogram, 20_kg);
    check_round_trip(thousandths_of_kilogram, kilogram, 1e9_kg);
}

TEST_CASE("a length written in any division is read back to it") {
    check_round_trip(whole_millimetres, millimetre, 1_m);
    check_round_trip(tenths_of_millimetre, millimetre, 1_m);
    check_round_trip(tenths_of_centimetre, centimetre, 1_m);
    check_round_trip(sixteenths_of_inch, inch, 40_in);
    check_round_trip(quarters_of_inch, inch, 40_in);
    check_round_trip(length_division{length_division::unit::metres, 1000}, metre, 1_m);
    check_round_trip(length_division{length_division::unit::inches, 12}, inch, 40_in);
}

TEST_CASE("what is written is read back at any size, or too large to be written") {
    // 10^15 divisions: `to_text` gives why.
    std::mt19937_64 random(37);
    std::uniform_real_distribution<double> magnitude(-2.0, 15.5);
    const auto check = [&](auto how, auto one) {
        using quantity = decltype(one);
        const quantity division = one / static_cast<double>(how.parts);
        for (int i = 0; i < 1500; ++i) {
            const double size = i % 4 == 0 ? 999'999'999'999'999.0 - static_cast<double>(random() % 1000)
                                           : std::pow(10.0, magnitude(random));
            const quantity value = (random() % 2 == 0 ? size : -size) * division;
            std::string text;
            try {
                text = to_text(value, how);
            } catch (const invalid_input& error) {
                REQUIRE(error.expected() == "a finite value of at most 15 digits");
                REQUIRE(size >= 999'999'999'999'999.0); // and half a step of rounding
                continue;
            }
            CAPTURE(text);
            REQUIRE(size < 1e15);
            REQUIRE(to_text(from_text<quantity>(text), how) == text);
        }
    };
    for (const int parts : {1, 4, 7, 10, 16, 55, 100, 1000, 1'000'000}) {
        using unit = mass_division::unit;
        for (const unit in : {unit::grams, unit::kilograms, unit::ounces, unit::pounds, unit::pounds_and_ounces})
            check(mass_division{in, parts}, in == unit::grams       ? gram
                                            : in == unit::kilograms ? kilogram
                                            : in == unit::pounds    ? pound
                                                                    : ounce);
        using along = length_division::unit;
        for (const auto& [in, one] :
             {std::pair{along::millimetres, millimetre}, std::pair{along::centimetres, centimetre},
              std::pair{along::metres, metre}, std::pair{along::inches, inch}})
            check(length_division{in, parts}, one);
    }
    const auto price_of = [](double size) { return size * (money<usd>::from_value(0.01) / kilogram); };
    for (int i = 0; i < 3000; ++i) {
        const double size = std::pow(10.0, magnitude(random));
        if (!(size < 9e11)) continue; // so that every basis, and a hundred times the share, have 15 digits at most
        for (const price_basis basis :
             {price_basis::per_kilogram, price_basis::per_pound, price_basis::per_ounce, price_basis::per_100_grams}) {
            const std::string text = to_text(price_of(1000.0 * size), basis);
            REQUIRE(to_text(from_text<unit_price<usd>>(text), basis) == text);
        }
        const std::string share = percent_text(size, 1);
        REQUIRE(percent_text(from_text<fraction>(share), 1) == share);
    }
}

TEST_CASE("a time written to the minute is read back to it") {
    std::mt19937_64 random(32);
    for (int i = 0; i < 2000; ++i) {
        const duration value = some_number(random) * 100_h;
        const std::string text = to_text(value);
        CAPTURE(text);
        const auto back = from_text<duration>(text);
        REQUIRE(std::abs((back - value).value()) <= 30.0 + 1e-9); // half a minute, and roundings of 360 000 s
        REQUIRE(to_text(back) == text);
    }
}

TEMPLATE_TEST_CASE("every amount, price and wage is read back as it was written", "", usd, eur, gbp, cad, aud, jpy,
                   bhd) {
    std::mt19937_64 random(33);
    for (int i = 0; i < 5000; ++i) {
        const auto size = static_cast<std::int64_t>(random() >> (1 + random() % 63));
        const amount<TestType> sum{random() % 2 == 0 ? size : -size};
        REQUIRE(from_text<amount<TestType>>(to_text(sum)) == sum);
    }
    const auto one = money<TestType>::from_value(1.0);
    for (int i = 0; i < 1000; ++i) {
        const auto price = std::abs(some_number(random)) * 500.0 * (one / 1_kg);
        for (const price_basis basis :
             {price_basis::per_kilogram, price_basis::per_pound, price_basis::per_ounce, price_basis::per_100_grams}) {
            const std::string text = to_text(price, basis, 2);
            CAPTURE(text);
            REQUIRE(to_text(from_text<unit_price<TestType>>(text), basis, 2) == text);
        }
        const std::string pay = to_text(std::abs(some_number(random)) * 90.0 * (one / 1_h), 1);
        REQUIRE(to_text(from_text<wage<TestType>>(pay), 1) == pay);
    }
}

TEST_CASE("a share is read back as it was written") {
    std::mt19937_64 random(34);
    for (int i = 0; i < 2000; ++i) {
        const std::string share = percent_text(some_number(random), 2);
        REQUIRE(percent_text(from_text<fraction>(share), 2) == share);
    }
}

TEST_CASE("a text with a character missing is refused or means what it says") {
    check_same(readable_without_one_character<mass>("12 lb 6 oz"), {{"2 lb 6 oz", 2.375 * 0.45359237},
                                                                    {"1 lb 6 oz", 1.375 * 0.45359237},
                                                                    {"12lb 6 oz", 12.375 * 0.45359237},
                                                                    {"12 lb 6oz", 12.375 * 0.45359237}});
    check_same(readable_without_one_character<mass>("5.6 kg"),
               {{".6 kg", 0.6}, {"56 kg", 56.0}, {"5.6kg", 5.6}, {"5.6 g", 0.0056}});
    check_same(readable_without_one_character<length>("1 1/4 in"),
               {{" 1/4 in", 0.25 * 0.0254}, {"11/4 in", 2.75 * 0.0254}, {"1 1/4in", 1.25 * 0.0254}});
    check_same(readable_without_one_character<length>("1-1/4 in"),
               {{"-1/4 in", -0.25 * 0.0254}, {"11/4 in", 2.75 * 0.0254}, {"1-1/4in", 1.25 * 0.0254}});
    check_same(readable_without_one_character<length>("¾ in"), {{"¾in", 0.75 * 0.0254}}); // half a sign is no sign
    check_same(readable_without_one_character<length>("19 mm"),
               {{"9 mm", 0.009}, {"1 mm", 0.001}, {"19mm", 0.019}, {"19 m", 19.0}});
    check_same(readable_without_one_character<duration>("1 h 20 min"),
               {{"1h 20 min", 4800.0}, {"1 h 0 min", 3600.0}, {"1 h 2 min", 3720.0}, {"1 h 20min", 4800.0}});
    check_same(readable_without_one_character<density>("1.06 g/cm3"), {{".06 g/cm3", 60.0},
                                                                       {"106 g/cm3", 106000.0},
                                                                       {"1.6 g/cm3", 1600.0},
                                                                       {"1.0 g/cm3", 1000.0},
                                                                       {"1.06g/cm3", 1060.0}});
    check_same(readable_without_one_character<unit_price<usd>>("7.90 USD/lb"), {{".90 USD/lb", 0.9 / 0.45359237},
                                                                                {"790 USD/lb", 790.0 / 0.45359237},
                                                                                {"7.0 USD/lb", 7.0 / 0.45359237},
                                                                                {"7.9 USD/lb", 7.9 / 0.45359237},
                                                                                {"7.90USD/lb", 7.9 / 0.45359237}});
    check_same(readable_without_one_character<fraction>("30 %"),
               {{"0 %", 0.0}, {"3 %", 0.03}, {"30%", 0.3}, {"30 ", 30.0}});
}

TEST_CASE("any text of the right characters is read or refused in words") {
    std::mt19937 random(35);
    const std::vector<std::string> pieces{"1",  "2",  "0", "/",  " ", ".",  "-", "+", "lb",  "oz",  "kg",
                                          "in", "mm", "¾", "ft", ",", "\"", "%", "e", "USD", "/lb", "g"};
    const auto try_reading = [](auto read) {
        try {
            return std::isfinite(read());
        } catch (const invalid_input&) {
            return true;
        }
    };
    for (int i = 0; i < 20000; ++i) {
        std::string text;
        for (auto n = random() % 9; n > 0; --n) text += pieces[random() % pieces.size()];
        CAPTURE(text);
        REQUIRE(try_reading([&] { return from_text<mass>(text).value(); }));
        REQUIRE(try_reading([&] { return from_text<length>(text).value(); }));
        REQUIRE(try_reading([&] { return from_text<unit_price<usd>>(text).value(); }));
        REQUIRE(try_reading([&] { return from_text<fraction>(text); }));
    }
}

} // namespace from_text_laws
