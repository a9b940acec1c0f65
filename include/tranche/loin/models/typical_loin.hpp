// A loin of which only the weight is known: typical proportions, and how little they say.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <string>

#include <tranche/loin/calibration/detail/unit_slip.hpp>
#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/kinds/loin_proportions.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A loin model from weight and kind. Readings of the kind are brought to the weight (`loin_proportions`), then width
/// and tail are multiplied by one factor, so that the loin weighs what it should: on a grid of `default_step` to some
/// parts in 10^10, and to the microgram by `calibrated_profile`.
///
///     const typical_loin loin(4.1_kg, boneless_pork_loin);
///     const profile meat = calibrated_profile(loin, 4.1_kg);
class typical_loin {
public:
    /// `densities` are those that the loin will be tabulated with. Throws `invalid_input` for proportions that cannot
    /// be (naming the field), for a weight more than four spreads from the typical one (and says so when pounds and
    /// kilograms look swapped), and for proportions that give another weight than their own (`width_factor`). Cost:
    /// less than one tabulation. `weight` is in kilograms, above zero, densities in kilograms per cubic metre.
    template <class = detail::when_called>
    typical_loin(mass weight, const loin_proportions& kind,
                 const tissue_densities& densities = densities_at_4_celsius());

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] length extent() const { return readings_.length; }
    /// The face at `at`, 0 to the extent (not checked): areas in square metres, layers in metres. Throws nothing of its
    /// own.
    [[nodiscard]] face face_at(length at) const { return readings_.face_at(at); }
    /// The outlines of that face in metres; `at` is as for `face_at`. Throws nothing of its own.
    template <class = detail::when_called>
    [[nodiscard]] painted_face painted_at(length at) const {
        return readings_.painted_at(at);
    }

    /// What `face_at` says, on a stretch of a grid at once. Places are 0 to the extent, in metres, and not checked;
    /// throws nothing.
    template <class = detail::when_called>
    void read_faces(const detail::grid_block& block, detail::face_columns& columns) const {
        readings_.read_faces(block, columns);
    }
    /// Adds to the columns how fat cover and tail are spread, as `face_at` has it. Throws nothing.
    template <class = detail::when_called>
    void spread_layers(detail::face_columns& columns) const {
        readings_.spread_layers(columns);
    }

    /// The share of its width × depth that a face fills, above 0 to 1. Throws nothing.
    [[nodiscard]] fraction fill() const { return readings_.fill(); }
    /// The same readings of faces that are filled otherwise, above 0 to 1; it weighs more or less than `weight()` then.
    /// Not checked here; throws nothing of its own.
    [[nodiscard]] typical_loin with_fill(fraction filled) const {
        typical_loin other = *this;
        other.readings_ = readings_.with_fill(detail::snapped_share(filled));
        return other;
    }

    /// The readings that a tape measure would give, for those who have some of them and not others. They were computed,
    /// so their grain is finer than the 1/16 um of a table of them: 1/65536 um. Lengths; throws nothing.
    [[nodiscard]] const measured_loin& readings() const { return readings_; }
    /// What it was made to weigh, above zero. Throws nothing.
    [[nodiscard]] mass weight() const { return weight_; }
    /// What width and tail of the kind were multiplied by to give the weight; 1 where the data agree with themselves,
    /// 0.75 to 1.33 where they pass for data at all (common practice, no source). A plain number above zero; throws
    /// nothing.
    [[nodiscard]] double width_factor() const { return width_factor_; }

    /// Relative standard deviation of the number of slices of one thickness that loins of this weight give, which is
    /// that of their length. 0 or more, as a share. Throws nothing.
    [[nodiscard]] fraction slice_count_spread() const { return length_spread_; }
    /// Relative standard deviation of the weight of a slice of given thickness at a given place among loins of this
    /// weight: s² = s²(length) + s²(local mass per length), as mass per length is weight over length, give or take what
    /// is local. 0 or more, as a share. Throws nothing.
    [[nodiscard]] fraction slice_weight_spread() const { return std::hypot(length_spread_, local_spread_); }

private:
    mass weight_;
    measured_loin readings_{};
    double width_factor_ = 1.0;
    fraction length_spread_, local_spread_;
};

namespace detail {

/// Weights further out than this many spreads, on a logarithmic scale, are taken for a mistake (common practice, no source).
inline constexpr double most_weight_deviation = 4.0;

template <class = when_called>
void check_typical_weight(mass weight, const loin_proportions& kind) {
    require_positive(weight, "weight");
    const double most = std::exp(most_weight_deviation * kind.weight.spread);
    const auto possible = [&](double ratio) { return 1.0 / most <= ratio && ratio <= most; };
    const double ratio = weight / kind.weight.value;
    if (possible(ratio)) return;
    const std::string unit = other_mass_unit(weight, [&](double more) { return possible(ratio * more); });
    throw invalid_input("weight", sentence(weight),
                        sentence() + rounded_up(kind.weight.value / most) + " to " +
                            rounded_down(kind.weight.value * most) + " for " + std::string(kind.name) +
                            (unit.empty() ? "" : "; was it read in " + unit + "?"));
}

/// The tape readings of a kind at a weight, before width and tail give way.
template <class = when_called>
[[nodiscard]] measured_loin scaled_readings(mass weight, const loin_proportions& kind) {
    const double ratio = weight / kind.weight.value;
    const double longer = std::pow(ratio, kind.length_exponent.value), thicker = std::sqrt(ratio / longer);
    measured_loin loin{.length = longer * kind.length.value};
    loin.shape.fill = kind.fill.value;
    const auto add = [&](double share, length typical_course::*place) {
        loin.stations.push_back({.at = share * loin.length,
                                 .width = thicker * (kind.width.*place),
                                 .depth = thicker * (kind.depth.*place),
                                 .fat_cover = thicker * (kind.fat_cover.*place),
                                 .tail = thicker * (kind.tail.*place)});
    };
    add(0.0, &typical_course::rib);
    add(0.5, &typical_course::middle);
    add(1.0, &typical_course::sirloin);
    if (kind.gluteus_medius_share_at_end.value > 0.0 && kind.gluteus_medius_onset.value < 1.0)
        loin.gluteus_medius = {.onset = kind.gluteus_medius_onset.value * loin.length,
                               .share_at_end = kind.gluteus_medius_share_at_end.value};
    return loin;
}

/// So that noise in what they were computed from decides nothing.
template <class = when_called>
void snap_computed(measured_loin& loin) {
    const auto snap = [](length& l) { l = length::from_value(snapped_coordinate(l.value())); };
    snap(loin.length);
    for (station& s : loin.stations)
        for (length station::*reading :
             {&station::at, &station::width, &station::depth, &station::fat_cover, &station::tail})
            snap(s.*reading);
    snap(loin.gluteus_medius.onset);
    loin.gluteus_medius.share_at_end = snapped_share(loin.gluteus_medius.share_at_end);
    loin.shape = snapped(loin.shape);
}

} // namespace detail

template <class>
typical_loin::typical_loin(mass weight, const loin_proportions& kind, const tissue_densities& densities)
    : weight_(weight), length_spread_(kind.length.spread), local_spread_(kind.local_mass_per_length.spread) {
    validate(kind);
    detail::check_typical_weight(weight, kind);
    readings_ = detail::scaled_readings(weight, kind);
    validate(readings_);
    // Every area is a product with the width or the tail, so the mass is proportional to both together.
    width_factor_ = weight / detail::modelled_mass(*this, default_step, densities);
    if (!(width_factor_ >= 0.75 && width_factor_ <= 1.33))
        throw invalid_input("proportions of " + std::string(kind.name),
                            detail::shown(weight / width_factor_) + " by size",
                            "sizes that give about " + detail::shown(weight));
    for (station& s : readings_.stations) {
        s.width *= width_factor_;
        s.tail *= width_factor_;
    }
    detail::snap_computed(readings_);
}

} // namespace tranche
