// What an axis of a chart is called, the unit of its numbers, and how values are put into it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <vector>

#include <tranche/units/quantity.hpp>

namespace tranche {

/// The words of an axis, which reads "title, unit": {"thickness", "in"}. Numbers are the caller's, in that unit. On a logarithmic
/// axis all of them are above zero; equal distances are equal factors.
struct chart_axis {
    std::string title{};
    std::string unit{}; ///< empty for plain numbers
    bool logarithmic = false;

    friend bool operator==(const chart_axis&, const chart_axis&) = default;
};

/// Quantities as numbers of a unit, for charts: `in_unit(thicknesses, inch)`. O(values).
template <class Unit, class Quantity>
[[nodiscard]] std::vector<double> in_unit(const std::vector<Quantity>& values, const Unit& unit) {
    std::vector<double> numbers;
    numbers.reserve(values.size());
    for (const Quantity& v : values) numbers.push_back(v / unit);
    return numbers;
}

} // namespace tranche
