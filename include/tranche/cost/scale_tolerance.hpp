// How far a scale of class III may be off while it is in use.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>

#include <tranche/cost/net_weight.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Maintenance tolerance of class III at a load, in divisions of the scale: to 500 divisions 1, to 2000 divisions 2, to 4000
/// divisions 3, above 5 (NIST Handbook 44, Table 6; the upper rows, up to 2000, were read in the source, the rows above
/// are from memory). Whether a scale is legal for trade is for its type approval and the local inspector to say. Throws
/// `invalid_input` for a load that is not above zero.
[[nodiscard]] inline int class_iii_divisions(mass load, mass_division division) {
    validate(weighing_rules{division});
    require_positive(load, "load");
    const detail::wide_integer one = detail::unit_in_eighths(division);
    const detail::wide_integer n = detail::wide_integer{8} * division.parts * to_micrograms(load, "load").count;
    if (n <= 500 * one) return 1;
    if (n <= 2000 * one) return 2;
    return n <= 4000 * one ? 3 : 5;
}

/// The same as a mass.
[[nodiscard]] inline mass class_iii_maintenance_tolerance(mass load, mass_division division) {
    return double(class_iii_divisions(load, division)) * size_of(division);
}

/// A scale with a test weight on it.
struct scale_check {
    mass error{};     ///< indicated - load
    mass tolerance{}; ///< either way
    bool within = false;
};

/// Compares what a scale of class III shows with the test weight `load`; an error as large as the tolerance is within it.
/// Counted in whole micrograms; the one that rounding both weights to them may add is not held against the scale. Throws
/// `invalid_input` for a bad load and an indication that is not finite.
[[nodiscard]] inline scale_check check_scale(mass load, mass indicated, mass_division division) {
    const int divisions = class_iii_divisions(load, division);
    const std::int64_t error = (to_micrograms(indicated, "indicated") - to_micrograms(load, "load")).count;
    const detail::wide_integer scaled = detail::wide_integer{8} * division.parts * ((error < 0 ? -error : error) - 1);
    return {to_mass({error}), double(divisions) * size_of(division),
            scaled <= divisions * detail::unit_in_eighths(division)};
}

} // namespace tranche
