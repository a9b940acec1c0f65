// Which way a scanned loin is cut: its axis and which side is up, in the coordinates of the scan.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>

#include <tranche/loin/cut_tilt.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// An axis of the scan's coordinates, and which way along it.
enum class mesh_axis { x, y, z, minus_x, minus_y, minus_z };

namespace detail {

/// A face's own directions, each of length one and at right angles to the others; `across` × `up` = `along`.
struct cut_frame {
    mesh_point across{1.0, 0.0, 0.0}, up{0.0, 1.0, 0.0}, along{0.0, 0.0, 1.0};
};

[[nodiscard]] constexpr mesh_point unit_vector(mesh_axis axis) {
    switch (axis) {
    case mesh_axis::x: return {1.0, 0.0, 0.0};
    case mesh_axis::y: return {0.0, 1.0, 0.0};
    case mesh_axis::z: return {0.0, 0.0, 1.0};
    case mesh_axis::minus_x: return {-1.0, 0.0, 0.0};
    case mesh_axis::minus_y: return {0.0, -1.0, 0.0};
    case mesh_axis::minus_z: break;
    }
    return {0.0, 0.0, -1.0};
}

/// The frame of a cut. With a = `about_vertical`, b = `about_transverse` and the untilted frame (across₀, up₀, along₀):
/// along = cos b (cos a along₀ + sin a across₀) + sin b up₀, across = cos a across₀ - sin a along₀. A prism's face is
/// larger by 1 / (cos a cos b). Throws `invalid_input` for axes that are not at right angles and for the tilt.
[[nodiscard]] inline cut_frame frame_of(mesh_axis along, mesh_axis up, const cut_tilt& tilt = {}) {
    const mesh_point axis = unit_vector(along), vertical = unit_vector(up), transverse = cross(vertical, axis);
    if (dot(axis, vertical) != 0.0)
        throw invalid_input("up", "an axis parallel to the loin's own", "one at right angles to it");
    validate(tilt);
    const double a = tilt.about_vertical.value(), b = tilt.about_transverse.value();
    const mesh_point swung = std::cos(a) * axis + std::sin(a) * transverse;
    return {.across = std::cos(a) * transverse - std::sin(a) * axis,
            .up = std::cos(b) * vertical - std::sin(b) * swung,
            .along = std::cos(b) * swung + std::sin(b) * vertical};
}

} // namespace detail

} // namespace tranche
