// That the one finder of zeros finds those of functions whose zeros are known, in few calls.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/tape/detail/false_position.hpp>

#include <cmath>

#include "support/catch.hpp"

namespace false_position_test {

using namespace tranche;
using namespace tranche_test;

// Cube roots and logarithms are those of the standard library; a power that is flat at one end is where the plain method hangs.
TEST_CASE("a zero is found to the last bits, also where one end of the bracket hangs") {
    for (const double value : {1e-6, 0.3, 2.0, 50.0, 999.0}) {
        int calls = 0;
        const auto cube = [&](double x) { return ++calls, x * x * x - value; };
        CHECK_THAT(detail::false_position({0.0, -value, 10.0, 1000.0 - value}, 0.0, cube),
                   WithinRel(std::cbrt(value), 1e-14));
        CHECK(calls <= 100);
        const auto power = [&](double x) { return std::exp(x) - 1.0 - value; };
        CHECK_THAT(detail::false_position({0.0, -value, 8.0, std::exp(8.0) - 1.0 - value}, 0.0, power),
                   WithinRel(std::log1p(value), 1e-9));
    }
    int calls = 0;
    const auto flat = [&](double x) { return ++calls, std::pow(x, 9.0) - 0.5; };
    CHECK_THAT(detail::false_position({0.0, -0.5, 2.0, 511.5}, 1e-13, flat),
               WithinRel(std::pow(0.5, 1.0 / 9.0), 1e-12));
    CHECK(calls < 40);
}

TEST_CASE("a value that is near enough ends the search, and the last call is at the answer") {
    double last = 0.0;
    const auto line = [&](double x) { return last = x, x - 3.0; };
    CHECK(detail::false_position({0.0, -3.0, 10.0, 7.0}, 1e-12, line) == last);
    CHECK_THAT(last, WithinAbs(3.0, 1e-12));
    CHECK(detail::false_position({10.0, -1.0, 10.0, 7.0}, 0.0, line) == 10.0); // nothing is left of the bracket
}

} // namespace false_position_test
