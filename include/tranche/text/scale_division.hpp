// The steps of a scale as masses and as text: how large a division is, and weights written in full or from above.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>

#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/same_weight.hpp>
#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

namespace detail {

/// The unit of a division in eighths of a microgram, of which pound, ounce and kilogram are all whole numbers (1 oz is
/// 28 349 523.125 micrograms).
[[nodiscard]] inline std::int64_t unit_in_eighths(mass_division how) {
    switch (how.in) {
    case mass_division::unit::grams: return 8'000'000;
    case mass_division::unit::kilograms: return 8'000'000'000;
    case mass_division::unit::ounces: return 226'796'185;
    case mass_division::unit::pounds: return 3'628'738'960;
    case mass_division::unit::pounds_and_ounces: break;
    }
    throw invalid_input("division", "pounds and ounces", "one unit: kg, g, lb or oz");
}

} // namespace detail

/// Throws `invalid_input` for a division that no scale has: of two units, or not 1/1 to 1/1000000 of one.
inline void validate(mass_division division) {
    (void)detail::unit_in_eighths(division);
    if (division.parts < 1 || division.parts > 1'000'000)
        throw invalid_input("division", "1/" + std::to_string(division.parts), "1/1 to 1/1000000 of its unit");
}

/// The division of a scale as a mass. Above zero. Throws `invalid_input` as `validate` does. Ounces and pounds are
/// those of NIST Handbook 44, appendix C.
[[nodiscard]] inline mass size_of(mass_division division) {
    validate(division);
    return static_cast<double>(detail::unit_in_eighths(division)) / 8e9 / division.parts * kilogram;
}

/// The division in which weights of a scale are written: decimals of kilograms and grams, {kilograms, 1000} for
/// {kilograms, 200}; halves to sixteenths of an ounce or a pound stay common fractions. Any division that `validate`
/// accepts; others come back as they are or in decimals. Throws nothing.
[[nodiscard]] constexpr mass_division as_written(mass_division division) {
    const bool metric = division.in == mass_division::unit::grams || division.in == mass_division::unit::kilograms;
    const bool binary = division.parts <= 16 && (division.parts & (division.parts - 1)) == 0;
    if (!metric && binary) return division;
    for (int ten = 1; ten <= 1'000'000; ten *= 10)
        if (ten % division.parts == 0) return {division.in, ten};
    return division;
}

namespace detail {

/// A weight in the unit of a division, with more decimals than it has where that makes it exact; a millionth at the finest.
[[nodiscard]] inline std::string text_in_full(mass m, mass_division how) {
    mass_division written = as_written(how);
    const auto exact = [&] { return steps_in(m, m, size_of(written), "weight").exact; };
    for (int parts = 10; parts <= 1'000'000 && !exact(); parts *= 10)
        if (!is_power_of_ten(written.parts) || parts > written.parts) written.parts = parts;
    return to_text(m, written);
}

/// A mass that is enough, rounded up to what `how` writes; never to nothing. It is a difference of weights of which each was
/// rounded to whole micrograms, so one of them is no reason for another step.
[[nodiscard]] inline std::string text_from_above(micrograms m, mass_division how) {
    const mass_division one =
        how.in == mass_division::unit::pounds_and_ounces ? mass_division{mass_division::unit::ounces, how.parts} : how;
    const wide_integer steps = divided_up(wide_integer{8} * one.parts * (m.count - 1), unit_in_eighths(one));
    return to_text(static_cast<double>(std::max(steps, wide_integer{1})) * size_of(one), how);
}

} // namespace detail

} // namespace tranche
