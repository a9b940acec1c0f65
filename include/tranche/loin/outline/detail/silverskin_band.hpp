// The silverskin of a traced face: a band of even thickness along the lean.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <utility>

#include <tranche/loin/outline/detail/ring_cells.hpp>
#include <tranche/loin/outline/detail/section_columns.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The curve at a distance outside of a ring: each side moved outwards, with an arc around every corner, forwards around one
/// that juts out and backwards around one that juts in. It crosses itself where it gets too close; what lies within the
/// distance of the ring's inside is what it runs around against the clock more often than with it (the winding number of a
/// convolution: Guibas, Ramshaw and Stolfi 1983, FOCS 24:100, from memory). Arcs are chords of 15 degrees at most, on the curve.
template <class = when_called>
[[nodiscard]] flat_ring moved_outwards(flat_ring ring, double distance) {
    if (signed_area(ring) < 0.0) std::reverse(ring.begin(), ring.end());
    const auto normal = [&](std::size_t i) { // of the side that begins at corner i
        const flat_point a = ring[i % ring.size()], b = ring[(i + 1) % ring.size()];
        return std::atan2(a.x - b.x, b.y - a.y);
    };
    flat_ring moved;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const double before = normal(i + ring.size() - 1),
                     turned = std::remainder(normal(i) - before, 2.0 * std::numbers::pi);
        // A rounding error makes no chord more of a right angle.
        const double chords = std::ceil(std::abs(turned) / (std::numbers::pi / 12.0) - 1e-9);
        const int steps = std::max(1, static_cast<int>(chords));
        for (int k = 0; k <= steps; ++k) {
            const double angle = before + turned * k / steps;
            moved.push_back(
                {ring[i].x + unfused(distance * std::cos(angle)), ring[i].y + unfused(distance * std::sin(angle))});
        }
    }
    return moved;
}

/// The outlines of a traced face; those that are not there have no rings.
struct traced_regions {
    flat_region whole, eye, gluteus_medius, tail;
};

/// What lies on the face and no further from the lean than the silverskin is thick: with the lean, which is painted over it,
/// or only what is seen, without lean and tail. Holes of the lean are lined with silverskin too.
template <class = when_called>
[[nodiscard]] section_part silverskin_band(const traced_regions& face, double thickness, bool with_lean) {
    enum group : std::size_t {
        whole,
        tail,
        eye,
        eye_holes,
        second_muscle,
        second_holes,
        near_eye,
        near_second,
        cuts,
        groups
    };
    ring_cells<groups> cells;
    const auto add = [&](const flat_region& region, std::size_t outer, std::size_t holes) {
        for (const flat_ring& ring : region.rings()) cells.add(ring, &ring == &region.rings().front() ? outer : holes);
    };
    add(face.whole, whole, whole);
    add(face.tail, tail, tail);
    add(face.eye, eye, eye_holes);
    add(face.gluteus_medius, second_muscle, second_holes);
    const auto add_near = [&](const flat_region& region, std::size_t near) {
        for (const flat_ring& ring : region.rings())
            if (&ring == &region.rings().front())
                cells.add(moved_outwards(ring, thickness), near);
            else
                cells.add(moved_outwards(ring, -thickness), cuts);
    };
    add_near(face.eye, near_eye);
    add_near(face.gluteus_medius, near_second);
    return cells.where([&](const auto& around, flat_point middle) {
        if (!around.odd(whole)) return false;
        const bool in_hole =
            (around.odd(eye) && around.odd(eye_holes)) || (around.odd(second_muscle) && around.odd(second_holes));
        const bool in_lean =
            (around.odd(eye) && !around.odd(eye_holes)) || (around.odd(second_muscle) && !around.odd(second_holes));
        if (in_lean) return with_lean;
        if (!with_lean && around.odd(tail)) return false;
        if (!in_hole) return around.winding[near_eye] > 0 || around.winding[near_second] > 0;
        double apart = face.eye.distance_to_edge(middle);
        if (!face.gluteus_medius.empty()) apart = std::min(apart, face.gluteus_medius.distance_to_edge(middle));
        return apart <= thickness;
    });
}

} // namespace tranche::detail
