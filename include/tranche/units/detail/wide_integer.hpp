// Whole numbers of 128 bits, for products of masses, fat contents and prices that have to be exact.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/units/detail/config.hpp>
#if !TRANCHE_HAS_INT128
#include <boost/multiprecision/cpp_int.hpp>
#endif

namespace tranche::detail {

#if TRANCHE_HAS_INT128
__extension__ using wide_integer = __int128;
#else
using wide_integer = boost::multiprecision::int128_t;
#endif

/// Quotient of a numerator that is not negative and a divisor above zero, rounded up.
[[nodiscard]] constexpr wide_integer divided_up(wide_integer numerator, wide_integer divisor) {
    return (numerator + divisor - 1) / divisor;
}

/// Whether the product of `a` and `b` does not fit; `product` is it where it does.
[[nodiscard]] constexpr bool product_overflows(const wide_integer& a, const wide_integer& b, wide_integer& product) {
#if TRANCHE_HAS_INT128 && TRANCHE_HAS_OVERFLOW_BUILTINS
    return __builtin_mul_overflow(a, b, &product);
#else
    // The most that both kinds hold, without the last one at the negative end.
    constexpr wide_integer most = ((wide_integer{1} << 126) - 1) * 2 + 1;
    const wide_integer size_of_a = a < 0 ? -a : a, size_of_b = b < 0 ? -b : b;
    if (size_of_b != 0 && size_of_a > most / size_of_b) return true;
    product = a * b;
    return false;
#endif
}

} // namespace tranche::detail
