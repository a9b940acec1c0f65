// Charts of what studies found: distributions, sensitivities, values of information, sweeps and robust choices.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/report/charts/distribution_chart.hpp>
#include <tranche/report/charts/heat_map.hpp>
#include <tranche/report/charts/interval_chart.hpp>
#include <tranche/report/charts/line_chart.hpp>
#include <tranche/study/sensitivity/information_value.hpp>
#include <tranche/study/sensitivity/sobol_indices.hpp>
#include <tranche/study/summary/estimates.hpp>
#include <tranche/study/summary/exact_summary.hpp>
#include <tranche/study/sweep/robust_choice.hpp>
#include <tranche/study/sweep/run_sweep.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// The histogram of an output with the quantiles at `shares` marked; `axis` says what its numbers are, in the output's unit. Fine bins
/// are put together to at most 120. Throws `invalid_input` for a share that is none. O(bins).
template <class = detail::when_called>
[[nodiscard]] distribution_chart chart_of(const exact_summary& summary, chart_axis axis,
                                          const std::vector<double>& shares = {0.05, 0.5, 0.95}) {
    distribution_chart chart{.title = summary.output().name, .values = std::move(axis)};
    for (std::size_t i = 0; i < shares.size(); ++i) detail::require_share(shares[i], detail::element_of("shares", i));
    const std::vector<histogram_bin> bins = summary.histogram();
    if (bins.empty()) return chart;
    const std::int64_t first = bins.front().low, wide = summary.bin_width();
    const std::int64_t count = (bins.back().low - first) / wide + 1, each = (count + 119) / 120;
    chart.width = static_cast<double>(each * wide) * summary.output().unit;
    // A bin of whole numbers reaches half a one beyond its ends.
    chart.first = (static_cast<double>(first) - 0.5) * summary.output().unit;
    chart.counts.resize(static_cast<std::size_t>((count + each - 1) / each));
    for (const histogram_bin& b : bins)
        chart.counts[static_cast<std::size_t>((b.low - first) / wide / each)] += static_cast<double>(b.count);
    for (const double share : shares) {
        // The middle of the bin that holds the quantile.
        const double rank = share * static_cast<double>(summary.count());
        double below = 0.0;
        const histogram_bin* at = &bins.back();
        for (const histogram_bin& b : bins) {
            below += static_cast<double>(b.count);
            if (below >= rank * (1.0 - 1e-15)) {
                at = &b;
                break;
            }
        }
        chart.marks.push_back({share == 0.5 ? "median" : detail::shown(100.0 * share, 3) + " %",
                               0.5 * static_cast<double>(at->low + at->high) * summary.output().unit});
    }
    return chart;
}

/// First-order and total indices of an output, a row for each input.
template <class = detail::when_called>
[[nodiscard]] interval_chart chart_of(const output_sensitivity& found) {
    interval_chart chart{.title = "Where the spread of " + found.name + " comes from",
                         .value = {"share of its variance"},
                         .names = {"alone (first order)", "with others (total)"}};
    for (const input_sensitivity& i : found.inputs) {
        interval_row row{.name = i.name};
        for (const sobol_index& index : {i.first_order, i.total})
            row.values.push_back({index.value, chart_band{index.interval.low, index.interval.high}});
        chart.rows.push_back(std::move(row));
    }
    return chart;
}

/// What knowing each input is worth, most first, then everything; `unit` is that of the worth.
template <class = detail::when_called>
[[nodiscard]] interval_chart chart_of(const information_values& found, const std::string& unit) {
    interval_chart chart{
        .title = "What knowing it before deciding is worth", .value = {"gain", unit}, .names = {"expected gain"}};
    std::vector<information_value> all = found.most_first();
    all.push_back(found.everything);
    for (const information_value& v : all)
        chart.rows.push_back({v.name, {{v.gain, chart_band{v.interval.low, v.interval.high}}}});
    return chart;
}

/// An output over one axis: a line for each combination of the others, with the intervals of means as bands, and gaps where nothing was
/// possible. Throws `invalid_input` for names that there are not; the picture takes at most 16 lines. O(points log points).
template <class = detail::when_called>
[[nodiscard]] line_chart sweep_lines(const sweep_result& result, std::string_view output, std::string_view axis) {
    const std::size_t k = result.output_called(output), x = result.axis_called(axis);
    line_chart chart{.title = result.outputs[k].name + " by " + result.design.axes[x].name,
                     .x = {result.design.axes[x].name, result.design.axes[x].unit},
                     .y = {result.outputs[k].name, result.outputs[k].unit}};
    std::map<std::vector<double>, chart_line> lines;
    for (std::size_t p = 0; p < result.design.points.size(); ++p) {
        std::vector<double> others = result.design.points[p];
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(x));
        chart_line& line = lines[others];
        if (line.points.empty())
            for (std::size_t a = 0; a < result.design.axes.size(); ++a) {
                const sweep_axis& other = result.design.axes[a];
                if (a == x) continue;
                line.name += (line.name.empty() ? "" : ", ") + other.name + ' ' +
                             detail::shown(result.design.points[p][a], 4) +
                             (other.unit.empty() ? "" : ' ' + other.unit);
            }
        const sweep_row& row = result.at(p, k);
        chart_point point{.x = result.design.points[p][x], .y = row.mean};
        if (row.interval) point.band = chart_band{row.interval->low, row.interval->high};
        line.points.push_back(point);
    }
    for (auto& [others, line] : lines) {
        std::stable_sort(line.points.begin(), line.points.end(),
                         [](const chart_point& a, const chart_point& b) { return a.x < b.x; });
        chart.lines.push_back(std::move(line));
    }
    return chart;
}

/// An output over two axes of a grid, rising; cells where nothing was possible are crossed. Throws `invalid_input` for names that there
/// are not, for the same axis twice, and where a cell has no point or several, as in a design of more axes. O(points log points).
template <class = detail::when_called>
[[nodiscard]] heat_map sweep_map(const sweep_result& result, std::string_view output, std::string_view x_axis,
                                 std::string_view y_axis) {
    const std::size_t k = result.output_called(output), x = result.axis_called(x_axis), y = result.axis_called(y_axis);
    if (x == y) throw invalid_input("y_axis", std::string(y_axis), "another axis than that of x");
    heat_map map{.title = result.outputs[k].name + " by " + result.design.axes[x].name + " and " +
                          result.design.axes[y].name,
                 .x_axis = {result.design.axes[x].name, result.design.axes[x].unit},
                 .y_axis = {result.design.axes[y].name, result.design.axes[y].unit},
                 .value = {result.outputs[k].name, result.outputs[k].unit}};
    const auto values_on = [&](std::size_t axis) {
        std::vector<double> values;
        for (const auto& point : result.design.points) values.push_back(point[axis]);
        std::sort(values.begin(), values.end());
        values.erase(std::unique(values.begin(), values.end()), values.end());
        return values;
    };
    map.x = values_on(x);
    map.y = values_on(y);
    if (map.x.size() * map.y.size() != result.design.points.size())
        throw invalid_input("design", std::to_string(result.design.points.size()) + " points",
                            "a grid of these two axes, " + std::to_string(map.x.size()) + " × " +
                                std::to_string(map.y.size()));
    map.cells.resize(result.design.points.size());
    std::vector<bool> taken(map.cells.size());
    for (std::size_t p = 0; p < result.design.points.size(); ++p) {
        const auto place_in = [](const std::vector<double>& values, double v) {
            return static_cast<std::size_t>(std::lower_bound(values.begin(), values.end(), v) - values.begin());
        };
        const std::size_t cell =
            place_in(map.x, result.design.points[p][x]) + map.x.size() * place_in(map.y, result.design.points[p][y]);
        if (taken[cell]) throw invalid_input("design", "several points of a cell", "a grid of these two axes");
        taken[cell] = true;
        map.cells[cell] = result.at(p, k).mean;
    }
    return map;
}

/// Means with their intervals, quantiles and greatest regrets of candidates that are possible everywhere; `worth` says what a worth is.
template <class = detail::when_called>
[[nodiscard]] interval_chart chart_of(const robust_choices& choices, chart_axis worth) {
    interval_chart chart{.title = "Which choice is robust",
                         .value = std::move(worth),
                         .names = {"mean", "reached in all but a share of cases", "greatest regret"}};
    for (const candidate_summary& c : choices.candidates) {
        if (c.impossible > 0) continue;
        interval_row row{.name = c.name, .values = {{c.mean, {}}, {c.at_quantile, {}}, {c.greatest_regret, {}}}};
        if (c.interval) row.values[0].interval = chart_band{c.interval->low, c.interval->high};
        chart.rows.push_back(std::move(row));
    }
    return chart;
}

} // namespace tranche
