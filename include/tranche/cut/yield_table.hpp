// A profile seen through a trim: cumulative mass of what stays on, per position, in all and by tissue.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/wide_columns.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// Cumulative mass that a trim leaves on, in micrograms, in front of each position of a profile. The profile must
/// outlive the table. The trim's lengths are read to 1/16 um. Built in O(cells); a trim that takes nothing off costs
/// nothing. Lengths are metres. Indices are 0 to `cells()` of the profile and places lengths but NaN; neither is
/// checked. Members throw nothing.
class yield_table {
public:
    /// `trim` is as `validate` wants it, which is not called. O(cells) for each tissue that it touches.
    yield_table(const profile& meat, const trim_spec& trim) { make(meat, trim); }
    yield_table(const profile&& meat, const trim_spec& trim) = delete; // it would be gone before the table is read
    /// Becomes another one, in the room that there is. As the constructor.
    void make(const profile& meat, const trim_spec& trim) {
        meat_ = &meat;
        trim_ = detail::snapped(trim);
        kept_.clear();
        comes_off_ = {};
        if (trim == trim_spec{}) return;
        kept_.assign(meat.cumulative().begin(), meat.cumulative().end());
        for (const tissue t : all_tissues) {
            comes_off_[t] = what_comes_off(t);
            if (comes_off_[t] == comes_off::all)
                for (std::size_t i = 0; i < kept_.size(); ++i) kept_[i] -= meat.cumulative(t)[i];
        }
        bool written = false; // of the first to come off in part, the others say it
        for (const tissue t : all_tissues)
            if (comes_off_[t] == comes_off::part) {
                take_off(t, written);
                if (!std::exchange(written, true)) comes_off_[t] = comes_off::rest;
            }
    }

    /// The profile that it was made of.
    [[nodiscard]] const profile& meat() const { return *meat_; }
    /// To 1/16 um.
    [[nodiscard]] const trim_spec& trim() const { return trim_; }

    /// Kept mass of all tissues, in micrograms from 0 to the kept whole, in front of each position.
    [[nodiscard]] std::span<const std::int64_t> kept() const {
        return kept_.empty() ? meat_->cumulative() : std::span<const std::int64_t>(kept_);
    }
    /// Kept mass of all tissues in front of any place. Inside a cell each tissue is interpolated and rounded by itself.
    /// In micrograms. O(1).
    [[nodiscard]] std::int64_t kept_before(detail::profile_place where) const {
        std::int64_t sum = kept()[where.cell];
        for (const tissue t : all_tissues) sum += where.part_of(kept_from_to(t, where.cell, where.cell + 1));
        return sum;
    }
    /// Kept mass of one tissue between a position and a place behind it. In micrograms. O(1).
    [[nodiscard]] std::int64_t kept_between(tissue t, std::size_t from, detail::profile_place to) const {
        return kept_from_to(t, from, to.cell) + to.part_of(kept_from_to(t, to.cell, to.cell + 1));
    }
    /// What the trim leaves on between two places, clamped to the loin; as `profile::mass_between` where nothing is
    /// trimmed. Below zero where `to` lies in front of `from`. O(1).
    [[nodiscard]] micrograms kept_between(length from, length to) const {
        return {kept_before(detail::profile_place::of(*meat_, to)) -
                kept_before(detail::profile_place::of(*meat_, from))};
    }

    /// The same of one tissue.
    [[nodiscard]] micrograms kept_between(length from, length to, tissue t) const {
        const auto front = detail::profile_place::of(*meat_, from), back = detail::profile_place::of(*meat_, to);
        return {kept_between(t, front.cell, back) - kept_between(t, front.cell, front)};
    }

private:
    /// What comes off of a tissue: nothing, all, what its column says, or what is left of all that comes off.
    enum class comes_off : unsigned char { nothing, all, part, rest };

    [[nodiscard]] comes_off what_comes_off(tissue t) const {
        if (meat_->total(t) == micrograms{} || detail::keeps_all_of(t, trim_)) return comes_off::nothing;
        return detail::keeps_none_of(t, trim_, *meat_) ? comes_off::all : comes_off::part;
    }
    /// Takes what does not stay of a tissue off what is kept, and writes it down if asked to.
    void take_off(tissue t, bool write) {
        const std::span<const std::int64_t> before = meat_->cumulative(t);
        std::vector<std::int64_t>& column = off_[t];
        if (write) column.clear(), column.reserve(before.size()), column.push_back(0);
        std::array<std::int64_t, 128> left;
        std::int64_t stays = 0; // up to here
        for (std::size_t first = 0; first < meat_->cells(); first += left.size()) {
            const std::size_t cells = std::min(left.size(), meat_->cells() - first);
            detail::keep_in_cells(*meat_, first, {left.data(), cells}, t, trim_);
            const std::int64_t* const all = before.data() + first + 1;
            std::int64_t* const kept = kept_.data() + first + 1;
            for (std::size_t i = 0; i < cells; ++i) left[i] = all[i] - (stays += left[i]);
            detail::in_columns([=, off = left.data()]() TRANCHE_INLINED {
                for (std::size_t i = 0; i < cells; ++i) kept[i] -= off[i];
            });
            if (write) column.insert(column.end(), left.data(), left.data() + cells);
        }
    }

    [[nodiscard]] std::int64_t off_between(tissue t, std::size_t from, std::size_t to) const {
        switch (comes_off_[t]) {
        case comes_off::nothing: break;
        case comes_off::all: return meat_->cumulative(t)[to] - meat_->cumulative(t)[from];
        case comes_off::part: return off_[t][to] - off_[t][from];
        case comes_off::rest: {
            std::int64_t more = meat_->between(from, to).count - (kept_[to] - kept_[from]);
            for (const tissue other : all_tissues)
                if (other != t) more -= off_between(other, from, to);
            return more;
        }
        }
        return 0;
    }
    [[nodiscard]] std::int64_t kept_from_to(tissue t, std::size_t from, std::size_t to) const {
        return meat_->between(from, to, t).count - off_between(t, from, to);
    }

    const profile* meat_ = nullptr;
    trim_spec trim_{};
    std::vector<std::int64_t> kept_; ///< empty where nothing is trimmed: then it is the profile's own column
    by_tissue<comes_off> comes_off_{};
    by_tissue<std::vector<std::int64_t>> off_{}; ///< what comes off in front of each position, where a part does
};

namespace detail {

/// The tables of the trims of one profile, one a trim, however many cuts share it. They stay where they are. The profile must
/// outlive them.
class yield_tables {
public:
    /// With room for so many trims, beside those of the same profile that are `known`, which must outlive these.
    yield_tables(const profile& meat, std::size_t trims, const yield_tables* known = nullptr) {
        restart(meat, trims, known);
    }
    /// Becomes another one without a table yet, in the room that there is.
    void restart(const profile& meat, std::size_t trims, const yield_tables* known) {
        meat_ = &meat;
        known_ = known;
        most_ = trims;
        trims_.clear();
        trims_.reserve(trims);
        tables_.reserve(trims); // nothing moves once it is handed out
    }

    /// The table of a trim, made if it is not there; none beyond the room that was asked for.
    [[nodiscard]] const yield_table* of(const trim_spec& trim) {
        if (const yield_table* known = std::as_const(*this).of(trim)) return known;
        const std::size_t made = trims_.size();
        if (made == most_) return nullptr;
        trims_.push_back(trim);
        if (made == tables_.size()) return &tables_.emplace_back(*meat_, trim);
        tables_[made].make(*meat_, trim);
        return &tables_[made];
    }
    /// None if it is not there.
    [[nodiscard]] const yield_table* of(const trim_spec& trim) const {
        for (std::size_t i = 0; i < trims_.size(); ++i)
            if (trims_[i] == trim) return &tables_[i];
        return known_ ? known_->of(trim) : nullptr;
    }

private:
    const profile* meat_ = nullptr;
    const yield_tables* known_ = nullptr;
    std::size_t most_ = 0;
    std::vector<trim_spec> trims_;
    std::vector<yield_table> tables_; ///< of the trims, and behind them room
};

} // namespace detail

} // namespace tranche
