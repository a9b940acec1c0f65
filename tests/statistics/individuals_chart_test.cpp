// SPDX-License-Identifier: BSL-1.0
#include <tranche/statistics/individuals_chart.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "support/catch.hpp"

namespace individuals_chart_test {

using namespace tranche;
using namespace tranche_test;

// NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2, flow rates of ten batches: mean 50.81, mean moving
// range 1.8778, limits 45.8159 and 55.8041 (data and results from memory; they agree with each other).
TEST_CASE("the limits of ten flow rates are those of the handbook") {
    const auto chart =
        chart_individuals(std::vector<double>{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1});
    CHECK_THAT(chart.centre, WithinAbs(50.81, 1e-12)); // ten values of two decimals at most
    REQUIRE(chart.limits);
    CHECK_THAT(chart.limits->mean_moving_range, WithinAbs(1.8778, 0.00005));
    CHECK_THAT(chart.limits->upper, WithinAbs(55.8041, 0.00005));
    CHECK_THAT(chart.limits->lower, WithinAbs(45.8159, 0.00005));
    CHECK(chart.outside.empty());
}

TEST_CASE("the divisor of the moving range is the mean range of two normal values") {
    CHECK_THAT(detail::d2_of_two, WithinAbs(2.0 / std::sqrt(std::numbers::pi), 0.0005)); // rounded to three decimals
}

TEST_CASE("points beyond the limits are listed and points on them are not") {
    std::vector<double> values{10, 11, 10, 11, 10, 11, 10, 11, 10, 11, 30};
    const auto chart = chart_individuals(values);
    CHECK(chart.outside == std::vector<std::size_t>{10});
    for (const double v : {0.1, 0.7231}) CHECK(chart_individuals(std::vector<double>(9, v)).outside.empty());
}

TEST_CASE("the mean of the moving ranges does not know about a slow drift") {
    // Steps of 1 for 40 values: sigma 1 / 1.128, mean 19.5, so all but six values about the mean lie outside.
    std::vector<double> drift;
    for (int i = 0; i < 40; ++i) drift.push_back(i);
    const auto chart = chart_individuals(drift);
    CHECK_THAT(chart.limits->sigma, WithinRel(1.0 / 1.128, 1e-14));
    CHECK(chart.outside.size() == 34);
}

TEST_CASE("one value has no limits and a bad one no chart") {
    const auto chart = chart_individuals(std::vector<double>{0.7});
    CHECK(chart.centre == 0.7);
    CHECK_FALSE(chart.limits);
    CHECK(chart.outside.empty());
    CHECK_THROWS_WITH(chart_individuals(std::vector<double>{}), StartsWith("values: got none"));
    CHECK_THROWS_WITH(chart_individuals(std::vector<double>{1.0, std::numeric_limits<double>::quiet_NaN()}),
                      StartsWith("values[1]: got nan"));
}

} // namespace individuals_chart_test
