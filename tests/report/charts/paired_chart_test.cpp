// Charts of paired differences read back: in rising order, crossing zero where the shares say.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/paired_chart.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "report/charts/chart_checks.hpp"
#include "support/catch.hpp"

namespace paired_chart_test {

using namespace tranche;
using namespace tranche_test;
using chart_checks::checked;

TEST_CASE("paired differences: the areas part where the share of pairs says") {
    const paired_chart chart{"", {"saved", "g"}, "steady", "shaky", {4.0, -2.0, 0.0, 1.0, 3.0}, chart_band{0.5, 2.0}};
    const auto elements = checked(paired_chart_svg(chart));
    const auto frame = of_kind(elements, "frame").at(0);
    const auto more = chart_checks::points_of(of_kind(elements, "first-more").at(0)),
               less = chart_checks::points_of(of_kind(elements, "second-more").at(0));
    const double fifth = frame.number("width") / 5.0;
    // -2 in the first fifth, 0 in the second, then 1, 3 and 4.
    CHECK_THAT(less.back().x, WithinAbs(frame.number("x") + fifth, 0.02));
    CHECK_THAT(more.front().x, WithinAbs(frame.number("x") + 2.0 * fifth, 0.02));
    const double zero = of_kind(elements, "zero").at(0).number("y1"), one = zero - more[1].y;
    CHECK_THAT(zero - more[3].y, WithinAbs(3.0 * one, 0.05));
    CHECK_THAT(less[1].y - zero, WithinAbs(2.0 * one, 0.05));
    CHECK_THAT(zero - of_kind(elements, "mean").at(0).number("y1"), WithinAbs(1.2 * one, 0.05));
    CHECK_THAT(of_kind(elements, "mean-interval").at(0).number("height"), WithinAbs(1.5 * one, 0.05));
    CHECK(chart_checks::description_of(elements) ==
          "saved, g, steady less shaky. 5 pairs, mean 1.2 g (0.5 g to 2 g), from -2 g to 4 g. steady has more in 60 % "
          "of them, shaky in 20 %.");
}

TEST_CASE("paired differences: labels lie apart and inside from no pairs to ten thousand, of any size") {
    for (const std::size_t count : {0U, 1U, 3U, 10000U})
        for (const double size : {0.0, 1.0, -1.0, 2e-9, 3e20, 1e299})
            for (const bool named : {false, true}) {
                CAPTURE(count, size, named);
                paired_chart chart{"Differences", {"saved", "g"}, "a", "b", {}, {}};
                if (named) {
                    chart.first = "cutting by a plan of its own for each loin, with a steady hand";
                    chart.second = "cutting all loins alike, by the plan of the one that is typical";
                    chart.mean_interval = chart_band{-std::abs(size), std::abs(size)};
                }
                for (std::size_t i = 0; i < count; ++i)
                    chart.differences.push_back(size * (0.3 + std::sin(static_cast<double>(i * i))));
                const std::string svg = paired_chart_svg(chart);
                CHECK(svg.size() < 200'000);
                CHECK(of_kind(checked(svg), "nothing").size() == (count == 0 ? 1 : 0));
            }
}

TEST_CASE("paired differences: what is no number is refused by its name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto field_of = [](const paired_chart& chart) {
        try {
            (void)paired_chart_svg(chart);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    paired_chart chart{"", {}, "a", "b", {1.0, nan}, {}};
    CHECK(field_of(chart) == "differences[1]");
    chart.differences = {1.0};
    chart.mean_interval = chart_band{nan, 1.0};
    CHECK(field_of(chart) == "mean_interval.low");
    chart.mean_interval = chart_band{2.0, 1.0};
    CHECK(field_of(chart) == "mean_interval.high");
    chart.mean_interval.reset();
    chart.difference.logarithmic = true;
    CHECK(field_of(chart) == "difference.logarithmic");
}

} // namespace paired_chart_test
