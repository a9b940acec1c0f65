// What of a layer lies within a depth, by definition and without the library's help.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>

#include <tranche/loin/face.hpp>

namespace tranche_test {

/// Of an even layer, depth over thickness. Of another the share within a 32nd of its thickness stands in its spread, and in
/// between it grows in a straight line. A part of it may taper: what of that is left beyond the depth is a triangle, of an area of
/// a level part and a triangle. All of what is no deeper, and of no layer.
[[nodiscard]] inline double share_by_definition(const tranche::layer& layer, tranche::length depth) {
    if (!(layer.thickness.value() > 0.0) || depth >= layer.thickness) return 1.0;
    const double share = depth.value() / layer.thickness.value();
    if (layer.taper.share > 0.0) {
        const double level = layer.taper.level, all = level + 0.5 * (1.0 - level);
        const double beyond = share < level ? all - share : 0.5 * (1.0 - share) * (1.0 - share) / (1.0 - level);
        tranche::layer others = layer;
        others.taper = {};
        return layer.taper.share * (1.0 - beyond / all) +
               (1.0 - layer.taper.share) * share_by_definition(others, depth);
    }
    if (layer.spread == tranche::even_spread) return share;
    const double slices = 32.0 * share, below = std::floor(slices);
    const auto slice = static_cast<std::size_t>(below);
    const double inner = slice == 0 ? 0.0 : layer.spread[slice - 1];
    return inner + (layer.spread[slice] - inner) * (slices - below);
}

} // namespace tranche_test
