// The dimensioned quantities of the library, all in SI inside, and the exact constants that lead to them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <limits>
#include <string>

#include <boost/units/quantity.hpp>
#include <boost/units/systems/si/area.hpp>
#include <boost/units/systems/si/dimensionless.hpp>
#include <boost/units/systems/si/length.hpp>
#include <boost/units/systems/si/mass.hpp>
#include <boost/units/systems/si/mass_density.hpp>
#include <boost/units/systems/si/time.hpp>
#include <boost/units/systems/si/volume.hpp>

#include <tranche/units/detail/digits.hpp>
#include <tranche/units/detail/quantity_operators.hpp>

namespace tranche {

/// Mass in kilograms. What a scale shows; the trade calls it weight, and so do the fields that a person fills in.
using mass = boost::units::quantity<boost::units::si::mass>;
/// Length in metres.
using length = boost::units::quantity<boost::units::si::length>;
/// Area in square metres.
using area = boost::units::quantity<boost::units::si::area>;
/// Volume in cubic metres.
using volume = boost::units::quantity<boost::units::si::volume>;
/// Density in kilograms per cubic metre.
using density = boost::units::quantity<boost::units::si::mass_density>;
/// Mass per length along the loin's axis, in kilograms per metre.
using linear_density =
    boost::units::quantity<boost::units::divide_typeof_helper<boost::units::si::mass, boost::units::si::length>::type>;
/// Time in seconds.
using duration = boost::units::quantity<boost::units::si::time>;

// Quantities are written by `<<` in one metric unit each, to 15 significant digits: "25 mm", "340 g", "5.2 kg", "200 min",
// "90 cm2". `from_text` reads lengths, masses, durations and densities back, to the last digits written.

/// A share of a whole, 0 to 1. It has no dimension, so it is a plain number.
using fraction = double;

inline constexpr mass kilogram = 1.0 * boost::units::si::kilogram;
inline constexpr mass gram = 0.001 * boost::units::si::kilogram;
/// 1 lb = 0.45359237 kg exactly (NIST Handbook 44, appendix C).
inline constexpr mass pound = 0.45359237 * boost::units::si::kilogram;
/// 1 oz = 1/16 lb exactly (NIST Handbook 44, appendix C).
inline constexpr mass ounce = pound / 16.0;

inline constexpr length metre = 1.0 * boost::units::si::meter;
inline constexpr length centimetre = 0.01 * boost::units::si::meter;
inline constexpr length millimetre = 0.001 * boost::units::si::meter;
/// 1 in = 25.4 mm exactly (NIST Handbook 44, appendix C).
inline constexpr length inch = 0.0254 * boost::units::si::meter;
inline constexpr length foot = 0.3048 * boost::units::si::meter;

inline constexpr duration second = 1.0 * boost::units::si::second;
inline constexpr duration minute = 60.0 * boost::units::si::second;
inline constexpr duration hour = 3600.0 * boost::units::si::second;

/// Kilograms per cubic metre, the unit in which densities are tabulated.
inline constexpr density kilogram_per_cubic_metre = 1.0 * boost::units::si::kilogram_per_cubic_meter;

namespace detail {

template <>
struct unit_form<length::unit_type> {
    static std::string text(double metres) { return digits(metres / millimetre.value()) + " mm"; }
};
/// Kilograms, and below one of them grams.
template <>
struct unit_form<mass::unit_type> {
    static std::string text(double kilograms) {
        const bool small = -1.0 < kilograms && kilograms < 1.0;
        return small ? digits(kilograms / gram.value()) + " g" : digits(kilograms) + " kg";
    }
};
template <>
struct unit_form<area::unit_type> {
    static std::string text(double square_metres) { return digits(square_metres * 1e4) + " cm2"; }
};
template <>
struct unit_form<volume::unit_type> {
    static std::string text(double cubic_metres) { return digits(cubic_metres * 1e6) + " cm3"; }
};
template <>
struct unit_form<density::unit_type> {
    static std::string text(double value) { return digits(value) + " kg/m3"; }
};
template <>
struct unit_form<linear_density::unit_type> {
    static std::string text(double value) { return digits(value) + " kg/m"; }
};
template <>
struct unit_form<duration::unit_type> {
    static std::string text(double seconds) { return digits(seconds / minute.value()) + " min"; }
};

} // namespace detail

/// Stands for "no upper limit" where a range of `Quantity` is asked for. It is infinity in the unit of `Quantity`,
/// above every value. Throws nothing.
template <class Quantity>
[[nodiscard]] constexpr Quantity unlimited() {
    return Quantity::from_value(std::numeric_limits<double>::infinity());
}

/// A closed range. Made from one value it holds just that value.
template <class Quantity>
struct quantity_range {
    Quantity min{};
    Quantity max = unlimited<Quantity>();

    constexpr quantity_range() = default;
    /// Just `only`, in its own unit. Not checked here, and nothing is thrown: who takes a range checks it.
    constexpr quantity_range(Quantity only)
        : min(only), max(only) {} // NOLINT(google-explicit-constructor): `.thickness = 1_in`
    /// From `low` to `high`, both of them in, `high` no less than `low`; checked by who takes it, as above. Throws
    /// nothing.
    constexpr quantity_range(Quantity low, Quantity high) : min(low), max(high) {}

    /// Whether `value` lies in the range, ends included; nothing does if an end is NaN. Throws nothing.
    [[nodiscard]] constexpr bool contains(Quantity value) const { return min <= value && value <= max; }
    friend constexpr bool operator==(const quantity_range& a, const quantity_range& b) {
        return a.min == b.min && a.max == b.max;
    }
    /// "340 g", "19 mm to 25 mm".
    template <class Traits>
    friend std::basic_ostream<char, Traits>& operator<<(std::basic_ostream<char, Traits>& out,
                                                        const quantity_range& r) {
        return r.min == r.max ? out << r.min : out << r.min << " to " << r.max;
    }
};

} // namespace tranche
