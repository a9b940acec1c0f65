// What a summary says of the distribution behind it: its mean and its quantiles, each with an interval.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include <tranche/statistics/sample_summary.hpp>
#include <tranche/study/summary/detail/order_ranks.hpp>
#include <tranche/study/summary/exact_summary.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// A mean, and where the distribution's own mean lies with the confidence that was asked for; in the output's unit.
struct mean_estimate {
    double mean = 0.0, standard_error = 0.0;
    confidence_interval interval{};

    /// Half the width of the interval, zero or more, in the output's unit. Throws nothing.
    [[nodiscard]] double half_width() const { return (interval.high - interval.low) / 2.0; }

    friend bool operator==(const mean_estimate&, const mean_estimate&) = default;
};

/// mean ± t s / √n with Student's t of n - 1 degrees of freedom: right for normal values, and for others as far as their mean is
/// nearly normal, which it is for studies of a few hundred replicates and more. None with fewer than two values. Throws
/// `invalid_input` for a confidence that is not between 0 and 1.
template <class = detail::when_called>
[[nodiscard]] std::optional<mean_estimate> estimate_mean(const exact_summary& summary, fraction confidence = 0.95) {
    detail::require_confidence(confidence);
    const auto deviation = summary.standard_deviation();
    if (!deviation) return std::nullopt;
    const auto n = static_cast<double>(summary.count());
    const double error = *deviation / std::sqrt(n), half = student_t(confidence, n - 1.0) * error,
                 mean = *summary.mean();
    return mean_estimate{mean, error, {mean - half, mean + half}};
}

/// A quantile, and where the distribution's own lies; in the output's unit. A bound is none where no value of the sample can be
/// one with that confidence.
struct quantile_estimate {
    double value = 0.0;
    std::optional<double> low{}, high{};

    friend bool operator==(const quantile_estimate&, const quantile_estimate&) = default;
};

namespace detail {

/// Reads values by their rank off a histogram.
class ranked_bins {
public:
    explicit ranked_bins(const exact_summary& summary) : bins_(summary.histogram()), unit_(summary.output().unit) {
        least_ = *summary.least();
        most_ = *summary.most();
        std::uint64_t up_to = 0;
        for (const histogram_bin& bin : bins_) up_to_.push_back(up_to += bin.count);
    }

    /// Of the bin that holds the value of `rank`, 1 to n: its lowest whole number, its highest and the middle between them; none beyond
    /// the exact extremes.
    [[nodiscard]] double low(std::uint64_t rank) const {
        return std::max(least_, static_cast<double>(at(rank).low) * unit_);
    }
    [[nodiscard]] double high(std::uint64_t rank) const {
        return std::min(most_, static_cast<double>(at(rank).high) * unit_);
    }
    [[nodiscard]] double middle(std::uint64_t rank) const { return low(rank) + (high(rank) - low(rank)) / 2.0; }

private:
    [[nodiscard]] const histogram_bin& at(std::uint64_t rank) const {
        const auto place = std::lower_bound(up_to_.begin(), up_to_.end(), rank) - up_to_.begin();
        return bins_[static_cast<std::size_t>(place)];
    }

    std::vector<histogram_bin> bins_;
    std::vector<std::uint64_t> up_to_{};
    double unit_, least_ = 0.0, most_ = 0.0;
};

/// ⌈n p⌉, 1 to n; a product that misses a whole number by its rounding alone is that number.
[[nodiscard]] inline std::uint64_t rank_of(double p, std::uint64_t n) {
    const double product = p * static_cast<double>(n), near = std::round(product);
    const double rank = std::abs(product - near) <= 4e-16 * product ? near : std::ceil(product);
    return std::clamp<std::uint64_t>(static_cast<std::uint64_t>(rank), 1, n);
}

} // namespace detail

/// Quantiles of the shares `shares` (0.1 is the value that a tenth of them lies below): of each the middle of the bin that holds the
/// ⌈n p⌉-th smallest value, so exact to half a bin, and exact where a bin is one whole number.
///
/// Intervals suppose nothing of the distribution: they are the values of the ranks r and s with P(B < r) and P(B >= s) each at most
/// (1 - confidence) / 2, where B is binomial of n and p, taken to the outer edges of their bins; they hold the quantile at least as
/// often as `confidence` says. Source: David and Nagaraja, *Order Statistics*, 3rd edition (2003), section 7.1 (from memory).
///
/// None without values. Throws `invalid_input` for shares and a confidence that are not between 0 and 1. O(b log b + shares × log n)
/// for b bins.
template <class = detail::when_called>
[[nodiscard]] std::vector<quantile_estimate> estimate_quantiles(const exact_summary& summary,
                                                                std::vector<double> shares,
                                                                fraction confidence = 0.95) {
    detail::require_confidence(confidence);
    for (const double p : shares)
        if (!(p > 0.0 && p < 1.0)) throw invalid_input("share", detail::shown(p), "more than 0 and less than 1");
    std::vector<quantile_estimate> estimates;
    if (summary.count() == 0) return estimates;
    const detail::ranked_bins ranked(summary);
    const std::uint64_t n = summary.count();
    const double risk = (1.0 - confidence) / 2.0;
    for (const double p : shares) {
        quantile_estimate e{.value = ranked.middle(detail::rank_of(p, n))};
        if (const auto below = detail::rank_below(n, p, risk)) e.low = ranked.low(*below);
        if (const auto above = detail::rank_above(n, p, risk)) e.high = ranked.high(*above);
        estimates.push_back(e);
    }
    return estimates;
}

/// One of them; none without values. `share` and `confidence` are between 0 and 1; throws as `estimate_quantiles`.
template <class = detail::when_called>
[[nodiscard]] std::optional<quantile_estimate> estimate_quantile(const exact_summary& summary, double share,
                                                                 fraction confidence = 0.95) {
    const auto all = estimate_quantiles(summary, {share}, confidence);
    return all.empty() ? std::nullopt : std::optional(all.front());
}

} // namespace tranche
