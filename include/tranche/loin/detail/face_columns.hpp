// The faces of a loin on a stretch of a grid at once, in columns of plain numbers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <span>
#include <vector>

#include <tranche/loin/detail/checked_face.hpp>
#include <tranche/loin/detail/layer_column.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// Cells that are read at once: their columns stay on the stack and in the cache.
inline constexpr std::size_t cells_in_block = 128;

/// One number a place, and one a cell, of a block. Places are its positions, from the rib on, and then the middles of its cells:
/// so loops run over either without a gap.
using place_column = std::array<double, 2 * cells_in_block + 1>;
using cell_column = std::array<double, cells_in_block>;

/// Neighbouring cells of a grid along a loin, with their places in metres.
struct grid_block {
    std::size_t first_cell = 0, cells = 0;
    place_column places;      ///< `size()` of them
    bool areas_alone = false; ///< whether nobody asks for layers and outlines

    [[nodiscard]] std::size_t size() const { return 2 * cells + 1; }
    /// Of the positions 0 to `cells` each is its own place; this is that of the middle of a cell.
    [[nodiscard]] std::size_t middle(std::size_t cell) const { return cells + 1 + cell; }
    [[nodiscard]] length at(std::size_t place) const { return length::from_value(places[place]); }
    /// Of a column of this block the numbers at middles.
    [[nodiscard]] std::span<const double> middles_of(const place_column& column) const {
        return {column.data() + middle(0), cells};
    }
    /// Calls f(place) for all places from the rib on.
    template <class F>
    void from_the_rib(const F& f) const {
        f(0);
        for (std::size_t i = 0; i < cells; ++i) {
            f(middle(i));
            f(i + 1);
        }
    }
};

/// Positions an even step apart; only the last cell may be shorter.
class even_grid {
public:
    /// Of at most `most_cells` cells; the step is snapped. What a model computed need not be: its last cell reaches as far as
    /// the model does.
    even_grid(length extent, length step)
        : extent_(extent.value()), step_(step.value()),
          cells_(static_cast<std::size_t>(std::max(1.0, std::ceil(in_grains(extent) / in_grains(step))))) {}
    [[nodiscard]] std::size_t cells() const { return cells_; }
    [[nodiscard]] length step() const { return length::from_value(step_); }

    /// The cells from `first` on, as many as a block holds.
    void fill(grid_block& block, std::size_t first) const {
        block.first_cell = first;
        block.cells = std::min(cells_in_block, cells_ - first);
        const auto from = static_cast<std::int32_t>(first), count = static_cast<std::int32_t>(block.cells);
        for (std::int32_t i = 0; i <= count; ++i)
            block.places[static_cast<std::size_t>(i)] = unfused(static_cast<double>(from + i) * step_);
        if (first + block.cells == cells_) block.places[block.cells] = extent_;
        cell_column middles;
        for (std::size_t i = 0; i < block.cells; ++i) middles[i] = 0.5 * (block.places[i] + block.places[i + 1]);
        std::copy_n(middles.begin(), block.cells, block.places.begin() + static_cast<std::ptrdiff_t>(block.middle(0)));
    }

private:
    double extent_, step_;
    std::size_t cells_ = 0;
};

/// Faces on a block: areas in square metres at all places, outlines in metres at positions. Layers
/// of the middles are added to those of the blocks before, and so are the outlines there that their spreads hang on, which
/// `spread_layers` may use up.
struct face_columns {
    by_tissue<place_column> areas;
    place_column widths, depths;
    layer_column fat_covers{}, tails{};
    std::vector<double> widths_at_layers{}, depths_at_layers{};
    by_tissue<bool> none{}; ///< whose areas are all zero, as far as a reader says so; see `leave_none`

    /// For readers that know of a tissue: says whether there is none of it on this block. Its column is zero then, and nobody has
    /// to look at it.
    void leave_none(tissue t, bool zero) {
        if (zero && !none[t]) areas[t].fill(0.0);
        none[t] = zero;
    }
    /// `with_outlines` where layers hang on some.
    void reserve(std::size_t cells, bool with_outlines) {
        fat_covers.reserve(cells);
        tails.reserve(cells);
        if (!with_outlines) return;
        widths_at_layers.reserve(cells);
        depths_at_layers.reserve(cells);
    }
};

/// Whether a model says last how its layers are spread, once all blocks were read: it may do so of another fill.
template <class Model>
concept spreads_layers = requires(const Model& model, face_columns& columns) {
    model.spread_layers(columns);
};

/// Whether a model gives the faces of a block at once: to the last bit what `face_at` says at each place, but for the spreads of
/// layers where those are said last.
template <class Model>
concept reads_columns = requires(const Model& model, const grid_block& block, face_columns& columns) {
    model.read_faces(block, columns);
};

/// The columns of a model; of one that has only `face_at`, read face by face.
/// Throws `invalid_input` for layers that are none.
template <loin_model Model>
void read_faces(const Model& model, const grid_block& block, face_columns& columns) {
    if constexpr (reads_columns<Model>) {
        model.read_faces(block, columns);
    } else {
        block.from_the_rib([&](std::size_t k) {
            const face f = model.face_at(block.at(k));
            for (const tissue t : all_tissues) columns.areas[t][k] = f.areas[t].value();
            columns.widths[k] = f.width.value();
            columns.depths[k] = f.depth.value();
            if (k <= block.cells || block.areas_alone) return;
            require_layers(f, block.at(k));
            columns.fat_covers.push_back(f.fat_cover);
            columns.tails.push_back(f.tail);
        });
    }
}

/// Whether the first numbers of a column, at least one, are all zero, without a sign.
[[nodiscard]] inline bool all_zero(const place_column& column, std::size_t numbers) {
    return std::bit_cast<std::uint64_t>(column[0]) == 0 &&
           std::memcmp(column.data(), column.data() + 1, (numbers - 1) * sizeof(double)) == 0; // each is as the next
}

/// Whether an outline on a block is none, or a zero with a sign.
[[nodiscard]] inline bool some_bad_size(const place_column& widths, const place_column& depths, std::size_t positions) {
    constexpr double most = largest_loin.value();
    std::uint64_t bits = 0, less = ~std::uint64_t{0}; // signs: of what must not be below zero, and of what has to be
    for (std::size_t i = 0; i < positions; ++i) {
        bits |= std::bit_cast<std::uint64_t>(widths[i]) | std::bit_cast<std::uint64_t>(depths[i]);
        less &= std::bit_cast<std::uint64_t>(widths[i] - most) & std::bit_cast<std::uint64_t>(depths[i] - most);
    }
    return bits >> 63 != 0 || less >> 63 == 0; // what is no number keeps its sign
}

/// Throws `invalid_input` for the first place of a block where an area, an outline or a layer is none.
inline void refuse_bad_face(const face_columns& columns, const grid_block& block) {
    block.from_the_rib([&](std::size_t k) {
        if (!block.areas_alone && k <= block.cells) {
            require_thickness(length::from_value(columns.widths[k]), "width", block.at(k));
            require_thickness(length::from_value(columns.depths[k]), "depth", block.at(k));
        }
        for (const tissue t : all_tissues) require_area(columns.areas[t][k], t, block.at(k));
    });
}

} // namespace tranche::detail
