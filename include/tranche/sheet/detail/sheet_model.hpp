// The loin of a sheet as the library has it: from its tape readings, or typical of its kind, brought to what the scale says.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include <tranche/grind/own_trim.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/kinds/tissue_lipids.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/loin_kinds.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// "[loin]", "[loin A]": how a sheet and its errors call it.
[[nodiscard]] inline std::string heading_of(const sheet_loin& loin) {
    return loin.name.empty() ? "[loin]" : "[loin " + loin.name + ']';
}

/// The kind of a name, as `loin_proportions` have it; empty: a beef strip loin. Throws for any other.
template <class = when_called>
[[nodiscard]] const sheet_kind& kind_of_loin(const sheet_loin& loin) {
    if (loin.kind.empty()) return sheet_kinds.front();
    std::string known;
    for (const sheet_kind& kind : sheet_kinds) {
        if (kind.proportions->name == loin.kind) return kind;
        known += (known.empty() ? "" : ", ") + std::string(kind.proportions->name);
    }
    throw invalid_input(heading_of(loin) + " kind", '"' + loin.kind + '"', "one of " + known);
}

[[nodiscard]] inline mass board_weight(const sheet_loin& loin) { return loin.on_the_board.value_or(loin.weight); }

/// Proportions of the kind; a loin that was measured is as long as it is, whatever others of its weight are.
template <class = when_called>
[[nodiscard]] loin_proportions proportions_of(const sheet_loin& loin) {
    loin_proportions kind = *kind_of_loin(loin).proportions;
    if (!loin.length) return kind;
    const double ratio = board_weight(loin) / kind.weight.value;
    kind.length.value = *loin.length / std::pow(ratio, kind.length_exponent.value);
    kind.length.spread = 0.0;
    return kind;
}

/// What the sheet says of the shape beside its readings.
template <class = when_called>
[[nodiscard]] measured_loin with_details_of(const sheet_loin& loin, measured_loin read) {
    if (loin.silverskin) read.shape.silverskin = *loin.silverskin;
    if (loin.fill) read.shape.fill = *loin.fill;
    if (loin.gluteus_medius) read.gluteus_medius = *loin.gluteus_medius;
    return read;
}

/// The readings of a typical loin of these proportions and the sheet's weight. Its errors name the sheet's keys.
template <class = when_called>
[[nodiscard]] measured_loin typical_readings(const sheet_loin& loin, const loin_proportions& kind) {
    try {
        measured_loin read = typical_loin(board_weight(loin), kind).readings();
        if (loin.length) read.length = *loin.length;
        for (station& s : read.stations) s.at = std::min(s.at, read.length);
        return with_details_of(loin, std::move(read));
    } catch (const invalid_input& error) {
        if (error.field() == "weight")
            throw invalid_input(heading_of(loin) + (loin.on_the_board ? " weight on the board" : " weight"),
                                error.value_words(), error.expected_words());
        throw invalid_input(heading_of(loin) + (loin.length ? " length" : " weight"),
                            loin.length ? sentence(*loin.length) : sentence(board_weight(loin)),
                            sentence("sizes that go together for a ") + std::string(kind.name) +
                                "; or readings of the tape at stations");
    }
}

template <class = when_called>
[[nodiscard]] measured_loin taped_readings_of(const sheet_loin& loin) {
    if (!loin.length) throw invalid_input(heading_of(loin) + " length", "nothing", "the length as it lies");
    return with_details_of(loin, {.length = *loin.length, .stations = loin.stations});
}

/// Brought to what the scale says, on the sheet's grid.
template <class = when_called>
[[nodiscard]] calibrated_loin<measured_loin> on_the_scale(const sheet_loin& loin, const measured_loin& read,
                                                          length grid) {
    try {
        return calibrate(read, board_weight(loin), grid);
    } catch (const invalid_input& error) {
        if (error.field() == "step") throw invalid_input("[cutting] grid", sentence(grid), error.expected_words());
        if (error.field() == "scale weight") {
            const std::string key = loin.stations.empty() ? "" : loin.on_the_board ? " weight on the board" : " weight";
            throw invalid_input(heading_of(loin) + key, error.value_words(), error.expected_words());
        }
        throw within(heading_of(loin) + ' ', error);
    }
}

/// The loin as it is planned with.
template <class = when_called>
[[nodiscard]] calibrated_loin<measured_loin> weighed_loin(const cut_sheet& sheet, const sheet_loin& loin) {
    const measured_loin read =
        loin.stations.empty() ? typical_readings(loin, proportions_of(loin)) : taped_readings_of(loin);
    return on_the_scale(loin, read, grid_of(sheet));
}

/// How much lipid the tissues of such a loin hold.
template <class = when_called>
[[nodiscard]] tissue_lipids lipids_of(const sheet_loin& loin) {
    const sheet_kind& kind = kind_of_loin(loin);
    return tranche::lipids_of(*kind.lean, *kind.fat);
}

} // namespace tranche::detail
