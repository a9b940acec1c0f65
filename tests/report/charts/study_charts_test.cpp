// Charts of studies: what stands in them is what the studies found.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/study_charts.hpp>

#include <numeric>
#include <span>
#include <string>
#include <vector>

#include "report/charts/chart_checks.hpp"
#include "support/catch.hpp"

namespace study_charts_test {

using namespace tranche;
using namespace tranche_test;
using chart_checks::checked;

namespace {

const sweep_result& swept() {
    static const sweep_result result =
        run_sweep(grid_design({{{"thickness", "in"}, {2.0, 1.0, 1.5}}, {{"cover", "mm"}, {5.0, 10.0}}}),
                  {{"portions", ""}, {"cost", "USD"}},
                  [](std::span<const double> x, const study_replicate& r, std::span<double> out) {
                      out[0] = 20.0 / x[0] - 0.1 * x[1] + static_cast<double>(r.number() % 2);
                      out[1] = x[0] * x[1];
                      return x[0] < 2.0 || x[1] < 10.0;
                  },
                  {.replicates = 8});
    return result;
}

} // namespace

TEST_CASE("study charts: lines of a sweep rise along their axis, one for each value of the other") {
    const line_chart chart = sweep_lines(swept(), "portions", "thickness");
    REQUIRE(chart.lines.size() == 2);
    CHECK(chart.lines[0].name == "cover 5 mm");
    REQUIRE(chart.lines[0].points.size() == 3);
    CHECK(chart.lines[0].points[0].x == 1.0);
    CHECK(chart.lines[0].points[0].y == 20.0);
    CHECK(chart.lines[0].points[0].band);
    CHECK_FALSE(chart.lines[1].points[2].y); // impossible at 2 in and 10 mm
    CHECK(chart.x == chart_axis{"thickness", "in"});
    (void)checked(line_chart_svg(chart));
    CHECK_THROWS_AS(sweep_lines(swept(), "portion", "thickness"), invalid_input);
    CHECK_THROWS_AS(sweep_lines(swept(), "portions", "thick"), invalid_input);
}

TEST_CASE("study charts: a map of a sweep has its cells by rising axes") {
    const heat_map map = sweep_map(swept(), "cost", "thickness", "cover");
    CHECK(map.x == std::vector<double>{1.0, 1.5, 2.0});
    CHECK(map.y == std::vector<double>{5.0, 10.0});
    REQUIRE(map.cells.size() == 6);
    CHECK(map.cells[1] == 7.5);
    CHECK(map.cells[3] == 10.0);
    CHECK_FALSE(map.cells[5]);
    (void)checked(heat_map_svg(map));
    CHECK_THROWS_AS(sweep_map(swept(), "cost", "cover", "cover"), invalid_input);
    const sweep_result three =
        run_sweep(grid_design({{{"a", ""}, {1, 2}}, {{"b", ""}, {1, 2}}, {{"c", ""}, {1, 2}}}), {{"y", ""}},
                  [](std::span<const double>, std::span<double> out) { out[0] = 1.0; });
    CHECK_THROWS_AS(sweep_map(three, "y", "a", "b"), invalid_input);
}

TEST_CASE("study charts: a summary's histogram keeps its counts and marks its quantiles") {
    exact_summary summary({"weight", 1e-3, 100});
    for (int i = 0; i < 100'000; ++i) summary.add(300'000 + i);
    const distribution_chart chart = chart_of(summary, {"weight", "g"});
    CHECK(chart.counts.size() <= 120);
    CHECK(std::accumulate(chart.counts.begin(), chart.counts.end(), 0.0) == 100'000.0);
    REQUIRE(chart.marks.size() == 3);
    // To half a bin of 0.1 g.
    CHECK_THAT(chart.marks[0].value, WithinAbs(305.0, 0.051));
    CHECK_THAT(chart.marks[1].value, WithinAbs(350.0, 0.051));
    CHECK_THAT(chart.first, WithinAbs(300.0, 1e-3));
    (void)checked(distribution_svg(chart));

    exact_summary portions({"portions", 1.0, 1});
    for (const int n : {14, 15, 15, 16}) portions.add(n);
    const distribution_chart few = chart_of(portions, {"portions", ""});
    CHECK(few.first == 13.5);
    CHECK(few.counts == std::vector<double>{1, 2, 1});
    CHECK(few.marks[1].value == 15.0);
    CHECK(chart_of(exact_summary({"none", 1.0, 1}), {"none", ""}).counts.empty());
}

TEST_CASE("study charts: sensitivities, values of information and robust choices have a row each") {
    const study_inputs inputs({{"a", distribution::uniform(0.0, 1.0)}, {"b", distribution::uniform(0.0, 2.0)}});
    const output_sensitivity found =
        sobol_indices(inputs, [](std::span<const double> x) { return x[0] + x[1]; }, {.points = 64});
    const interval_chart indices = chart_of(found);
    REQUIRE(indices.rows.size() == 2);
    CHECK(indices.rows[1].values[0].value == found.inputs[1].first_order.value);
    CHECK(indices.rows[1].values[1].interval ==
          chart_band{found.inputs[1].total.interval.low, found.inputs[1].total.interval.high});
    (void)checked(interval_chart_svg(indices));

    const auto worths = [](std::span<const double> x, std::span<double> out) {
        out[0] = 0.0;
        out[1] = x[0] + 2.0 * x[1] - 2.5;
    };
    const information_values values = value_of_information(inputs, {"no", "yes"}, worths, {.points = 64});
    const interval_chart gains = chart_of(values, "USD");
    REQUIRE(gains.rows.size() == 3);
    CHECK(gains.rows[0].name == "b");
    CHECK(gains.rows[2].name == "everything");
    CHECK(gains.rows[2].values[0].value == values.everything.gain);
    (void)checked(interval_chart_svg(gains));

    const interval_chart robust =
        chart_of(*choose_robustly({{"bold", "safe", "never"}, {{9.0, 1.0}, {4.0, 4.0}, {{}, 5.0}}}), {"portions", ""});
    REQUIRE(robust.rows.size() == 2);
    CHECK(robust.rows[0].values[2].value == 4.0);
    CHECK(robust.rows[1].values[0].value == 4.0);
    (void)checked(interval_chart_svg(robust));
}

} // namespace study_charts_test
