// The trim model: what is left of each tissue on a portion, and where the rest goes.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include <tranche/cut/tail_limit.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/column_arithmetic.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_columns.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Where meat that is no portion goes. Each has its own value on the bill; `discard` has none.
enum class destination { strips, dice, grind, rendering, discard };

namespace detail {

inline constexpr std::size_t destination_count = 5;

} // namespace detail
inline constexpr std::array<destination, detail::destination_count> all_destinations{
    destination::strips, destination::dice, destination::grind, destination::rendering, destination::discard};

/// "strips", "dice", "grind", "rendering" or "discard". Any destination; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(destination d) {
    switch (d) {
    case destination::strips: return "strips";
    case destination::dice: return "dice";
    case destination::grind: return "grind";
    case destination::rendering: return "rendering";
    case destination::discard: break;
    }
    return "discard";
}

/// One `T` for each destination.
template <class T>
struct by_destination {
    std::array<T, detail::destination_count> values{};

    [[nodiscard]] constexpr T& operator[](destination d) { return values[static_cast<std::size_t>(d)]; }
    [[nodiscard]] constexpr const T& operator[](destination d) const { return values[static_cast<std::size_t>(d)]; }

    friend bool operator==(const by_destination&, const by_destination&) = default;
};

/// How far a portion is trimmed. By default everything stays on.
struct trim_spec {
    length fat_cover = unlimited<length>(); ///< thickness of the fat that stays, zero or more
    tail_limit tail{};      ///< length of the tail that stays, zero or more; it may taper along the loin
    bool silverskin = true; ///< whether silverskin and back strap stay
    length over_cut{};      ///< how much deeper than aimed at the knife goes where it takes fat off, zero or
                            ///< more and finite; deeper than the fat that should stay, it takes lean

    friend bool operator==(const trim_spec&, const trim_spec&) = default;
};

/// Throws `invalid_input` for a negative or NaN length, and for a tail that is limited at one end only, naming the
/// field after `where`. The over-cut is finite too, the others may be unlimited. In metres.
inline void validate(const trim_spec& trim, const std::string& where) {
    try {
        if (!(trim.fat_cover >= length{})) throw invalid_input("fat_cover", trim.fat_cover, "zero or more");
        validate(trim.tail, "tail");
        detail::require_not_negative(trim.over_cut, "over_cut");
    } catch (const invalid_input& e) {
        throw within(where, e);
    }
}

namespace detail {

/// The trim with every length on the grain.
[[nodiscard]] inline trim_spec snapped(const trim_spec& trim) {
    return {.fat_cover = snapped(trim.fat_cover),
            .tail = trim.tail,
            .silverskin = trim.silverskin,
            .over_cut = snapped(trim.over_cut)};
}

/// One trim after another: what both leave. The second cuts only where the first left more than it aims at. Where the first
/// went deeper than that by its over-cut, all that the second cuts counts as cut so deep, so what is kept may be a little
/// understated, never overstated; elsewhere this is exact.
[[nodiscard]] inline trim_spec trimmed_twice(const trim_spec& first, const trim_spec& then) {
    length over_cut = first.over_cut;
    if (then.fat_cover == first.fat_cover) over_cut = std::max(first.over_cut, then.over_cut);
    if (then.fat_cover < first.fat_cover)
        over_cut = std::max<length>(then.over_cut, then.fat_cover - (first.fat_cover - first.over_cut));
    return {.fat_cover = std::min(first.fat_cover, then.fat_cover),
            .tail = shorter(first.tail, then.tail),
            .silverskin = first.silverskin && then.silverskin,
            .over_cut = over_cut};
}

/// Whether a trim leaves all of a tissue wherever it is.
[[nodiscard]] inline bool keeps_all_of(tissue t, const trim_spec& trim) {
    switch (t) {
    case tissue::eye: return !(trim.over_cut > trim.fat_cover);
    case tissue::fat_cover: return trim.fat_cover == unlimited<length>();
    case tissue::tail: return trim.tail == tail_limit{};
    case tissue::connective: return trim.silverskin;
    case tissue::gluteus_medius: break;
    }
    return true;
}

/// Whether a trim leaves nothing of a tissue, of which the loin has some, wherever it is: a layer that is there all along.
[[nodiscard]] inline bool keeps_none_of(tissue t, const trim_spec& trim, const profile& meat) {
    switch (t) {
    case tissue::fat_cover: return trim.fat_cover == length{} && meat.fat_cover_throughout();
    case tissue::tail: return trim.tail == tail_limit(length{}) && meat.tail_throughout();
    case tissue::connective: return !trim.silverskin;
    case tissue::eye:
    case tissue::gluteus_medius: break;
    }
    return false;
}

} // namespace detail

namespace detail {

/// The tail that a trim leaves in a cell, as it is in the middle of it, where layers are read too.
[[nodiscard]] inline length tail_left(const profile& meat, std::size_t cell, const trim_spec& trim) {
    if (!trim.tail.tapers()) return trim.tail.at_rib();
    return trim.tail.at(0.5 * (meat.position(cell) + meat.position(cell + 1)) / meat.extent());
}

/// What an over-cut takes of the lean in a cell, in micrograms: it goes deeper than all the fat wherever it cuts, along the
/// contour on the lean. A looser trim takes no more.
[[nodiscard]] inline std::int64_t lean_over_cut(const profile& meat, std::size_t cell, const trim_spec& trim) {
    const length in_lean = trim.over_cut - trim.fat_cover;
    if (!(in_lean > length{})) return 0;
    const auto all_fat = static_cast<double>(meat.between(cell, cell + 1, tissue::fat_cover).count);
    const double contour =
        all_fat * meat.fat_cover_least_growth(cell, trim.fat_cover); // micrograms of fat a metre deep
    // A layer that is next to nothing thick has a contour beyond any count; nobody cuts off more than the loin holds.
    const double count = contour * in_lean.value() * meat.lean_for_fat();
    return count < 9.2e18 ? static_cast<std::int64_t>(count) : std::int64_t{9'200'000'000'000'000'000};
}

} // namespace detail

namespace detail {

/// Of a tissue, the share that a trim aims to leave, 0 to 1: of fat cover and tail what lies within the length that stays, as
/// fat_within() and tail_within() say; of the connective tissue all or nothing; all of the lean. Weights, pictures and
/// appraisals ask here.
template <class FatWithin, class TailWithin>
[[nodiscard]] fraction share_left(tissue t, const trim_spec& trim, const FatWithin& fat_within,
                                  const TailWithin& tail_within) {
    switch (t) {
    case tissue::fat_cover: return fat_within();
    case tissue::tail: return tail_within();
    case tissue::connective: return trim.silverskin ? 1.0 : 0.0;
    case tissue::eye:
    case tissue::gluteus_medius: break;
    }
    return 1.0;
}

/// The same on a face that lies `along` of the way from the rib face, 0, to the sirloin face, 1.
[[nodiscard]] inline fraction share_left(tissue t, const trim_spec& trim, const face& f, fraction along = 0.0) {
    return share_left(
        t, trim, [&] { return f.fat_cover.within(trim.fat_cover); },
        [&] { return f.tail.within(trim.tail.at(along)); });
}

/// What the trim leaves of tissue `t` in `cell` of the profile, in whole micrograms: its share to the nearest, of the fat that
/// which an over-cut leaves, and the eye less what that takes of it. A looser trim never leaves less.
[[nodiscard]] inline std::int64_t kept_in_cell(const profile& meat, std::size_t cell, tissue t, const trim_spec& trim) {
    const std::int64_t all = meat.between(cell, cell + 1, t).count;
    const bool deeper = trim.over_cut > length{};
    if (deeper && t == tissue::eye) return std::max(std::int64_t{0}, all - lean_over_cut(meat, cell, trim));
    const auto fat_left = [&] {
        return deeper ? meat.fat_cover_left(cell, trim.fat_cover, trim.over_cut)
                      : meat.fat_cover_within(cell, trim.fat_cover);
    };
    const fraction share =
        share_left(t, trim, fat_left, [&] { return meat.tail_within(cell, tail_left(meat, cell, trim)); });
    return share == 1.0 ? all : static_cast<std::int64_t>(unfused(static_cast<double>(all) * share) + 0.5);
}

/// The same of the cells from `first` on; without an over-cut several at a time.
inline void keep_in_cells(const profile& meat, std::size_t first, std::span<std::int64_t> kept, tissue t,
                          const trim_spec& trim) {
    if (trim.over_cut > length{} || meat.total(t).count >= most_whole_double) {
        for (std::size_t i = 0; i < kept.size(); ++i) kept[i] = kept_in_cell(meat, first + i, t, trim);
        return;
    }
    std::array<fraction, 128> own;
    for (std::size_t done = 0; done < kept.size(); done += own.size()) {
        const std::size_t cells = std::min(own.size(), kept.size() - done), cell = first + done;
        const std::span<fraction> shares(own.data(), cells);
        const auto fat_within = [&] {
            meat.fat_cover_within(cell, shares, trim.fat_cover);
            return shares.front();
        };
        const auto tail_within = [&] {
            if (trim.tail.tapers())
                meat.tail_within(cell, shares, [&](std::size_t i) { return tail_left(meat, i, trim); });
            else
                meat.tail_within(cell, shares, trim.tail.at_rib());
            return shares.front();
        };
        const fraction common = share_left(t, trim, fat_within, tail_within);
        if (t != tissue::fat_cover && t != tissue::tail) std::fill(shares.begin(), shares.end(), common);
        in_columns([=, left = kept.data() + done, in_front = meat.cumulative(t).data() + cell]() TRANCHE_INLINED {
            const double* const share = shares.data();
            for (std::size_t i = 0; i < cells; ++i)
                left[i] = nearest_whole_of(unfused(whole_as_double(in_front[i + 1] - in_front[i]) * share[i]));
        });
    }
}

} // namespace detail

} // namespace tranche
