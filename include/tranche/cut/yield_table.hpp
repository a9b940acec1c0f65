// A profile seen through a trim: cumulative mass of what stays on, per position.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

namespace detail {

/// A place along a profile: so far into a cell. Masses in between positions are interpolated along a straight line and
/// rounded down to the microgram. Places are told apart to 2^-20 of a cell: a length that was computed on another way and
/// differs in its last bits is the same place, and weighs the same.
struct profile_place {
    std::size_t cell = 0;
    double into = 0.0; ///< 0 to 1, in whole multiples of 2^-20

    /// The place at `at`, which is clamped to the loin.
    [[nodiscard]] static profile_place of(const profile& meat, length at) {
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

/// Micrograms of one tissue that a trim leaves on between a position and a place behind it. O(cells in between), or O(1)
/// for tissues of which everything stays.
[[nodiscard]] inline std::int64_t kept_between(const profile& meat, std::size_t from, profile_place to, tissue t,
                                               const trim_spec& trim) {
    if (keeps_all_of(t, trim)) return to.in(meat.cumulative(t)) - meat.cumulative(t)[from];
    std::int64_t sum = to.part_of(kept_in_cell(meat, to.cell, t, trim));
    for (std::size_t i = from; i < to.cell; ++i) sum += kept_in_cell(meat, i, t, trim);
    return sum;
}

} // namespace detail

/// Cumulative mass that a trim leaves on, in micrograms, in front of each position of a profile. The profile must outlive
/// the table. Built in O(cells); a trim that takes nothing off costs nothing.
class yield_table {
public:
    yield_table(const profile& meat, const trim_spec& trim) : meat_(&meat), trim_(trim) {
        if (trim == trim_spec{}) return;
        kept_.resize(meat.cells() + 1);
        if (trim.over_cut > length{})
            fill<false, true>();
        else if (meat.layers_are_even())
            fill<true, false>();
        else
            fill<false, false>();
    }
    yield_table(const profile&& meat, const trim_spec& trim) = delete; // it would be gone before the table is read

    [[nodiscard]] const profile& meat() const { return *meat_; }

    /// Kept mass of all tissues in front of each position.
    [[nodiscard]] std::span<const std::int64_t> kept() const {
        return kept_.empty() ? meat_->cumulative() : std::span<const std::int64_t>(kept_);
    }
    /// Kept mass of all tissues in front of any place. Inside a cell each tissue is interpolated and rounded by itself.
    [[nodiscard]] std::int64_t kept_before(detail::profile_place where) const {
        std::int64_t sum = kept()[where.cell];
        for (const tissue t : all_tissues) sum += where.part_of(detail::kept_in_cell(*meat_, where.cell, t, trim_));
        return sum;
    }

private:
    template <bool EvenLayers, bool OverCut>
    void fill() {
        std::int64_t sum = 0;
        for (std::size_t i = 0; i < meat_->cells(); ++i) {
            for (const tissue t : all_tissues) sum += detail::kept_in_cell<EvenLayers, OverCut>(*meat_, i, t, trim_);
            kept_[i + 1] = sum;
        }
    }

    const profile* meat_;
    trim_spec trim_;
    std::vector<std::int64_t> kept_; ///< empty where nothing is trimmed: then it is the profile's own column
};

} // namespace tranche
