// What was bought: the weight on the invoice and the price per weight.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>

#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A whole loin, or several, bought by weight. `weight` is the invoiced one, before purge; above zero. `price` is finite
/// and not negative.
template <currency C>
struct purchase {
    mass weight{};
    unit_price<C> price{};

    /// weight × price, not rounded.
    [[nodiscard]] money<C> cost() const { return weight * price; }
};

/// Throws `invalid_input` for a weight that is not above zero, or a price that is not finite or below zero.
template <currency C>
void validate(const purchase<C>& bought) {
    require_positive(bought.weight, "purchase.weight");
    if (!(std::isfinite(bought.price.value()) && bought.price.value() >= 0.0))
        throw invalid_input("purchase.price", shown(bought.price.value()) + ' ' + std::string(C::code) + "/kg",
                            "a finite price, zero or more");
}

} // namespace tranche
