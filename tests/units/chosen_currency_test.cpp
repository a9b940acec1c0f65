// That money of a currency chosen at run time is read, rounded and written as that of a type.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <sstream>
#include <string>
#include <thread>

#include <tranche/text/from_text.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/money_figure.hpp>

namespace chosen_currency_test {

using namespace tranche;
using namespace tranche_test;

static_assert(currency<chosen_currency>);

namespace {

amount<chosen_currency> rounded_value(double value) {
    return rounded<chosen_currency>(money<chosen_currency>::from_value(value), rounding::half_even);
}

/// The same money with a type and with the choice of it: every text, and every rounding of a few.
template <currency C>
void check_like() {
    const currency_choice choice(iso_currency_named(C::code));
    for (const double value : {0.0, 0.5, 1.5, 2.675, 7.905, 7.915, 1234.5678, -0.125, -3.5, 0.0005, 1e6}) {
        const auto typed = money<C>::from_value(value);
        const auto chosen = money<chosen_currency>::from_value(value);
        for (const rounding how : {rounding::half_even, rounding::half_up}) {
            const amount<C> a = rounded<C>(typed, how);
            const amount<chosen_currency> b = rounded<chosen_currency>(chosen, how);
            CHECK(a.minor == b.minor);
            CHECK(to_text(a) == to_text(b));
            CHECK(figure_of(a) == figure_of(b));
            CHECK(to_money(a).value() == to_money(b).value());
            CHECK(from_text<amount<chosen_currency>>(to_text(a)) == b);
        }
        CHECK(to_text(typed) == to_text(chosen));
        CHECK(to_text(typed / kilogram, price_basis::per_pound) == to_text(chosen / kilogram, price_basis::per_pound));
        CHECK(to_text(typed / hour) == to_text(chosen / hour));
        std::ostringstream one, other;
        one << typed << typed / kilogram << typed / hour;
        other << chosen << chosen / kilogram << chosen / hour;
        CHECK(one.str() == other.str());
        const std::string price = to_text(typed / kilogram, price_basis::per_kilogram, 4);
        CHECK(from_text<unit_price<C>>(price).value() == from_text<unit_price<chosen_currency>>(price).value());
    }
}

} // namespace

TEST_CASE("a chosen currency with 0, 2 or 3 digits reckons as the type of that currency does") {
    check_like<jpy>();
    check_like<usd>();
    check_like<bhd>();
}

TEST_CASE("a currency that has no type is rounded to its own minor unit") {
    {
        const currency_choice won(iso_currency_named("KRW"));
        CHECK(to_text(rounded_value(1234.5)) == "1234 KRW");
    }
    {
        const currency_choice francs(iso_currency_named("CHF"));
        CHECK(to_text(rounded_value(0.125)) == "0.12 CHF");
    }
    {
        const currency_choice dinars(iso_currency_named("KWD"));
        CHECK(to_text(rounded_value(0.1235)) == "0.124 KWD");
        CHECK_THROWS_AS(from_text<amount<chosen_currency>>("0.1235 KWD"), invalid_input);
        CHECK_THROWS_AS(from_text<amount<chosen_currency>>("0.123 BHD"), invalid_input);
    }
    const currency_choice tenths({"ABC", 1});
    CHECK(to_text(rounded_value(0.15)) == "0.2 ABC");
}

TEST_CASE("a choice ends with its scope, and the one before holds again") {
    const amount<chosen_currency> five{5};
    CHECK_THROWS_AS(to_text(five), invalid_input);
    {
        const currency_choice outer(iso_currency_named("JPY"));
        {
            const currency_choice inner(iso_currency_named("TND"));
            CHECK(to_text(five) == "0.005 TND");
        }
        CHECK(to_text(five) == "5 JPY");
        CHECK_THROWS_AS(currency_choice({"yen", 0}), invalid_input);
        CHECK(to_text(five) == "5 JPY");
    }
    CHECK_THROWS_AS(to_text(five), invalid_input);
}

TEST_CASE("each thread has a choice of its own") {
    const currency_choice here(iso_currency_named("JPY"));
    std::string there, nothing;
    std::thread([&] {
        try {
            nothing = to_text(amount<chosen_currency>{5});
        } catch (const invalid_input& error) {
            nothing = error.value();
        }
        const currency_choice dollars(iso_currency_named("USD"));
        there = to_text(amount<chosen_currency>{5});
    }).join();
    CHECK(nothing == "none chosen");
    CHECK(there == "0.05 USD");
    CHECK(to_text(amount<chosen_currency>{5}) == "5 JPY");
}

} // namespace chosen_currency_test
