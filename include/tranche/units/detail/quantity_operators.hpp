// What quantities can do beyond Boost.Units: be written to a stream, and be counted with whole numbers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <iosfwd>
#include <string>

#include <boost/units/quantity.hpp>

#include <tranche/units/detail/digits.hpp>

namespace tranche::detail {

/// `text(value in SI units)` says how quantities of `Unit` are written; specialised beside each alias.
template <class Unit>
struct unit_form;

template <class Unit>
concept written_unit = requires(double value) {
    { unit_form<Unit>::text(value) } -> std::same_as<std::string>;
};

template <class Number>
concept whole_number = std::integral<Number> && !std::same_as<Number, bool>;

} // namespace tranche::detail

// Only here does argument-dependent lookup find operators of a length: every name in its type is Boost's. They are more
// specialised than those of <boost/units/io.hpp>, so that both may be included.
namespace boost::units {

template <class Traits, class Unit>
requires tranche::detail::written_unit<Unit> std::basic_ostream<char, Traits>
&operator<<(std::basic_ostream<char, Traits>& out, const quantity<Unit, double>& value) {
    return out << tranche::detail::unit_form<Unit>::text(value.value());
}

// Boost.Units multiplies by its value type alone, so 3 * 25_mm would not compile.
template <tranche::detail::whole_number Number, class Unit>
[[nodiscard]] constexpr quantity<Unit, double> operator*(Number count, const quantity<Unit, double>& one) {
    return quantity<Unit, double>::from_value(static_cast<double>(count) * one.value());
}
template <class Unit, tranche::detail::whole_number Number>
[[nodiscard]] constexpr quantity<Unit, double> operator*(const quantity<Unit, double>& one, Number count) {
    return quantity<Unit, double>::from_value(one.value() * static_cast<double>(count));
}
template <class Unit, tranche::detail::whole_number Number>
[[nodiscard]] constexpr quantity<Unit, double> operator/(const quantity<Unit, double>& all, Number count) {
    return quantity<Unit, double>::from_value(all.value() / static_cast<double>(count));
}

} // namespace boost::units
