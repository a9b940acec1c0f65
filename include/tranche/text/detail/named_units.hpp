// The units that a text may name, and the signs of currencies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <string_view>

#include <tranche/units/quantity.hpp>

namespace tranche::detail {

struct named_unit {
    std::string_view name; ///< in small letters, which stand for capitals too
    double si;             ///< one of it in SI units
    int rank;              ///< units of a compound descend in rank: lb before oz. 0: never in a compound
};

inline constexpr std::array mass_units{
    named_unit{"kg", kilogram.value(), 0},
    named_unit{"kgs", kilogram.value(), 0},
    named_unit{"kilo", kilogram.value(), 0},
    named_unit{"kilos", kilogram.value(), 0},
    named_unit{"kilogram", kilogram.value(), 0},
    named_unit{"kilograms", kilogram.value(), 0},
    named_unit{"g", gram.value(), 0},
    named_unit{"gram", gram.value(), 0},
    named_unit{"grams", gram.value(), 0},
    named_unit{"lb", pound.value(), 2},
    named_unit{"lbs", pound.value(), 2},
    named_unit{"pound", pound.value(), 2},
    named_unit{"pounds", pound.value(), 2},
    named_unit{"oz", ounce.value(), 1},
    named_unit{"ounce", ounce.value(), 1},
    named_unit{"ounces", ounce.value(), 1},
};
inline constexpr std::array length_units{
    named_unit{"mm", millimetre.value(), 0},
    named_unit{"millimetre", millimetre.value(), 0},
    named_unit{"millimetres", millimetre.value(), 0},
    named_unit{"millimeter", millimetre.value(), 0},
    named_unit{"millimeters", millimetre.value(), 0},
    named_unit{"cm", centimetre.value(), 0},
    named_unit{"centimetre", centimetre.value(), 0},
    named_unit{"centimetres", centimetre.value(), 0},
    named_unit{"centimeter", centimetre.value(), 0},
    named_unit{"centimeters", centimetre.value(), 0},
    named_unit{"m", metre.value(), 0},
    named_unit{"metre", metre.value(), 0},
    named_unit{"metres", metre.value(), 0},
    named_unit{"meter", metre.value(), 0},
    named_unit{"meters", metre.value(), 0},
    named_unit{"in", inch.value(), 1},
    named_unit{"inch", inch.value(), 1},
    named_unit{"inches", inch.value(), 1},
    named_unit{"\"", inch.value(), 1},
    named_unit{"″", inch.value(), 1},
    named_unit{"”", inch.value(), 1},
    named_unit{"ft", foot.value(), 2},
    named_unit{"foot", foot.value(), 2},
    named_unit{"feet", foot.value(), 2},
    named_unit{"'", foot.value(), 2},
    named_unit{"′", foot.value(), 2},
};
inline constexpr std::array duration_units{
    named_unit{"h", 3600.0, 3},    named_unit{"hr", 3600.0, 3},    named_unit{"hrs", 3600.0, 3},
    named_unit{"hour", 3600.0, 3}, named_unit{"hours", 3600.0, 3}, named_unit{"min", 60.0, 2},
    named_unit{"mins", 60.0, 2},   named_unit{"minute", 60.0, 2},  named_unit{"minutes", 60.0, 2},
    named_unit{"s", 1.0, 1},       named_unit{"second", 1.0, 1},   named_unit{"seconds", 1.0, 1},
};
inline constexpr std::array density_units{
    named_unit{"kg/m3", 1.0, 0},
    named_unit{"kg/m³", 1.0, 0},
    named_unit{"g/cm3", 1000.0, 0},
    named_unit{"g/cm³", 1000.0, 0},
};

/// A sign that stands for a currency where it is known which one is meant, and the codes of those that use it (from memory).
struct currency_sign {
    std::string_view sign;
    std::string_view codes;
};
inline constexpr std::array currency_signs{
    currency_sign{"$",
                  "ARS AUD BBD BMD BND BSD BZD CAD CLP COP DOP FJD GYD HKD JMD KYD LRD MXN NAD NZD SBD SGD SRD TTD TWD "
                  "USD UYU XCD"},
    currency_sign{"€", "EUR"},
    currency_sign{"£", "EGP FKP GBP GIP LBP SHP SSP SYP"},
    currency_sign{"¥", "CNY JPY"},
    currency_sign{"￥", "CNY JPY"},
    currency_sign{"₩", "KPW KRW"},
    currency_sign{"₹", "INR"},
};

} // namespace tranche::detail
