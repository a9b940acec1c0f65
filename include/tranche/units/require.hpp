// The checks that every measurement from outside goes through, and how a bad one is shown.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <string>
#include <string_view>
#include <type_traits>

#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

namespace detail {
[[nodiscard]] inline double raw(double value) { return value; }
template <class Unit>
[[nodiscard]] double raw(const boost::units::quantity<Unit>& value) {
    return value.value();
}

/// A length or a mass as such, anything else as it is shown.
template <class Quantity>
[[nodiscard]] sentence worded(Quantity value) {
    if constexpr (std::is_same_v<Quantity, length> || std::is_same_v<Quantity, mass>)
        return value;
    else
        return detail::shown(value);
}
} // namespace detail

namespace detail {

/// Throws `invalid_input` unless `value` (a quantity or a plain number) is finite and above zero.
template <class Quantity>
void require_positive(Quantity value, std::string_view field) {
    if (!(std::isfinite(detail::raw(value)) && value > Quantity{}))
        throw invalid_input(std::string(field), detail::worded(value), "a finite value above zero");
}

/// Throws `invalid_input` unless `value` is finite and at least zero.
template <class Quantity>
void require_not_negative(Quantity value, std::string_view field) {
    if (!(std::isfinite(detail::raw(value)) && value >= Quantity{}))
        throw invalid_input(std::string(field), detail::worded(value), "a finite value, zero or more");
}

/// Throws `invalid_input` unless `value` is a share, 0 to 1.
inline void require_share(fraction value, std::string_view field) {
    if (!(value >= 0.0 && value <= 1.0))
        throw invalid_input(std::string(field), detail::shown(value), "a share, 0 to 1");
}

/// Throws `invalid_input` unless the range is one: min finite and at least zero, max at least min (and not NaN). Lengths to
/// 1/16 um.
template <class Quantity>
void require_range(const quantity_range<Quantity>& value, std::string_view field) {
    require_not_negative(value.min, std::string(field) + ".min");
    if (const quantity_range<Quantity> read = snapped(value); !(read.max >= read.min))
        throw invalid_input(std::string(field) + ".max", detail::worded(value.max),
                            "at least the min, " + detail::worded(value.min));
}

} // namespace detail

} // namespace tranche
