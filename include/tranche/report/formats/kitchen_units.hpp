// The units that a kitchen reads: how portions, bulk weights, thicknesses, distances and prices are written in a report.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

/// How a report writes its quantities. Everything is rounded for display only; sums are made before rounding.
struct kitchen_units {
    mass_division portion{};     ///< one portion or slab, and its trim
    mass_division bulk{};        ///< the loin, and parts of it
    length_division thickness{}; ///< of a slab
    length_division along{};     ///< distance from the rib end
    price_basis basis{};         ///< below the stroke of a price

    friend bool operator==(const kitchen_units&, const kitchen_units&) = default;
};

/// Quarter ounces, pounds with quarter ounces, sixteenths of an inch, prices per pound.
inline constexpr kitchen_units us_kitchen{quarter_ounces, pounds_and_quarter_ounces, sixteenths_of_inch,
                                          sixteenths_of_inch, price_basis::per_pound};
/// Grams, kilograms to the gram, millimetres, prices per kilogram.
inline constexpr kitchen_units metric_kitchen{whole_grams, thousandths_of_kilogram, whole_millimetres,
                                              whole_millimetres, price_basis::per_kilogram};

namespace detail {

/// "oz": the unit of a division; empty for pounds and ounces, which write their units themselves.
[[nodiscard]] constexpr const char* unit_name(mass_division how) {
    switch (how.in) {
    case mass_division::unit::grams: return "g";
    case mass_division::unit::kilograms: return "kg";
    case mass_division::unit::ounces: return "oz";
    case mass_division::unit::pounds: return "lb";
    case mass_division::unit::pounds_and_ounces: break;
    }
    return "";
}

/// "mm": the unit of a division.
[[nodiscard]] constexpr const char* unit_name(length_division how) {
    switch (how.in) {
    case length_division::unit::millimetres: return "mm";
    case length_division::unit::centimetres: return "cm";
    case length_division::unit::metres: return "m";
    case length_division::unit::inches: break;
    }
    return "in";
}

/// The number of `to_text` without the unit, for a column that has it in its head; pounds and ounces keep theirs.
template <class Quantity, class Division>
[[nodiscard]] TRANCHE_COLD std::string number_of(Quantity value, Division how) {
    std::string text = to_text(value, how);
    const std::string unit = unit_name(how);
    if (!unit.empty()) text.resize(text.size() - unit.size() - 1);
    return text;
}

/// "1/4 oz": the smallest step that a division can write.
template <class Division>
[[nodiscard]] TRANCHE_COLD std::string smallest_step(Division how) {
    const std::string unit = unit_name(how);
    return detail::number_text(1, how.parts) + ' ' + (unit.empty() ? "oz" : unit);
}

/// The smallest step that a division can write, as a quantity.
[[nodiscard]] constexpr length step_of(length_division how) {
    const auto parts = static_cast<double>(how.parts);
    switch (how.in) {
    case length_division::unit::millimetres: return millimetre / parts;
    case length_division::unit::centimetres: return centimetre / parts;
    case length_division::unit::metres: return metre / parts;
    case length_division::unit::inches: break;
    }
    return inch / parts;
}
[[nodiscard]] constexpr mass step_of(mass_division how) {
    const auto parts = static_cast<double>(how.parts);
    switch (how.in) {
    case mass_division::unit::grams: return gram / parts;
    case mass_division::unit::kilograms: return kilogram / parts;
    case mass_division::unit::pounds: return pound / parts;
    case mass_division::unit::ounces:
    case mass_division::unit::pounds_and_ounces: break;
    }
    return ounce / parts;
}

/// The next finer division: halves of the steps down to a 64th, and from there on decimals.
template <class Division>
[[nodiscard]] Division finer(Division how) {
    if (is_power_of_ten(how.parts) && how.parts > 1)
        how.parts *= 10;
    else
        how.parts = how.parts == 1 ? 10 : how.parts < 64 ? 2 * how.parts : 1000;
    return how;
}
/// A division of which `value` is `least` steps or more, made finer as long as it has to be; ten times at most.
template <class Quantity, class Division>
[[nodiscard]] Division fine_enough(Division how, Quantity value, double least) {
    for (int times = 0; times < 10 && value > Quantity{} && value / step_of(how) < least * (1.0 - 1e-9); ++times)
        how = finer(how);
    return how;
}

/// In a sentence a length is a thickness, and a mass a portion's or, from a kilogram up, a loin's.
[[nodiscard]] inline length_division division_for(length, const kitchen_units& units) { return units.thickness; }
[[nodiscard]] inline mass_division division_for(mass value, const kitchen_units& units) {
    return std::abs(value.value()) >= 1.0 && std::isfinite(value.value()) ? units.bulk : units.portion;
}

} // namespace detail

namespace detail {

/// A quantity of a sentence that has `others` of its kind; see `in_units`.
template <class Quantity>
[[nodiscard]] TRANCHE_COLD std::string written_among(const written_quantity<Quantity>& quantity,
                                                     const std::vector<written_quantity<Quantity>>& others,
                                                     const kitchen_units& units) {
    const auto size = [](Quantity q) { return std::abs(q.value()); };
    auto how = division_for(quantity.value, units);
    if (!std::isfinite(quantity.value.value())) {
        const std::string unit = unit_name(how);
        return shown(quantity.value.value()) + ' ' + (unit.empty() ? "oz" : unit);
    }
    const auto tells = [&] {
        const Quantity step = step_of(how), as_written = quantity.in_whole(step);
        if (size(as_written - quantity.value) > 0.02 * size(quantity.value)) return false;
        for (const written_quantity<Quantity>& other : others)
            if (std::isfinite(other.value.value()) && size(other.value - quantity.value) > 1e-6 * step.value() &&
                size(other.in_whole(step) - as_written) < 0.5 * step.value())
                return false;
        return true;
    };
    for (int times = 0; times < 3 && !tells(); ++times) how.parts *= is_power_of_ten(how.parts) ? 10 : 4;
    return to_text(quantity.in_whole(step_of(how)), how);
}

} // namespace detail

/// A sentence with its quantities in these units. Up to three times finer than the kitchen writes them where that would be
/// off by more than 2 %, such as a grid of 1/64 in, or where two that differ would look alike: 4 1/64 oz, above 4 oz.
/// O(parts²). Weights, lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string in_units(const sentence& words, const kitchen_units& units) {
    std::pair<std::vector<written_quantity<length>>, std::vector<written_quantity<mass>>> all;
    (void)words.written([&]<class Quantity>(const written_quantity<Quantity>& quantity) {
        std::get<std::vector<written_quantity<Quantity>>>(all).push_back(quantity);
        return std::string();
    });
    return words.written([&]<class Quantity>(const written_quantity<Quantity>& quantity) {
        return detail::written_among(quantity, std::get<std::vector<written_quantity<Quantity>>>(all), units);
    });
}

} // namespace tranche
