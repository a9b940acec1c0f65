// A loin model brought into line with the scale, the best instrument in the room.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <concepts>
#include <optional>
#include <string>

#include <tranche/loin/calibration/detail/unit_slip.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A model whose areas are all multiplied by one factor, and what the scale said of it. Made by `calibrate`.
template <loin_model Model>
struct calibrated_loin {
    Model model;
    double factor = 1.0;
    std::optional<mass> scale_weight{}; ///< none for a factor of one's own

    [[nodiscard]] length extent() const { return model.extent(); }
    /// On another grid, or with other densities, than it was calibrated with, the loin still weighs what the scale said.
    [[nodiscard]] std::optional<mass> known_mass() const { return scale_weight; }
    [[nodiscard]] loin_side flank() const { return flank_of(model); }
    [[nodiscard]] face face_at(length at) const {
        face f = model.face_at(at);
        for (area& a : f.areas.values) a = detail::unfused(a * factor);
        return f;
    }
    [[nodiscard]] volume volume_before(length at) const requires detail::knows_volume<Model> {
        return detail::unfused(factor * model.volume_before(at));
    }
    [[nodiscard]] auto moment_before(length at) const requires detail::knows_moment<Model> {
        return detail::unfused(factor * model.moment_before(at));
    }
    /// With tape readings the calibrated fill shapes the outlines; outlines that were traced stay as traced.
    [[nodiscard]] painted_face painted_at(length at) const requires shaped_loin_model<Model> {
        return detail::painted_in_proportion(model, at, factor);
    }

    /// As tables read it.
    [[nodiscard]] calibrated_loin snapped() const requires detail::can_be_snapped<Model> {
        return {model.snapped(), factor, scale_weight};
    }

    friend bool operator==(const calibrated_loin&, const calibrated_loin&) = default;
};

template <loin_model Model>
void validate(const calibrated_loin<Model>& loin) {
    validate_model(loin.model);
    detail::require_positive(loin.factor, "factor");
    if (loin.scale_weight) detail::require_positive(*loin.scale_weight, "scale weight");
}

namespace detail {

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
    if constexpr (requires {
                      { model.shape.fill } -> std::convertible_to<fraction>;
                  })
        return {0.60 / model.shape.fill, 1.0 / model.shape.fill, "the scale, then length, widths and depths",
                "faces that fill 0.60 to 1.00 of width x depth"};
    else
        return {0.90, 1.15, "the scale, then length and faces", "a density 0.90 to 1.15 times that of the tissues"};
}

} // namespace detail

namespace detail {

/// A question to ask about a factor that is impossible: a weight, one length, or all three of length, width and depth may
/// have been read in another unit. Empty where no such slip explains it.
template <class Possible>
[[nodiscard]] std::string slip_of_a_unit(mass weight, double factor, const Possible& possible) {
    const auto with = [&](double more) { return possible(factor * more); };
    const double inches = inch / centimetre;
    const std::string unit = other_mass_unit(weight, with);
    const std::string one = with(1.0 / inches) ? "inches" : with(inches) ? "centimetres" : "";
    const std::string all = with(std::pow(inches, -3.0)) ? "inches" : with(std::pow(inches, 3.0)) ? "centimetres" : "";
    if (!unit.empty()) return "; was it read in " + unit + (one.empty() ? "?" : ", or a length in " + one + '?');
    if (!one.empty()) return "; was a length read in " + one + '?';
    return all.empty() ? "" : "; were the lengths read in " + all + '?';
}

} // namespace detail

/// The model with every area multiplied so that on a grid of `step` it weighs `scale_weight`, to the microgram. The model
/// remembers what it weighs: `tabulate` brings it to that, whatever step and densities it is given.
/// factor = scale weight / mass of the model. Throws `invalid_input` naming the reading to check when the factor is impossible
/// (`limits_of_calibration`), and says so when pounds and kilograms, or inches and centimetres, look swapped.
/// Cost: one tabulation. `scale_weight` is above zero; `step` and `densities` are as for `tabulate`, whose errors it
/// throws too.
template <loin_model Model>
[[nodiscard]] calibrated_loin<Model> calibrate(const Model& model, mass scale_weight, length step = default_step,
                                               const tissue_densities& densities = densities_at_4_celsius()) {
    detail::require_positive(scale_weight, "scale weight");
    const mass modelled = tabulate(model, step, densities).unrounded_total();
    detail::require_positive(modelled, "mass of the model");
    // Aims at a whole microgram, so that tabulating on the same grid hits it and nothing is lost between scale and table.
    const mass aim = to_mass(to_micrograms(scale_weight));
    const double factor = aim / modelled;
    const detail::calibration_limits limits = detail::limits_of_calibration(model);
    const auto possible = [&](double f) { return limits.least * (1.0 - 1e-9) <= f && f <= limits.most * (1.0 + 1e-9); };
    if (!possible(factor)) {
        // Whoever reads the error sees what to change: the limits are rounded into what is allowed, and the weight out of it.
        using written = written_quantity<mass>;
        const bool light = factor < limits.least;
        throw invalid_input(
            "scale weight", written{scale_weight, light ? written::rounding::down : written::rounding::up},
            sentence(detail::rounded_up(limits.least * modelled)) + " to " +
                detail::rounded_down(limits.most * modelled) + " for these measurements (" + limits.bound +
                "); check " + limits.readings + detail::slip_of_a_unit(scale_weight, factor, possible));
    }
    return {model, factor, aim};
}

/// How a loin is tabulated: how far apart positions stand, and the densities of its tissues. See `tabulate`.
struct tabulation {
    length step = default_step;
    tissue_densities densities = densities_at_4_celsius();

    friend bool operator==(const tabulation&, const tabulation&) = default;
};

/// The loin calibrated to the scale and tabulated, in one: a profile that weighs `scale_weight`, to the microgram. Throws
/// what `calibrate` and `tabulate` throw. Cost: two tabulations.
///
///     const profile meat = calibrated_profile(loin, 5.2_kg);
///
/// `scale_weight` is above zero, and `how` has the step (above zero, half a millimetre by default) and the densities.
template <loin_model Model>
[[nodiscard]] profile calibrated_profile(const Model& model, mass scale_weight, const tabulation& how = {}) {
    return tabulate(calibrate(model, scale_weight, how.step, how.densities), how.step, how.densities);
}

} // namespace tranche
