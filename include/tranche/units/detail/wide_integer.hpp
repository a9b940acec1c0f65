// Whole numbers of 128 bits, for products of masses, fat contents and prices that have to be exact.
// SPDX-License-Identifier: BSL-1.0
#pragma once

namespace tranche::detail {

__extension__ using wide_integer = __int128;

/// Quotient of a numerator that is not negative and a divisor above zero, rounded up.
[[nodiscard]] constexpr wide_integer divided_up(wide_integer numerator, wide_integer divisor) {
    return (numerator + divisor - 1) / divisor;
}

} // namespace tranche::detail
