// Sums and differences of 64-bit integers that say when they do not fit.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <limits>

#include <tranche/units/detail/config.hpp>

namespace tranche::detail {

/// Whether a + b does not fit; `sum` is it where it does.
[[nodiscard]] constexpr bool sum_overflows(std::int64_t a, std::int64_t b, std::int64_t& sum) {
#if TRANCHE_HAS_OVERFLOW_BUILTINS
    return __builtin_add_overflow(a, b, &sum);
#else
    using limits = std::numeric_limits<std::int64_t>;
    if (b > 0 ? a > limits::max() - b : a < limits::min() - b) return true;
    sum = a + b;
    return false;
#endif
}

/// Whether a - b does not fit; `difference` is it where it does.
[[nodiscard]] constexpr bool difference_overflows(std::int64_t a, std::int64_t b, std::int64_t& difference) {
#if TRANCHE_HAS_OVERFLOW_BUILTINS
    return __builtin_sub_overflow(a, b, &difference);
#else
    using limits = std::numeric_limits<std::int64_t>;
    if (b > 0 ? a < limits::min() + b : a > limits::max() + b) return true;
    difference = a - b;
    return false;
#endif
}

} // namespace tranche::detail
