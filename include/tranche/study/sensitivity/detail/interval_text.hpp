// An estimate and its interval in words, with as many digits as the interval leaves sense in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <string>

#include <tranche/statistics/sample_summary.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>

namespace tranche::detail {

/// Decimals that show the first digit of a number.
[[nodiscard]] inline int first_decimal(double number) {
    return number > 0.0 ? std::clamp(static_cast<int>(-std::floor(std::log10(number))), 0, 9) : 6;
}

/// "0.314 (0.309 to 0.319)", or "not distinguishable from zero (at most 0.0021)".
[[nodiscard]] TRANCHE_COLD inline std::string interval_text(double value, const confidence_interval& interval,
                                                            bool above_zero) {
    if (!above_zero)
        return "not distinguishable from zero (at most " +
               shown(interval.high, std::min(9, first_decimal(interval.high) + 1)) + ')';
    const int digits = first_decimal(0.5 * (interval.high - interval.low));
    return shown(value, digits) + " (" + shown(interval.low, digits) + " to " + shown(interval.high, digits) + ')';
}

} // namespace tranche::detail
