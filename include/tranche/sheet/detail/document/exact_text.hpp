// Quantities as people write them where that reads back to the last bit, and else in as many digits as it takes.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <chrono>
#include <cmath>
#include <string>
#include <type_traits>
#include <vector>

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/text/date.hpp>
#include <tranche/text/from_text.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shortest_decimal.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// What `write` makes of the first of the divisions in which it reads back as this very value; else what `otherwise` says.
template <class Quantity, class Division, class Write>
[[nodiscard]] TRANCHE_COLD std::string in_first_fitting(Quantity value, const std::vector<Division>& divisions,
                                                        const Write& write, const std::string& otherwise,
                                                        bool on_grain = false) {
    for (const Division& division : divisions) {
        try {
            std::string text = write(division);
            auto read = from_text<Quantity>(text);
            if constexpr (std::is_same_v<Quantity, length>)
                if (on_grain) read = snapped(read);
            if (read == value) return text;
        } catch (const invalid_input&) { // too large to be written so
        }
    }
    return otherwise;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(mass value, sheet_units units) {
    using unit = mass_division::unit;
    std::vector<mass_division> us, metric;
    const bool small = std::abs(value / pound) < 2.0;
    if (units == sheet_units::decimal_pounds && !small) us = {{unit::pounds, 100}, {unit::pounds, 1000}};
    for (const int parts : {1, 2, 4, 8, 16, 10, 100})
        us.push_back({small ? unit::ounces : unit::pounds_and_ounces, parts});
    const bool grams = std::abs(value.value()) < 1.0;
    for (const int parts : {1, 10, 100, 1000})
        metric.push_back({grams ? unit::grams : unit::kilograms, grams ? parts : 1000 * parts});
    (units == sheet_units::metric ? metric : us).swap(metric);
    std::vector<mass_division>& all = metric;
    all.insert(all.end(), us.begin(), us.end());
    return in_first_fitting(
        value, all, [&](mass_division d) { return to_text(value, d); }, shortest_decimal(value.value()) + " kg");
}

/// A length `on_grain` is read to 1/16 um, as `tail_limit` does.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(length value, sheet_units units, bool on_grain = false) {
    using unit = length_division::unit;
    std::vector<length_division> first, then;
    for (const int parts : {1, 2, 4, 8, 16, 32, 64, 100, 1000}) first.push_back({unit::inches, parts});
    for (const int parts : {1, 10, 100, 1000}) then.push_back({unit::millimetres, parts});
    if (units == sheet_units::metric) first.swap(then);
    first.insert(first.end(), then.begin(), then.end());
    return in_first_fitting(
        value, first, [&](length_division d) { return to_text(value, d); }, shortest_decimal(value.value()) + " m",
        on_grain);
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(duration value, sheet_units) {
    return in_first_fitting(
        value, std::vector<int>{0}, [&](int) { return to_text(value); }, shortest_decimal(value.value()) + " s");
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(fraction value, sheet_units) {
    return in_first_fitting(
        value, std::vector<int>{0, 1, 2, 3}, [&](int digits) { return percent_text(value, digits); },
        shortest_decimal(value));
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(temperature value, sheet_units units) {
    const auto written = [&](int digits) {
        return digits < 2 ? to_text(value.fahrenheit(), digits) + " °F" : to_text(value.celsius, digits - 2) + " °C";
    };
    return in_first_fitting(
        value, units == sheet_units::metric ? std::vector<int>{2, 3, 4, 0, 1} : std::vector<int>{0, 1, 2, 3, 4},
        written, shortest_decimal(value.celsius) + " °C");
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(std::chrono::year_month_day value, sheet_units) {
    return date_text(value);
}

/// Under a `currency_choice`.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(sheet_money value, sheet_units) {
    return in_first_fitting(
        value, std::vector<int>{0, 1, 2, 3, 4}, [&](int extra) { return to_text(value, extra); },
        shortest_decimal(value.value()) + ' ' + currency_in_force().code);
}
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(wage<chosen_currency> value, sheet_units) {
    return in_first_fitting(
        value, std::vector<int>{0, 1, 2, 3, 4}, [&](int extra) { return to_text(value, extra); },
        shortest_decimal(value.value()) + ' ' + currency_in_force().code + "/s");
}
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string exact_text(sheet_price value, sheet_units units) {
    const bool metric = units == sheet_units::metric;
    const auto written = [&](int how) {
        return to_text(value, (how >= 0) == metric ? price_basis::per_kilogram : price_basis::per_pound,
                       std::abs(how) - 1);
    };
    return in_first_fitting(value, std::vector<int>{1, 2, 3, 4, -1, -2, -3, -4}, written,
                            shortest_decimal(value.value()) + ' ' + currency_in_force().code + "/kg");
}

/// "A", "A to B", "at least A", "at most B".
template <class Bound>
[[nodiscard]] TRANCHE_COLD std::string exact_text(const quantity_range<Bound>& range, sheet_units units) {
    if (range.min == range.max) return exact_text(range.min, units);
    if (range.max == unlimited<Bound>()) return "at least " + exact_text(range.min, units);
    if (range.min == Bound{}) return "at most " + exact_text(range.max, units);
    return exact_text(range.min, units) + " to " + exact_text(range.max, units);
}

} // namespace tranche::detail
