// Scales of charts: where values stand, round marks, powers of ten.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/detail/chart_scale.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace chart_scale_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

detail::chart_scale<> scale_of(const chart_axis& axis, const std::vector<double>& values, double room = 0.0) {
    detail::chart_scale<> scale(axis, values, room);
    scale.stand(0.0, 800.0);
    return scale;
}

} // namespace

TEST_CASE("chart_scale: the least value stands at one end and the greatest at the other") {
    const auto scale = scale_of({"weight", "g"}, {350.0, 420.0, 390.0});
    CHECK_THAT(scale.at(350.0), WithinAbs(0.0, 1e-9));
    CHECK_THAT(scale.at(420.0), WithinAbs(800.0, 1e-9));
    CHECK_THAT(scale.at(385.0), WithinAbs(400.0, 1e-9));
    CHECK(scale.at(500.0) == scale.at(420.0)); // beyond the end stands at the end
    CHECK(scale.title() == "weight, g");
    CHECK(scale.in_words(387.5) == "387.5 g");
}

TEST_CASE("chart_scale: room at the ends does not lead across zero") {
    const auto scale = scale_of({}, {0.0, 10.0}, 0.1);
    CHECK_THAT(scale.at(0.0), WithinAbs(0.0, 1e-9));
    const auto below = scale_of({}, {-10.0, -0.1}, 0.1);
    CHECK_THAT(below.at(0.0), WithinAbs(800.0, 1e-9));
}

TEST_CASE("chart_scale: huge and tiny numbers are read in powers of ten, which the title says") {
    CHECK(scale_of({"weight", "g"}, {1.5e7, 3e7}).title() == "weight, 10⁶ g");
    CHECK(scale_of({"weight", ""}, {1.5e-7, 3e-7}).title() == "weight, 10⁻⁹");
    CHECK(scale_of({"weight", "g"}, {1.5e7, 3e7}).figure(2.5e7) == "25");
    CHECK(scale_of({"weight", "g"}, {1.5e7, 3e7}).in_words(2.5e7) == "25 × 10⁶ g");
    CHECK(scale_of({"", "g"}, {1.0, 2.0}).title() == "g");
    CHECK(scale_of({"number", ""}, {1.0, 2.0}).title() == "number");
}

TEST_CASE("chart_scale: marks are finite, rising, told apart and of at most a dozen letters at any size") {
    for (const double size : {1e-320, 1e-300, 3e-12, 0.001, 0.02, 1.0, 750.0, 1e6, 2e9, 1e300, 1.7e308})
        for (const double from : {0.0, 0.1, -0.7, -1.0}) {
            const double low = from * size, high = std::max(from, from + 0.9) * size;
            const auto scale = scale_of({"x", "m"}, {low, high}, 0.05);
            for (const bool upright : {false, true}) {
                const auto marks = scale.marks(13.0, upright);
                CAPTURE(size, from, upright);
                REQUIRE(marks.size() >= 2);
                for (std::size_t i = 0; i < marks.size(); ++i) {
                    CHECK(std::isfinite(marks[i].at));
                    CHECK(marks[i].text.size() <= 12);
                    if (i > 0) {
                        CHECK(marks[i].at > marks[i - 1].at);
                        CHECK(marks[i].text != marks[i - 1].text);
                    }
                }
            }
        }
}

TEST_CASE("chart_scale: values that are all alike get an axis around them") {
    for (const double value : {0.0, 3.0, -3.0, 1e-300, 1e300, 123456789.0}) {
        const auto scale = scale_of({"x", ""}, {value, value, value}, 0.05);
        CAPTURE(value);
        CHECK_THAT(scale.at(value), WithinAbs(400.0, 1e-6));
        CHECK(scale.marks(13.0, false).size() >= 3);
    }
    // What differs in the tenth digit only is alike too.
    CHECK_THAT(scale_of({}, {1e9, 1e9 + 0.1}).at(1e9), WithinAbs(400.0, 0.1));
    CHECK(scale_of({}, {}).marks(13.0, false).size() >= 3);
}

TEST_CASE("chart_scale: equal factors are equal distances on a logarithmic axis") {
    const auto scale = scale_of({"n", "", true}, {1.0, 1e4});
    CHECK_THAT(scale.at(10.0), WithinAbs(200.0, 1e-9));
    CHECK_THAT(scale.at(1000.0), WithinAbs(600.0, 1e-9));
    const auto marks = scale.marks(13.0, false);
    REQUIRE(marks.size() == 5);
    CHECK(marks[0].text == "1");
    CHECK(marks[4].text == "10000");
    CHECK(scale_of({"n", "", true}, {1.0, 1e9}).marks(13.0, false).back().text == "10⁹");
    CHECK(scale_of({"n", "", true}, {1e-9, 1e-3}).marks(13.0, false).front().text == "10⁻⁹");
}

TEST_CASE("chart_scale: a logarithmic axis of any length has marks") {
    for (const double factor : {1.0 + 1e-12, 1.01, 1.3, 2.0, 5.0, 30.0, 1e3, 1e12, 1e200})
        for (const double low : {1e-100, 3e-5, 0.7, 1.0, 4000.0, 1e9}) {
            const auto marks = scale_of({"n", "", true}, {low, low * factor}, 0.02).marks(13.0, false);
            CAPTURE(low, factor);
            CHECK(marks.size() >= 2);
            for (std::size_t i = 1; i < marks.size(); ++i) {
                CHECK(marks[i].at > marks[i - 1].at);
                CHECK(marks[i].text != marks[i - 1].text);
            }
        }
}

TEST_CASE("in_unit: quantities are numbers of the unit") {
    const std::vector<double> inches = in_unit(std::vector<length>{1_in, 25.4_mm, 50.8_mm}, inch);
    REQUIRE(inches.size() == 3);
    CHECK_THAT(inches[0], WithinRel(1.0, 1e-15));
    CHECK_THAT(inches[2], WithinRel(2.0, 1e-15));
    CHECK(in_unit(std::vector<mass>{}, gram).empty());
}

TEST_CASE("decimal_text: never minus zero, never an exponent") {
    CHECK(detail::decimal_text(-0.0001, 2, true) == "0.00");
    CHECK(detail::decimal_text(-0.5, 2, false) == "-0.5");
    CHECK(detail::decimal_text(1e20, 0, true) == "100000000000000000000");
    CHECK(detail::power_text(-12) == "10⁻¹²");
}

} // namespace chart_scale_test
