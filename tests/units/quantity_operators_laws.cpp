// That what is written to a stream is read back, for generated quantities.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstdint>
#include <random>
#include <sstream>
#include <string>

#include <tranche/text/from_text.hpp>
#include <tranche/units.hpp>

namespace quantity_operators_laws {

using namespace tranche;
using namespace tranche_test;

TEMPLATE_TEST_CASE("law: a quantity written to a stream is read back", "", length, mass, density, duration, money<usd>,
                   money<jpy>, unit_price<eur>, wage<bhd>) {
    std::mt19937_64 random(20261130);
    std::uniform_real_distribution<double> exponent(-6.0, 6.0), share(1.0, 10.0);
    for (int i = 0; i < 500; ++i) {
        const double sign = i % 5 == 0 ? -1.0 : 1.0;
        const auto value = TestType::from_value(sign * share(random) * std::pow(10.0, exponent(random)));
        std::ostringstream out;
        out << value;
        INFO(out.str());
        // Half a unit in the fifteenth digit is 5e-15 of the value at most; products with units round four times more.
        CHECK_THAT(from_text<TestType>(out.str()).value(), WithinRel(value.value(), 5e-15 + 4 * 1.2e-16));
    }
}

TEST_CASE("law: an amount written to a stream is read back to the minor unit") {
    std::mt19937_64 random(20261201);
    std::uniform_int_distribution<std::int64_t> count(-1'000'000'000, 1'000'000'000);
    for (int i = 0; i < 500; ++i) {
        const amount<usd> value{count(random)};
        std::ostringstream out;
        out << value;
        CHECK(from_text<amount<usd>>(out.str()) == value);
    }
}

} // namespace quantity_operators_laws
