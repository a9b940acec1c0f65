// The net weight on a label: a whole number of the scale's divisions, from what lies on the scale and what it is packed in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstdint>
#include <string>

#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/same_weight.hpp>
#include <tranche/units/detail/wide_integer.hpp>
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
};

namespace detail {

/// The unit of a division in eighths of a microgram, of which pound, ounce and kilogram are all whole numbers (1 oz is
/// 28 349 523.125 micrograms).
[[nodiscard]] inline std::int64_t unit_in_eighths(mass_division how) {
    switch (how.in) {
    case mass_division::unit::grams: return 8'000'000;
    case mass_division::unit::kilograms: return 8'000'000'000;
    case mass_division::unit::ounces: return 226'796'185;
    case mass_division::unit::pounds: return 3'628'738'960;
    case mass_division::unit::pounds_and_ounces: break;
    }
    throw invalid_input("division", "pounds and ounces", "one unit: kg, g, lb or oz");
}

} // namespace detail

/// Throws `invalid_input` for a division that no scale has.
inline void validate(const weighing_rules& rules) {
    (void)detail::unit_in_eighths(rules.division);
    if (rules.division.parts < 1 || rules.division.parts > 1'000'000)
        throw invalid_input("division", "1/" + std::to_string(rules.division.parts), "1/1 to 1/1000000 of its unit");
}

/// The division of a scale as a mass.
[[nodiscard]] inline mass size_of(mass_division division) {
    validate(weighing_rules{division});
    return static_cast<double>(detail::unit_in_eighths(division)) / 8e9 / division.parts * kilogram;
}

/// The division in which weights of a scale are written: decimals of kilograms and grams, {kilograms, 1000} for
/// {kilograms, 200}; halves to sixteenths of an ounce or a pound stay common fractions.
[[nodiscard]] constexpr mass_division as_written(mass_division division) {
    const bool metric = division.in == mass_division::unit::grams || division.in == mass_division::unit::kilograms;
    const bool binary = division.parts <= 16 && (division.parts & (division.parts - 1)) == 0;
    if (!metric && binary) return division;
    for (int ten = 1; ten <= 1'000'000; ten *= 10)
        if (ten % division.parts == 0) return {division.in, ten};
    return division;
}

/// A net weight as a label has it.
struct net_weight {
    std::int64_t divisions = 0;
    mass_division division{};

    /// As a quantity, for everything but the price, which is computed from the whole numbers.
    [[nodiscard]] mass weight() const { return static_cast<double>(divisions) * size_of(division); }
    /// "0.365 kg", "12.06 lb", "11 1/4 oz": exact, see `as_written`. Throws `invalid_input` beyond 15 digits.
    [[nodiscard]] std::string text() const;

    friend bool operator==(const net_weight& a, const net_weight& b) {
        return a.divisions == b.divisions && a.division.in == b.division.in && a.division.parts == b.division.parts;
    }
};

inline std::string net_weight::text() const { return to_text(weight(), as_written(division)); }

namespace detail {

/// A weight in the unit of a division, with more decimals than it has where that makes it exact; a millionth at the finest.
[[nodiscard]] inline std::string text_in_full(mass m, mass_division how) {
    mass_division written = as_written(how);
    const auto exact = [&] { return steps_in(m, m, size_of(written), "weight").exact; };
    for (int parts = 10; parts <= 1'000'000 && !exact(); parts *= 10)
        if (!is_power_of_ten(written.parts) || parts > written.parts) written.parts = parts;
    return to_text(m, written);
}

/// A mass that is enough, rounded up to what `how` writes; never to nothing. It is a difference of weights of which each was
/// rounded to whole micrograms, so one of them is no reason for another step.
[[nodiscard]] inline std::string text_from_above(micrograms m, mass_division how) {
    const mass_division one =
        how.in == mass_division::unit::pounds_and_ounces ? mass_division{mass_division::unit::ounces, how.parts} : how;
    const wide_integer steps = divided_up(wide_integer{8} * one.parts * (m.count - 1), unit_in_eighths(one));
    return to_text(static_cast<double>(std::max(steps, wide_integer{1})) * size_of(one), how);
}

} // namespace detail

/// What lies on the scale less its packing, in whole divisions: divisions = (gross - tare) / division, rounded once. A
/// weight that is meant to be a whole or a half division is one, in whatever unit it was written: 18 oz are 1.125 lb.
/// Throws `invalid_input` for a gross weight that is not above zero, a negative tare, where nothing is left of a division,
/// and above 5 × 10^12 divisions.
[[nodiscard]] inline net_weight net_weight_of(mass gross, mass tare, const weighing_rules& rules) {
    validate(rules);
    require_positive(gross, "gross");
    require_not_negative(tare, "tare");
    const mass one = size_of(rules.division);
    mass packing = tare;
    if (rules.tare == tare_rounding::up_to_division)
        packing = static_cast<double>(detail::steps_in(tare, tare, one, "tare").rounded_up()) * one;
    const std::int64_t halves = detail::steps_in(gross - packing, gross + packing, 0.5 * one, "gross").whole;
    const std::int64_t whole = (rules.net == weight_rounding::down ? halves : halves + 1) / 2;
    if (whole < 1)
        throw invalid_input("gross", shown(gross) + " with a tare of " + shown(tare),
                            "a net weight of at least one division, " + shown(one));
    return {whole, rules.division};
}

} // namespace tranche
