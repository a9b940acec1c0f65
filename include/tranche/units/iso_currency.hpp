// A currency that is known only at run time, by its code and the digits of its minor unit: any of ISO 4217.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include <tranche/units/currency.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// What sheets, reports and other languages know of a currency. `minor_digits` is the exponent of ISO 4217: how many decimals
/// the minor unit takes, 0 to 9. `iso_currency_named` looks it up; given by hand it may be another.
struct iso_currency {
    std::string code{}; ///< three capital letters
    int minor_digits = 2;

    friend bool operator==(const iso_currency&, const iso_currency&) = default;
};

/// Throws `invalid_input` for a code that is not three capital letters, and for digits below 0 or above 9. Codes and
/// digits are those of ISO 4217.
inline void validate(const iso_currency& currency) {
    const bool capitals =
        std::all_of(currency.code.begin(), currency.code.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
    if (currency.code.size() != 3 || !capitals)
        throw invalid_input("currency", '"' + currency.code + '"',
                            "an ISO 4217 code, three capital letters such as USD");
    if (currency.minor_digits < 0 || currency.minor_digits > 9)
        throw invalid_input("minor digits of " + currency.code, std::to_string(currency.minor_digits), "0 to 9");
}

namespace detail {

/// The codes of ISO 4217:2015, list one, whose minor unit has not two digits, by their digits; with its amendments up to 2023
/// (from memory; an older copy of the list has UGX with 2, CLF with 0 and no UYW). "-": no minor unit at all.
struct minor_digits_of_codes {
    char digits;
    std::string_view codes;
};
inline constexpr std::array other_minor_digits{
    minor_digits_of_codes{'0', "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"},
    minor_digits_of_codes{'3', "BHD IQD JOD KWD LYD OMR TND"}, minor_digits_of_codes{'4', "CLF UYW"},
    minor_digits_of_codes{'-', "XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX"}};

/// The currency `C` as it is known at run time.
template <currency C>
[[nodiscard]] iso_currency iso_form() {
    return {std::string(C::code), C::minor_digits};
}

} // namespace detail

/// The currency of a code, with the minor unit that ISO 4217 gives it. Whether a code of three capitals is in use is not
/// checked: one that is not among the exceptions has two digits, as nearly all have. Throws `invalid_input` for other text, and
/// for codes without a minor unit: metals, units of account, test codes and "XXX". O(1).
[[nodiscard]] inline iso_currency iso_currency_named(std::string_view code) {
    iso_currency currency{.code = std::string(code)};
    validate(currency);
    for (const detail::minor_digits_of_codes& list : detail::other_minor_digits) {
        if (list.codes.find(code) == std::string_view::npos) continue;
        if (list.digits == '-')
            throw invalid_input("currency", '"' + currency.code + '"',
                                "the ISO 4217 code of a currency with a minor unit");
        currency.minor_digits = list.digits - '0';
    }
    return currency;
}

} // namespace tranche
