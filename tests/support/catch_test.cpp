// That the support header gives the same names with Catch2 2.13 and 3.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <stdexcept>
#include <string>

namespace catch_test {

using namespace tranche_test;

TEST_CASE("approximate numbers compare as asked") {
    CHECK(1.0 + 1e-9 == Approx(1.0).epsilon(1e-8));
    CHECK_THAT(1.0 + 1e-9, WithinAbs(1.0, 1e-8) && WithinRel(1.0, 1e-8));
    CHECK_THAT(1.0, WithinULP(1.0, 0));
}

TEST_CASE("text matchers go by one name") {
    const std::string text = "11 oz strip steak";
    CHECK_THAT(text, StartsWith("11 oz") && ContainsSubstring("strip") && EndsWith("steak"));
    CHECK_THAT(text, ContainsSubstring("STRIP", Catch::CaseSensitive::No) && !Equals("steak"));
    CHECK_THAT(text, Matches("[0-9]+ oz .*"));
}

TEST_CASE("an exception's message can be matched") {
    CHECK_THROWS_MATCHES(throw std::invalid_argument("thickness"), std::invalid_argument, Message("thickness"));
    CHECK_THROWS_WITH(throw std::invalid_argument("thickness"), ContainsSubstring("thick"));
}

TEST_CASE("a predicate is a matcher and a generator runs each value") {
    const auto n = GENERATE(2, 4, 6);
    CHECK_THAT(n, Predicate<int>([](int i) { return i % 2 == 0; }, "is even"));
}

} // namespace catch_test
