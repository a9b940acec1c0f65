// The control chart of single values: a centre, three-sigma limits from the moving range, and the points outside.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include <tranche/statistics/sample_summary.hpp>

namespace tranche {

namespace detail {

/// The mean of the range of two normal values over their standard deviation, 2 / √pi, as tables for control charts round
/// it.
inline constexpr double d2_of_two = 1.128;

} // namespace detail

struct control_limits {
    double mean_moving_range = 0.0; ///< mean of |x(i) - x(i-1)|
    double sigma = 0.0;             ///< that / d2
    double lower = 0.0, upper = 0.0;

    friend bool operator==(const control_limits&, const control_limits&) = default;
};

/// Values in the order of time. With fewer than two there are no limits.
struct individuals_chart {
    std::vector<double> values;
    double centre = 0.0; ///< their mean
    std::optional<control_limits> limits{};
    std::vector<std::size_t> outside{}; ///< places of the values beyond the limits, rising

    friend bool operator==(const individuals_chart&, const individuals_chart&) = default;
};

/// mean ± 3 × mean moving range / 1.128 (NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.2, from memory). A
/// value on a limit is inside. Limits are not cut off where values cannot go, such as a share beyond 1: they never bind
/// there. Throws `invalid_input` for no values and values that are not finite. O(n). Values and limits have one unit,
/// whichever it is.
[[nodiscard]] inline individuals_chart chart_individuals(std::span<const double> values) {
    if (values.empty()) throw invalid_input("values", "none", "at least one");
    detail::require_finite(values, "values");
    individuals_chart chart{.values = {values.begin(), values.end()}, .centre = detail::moments(values).mean};
    if (values.size() < 2) return chart;
    double ranges = 0.0;
    for (std::size_t i = 1; i < values.size(); ++i) ranges += std::abs(values[i] - values[i - 1]);
    control_limits limits;
    limits.mean_moving_range = ranges / static_cast<double>(values.size() - 1);
    limits.sigma = limits.mean_moving_range / detail::d2_of_two;
    limits.lower = chart.centre - 3.0 * limits.sigma;
    limits.upper = chart.centre + 3.0 * limits.sigma;
    for (std::size_t i = 0; i < values.size(); ++i)
        if (values[i] < limits.lower || values[i] > limits.upper) chart.outside.push_back(i);
    chart.limits = limits;
    return chart;
}

} // namespace tranche
