// Sheets whose answers can be worked by hand: loins that are as thick everywhere, without fat, so that weight goes with length.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/units/literals.hpp>

namespace tranche_test {

/// A number as money, or as money per pound or kilogram, of whatever currency is on the sheet.
inline tranche::sheet_money cash(double value) { return tranche::sheet_money::from_value(value); }
inline tranche::sheet_price per_pound(double value) { return cash(value) / tranche::pound; }
inline tranche::sheet_price per_kilogram(double value) { return cash(value) / tranche::kilogram; }

/// A loin of one face, 9 in wide and 3 in deep, without fat and tail: each inch of it weighs as much as any other.
inline tranche::sheet_loin even_loin(const std::string& name, tranche::mass weight, tranche::length length) {
    using namespace tranche::literals;
    return {.name = name, .weight = weight, .length = length, .stations = {{.width = 9.0_in, .depth = 3.0_in}}};
}

/// Slices of one thickness, whatever they weigh.
inline tranche::sheet_cut slices(const std::string& name, tranche::length thickness) {
    return {.spec = {.name = name, .thickness = {thickness, thickness}, .gluteus_medius = tranche::any_gluteus_medius}};
}

} // namespace tranche_test
