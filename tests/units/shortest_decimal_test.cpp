// SPDX-License-Identifier: BSL-1.0
#include <tranche/units/detail/number_from_chars.hpp>
#include <tranche/units/detail/shortest_decimal.hpp>

#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <string>

#include "support/catch.hpp"

namespace shortest_decimal_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("a number is written in as few digits as tell it from its neighbours, and without an exponent") {
    CHECK(detail::shortest_decimal(0.0) == "0");
    CHECK(detail::shortest_decimal(0.1) == "0.1");
    CHECK(detail::shortest_decimal(-16.0) == "-16");
    CHECK(detail::shortest_decimal(5e-5) == "0.00005");
    CHECK(detail::shortest_decimal(0.1 + 0.2) == "0.30000000000000004"); // IEEE 754, computed by any language
    CHECK(detail::shortest_decimal(1e22) == "1" + std::string(22, '0'));
}

TEST_CASE("every finite number is read back to the last bit") {
    std::mt19937_64 random(46);
    const auto reads_back = [](double value) {
        const std::string text = detail::shortest_decimal(value);
        CAPTURE(text);
        double read = 0.0;
        const auto [end, error] = detail::number_from_chars(text.data(), text.data() + text.size(), read);
        REQUIRE(error == std::errc{});
        REQUIRE(end == text.data() + text.size());
        REQUIRE(std::bit_cast<std::uint64_t>(read) == std::bit_cast<std::uint64_t>(value));
        REQUIRE(text.find_first_not_of("-.0123456789") == std::string::npos);
    };
    using limits = std::numeric_limits<double>;
    for (const double value : {0.0, -0.0, limits::max(), limits::lowest(), limits::min(), limits::denorm_min()})
        reads_back(value);
    for (int i = 0; i < 2000; ++i) {
        const auto value = std::bit_cast<double>(static_cast<std::uint64_t>(random()));
        if (std::isfinite(value)) reads_back(value);
    }
}

} // namespace shortest_decimal_test
