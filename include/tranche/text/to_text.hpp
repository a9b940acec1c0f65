// Quantities as a kitchen writes them: 12 lb 6 oz, 1 1/4 in, 340 g, 7.90 USD/lb.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstdint>
#include <numeric>
#include <string>

#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// How a mass is written: in which unit, to which part of it. `parts` is a power of ten (written as decimals) or any
/// other whole number (written as a common fraction in lowest terms). With pounds and ounces it divides the ounce.
struct mass_division {
    enum class unit { grams, kilograms, ounces, pounds, pounds_and_ounces };
    unit in = unit::grams;
    int parts = 1;

    friend bool operator==(const mass_division&, const mass_division&) = default;
};
inline constexpr mass_division whole_grams{mass_division::unit::grams, 1};
inline constexpr mass_division whole_ounces{mass_division::unit::ounces, 1};
inline constexpr mass_division quarter_ounces{mass_division::unit::ounces, 4};
inline constexpr mass_division pounds_and_whole_ounces{mass_division::unit::pounds_and_ounces, 1};
inline constexpr mass_division pounds_and_quarter_ounces{mass_division::unit::pounds_and_ounces, 4};
inline constexpr mass_division hundredths_of_pound{mass_division::unit::pounds, 100};
inline constexpr mass_division thousandths_of_kilogram{mass_division::unit::kilograms, 1000};

/// How a length is written; see `mass_division` for `parts`.
struct length_division {
    enum class unit { millimetres, centimetres, metres, inches };
    unit in = unit::millimetres;
    int parts = 1;

    friend bool operator==(const length_division&, const length_division&) = default;
};
inline constexpr length_division whole_millimetres{length_division::unit::millimetres, 1};
inline constexpr length_division tenths_of_millimetre{length_division::unit::millimetres, 10};
inline constexpr length_division tenths_of_centimetre{length_division::unit::centimetres, 10};
inline constexpr length_division sixteenths_of_inch{length_division::unit::inches, 16};
inline constexpr length_division quarters_of_inch{length_division::unit::inches, 4};

/// The mass unit below the stroke of a price.
enum class price_basis { per_kilogram, per_pound, per_ounce, per_100_grams };

namespace detail {

[[nodiscard]] inline bool is_power_of_ten(std::int64_t n) {
    while (n > 1 && n % 10 == 0) n /= 10;
    return n == 1;
}

/// `value` in units of 1/`parts`, rounded to the nearest, halves away from zero.
[[nodiscard]] inline std::int64_t counted(double value, std::int64_t parts, const char* field) {
    if (parts < 1) throw invalid_input("parts", std::to_string(parts), "at least 1");
    const double count = value * static_cast<double>(parts);
    // Reading rounds twice (number, product with the unit) and so does writing (quotient, product with the parts), each by
    // half a unit in the last place at most: 4 × 2^-53 × 10^15 = 0.44 steps, so that what was written is written again.
    if (!(std::abs(count) < 999'999'999'999'999.5))
        throw invalid_input(field, detail::shown(value), "a finite value of at most 15 digits");
    return std::llround(count);
}

/// A non-negative count of 1/`parts` as "5", "5.30" (powers of ten), "1 1/4" or "3/4" (other parts).
[[nodiscard]] TRANCHE_COLD inline std::string number_text(std::int64_t count, std::int64_t parts) {
    const std::int64_t whole = count / parts, rest = count % parts;
    if (parts == 1) return std::to_string(whole);
    if (is_power_of_ten(parts)) {
        const std::string digits = std::to_string(parts + rest); // a leading 1 keeps the zeros
        return std::to_string(whole) + '.' + digits.substr(1);
    }
    if (rest == 0) return std::to_string(whole);
    const std::int64_t divisor = std::gcd(rest, parts);
    const std::string part = std::to_string(rest / divisor) + '/' + std::to_string(parts / divisor);
    return whole == 0 ? part : std::to_string(whole) + ' ' + part;
}

[[nodiscard]] TRANCHE_COLD inline std::string signed_text(std::int64_t count, std::int64_t parts) {
    return (count < 0 ? "-" : "") + number_text(count < 0 ? -count : count, parts);
}

[[nodiscard]] constexpr mass basis_mass(price_basis basis) {
    switch (basis) {
    case price_basis::per_pound: return pound;
    case price_basis::per_ounce: return ounce;
    case price_basis::per_100_grams: return 100.0 * gram;
    case price_basis::per_kilogram: break;
    }
    return kilogram;
}

[[nodiscard]] constexpr const char* basis_name(price_basis basis) {
    switch (basis) {
    case price_basis::per_pound: return "lb";
    case price_basis::per_ounce: return "oz";
    case price_basis::per_100_grams: return "100 g";
    case price_basis::per_kilogram: break;
    }
    return "kg";
}

} // namespace detail

/// A decimal number with `digits` places (0 to 15), independent of the locale. Throws `invalid_input` for NaN, infinity
/// and what needs more than 15 digits.
[[nodiscard]] TRANCHE_COLD inline std::string to_text(double value, int digits) {
    if (digits < 0 || digits > 15) throw invalid_input("digits", std::to_string(digits), "0 to 15");
    std::int64_t parts = 1;
    for (int i = 0; i < digits; ++i) parts *= 10;
    return detail::signed_text(detail::counted(value, parts, "number"), parts);
}

/// "12 lb 6 oz", "11 1/4 oz", "5.398 kg": the nearest division, halves away from zero. `from_text<mass>` reads it back
/// to the same division. Throws `invalid_input` for NaN, infinity and 10^15 divisions or more.
[[nodiscard]] TRANCHE_COLD inline std::string to_text(mass m, mass_division how) {
    using unit = mass_division::unit;
    const auto written = [&](mass one, const char* name) {
        return detail::signed_text(detail::counted(m / one, how.parts, "mass"), how.parts) + ' ' + name;
    };
    switch (how.in) {
    case unit::grams: return written(gram, "g");
    case unit::kilograms: return written(kilogram, "kg");
    case unit::ounces: return written(ounce, "oz");
    case unit::pounds: return written(pound, "lb");
    case unit::pounds_and_ounces: break;
    }
    const std::int64_t count = detail::counted(m / ounce, how.parts, "mass");
    const std::int64_t size = count < 0 ? -count : count, per_pound = std::int64_t{16} * how.parts;
    const std::int64_t pounds = size / per_pound, rest = size % per_pound;
    std::string text = count < 0 ? "-" : "";
    if (pounds != 0) text += std::to_string(pounds) + " lb";
    if (pounds != 0 && rest != 0) text += ' ';
    if (pounds == 0 || rest != 0) text += detail::number_text(rest, how.parts) + " oz";
    return text;
}

/// "1 1/4 in", "32 mm", "41.9 cm"; otherwise as for a mass. The nearest division, halves away from zero, read back by
/// `from_text<length>`. Throws `invalid_input` for NaN, infinity and 10^15 divisions or more. Feet, inches: NIST
/// Handbook 44, appendix C.
[[nodiscard]] TRANCHE_COLD inline std::string to_text(length l, length_division how) {
    using unit = length_division::unit;
    const auto written = [&](length one, const char* name) {
        return detail::signed_text(detail::counted(l / one, how.parts, "length"), how.parts) + ' ' + name;
    };
    switch (how.in) {
    case unit::millimetres: return written(millimetre, "mm");
    case unit::centimetres: return written(centimetre, "cm");
    case unit::metres: return written(metre, "m");
    case unit::inches: break;
    }
    return written(inch, "in");
}

/// "3 h 20 min", "20 min", to the nearest minute. Halves away from zero; below zero it has a sign. Throws as for a
/// mass, with minutes as divisions.
[[nodiscard]] TRANCHE_COLD inline std::string to_text(duration t) {
    const std::int64_t count = detail::counted(t / minute, 1, "duration"), size = count < 0 ? -count : count;
    std::string text = count < 0 ? "-" : "";
    if (size >= 60) text += std::to_string(size / 60) + " h";
    if (size >= 60 && size % 60 != 0) text += ' ';
    if (size < 60 || size % 60 != 0) text += std::to_string(size % 60) + " min";
    return text;
}

/// "7.90 USD": to `extra_digits` beyond the currency's minor unit, halves away from zero. `extra_digits` is 0 or more,
/// and 15 at most together with those of the currency (ISO 4217). Throws `invalid_input` as `to_text` of a number.
template <detail::any_money Money>
[[nodiscard]] TRANCHE_COLD std::string to_text(Money m, int extra_digits = 0) {
    using C = detail::currency_of<Money>;
    return to_text(m.value(), C::minor_digits + extra_digits) + ' ' + std::string(C::code);
}

/// "7.90 USD/lb": to `extra_digits` beyond the currency's minor unit, halves away from zero. `basis` is the mass below
/// the stroke, `extra_digits` 0 or more and 15 together with those of the currency. Throws `invalid_input` as `to_text`
/// of a number.
template <detail::any_price Price>
[[nodiscard]] TRANCHE_COLD std::string to_text(Price p, price_basis basis, int extra_digits = 0) {
    const money<detail::currency_of<Price>> of_basis = p * detail::basis_mass(basis);
    return to_text(of_basis, extra_digits) + '/' + detail::basis_name(basis);
}

/// "18.00 USD/h". By the hour, to `extra_digits` (0 or more) beyond the minor unit, halves away from zero. Throws
/// `invalid_input` as `to_text` of a number.
template <detail::any_wage Wage>
[[nodiscard]] TRANCHE_COLD std::string to_text(Wage w, int extra_digits = 0) {
    const money<detail::currency_of<Wage>> an_hour = w * hour;
    return to_text(an_hour, extra_digits) + "/h";
}

/// "16.77 %" from 0.1677. `f` is a share, any finite number, and `digits` are 0 to 15. Throws `invalid_input` as
/// `to_text` of a number.
[[nodiscard]] TRANCHE_COLD inline std::string percent_text(fraction f, int digits = 1) {
    return to_text(f * 100.0, digits) + " %";
}

namespace detail {

/// How many decimals of a percentage it takes to see that two fat contents are not the same: `least`, or up to twelve.
[[nodiscard]] inline int digits_apart(fraction one, fraction other, int least) {
    int digits = least;
    while (digits < 12 && percent_text(one, digits) == percent_text(other, digits)) ++digits;
    return one == other ? least : digits;
}

} // namespace detail

} // namespace tranche
