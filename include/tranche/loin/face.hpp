// The face of a loin at one station: the area of each tissue, and how thick the layers are that a trim takes off.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>

#include <tranche/loin/tissue.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// A layer of even thickness: the fat over the eye by depth, or the tail by its length.
struct layer {
    length thickness{};

    /// The share of the layer that lies within `reach` of the eye, 0 to 1; 1 where there is no layer.
    [[nodiscard]] constexpr fraction within(length reach) const {
        if (!(thickness > length{})) return 1.0;
        return std::clamp<double>(reach / thickness, 0.0, 1.0);
    }
};

/// A cross-section at right angles to the axis.
struct face {
    by_tissue<area> areas{};
    layer fat_cover{}; ///< depth of the fat, measured from the lean outwards
    layer tail{};      ///< length of the tail, measured from the edge of the eye outwards
    length width{};    ///< across the whole face with its tail; for pictures. Zero: not known
    length depth{};    ///< from the board to the top of the fat; for pictures. Zero: not known
};

/// The share of the lean on a face (eye and gluteus medius) that is gluteus medius, 0 to 1; 0 where there is no lean.
[[nodiscard]] inline fraction gluteus_medius_share(const by_tissue<area>& areas) {
    const area lean = areas[tissue::eye] + areas[tissue::gluteus_medius];
    return lean > area{} ? fraction(areas[tissue::gluteus_medius] / lean) : 0.0;
}

} // namespace tranche
