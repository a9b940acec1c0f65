// A loin from a tape measure: readings at a few stations, and where the second muscle starts.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/tape/detail/monotone.hpp>
#include <tranche/loin/tape/detail/taped_columns.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// What the tape measure said at one station, `at` from the rib face. See `taped_readings`.
struct station {
    length at{}, width{}, depth{}, fat_cover{}, tail{};

    friend bool operator==(const station&, const station&) = default;
};

/// Where the gluteus medius enters the face, and its share of the lean on the sirloin face. It grows in a straight line
/// in between. By default there is none.
struct gluteus_medius_entry {
    length onset = unlimited<length>();
    fraction share_at_end = 0.0;

    friend bool operator==(const gluteus_medius_entry&, const gluteus_medius_entry&) = default;
};

/// Readings at one or more stations in the order in which they stand along the loin, as it lies under the knife (a loin
/// stretched for the tape is a fifth longer). Between stations each reading is interpolated without overshoot, beyond
/// the outermost ones it stays as it is. `face_at` is O(stations). Readings stay as they were written until a table, or
/// `validate`, reads them to 1/16 um (`snapped`), so that units decide nothing.
struct measured_loin {
    tranche::length length{};
    std::vector<station> stations{};
    gluteus_medius_entry gluteus_medius{};
    face_shape shape{};

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] tranche::length extent() const { return length; }

    /// The face at `at`, 0 to the extent: areas in square metres, layers in metres. Beyond the ends it stays as at the
    /// outermost station. O(stations); throws nothing of its own.
    [[nodiscard]] face face_at(tranche::length at) const {
        return taped_face(readings_at(at), shape, gluteus_medius_at(at));
    }
    /// The outlines of that face in metres; `at` is as for `face_at`. Throws nothing of its own.
    template <class = detail::when_called>
    [[nodiscard]] painted_face painted_at(tranche::length at) const {
        return taped_outlines(readings_at(at), shape, gluteus_medius_at(at));
    }

    /// The readings that the tape would show at `at`. In metres, `at` from 0 to the extent; beyond the outermost
    /// stations they stay. Throws nothing.
    [[nodiscard]] taped_readings readings_at(tranche::length at) const {
        return {.width = reading(&station::width, at),
                .depth = reading(&station::depth, at),
                .fat_cover = reading(&station::fat_cover, at),
                .tail = reading(&station::tail, at)};
    }

    /// The second muscle's share of the lean on the face at `at`. 0 up to the onset, from there in a straight line;
    /// `at` is 0 to the extent. Throws nothing.
    [[nodiscard]] fraction gluteus_medius_at(tranche::length at) const {
        if (!(at > gluteus_medius.onset)) return 0.0;
        return detail::unfused(gluteus_medius.share_at_end *
                               double((at - gluteus_medius.onset) / (length - gluteus_medius.onset)));
    }

    /// The share of its width × depth that a face fills, above 0 to 1. Throws nothing.
    [[nodiscard]] fraction fill() const { return shape.fill; }
    /// The same readings of faces that are filled otherwise, above 0 to 1. Not checked here; throws nothing of its own.
    [[nodiscard]] measured_loin with_fill(fraction filled) const { return detail::filled_so(*this, filled); }

    /// What `face_at` says, on a stretch of a grid at once. Places are 0 to the extent, in metres, and not checked;
    /// throws nothing.
    template <class = detail::when_called>
    void read_faces(const detail::grid_block& block, detail::face_columns& columns) const {
        const auto at = [&](std::size_t i) { return stations[i].at.value(); };
        const detail::places_among places(stations.size(), at, block);
        const auto course = [&](tranche::length station::*column, detail::place_column& into) {
            places.interpolate(
                at, [&](std::size_t i) { return (stations[i].*column).value(); }, into.data());
        };
        detail::reading_columns r;
        course(&station::width, columns.widths);
        course(&station::depth, columns.depths);
        course(&station::fat_cover, r.fat_cover);
        course(&station::tail, r.tail);
        r.with_gluteus_medius = block.at(block.cells) > gluteus_medius.onset;
        for (std::size_t i = 0; i < block.size() && r.with_gluteus_medius; ++i)
            r.gluteus_medius[i] = gluteus_medius_at(block.at(i));
        detail::taped_columns(r, shape, block, columns);
    }
    /// Adds to the columns how fat cover and tail are spread, as `face_at` has it. Throws nothing.
    template <class = detail::when_called>
    void spread_layers(detail::face_columns& columns) const {
        detail::spread_taped_layers(shape, columns);
    }

    /// The same loin with every length on the grain of 1/16 um and the share on that of a billionth. Throws nothing.
    [[nodiscard]] measured_loin snapped() const {
        measured_loin loin{.length = detail::snapped(length),
                           .stations = stations,
                           .gluteus_medius = {detail::snapped(gluteus_medius.onset),
                                              detail::snapped_share(gluteus_medius.share_at_end)},
                           .shape = detail::snapped(shape)};
        for (station& s : loin.stations)
            for (tranche::length station::*reading :
                 {&station::at, &station::width, &station::depth, &station::fat_cover, &station::tail})
                s.*reading = detail::snapped(s.*reading);
        return loin;
    }

    friend bool operator==(const measured_loin&, const measured_loin&) = default;

private:
    [[nodiscard]] tranche::length reading(tranche::length station::*column, tranche::length at) const {
        return tranche::length::from_value(detail::monotone_interpolation(
            stations.size(), [&](std::size_t i) { return stations[i].at.value(); },
            [&](std::size_t i) { return (stations[i].*column).value(); }, at.value()));
    }
};

/// Throws `invalid_input` naming the field: no stations, stations out of order or beyond the loin, readings that are
/// impossible (see `taped_readings`), an onset that is not on the loin although a share is given. Readings are lengths;
/// width and depth are above zero, the others zero or more, and `share_at_end` is 0 to 1.
template <class = detail::when_called>
void validate(const measured_loin& written) {
    const measured_loin loin = written.snapped();
    detail::require_positive(loin.length, "length");
    validate(loin.shape);
    if (loin.stations.empty()) throw invalid_input("stations", "none", "at least one");
    for (std::size_t i = 0; i < loin.stations.size(); ++i) {
        const station& s = loin.stations[i];
        const std::string where = "stations[" + std::to_string(i) + "].";
        detail::require_not_negative(s.at, where + "at");
        if (s.at > loin.length)
            throw invalid_input(where + "at", detail::rounded_up(s.at),
                                sentence("at most the length, ") + detail::rounded_down(loin.length));
        if (i > 0 && !(s.at > loin.stations[i - 1].at))
            throw invalid_input(where + "at", s.at,
                                sentence("more than at the station before it, ") +
                                    detail::rounded_up(loin.stations[i - 1].at));
        validate({.width = s.width, .depth = s.depth, .fat_cover = s.fat_cover, .tail = s.tail}, loin.shape, where);
    }
    detail::require_share(loin.gluteus_medius.share_at_end, "gluteus_medius.share_at_end");
    if (loin.gluteus_medius.share_at_end > 0.0) {
        detail::require_not_negative(loin.gluteus_medius.onset, "gluteus_medius.onset");
        if (!(loin.gluteus_medius.onset < loin.length))
            throw invalid_input("gluteus_medius.onset", loin.gluteus_medius.onset,
                                sentence("less than the length, ") + detail::rounded_down(loin.length));
    }
}

} // namespace tranche
