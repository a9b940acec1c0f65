// The units that a text may name, and the signs of currencies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <string_view>

#include <tranche/units/quantity.hpp>

namespace tranche::detail {

struct named_unit {
    std::string_view names; ///< between blanks, in small letters, which stand for capitals too
    double si;              ///< one of it in SI units
    int rank;               ///< units of a compound descend in rank: lb before oz. 0: never in a compound
};

inline constexpr std::array mass_units{
    named_unit{"kg kgs kilo kilos kilogram kilograms", kilogram.value(), 0},
    named_unit{"g gram grams", gram.value(), 0},
    named_unit{"lb lbs pound pounds", pound.value(), 2},
    named_unit{"oz ounce ounces", ounce.value(), 1},
};
inline constexpr std::array length_units{
    named_unit{"mm millimetre millimetres millimeter millimeters", millimetre.value(), 0},
    named_unit{"cm centimetre centimetres centimeter centimeters", centimetre.value(), 0},
    named_unit{"m metre metres meter meters", metre.value(), 0},
    named_unit{"in inch inches \" ″ ”", inch.value(), 1},
    named_unit{"ft foot feet ' ′", foot.value(), 2},
};
inline constexpr std::array duration_units{
    named_unit{"h hr hrs hour hours", 3600.0, 3},
    named_unit{"min mins minute minutes", 60.0, 2},
    named_unit{"s second seconds", 1.0, 1},
};
inline constexpr std::array density_units{
    named_unit{"kg/m3 kg/m³", 1.0, 0},
    named_unit{"g/cm3 g/cm³", 1000.0, 0},
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
