// The code that docs/charts.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <optional>
#include <string>
#include <vector>

#include <tranche/charts.hpp>
#include <tranche/units/literals.hpp>

#include "docs_pages.hpp"

namespace charts_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("docs on charts: a line chart of anybody's numbers, with a band and a gap") {
    // Invented numbers.
    const std::vector<length> thicknesses{20_mm, 22_mm, 24_mm, 26_mm, 28_mm};
    line_chart chart{.title = "Portions by thickness", .x = {"thickness", "in"}, .y = {"portions"}};
    chart.lines.push_back(line_through("by the plan", in_unit(thicknesses, inch), {19, 17, 16, 15, 13}));
    chart.lines.push_back({.name = "last year",
                           .points = {{.x = 0.8, .y = 17.2, .band = chart_band{16, 18}},
                                      {.x = 0.9, .y = 16.1, .band = chart_band{15, 17}},
                                      {.x = 1.0}, // nothing was cut at an inch
                                      {.x = 1.1, .y = 12.9, .band = chart_band{12, 14}}}});
    const std::string svg = line_chart_svg(chart);
    CHECK_THAT(svg, StartsWith("<svg") && ContainsSubstring("thickness, in") && ContainsSubstring("last year"));
}

TEST_CASE("docs on charts: a histogram of anybody's values") {
    std::vector<double> weights;
    for (int i = 0; i < 40; ++i) weights.push_back(400.0 + (i * 37) % 41);
    const std::string svg =
        distribution_svg(distribution_of("Weight of a portion", {"weight", "g"}, weights, {0.1, 0.5, 0.9}));
    CHECK_THAT(svg, ContainsSubstring("median"));
}

} // namespace charts_snippets
