// Tornado charts read back: the longest on top, bars from what is expected, both ends named.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/tornado.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "report/charts/chart_checks.hpp"
#include "support/catch.hpp"

namespace tornado_test {

using namespace tranche;
using namespace tranche_test;
using chart_checks::checked;

TEST_CASE("tornado: what moves the result most stands on top, ties in their order") {
    const tornado_chart chart{
        "",
        {"cost", "USD"},
        7.0,
        {{"small", 6.9, 7.2, "a", "b"}, {"large", 8.0, 6.0, "c", "d"}, {"as small", 7.2, 6.9, "", ""}}};
    const auto elements = checked(tornado_svg(chart));
    const auto names = of_kind(elements, "input");
    REQUIRE(names.size() == 3);
    CHECK(names[0].text == "large");
    CHECK(names[1].text == "small");
    CHECK(names[2].text == "as small");
    // From what is expected: of "large" the low lies right and the high left, as long.
    const double base = of_kind(elements, "base").at(0).number("x1");
    const xml_element low = of_kind(elements, "at-low").at(0), high = of_kind(elements, "at-high").at(0);
    CHECK_THAT(low.number("x"), WithinAbs(base, 1e-3));
    CHECK_THAT(high.number("x") + high.number("width"), WithinAbs(base, 1e-3));
    CHECK_THAT(low.number("width"), WithinAbs(high.number("width"), 1e-3));
    const auto ends = of_kind(elements, "end");
    CHECK(ends.at(0).text == "d"); // left
    CHECK(ends.at(1).text == "c");
    CHECK_THAT(chart_checks::description_of(elements),
               StartsWith("cost, USD: 7 USD as expected. large: 8 USD with c, 6 USD with d."));
}

TEST_CASE("tornado: with both ends on one side the shorter bar is drawn over the longer") {
    const tornado_chart chart{"", {}, 0.0, {{"both", 1.0, 3.0, "", ""}, {"turned", 2.0, 1.0, "", ""}}};
    const auto elements = checked(tornado_svg(chart));
    std::vector<double> widths;
    for (const auto& e : elements)
        if (e.name == "rect" && (e.kind() == "at-low" || e.kind() == "at-high")) widths.push_back(e.number("width"));
    REQUIRE(widths.size() == 4);
    CHECK(widths[0] > widths[1]);
    CHECK(widths[2] > widths[3]);
}

TEST_CASE("tornado: labels lie apart and inside from no inputs to ten thousand, of any size") {
    for (const std::size_t count : {0U, 1U, 3U, 20U, 10000U})
        for (const double size : {0.0, 1.0, 3e-11, 5e200}) {
            CAPTURE(count, size);
            tornado_chart chart{
                "What moves the cost of a portion most, by each of very many inputs", {"cost", "USD"}, size, {}};
            for (std::size_t i = 0; i < count; ++i) {
                const double reach = 0.1 * size * std::sin(static_cast<double>(i));
                chart.bars.push_back(
                    {"input " + std::to_string(i) +
                         (i % 3 == 0 ? " with a name that is a good deal longer than there is room" : ""),
                     size - reach, size + 0.5 * reach, i % 2 == 0 ? "a low with many words" : "l", "high"});
            }
            const auto elements = checked(tornado_svg(chart));
            CHECK(of_kind(elements, "input").size() == std::min<std::size_t>(count, 20));
            CHECK(of_kind(elements, "rest").size() == (count > 20 ? 1 : 0));
            CHECK(of_kind(elements, "nothing").size() == (count == 0 ? 1 : 0));
        }
}

TEST_CASE("tornado: what is no number is refused by its name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto field_of = [](const tornado_chart& chart) {
        try {
            (void)tornado_svg(chart);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    CHECK(field_of({"", {}, nan, {}}) == "base");
    CHECK(field_of({"", {}, 0.0, {{"a", 0.0, 1.0, "", ""}, {"b", nan, 1.0, "", ""}}}) == "bars[1].at_low");
    CHECK(field_of({"", {}, 0.0, {{"a", 0.0, nan, "", ""}}}) == "bars[0].at_high");
}

} // namespace tornado_test
