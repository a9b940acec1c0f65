// That temperatures convert, compare and are refused where they should be.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <limits>
#include <type_traits>

#include <tranche/units/temperature.hpp>

namespace temperature_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

static_assert(!std::is_convertible_v<double, temperature> && !std::is_convertible_v<temperature, double>);
static_assert(4_degC == 4.0_degC && 40_degF == 40.0_degF);
static_assert(4_degC < 4.1_degC && 39_degF < 4_degC);

TEST_CASE("the fixed points of both scales agree") {
    CHECK((32_degF).celsius == 0.0);
    CHECK((212_degF).celsius == 100.0);
    CHECK((0_degC).fahrenheit() == 32.0);
    CHECK(temperature{-40.0}.fahrenheit() == -40.0);
}

TEST_CASE("safe minimum temperatures convert as the authority prints them") {
    // USDA FSIS, safe minimum internal temperatures (read in the source), printed to a tenth: half of one, 0.05.
    CHECK_THAT((145_degF).celsius, WithinAbs(62.8, 0.05));
    CHECK_THAT((160_degF).celsius, WithinAbs(71.1, 0.05));
    CHECK_THAT((165_degF).celsius, WithinAbs(73.9, 0.05));
    CHECK_THAT((62.8_degC).fahrenheit(), WithinAbs(145.0, 0.09)); // half of a tenth of a degree C is 0.09 degree F
}

TEST_CASE("a temperature outside its limits is refused by name") {
    const temperature low{-1.5}, high{4.0};
    CHECK_NOTHROW(detail::require_between(low, low, high, "coldest"));
    CHECK_NOTHROW(detail::require_between(high, low, high, "coldest"));
    CHECK_THROWS_WITH(detail::require_between({4.25}, low, high, "coldest"),
                      Equals("coldest: got 4.25 degC, expected -1.5 degC to 4 degC"));
    CHECK_THROWS_AS(detail::require_between({-1.6}, low, high, "coldest"), invalid_input);
    CHECK_THROWS_AS(detail::require_between({std::nan("")}, low, high, "coldest"), invalid_input);
    CHECK_THROWS_AS(detail::require_between({std::numeric_limits<double>::infinity()}, low, high, "coldest"),
                    invalid_input);
}

} // namespace temperature_test
