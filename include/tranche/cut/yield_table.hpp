// A profile seen through a trim: cumulative mass of what stays on, per position.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

namespace detail {

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
/// the table. The trim's lengths are read to 1/16 um. Built in O(cells); a trim that takes nothing off costs nothing.
class yield_table {
public:
    yield_table(const profile& meat, const trim_spec& trim) : meat_(&meat), trim_(detail::snapped(trim)) {
        if (trim == trim_spec{}) return;
        kept_.assign(meat.cumulative().begin(), meat.cumulative().end());
        if (trim_.over_cut > length{})
            fill<false, true>();
        else if (meat.layers_are_even())
            fill<true, false>();
        else
            fill<false, false>();
    }
    yield_table(const profile&& meat, const trim_spec& trim) = delete; // it would be gone before the table is read

    [[nodiscard]] const profile& meat() const { return *meat_; }
    /// To 1/16 um.
    [[nodiscard]] const trim_spec& trim() const { return trim_; }

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
    /// What the trim leaves on between two places, clamped to the loin; as `profile::mass_between` where nothing is trimmed.
    [[nodiscard]] micrograms kept_between(length from, length to) const {
        return {kept_before(detail::profile_place::of(*meat_, to)) -
                kept_before(detail::profile_place::of(*meat_, from))};
    }

private:
    template <bool EvenLayers, bool OverCut>
    void fill() {
        take_off<tissue::eye, EvenLayers, OverCut>();
        take_off<tissue::fat_cover, EvenLayers, OverCut>();
        take_off<tissue::connective, EvenLayers, OverCut>();
        take_off<tissue::tail, EvenLayers, OverCut>();
    }
    /// Takes off what does not stay of a tissue, known where this is compiled.
    template <tissue Tissue, bool EvenLayers, bool OverCut>
    void take_off() {
        if (detail::keeps_all_of(Tissue, trim_)) return;
        const std::span<const std::int64_t> all = meat_->cumulative(Tissue);
        if (all.back() == 0) return;
        const std::size_t cells = meat_->cells();
        std::int64_t* const kept = kept_.data();
        std::int64_t off = 0;
        for (std::size_t i = 0; i < cells; ++i) {
            off += all[i + 1] - all[i] - detail::kept_in_cell<EvenLayers, OverCut>(*meat_, i, Tissue, trim_);
            kept[i + 1] -= off;
        }
    }

    const profile* meat_;
    trim_spec trim_;
    std::vector<std::int64_t> kept_; ///< empty where nothing is trimmed: then it is the profile's own column
};

} // namespace tranche
