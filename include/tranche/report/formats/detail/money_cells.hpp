// Money in the cells of a table, by numbers and a currency that is known at run time: tables are compiled once for all.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <string>

#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche::detail {

/// "123.61" of 12361 minor units.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string money_number(std::int64_t minor, const iso_currency& in) {
    return minor_units_text(minor, in.minor_digits);
}
/// "123.61 USD".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string money_text(std::int64_t minor, const iso_currency& in) {
    return money_number(minor, in) + ' ' + in.code;
}

/// "12.99" of a price per kilogram, for a column that has the rest in its head. Prices per ounce are small numbers and get two
/// more digits.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string price_number(double per_kilogram, const iso_currency& in,
                                                    const kitchen_units& units) {
    return to_text(per_kilogram * basis_mass(units.basis).value(),
                   in.minor_digits + (units.basis == price_basis::per_ounce ? 2 : 0));
}
/// "12.99 USD/lb".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string price_text(double per_kilogram, const iso_currency& in,
                                                  const kitchen_units& units) {
    return price_number(per_kilogram, in, units) + ' ' + in.code + '/' + basis_name(units.basis);
}
/// "USD/lb", for the head of a column of prices.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string price_unit(const iso_currency& in, const kitchen_units& units) {
    return in.code + '/' + basis_name(units.basis);
}

// The same of money that has a type.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string number_of(amount<C> a) {
    return minor_units_text(a.minor, C::minor_digits);
}
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string price_number(unit_price<C> price, const kitchen_units& units) {
    return price_number(price.value(), iso_form<C>(), units);
}
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string price_text(unit_price<C> price, const kitchen_units& units) {
    return price_text(price.value(), iso_form<C>(), units);
}

} // namespace tranche::detail
