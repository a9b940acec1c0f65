// What the cells of a grid along a loin weigh, tissue by tissue.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>

#include <tranche/loin/detail/checked_face.hpp>
#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_columns.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// Whether a model knows the exact volume in front of a position; see `tabulate`.
template <class Model>
concept knows_volume = requires(const Model& model, length at) {
    { model.volume_before(at) } -> std::same_as<volume>;
};

/// Whether it also knows the first moment of that volume about the plane there, ∫ `volume_before` from 0 on: what a factor
/// that changes along the loin needs to stay exact (`slice_calibrated_loin`).
template <class Model>
concept knows_moment = knows_volume<Model> && requires(const Model& model, length at) {
    { model.moment_before(at) } -> std::same_as<decltype(volume{} * length{})>;
};

/// Multiplies the masses of one cell so that their volumes add up to `exact`.
inline void scale_to(volume exact, const tissue_densities& densities, by_tissue<double>& masses) {
    double cubic_metres = 0.0;
    for (const tissue t : all_tissues) cubic_metres += masses[t] / densities[t].value();
    if (!std::isfinite(exact.value()))
        throw invalid_input("volume of a cell", detail::shown(exact.value()), "a finite volume");
    const double wanted = std::max(0.0, exact.value()); // a rounding error below zero is no meat
    if (cubic_metres > 0.0)
        for (double& kilograms : masses.values) kilograms = unfused(kilograms * (wanted / cubic_metres));
    else
        masses[tissue::eye] = wanted * densities[tissue::eye].value();
}

/// A running sum that keeps the digits a plain one loses: what Knuth's two-sum (The Art of Computer Programming 2, 4.2.2, from
/// memory) finds lost goes along with the next value.
class compensated_sum {
public:
    void add(double value) {
        const double more = lost_ + value, next = sum_ + more, added = next - sum_;
        lost_ = (sum_ - (next - added)) + (more - added);
        sum_ = next;
    }
    /// What value() is after add(`more`).
    [[nodiscard]] double value_with(double more) const { return sum_ + (lost_ + more); }
    [[nodiscard]] double value() const { return sum_; }

private:
    double sum_ = 0.0, lost_ = 0.0;
};

[[nodiscard]] inline double sum_of(const by_tissue<double>& kilograms) {
    compensated_sum whole;
    for (const double one : kilograms.values) whole.add(one);
    return whole.value();
}

/// Reads a model block by block, and calls visit(block, faces, masses) with the kilograms of each tissue in front of the end
/// of each cell, from the rib face on. Returns those in the whole loin. Throws `invalid_input` for faces that are none.
template <loin_model Model, class Visit>
by_tissue<double> for_each_block(const Model& model, const even_grid& grid, const tissue_densities& written,
                                 bool areas_alone, face_columns& faces, const Visit& visit) {
    tissue_densities densities = written;
    for (density& d : densities.values) d = snapped(d);
    by_tissue<compensated_sum> sums;
    by_tissue<double> whole;
    by_tissue<cell_column> masses{};
    by_tissue<bool> cleared;
    cleared.values.fill(true);
    cell_column sixths;
    grid_block block;
    block.areas_alone = areas_alone;
    for (std::size_t first = 0; first < grid.cells(); first += cells_in_block) {
        grid.fill(block, first);
        read_faces(model, block, faces);
        const std::size_t cells = block.cells;
        for (std::size_t i = 0; i < cells; ++i) sixths[i] = (block.places[i + 1] - block.places[i]) / 6.0;
        std::uint64_t signs = 0; // of all areas
        for (const tissue t : all_tissues) {
            const place_column& areas = faces.areas[t];
            if (faces.none[t] || all_zero(areas, block.size())) {
                if (!cleared[t]) masses[t].fill(0.0);
                cleared[t] = true;
                continue;
            }
            cleared[t] = false;
            const double per_area = densities[t].value();
            const double *const middles = areas.data() + block.middle(0), *const lengths = sixths.data();
            double* const kilograms = masses[t].data();
            in_columns([=, ends = areas.data(), all = &signs]() TRANCHE_INLINED {
                std::uint64_t bits = std::bit_cast<std::uint64_t>(ends[cells]);
                for (std::size_t i = 0; i < cells; ++i) {
                    bits |= std::bit_cast<std::uint64_t>(ends[i]) | std::bit_cast<std::uint64_t>(middles[i]);
                    kilograms[i] =
                        unfused(lengths[i] * (unfused(ends[i] * per_area) + 4.0 * unfused(middles[i] * per_area) +
                                              unfused(ends[i + 1] * per_area)));
                }
                *all |= bits;
            });
        }
        bool good = signs >> 63 == 0 && (areas_alone || !some_bad_size(faces.widths, faces.depths, cells + 1));
        if constexpr (knows_volume<Model>) {
            double not_finite = 0.0; // one that is not makes this no number
            for (const tissue t : all_tissues)
                for (std::size_t i = 0; i < cells; ++i) not_finite += masses[t][i] - masses[t][i];
            good = good && not_finite == 0.0;
            if (!good) refuse_bad_face(faces, block);
            for (std::size_t i = 0; i < cells; ++i) {
                by_tissue<double> cell;
                for (const tissue t : all_tissues) cell[t] = masses[t][i];
                scale_to(model.volume_before(block.at(i + 1)) - model.volume_before(block.at(i)), densities, cell);
                for (const tissue t : all_tissues) masses[t][i] = cell[t];
            }
            cleared.values.fill(false);
        }
        // Within a block digits hardly get lost. All tissues at once, or each addition waits for the one before.
        by_tissue<double> in_block;
        for (std::size_t i = 0; i < cells; ++i)
            for (const tissue t : all_tissues) masses[t][i] = in_block[t] += masses[t][i];
        for (const double kilograms : in_block.values) good = good && std::isfinite(kilograms);
        if (!good) refuse_bad_face(faces, block); // or a zero with a sign
        for (const tissue t : all_tissues) {
            const compensated_sum before = sums[t];
            if (whole[t] == 0.0 && in_block[t] == 0.0) continue; // nor is there any in front
            cleared[t] = false;
            in_columns([=, kilograms = masses[t].data()]() TRANCHE_INLINED {
                for (std::size_t i = 0; i < cells; ++i) kilograms[i] = before.value_with(kilograms[i]);
            });
            sums[t].add(in_block[t]);
            whole[t] = sums[t].value();
        }
        visit(block, faces, masses);
    }
    return whole;
}

} // namespace tranche::detail
