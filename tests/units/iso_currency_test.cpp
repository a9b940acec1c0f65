// That a currency of ISO 4217 is known by its code, with the digits of its minor unit.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <string>

#include <tranche/units/iso_currency.hpp>

namespace iso_currency_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("a code has the digits of the minor unit that ISO 4217 gives it") {
    // ISO 4217:2015, list one (from memory).
    for (const char* code : {"USD", "EUR", "GBP", "CHF", "SEK", "INR", "MRU", "MGA", "HUF"})
        CHECK(iso_currency_named(code) == iso_currency{code, 2});
    for (const char* code : {"JPY", "KRW", "CLP", "VND", "ISK", "XOF", "XPF", "UGX"})
        CHECK(iso_currency_named(code) == iso_currency{code, 0});
    for (const char* code : {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"})
        CHECK(iso_currency_named(code) == iso_currency{code, 3});
    for (const char* code : {"CLF", "UYW"}) CHECK(iso_currency_named(code) == iso_currency{code, 4});
}

TEST_CASE("a currency that has a type has the same digits at run time") {
    const auto same = []<currency C>(C) { return iso_currency_named(C::code) == detail::iso_form<C>(); };
    CHECK(same(usd{}));
    CHECK(same(eur{}));
    CHECK(same(gbp{}));
    CHECK(same(cad{}));
    CHECK(same(aud{}));
    CHECK(same(jpy{}));
    CHECK(same(bhd{}));
}

TEST_CASE("what is no code of a currency with a minor unit is refused") {
    const std::string code = GENERATE("", "usd", "US", "USDX", " USD", "US1", "ÄUR", "XXX", "XAU", "XTS");
    try {
        (void)iso_currency_named(code);
        FAIL("accepted " << code);
    } catch (const invalid_input& error) {
        CHECK(error.field() == "currency");
        CHECK(error.value() == '"' + code + '"');
        CHECK_THAT(error.expected(), ContainsSubstring("ISO 4217 code"));
    }
}

TEST_CASE("a minor unit may be given by hand, within what an amount can hold") {
    validate(iso_currency{"ABC", 0});
    validate(iso_currency{"ABC", 9});
    CHECK_THROWS_AS(validate(iso_currency{"ABC", 10}), invalid_input);
    CHECK_THROWS_AS(validate(iso_currency{"ABC", -1}), invalid_input);
}

} // namespace iso_currency_test
