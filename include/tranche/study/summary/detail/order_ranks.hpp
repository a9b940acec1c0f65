// Which order statistics hold a quantile between them, however the values are distributed.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <optional>

#include <boost/math/distributions/binomial.hpp>

namespace tranche::detail {

/// The chance that at most k of n values lie below a quantile of the share p, n >= 1, p above 0 and below 1.
template <class Count>
[[nodiscard]] double binomial_share(Count n, double p, Count k) {
    if (k >= n) return 1.0;
    return boost::math::cdf(boost::math::binomial_distribution<>(static_cast<double>(n), p), static_cast<double>(k));
}
template <class Count>
[[nodiscard]] double binomial_share_above(Count n, double p, Count k) {
    if (k >= n) return 0.0;
    return boost::math::cdf(boost::math::complement(boost::math::binomial_distribution<>(static_cast<double>(n), p),
                                                    static_cast<double>(k)));
}

/// The largest rank r, 1 to n, of which the r-th smallest value is at or below the p-quantile with a chance of at least
/// 1 - `risk`: P(B <= r - 1) <= risk with B binomial of n and p. None where not even the smallest is.
template <class Count>
[[nodiscard]] std::optional<Count> rank_below(Count n, double p, double risk) {
    if (binomial_share(n, p, Count{0}) > risk) return std::nullopt;
    Count holds = 1, fails = n + 1; // of ranks
    while (fails - holds > 1) {
        const Count middle = holds + (fails - holds) / 2;
        (binomial_share(n, p, middle - 1) <= risk ? holds : fails) = middle;
    }
    return holds;
}

/// The smallest rank of which the value is at or above the p-quantile with a chance of at least 1 - `risk`: P(B >= r) <= risk.
template <class Count>
[[nodiscard]] std::optional<Count> rank_above(Count n, double p, double risk) {
    if (binomial_share_above(n, p, n - 1) > risk) return std::nullopt;
    Count fails = 0, holds = n;
    while (holds - fails > 1) {
        const Count middle = fails + (holds - fails) / 2;
        (binomial_share_above(n, p, middle - 1) <= risk ? holds : fails) = middle;
    }
    return holds;
}

} // namespace tranche::detail
