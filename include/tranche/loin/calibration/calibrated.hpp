// A loin model brought into line with the scale, the best instrument in the room.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>

#include <tranche/loin/calibration/detail/unit_slip.hpp>
#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A model that was brought into line with the scale, and what the scale said of it. Made by `calibrate`: a model of tape
/// readings has another fill then; of others all areas are multiplied by a factor, which stands for their density.
template <loin_model Model>
struct calibrated_loin {
    Model model;
    double factor = 1.0;                ///< of areas, to a billionth; 1 where the fill gives way
    std::optional<mass> scale_weight{}; ///< none for a factor of one's own

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] length extent() const { return model.extent(); }
    /// On another grid, or with other densities, than it was calibrated with, the loin still weighs what the scale
    /// said. In kilograms, above zero; none on another fill. Throws nothing.
    [[nodiscard]] std::optional<mass> known_mass() const { return scale_weight; }
    /// The side that the flank lies on, as `flank_of` the model within has it. Throws nothing of its own.
    [[nodiscard]] loin_side flank() const { return flank_of(model); }
    /// The model's face at `at`, 0 to the extent, with its areas (m²) multiplied by the factor. Throws what the model
    /// does.
    [[nodiscard]] face face_at(length at) const {
        face f = model.face_at(at);
        const double larger = detail::snapped_share(factor);
        for (area& a : f.areas.values) a = detail::unfused(a * larger);
        return f;
    }
    /// The same on a stretch of a grid at once, places in metres. Throws what the model does.
    void read_faces(const detail::grid_block& block, detail::face_columns& columns) const {
        detail::read_faces(model, block, columns);
        const double larger = detail::snapped_share(factor);
        if (larger == 1.0) return;
        for (detail::place_column& column : columns.areas.values)
            for (std::size_t i = 0; i < block.size(); ++i) column[i] = detail::unfused(column[i] * larger);
    }
    /// As the model spreads its layers: they are shares, which no density changes. Throws what the model does.
    void spread_layers(detail::face_columns& columns) const requires detail::spreads_layers<Model> {
        model.spread_layers(columns);
    }
    /// The volume in front of `at`, 0 to the extent, times the factor, in m³; throws what the model does.
    [[nodiscard]] volume volume_before(length at) const requires detail::knows_volume<Model> {
        return detail::unfused(detail::snapped_share(factor) * model.volume_before(at));
    }
    /// Its first moment about the plane at `at`, 0 to the extent, times the factor, in m⁴; throws what the model does.
    [[nodiscard]] auto moment_before(length at) const requires detail::knows_moment<Model> {
        return detail::unfused(detail::snapped_share(factor) * model.moment_before(at));
    }
    /// The outlines of the model; no density changes them. In metres; `at` is 0 to the extent. Throws what the model
    /// does.
    [[nodiscard]] painted_face painted_at(length at) const requires shaped_loin_model<Model> {
        return model.painted_at(at);
    }
    /// The share of its width × depth that a face fills, above 0 to 1. Throws nothing.
    [[nodiscard]] fraction fill() const requires detail::leaves_fill_open<Model> { return model.fill(); }
    static constexpr bool refilled_as_a_whole = detail::refilled_as_a_whole<Model>;
    /// It weighs what that fill gives: the scale spoke of another. `filled` is above 0 to 1, which is not checked here.
    /// Throws what the model does.
    [[nodiscard]] calibrated_loin with_fill(fraction filled) const requires detail::leaves_fill_open<Model> {
        return {model.with_fill(filled), factor, std::nullopt};
    }

    /// As tables read it: lengths on the grain of 1/16 um, shares on that of a billionth. Throws nothing.
    [[nodiscard]] calibrated_loin snapped() const requires detail::can_be_snapped<Model> {
        return {model.snapped(), factor, scale_weight};
    }

    friend bool operator==(const calibrated_loin&, const calibrated_loin&) = default;
};

/// Throws `invalid_input` for a factor or a scale weight that is not above zero and finite, and what the model's
/// `validate` throws.
template <loin_model Model>
void validate(const calibrated_loin<Model>& loin) {
    validate_model(loin.model);
    detail::require_positive(detail::snapped_share(loin.factor), "factor");
    if (loin.scale_weight) detail::require_positive(*loin.scale_weight, "scale weight");
}

namespace detail {

/// What a model weighs, in kilograms: a part that calibration leaves alone, and one that it multiplies by a factor.
struct open_mass {
    double fixed = 0.0, open = 0.0;

    /// The factor with which they weigh `aim`. Throws `invalid_input` where there is nothing to multiply.
    [[nodiscard]] double factor(mass aim) const {
        require_positive(mass::from_value(open), "mass of the model");
        return (aim.value() - fixed) / open;
    }
    [[nodiscard]] mass with(double factor) const { return mass::from_value(fixed + unfused(factor * open)); }
};

/// Of kilograms as tape readings give them: another fill leaves the tail as it is.
[[nodiscard]] inline open_mass open_but_tail(by_tissue<double> kilograms) {
    const double tail = std::exchange(kilograms[tissue::tail], 0.0);
    return {tail, sum_of(kilograms)};
}

/// The mass of a model as calibration sees it: another fill leaves the tail as it is, another density nothing. Of a loin that is
/// cut at a slant the straight one is asked.
template <loin_model Model>
[[nodiscard]] open_mass open_mass_of(const Model& model, length step, const tissue_densities& densities) {
    if constexpr (refilled_as_a_whole<Model> && requires { model.straight(); }) {
        return open_mass_of(model.straight(), step, densities);
    } else if constexpr (leaves_fill_open<Model>) {
        return open_but_tail(tissue_masses(model, step, densities));
    } else {
        return {0.0, modelled_mass(model, step, densities).value()};
    }
}

/// What the factor of a calibration means for a model, and between which limits it can be true.
struct calibration_limits {
    double least = 0.0, most = 0.0; ///< limits of the factor
    std::string readings;           ///< the readings to check when the factor is outside
    std::string bound;              ///< what the limits are, in words
};

/// A face cannot fill more than all of width × depth; less than 0.60 of it is a wedge and no loin (common practice, no
/// source). So a model with tape readings takes factors from 0.60 / fill to 1 / fill. A model whose areas are known
/// leaves only the density open: 0.90 to 1.15 of what the tissues give (common practice, no source).
template <loin_model Model>
[[nodiscard]] calibration_limits limits_of_calibration(const Model& model) {
    if constexpr (leaves_fill_open<Model>)
        return {0.60 / model.fill(), 1.0 / model.fill(), "the scale, then length, widths and depths",
                "faces that fill 0.60 to 1.00 of width x depth"};
    else
        return {0.90, 1.15, "the scale, then length and faces", "a density 0.90 to 1.15 times that of the tissues"};
}

/// A question to ask about a weight that is impossible: it, one length, or all three of length, width and depth may have been
/// read in another unit. Empty where no such slip explains it; `possible` says so of a weight.
template <class Possible>
[[nodiscard]] std::string slip_of_a_unit(mass weight, const Possible& possible) {
    const auto with = [&](double more) { return possible(more * weight); };
    const double inches = inch / centimetre;
    const std::string unit = other_mass_unit(weight, with);
    const std::string one = with(1.0 / inches) ? "inches" : with(inches) ? "centimetres" : "";
    const std::string all = with(std::pow(inches, -3.0)) ? "inches" : with(std::pow(inches, 3.0)) ? "centimetres" : "";
    if (!unit.empty()) return "; was it read in " + unit + (one.empty() ? "?" : ", or a length in " + one + '?');
    if (!one.empty()) return "; was a length read in " + one + '?';
    return all.empty() ? "" : "; were the lengths read in " + all + '?';
}

/// Aims at a whole microgram, so that tabulating on the same grid hits it and nothing is lost between scale and table.
[[nodiscard]] inline mass aim_of(mass scale_weight) { return to_mass(to_micrograms(scale_weight)); }

/// With which factor of what is open the model weighs what the scale says; throws where that cannot be.
template <loin_model Model>
[[nodiscard]] double factor_of_scale(const Model& model, const open_mass& modelled, mass scale_weight) {
    const mass aim = aim_of(scale_weight);
    const double factor = modelled.factor(aim);
    const calibration_limits limits = limits_of_calibration(model);
    const mass least = modelled.with(limits.least), most = modelled.with(limits.most);
    const auto possible = [&](mass weight) { return least * (1.0 - 1e-9) <= weight && weight <= most * (1.0 + 1e-9); };
    if (possible(aim)) return factor;
    // Whoever reads the error sees what to change: the limits are rounded into what is allowed, and the weight out of it.
    using written = written_quantity<mass>;
    throw invalid_input("scale weight",
                        written{scale_weight, aim < least ? written::rounding::down : written::rounding::up},
                        sentence(rounded_up(least)) + " to " + rounded_down(most) + " for these measurements (" +
                            limits.bound + "); check " + limits.readings + slip_of_a_unit(scale_weight, possible));
}

/// The model with so many times its fill, on the grain of shares; at the limit a last bit may be beyond it.
template <leaves_fill_open Model>
[[nodiscard]] Model refilled(const Model& model, double factor) {
    return model.with_fill(std::min(1.0, snapped_share(model.fill() * factor)));
}

} // namespace detail

/// The model brought to where on a grid of `step` it weighs `scale_weight`, to the microgram. It is changed where it is
/// uncertain, and all else follows, as if that had been stated:
///
/// - Tape readings leave the fill of the faces open. With f the fill, T the mass of the tails, which does not depend on it, and M
///   that of the rest, the new fill is f (scale weight - T) / M; areas, the spread of the fat and outlines are those of it.
///   A loin of tape readings that is cut at a slant (`slanted_loin`) has the fill that the straight one gets.
/// - Of other models, as traced and scanned ones, the density is open: all areas are multiplied by scale weight / mass of the
///   model, layers and outlines stay.
///
/// A model of one's own is taken for one of tape readings if it has a `fraction fill() const` and a `Model with_fill(fraction)
/// const` that multiplies all areas but the tail's. The model remembers what it weighs: `tabulate` brings it to that,
/// whatever step and densities it is given.
///
/// Throws `invalid_input` naming the reading to check when the fill would not be 0.60 to 1.00, or the density not 0.90
/// to 1.15 times that of the tissues, and says so when pounds and kilograms, or inches and centimetres, look swapped.
/// Cost: less than one tabulation. `scale_weight` is above zero; `step` and `densities` are as for `tabulate`, whose
/// errors it throws too. Where the ranges of fill and density end is common practice, no source.
template <loin_model Model>
[[nodiscard]] calibrated_loin<Model> calibrate(const Model& model, mass scale_weight, length step = default_step,
                                               const tissue_densities& densities = densities_at_4_celsius()) {
    detail::require_positive(scale_weight, "scale weight");
    const mass aim = detail::aim_of(scale_weight);
    const double factor = detail::factor_of_scale(model, detail::open_mass_of(model, step, densities), scale_weight);
    if constexpr (detail::leaves_fill_open<Model>)
        return {detail::refilled(model, factor), 1.0, aim};
    else
        return {model, detail::snapped_share(factor), aim};
}

/// How a loin is tabulated: how far apart positions stand, and the densities of its tissues. See `tabulate`.
struct tabulation {
    length step = default_step;
    tissue_densities densities = densities_at_4_celsius();

    friend bool operator==(const tabulation&, const tabulation&) = default;
};

/// The loin calibrated to the scale and tabulated, in one: a profile that weighs `scale_weight`, to the microgram. Throws
/// what `calibrate` and `tabulate` throw. Of tape readings in one pass: a cell may differ from what the two give in turn by a
/// microgram of rounding. Cost: little more than a tabulation; of other models, less than two.
///
///     const profile meat = calibrated_profile(loin, 5.2_kg);
///
/// `scale_weight` is above zero, and `how` has the step (above zero, half a millimetre by default) and the densities.
/// Source: as `calibrate`.
template <loin_model Model>
[[nodiscard]] profile calibrated_profile(const Model& model, mass scale_weight, const tabulation& how = {}) {
    if constexpr (detail::leaves_fill_open<Model> && detail::spreads_layers<Model>) {
        // One pass: of another fill masses are in proportion, and spreads come last.
        detail::require_positive(scale_weight, "scale weight");
        const auto& read = detail::as_tabulated(model);
        const auto settle = [&](const by_tissue<double>& kilograms, detail::face_columns& faces) {
            const detail::open_mass modelled = detail::open_but_tail(kilograms);
            const auto filled = detail::refilled(read, detail::factor_of_scale(model, modelled, scale_weight));
            filled.spread_layers(faces);
            // On the grain the fill is a little off, which all tissues make up for.
            const mass aim = detail::aim_of(scale_weight);
            const double fuller = filled.fill() / read.fill(), all = aim / modelled.with(fuller), open = fuller * all;
            detail::settled_masses settled{{{open, open, open, open, open}}, aim};
            settled.factors[tissue::tail] = all;
            return settled;
        };
        return detail::tabulate_as(read, detail::checked_grid(read, how.step, how.densities), how.densities, settle);
    } else {
        return tabulate(calibrate(model, scale_weight, how.step, how.densities), how.step, how.densities);
    }
}

} // namespace tranche
