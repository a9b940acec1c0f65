// Histograms read back: areas are shares, quantiles stand where they are, any number of values of any size.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/distribution_chart.hpp>

#include <cmath>
#include <limits>
#include <numeric>
#include <string>
#include <vector>

#include "report/charts/chart_checks.hpp"
#include "support/catch.hpp"

namespace distribution_chart_test {

using namespace tranche;
using namespace tranche_test;
using chart_checks::checked;

namespace {

/// Values of a bell, by no random numbers.
std::vector<double> bell(std::size_t n, double middle, double spread) {
    std::vector<double> values;
    for (std::size_t i = 0; i < n; ++i) {
        const double p = (static_cast<double>(i * 7919 % n) + 0.5) / static_cast<double>(n);
        values.push_back(middle + spread * std::log(p / (1.0 - p))); // logistic
    }
    return values;
}

} // namespace

TEST_CASE("distribution: counts add up to the values, and quantiles are values at the shares") {
    const distribution_chart chart = distribution_of("Weights", {"weight", "g"}, bell(1001, 400.0, 10.0));
    CHECK(std::accumulate(chart.counts.begin(), chart.counts.end(), 0.0) == 1001.0);
    REQUIRE(chart.marks.size() == 3);
    CHECK(chart.marks[1].name == "median");
    CHECK(chart.marks[0].name == "5 %");
    // Of the logistic: middle + spread × ln(p / (1 - p)), whose steps are 0.02 at 5 %.
    CHECK_THAT(chart.marks[1].value, WithinAbs(400.0, 1e-9));
    CHECK_THAT(chart.marks[2].value, WithinAbs(400.0 + 10.0 * std::log(19.0), 0.25));
    // 2 × interquartile range (2 ln 3 × 10) / 1001^(1/3), and the next of 1, 2, 5.
    CHECK(chart.width == 5.0);
}

TEST_CASE("distribution: heights of the bars are shares and bars begin where their bins do") {
    distribution_chart chart{"", {"portions", ""}, 9.5, 1.0, {0, 1, 3, 0, 4, 0, 0}, {{"limit", 12.0}}};
    const auto elements = checked(distribution_svg(chart));
    const auto bars = of_kind(elements, "bar");
    REQUIRE(bars.size() == 3); // empty bins are not drawn
    CHECK_THAT(bars[1].number("height"), WithinAbs(3.0 * bars[0].number("height"), 1e-3));
    CHECK_THAT(bars[2].number("height"), WithinAbs(4.0 * bars[0].number("height"), 1e-3));
    CHECK_THAT(bars[2].number("x") - bars[1].number("x"), WithinAbs(2.0 * bars[1].number("width"), 1e-3));
    // The mark of 12 stands in the middle of the bin from 11.5 to 12.5.
    CHECK_THAT(of_kind(elements, "quantile").at(0).number("x1"),
               WithinAbs(bars[1].number("x") + 0.5 * bars[1].number("width"), 1e-3));
    CHECK_THAT(chart_checks::description_of(elements),
               ContainsSubstring("most often from 13.5 to 14.5, 50 %") && ContainsSubstring("limit: 12."));
}

TEST_CASE("distribution: whole numbers get a bin each") {
    const distribution_chart chart = distribution_of("", {}, {15, 16, 14, 15, 15, 17});
    CHECK(chart.width == 1.0);
    CHECK(chart.first == 13.5);
    CHECK(chart.counts == std::vector<double>{1, 3, 1, 1});
}

TEST_CASE("distribution: labels lie apart and inside for any number of values of any size") {
    for (const std::size_t count : {0U, 1U, 3U, 300U, 10000U})
        for (const double spread : {0.0, 1e-12, 1.0, 1e9, 1e300})
            for (const double middle : {0.0, 412.3, 1e-5}) {
                CAPTURE(count, spread, middle);
                const distribution_chart chart = distribution_of(
                    "Weights", {"weight", "g"}, bell(count, middle, spread), {0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99});
                CHECK(chart.counts.size() <= 200);
                const auto elements = checked(distribution_svg(chart));
                CHECK(of_kind(elements, "nothing").size() == (count == 0 ? 1 : 0));
                CHECK(of_kind(elements, "quantile").size() == (count == 0 ? 0 : 7));
            }
}

TEST_CASE("distribution: values as far apart as a double can say are drawn") {
    const double most = std::numeric_limits<double>::max();
    (void)checked(distribution_svg(distribution_of("", {"x", ""}, {-0.4 * most, 0.0, 0.4 * most})));
}

TEST_CASE("distribution: many fine bins go several to a bar, and nothing is lost") {
    distribution_chart chart{"", {"weight", "g"}, 0.0, 0.1, std::vector<double>(10000, 1.0), {}};
    const auto bars = of_kind(checked(distribution_svg(chart)), "bar");
    CHECK(bars.size() <= 120);
    CHECK(bars.size() >= 60);
}

TEST_CASE("distribution: nine marks with long names lie apart, and ten are refused") {
    distribution_chart chart = distribution_of("", {"weight", "g"}, bell(500, 1.0, 1.0));
    chart.marks.clear();
    for (int i = 0; i < 9; ++i) chart.marks.push_back({"a mark with a long name " + std::to_string(i), 1.0 + 0.01 * i});
    (void)checked(distribution_svg(chart));
    chart.marks.push_back({"one more", 2.0});
    CHECK_THROWS_AS(distribution_svg(chart), invalid_input);
}

TEST_CASE("distribution: what is no number is refused by its name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto message = [](const auto& f) {
        try {
            f();
        } catch (const invalid_input& e) {
            return std::string(e.what());
        }
        return std::string("nothing thrown");
    };
    CHECK(message([&] {
              (void)distribution_of("", {}, {1.0, 2.0, nan});
          }) == "values[2]: got nan, expected a finite number");
    CHECK_THAT(message([&] { (void)distribution_of("", {}, {1.0}, {0.5, 1.5}); }), StartsWith("shares[1]: got 1.5"));
    distribution_chart chart{"", {}, 0.0, 1.0, {1.0, -1.0}, {}};
    CHECK_THAT(message([&] { (void)distribution_svg(chart); }), StartsWith("counts[1]: got -1"));
    chart.counts = {1.0};
    chart.width = 0.0;
    CHECK_THAT(message([&] { (void)distribution_svg(chart); }), StartsWith("width: got 0"));
    chart.width = 1.0;
    chart.marks = {{"bad", nan}};
    CHECK_THAT(message([&] { (void)distribution_svg(chart); }), StartsWith("marks[0].value: got nan"));
    chart.marks.clear();
    chart.values.logarithmic = true;
    CHECK_THAT(message([&] { (void)distribution_svg(chart); }), StartsWith("values.logarithmic"));
}

} // namespace distribution_chart_test
