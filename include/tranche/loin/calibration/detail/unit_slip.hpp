// Which slip of a unit would explain a weight that is out of proportion.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <string>

#include <tranche/units/quantity.hpp>

namespace tranche::detail {

[[nodiscard]] inline bool is_whole(double count) { return std::abs(count - std::round(count)) < 1e-6; }

/// "pounds" where `weight`, given in kilograms, would be possible in pounds, "kilograms" the other way round, else nothing.
/// Which unit it was given in is told by its digits: tenths of a gram, or hundredths of a pound and quarters of an ounce; a
/// weight that is whole in neither may have been given in either. `possible` says so of a multiple of the weight.
template <class Possible>
[[nodiscard]] std::string other_mass_unit(mass weight, const Possible& possible) {
    const bool metric = is_whole(weight / (0.1 * gram));
    const bool customary = is_whole(weight / (0.01 * pound)) || is_whole(weight / (0.25 * ounce));
    if ((metric || !customary) && possible(double(pound / kilogram))) return "pounds";
    if ((customary || !metric) && possible(double(kilogram / pound))) return "kilograms";
    return {};
}

} // namespace tranche::detail
