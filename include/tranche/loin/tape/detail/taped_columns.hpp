// The faces that tape readings describe, on a stretch of a grid at once.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/tape/cap_spread.hpp>
#include <tranche/loin/tape/detail/comma_face.hpp>
#include <tranche/loin/tape/detail/tail_shape.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Readings at all places of a block, in metres, and the second muscle's share of the lean there.
struct reading_columns {
    place_column width, depth, fat_cover, tail, gluteus_medius;
};

/// `taped_face` of readings at all places of a block; `fat` and `tailed` say whether there is a cover and a tail anywhere on the
/// loin.
template <class = when_called>
void taped_columns(const reading_columns& r, const face_shape& shape, bool fat, bool tailed, const grid_block& block,
                   face_columns& columns) {
    const double fill = shape.fill, silverskin = shape.silverskin.value(), tail_depth = shape.tail_depth;
    by_tissue<place_column> areas; // of its own, so that compilers see that nothing else changes with it
    for (std::size_t i = 0; i < block.size(); ++i) {
        const double band = fill * (r.width[i] - r.tail[i]);
        const double lean = band * (r.depth[i] - r.fat_cover[i] - silverskin);
        areas[tissue::eye][i] = unfused(lean * (1.0 - r.gluteus_medius[i]));
        areas[tissue::gluteus_medius][i] = unfused(lean * r.gluteus_medius[i]);
        areas[tissue::fat_cover][i] = unfused(band * r.fat_cover[i]);
        areas[tissue::connective][i] = unfused(band * silverskin);
        areas[tissue::tail][i] = unfused(r.tail[i] * (tail_depth * r.depth[i]));
    }
    columns.areas = areas;
    if (block.areas_alone) return;

    columns.widths = r.width;
    columns.depths = r.depth;
    const bool uneven = fat && fill < 1.0; // as `cap_spread`
    const bool tapers = tailed && tails_taper(shape);
    cell_column covers, tails;
    std::array<spread_places, cells_in_block> places;
    std::array<layer_taper, cells_in_block> taper;
    for (std::size_t i = 0; i < block.cells; ++i) {
        const std::size_t k = 2 * i + 1;
        covers[i] = r.fat_cover[k];
        tails[i] = r.tail[k];
    }
    const face_ends bare = ends_of(fill, 0.0);
    for (std::size_t i = 0; (uneven || tapers) && i < block.cells; ++i) {
        const std::size_t k = 2 * i + 1;
        face_ends tips = uneven ? ends_of(fill, (covers[i] + silverskin) / r.depth[k]) : bare;
        if (tapers && tails[i] > 0.0) {
            const tail_shape tail(r.width[k] - tails[i], tails[i], fill, tail_depth, bare.flank);
            taper[i] = tail.taper;
            tips.flank = tail.tip;
        }
        if (!uneven) continue;
        const cap_slopes slopes = cap_slopes_of(r.width[k], r.depth[k], covers[i], tails[i], tips);
        places[i] = {cap_spreads::place_of_slope(slopes.chine), cap_spreads::place_of_slope(slopes.flank)};
    }
    if (uneven && block.first_cell == 0) {
        std::vector<layer_spread> knots(cap_spreads::slopes);
        for (std::size_t k = 0; k < knots.size(); ++k) knots[k] = all_cap_spreads().at_slope(fill, k);
        columns.fat_covers.use(std::move(knots));
    }
    columns.fat_covers.append({covers.data(), block.cells},
                              std::span<const spread_places>{places.data(), uneven ? block.cells : 0});
    if (!tapers) {
        columns.tails.append({tails.data(), block.cells}, std::span<const spread_places>{});
        return;
    }
    if (block.first_cell == 0) columns.tails.use({all_at_once});
    columns.tails.append({tails.data(), block.cells}, std::span<const layer_taper>{taper.data(), block.cells});
}

} // namespace tranche::detail
