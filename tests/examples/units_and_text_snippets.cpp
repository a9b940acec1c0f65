// The code that docs/units_and_text.md shows and no example prints, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <string>

#include <tranche/text.hpp>
#include <tranche/units.hpp>

namespace units_and_text_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("docs on units and text: a currency is chosen when the program runs") {
    const currency_choice choice(iso_currency_named("KWD")); // three digits, as ISO 4217 has them
    const auto price = from_text<unit_price<chosen_currency>>("2.450 KWD/kg");
    const money<chosen_currency> cost = 5.3_kg * price;
    const money_figure paid = figure_of(rounded(cost, rounding::half_even)); // 12985 minor units of KWD

    CHECK(paid.minor == 12'985);
    CHECK(paid.currency == iso_currency{.code = "KWD", .minor_digits = 3});
    CHECK(to_text(paid) == "12.985 KWD");
}

} // namespace units_and_text_snippets
