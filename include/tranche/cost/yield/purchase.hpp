// What was bought: the weight on the invoice and the price per weight.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <concepts>
#include <string>
#include <string_view>

#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A whole loin, or several, bought by weight. `weight` is the invoiced one, before purge; above zero. `price` is
/// finite and not negative.
template <currency C>
struct purchase {
    mass weight{};
    unit_price<C> price{};

    /// weight × price, not rounded. In the currency, zero or more. Throws nothing: `validate` checks.
    [[nodiscard]] money<C> cost() const { return detail::unfused(weight * price); }

    friend bool operator==(const purchase&, const purchase&) = default;
};

namespace detail {

/// Throws `invalid_input` unless `price` is finite and at least zero. Called with the currency:
/// `require_price<usd>(...)`.
template <currency C>
void require_price(unit_price<C> price, std::string_view field) {
    if (!(std::isfinite(price.value()) && price.value() >= 0.0))
        throw invalid_input(std::string(field), detail::shown(price.value()) + ' ' + std::string(C::code) + "/kg",
                            "a finite price, zero or more");
}

/// The same for a sum of money.
template <currency C>
void require_money(money<C> value, std::string_view field) {
    if (!(std::isfinite(value.value()) && value.value() >= 0.0))
        throw invalid_input(std::string(field), detail::shown(value.value()) + ' ' + std::string(C::code),
                            "a finite sum of money, zero or more");
}

} // namespace detail

/// Throws `invalid_input` for a weight that is not above zero, or a price that is not finite or below zero. Money by
/// mass.
template <currency C>
void validate(const purchase<C>& bought) {
    detail::require_positive(bought.weight, "purchase.weight");
    detail::require_price<C>(bought.price, "purchase.price");
}

namespace detail {

/// Stands in the place of `price` for whatever is no price in `C`.
template <currency C>
struct price_in_another_currency {
    template <class Other>
    requires(!std::convertible_to<Other, unit_price<C>>) price_in_another_currency(Other) {
    } // NOLINT(google-explicit-constructor): to be chosen for `.price = 10_eur / 1_kg`
};

/// What a braced `purchase<C>` is whose price is none in `C`: functions that take a purchase are deleted for it, so that the
/// compiler names the field.
template <currency C>
struct purchase_with_price_in_another_currency {
    mass weight;
    price_in_another_currency<C> price;
};

} // namespace detail

} // namespace tranche
