// The number at the start of a text, as std::from_chars reads it, for libraries that have no such function for double too.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <charconv>

#include <tranche/units/detail/config.hpp>
#if !TRANCHE_HAS_FLOATING_FROM_CHARS
#include <algorithm>
#include <clocale>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <limits>
#include <string>
#include <string_view>
#include <system_error>
#endif

namespace tranche::detail {

#if TRANCHE_HAS_FLOATING_FROM_CHARS

/// `std::from_chars`: correctly rounded, whatever the locale.
inline std::from_chars_result number_from_chars(const char* first, const char* last, double& value,
                                                std::chars_format format = std::chars_format::general) {
    return std::from_chars(first, last, value, format);
}

#else

/// Behind the digits at `at`.
[[nodiscard]] inline const char* behind_digits(const char* at, const char* last) {
    return std::find_if(at, last, [](char c) { return c < '0' || c > '9'; });
}

/// Behind `word`, in small letters, or `at` where it does not stand there in small or large ones.
[[nodiscard]] inline const char* behind_word(const char* at, const char* last, std::string_view word) {
    const auto same = [](char given, char small) { return given == small || given == small - 'a' + 'A'; };
    if (last - at < static_cast<std::ptrdiff_t>(word.size()) ||
        !std::equal(word.begin(), word.end(), at, [&](char small, char given) { return same(given, small); }))
        return at;
    return at + word.size();
}

/// What `std::from_chars` is specified to do (ISO C++20, [charconv.from.chars]) for the formats `general` and `fixed`: takes
/// the longest decimal number, "inf", "infinity" or "nan", with or without a minus, that the text starts with, and rounds it
/// correctly. The words are told apart here, and the digits are left to `strtod`.
inline std::from_chars_result number_from_chars(const char* first, const char* last, double& value,
                                                std::chars_format format = std::chars_format::general) {
    const bool negative = first != last && *first == '-';
    const char* const from = negative ? first + 1 : first;
    const auto found = [&](double size, const char* end) {
        value = negative ? -size : size;
        return std::from_chars_result{end, std::errc{}};
    };
    if (const char* end = behind_word(from, last, "inf"); end != from)
        return found(std::numeric_limits<double>::infinity(), behind_word(end, last, "inity"));
    if (const char* end = behind_word(from, last, "nan"); end != from)
        return found(std::numeric_limits<double>::quiet_NaN(), end);

    const char* const point = behind_digits(from, last);
    const char* end = point != last && *point == '.' ? behind_digits(point + 1, last) : point;
    if (end == from || (end == from + 1 && point == from)) return {first, std::errc::invalid_argument};
    const char* const mantissa_end = end;
    if (format == std::chars_format::general && end != last && (*end == 'e' || *end == 'E')) {
        const char* digits = end + 1;
        if (digits != last && (*digits == '-' || *digits == '+')) ++digits;
        if (const char* behind = behind_digits(digits, last); behind != digits) end = behind;
    }

    // The one thing of strtod that hangs on the locale.
    std::string text(from, point);
    if (point != mantissa_end)
        text.append(std::localeconv()->decimal_point).append(point + 1, end);
    else
        text.append(point, end);
    const double size = std::strtod(text.c_str(), nullptr);
    const bool zero = std::all_of(from, mantissa_end, [](char c) { return c == '0' || c == '.'; });
    if (std::isinf(size) || (size == 0.0 && !zero)) return {end, std::errc::result_out_of_range};
    return found(size, end);
}

#endif

} // namespace tranche::detail
