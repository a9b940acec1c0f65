// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/formats/kitchen_units.hpp>

#include <random>
#include <string>
#include <vector>

#include <tranche/text/from_text.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace kitchen_units_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a number without its unit is what stands in front of the unit") {
    CHECK(detail::number_of(12.25_oz, us_kitchen.portion) == "12 1/4");
    CHECK(detail::number_of(340.2_g, metric_kitchen.portion) == "340");
    CHECK(detail::number_of(5.398_kg, metric_kitchen.bulk) == "5.398");
    CHECK(detail::number_of(1.25_in, us_kitchen.thickness) == "1 1/4");
    CHECK(detail::number_of(32.0_mm, metric_kitchen.along) == "32");
    // Pounds and ounces write two units, so they keep them.
    CHECK(detail::number_of(12.375_lb, us_kitchen.bulk) == "12 lb 6 oz");
}

TEST_CASE("each division names its unit and its smallest step") {
    CHECK(std::string(detail::unit_name(us_kitchen.portion)) == "oz");
    CHECK(std::string(detail::unit_name(us_kitchen.bulk)).empty());
    CHECK(std::string(detail::unit_name(hundredths_of_pound)) == "lb");
    CHECK(std::string(detail::unit_name(metric_kitchen.bulk)) == "kg");
    CHECK(std::string(detail::unit_name(tenths_of_centimetre)) == "cm");
    CHECK(detail::smallest_step(us_kitchen.portion) == "1/4 oz");
    CHECK(detail::smallest_step(us_kitchen.bulk) == "1/4 oz");
    CHECK(detail::smallest_step(us_kitchen.along) == "1/16 in");
    CHECK(detail::smallest_step(metric_kitchen.bulk) == "0.001 kg");
    CHECK(detail::smallest_step(metric_kitchen.thickness) == "1 mm");
}

TEST_CASE("a sentence is written in the units of the kitchen, finer where that would be far off") {
    const sentence words = sentence("between ") + 25.4_mm + " and " + written_quantity<length>{0.4_mm} + ", " +
                           detail::rounded_up(100.1_g) + " or " + detail::rounded_down(100.1_g);
    CHECK(words.text() == "between 25.4 mm and 0.4 mm, 100.1 g or 100.1 g");
    CHECK(in_units(words, metric_kitchen) == "between 25 mm and 0.4 mm, 101 g or 100 g");
    // 0.4 mm are 1.008 / 64 in; 100.1 g are 3.531 oz.
    CHECK(in_units(words, us_kitchen) == "between 1 in and 1/64 in, 3 9/16 oz or 3 1/2 oz");
    // What is to be allowed is enough as it is written, and a whole step is not rounded to the next one.
    CHECK(in_units(sentence(detail::rounded_up(3.0_oz)) + detail::rounded_down(3.0_oz), us_kitchen) == "3 oz3 oz");
    CHECK(in_units(unlimited<mass>(), us_kitchen) == "inf oz");
    CHECK(in_units(unlimited<length>(), us_kitchen) == "inf in");
    CHECK(in_units(unlimited<mass>(), metric_kitchen) == "inf g");
    CHECK(in_units(sentence(), us_kitchen).empty());
}

TEST_CASE("quantities of a sentence that differ are written differently") {
    // What is refused is not shown as what is allowed.
    const sentence above = sentence("weighs ") + 4.02_oz + ", above the " + 4.0_oz + " allowed";
    CHECK(in_units(above, us_kitchen) == "weighs 4 1/64 oz, above the 4 oz allowed");
    CHECK(in_units(sentence(300.4_g) + " and " + 300.0_g, metric_kitchen) == "300.4 g and 300.0 g");
    CHECK(in_units(sentence(25.4_mm) + ", " + 25.0_mm + ", " + 30.0_mm, metric_kitchen) == "25.4 mm, 25.0 mm, 30 mm");
    CHECK(in_units(sentence(300.0_g) + " and " + 300.0_g, metric_kitchen) == "300 g and 300 g");
    CHECK(in_units(sentence(300.4_g) + " and " + unlimited<mass>(), metric_kitchen) == "300 g and inf g");
    // Three times finer at most: from 1/1024 in and 1/256 oz, or 1/1000 of a millimetre and a gram, they can be told apart.
    std::mt19937 random(43);
    const auto share = [&] { return static_cast<double>(random()) / 4294967296.0; };
    for (int i = 0; i < 3000; ++i) {
        const kitchen_units& units = i % 2 == 0 ? us_kitchen : metric_kitchen;
        const length l = (1.0 + 99.0 * share()) * 1_mm, longer = l + (0.026 + share()) * 1_mm;
        const mass m = (1.0 + 999.0 * share()) * 1_g, heavier = m + (0.12 + 10.0 * share()) * 1_g;
        const std::string text = in_units(sentence(l) + "|" + longer + "|" + m + "|" + heavier, units);
        CAPTURE(text);
        std::vector<std::string> parts(1);
        for (const char c : text) c == '|' ? parts.emplace_back() : parts.back() += c;
        REQUIRE(parts.size() == 4);
        CHECK(from_text<length>(parts[0]) < from_text<length>(parts[1]));
        CHECK(from_text<mass>(parts[2]) < from_text<mass>(parts[3]));
    }
}

} // namespace kitchen_units_test
