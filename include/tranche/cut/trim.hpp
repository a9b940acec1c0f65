// The trim model: what is left of each tissue on a portion, and where the rest goes.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Where meat that is no portion goes. Each has its own value on the bill; `discard` has none.
enum class destination { strips, dice, grind, rendering, discard };

inline constexpr std::size_t destination_count = 5;
inline constexpr std::array<destination, destination_count> all_destinations{
    destination::strips, destination::dice, destination::grind, destination::rendering, destination::discard};

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
    std::array<T, destination_count> values{};

    [[nodiscard]] constexpr T& operator[](destination d) { return values[static_cast<std::size_t>(d)]; }
    [[nodiscard]] constexpr const T& operator[](destination d) const { return values[static_cast<std::size_t>(d)]; }
};

/// How far a portion is trimmed. By default everything stays on.
struct trim_spec {
    length fat_cover = unlimited<length>(); ///< thickness of the fat that stays, zero or more
    length tail = unlimited<length>();      ///< length of the tail that stays, zero or more
    bool silverskin = true;                 ///< whether silverskin and back strap stay

    friend bool operator==(const trim_spec&, const trim_spec&) = default;
};

/// Throws `invalid_input` for a negative or NaN length, naming the field after `where`.
inline void validate(const trim_spec& trim, const std::string& where) {
    const auto check = [&](length l, const char* field) {
        if (!(l >= length{})) throw invalid_input(where + field, shown(l), "zero or more");
    };
    check(trim.fat_cover, "fat_cover");
    check(trim.tail, "tail");
}

/// Whether a trim leaves all of a tissue wherever it is: true for the lean.
[[nodiscard]] inline bool keeps_all_of(tissue t, const trim_spec& trim) {
    switch (t) {
    case tissue::fat_cover: return trim.fat_cover == unlimited<length>();
    case tissue::tail: return trim.tail == unlimited<length>();
    case tissue::connective: return trim.silverskin;
    case tissue::eye:
    case tissue::gluteus_medius: break;
    }
    return true;
}

/// What the trim leaves of tissue `t` in `cell` of the profile, in whole micrograms: all of the lean; of fat cover and
/// tail the share that lies within the length kept, to the nearest microgram; of the connective tissue all or nothing.
template <bool EvenLayers = false>
[[nodiscard]] std::int64_t kept_in_cell(const profile& meat, std::size_t cell, tissue t, const trim_spec& trim) {
    const std::int64_t all = meat.between(cell, cell + 1, t).count;
    const auto part = [&](fraction share) { return static_cast<std::int64_t>(static_cast<double>(all) * share + 0.5); };
    switch (t) {
    case tissue::fat_cover: return part(meat.fat_cover_within<EvenLayers>(cell, trim.fat_cover));
    case tissue::tail: return part(meat.tail_within<EvenLayers>(cell, trim.tail));
    case tissue::connective: return trim.silverskin ? all : 0;
    case tissue::eye:
    case tissue::gluteus_medius: break;
    }
    return all;
}

} // namespace tranche
