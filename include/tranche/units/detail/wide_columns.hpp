// Loops over columns of numbers, done as many at a time as the machine can that runs them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>

#include <tranche/units/detail/config.hpp>

namespace tranche::detail {

#if TRANCHE_HAS_WIDE_COLUMNS && !defined(__AVX2__) // else all code is for them

/// What a processor of today has beside the least that a compiler may count on: registers of 256 bits. Fused multiply-add is not
/// part of it, so results are the same to the last bit.
template <class Loops>
[[gnu::noinline, gnu::target("avx2")]] void in_wide_registers(Loops loops) {
    loops();
}

/// Calls loops(), which must be marked TRANCHE_INLINED, as what it calls has to be: compiled for wide registers where the machine
/// has them. What loops() needs it holds as values and pointers, not as references, or compilers do one at a time.
template <class Loops>
inline void in_columns(Loops loops) {
    if (__builtin_cpu_supports("avx2"))
        in_wide_registers(loops);
    else
        loops();
}

#else

template <class Loops>
inline void in_columns(Loops loops) {
    loops();
}

#endif

/// Puts the square root in place of each of so many numbers, zero or more. Compilers do not take `std::sqrt` together, as it may
/// set errno. Roots are rounded to the nearest either way, so they are the same to the last bit.
inline void take_roots(double* numbers, std::size_t count) {
    std::size_t i = 0;
#if TRANCHE_HAS_ROOTS_OF_TWO
    using two_numbers = double __attribute__((vector_size(16)));
    for (; i + 2 <= count; i += 2) {
        const two_numbers roots = __builtin_ia32_sqrtpd(two_numbers{numbers[i], numbers[i + 1]});
        numbers[i] = roots[0];
        numbers[i + 1] = roots[1];
    }
#endif
    for (; i < count; ++i) numbers[i] = std::sqrt(numbers[i]);
}

} // namespace tranche::detail
