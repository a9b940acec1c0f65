// What cutting a loin costs beside the meat: time, packaging, freezing, the knife.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <string>

#include <tranche/units/currency.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What has to be paid because the loin is cut and not bought ready cut; leave out what both would need. Everything is
/// zero or more and finite.
template <currency C>
struct cutting_costs {
    duration time{};          ///< to unpack, trim, cut and clean, for the whole of the purchase
    wage<C> pay{};            ///< of that time
    money<C> packaging{};     ///< of one portion
    unit_price<C> freezing{}; ///< of what is frozen, by weight
    fraction frozen = 1.0;    ///< how much of the portions is frozen, 0 to 1 of their weight
    money<C> knife_wear{};    ///< sharpening and blades, for the whole of the purchase

    /// time × pay, not rounded. In the currency, zero or more. Throws nothing.
    [[nodiscard]] money<C> labour() const { return detail::unfused(time * pay); }
    /// What goes with the portions: packaging of `count`, freezing of the share of `weight` that is frozen. In the
    /// currency, not rounded; `count` and `weight` are zero or more, not checked. Throws nothing.
    [[nodiscard]] money<C> of_portions(double count, mass weight) const {
        return detail::unfused(count * packaging) + detail::unfused(frozen * weight * freezing);
    }

    friend bool operator==(const cutting_costs&, const cutting_costs&) = default;
};

namespace detail {

/// Throws `invalid_input` unless a price, wage or sum of money is finite and zero or more. `per` follows the currency.
template <currency C, class Monetary>
void require_monetary(Monetary value, const std::string& field, const char* per) {
    if (!(std::isfinite(value.value()) && value.value() >= 0.0))
        throw invalid_input(field, detail::shown(value.value()) + ' ' + std::string(C::code) + per,
                            "a finite value, zero or more");
}

} // namespace detail

/// Throws `invalid_input` naming the field for a value that is negative or not finite, and a share that is none. Time
/// is in hours, money by hour, by kilogram or each; `frozen` is 0 to 1.
template <currency C>
void validate(const cutting_costs<C>& costs) {
    detail::require_not_negative(costs.time / hour, "cutting_costs.time (h)");
    detail::require_monetary<C>(costs.pay * hour, "cutting_costs.pay", "/h");
    detail::require_monetary<C>(costs.packaging, "cutting_costs.packaging", "");
    detail::require_monetary<C>(costs.freezing, "cutting_costs.freezing", "/kg");
    detail::require_share(costs.frozen, "cutting_costs.frozen");
    detail::require_monetary<C>(costs.knife_wear, "cutting_costs.knife_wear", "");
}

} // namespace tranche
