// Square roots of a column of numbers, several at a time where the target has an instruction for that.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>

#if defined(__SSE2__) && !defined(__FAST_MATH__)
#include <emmintrin.h>
#endif

namespace tranche::detail {

/// Puts the square root in place of each of so many numbers, zero or more. Compilers do not take `std::sqrt` together, as it may
/// set errno. Roots are rounded to the nearest either way, so they are the same to the last bit.
inline void take_roots(double* numbers, std::size_t count) {
    std::size_t i = 0;
#if defined(__SSE2__) && !defined(__FAST_MATH__)
    for (; i + 2 <= count; i += 2) _mm_storeu_pd(numbers + i, _mm_sqrt_pd(_mm_loadu_pd(numbers + i)));
#endif
    for (; i < count; ++i) numbers[i] = std::sqrt(numbers[i]);
}

} // namespace tranche::detail
