// Loops over columns of numbers, done as many at a time as the machine can that runs them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/units/detail/config.hpp>

namespace tranche::detail {

#if TRANCHE_HAS_WIDE_COLUMNS

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

} // namespace tranche::detail
