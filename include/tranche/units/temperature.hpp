// A temperature on the Celsius scale, told apart from a plain number; literals 4_degC and 40_degF.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <compare>
#include <cstddef>
#include <iosfwd>
#include <string>
#include <string_view>

#include <tranche/units/detail/digits.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Degrees Celsius. A point on a scale and no quantity: temperatures compare, but do not add.
struct temperature {
    double celsius = 0.0;

    friend constexpr auto operator<=>(const temperature&, const temperature&) = default;

    /// T(°C) = (T(°F) - 32) × 5 / 9. `degrees` in °F, any number, not checked against absolute zero. Throws nothing.
    /// Source: NIST SP 811, appendix B (from memory).
    [[nodiscard]] static constexpr temperature from_fahrenheit(double degrees) {
        return {(degrees - 32.0) * 5.0 / 9.0};
    }
    /// °F, any number, by the inverse: T(°C) × 9 / 5 + 32. Throws nothing. Source: as `from_fahrenheit`.
    [[nodiscard]] constexpr double fahrenheit() const { return celsius * 9.0 / 5.0 + 32.0; }

    /// "4 degC", to 15 significant digits.
    template <class Traits>
    friend std::basic_ostream<char, Traits>& operator<<(std::basic_ostream<char, Traits>& out, temperature t) {
        return out << detail::digits(t.celsius) << " degC";
    }
};

namespace detail {
[[nodiscard]] inline std::string shown(temperature value) { return detail::shown(value.celsius, 2) + " degC"; }
} // namespace detail

namespace detail {

/// Throws `invalid_input` unless `value` lies from `low` to `high`, ends included.
inline void require_between(temperature value, temperature low, temperature high, std::string_view field) {
    if (!(low <= value && value <= high))
        throw invalid_input(std::string(field), detail::shown(value),
                            detail::shown(low) + " to " + detail::shown(high));
}

} // namespace detail

} // namespace tranche

template <>
struct std::hash<tranche::temperature> {
    [[nodiscard]] std::size_t operator()(tranche::temperature t) const noexcept {
        return std::hash<double>{}(t.celsius);
    }
};

namespace tranche::literals {

[[nodiscard]] constexpr temperature operator""_degC(long double x) { return {static_cast<double>(x)}; }
[[nodiscard]] constexpr temperature operator""_degC(unsigned long long x) { return {static_cast<double>(x)}; }
[[nodiscard]] constexpr temperature operator""_degF(long double x) {
    return temperature::from_fahrenheit(static_cast<double>(x));
}
[[nodiscard]] constexpr temperature operator""_degF(unsigned long long x) {
    return temperature::from_fahrenheit(static_cast<double>(x));
}

} // namespace tranche::literals
