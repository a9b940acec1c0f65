// That a currency is known by its code and carries its minor digits.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <concepts>
#include <string_view>

#include <boost/units/base_units/si/kilogram.hpp>

#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/literals.hpp>

namespace currency_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A near miss: a unit of money without a code.
struct shell : boost::units::base_unit<shell, detail::money_dimension, 7460> {
    [[maybe_unused]] static constexpr int minor_digits = 0;
};
/// A currency of a program's own, with an ordinal outside the library's block.
struct token : boost::units::base_unit<token, detail::money_dimension, 7461> {
    static constexpr std::string_view code = "TOK";
    static constexpr int minor_digits = 1;
};

static_assert(currency<usd> && currency<eur> && currency<gbp> && currency<cad> && currency<aud> && currency<jpy> &&
              currency<bhd> && currency<token>);
static_assert(!currency<shell> && !currency<boost::units::si::kilogram_base_unit> && !currency<int>);

} // namespace

TEST_CASE("a currency has the code and minor unit of ISO 4217") {
    // ISO 4217:2015, list one (from memory).
    CHECK(usd::code == "USD");
    CHECK(detail::minor_units_in_one<usd>() == 100);
    CHECK(eur::code == "EUR");
    CHECK(detail::minor_units_in_one<eur>() == 100);
    CHECK(gbp::code == "GBP");
    CHECK(detail::minor_units_in_one<gbp>() == 100);
    CHECK(cad::code == "CAD");
    CHECK(detail::minor_units_in_one<cad>() == 100);
    CHECK(aud::code == "AUD");
    CHECK(detail::minor_units_in_one<aud>() == 100);
    CHECK(jpy::code == "JPY");
    CHECK(detail::minor_units_in_one<jpy>() == 1);
    CHECK(bhd::code == "BHD");
    CHECK(detail::minor_units_in_one<bhd>() == 1000);
}

TEST_CASE("a price times a weight is the bill") {
    // 38 lb 12 oz at 3.19 USD/lb is 123.61 USD (Dittmer and Keefe, Principles of Food, Beverage, and Labor Cost
    // Controls, 9th ed., ch. 6: read in the source).
    const money<usd> bill = 38.75_lb * (3.19_usd / 1_lb);
    CHECK(rounded<usd>(bill, rounding::half_even) == amount<usd>{12361});
    CHECK_THAT(bill.value(), WithinRel(38.75 * 3.19, 1e-15));
}

TEST_CASE("a currency of a program's own works like the others") {
    CHECK(rounded<token>(money<token>::from_value(2.34), rounding::half_even) == amount<token>{23});
    CHECK(detail::minor_units_in_one<token>() == 10);
}

} // namespace currency_test
