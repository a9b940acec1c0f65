// How far the knife is tilted out of the right angle to the loin.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <numbers>
#include <string>

#include <boost/units/quantity.hpp>
#include <boost/units/systems/si/plane_angle.hpp>

#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Plane angle in radians.
using angle = boost::units::quantity<boost::units::si::plane_angle>;
inline constexpr angle degree = std::numbers::pi / 180.0 * boost::units::si::radian;

/// How the plane of the cut stands. Not tilted, it is at right angles to the axis of the loin.
struct cut_tilt {
    angle about_vertical{};   ///< the knife swung round as a gate is, -30 to 30 degrees; above zero, the face turns
                              ///< towards the left of someone who looks along the axis
    angle about_transverse{}; ///< then the knife leaned, -30 to 30 degrees; above zero, the face turns upwards

    friend bool operator==(const cut_tilt&, const cut_tilt&) = default;
};

namespace detail {

/// A tilt in whole millionths of a degree, so that noise in the last bits of an angle decides nothing.
[[nodiscard]] inline cut_tilt snapped(const cut_tilt& tilt) {
    const auto on_grain = [](angle a) {
        const double grains = 1e6 * double(a / degree);
        return std::abs(grains) < 1e9 ? nearest_whole(grains) / 1e6 * degree : a;
    };
    return {on_grain(tilt.about_vertical), on_grain(tilt.about_transverse)};
}

} // namespace detail

/// Throws `invalid_input` for a tilt of more than 30 degrees about either axis: no portion is cut so (common practice, no
/// source), and a mistake in the unit is likely.
inline void validate(const cut_tilt& tilt) {
    const auto check = [](angle a, const char* field) {
        const double degrees = a / degree;
        if (!(std::abs(degrees) <= 30.0 * (1.0 + 1e-12))) // 30 * degree may be an ulp above
            throw invalid_input(field, detail::shown(degrees) + " degrees", "-30 to 30 degrees");
    };
    check(tilt.about_vertical, "tilt.about_vertical");
    check(tilt.about_transverse, "tilt.about_transverse");
}

} // namespace tranche
