// How far a scale of class III may be off while it is in use.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>

#include <tranche/packs/net_weight.hpp>
#include <tranche/units/detail/same_weight.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Maintenance tolerance of class III at a load, in divisions of the scale: to 500 divisions 1, to 2000 divisions 2, to
/// 4000 divisions 3, above 5 (NIST Handbook 44, Table 6; the upper rows, up to 2000, were read in the source, the rows
/// above are from memory). Whether a scale is legal for trade is for its type approval and the local inspector to say.
/// Throws `invalid_input` for a load that is not above zero. A plain number, 1 to 5. Throws also for a division that no
/// scale has.
[[nodiscard]] inline int class_iii_divisions(mass load, mass_division division) {
    validate(weighing_rules{division});
    detail::require_positive(load, "load");
    const std::int64_t begun = detail::steps_in(load, load, size_of(division), "load").rounded_up();
    if (begun <= 500) return 1;
    if (begun <= 2000) return 2;
    return begun <= 4000 ? 3 : 5;
}

/// The same as a mass. Above zero. Throws and takes as `class_iii_divisions`; its source is there too.
[[nodiscard]] inline mass class_iii_maintenance_tolerance(mass load, mass_division division) {
    return double(class_iii_divisions(load, division)) * size_of(division);
}

/// A scale with a test weight on it.
struct tested_scale {
    mass error{};     ///< indicated - load
    mass tolerance{}; ///< either way
    bool within = false;

    friend bool operator==(const tested_scale&, const tested_scale&) = default;
};

/// Compares what a scale of class III shows with the test weight `load`; an error as large as the tolerance is within
/// it, in whatever units both were written. Throws `invalid_input` for a bad load and an indication that is not finite.
/// Masses in kilograms; the error is indicated - load. Source: `class_iii_divisions`.
[[nodiscard]] inline tested_scale scale_compliance(mass load, mass indicated, mass_division division) {
    const mass tolerance = class_iii_maintenance_tolerance(load, division);
    if (!std::isfinite(indicated.value())) throw invalid_input("indicated", detail::shown(indicated), "a finite mass");
    const mass error = indicated - load;
    const mass size = std::max(error, -error);
    return {error, tolerance, !detail::really_above(size, tolerance, load + size)};
}

} // namespace tranche
