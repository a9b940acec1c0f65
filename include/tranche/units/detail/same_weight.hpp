// Weights that lie on a border: which last bits of a double are noise, and what whole number of steps was meant.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstdint>
#include <limits>

#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche::detail {

/// A weight is a double of kilograms, in which 18 oz and 1.125 lb are neighbours and not the same. So much of the weights
/// that a difference came from is noise of their arithmetic, sixteen last bits: of a kilogram 4 millionths of a microgram.
/// What is no farther from a border lies on it.
inline constexpr double weight_noise = 16.0 * std::numeric_limits<double>::epsilon();

/// Whether `more` is above `less`, and not by the noise of weights as large as `of` alone.
[[nodiscard]] inline bool really_above(mass more, mass less, mass of) { return more - less > weight_noise * of; }

/// A weight in steps: so many whole ones, and whether that is all of it.
struct step_count {
    std::int64_t whole = 0;
    bool exact = true;

    [[nodiscard]] std::int64_t rounded_up() const { return exact ? whole : whole + 1; }
};

/// The whole steps in `weight`, a sum or difference of weights that add up to `of`. Throws `invalid_input`, naming `field`,
/// for a weight of which the noise hides the steps: above 10^13 of them.
[[nodiscard]] inline step_count steps_in(mass weight, mass of, mass step, const char* field) {
    const double count = weight / step, nearest = std::round(count);
    if (!(of / step <= 1e13)) throw invalid_input(field, shown(of), "a finite weight of fewer divisions");
    const bool exact = std::abs(count - nearest) <= weight_noise * (of / step);
    return {static_cast<std::int64_t>(exact ? nearest : std::floor(count)), exact};
}

} // namespace tranche::detail
