// A profile on a finer grid: what lies between its positions, written down.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>

#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// The same loin on a grid `parts` times as fine, one or more, of at most `most_cells` cells. Masses in between are
/// interpolated along a straight line and rounded down to the microgram, tissue by tissue, at places that are told
/// apart to 2^-20 of an old cell, as wherever the library looks inside one; at the old positions, and in all, they are
/// what they were. Layers are those of the cell; shares of gluteus medius and outlines are interpolated.
///
/// What that misses of a model that was tabulated on the finer grid is of second order in the old step: the line
/// between two positions is off the curve by at most step²/8 × the largest change of mass per length in the cell.
/// Throws `invalid_input` for no parts, or too many. O(cells × parts). Masses are whole micrograms, steps lengths.
[[nodiscard]] inline profile on_finer_grid(const profile& meat, std::size_t parts) {
    if (parts < 1 || parts > most_cells / meat.cells())
        throw invalid_input("parts", std::to_string(parts),
                            "1 to " + std::to_string(most_cells / meat.cells()) + " for a grid of " +
                                std::to_string(meat.cells()) + " cells");
    profile fine;
    fine.extent_ = meat.extent_;
    fine.step_ = meat.step_ / static_cast<double>(parts);
    fine.unrounded_total_ = meat.unrounded_total_;
    fine.lean_for_fat_ = meat.lean_for_fat_;
    fine.total_.push_back(0);
    for (auto& column : fine.cumulative_.values) column.push_back(0);
    const auto add_position = [&](std::size_t cell, double into) {
        const auto between = [&](auto from, auto to) { return from + detail::unfused(into * (to - from)); };
        const double share =
            detail::snapped_share(between(meat.gluteus_medius_shares_[cell], meat.gluteus_medius_shares_[cell + 1]));
        fine.gluteus_medius_shares_.push_back(share);
        fine.widths_.push_back(between(meat.widths_[cell], meat.widths_[cell + 1]));
        fine.depths_.push_back(between(meat.depths_[cell], meat.depths_[cell + 1]));
    };
    const auto wide_as = [&](std::size_t cell) -> double {
        return (meat.position(cell + 1) - meat.position(cell)) / fine.step_;
    };
    const auto parts_of = [&](std::size_t cell) {
        return std::max(std::size_t{1}, static_cast<std::size_t>(std::ceil(wide_as(cell) - 1e-6)));
    };
    fine.fat_covers_ = meat.fat_covers_.repeated(parts_of);
    fine.tails_ = meat.tails_.repeated(parts_of);
    add_position(0, 0.0);
    for (std::size_t cell = 0; cell < meat.cells(); ++cell) {
        const double wide = wide_as(cell);
        const std::size_t last = parts_of(cell);
        for (std::size_t part = 1; part <= last; ++part) {
            const double into = part == last ? 1.0 : std::round(static_cast<double>(part) / wide * 0x1p20) * 0x1p-20;
            std::int64_t sum = 0;
            for (const tissue t : all_tissues) {
                const std::int64_t from = meat.cumulative_[t][cell], all = meat.cumulative_[t][cell + 1] - from;
                const std::int64_t here =
                    part == last ? all : static_cast<std::int64_t>(static_cast<double>(all) * into);
                fine.cumulative_[t].push_back(from + here);
                sum += from + here;
            }
            fine.total_.push_back(sum);
            add_position(cell, into);
        }
    }
    fine.let_enter();
    return fine;
}

} // namespace tranche
