// A loin with the same face all along: the closed form to check everything else against.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/tape/detail/taped_columns.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// One face from end to end: mass = length × Σ area × density. Tables read it to 1/16 um (`snapped`).
struct prism_loin {
    tranche::length length{};
    taped_readings face{};
    face_shape shape{};

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] tranche::length extent() const { return length; }
    /// The one face, wherever: areas in square metres, layers in metres. Throws nothing of its own.
    [[nodiscard]] tranche::face face_at(tranche::length /*at*/) const { return taped_face(face, shape, 0.0); }
    /// The outlines of that face in metres; `at` is as for `face_at`. Throws nothing of its own.
    [[nodiscard]] painted_face painted_at(tranche::length /*at*/) const { return taped_outlines(face, shape, 0.0); }

    /// The share of its width × depth that a face fills, above 0 to 1. Throws nothing.
    [[nodiscard]] fraction fill() const { return shape.fill; }
    /// The same readings of faces that are filled otherwise, above 0 to 1. Not checked here; throws nothing of its own.
    [[nodiscard]] prism_loin with_fill(fraction filled) const { return detail::filled_so(*this, filled); }

    /// What `face_at` says, on a stretch of a grid at once. Places are 0 to the extent, in metres, and not checked;
    /// throws nothing.
    template <class = detail::when_called>
    void read_faces(const detail::grid_block& block, detail::face_columns& columns) const {
        detail::reading_columns r;
        columns.widths.fill(face.width.value());
        columns.depths.fill(face.depth.value());
        r.fat_cover.fill(face.fat_cover.value());
        r.tail.fill(face.tail.value());
        detail::taped_columns(r, shape, block, columns);
    }
    /// Adds to the columns how fat cover and tail are spread, as `face_at` has it. Throws nothing.
    template <class = detail::when_called>
    void spread_layers(detail::face_columns& columns) const {
        detail::spread_taped_layers(shape, columns);
    }

    /// The same loin with every length on the grain of 1/16 um. Throws nothing.
    [[nodiscard]] prism_loin snapped() const {
        return {detail::snapped(length), detail::snapped(face), detail::snapped(shape)};
    }

    friend bool operator==(const prism_loin&, const prism_loin&) = default;
};

/// Throws `invalid_input` for a length that is not above zero, and readings or a shape that are impossible. Readings as
/// for `taped_readings`: width and depth above zero, the others zero or more.
inline void validate(const prism_loin& loin) {
    detail::require_positive(detail::snapped(loin.length), "length");
    validate(loin.shape);
    validate(loin.face, loin.shape, "face.");
}

} // namespace tranche
