// By how much two weighings of the same meat may differ before one of them must be wrong.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <string>

#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

struct weighing_tolerance;

/// Throws `invalid_input` for a mass that is negative or not finite, and a share that is none. The mass is zero or
/// more, the share 0 to 1.
inline void validate(const weighing_tolerance& tolerance);

/// What the scale of the seller and the scale of the kitchen may disagree by on one weight, or the parts of a whole on their
/// sum: `least`, or `share` of the weight if that is more. A difference within it is no error but a line of the bill.
///
/// By default 5 g or 0.4 %, 21 g of a loin of 5.3 kg: at least what a scale of class III with divisions of 5 g (a hundredth
/// of a pound is 4.5 g) may be off by in use, at any load (`class_iii_maintenance_tolerance`): one division to 500, and two
/// of them from there on are at most 0.4 %. A mass alone is the tolerance at every weight: `5_g`; `mass{}` allows nothing but
/// the rounding of weights to whole micrograms.
struct weighing_tolerance {
    mass least = 5.0 * gram; ///< finite, zero or more
    fraction share = 0.004;  ///< of the weight, 0 to 1

    constexpr weighing_tolerance() = default;
    /// So much at every weight, zero or more; `validate` checks. Throws nothing.
    constexpr weighing_tolerance(
        mass stated) // NOLINT(google-explicit-constructor): `cutting_yield_test(loin, parts, 5_g)`
        : least(stated), share(0.0) {}
    /// So much, or that share of the weight, 0 to 1, if that is more; `validate` checks. Throws nothing.
    constexpr weighing_tolerance(mass at_least, fraction of_the_weight) : least(at_least), share(of_the_weight) {}

    /// At a weight of `whole`: never below the microgram by which rounding may part two weights that are one. Throws
    /// what `validate` throws, and where 64 bits do not hold it. In whole micrograms, 1 or more.
    [[nodiscard]] micrograms at(mass whole) const {
        validate(*this);
        return std::max(micrograms{1}, to_micrograms(std::max<mass>(least, share * whole), "scale_tolerance"));
    }
    /// Whether `part` weighs no more than `whole`, but for the tolerance; NaN does not. Weights are masses, any
    /// numbers. Throws what `at` throws, and where 64 bits do not hold a weight.
    [[nodiscard]] bool allows(mass part, mass whole) const {
        return part <= whole || (part < unlimited<mass>() &&
                                 to_micrograms(part, "weight") - to_micrograms(whole, "weight") <= at(whole));
    }

    friend bool operator==(const weighing_tolerance&, const weighing_tolerance&) = default;
};

inline void validate(const weighing_tolerance& tolerance) {
    detail::require_not_negative(tolerance.least, "scale_tolerance");
    detail::require_share(tolerance.share, "scale_tolerance: share");
}

namespace detail {

/// Throws `invalid_input` unless `part` weighs no more than `whole`, but for the tolerance. `expected` leads to the weight of
/// the whole, which is said with the difference and the tolerance.
inline void require_not_heavier(mass part, mass whole, const weighing_tolerance& tolerance, const std::string& field,
                                const std::string& expected) {
    if (tolerance.allows(part, whole)) return;
    throw invalid_input(field, rounded_up(part),
                        sentence(expected) + rounded_down(whole) + "; it is heavier by " +
                            rounded_up(mass(part - whole)) + ", more than the " +
                            rounded_down(to_mass(tolerance.at(whole))) + " of the scale");
}

} // namespace detail

} // namespace tranche
