// The units that a kitchen reads: how portions, bulk weights, thicknesses, distances and prices are written in a report.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

#include <tranche/units/to_text.hpp>

namespace tranche {

/// How a report writes its quantities. Everything is rounded for display only; sums are made before rounding.
struct kitchen_units {
    mass_division portion{};     ///< one portion or slab, and its trim
    mass_division bulk{};        ///< the loin, and parts of it
    length_division thickness{}; ///< of a slab
    length_division along{};     ///< distance from the rib end
    price_basis basis{};         ///< below the stroke of a price
};

/// Quarter ounces, pounds with quarter ounces, sixteenths of an inch, prices per pound.
inline constexpr kitchen_units us_kitchen{quarter_ounces, pounds_and_quarter_ounces, sixteenths_of_inch,
                                          sixteenths_of_inch, price_basis::per_pound};
/// Grams, kilograms to the gram, millimetres, prices per kilogram.
inline constexpr kitchen_units metric_kitchen{whole_grams, thousandths_of_kilogram, whole_millimetres,
                                              whole_millimetres, price_basis::per_kilogram};

/// "oz": the unit of a division; empty for pounds and ounces, which write their units themselves.
[[nodiscard]] constexpr const char* unit_name(mass_division how) {
    switch (how.in) {
    case mass_division::unit::grams: return "g";
    case mass_division::unit::kilograms: return "kg";
    case mass_division::unit::ounces: return "oz";
    case mass_division::unit::pounds: return "lb";
    case mass_division::unit::pounds_and_ounces: break;
    }
    return "";
}

/// "mm": the unit of a division.
[[nodiscard]] constexpr const char* unit_name(length_division how) {
    switch (how.in) {
    case length_division::unit::millimetres: return "mm";
    case length_division::unit::centimetres: return "cm";
    case length_division::unit::metres: return "m";
    case length_division::unit::inches: break;
    }
    return "in";
}

/// The number of `to_text` without the unit, for a column that has it in its head; pounds and ounces keep theirs.
template <class Quantity, class Division>
[[nodiscard]] std::string number_of(Quantity value, Division how) {
    std::string text = to_text(value, how);
    const std::string unit = unit_name(how);
    if (!unit.empty()) text.resize(text.size() - unit.size() - 1);
    return text;
}

/// "1/4 oz": the smallest step that a division can write.
template <class Division>
[[nodiscard]] std::string smallest_step(Division how) {
    const std::string unit = unit_name(how);
    return detail::number_text(1, how.parts) + ' ' + (unit.empty() ? "oz" : unit);
}

} // namespace tranche
