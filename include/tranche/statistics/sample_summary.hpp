// Mean, spread and confidence interval of a sample, as far as its size allows.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <string>

#include <boost/math/distributions/students_t.hpp>

#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Where a figure lies with the confidence that was asked for, in its own unit.
struct confidence_interval {
    double low = 0.0, high = 0.0;

    friend bool operator==(const confidence_interval&, const confidence_interval&) = default;
};

/// What a sample says. One value has no spread, so its deviation and interval are none.
struct sample_summary {
    std::size_t count = 0; ///< 1 or more
    double mean = 0.0;
    std::optional<double> standard_deviation{};    ///< of one value, with n - 1
    std::optional<confidence_interval> interval{}; ///< of the mean

    friend bool operator==(const sample_summary&, const sample_summary&) = default;
};

namespace detail {

/// Throws `invalid_input` unless `confidence` is above 0 and below 1.
inline void require_confidence(fraction confidence) {
    if (!(confidence > 0.0 && confidence < 1.0))
        throw invalid_input("confidence", detail::shown(confidence), "more than 0 and less than 1");
}

} // namespace detail

/// Between -t and t lies the share `confidence` of Student's distribution with `degrees` of freedom, above zero.
/// `confidence` is above 0 and below 1; t is a plain number, zero or more. By the quantile of Boost.Math, which throws
/// `std::domain_error` for a share or degrees outside of that. Source: Student (1908), *Biometrika* 6, 1-25 (from
/// memory).
[[nodiscard]] inline double student_t(fraction confidence, double degrees) {
    const boost::math::students_t_distribution<double> distribution(degrees);
    return boost::math::quantile(boost::math::complement(distribution, 0.5 * (1.0 - confidence)));
}

namespace detail {

/// The mean, and the sum of squares about it: the corrected two-pass algorithm (Chan, Golub and LeVeque 1983, Am. Stat.
/// 37:242, from memory). Values that are all equal have just them as their mean, and no squares.
struct moments {
    double mean = 0.0, squares = 0.0;

    explicit moments(std::span<const double> values) {
        const auto n = static_cast<double>(values.size());
        double sum = 0.0;
        for (const double v : values) sum += v;
        const double near = sum / n;
        double rest = 0.0;
        for (const double v : values) {
            rest += v - near;
            squares += (v - near) * (v - near);
        }
        mean = near + rest / n;
        squares = std::max(0.0, squares - rest * rest / n);
        if (std::all_of(values.begin(), values.end(), [&](double v) { return v == values.front(); })) squares = 0.0;
    }
};

inline void require_finite(std::span<const double> values, const char* field) {
    for (std::size_t i = 0; i < values.size(); ++i)
        if (!std::isfinite(values[i]))
            throw invalid_input(std::string(field) + '[' + std::to_string(i) + ']', detail::shown(values[i]),
                                "a finite value");
}

} // namespace detail

/// mean = Σx / n; s² = Σ(x - mean)² / (n - 1); mean ± t s / √n with Student's t of n - 1 degrees of freedom (any
/// handbook; it supposes values that scatter normally and independently). Throws `invalid_input` for no values, one that is
/// not finite, and a confidence that is not between 0 and 1. O(n).
[[nodiscard]] inline sample_summary summarise(std::span<const double> values, fraction confidence = 0.95) {
    detail::require_confidence(confidence);
    if (values.empty()) throw invalid_input("values", "none", "at least one");
    detail::require_finite(values, "values");
    const detail::moments m(values);
    sample_summary result{.count = values.size(), .mean = m.mean};
    if (values.size() < 2) return result;
    const double degrees = static_cast<double>(values.size() - 1);
    result.standard_deviation = std::sqrt(m.squares / degrees);
    const double half = student_t(confidence, degrees) * std::sqrt(m.squares / degrees / (degrees + 1.0));
    result.interval = confidence_interval{m.mean - half, m.mean + half};
    return result;
}

} // namespace tranche
