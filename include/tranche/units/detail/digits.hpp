// Numbers in as many digits as tell them apart in practice, independent of the locale: what `<<` of quantities writes.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <charconv>
#include <cmath>
#include <string>

#include <tranche/units/detail/config.hpp>

namespace tranche::detail {

/// 15 significant digits, which every double keeps (DBL_DIG), without trailing zeros but for `least_decimals` (0 to 9):
/// "25", "304.8", "7.90". No exponent from 10^-12 to 10^15, so that it can be read back there.
[[nodiscard]] TRANCHE_COLD inline std::string digits(double value, int least_decimals = 0) {
    std::array<char, 64> text{};
    char* const begin = text.data();
    const double size = std::abs(value);
    if (!std::isfinite(value) || size >= 1e15 || (size > 0.0 && size < 1e-12))
        return {begin, std::to_chars(begin, begin + text.size(), value, std::chars_format::general, 15).ptr};
    const int before_point = size > 0.0 ? static_cast<int>(std::floor(std::log10(size))) + 1 : 1;
    const int decimals = before_point >= 15 ? 0 : 15 - before_point;
    std::string fixed(begin, std::to_chars(begin, begin + text.size(), size, std::chars_format::fixed, decimals).ptr);
    if (decimals > 0) fixed.erase(fixed.find_last_not_of('0') + 1);
    if (fixed.back() == '.') fixed.pop_back();
    if (least_decimals > 0) {
        auto point = fixed.find('.');
        if (point == std::string::npos) {
            point = fixed.size();
            fixed += '.';
        }
        while (fixed.size() - point <= static_cast<std::size_t>(least_decimals)) fixed += '0';
    }
    return value < 0.0 ? '-' + fixed : fixed;
}

} // namespace tranche::detail
