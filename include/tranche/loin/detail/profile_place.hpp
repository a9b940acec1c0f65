// A place along a profile that need not be one of its positions, and what lies in front of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>

#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// A place along a profile: so far into a cell. Masses in between positions are interpolated along a straight line and
/// rounded down to the microgram. Places are told apart to 2^-20 of a cell: a length that was computed on another way and
/// differs in its last bits is the same place, and weighs the same.
struct profile_place {
    std::size_t cell = 0;
    double into = 0.0; ///< 0 to 1, in whole multiples of 2^-20

    /// The place at `at`, which is clamped to the loin.
    template <class Profile> // `profile`, which needs this to be complete
    [[nodiscard]] static profile_place of(const Profile& meat, length at) {
        if (!(at > length{})) return {};
        if (!(at < meat.extent())) return {meat.cells() - 1, 1.0};
        const auto cell = std::min(static_cast<std::size_t>(at / meat.step()), meat.cells() - 1);
        const length width = meat.position(cell + 1) - meat.position(cell);
        const double into = std::clamp<double>((at - meat.position(cell)) / width, 0.0, 1.0);
        return {cell, std::round(into * 0x1p20) * 0x1p-20};
    }
    /// Of the mass in the cell, what lies in front of this place.
    [[nodiscard]] std::int64_t part_of(std::int64_t cell_mass) const {
        return into == 1.0 ? cell_mass : static_cast<std::int64_t>(static_cast<double>(cell_mass) * into);
    }
    /// The entry of a cumulative column here.
    [[nodiscard]] std::int64_t in(std::span<const std::int64_t> column) const {
        return column[cell] + part_of(column[cell + 1] - column[cell]);
    }
};

} // namespace tranche::detail
