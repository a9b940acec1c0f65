// Faces in between a few known ones: areas and sizes interpolated without overshoot, spreads of layers mixed.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/detail/layer_column.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/tape/detail/monotone.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// Areas, outlines and thicknesses are what `monotone_interpolation` gives of each. A spread is a mixture of those of the two
/// faces around it, and goes from one to the other along a straight line; outside it is that of the outermost.
template <class = when_called>
class face_course {
public:
    face_course() = default;
    /// Through `faces`, one or more, at strictly rising at(i).
    template <class At>
    face_course(std::size_t count, At at, const std::vector<face>& faces) {
        for (std::size_t i = 0; i < count; ++i) {
            const face& f = faces[i];
            places_.push_back(at(i).value());
            for (const tissue t : all_tissues) areas_[t].push_back(f.areas[t].value());
            widths_.push_back(f.width.value());
            depths_.push_back(f.depth.value());
            fat_covers_.add(f.fat_cover);
            tails_.add(f.tail);
        }
    }

    [[nodiscard]] face at(length place) const {
        const double x = place.value();
        const auto number = [&](const std::vector<double>& values) {
            return monotone_interpolation(
                places_.size(), [&](std::size_t i) { return places_[i]; }, [&](std::size_t i) { return values[i]; }, x);
        };
        face f;
        for (const tissue t : all_tissues) f.areas[t] = area::from_value(number(areas_[t]));
        f.width = length::from_value(number(widths_));
        f.depth = length::from_value(number(depths_));
        const auto mixed = [&](const layers& known) {
            const length thickness = length::from_value(number(known.thicknesses));
            return known.even ? layer{thickness} : place_among_spreads(place_among(x)).of(known.spreads, thickness);
        };
        f.fat_cover = mixed(fat_covers_);
        f.tail = mixed(tails_);
        return f;
    }

    /// What `at` says, on a stretch of a grid at once.
    void read(const grid_block& block, face_columns& columns) const {
        const auto at = [&](std::size_t i) { return places_[i]; };
        const places_among places(places_.size(), at, block);
        const auto course = [&](const std::vector<double>& values, place_column& into) {
            places.interpolate(
                at, [&](std::size_t i) { return values[i]; }, into.data());
        };
        for (const tissue t : all_tissues) course(areas_[t], columns.areas[t]);
        if (block.areas_alone) return;
        course(widths_, columns.widths);
        course(depths_, columns.depths);
        cell_column among; // the fat of a tracing has no ends of its own
        for (std::size_t i = 0; i < block.cells; ++i) among[i] = place_among(block.places[block.middle(i)]);
        const auto add = [&](const layers& known, layer_column& into) {
            place_column everywhere;
            course(known.thicknesses, everywhere);
            if (!known.even && block.first_cell == 0) into.use(known.spreads);
            into.append(block.middles_of(everywhere), {among.data(), known.even ? 0 : block.cells});
        };
        add(fat_covers_, columns.fat_covers);
        add(tails_, columns.tails);
    }

private:
    /// One layer on all the faces.
    struct layers {
        std::vector<double> thicknesses{};
        std::vector<layer_spread> spreads{};
        bool even = true;

        void add(const layer& l) {
            thicknesses.push_back(l.thickness.value());
            spreads.push_back(l.spread);
            even = even && l.spread == even_spread;
        }
    };

    /// Where a place lies among the faces, 0 to the last.
    [[nodiscard]] double place_among(double x) const {
        if (!(x > places_.front())) return 0.0;
        std::size_t k = 0;
        while (k + 1 < places_.size() && x >= places_[k + 1]) ++k;
        const auto before = static_cast<double>(k);
        return k + 1 < places_.size() ? before + (x - places_[k]) / (places_[k + 1] - places_[k]) : before;
    }

    std::vector<double> places_, widths_, depths_; // in metres, and so on
    by_tissue<std::vector<double>> areas_;
    layers fat_covers_, tails_;
};

} // namespace tranche::detail
