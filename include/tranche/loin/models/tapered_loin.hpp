// A loin whose readings change evenly from the rib face to the sirloin face: a frustum.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>

#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/tape/detail/taped_columns.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Width, depth, cover and tail run in straight lines from one face to the other, so that the volume is that of a
/// frustum: length / 3 × (A0 + A1 + √(A0 A1)) when both faces have the same proportions. Tables read it to 1/16 um
/// (`snapped`).
struct tapered_loin {
    tranche::length length{};
    taped_readings rib{}, sirloin{};
    face_shape shape{};

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] tranche::length extent() const { return length; }
    /// The face at `at`, 0 to the extent (not checked): areas in square metres, layers in metres. Throws nothing of its
    /// own.
    [[nodiscard]] tranche::face face_at(tranche::length at) const { return taped_face(readings_at(at), shape, 0.0); }
    /// The outlines of that face in metres; `at` is as for `face_at`. Throws nothing of its own.
    [[nodiscard]] painted_face painted_at(tranche::length at) const {
        return taped_outlines(readings_at(at), shape, 0.0);
    }

    /// The readings at `at`, 0 to the extent, in metres; beyond the ends the lines run on. Throws nothing.
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

    /// The share of its width × depth that a face fills, above 0 to 1. Throws nothing.
    [[nodiscard]] fraction fill() const { return shape.fill; }
    /// The same readings of faces that are filled otherwise, above 0 to 1. Not checked here; throws nothing of its own.
    [[nodiscard]] tapered_loin with_fill(fraction filled) const { return detail::filled_so(*this, filled); }

    /// What `face_at` says, on a stretch of a grid at once. Places are 0 to the extent, in metres, and not checked;
    /// throws nothing.
    template <class = detail::when_called>
    void read_faces(const detail::grid_block& block, detail::face_columns& columns) const {
        const auto course = [&](tranche::length taped_readings::*reading, detail::place_column& column) {
            const double from = (rib.*reading).value(), to = (sirloin.*reading).value(), all = length.value();
            for (std::size_t i = 0; i < block.size(); ++i)
                column[i] = detail::mixed_share(block.places[i] / all, from, to);
        };
        detail::reading_columns r;
        course(&taped_readings::width, columns.widths);
        course(&taped_readings::depth, columns.depths);
        course(&taped_readings::fat_cover, r.fat_cover);
        course(&taped_readings::tail, r.tail);
        detail::taped_columns(r, shape, block, columns);
    }
    /// Adds to the columns how fat cover and tail are spread, as `face_at` has it. Throws nothing.
    template <class = detail::when_called>
    void spread_layers(detail::face_columns& columns) const {
        detail::spread_taped_layers(shape, columns);
    }

    /// The same loin with every length on the grain of 1/16 um. Throws nothing.
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
