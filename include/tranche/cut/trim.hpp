// The trim model: what is left of each tissue on a portion, and where the rest goes.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include <tranche/loin/face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/unfused.hpp>
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
    length tail = unlimited<length>();      ///< length of the tail that stays, zero or more
    bool silverskin = true;                 ///< whether silverskin and back strap stay
    length over_cut{}; ///< how much deeper than aimed at the knife goes where it takes fat off, zero or
                       ///< more and finite; deeper than the fat that should stay, it takes lean

    friend bool operator==(const trim_spec&, const trim_spec&) = default;
};

/// Throws `invalid_input` for a negative or NaN length, naming the field after `where`.
inline void validate(const trim_spec& trim, const std::string& where) {
    const auto check = [&](length l, const char* field) {
        if (!(l >= length{})) throw invalid_input(where + field, l, "zero or more");
    };
    check(trim.fat_cover, "fat_cover");
    check(trim.tail, "tail");
    detail::require_not_negative(trim.over_cut, where + "over_cut");
}

namespace detail {

/// One trim after another: what both leave. The second cuts only where the first left more than it aims at. Where the first
/// went deeper than that by its over-cut, all that the second cuts counts as cut so deep, so what is kept may be a little
/// understated, never overstated; elsewhere this is exact.
[[nodiscard]] inline trim_spec trimmed_twice(const trim_spec& first, const trim_spec& then) {
    length over_cut = first.over_cut;
    if (then.fat_cover == first.fat_cover) over_cut = std::max(first.over_cut, then.over_cut);
    if (then.fat_cover < first.fat_cover)
        over_cut = std::max<length>(then.over_cut, then.fat_cover - (first.fat_cover - first.over_cut));
    return {.fat_cover = std::min(first.fat_cover, then.fat_cover),
            .tail = std::min(first.tail, then.tail),
            .silverskin = first.silverskin && then.silverskin,
            .over_cut = over_cut};
}

/// Whether a trim leaves all of a tissue wherever it is.
[[nodiscard]] inline bool keeps_all_of(tissue t, const trim_spec& trim) {
    switch (t) {
    case tissue::eye: return !(trim.over_cut > trim.fat_cover);
    case tissue::fat_cover: return trim.fat_cover == unlimited<length>();
    case tissue::tail: return trim.tail == unlimited<length>();
    case tissue::connective: return trim.silverskin;
    case tissue::gluteus_medius: break;
    }
    return true;
}

} // namespace detail

namespace detail {

/// What an over-cut takes in a cell: micrograms of fat that should have stayed, and of the lean below it. The knife runs
/// where the fat is thicker than it should stay, along a contour of length area × growth; there it goes `over_cut` deeper.
struct over_cut_in_cell {
    std::int64_t fat, lean;

    over_cut_in_cell(const profile& meat, std::size_t cell, const trim_spec& trim) {
        const auto all_fat = static_cast<double>(meat.between(cell, cell + 1, tissue::fat_cover).count);
        const double contour = all_fat * meat.fat_cover_growth(cell, trim.fat_cover); // micrograms of fat a metre deep
        const length in_fat = std::min(trim.over_cut, trim.fat_cover), in_lean = trim.over_cut - in_fat;
        fat = micrograms_at_most(contour, in_fat.value());
        lean = micrograms_at_most(contour, in_lean.value() * meat.lean_for_fat());
    }

private:
    /// A layer that is next to nothing thick has a contour beyond any count; nobody cuts off more than the loin holds.
    [[nodiscard]] static std::int64_t micrograms_at_most(double contour, double deep) {
        const double count = deep > 0.0 ? contour * deep : 0.0;
        return count < 9.2e18 ? static_cast<std::int64_t>(count) : std::int64_t{9'200'000'000'000'000'000};
    }
};

} // namespace detail

namespace detail {

/// Of a tissue, the share that a trim aims to leave, 0 to 1: of fat cover and tail what lies within the length that stays, as
/// fat_within(reach) and tail_within(reach) say; of the connective tissue all or nothing; all of the lean. Weights, pictures and
/// appraisals ask here.
template <class FatWithin, class TailWithin>
[[nodiscard]] fraction share_left(tissue t, const trim_spec& trim, const FatWithin& fat_within,
                                  const TailWithin& tail_within) {
    switch (t) {
    case tissue::fat_cover: return fat_within(trim.fat_cover);
    case tissue::tail: return tail_within(trim.tail);
    case tissue::connective: return trim.silverskin ? 1.0 : 0.0;
    case tissue::eye:
    case tissue::gluteus_medius: break;
    }
    return 1.0;
}

/// The same on a face.
[[nodiscard]] inline fraction share_left(tissue t, const trim_spec& trim, const face& f) {
    return share_left(
        t, trim, [&](length reach) { return f.fat_cover.within(reach); },
        [&](length reach) { return f.tail.within(reach); });
}

/// What the trim leaves of tissue `t` in `cell` of the profile, in whole micrograms: its share to the nearest, less what an
/// over-cut takes of fat and eye.
///
/// `EvenLayers` may be true if the profile's layers are, and `OverCut` false if there is none: they spare the loops that run
/// over all cells the questions.
template <bool EvenLayers = false, bool OverCut = true>
[[nodiscard]] std::int64_t kept_in_cell(const profile& meat, std::size_t cell, tissue t, const trim_spec& trim) {
    const std::int64_t all = meat.between(cell, cell + 1, t).count;
    const fraction share = share_left(
        t, trim, [&](length reach) { return meat.fat_cover_within<EvenLayers>(cell, reach); },
        [&](length reach) { return meat.tail_within<EvenLayers>(cell, reach); });
    const std::int64_t aimed_at =
        share == 1.0 ? all : static_cast<std::int64_t>(detail::unfused(static_cast<double>(all) * share) + 0.5);
    if (!OverCut || !(trim.over_cut > length{})) return aimed_at;
    if (t == tissue::fat_cover)
        return std::max(std::int64_t{0}, aimed_at - detail::over_cut_in_cell(meat, cell, trim).fat);
    if (t == tissue::eye) return std::max(std::int64_t{0}, all - detail::over_cut_in_cell(meat, cell, trim).lean);
    return aimed_at;
}

} // namespace detail

} // namespace tranche
