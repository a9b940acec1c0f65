// Line charts read back: points in their places, bands, gaps, names, and any number of points of any size.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/line_chart.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "report/charts/chart_checks.hpp"
#include "support/catch.hpp"

namespace line_chart_test {

using namespace tranche;
using namespace tranche_test;
using chart_checks::checked;

namespace {

chart_line curve(const std::string& name, std::size_t count, double across, double up) {
    chart_line made{.name = name};
    for (std::size_t i = 0; i < count; ++i) {
        const double t = count > 1 ? static_cast<double>(i) / static_cast<double>(count - 1) : 0.0;
        made.points.push_back(
            {.x = across * t,
             .y = up * std::sin(40.0 * t),
             .band = chart_band{up * std::sin(40.0 * t) - 0.1 * std::abs(up), up * std::sin(40.0 * t)}});
    }
    return made;
}

} // namespace

TEST_CASE("line chart: points stand where their numbers say") {
    const line_chart chart{
        "Portions", {"thickness", "in"}, {"portions", ""}, {line_through("most", {1.0, 1.5, 2.0}, {16.0, 11.0, 8.0})}};
    const auto elements = checked(line_chart_svg(chart));
    const auto points = of_kind(elements, "point");
    REQUIRE(points.size() == 3);
    CHECK_THAT(points[1].number("cx"), WithinAbs(0.5 * (points[0].number("cx") + points[2].number("cx")), 1e-3));
    const double up = (points[0].number("cy") - points[2].number("cy")) / 8.0;
    CHECK_THAT(points[1].number("cy"), WithinAbs(points[2].number("cy") + 3.0 * up, 1e-3));
    CHECK(up < 0.0); // more is higher
    REQUIRE(of_kind(elements, "line-name").size() == 1);
    CHECK(of_kind(elements, "line-name")[0].text == "most");
    CHECK(of_kind(elements, "axis").at(1).text == "thickness, in");
    CHECK(chart_checks::description_of(elements) ==
          "portions over thickness, in. most: 3 points, from 8 at 2 in to 16 at 1 in.");
}

TEST_CASE("line chart: a point without a value is a gap, with one on either side of it a disc") {
    line_chart chart{"", {"x", ""}, {"y", ""}, {line_through("a", {0, 1, 2, 3, 4, 5}, {1, 2, 3, 4, 5, 6})}};
    chart.lines[0].points[2].y.reset();
    chart.lines[0].points[4].y.reset();
    const auto elements = checked(line_chart_svg(chart));
    CHECK(of_kind(elements, "line").size() == 1); // 0 to 1, while 3 and 5 stand alone
    CHECK(of_kind(elements, "point").size() == 4);
    CHECK_THAT(chart_checks::description_of(elements), ContainsSubstring("4 points") && ContainsSubstring("gaps at 2"));
}

TEST_CASE("line chart: a band is an area around its line") {
    const line_chart chart{"", {"x", ""}, {"y", ""}, {curve("a", 30, 1.0, 1.0)}};
    const auto elements = checked(line_chart_svg(chart));
    REQUIRE(of_kind(elements, "band").size() == 1);
    const auto outline = chart_checks::points_of(of_kind(elements, "band")[0]);
    const auto course = chart_checks::points_of(of_kind(elements, "line").at(0));
    REQUIRE(outline.size() == 60);
    for (std::size_t i = 0; i < 30; ++i) {
        CHECK_THAT(outline[i].y, WithinAbs(course[i].y, 0.011)); // the upper edge is the line, to a hundredth
        CHECK(outline[59 - i].y > course[i].y);
    }
}

TEST_CASE("line chart: no lines, no points and one point are pictures too") {
    CHECK(of_kind(checked(line_chart_svg({})), "nothing").size() == 1);
    CHECK(of_kind(checked(line_chart_svg({"t", {"x", "m"}, {"y", "g"}, {{.name = "none"}}})), "nothing").size() == 1);
    const auto one = checked(line_chart_svg({"t", {"x", "m"}, {"y", "g"}, {line_through("one", {2.0}, {3.0})}}));
    CHECK(of_kind(one, "point").size() == 1);
    CHECK(of_kind(one, "nothing").empty());
    CHECK(of_kind(one, "figure").size() >= 3);
}

TEST_CASE("line chart: labels lie apart and inside at any number of points and any size") {
    for (const std::size_t count : {1U, 3U, 41U, 10000U})
        for (const double up : {0.0, 1.0, -3e-9, 2e12, 1e300, 1e-310})
            for (const double across : {1.0, 1e-12, 1e15}) {
                CAPTURE(count, up, across);
                const line_chart chart{"A title",
                                       {"along", "m"},
                                       {"value", "g"},
                                       {curve("first", count, across, up), curve("second", count, across, 0.5 * up)}};
                (void)checked(line_chart_svg(chart));
            }
}

TEST_CASE("line chart: ten thousand points keep what shows, in a picture of bounded size") {
    line_chart chart{"", {"x", ""}, {"y", ""}, {curve("noise", 10000, 1.0, 1.0)}};
    chart.lines[0].points[7777].y = 5.0; // a single spike
    const std::string svg = line_chart_svg(chart);
    CHECK(svg.size() < 400'000);
    const auto course = chart_checks::points_of(of_kind(checked(svg), "line").at(0));
    CHECK(course.size() < 10000);
    double highest = 1e9, tallest = 1e9;
    for (std::size_t i = 0; i < course.size(); ++i) highest = std::min(highest, course[i].y);
    for (const auto& p : course)
        if (std::abs(p.x - course.front().x) > 1.0 && p.y > highest + 1.0) tallest = std::min(tallest, p.y);
    CHECK(tallest > highest + 50.0); // the spike stands alone above the rest
}

TEST_CASE("line chart: sixteen lines with long names stay legible, and seventeen are refused") {
    line_chart chart{"A title that is a good deal longer than the chart is wide, so that it has to be shortened before "
                     "it can be drawn at all",
                     {"an axis with a name that is quite long for what it says", "m", true},
                     {"another such name, of the upright axis", "g", true},
                     {}};
    for (int k = 0; k < 16; ++k) {
        std::vector<double> x, y;
        for (int i = 0; i < 30; ++i) {
            x.push_back(std::pow(10.0, 0.1 * i));
            y.push_back(std::pow(10.0, -0.05 * i - 0.01 * k));
        }
        chart.lines.push_back(line_through(
            "line number " + std::to_string(k) + " of sixteen, with a name longer than there is room", x, y));
    }
    const auto elements = checked(line_chart_svg(chart));
    CHECK(of_kind(elements, "line-name").size() == 16);
    std::vector<std::string> looks;
    for (const auto& s : of_kind(elements, "sample"))
        looks.push_back(s.attributes.at("stroke") +
                        (s.attributes.count("stroke-dasharray") == 1 ? s.attributes.at("stroke-dasharray") : ""));
    std::sort(looks.begin(), looks.end());
    CHECK(std::adjacent_find(looks.begin(), looks.end()) == looks.end());
    chart.lines.push_back(chart.lines[0]);
    CHECK_THROWS_AS(line_chart_svg(chart), invalid_input);
}

TEST_CASE("line chart: what is no number is refused by its name") {
    const double nan = std::numeric_limits<double>::quiet_NaN(), inf = std::numeric_limits<double>::infinity();
    const auto field_of = [](const line_chart& chart) {
        try {
            (void)line_chart_svg(chart);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    line_chart chart{
        "", {"x", ""}, {"y", ""}, {line_through("a", {0, 1, 2}, {1, 2, 3}), line_through("b", {0, 1, 2}, {1, nan, 3})}};
    CHECK(field_of(chart) == "lines[1].points[1].y");
    chart.lines[1].points[1] = {.x = inf, .y = 1.0};
    CHECK(field_of(chart) == "lines[1].points[1].x");
    chart.lines[1].points[1] = {.x = 1.0, .y = 1.0, .band = chart_band{0.0, nan}};
    CHECK(field_of(chart) == "lines[1].points[1].band.high");
    chart.lines[1].points[1].band = chart_band{2.0, 1.0};
    CHECK(field_of(chart) == "lines[1].points[1].band.high");
    chart.lines[1].points[1] = {.x = -1.0, .y = 1.0};
    CHECK(field_of(chart) == "lines[1].points[1].x");
    chart.lines.pop_back();
    chart.y.logarithmic = true;
    CHECK(field_of(chart) == "nothing thrown");
    chart.lines[0].points[0].y = 0.0;
    CHECK(field_of(chart) == "lines[0].points[0].y");
    CHECK_THROWS_AS(line_through("a", {1.0}, {}), invalid_input);
}

TEST_CASE("line chart: names are escaped, and a blank title gets words") {
    const std::string svg =
        line_chart_svg({" ", {"<x>", "&"}, {"\"y\"", ""}, {line_through("a<b>&c", {1, 2}, {1, 2})}});
    const auto elements = checked(svg);
    CHECK(of_kind(elements, "line-name")[0].text == "a<b>&c");
    CHECK(of_kind(elements, "title")[0].text == "Lines");
}

} // namespace line_chart_test
