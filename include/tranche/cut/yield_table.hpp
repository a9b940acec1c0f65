// A profile seen through a trim: cumulative mass of what stays on, per position, in all and by tissue.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

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
        for (const tissue t : all_tissues) sum += where.part_of(kept_from_to(t, where.cell, where.cell + 1));
        return sum;
    }
    /// Kept mass of one tissue between a position and a place behind it.
    [[nodiscard]] std::int64_t kept_between(tissue t, std::size_t from, detail::profile_place to) const {
        if (off_[t].empty()) return to.in(meat_->cumulative(t)) - meat_->cumulative(t)[from];
        return kept_from_to(t, from, to.cell) + to.part_of(kept_from_to(t, to.cell, to.cell + 1));
    }
    /// What the trim leaves on between two places, clamped to the loin; as `profile::mass_between` where nothing is trimmed.
    [[nodiscard]] micrograms kept_between(length from, length to) const {
        return {kept_before(detail::profile_place::of(*meat_, to)) -
                kept_before(detail::profile_place::of(*meat_, from))};
    }

private:
    [[nodiscard]] std::int64_t kept_from_to(tissue t, std::size_t from, std::size_t to) const {
        const std::int64_t all = meat_->cumulative(t)[to] - meat_->cumulative(t)[from];
        return off_[t].empty() ? all : all - (off_[t][to] - off_[t][from]);
    }

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
        off_[Tissue].resize(cells + 1);
        std::int64_t *const kept = kept_.data(), *const so_far = off_[Tissue].data();
        std::int64_t off = 0;
        for (std::size_t i = 0; i < cells; ++i) {
            off += all[i + 1] - all[i] - detail::kept_in_cell<EvenLayers, OverCut>(*meat_, i, Tissue, trim_);
            so_far[i + 1] = off;
            kept[i + 1] -= off;
        }
    }

    const profile* meat_;
    trim_spec trim_;
    std::vector<std::int64_t> kept_; ///< empty where nothing is trimmed: then it is the profile's own column
    by_tissue<std::vector<std::int64_t>> off_{}; ///< what comes off in front of each position; empty where all stays
};

namespace detail {

/// The tables of the trims of one profile, one a trim, however many cuts share it. They stay where they are. The profile must
/// outlive them.
class yield_tables {
public:
    /// With room for so many trims.
    yield_tables(const profile& meat, std::size_t trims) : meat_(&meat) {
        trims_.reserve(trims);
        tables_.reserve(trims); // nothing moves once it is handed out
    }

    /// The table of a trim, made if it is not there; none beyond the room that was asked for.
    [[nodiscard]] const yield_table* of(const trim_spec& trim) {
        if (const yield_table* known = std::as_const(*this).of(trim)) return known;
        if (tables_.size() == tables_.capacity()) return nullptr;
        trims_.push_back(trim);
        return &tables_.emplace_back(*meat_, trim);
    }
    /// None if it is not there.
    [[nodiscard]] const yield_table* of(const trim_spec& trim) const {
        for (std::size_t i = 0; i < trims_.size(); ++i)
            if (trims_[i] == trim) return &tables_[i];
        return nullptr;
    }

private:
    const profile* meat_;
    std::vector<trim_spec> trims_;
    std::vector<yield_table> tables_;
};

} // namespace detail

} // namespace tranche
