// The currency that a program is told at run time, to reckon in one that was not known when it was compiled.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string_view>
#include <utility>

#include <boost/units/base_unit.hpp>

#include <tranche/units/currency.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// What is chosen in this thread; null if nothing is.
[[nodiscard]] inline const iso_currency*& choice_in_force() {
    thread_local const iso_currency* chosen = nullptr;
    return chosen;
}

[[nodiscard]] inline const iso_currency& currency_in_force() {
    const iso_currency* const chosen = choice_in_force();
    if (chosen == nullptr) throw invalid_input("currency", "none chosen", "a currency_choice that is alive");
    return *chosen;
}

/// Stand for a text and a number that are known as soon as a currency is chosen.
struct chosen_code {
    operator std::string_view() const { return currency_in_force().code; } // NOLINT(google-explicit-constructor)
};
struct chosen_minor_digits {
    operator int() const { return currency_in_force().minor_digits; } // NOLINT(google-explicit-constructor)
};

} // namespace detail

/// Whichever currency the living `currency_choice` names: everything that is calculated, written or read for it is compiled once
/// for all of ISO 4217, and rounds to the minor unit of the one that is chosen. Where the currency is known when the program is
/// written, take its own type: only then does a mix of two not compile. Without a choice, what asks for code or minor unit
/// throws `invalid_input`.
struct chosen_currency : boost::units::base_unit<chosen_currency, detail::money_dimension, 7348> {
    static constexpr detail::chosen_code code{};
    static constexpr detail::chosen_minor_digits minor_digits{};
};

/// Chooses what `chosen_currency` is, in this thread and as long as it lives; then it is again what it was before. Money of
/// `chosen_currency` does not outlive the choice that it was made under: it is a number that says nothing of its currency.
class currency_choice {
public:
    /// Chooses `currency`, a code of ISO 4217 with 0 to 9 minor digits. Throws as `validate` of a currency.
    explicit currency_choice(iso_currency currency) : own_(std::move(currency)) {
        validate(own_);
        before_ = std::exchange(detail::choice_in_force(), &own_);
    }
    /// The choice is again what it was before. Throws nothing.
    ~currency_choice() { detail::choice_in_force() = before_; }
    currency_choice(const currency_choice&) = delete;
    currency_choice& operator=(const currency_choice&) = delete;

private:
    iso_currency own_;
    const iso_currency* before_ = nullptr;
};

} // namespace tranche
