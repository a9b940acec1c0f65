// What a face of any loin model has to be, so that it can be weighed, trimmed and drawn.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <string>

#include <tranche/loin/face.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche::detail {

/// No loin, face or layer is as large: pictures and tables of one that is would be endless.
inline constexpr length largest_loin = 100.0 * metre;

[[nodiscard]] inline bool is_thickness(double metres) { return metres >= 0.0 && metres < largest_loin.value(); }

/// `require_not_negative`, which names the field only where it has to.
inline void require_thickness(length value, const char* name, length at) {
    if (is_thickness(value.value())) return;
    const std::string field = std::string(name) + " of the face at " + detail::shown(at);
    require_not_negative(value, field);
    throw invalid_input(field, detail::shown(value), "less than " + detail::shown(largest_loin));
}

/// Throws for a layer whose thickness is none, or whose spread is not as `layer_spread` says.
inline void require_layer(const layer& l, const char* name, length at) {
    require_thickness(l.thickness, name, at);
    constexpr double rounding = 1e-9; // sums of shares may end in some
    const auto refuse = [&](const std::string& got) {
        throw invalid_input("spread of the " + std::string(name) + " of the face at " + detail::shown(at), got,
                            "shares that never fall and end at 1");
    };
    fraction before = 0.0;
    for (const fraction share : l.spread) {
        if (!(share >= before - rounding && share <= 1.0 + rounding))
            refuse(detail::shown(share) + " after " + detail::shown(before));
        before = share;
    }
    if (!(before >= 1.0 - rounding)) refuse(detail::shown(before) + " at the end");
    if (!(l.taper.share >= 0.0 && l.taper.share <= 1.0 && l.taper.level >= 0.0 && l.taper.level <= 1.0))
        throw invalid_input("taper of the " + std::string(name) + " of the face at " + detail::shown(at),
                            detail::shown(l.taper.share) + " of it, level to " + detail::shown(l.taper.level),
                            "shares, 0 to 1");
}

/// Both layers of a face.
inline void require_layers(const face& f, length at) {
    require_layer(f.fat_cover, "fat cover", at);
    require_layer(f.tail, "tail", at);
}

[[nodiscard]] inline bool is_area(double square_metres) { return std::isfinite(square_metres) && square_metres >= 0.0; }

/// Throws for an area that is none, in square metres.
inline void require_area(double square_metres, tissue t, length at) {
    if (is_area(square_metres)) return;
    throw invalid_input("area of " + std::string(name_of(t)) + " on the face at " + detail::shown(at),
                        detail::shown(square_metres * 1e4) + " cm2", "a finite area, zero or more");
}

} // namespace tranche::detail
