// The picture of a control chart read back: every test in its place, labels apart, nothing fetched.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/control_chart.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include "records/invented_records.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace control_chart_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

yield_chart chart_of(const std::vector<double>& yields) {
    std::vector<cutting_record> records;
    int day = 0;
    for (const double y : yields)
        records.push_back({.date = invented_cuts::day(day += 3), .supplier = "a", .bought = 1_kg, .usable = y * 1_kg});
    return chart_yields(records);
}

std::vector<double> steady(std::size_t count) {
    std::vector<double> yields;
    for (std::size_t i = 0; i < count; ++i) yields.push_back(0.72 + 0.01 * static_cast<double>(i * 7 % 5) / 4.0);
    return yields;
}

struct box {
    double x1, x2, y1, y2;
};

std::vector<box> label_boxes(const std::vector<xml_element>& elements) {
    std::vector<box> boxes;
    for (const xml_element& e : elements) {
        if (e.name != "text") continue;
        const double size = e.number("font-size"), wide = detail::ems_of(e.text) * size, x = e.number("x"),
                     y = e.number("y");
        const std::string anchor = e.attributes.at("text-anchor");
        const double from = anchor == "end" ? x - wide : anchor == "middle" ? x - 0.5 * wide : x;
        boxes.push_back({from, from + wide, y - 0.75 * size, y + 0.2 * size});
    }
    return boxes;
}

void check_labels(const std::string& svg) {
    const auto boxes = label_boxes(parse_xml(svg));
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const box& a = boxes[i];
        CHECK(a.x1 >= 0.0);
        CHECK(a.x2 <= 960.0);
        CHECK(a.y1 >= 0.0);
        CHECK(a.y2 <= 440.0);
        for (std::size_t k = i + 1; k < boxes.size(); ++k) {
            const box& b = boxes[k];
            CHECK_FALSE((a.x1 < b.x2 && b.x1 < a.x2 && a.y1 < b.y2 && b.y1 < a.y2));
        }
    }
}

} // namespace

TEST_CASE("every test stands on the chart at the height of its yield") {
    std::vector<double> yields = steady(20);
    yields[12] = 0.60;
    const yield_chart chart = chart_of(yields);
    REQUIRE(chart.chart.outside == std::vector<std::size_t>{12});
    const auto elements = parse_xml(control_chart_svg(chart, "Yields"));
    // One disc and one diamond belong to the key.
    CHECK(of_kind(elements, "inside").size() == 19 + 1);
    CHECK(of_kind(elements, "outside").size() == 1 + 1);
    // The lines of the mean and the limits fix the scale.
    const double centre = of_kind(elements, "centre").at(0).number("y1");
    const auto limits = of_kind(elements, "limit");
    REQUIRE(limits.size() == 2);
    const double scale = (limits[1].number("y1") - limits[0].number("y1")) /
                         (chart.chart.limits->upper - chart.chart.limits->lower); // pixels a unit of yield
    CHECK(scale > 0.0);
    const auto discs = of_kind(elements, "inside");
    std::size_t at = 0;
    for (std::size_t i = 0; i < yields.size(); ++i) {
        if (i == 12) continue;
        const double height = (centre - discs[at++].number("cy")) / scale;
        // Four decimals of a pixel in numbers, both ends.
        CHECK_THAT(height, WithinAbs(yields[i] - chart.chart.centre, 2e-4 / scale + 1e-9));
    }
    for (std::size_t k = 1; k < 19; ++k) CHECK(discs[k].number("cx") > discs[k - 1].number("cx"));
}

TEST_CASE("the chart tells its numbers to who does not see it") {
    std::vector<double> yields = steady(20);
    yields[12] = 0.60;
    const auto elements = parse_xml(control_chart_svg(chart_of(yields), "Yields <of> \"north\""));
    CHECK(elements.at(0).attributes.at("role") == "img");
    const auto with_id = [&](const std::string& id) {
        return *std::find_if(elements.begin(), elements.end(), [&](const auto& e) {
            return e.attributes.count("id") == 1 && e.attributes.at("id") == id;
        });
    };
    CHECK(elements.at(0).attributes.at("aria-labelledby") == "control-title control-desc");
    CHECK(with_id("control-title").text == "Yields <of> \"north\"");
    const std::string words = with_id("control-desc").text;
    CHECK_THAT(words, StartsWith("20 cutting tests, 2026-01-08 to 2026-03-06. Mean yield ") &&
                          ContainsSubstring("control limits") && EndsWith("Outside: 2026-02-13, 60.0 %."));
    CHECK(fetched(control_chart_svg(chart_of(yields))).empty());
    CHECK_THAT(control_chart_svg(chart_of(steady(5)), " \n"), ContainsSubstring(">Yield of cutting tests<"));
    CHECK_THAT(control_chart_svg(chart_of(steady(5))), ContainsSubstring("No test lies outside."));
}

TEST_CASE("a test outside is written as one, however near the limit it lies") {
    for (const double beyond : {1e-6, 1e-5, 3e-5, 1e-4, 1e-3, 1e-2}) {
        yield_chart chart = chart_of(steady(20));
        chart.chart.values[7] = chart.chart.limits->upper + beyond;
        chart.chart.values[13] = chart.chart.limits->lower - beyond;
        chart.chart.outside = {7, 13};
        const std::string svg = control_chart_svg(chart);
        check_labels(svg);
        // "... control limits 70.12 % and 75.12 %. Outside: 2026-01-29, 75.1 %; 2026-02-16, 70.1 %."
        std::vector<double> shares;
        const std::string words =
            svg.substr(svg.find("control limits"), svg.find("</desc>") - svg.find("control limits"));
        for (std::size_t at = 0; (at = words.find(" %", at)) != std::string::npos; ++at)
            shares.push_back(std::stod(words.substr(words.rfind(' ', at - 1))));
        INFO(words);
        REQUIRE(shares.size() == 4);
        CHECK(shares[2] > shares[1]);
        CHECK(shares[3] < shares[0]);
    }
}

TEST_CASE("labels lie apart and inside the picture, from one test to two hundred") {
    for (const std::size_t count : {1U, 2U, 3U, 10U, 26U, 60U, 200U}) {
        std::vector<double> yields = steady(count);
        for (const double away : {0.0, 0.2, -0.3}) {
            for (std::size_t i = count / 2; i < std::min(count, count / 2 + 3); ++i) yields[i] = 0.72 + away;
            INFO(count << " tests, some " << away << " away");
            check_labels(control_chart_svg(chart_of(yields),
                                           "A title that is a good deal longer than the chart is wide, so "
                                           "that it has to be shortened before it is drawn"));
        }
    }
    // First and last outside, at both edges of the paper.
    std::vector<double> edges = steady(30);
    edges.front() = 0.5;
    edges.back() = 0.95;
    check_labels(control_chart_svg(chart_of(edges)));
}

TEST_CASE("tests that are all alike have a chart of numbers") {
    for (const std::size_t count : {1U, 2U, 8U}) {
        const std::string svg = control_chart_svg(chart_of(std::vector<double>(count, 0.7231)));
        CHECK(svg.find("nan") == std::string::npos);
        CHECK(svg.find("inf\"") == std::string::npos);
        check_labels(svg);
        CHECK(of_kind(parse_xml(svg), "tick").size() >= 2);
    }
    CHECK_THAT(control_chart_svg(chart_of({0.7})), ContainsSubstring("One test has no limits."));
    CHECK(of_kind(parse_xml(control_chart_svg(chart_of({0.7}))), "limit").empty());
}

TEST_CASE("marks of the chart stand three letters apart at least, and three of them at least") {
    for (const double away : {0.0, 0.003, 0.01, 0.04, 0.2, -0.5}) {
        std::vector<double> yields = steady(20);
        yields[12] += away;
        const auto ticks = of_kind(parse_xml(control_chart_svg(chart_of(yields))), "tick");
        INFO(away);
        REQUIRE(ticks.size() >= 3);
        for (std::size_t i = 1; i < ticks.size(); ++i) {
            CHECK(ticks[i - 1].number("y") - ticks[i].number("y") >= 3.0 * ticks[i].number("font-size") - 2e-4);
            CHECK(ticks[i].text != ticks[i - 1].text);
        }
    }
}

} // namespace control_chart_test
