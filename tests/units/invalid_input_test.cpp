// That a refusal says which field, what was given and what was expected.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <concepts>
#include <stdexcept>
#include <type_traits>

#include <tranche/units/invalid_input.hpp>

namespace invalid_input_test {

using namespace tranche;
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

TEST_CASE("a refusal is caught as an invalid argument") {
    CHECK_THROWS_AS(throw invalid_input("a", "b", "c"), std::invalid_argument);
}

} // namespace invalid_input_test
