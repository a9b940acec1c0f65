// Money as a base dimension, one unit per ISO 4217 currency, none of which converts to another.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <string>
#include <string_view>

#include <boost/units/base_dimension.hpp>
#include <boost/units/base_unit.hpp>
#include <boost/units/heterogeneous_system.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si/mass.hpp>
#include <boost/units/systems/si/time.hpp>

#include <tranche/units/detail/digits.hpp>
#include <tranche/units/detail/quantity_operators.hpp>
#include <tranche/units/detail/settled.hpp>

namespace tranche {

// Boost.Units tells base dimensions and base units apart by ordinals that are global to a program and clash silently.
// This header owns all of ours: the block 7340 to 7399, of dimensions and of units alike.

namespace detail {

/// Money as a base dimension beside length, mass and time.
struct money_base_dimension : boost::units::base_dimension<money_base_dimension, 7340> {};
using money_dimension = money_base_dimension::dimension_type;

} // namespace detail

/// ISO 4217 currencies: alphabetic code and number of decimal digits of the minor unit (ISO 4217:2015, list one).
struct usd : boost::units::base_unit<usd, detail::money_dimension, 7341> {
    static constexpr std::string_view code = "USD";
    static constexpr int minor_digits = 2;
};
struct eur : boost::units::base_unit<eur, detail::money_dimension, 7342> {
    static constexpr std::string_view code = "EUR";
    static constexpr int minor_digits = 2;
};
struct gbp : boost::units::base_unit<gbp, detail::money_dimension, 7343> {
    static constexpr std::string_view code = "GBP";
    static constexpr int minor_digits = 2;
};
struct cad : boost::units::base_unit<cad, detail::money_dimension, 7344> {
    static constexpr std::string_view code = "CAD";
    static constexpr int minor_digits = 2;
};
struct aud : boost::units::base_unit<aud, detail::money_dimension, 7345> {
    static constexpr std::string_view code = "AUD";
    static constexpr int minor_digits = 2;
};
struct jpy : boost::units::base_unit<jpy, detail::money_dimension, 7346> {
    static constexpr std::string_view code = "JPY";
    static constexpr int minor_digits = 0;
};
struct bhd : boost::units::base_unit<bhd, detail::money_dimension, 7347> {
    static constexpr std::string_view code = "BHD";
    static constexpr int minor_digits = 3;
};

/// A currency: a Boost.Units base unit of money with its ISO 4217 code and the digits of its minor unit.
/// `usd` is one; `boost::units::si::kilogram_base_unit` is not. A program may add its own with an ordinal outside our
/// block.
template <class C>
concept currency = requires {
    typename C::unit_type;
    requires std::same_as<typename C::dimension_type, detail::money_dimension>;
    { C::code } -> std::convertible_to<std::string_view>;
    { C::minor_digits } -> std::convertible_to<int>;
};

/// Working money: a rate or an intermediate value, never what is written on a bill (that is `amount<C>`).
template <currency C>
using money = boost::units::quantity<typename C::unit_type>;
/// Money per mass, such as a price per pound.
template <currency C>
using unit_price = boost::units::quantity<
    typename boost::units::divide_typeof_helper<typename C::unit_type, boost::units::si::mass>::type>;
/// Money per time.
template <currency C>
using wage = boost::units::quantity<
    typename boost::units::divide_typeof_helper<typename C::unit_type, boost::units::si::time>::type>;

namespace detail {

/// The currency in a Boost.Units unit, looked for in the list of base units that its system is; `void` if there is none.
template <class Unit>
struct currency_in {
    using type = void;
};
template <class Base, class Exponent, class Rest>
struct currency_in<boost::units::list<boost::units::heterogeneous_system_dim<Base, Exponent>, Rest>>
    : currency_in<Rest> {};
template <currency C, class Exponent, class Rest>
struct currency_in<boost::units::list<boost::units::heterogeneous_system_dim<C, Exponent>, Rest>> {
    using type = C;
};
template <class Bases, class Dimension, class Scale>
struct currency_in<boost::units::heterogeneous_system<boost::units::heterogeneous_system_impl<Bases, Dimension, Scale>>>
    : currency_in<Bases> {};
template <class Dimension, class System>
struct currency_in<boost::units::unit<Dimension, System>> : currency_in<System> {};

template <class Unit>
struct currency_in<boost::units::quantity<Unit>> : currency_in<Unit> {};

template <class Quantity>
using currency_of = typename currency_in<Quantity>::type;

/// `money<C>`, `unit_price<C>` or `wage<C>` for some currency C, so that functions need not be told C.
template <class Quantity>
concept any_money = currency<currency_of<Quantity>> && std::same_as<Quantity, money<currency_of<Quantity>>>;
template <class Quantity>
concept any_price = currency<currency_of<Quantity>> && std::same_as<Quantity, unit_price<currency_of<Quantity>>>;
template <class Quantity>
concept any_wage = currency<currency_of<Quantity>> && std::same_as<Quantity, wage<currency_of<Quantity>>>;

/// By `<<`: "7.90 USD", "7.90 USD/kg", "18.00 USD/h", at least to the minor unit, at most to 15 digits.
template <class Unit>
requires currency<currency_of<Unit>>
struct unit_form<Unit> {
    using quantity = boost::units::quantity<Unit>;

    static std::string text(double value) requires any_money<quantity> || any_price<quantity> || any_wage<quantity> {
        using C = currency_of<Unit>;
        const char* const per = any_money<quantity> ? "" : any_price<quantity> ? "/kg" : "/h";
        constexpr double an_hour = 3600.0;
        return digits(any_wage<quantity> ? value * an_hour : value, C::minor_digits) + ' ' + std::string(C::code) + per;
    }
};

} // namespace detail

} // namespace tranche
