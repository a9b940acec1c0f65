// A loin whose readings change evenly from the rib face to the sirloin face: a frustum.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// Width, depth, cover and tail run in straight lines from one face to the other, so that the volume is that of a
/// frustum: length / 3 × (A0 + A1 + √(A0 A1)) when both faces have the same proportions. Tables read it to 1/16 um
/// (`snapped`).
struct tapered_loin {
    tranche::length length{};
    taped_readings rib{}, sirloin{};
    face_shape shape{};

    [[nodiscard]] tranche::length extent() const { return length; }
    [[nodiscard]] tranche::face face_at(tranche::length at) const { return taped_face(readings_at(at), shape, 0.0); }
    [[nodiscard]] painted_face painted_at(tranche::length at) const {
        return taped_outlines(readings_at(at), shape, 0.0);
    }

    [[nodiscard]] taped_readings readings_at(tranche::length at) const {
        const double t = at / length;
        const auto mix = [t](tranche::length a, tranche::length b) {
            return detail::unfused((1.0 - t) * a) + detail::unfused(t * b);
        };
        return {.width = mix(rib.width, sirloin.width),
                .depth = mix(rib.depth, sirloin.depth),
                .fat_cover = mix(rib.fat_cover, sirloin.fat_cover),
                .tail = mix(rib.tail, sirloin.tail)};
    }

    /// The same loin with every length on the grain of 1/16 um.
    [[nodiscard]] tapered_loin snapped() const {
        return {detail::snapped(length), detail::snapped(rib), detail::snapped(sirloin), detail::snapped(shape)};
    }

    friend bool operator==(const tapered_loin&, const tapered_loin&) = default;
};

/// Throws `invalid_input` for a length that is not above zero, and readings or a shape that are impossible. Readings as
/// for `taped_readings`: width and depth above zero, the others zero or more.
inline void validate(const tapered_loin& loin) {
    detail::require_positive(detail::snapped(loin.length), "length");
    validate(loin.shape);
    validate(loin.rib, loin.shape, "rib.");
    validate(loin.sirloin, loin.shape, "sirloin.");
}

} // namespace tranche
