// Arithmetic for loops over columns of numbers, as compilers can do it for several at a time.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <bit>
#include <cfloat>
#include <cstddef>
#include <cstdint>
#include <span>

namespace tranche::detail {

/// std::min and std::max of values, not references: those keep g++ 12 from doing several at a time.
[[nodiscard]] constexpr double lesser(double a, double b) { return b < a ? b : a; }
[[nodiscard]] constexpr double greater(double a, double b) { return a < b ? b : a; }

/// Below this, 2^51, the functions here are exact.
inline constexpr std::int64_t most_whole_double = std::int64_t{1} << 51;

/// The nearest whole number, halves up, of any that fits in 64 bits and is not below zero.
[[nodiscard]] inline std::int64_t nearest_of_any(double number) {
    const auto whole = static_cast<std::int64_t>(number);
    return whole + (number - static_cast<double>(whole) >= 0.5 ? 1 : 0);
}
/// Whether no number is below the one before it; none may be NaN. As `std::is_sorted`, which looks at one at a time.
[[nodiscard]] inline bool never_falls(std::span<const double> numbers) {
    const double* const each = numbers.data();
    std::uint64_t falls = 0; // in its sign
    for (std::size_t i = 1; i < numbers.size(); ++i) falls |= std::bit_cast<std::uint64_t>(each[i] - each[i - 1]);
    return falls >> 63 == 0;
}

#if defined(FLT_EVAL_METHOD) && FLT_EVAL_METHOD == 0 && !defined(__FAST_MATH__)

// A double from 2^52 on has a whole number in its last bits; conversions of 64 bits are for one at a time on many targets.
inline constexpr std::int64_t bits_of_2_to_52 = std::bit_cast<std::int64_t>(0x1p52);

/// The same number, 0 to `most_whole_double`.
[[nodiscard]] inline double whole_as_double(std::int64_t whole) {
    return std::bit_cast<double>(whole + bits_of_2_to_52) - 0x1p52;
}
/// The nearest whole number, halves up, of 0 to `most_whole_double`.
[[nodiscard]] inline std::int64_t nearest_whole_of(double number) {
    const double nearest = (number + 0x1p52) - 0x1p52; // a half may have gone down
    const double up = number - nearest >= 0.5 ? 1.0 : 0.0;
    return std::bit_cast<std::int64_t>(nearest + up + 0x1p52) - bits_of_2_to_52;
}

#else // what comes in between has more digits than doubles, or may be put together otherwise

[[nodiscard]] inline double whole_as_double(std::int64_t whole) { return static_cast<double>(whole); }
[[nodiscard]] inline std::int64_t nearest_whole_of(double number) { return nearest_of_any(number); }

#endif

} // namespace tranche::detail
