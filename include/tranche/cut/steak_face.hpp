// The face of a steak out of a pack, from its weight and thickness: what a label, a ruler and a look at the rim say.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <limits>

#include <tranche/loin/face.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/kinds/loin_proportions.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What can be seen of a steak without a scale.
struct steak_readings {
    tranche::length thickness{};   ///< between its two faces; above zero
    tranche::length fat_cover{};   ///< mean thickness of the fat along the rim; zero or more
    tranche::length tail{};        ///< beyond the eye; zero or more
    fraction gluteus_medius = 0.0; ///< share of the lean that is second muscle, 0 to 1

    friend bool operator==(const steak_readings&, const steak_readings&) = default;
};

/// The shape of the lean, where it was not measured.
struct steak_shape {
    double depth_to_width = 0.0; ///< depth of the lean over its width, without cover and tail; above zero
    face_shape filled{};         ///< how readings become areas

    friend bool operator==(const steak_shape&, const steak_shape&) = default;
};

/// The shape in the middle of loins of one kind: (depth - cover) / (width - tail), and their fill. For
/// `beef_strip_loin` 7.0 cm / 16.0 cm, which rests on common practice, no source. Throws `invalid_input` for proportions
/// without a width or depth of lean.
[[nodiscard]] inline steak_shape shape_of_steaks(const loin_proportions& kind) {
    const length deep = kind.depth.middle - kind.fat_cover.middle, wide = kind.width.middle - kind.tail.middle;
    detail::require_positive(deep, "depth less fat_cover");
    detail::require_positive(wide, "width less tail");
    return {.depth_to_width = deep / wide, .filled = {.fill = kind.fill.value}};
}

/// The face that gives a steak its weight at its thickness. The lean keeps its proportions: with its width w and depth
/// r w, cover c, silverskin s, tail u of depth k times the whole, fill f and densities ρ, a slab of thickness t weighs
///
///     m = t (ρ_lean f r w² + (ρ_fat c + ρ_connective s) f w + ρ_tail u k (r w + c + s))
///
/// of which w is the one positive root. Areas are those of `taped_face`. Throws `invalid_input` naming the reading: a
/// weight or thickness not above zero, a tail or cover below it, a share beyond 0 to 1, a shape that cannot be, and a
/// tail that alone weighs as much as the steak. O(1). Weights in kilograms, lengths in metres, densities in kg/m³ above
/// zero (not checked). The shape of the lean is common practice, no source.
template <class = detail::when_called>
[[nodiscard]] face steak_face(mass weight, const steak_readings& seen,
                              const steak_shape& shape = shape_of_steaks(beef_strip_loin),
                              const tissue_densities& densities = densities_at_4_celsius()) {
    detail::require_positive(weight, "weight");
    detail::require_positive(seen.thickness, "thickness");
    detail::require_not_negative(seen.fat_cover, "fat_cover");
    detail::require_not_negative(seen.tail, "tail");
    detail::require_share(seen.gluteus_medius, "gluteus_medius");
    detail::require_positive(shape.depth_to_width, "depth_to_width");
    validate(shape.filled);

    // In SI numbers from here: a w² + b w = c.
    const double r = shape.depth_to_width, f = shape.filled.fill;
    const double fat = seen.fat_cover.value(), band = shape.filled.silverskin.value();
    const double tail = densities[tissue::tail].value() * seen.tail.value() * shape.filled.tail_depth;
    const double a = densities[tissue::eye].value() * f * r;
    const double b = detail::unfused(f * (detail::unfused(densities[tissue::fat_cover].value() * fat) +
                                          detail::unfused(densities[tissue::connective].value() * band))) +
                     detail::unfused(tail * r);
    const double c = weight.value() / seen.thickness.value() - detail::unfused(tail * (fat + band));
    if (!(c > 0.0))
        throw invalid_input("tail", detail::shown(seen.tail),
                            "a shorter one: it alone would weigh more than the " + detail::shown(weight) +
                                " of the steak");
    const double w =
        2.0 * c / (b + std::sqrt(detail::unfused(b * b) + detail::unfused(4.0 * a * c))); // no digits cancel
    if (!(w > 0.0 && w < std::numeric_limits<double>::infinity()))
        throw invalid_input("weight", detail::shown(weight),
                            "one that goes with " + detail::shown(seen.thickness) + " of thickness");
    return taped_face({.width = w * metre + seen.tail,
                       .depth = detail::unfused(r * w) * metre + seen.fat_cover + shape.filled.silverskin,
                       .fat_cover = seen.fat_cover,
                       .tail = seen.tail},
                      shape.filled, seen.gluteus_medius);
}

} // namespace tranche
