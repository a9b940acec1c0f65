// How the answer to a sheet is written: the units of its kitchen.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// The currency of an answer; of a sheet without money one that nothing is written in.
[[nodiscard]] inline iso_currency currency_of_sheet(const cut_sheet& sheet) {
    return sheet.currency.value_or(iso_currency{.code = "XXX"});
}

} // namespace detail

/// The units that the answer to a sheet is written in. Decimal pounds are for bulk weights only: portions stay in
/// ounces. Throws nothing.
[[nodiscard]] inline kitchen_units kitchen_of(const cut_sheet& sheet) {
    if (sheet.units == sheet_units::metric) return metric_kitchen;
    kitchen_units units = us_kitchen;
    if (sheet.units == sheet_units::decimal_pounds) units.bulk = hundredths_of_pound;
    return units;
}

} // namespace tranche
