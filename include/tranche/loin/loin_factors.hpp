// How one loin differs from another of its kind: a factor for each size, and where the second muscle begins.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string_view>

namespace tranche {

/// So many times each size of a loin, the same at every place along it. A face is stretched: across by `width`, upwards by
/// `depth` its lean, silverskin and the thickness of its tail, by `fat_cover` its fat; so of a tape reading the cover keeps its
/// own factor, and the depth to the top of the fat follows. Layers keep the shape of their spread. Factors are plain numbers,
/// above zero (cover, tail and both of the second muscle: zero or more).
struct loin_factors {
    double length = 1.0;
    double width = 1.0;     ///< of the face and its tail
    double depth = 1.0;     ///< of the lean
    double fat_cover = 1.0; ///< of its thickness
    double tail = 1.0;      ///< of its length, beside what the width makes of it
    double fill = 1.0;      ///< of how much of the face is filled: of all areas but the tail's
    double gluteus_medius_onset =
        1.0; ///< of the distance of its onset from the rib face, beside what the length makes of it
    double gluteus_medius_share = 1.0; ///< of its share of the lean on each face

    friend bool operator==(const loin_factors&, const loin_factors&) = default;
};

/// What gives way so that a varied loin weighs what it should: what is the least well known of it.
enum class gives_way {
    width, ///< of another loin of the kind: width and tail, as of a `typical_loin`
    fill   ///< of this loin, measured anew: how much of its faces is filled, as in `calibrate`
};

/// Why there is no such loin.
enum class impossible_loin {
    weight,               ///< not above zero
    loin_length,          ///< not above zero, or beyond what a table holds
    width,                ///< not above zero, or outside of `usual_give` where it gives way
    depth,                ///< not above zero
    fat_cover,            ///< below zero
    tail,                 ///< below zero
    fill,                 ///< not above zero, or outside of `usual_give` where it gives way
    gluteus_medius_onset, ///< below zero, or beyond the loin
    gluteus_medius_share  ///< below zero, or more than all of the lean
};

/// Any reason; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(impossible_loin why) {
    switch (why) {
    case impossible_loin::weight: return "weight not above zero";
    case impossible_loin::loin_length: return "length not above zero";
    case impossible_loin::width: return "width out of all proportion to the weight";
    case impossible_loin::depth: return "depth not above zero";
    case impossible_loin::fat_cover: return "fat cover below zero";
    case impossible_loin::tail: return "tail below zero";
    case impossible_loin::fill: return "face filled out of all proportion to the weight";
    case impossible_loin::gluteus_medius_onset: return "gluteus medius begins beyond the loin";
    case impossible_loin::gluteus_medius_share: break;
    }
    return "gluteus medius has more than all of the lean";
}

} // namespace tranche
