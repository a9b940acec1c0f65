// A loin model whose fill, or whose areas, are multiplied by a factor that changes smoothly along the loin.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Made by `calibrate_by_slices`. The factors, read to a billionth, stand at even distances from the rib face to the sirloin face (two at
/// least, or one for the whole loin); between them they run in straight lines.
template <loin_model Model>
struct slice_calibrated_loin {
    Model model;
    std::vector<double> factors{1.0};
    std::optional<mass> weight{}; ///< what the scale said of it; none for factors of one's own

    static constexpr bool refilled_as_a_whole = detail::refilled_as_a_whole<Model>;
    /// Whether the factors are of the fill, and not of all areas.
    static constexpr bool fills_faces = detail::leaves_fill_open<Model> && !refilled_as_a_whole;

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] length extent() const { return model.extent(); }
    /// The side that the flank lies on, as `flank_of` the model within has it. Throws nothing of its own.
    [[nodiscard]] loin_side flank() const { return flank_of(model); }
    /// What it weighs, in kilograms, above zero; none on another fill. Throws nothing.
    [[nodiscard]] std::optional<mass> known_mass() const { return weight; }
    /// Of tape readings, the face that is filled by the factor more; of other models, and of slanted ones, the face
    /// with areas by the factor larger. `at` is 0 to the extent, areas are in square metres. Throws what the model
    /// does.
    [[nodiscard]] face face_at(length at) const {
        const double factor = factor_at(at);
        if constexpr (fills_faces) {
            return model.with_fill(factor * model.fill()).face_at(at);
        } else {
            face f = model.face_at(at);
            for (area& a : f.areas.values) a = detail::unfused(a * factor);
            return f;
        }
    }
    /// Exact where the model knows its volume and its first moment, as a scan does: with V the model's volume and a
    /// factor f in straight lines, ∫ f dV = f V - Σ f' ∫ V, by parts. Other models are tabulated by Simpson's rule.
    /// O(factors) calls of the model. In cubic metres; `at` is clamped to the loin. Throws what the model does.
    [[nodiscard]] volume volume_before(length at) const requires detail::knows_moment<Model> {
        at = std::clamp(at, length{}, extent());
        volume sum = detail::unfused(factor_at(at) * model.volume_before(at));
        const auto spans = static_cast<double>(factors.size() - 1);
        for (std::size_t k = 0; k + 1 < factors.size(); ++k) {
            const length from = detail::unfused(static_cast<double>(k) / spans * extent());
            if (!(from < at)) break;
            const length to = std::min(at, detail::unfused(length(static_cast<double>(k + 1) / spans * extent())));
            const auto per_length =
                (detail::snapped_share(factors[k + 1]) - detail::snapped_share(factors[k])) * spans / extent();
            sum -= detail::unfused(volume(per_length * (model.moment_before(to) - model.moment_before(from))));
        }
        return sum;
    }
    /// With tape readings the fill at `at` shapes the outlines; outlines of other models stay as they are. In metres;
    /// `at` is 0 to the extent. Throws what the model does.
    [[nodiscard]] painted_face painted_at(length at) const requires shaped_loin_model<Model> {
        if constexpr (fills_faces)
            return model.with_fill(factor_at(at) * model.fill()).painted_at(at);
        else
            return model.painted_at(at);
    }
    /// The share of its width × depth that a face fills, above 0 to 1. Throws nothing.
    [[nodiscard]] fraction fill() const requires detail::leaves_fill_open<Model> { return model.fill(); }
    /// The same factors on another fill. It weighs what that gives. `filled` is above 0 to 1, which is not checked
    /// here. Throws what the model does.
    [[nodiscard]] slice_calibrated_loin with_fill(fraction filled) const requires detail::leaves_fill_open<Model> {
        return {model.with_fill(filled), factors, std::nullopt};
    }
    /// The factor at `at`, which is clamped to the loin: a plain number above zero. O(1); throws nothing.
    [[nodiscard]] double factor_at(length at) const {
        if (factors.size() == 1) return detail::snapped_share(factors.front());
        const auto spans = static_cast<double>(factors.size() - 1);
        const double x = std::clamp<double>(detail::unfused(spans * double(at / extent())), 0.0, spans);
        const std::size_t k = std::min(static_cast<std::size_t>(x), factors.size() - 2);
        const double t = x - static_cast<double>(k);
        return detail::mixed_share(t, detail::snapped_share(factors[k]), detail::snapped_share(factors[k + 1]));
    }

    /// As tables read it: lengths on the grain of 1/16 um, shares on that of a billionth. Throws nothing.
    [[nodiscard]] slice_calibrated_loin snapped() const requires detail::can_be_snapped<Model> {
        return {model.snapped(), factors, weight};
    }

    friend bool operator==(const slice_calibrated_loin&, const slice_calibrated_loin&) = default;
};

/// Throws `invalid_input` for no factors, for a factor or a weight that is not above zero and finite, and what the
/// model's `validate` throws.
template <loin_model Model>
void validate(const slice_calibrated_loin<Model>& loin) {
    validate_model(loin.model);
    if (loin.factors.empty()) throw invalid_input("factors", "none", "at least one");
    for (std::size_t k = 0; k < loin.factors.size(); ++k)
        detail::require_positive(detail::snapped_share(loin.factors[k]), "factors[" + std::to_string(k) + "]");
    if (loin.weight) detail::require_positive(*loin.weight, "weight");
}

} // namespace tranche
