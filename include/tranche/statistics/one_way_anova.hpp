// One-way analysis of variance: how much of a spread lies between groups, such as suppliers, and how much within them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <boost/math/distributions/fisher_f.hpp>

#include <tranche/statistics/sample_summary.hpp>

namespace tranche {

/// Σ over groups of n (mean - grand mean)² between, Σ (value - its mean)² within.
struct anova_table {
    std::size_t groups = 0, count = 0;
    double between_squares = 0.0, within_squares = 0.0;
    double between_degrees = 0.0, within_degrees = 0.0; ///< groups - 1, count - groups
    /// Components: the variance of the groups' true means, and that of a value about its own. Unbiased, but the former is
    /// kept from falling below zero.
    double between_variance = 0.0, within_variance = 0.0;
    /// Mean square between over mean square within; none where nothing varies within.
    std::optional<double> f{};
    /// The probability of an `f` as large or larger where the groups are alike.
    std::optional<double> p{};

    /// Share of the squares that lies between the groups; 0 where nothing varies at all. A plain share, 0 to 1. Throws
    /// nothing. Any handbook.
    [[nodiscard]] double r_squared() const {
        const double all = between_squares + within_squares;
        return all > 0.0 ? between_squares / all : 0.0;
    }
    /// √ of the variance within, in the unit of the values, zero or more. Throws nothing. Any handbook.
    [[nodiscard]] double residual_deviation() const { return std::sqrt(within_variance); }

    friend bool operator==(const anova_table&, const anova_table&) = default;
};

/// Analyses groups of one value or more. With n0 = (N - Σn² / N) / (k - 1) the component between is (MSB - MSW) / n0 (Searle,
/// Casella and McCulloch, *Variance Components*, 1992, chapter 3, from memory). None with fewer than two groups, or where
/// no group has two values, so that nothing is known of the spread within. Throws `invalid_input` for an empty group and
/// values that are not finite. O(values).
[[nodiscard]] inline std::optional<anova_table> one_way_anova(const std::vector<std::vector<double>>& groups) {
    anova_table a{.groups = groups.size()};
    std::vector<double> means;
    double squared_sizes = 0.0;
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const std::string name = "groups[" + std::to_string(g) + ']';
        if (groups[g].empty()) throw invalid_input(name, "no values", "at least one");
        detail::require_finite(groups[g], name.c_str());
        const detail::moments m(groups[g]);
        means.push_back(m.mean);
        a.within_squares += m.squares;
        a.count += groups[g].size();
        squared_sizes += static_cast<double>(groups[g].size()) * static_cast<double>(groups[g].size());
    }
    if (groups.size() < 2 || a.count <= groups.size()) return std::nullopt;
    const auto n = static_cast<double>(a.count);
    a.between_degrees = static_cast<double>(groups.size() - 1);
    a.within_degrees = static_cast<double>(a.count - groups.size());
    double grand = 0.0;
    for (std::size_t g = 0; g < groups.size(); ++g) // about the first mean, so that no digits are lost
        grand += static_cast<double>(groups[g].size()) / n * (means[g] - means[0]);
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const double off = means[g] - means[0] - grand;
        a.between_squares += static_cast<double>(groups[g].size()) * off * off;
    }
    const double between = a.between_squares / a.between_degrees;
    a.within_variance = a.within_squares / a.within_degrees;
    a.between_variance = std::max(0.0, (between - a.within_variance) * a.between_degrees / (n - squared_sizes / n));
    if (a.within_variance > 0.0) {
        a.f = between / a.within_variance;
        const boost::math::fisher_f_distribution<double> f(a.between_degrees, a.within_degrees);
        a.p = boost::math::cdf(boost::math::complement(f, *a.f));
    }
    return a;
}

} // namespace tranche
