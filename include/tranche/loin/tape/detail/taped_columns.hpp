// The faces that tape readings describe, on a stretch of a grid at once.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
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

/// `taped_face` of readings at all places of a block, but for the spread of covers (`spread_taped_layers`).
template <class = when_called>
void taped_columns(const reading_columns& r, const face_shape& shape, const grid_block& block, face_columns& columns) {
    const double fill = shape.fill, silverskin = shape.silverskin.value(), tail_depth = shape.tail_depth;
    // Each of its own, so that compilers see that nothing else changes with it.
    place_column eye, second_muscle, fat_areas, connective, tail_areas;
    for (std::size_t i = 0; i < block.size(); ++i) {
        const double band = fill * (r.width[i] - r.tail[i]);
        const double lean = band * (r.depth[i] - r.fat_cover[i] - silverskin);
        eye[i] = unfused(lean * (1.0 - r.gluteus_medius[i]));
        second_muscle[i] = unfused(lean * r.gluteus_medius[i]);
        fat_areas[i] = unfused(band * r.fat_cover[i]);
        connective[i] = unfused(band * silverskin);
        tail_areas[i] = unfused(r.tail[i] * (tail_depth * r.depth[i]));
    }
    const auto keep = [&](tissue t, const place_column& areas) {
        std::copy_n(areas.begin(), block.size(), columns.areas[t].begin());
    };
    keep(tissue::eye, eye);
    keep(tissue::gluteus_medius, second_muscle);
    keep(tissue::fat_cover, fat_areas);
    keep(tissue::connective, connective);
    keep(tissue::tail, tail_areas);
    if (block.areas_alone) return;

    std::copy_n(r.width.begin(), block.size(), columns.widths.begin());
    std::copy_n(r.depth.begin(), block.size(), columns.depths.begin());
    cell_column covers, tails, widths, depths;
    for (std::size_t i = 0; i < block.cells; ++i) {
        const std::size_t k = 2 * i + 1;
        covers[i] = r.fat_cover[k];
        tails[i] = r.tail[k];
        widths[i] = r.width[k];
        depths[i] = r.depth[k];
    }
    columns.fat_covers.append({covers.data(), block.cells}, {});
    columns.tails.append({tails.data(), block.cells}, {});
    columns.widths_at_layers.insert(columns.widths_at_layers.end(), widths.data(), widths.data() + block.cells);
    columns.depths_at_layers.insert(columns.depths_at_layers.end(), depths.data(), depths.data() + block.cells);
}

/// The spreads of covers and tails that were read so, as `taped_face` has them of that shape.
template <class = when_called>
void spread_taped_layers(const face_shape& shape, face_columns& columns) {
    const std::span<const double> covers = columns.fat_covers.thicknesses(), tails = columns.tails.thicknesses();
    const auto some = [](std::span<const double> all) {
        return std::any_of(all.begin(), all.end(), [](double metres) { return metres > 0.0; });
    };
    const double fill = shape.fill, silverskin = shape.silverskin.value();
    const bool uneven = fill < 1.0 && some(covers); // as `cap_spread`
    const bool tapers = tails_taper(shape) && some(tails);
    const std::vector<double>&widths = columns.widths_at_layers, &depths = columns.depths_at_layers;
    std::vector<spread_places> places(uneven ? covers.size() : 0);
    std::vector<layer_taper> taper(tapers ? tails.size() : 0);
    const face_ends bare = ends_of(fill, 0.0);
    for (std::size_t i = 0; (uneven || tapers) && i < covers.size(); ++i) {
        face_ends tips = uneven ? ends_of(fill, (covers[i] + silverskin) / depths[i]) : bare;
        if (tapers && tails[i] > 0.0) {
            const tail_shape tail(widths[i] - tails[i], tails[i], fill, shape.tail_depth, bare.flank);
            taper[i] = tail.taper;
            tips.flank = tail.tip;
        }
        if (!uneven) continue;
        const cap_slopes slopes = cap_slopes_of(widths[i], depths[i], covers[i], tails[i], tips);
        places[i] = {cap_spreads::place_of_slope(slopes.chine), cap_spreads::place_of_slope(slopes.flank)};
    }
    if (tapers) columns.tails.taper(all_at_once, std::move(taper));
    if (!uneven) return;
    std::vector<layer_spread> knots(cap_spreads::slopes);
    for (std::size_t k = 0; k < knots.size(); ++k) knots[k] = all_cap_spreads().at_slope(fill, k);
    columns.fat_covers.spread(std::move(knots), std::move(places));
}

} // namespace tranche::detail
