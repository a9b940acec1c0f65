// Numbers and quantities as error messages show them: short, and independent of the locale.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <charconv>
#include <cmath>
#include <string>

#include <tranche/units/detail/config.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// "nan", "inf", or at most `digits` decimals (0 to 15) without trailing zeros; what would be shown as zero, or is beyond
/// 900 million, with three digits and an exponent instead.
[[nodiscard]] inline std::string shown(double value, int digits = 6) {
    std::array<char, 64> text{};
    const auto written = [&](std::chars_format format, int precision) {
        const auto [end, error] = std::to_chars(text.data(), text.data() + text.size(), value, format, precision);
        return std::string(text.data(), end);
    };
    if (!std::isfinite(value)) return written(std::chars_format::general, 3);
    if (!(std::abs(value) < 9e8)) return written(std::chars_format::general, 3);
    std::string fixed = written(std::chars_format::fixed, digits);
    if (digits > 0) {
        while (fixed.back() == '0') fixed.pop_back();
        if (fixed.back() == '.') fixed.pop_back();
    }
    const bool zero = fixed == "0" || fixed == "-0";
    return zero && value != 0.0 ? written(std::chars_format::general, 3) : zero ? "0" : fixed;
}
[[nodiscard]] TRANCHE_COLD inline std::string shown(length value) { return shown(value / millimetre, 2) + " mm"; }
[[nodiscard]] TRANCHE_COLD inline std::string shown(mass value) { return shown(value / gram, 1) + " g"; }
[[nodiscard]] TRANCHE_COLD inline std::string shown(density value) { return shown(value.value(), 1) + " kg/m3"; }

} // namespace tranche::detail
