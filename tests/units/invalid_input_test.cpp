// That a refusal says which field, what was given and what was expected.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <concepts>
#include <stdexcept>
#include <type_traits>

#include <tranche/text/to_text.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/literals.hpp>

namespace invalid_input_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

static_assert(std::derived_from<invalid_input, std::invalid_argument>);
static_assert(std::is_copy_constructible_v<invalid_input>);

TEST_CASE("a refusal reads as a sentence and in its parts") {
    const invalid_input e("length", "-3 mm", "a finite value above zero");
    CHECK(std::string(e.what()) == "length: got -3 mm, expected a finite value above zero");
    CHECK(e.field() == "length");
    CHECK(e.value() == "-3 mm");
    CHECK(e.expected() == "a finite value above zero");
}

TEST_CASE("a refusal from within names the outer field first") {
    const invalid_input e = within("stations[2].", {"width", "0 mm", "a finite value above zero"});
    CHECK(e.field() == "stations[2].width");
    CHECK(e.value() == "0 mm");
    CHECK(std::string(e.what()) == "stations[2].width: got 0 mm, expected a finite value above zero");
}

TEST_CASE("a refusal keeps the quantities it was given, so that whoever shows it chooses the units") {
    const invalid_input inner("at", 0.5_in, sentence("at most the length, ") + detail::rounded_down(430.0_mm));
    CHECK(std::string(inner.what()) == "at: got 12.7 mm, expected at most the length, 430 mm");
    for (const invalid_input& e : {inner, within("stations[1].", inner)}) {
        const auto in_inches = [](const auto& quantity) {
            if constexpr (std::is_same_v<decltype(quantity.value), length>)
                return to_text(quantity.in_whole(inch / 16.0), sixteenths_of_inch);
            else
                return std::string("a mass");
        };
        CHECK(e.value_words().written(in_inches) == "1/2 in");
        CHECK(e.expected_words().written(in_inches) == "at most the length, 16 7/8 in");
    }
}

TEST_CASE("a refusal is caught as an invalid argument") {
    CHECK_THROWS_AS(throw invalid_input("a", "b", "c"), std::invalid_argument);
}

} // namespace invalid_input_test
