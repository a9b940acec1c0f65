// Limits between which a stated share of all future values lies with a stated confidence, whatever their distribution.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <optional>

#include <tranche/study/summary/detail/order_ranks.hpp>
#include <tranche/study/summary/estimates.hpp>
#include <tranche/study/summary/exact_summary.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A promise on future values: at least the share `coverage` of them lies within the limits, and that is so with `confidence`.
struct tolerance_promise {
    fraction coverage = 0.95, confidence = 0.95;

    friend bool operator==(const tolerance_promise&, const tolerance_promise&) = default;
};

/// Throws `invalid_input` naming the member that is not between 0 and 1.
inline void validate(const tolerance_promise& promise) {
    if (!(promise.coverage > 0.0 && promise.coverage < 1.0))
        throw invalid_input("coverage", detail::shown(promise.coverage), "more than 0 and less than 1");
    detail::require_confidence(promise.confidence);
}

/// How many values it takes before limits keep a promise. One-sided: the `order`-th largest (or smallest) value, 1 the most extreme;
/// two-sided: the `order`-th smallest and largest together. The least n with P(B >= m) >= confidence, B binomial of n and
/// 1 - coverage, where m values lie on or beyond the limits (`order`, or twice that). For 95 % with 95 %: 59 one-sided, 93 two-sided.
/// Source: Wilks, "Determination of sample sizes for setting tolerance limits", Annals of Mathematical Statistics 12 (1941) 91-96.
/// Throws `invalid_input` as `validate(tolerance_promise)` does and for an order of zero.
template <class = detail::when_called>
[[nodiscard]] std::uint64_t wilks_sample_size(const tolerance_promise& promise, std::uint64_t order = 1,
                                              bool two_sided = false) {
    validate(promise);
    if (order < 1) throw invalid_input("order", "0", "1 or more");
    const std::uint64_t beyond = two_sided ? 2 * order : order;
    const auto keeps = [&](std::uint64_t n) {
        return n >= beyond && detail::binomial_share_above(n, 1.0 - promise.coverage, beyond - 1) >= promise.confidence;
    };
    std::uint64_t most = beyond;
    while (!keeps(most)) most *= 2;
    std::uint64_t least = most / 2; // does not, or is below what there has to be
    while (most - least > 1) {
        const std::uint64_t middle = least + (most - least) / 2;
        (keeps(middle) ? most : least) = middle;
    }
    return most;
}

/// Limits in the output's unit, none where there are too few values for the promise.
struct tolerance_limits {
    std::optional<double> at_least{};    ///< one-sided: `coverage` of all values are at or above it
    std::optional<double> at_most{};     ///< one-sided: at or below it
    std::optional<double> low{}, high{}; ///< two-sided: between them; both or none

    friend bool operator==(const tolerance_limits&, const tolerance_limits&) = default;
};

/// The tightest limits that the order statistics of a summary allow, taken to the outer edges of their bins; two-sided ones with as
/// many values beyond either. Throws `invalid_input` as `validate(tolerance_promise)` does. O(b log b) for b bins.
template <class = detail::when_called>
[[nodiscard]] tolerance_limits find_tolerance_limits(const exact_summary& summary,
                                                     const tolerance_promise& promise = {}) {
    validate(promise);
    tolerance_limits limits;
    const std::uint64_t n = summary.count();
    if (n == 0) return limits;
    const detail::ranked_bins ranked(summary);
    const double beyond = 1.0 - promise.coverage, risk = 1.0 - promise.confidence;
    // At or below the quantile of 1 - coverage, with confidence; and the mirror image.
    const auto order = detail::rank_below(n, beyond, risk);
    if (order) {
        limits.at_least = ranked.low(*order);
        limits.at_most = ranked.high(n + 1 - *order);
        if (const std::uint64_t each = *order / 2; each > 0) {
            limits.low = ranked.low(each);
            limits.high = ranked.high(n + 1 - each);
        }
    }
    return limits;
}

} // namespace tranche
