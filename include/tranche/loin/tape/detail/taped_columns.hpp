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
#include <tranche/units/detail/wide_columns.hpp>

namespace tranche::detail {

/// Readings at all places of a block, in metres, beside widths and depths, which are columns of the faces; and the second
/// muscle's share of the lean there, if there is one.
struct reading_columns {
    place_column fat_cover, tail, gluteus_medius;
    bool with_gluteus_medius = false;
};

/// `taped_face` of readings at all places of a block, but for the spread of covers (`spread_taped_layers`). Widths and depths
/// are those of the faces already.
template <class = when_called>
void taped_columns(const reading_columns& r, const face_shape& shape, const grid_block& block, face_columns& columns) {
    const double fill = shape.fill, silverskin = shape.silverskin.value(), tail_depth = shape.tail_depth;
    const std::size_t places = block.size();
    // All as parts of two objects, so that compilers see that nothing else changes with them.
    in_columns([=, from = &r, into = &columns]() TRANCHE_INLINED {
        const place_column &width = into->widths, &depth = into->depths, &cover = from->fat_cover, &tail = from->tail;
        place_column &lean = into->areas[tissue::eye], &fat = into->areas[tissue::fat_cover],
                     &tails = into->areas[tissue::tail];
        for (std::size_t i = 0; i < places; ++i) {
            const double band = fill * (width[i] - tail[i]);
            lean[i] = band * (depth[i] - cover[i] - silverskin); // all of it
            fat[i] = unfused(band * cover[i]);
            tails[i] = unfused(tail[i] * (tail_depth * depth[i]));
        }
    });
    const place_column &width = columns.widths, &depth = columns.depths, &tail = r.tail;
    place_column &eye = columns.areas[tissue::eye], &second_muscle = columns.areas[tissue::gluteus_medius],
                 &connective = columns.areas[tissue::connective];
    columns.leave_none(tissue::gluteus_medius, !r.with_gluteus_medius);
    columns.leave_none(tissue::connective, silverskin == 0.0);
    if (r.with_gluteus_medius)
        for (std::size_t i = 0; i < places; ++i) {
            const double lean = eye[i], share = r.gluteus_medius[i];
            eye[i] = unfused(lean * (1.0 - share));
            second_muscle[i] = unfused(lean * share);
        }
    if (silverskin != 0.0)
        for (std::size_t i = 0; i < places; ++i) connective[i] = unfused(fill * (width[i] - tail[i]) * silverskin);
    if (block.areas_alone) return;

    columns.fat_covers.append(block.middles_of(r.fat_cover));
    columns.tails.append(block.middles_of(r.tail));
    const auto keep = [&](std::vector<double>& column, const place_column& everywhere) {
        const std::span<const double> middles = block.middles_of(everywhere);
        column.insert(column.end(), middles.begin(), middles.end());
    };
    keep(columns.widths_at_layers, width);
    keep(columns.depths_at_layers, depth);
}

/// The tapers of tails of one shape, and what they make of the tips of their faces: `tail_shapes` in columns.
template <class = when_called>
class tail_columns {
public:
    tail_columns(const face_shape& shape, double highest)
        : shapes_(shape.fill, shape.tail_depth, highest), highest_(highest) {}

    /// Where there is a tail, its share that tapers, its level, and the tip of the face; where there is none 0, 0 and the highest
    /// tip. `everywhere` says that there is one in all these cells.
    void read(std::size_t cells, const double* widths, const double* tails, bool everywhere) {
        in_columns([=, self = this]() TRANCHE_INLINED { self->read_some(cells, widths, tails, everywhere); });
    }

    cell_column shares, tips, levels;
    bool some_level = false; ///< no levels where none is

private:
    TRANCHE_INLINED inline void read_some(std::size_t cells, const double* widths, const double* tails,
                                          bool everywhere) {
        cell_column corners, most, left, roots, rises;
        const auto start_at = [&](std::size_t i) -> tail_shapes::start {
            return {.corner = corners[i], .tip = tips[i], .most = most[i], .left = left[i], .squared = 0.0};
        };
        cell_column any; // where there is none; by itself, or compilers make it a case apart
        for (std::size_t i = 0; i < cells && !everywhere; ++i) any[i] = tails[i] > 0.0 ? tails[i] : 1.0;
        const double* const some = everywhere ? tails : any.data();
        for (std::size_t i = 0; i < cells; ++i) {
            const tail_shapes::start s = shapes_.start_of(widths[i] - tails[i], some[i]);
            corners[i] = s.corner;
            tips[i] = s.tip;
            most[i] = s.most;
            left[i] = s.left;
            roots[i] = s.squared;
        }
        take_roots(roots.data(), cells);
        for (std::size_t i = 0; i < cells; ++i) {
            rises[i] = shapes_.rise_of(start_at(i), roots[i]);
            shares[i] = shapes_.share_of(corners[i], tips[i], lesser(rises[i], most[i]));
        }
        std::uint64_t level = 0; // signs of what is left up to the most that a rise may be
        if (everywhere) {
            for (std::size_t i = 0; i < cells; ++i) level |= std::bit_cast<std::uint64_t>(most[i] - rises[i]);
            for (std::size_t i = 0; i < cells; ++i) shares[i] = greater(0.0, shares[i]);
        } else {
            for (std::size_t i = 0; i < cells; ++i) {
                const double share = greater(0.0, shares[i]), tip = tips[i], rest = most[i] - rises[i];
                shares[i] = tails[i] > 0.0 ? share : 0.0;
                tips[i] = tails[i] > 0.0 ? tip : highest_;
                level |= std::bit_cast<std::uint64_t>(tails[i] > 0.0 ? rest : 0.0);
            }
        }
        some_level = level >> 63 != 0;
        for (std::size_t i = 0; i < cells && some_level; ++i)
            levels[i] = tails[i] > 0.0 ? shapes_.level_of(tips[i], rises[i], most[i], shares[i]) : 0.0;
    }

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
            taper.read(cells, width, tails.data() + first, !columns.tails.missing());
            shares.insert(shares.end(), taper.shares.data(), taper.shares.data() + cells);
            if (taper.some_level) {
                levels.resize(tails.size());
                std::copy_n(taper.levels.begin(), cells, levels.begin() + static_cast<std::ptrdiff_t>(first));
            }
        }
        if (!uneven) continue;
        in_columns([=, cover = covers.data() + first, tail = tails.data() + first, tip = taper.tips.data()]()
                       TRANCHE_INLINED {
                           for (std::size_t i = 0; i < cells; ++i) {
                               const face_ends tips{bare.under((cover[i] + silverskin) / depth[i]).chine, tip[i]};
                               const cap_slopes slopes = cap_slopes_of(width[i], depth[i], cover[i], tail[i], tips);
                               width[i] = cap_spreads::place_of_slope(slopes.chine);
                               depth[i] = cap_spreads::place_of_slope(slopes.flank);
                           }
                       });
    }
    if (tapers) columns.tails.taper(all_at_once, std::move(shares), std::move(levels));
    if (!uneven) return;
    std::vector<layer_spread> knots(cap_spreads::slopes);
    for (std::size_t k = 0; k < knots.size(); ++k) knots[k] = all_cap_spreads().at_slope(fill, k);
    columns.fat_covers.spread(std::move(knots), std::move(widths), std::move(depths));
}

} // namespace tranche::detail
