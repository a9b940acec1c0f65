// A straight line through points by least squares, with the interval of its slope: the trend of a record.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <string>

#include <tranche/statistics/sample_summary.hpp>

namespace tranche {

/// y = intercept + slope x. Deviations and interval are none with fewer than three points, which leave no degrees of
/// freedom.
struct regression_line {
    std::size_t count = 0; ///< 2 or more
    double intercept = 0.0, slope = 0.0;
    double squares = 0.0; ///< sum of the squares of the residuals
    std::optional<double> residual_deviation{}, intercept_deviation{}, slope_deviation{};
    std::optional<confidence_interval> slope_interval{};

    /// intercept + slope x, in the unit of y; `x` is any number. Throws nothing.
    [[nodiscard]] double at(double x) const { return intercept + slope * x; }

    friend bool operator==(const regression_line&, const regression_line&) = default;
};

/// slope = Σ(x - mx)(y - my) / Σ(x - mx)²; s² = Σ residual² / (n - 2); deviation of the slope s / √Σ(x - mx)²; its
/// interval with Student's t of n - 2 degrees of freedom (any handbook). None where fewer than two x differ. Throws
/// `invalid_input` for lists of different sizes, values that are not finite and a confidence that is not between 0 and 1.
/// O(n).
[[nodiscard]] inline std::optional<regression_line> linear_regression(std::span<const double> x,
                                                                      std::span<const double> y,
                                                                      fraction confidence = 0.95) {
    detail::require_confidence(confidence);
    if (x.size() != y.size())
        throw invalid_input("y", std::to_string(y.size()) + " values", std::to_string(x.size()) + ", one an x");
    detail::require_finite(x, "x");
    detail::require_finite(y, "y");
    if (x.size() < 2) return std::nullopt;
    const detail::moments of_x(x), of_y(y);
    if (!(of_x.squares > 0.0)) return std::nullopt;

    double products = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) products += (x[i] - of_x.mean) * (y[i] - of_y.mean);
    regression_line line{.count = x.size(), .slope = products / of_x.squares};
    // The first slope leaves residuals in which its own rounding shows: the line through them corrects it.
    products = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i)
        products += (x[i] - of_x.mean) * ((y[i] - of_y.mean) - line.slope * (x[i] - of_x.mean));
    line.slope += products / of_x.squares;
    line.intercept = of_y.mean - line.slope * of_x.mean;
    for (std::size_t i = 0; i < x.size(); ++i) {
        const double residual = (y[i] - of_y.mean) - line.slope * (x[i] - of_x.mean);
        line.squares += residual * residual;
    }
    if (x.size() < 3) return line;
    const auto n = static_cast<double>(x.size());
    const double s = std::sqrt(line.squares / (n - 2.0));
    line.residual_deviation = s;
    line.slope_deviation = s / std::sqrt(of_x.squares);
    line.intercept_deviation = s * std::sqrt(1.0 / n + of_x.mean * of_x.mean / of_x.squares);
    const double half = student_t(confidence, n - 2.0) * *line.slope_deviation;
    line.slope_interval = confidence_interval{line.slope - half, line.slope + half};
    return line;
}

} // namespace tranche
