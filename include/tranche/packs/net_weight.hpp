// The net weight on a label: a whole number of the scale's divisions, from what lies on the scale and what it is packed in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>

#include <tranche/text/scale_division.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/same_weight.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// How a weight becomes a whole number of divisions: to the nearest, halves up, as a scale shows it; or down, so that the
/// label never says more than there is.
enum class weight_rounding { nearest, down };

/// How the weight of the packing is taken off: as given, or first rounded up to a whole division, as where a tare is
/// entered on a scale that takes whole divisions only (common practice, no source).
enum class tare_rounding { as_given, up_to_division };

/// What a label's weight is made by. Rounding the weight comes before everything that is computed from it.
struct weighing_rules {
    mass_division division{}; ///< of the scale: {kilograms, 200} is 5 g; not pounds and ounces, which is two units
    weight_rounding net = weight_rounding::nearest;
    tare_rounding tare = tare_rounding::as_given;

    friend bool operator==(const weighing_rules&, const weighing_rules&) = default;
};

/// Throws `invalid_input` for a division that no scale has. One unit, and 1/1 to 1/1000000 of it. Sources of the units:
/// as `size_of`.
inline void validate(const weighing_rules& rules) { validate(rules.division); }

/// A net weight as a label has it.
struct net_weight {
    std::int64_t divisions = 0;
    mass_division division{};

    /// As a quantity, for everything but the price, which is computed from the whole numbers. In kilograms, zero or
    /// more. Throws as `size_of` of its division.
    [[nodiscard]] mass weight() const { return static_cast<double>(divisions) * size_of(division); }
    /// "0.365 kg", "12.06 lb", "11 1/4 oz": exact, see `as_written`. Throws `invalid_input` beyond 15 digits.
    [[nodiscard]] std::string text() const;

    friend bool operator==(const net_weight& a, const net_weight& b) {
        return a.divisions == b.divisions && a.division.in == b.division.in && a.division.parts == b.division.parts;
    }
};

inline std::string net_weight::text() const { return to_text(weight(), as_written(division)); }

/// What lies on the scale less its packing, in whole divisions: divisions = (gross - tare) / division, rounded once. A
/// weight that is meant to be a whole or a half division is one, in whatever unit it was written: 18 oz are 1.125 lb.
/// Throws `invalid_input` for a gross weight that is not above zero, a negative tare, where nothing is left of a
/// division, and above 5 × 10^12 divisions. Rounding once, after the tare, is common practice, no source.
[[nodiscard]] inline net_weight net_weight_of(mass gross, mass tare, const weighing_rules& rules) {
    validate(rules);
    detail::require_positive(gross, "gross");
    detail::require_not_negative(tare, "tare");
    const mass one = size_of(rules.division);
    mass packing = tare;
    if (rules.tare == tare_rounding::up_to_division)
        packing = static_cast<double>(detail::steps_in(tare, tare, one, "tare").rounded_up()) * one;
    const std::int64_t halves = detail::steps_in(gross - packing, gross + packing, 0.5 * one, "gross").whole;
    const std::int64_t whole = (rules.net == weight_rounding::down ? halves : halves + 1) / 2;
    if (whole < 1)
        throw invalid_input("gross", detail::shown(gross) + " with a tare of " + detail::shown(tare),
                            "a net weight of at least one division, " + detail::shown(one));
    return {whole, rules.division};
}

} // namespace tranche
