// The faces that tape readings describe, on a stretch of a grid at once.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
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
#include <tranche/units/detail/column_arithmetic.hpp>
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
    columns.fat_covers.append({covers.data(), block.cells});
    columns.tails.append({tails.data(), block.cells});
    columns.widths_at_layers.insert(columns.widths_at_layers.end(), widths.data(), widths.data() + block.cells);
    columns.depths_at_layers.insert(columns.depths_at_layers.end(), depths.data(), depths.data() + block.cells);
}

/// The tapers of tails of one shape, and what they make of the tips of their faces: `tail_shapes` in columns.
template <class = when_called>
class tail_columns {
public:
    tail_columns(const face_shape& shape, double highest)
        : shapes_(shape.fill, shape.tail_depth, highest), highest_(highest) {}

    /// Where there is a tail, its share that tapers, its level, and the tip of the face; where there is none 0, 0 and the highest
    /// tip.
    void read(std::size_t cells, const double* widths, const double* tails) {
        cell_column corners, most, left, roots, rises;
        const auto start_at = [&](std::size_t i) -> tail_shapes::start {
            return {.corner = corners[i], .tip = tips[i], .most = most[i], .left = left[i], .squared = 0.0};
        };
        cell_column some; // any, where there is none; by itself, or compilers make it a case apart
        for (std::size_t i = 0; i < cells; ++i) some[i] = tails[i] > 0.0 ? tails[i] : 1.0;
        for (std::size_t i = 0; i < cells; ++i) {
            const tail_shapes::start s = shapes_.start_of(widths[i] - tails[i], some[i]);
            corners[i] = s.corner;
            tips[i] = s.tip;
            most[i] = s.most;
            left[i] = s.left;
            roots[i] = s.squared;
        }
        for (std::size_t i = 0; i < cells; ++i) roots[i] = std::sqrt(roots[i]); // apart: compilers do one at a time
        for (std::size_t i = 0; i < cells; ++i) {
            rises[i] = shapes_.rise_of(start_at(i), roots[i]);
            shares[i] = shapes_.share_of(corners[i], tips[i], lesser(rises[i], most[i]));
        }
        std::uint64_t level = 0;
        for (std::size_t i = 0; i < cells; ++i) {
            const double share = greater(0.0, shares[i]), tip = tips[i], too_high = greater(0.0, rises[i] - most[i]);
            shares[i] = tails[i] > 0.0 ? share : 0.0;
            tips[i] = tails[i] > 0.0 ? tip : highest_;
            level |= std::bit_cast<std::uint64_t>(tails[i] > 0.0 ? too_high : 0.0);
        }
        some_level = level != 0;
        for (std::size_t i = 0; i < cells && some_level; ++i)
            levels[i] = tails[i] > 0.0 ? shapes_.level_of(tips[i], rises[i], most[i], shares[i]) : 0.0;
    }

    cell_column shares, tips, levels;
    bool some_level = false; ///< no levels where none is

private:
    tail_shapes shapes_;
    double highest_;
};

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
    if (!uneven && !tapers) return;
    // The places of spreads take the room of the widths and depths that they come from.
    std::vector<double>&widths = columns.widths_at_layers, &depths = columns.depths_at_layers;
    std::vector<double> shares, levels;
    if (tapers) shares.reserve(tails.size());
    const face_ends bare = ends_of(fill);
    tail_columns<> taper(shape, bare.flank);
    taper.tips.fill(bare.flank);
    for (std::size_t first = 0; first < covers.size(); first += cells_in_block) {
        const std::size_t cells = std::min(cells_in_block, covers.size() - first);
        double *const width = widths.data() + first, *const depth = depths.data() + first;
        if (tapers) {
            taper.read(cells, width, tails.data() + first);
            shares.insert(shares.end(), taper.shares.data(), taper.shares.data() + cells);
            if (taper.some_level) {
                levels.resize(tails.size());
                std::copy_n(taper.levels.begin(), cells, levels.begin() + static_cast<std::ptrdiff_t>(first));
            }
        }
        if (!uneven) continue;
        cell_column chines, flanks;
        const double *const cover = covers.data() + first, *const tail = tails.data() + first;
        for (std::size_t i = 0; i < cells; ++i) {
            const face_ends tips{bare.under((cover[i] + silverskin) / depth[i]).chine, taper.tips[i]};
            const cap_slopes slopes = cap_slopes_of(width[i], depth[i], cover[i], tail[i], tips);
            chines[i] = cap_spreads::place_of_slope(slopes.chine);
            flanks[i] = cap_spreads::place_of_slope(slopes.flank);
        }
        std::copy_n(chines.begin(), cells, width);
        std::copy_n(flanks.begin(), cells, depth);
    }
    if (tapers) columns.tails.taper(all_at_once, std::move(shares), std::move(levels));
    if (!uneven) return;
    std::vector<layer_spread> knots(cap_spreads::slopes);
    for (std::size_t k = 0; k < knots.size(); ++k) knots[k] = all_cap_spreads().at_slope(fill, k);
    columns.fat_covers.spread(std::move(knots), std::move(widths), std::move(depths));
}

} // namespace tranche::detail
