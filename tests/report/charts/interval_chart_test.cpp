// Charts of values with intervals read back: a mark of its own shape for each value, lines from low to high.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/interval_chart.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "report/charts/chart_checks.hpp"
#include "support/catch.hpp"

namespace interval_chart_test {

using namespace tranche;
using namespace tranche_test;
using chart_checks::checked;

TEST_CASE("intervals: values stand in their intervals, on an axis that has zero") {
    const interval_chart chart{
        "",
        {"share of the variance"},
        {"first-order", "total"},
        {{"cover", {{0.3, chart_band{0.2, 0.5}}, {0.4, {}}}}, {"price", {{0.5, {}}, {0.6, {}}}}}};
    const auto elements = checked(interval_chart_svg(chart));
    const double zero = of_kind(elements, "zero").at(0).number("x1");
    const auto interval = of_kind(elements, "interval");
    REQUIRE(interval.size() == 1);
    const double tenth = (interval[0].number("x2") - interval[0].number("x1")) / 3.0;
    CHECK_THAT(interval[0].number("x1") - zero, WithinAbs(2.0 * tenth, 1e-2));
    const auto discs = of_kind(elements, "value");
    REQUIRE(discs.size() == 6); // two rows of two, and the key
    CHECK_THAT(discs[0].number("cx") - zero, WithinAbs(3.0 * tenth, 1e-2));
    CHECK(discs[0].name == "circle");
    CHECK(discs[1].name == "rect");
    CHECK(chart_checks::description_of(elements) ==
          "share of the variance. cover: first-order 0.3 (0.2 to 0.5), total 0.4. price: first-order 0.5, total 0.6.");
}

TEST_CASE("intervals: labels lie apart and inside from no rows to forty, of any size") {
    for (const std::size_t rows : {0U, 1U, 3U, 40U})
        for (const double size : {0.0, 1.0, -2e-9, 4e17}) {
            CAPTURE(rows, size);
            interval_chart chart{"Values",
                                 {"value", "g"},
                                 {"a name that is a good deal longer than most of them are",
                                  "another name that is a good deal longer than most", "c", "d"},
                                 {}};
            for (std::size_t i = 0; i < rows; ++i) {
                const double v = size * std::sin(static_cast<double>(i + 1));
                chart.rows.push_back({"row " + std::to_string(i),
                                      {{v, chart_band{v - 0.1 * std::abs(size), v + 0.1 * std::abs(size)}},
                                       {v, {}},
                                       {-v, {}},
                                       {0.0, {}}}});
            }
            CHECK(of_kind(checked(interval_chart_svg(chart)), "nothing").size() == (rows == 0 ? 1 : 0));
        }
}

TEST_CASE("intervals: what is wrong is refused by its name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto field_of = [](const interval_chart& chart) {
        try {
            (void)interval_chart_svg(chart);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    CHECK(field_of({"", {}, {}, {}}) == "names");
    CHECK(field_of({"", {}, {"a"}, std::vector<interval_row>(41)}) == "rows");
    CHECK(field_of({"", {}, {"a"}, {{"r", {}}}}) == "rows[0].values");
    CHECK(field_of({"", {}, {"a"}, {{"r", {{nan, {}}}}}}) == "rows[0].values[0].value");
    CHECK(field_of({"", {}, {"a"}, {{"r", {{0.0, chart_band{1.0, 0.0}}}}}}) == "rows[0].values[0].interval.high");
}

} // namespace interval_chart_test
