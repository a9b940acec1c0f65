// Exact mass: whole micrograms in a 64-bit integer, so that slices of a loin add up to the loin with no tolerance.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <iosfwd>
#include <string>

#include <tranche/units/detail/overflow.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// A whole number of micrograms; every mass below 9.2 million tonnes fits. Sums and differences are exact. Loops that
/// cannot leave 64 bits add up `count`. Sums beyond 64 bits throw `invalid_input`.
struct micrograms {
    std::int64_t count = 0;

    friend constexpr auto operator<=>(const micrograms&, const micrograms&) = default;
    // Sums and differences throw `invalid_input` where 64 bits do not hold them.
    friend constexpr micrograms operator+(micrograms a, micrograms b) {
        micrograms sum;
        if (detail::sum_overflows(a.count, b.count, sum.count)) overflow();
        return sum;
    }
    friend constexpr micrograms operator-(micrograms a, micrograms b) {
        micrograms difference;
        if (detail::difference_overflows(a.count, b.count, difference.count)) overflow();
        return difference;
    }
    constexpr micrograms& operator+=(micrograms other) { return *this = *this + other; }
    constexpr micrograms& operator-=(micrograms other) { return *this = *this - other; }

private:
    [[noreturn]] static void overflow() {
        throw invalid_input("mass", "a sum beyond 64 bits", "one below 9.2 million tonnes");
    }
};

namespace detail {

inline constexpr double micrograms_in_a_kilogram = 1e9;

} // namespace detail

/// The mass as a quantity, for rates and prices. In kilograms, of any sign, exact up to 2^53 micrograms (9007 t), the
/// nearest double beyond. Throws nothing.
[[nodiscard]] constexpr mass to_mass(micrograms m) {
    return mass::from_value(static_cast<double>(m.count) / detail::micrograms_in_a_kilogram);
}

/// The nearest whole microgram, halves away from zero. Throws `invalid_input`, naming `field`, for NaN and for what does
/// not fit (9.2 million tonnes).
[[nodiscard]] inline micrograms to_micrograms(mass m, const char* field = "mass") {
    const double count = m.value() * detail::micrograms_in_a_kilogram;
    if (!(std::abs(count) < 9.2e18)) throw invalid_input(field, detail::shown(m), "a finite mass");
    return {std::llround(count)};
}

/// "340 g", "5.2 kg": as a mass. Micrograms that differ by less than 10^-15 of themselves look the same.
template <class Traits>
std::basic_ostream<char, Traits>& operator<<(std::basic_ostream<char, Traits>& out, micrograms m) {
    return out << to_mass(m);
}

} // namespace tranche

template <>
struct std::hash<tranche::micrograms> {
    [[nodiscard]] std::size_t operator()(tranche::micrograms m) const noexcept {
        return std::hash<std::int64_t>{}(m.count);
    }
};
