// A sum of money whose currency is known only at run time: minor units, their exponent and the code.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <iosfwd>
#include <string>

#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

/// An `amount` without its type, as reports, files and other languages take it. It does not calculate: whoever has figures of
/// several currencies adds them up by mistake. `minor` counts minor units of `currency`.
struct money_figure {
    std::int64_t minor = 0;
    iso_currency currency{};

    friend bool operator==(const money_figure&, const money_figure&) = default;
};

/// The figure of an amount. Any amount, exact. Throws nothing but for lack of memory.
template <currency C>
[[nodiscard]] money_figure figure_of(amount<C> a) {
    return {a.minor, detail::iso_form<C>()};
}

/// "123.61 USD", "1200 JPY": exact, as of an `amount`. Throws as `validate` of a currency.
[[nodiscard]] inline std::string to_text(const money_figure& figure) {
    validate(figure.currency);
    return detail::minor_units_text(figure.minor, figure.currency.minor_digits) + ' ' + figure.currency.code;
}

/// As `to_text` has it.
template <class Traits>
std::basic_ostream<char, Traits>& operator<<(std::basic_ostream<char, Traits>& out, const money_figure& figure) {
    return out << to_text(figure);
}

} // namespace tranche
