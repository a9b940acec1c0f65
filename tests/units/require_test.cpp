// That the checks of measurements let the good through and say of the bad what was wrong.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <functional>
#include <limits>
#include <string>

#include <tranche/units/literals.hpp>
#include <tranche/units/require.hpp>

namespace require_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

std::string message_of(const std::function<void()>& check) {
    try {
        check();
    } catch (const invalid_input& e) {
        return e.what();
    }
    return "accepted";
}

} // namespace

TEST_CASE("numbers are shown without trailing zeros and without a locale") {
    CHECK(detail::shown(0.0) == "0");
    CHECK(detail::shown(1.5) == "1.5");
    CHECK(detail::shown(-0.25) == "-0.25");
    CHECK(detail::shown(100.0) == "100");
    CHECK(detail::shown(1.0 / 3.0) == "0.333333");
    CHECK(detail::shown(1.0 / 3.0, 2) == "0.33");
    CHECK(detail::shown(1.6, 0) == "2");
    CHECK(detail::shown(120.0, 0) == "120");
    CHECK(detail::shown(not_a_number) == "nan");
    CHECK(detail::shown(infinity) == "inf");
    CHECK(detail::shown(-infinity) == "-inf");
    CHECK(detail::shown(1e300) == "1e+300");
    CHECK(detail::shown(-1e9) == "-1e+09");
    CHECK(detail::shown(-1e-9) == "-1e-09"); // not zero, so it does not look like one
    CHECK(detail::shown(-0.0) == "0");
    CHECK(detail::shown(8.9e8) == "890000000");
}

TEST_CASE("quantities are shown in millimetres, grams and kilograms per cubic metre") {
    CHECK(detail::shown(1_in) == "25.4 mm");
    CHECK(detail::shown(419.1_mm) == "419.1 mm");
    CHECK(detail::shown(1_lb) == "453.6 g");
    CHECK(detail::shown(1058.4_kg_per_m3) == "1058.4 kg/m3");
    CHECK(detail::shown(length::from_value(not_a_number)) == "nan mm");
    CHECK(detail::shown(mass::from_value(infinity)) == "inf g");
}

TEST_CASE("what must be above zero is") {
    CHECK_NOTHROW(detail::require_positive(1_mm, "length"));
    CHECK_NOTHROW(detail::require_positive(std::numeric_limits<double>::denorm_min(), "factor"));
    CHECK(message_of([] { detail::require_positive(0_mm, "length"); }) ==
          "length: got 0 mm, expected a finite value above zero");
    CHECK(message_of([] { detail::require_positive(-3_g, "weight"); }) ==
          "weight: got -3 g, expected a finite value above zero");
    CHECK(message_of([] { detail::require_positive(length::from_value(not_a_number), "length"); }) ==
          "length: got nan mm, expected a finite value above zero");
    CHECK(message_of([] { detail::require_positive(infinity, "factor"); }) ==
          "factor: got inf, expected a finite value above zero");
}

TEST_CASE("what must not be negative may be zero") {
    CHECK_NOTHROW(detail::require_not_negative(0_mm, "kerf"));
    CHECK_NOTHROW(detail::require_not_negative(-0.0, "kerf"));
    CHECK(message_of([] { detail::require_not_negative(-1_mm, "kerf"); }) ==
          "kerf: got -1 mm, expected a finite value, zero or more");
    CHECK(message_of([] { detail::require_not_negative(length::from_value(not_a_number), "kerf"); }) ==
          "kerf: got nan mm, expected a finite value, zero or more");
    CHECK(message_of([] { detail::require_not_negative(length::from_value(infinity), "kerf"); }) ==
          "kerf: got inf mm, expected a finite value, zero or more");
}

TEST_CASE("a share lies between zero and one") {
    CHECK_NOTHROW(detail::require_share(0.0, "share"));
    CHECK_NOTHROW(detail::require_share(1.0, "share"));
    CHECK(message_of([] { detail::require_share(1.01, "share"); }) == "share: got 1.01, expected a share, 0 to 1");
    CHECK(message_of([] { detail::require_share(-0.01, "share"); }) == "share: got -0.01, expected a share, 0 to 1");
    CHECK(message_of([] { detail::require_share(not_a_number, "share"); }) ==
          "share: got nan, expected a share, 0 to 1");
}

TEST_CASE("a range runs upwards from zero or more") {
    CHECK_NOTHROW(detail::require_range(quantity_range<mass>{}, "portion"));
    CHECK_NOTHROW(detail::require_range(quantity_range<mass>{11_oz}, "portion"));
    CHECK_NOTHROW(detail::require_range(quantity_range<mass>{11_oz, 13_oz}, "portion"));
    CHECK(message_of([] {
              detail::require_range(quantity_range<mass>{350_g, 300_g}, "portion");
          }) == "portion.max: got 300 g, expected at least the min, 350 g");
    CHECK(message_of([] {
              detail::require_range(quantity_range<mass>{-1_g, 300_g}, "portion");
          }) == "portion.min: got -1 g, expected a finite value, zero or more");
    CHECK(message_of([] {
              detail::require_range(quantity_range<mass>{mass::from_value(not_a_number), 300_g}, "portion");
          }) == "portion.min: got nan g, expected a finite value, zero or more");
    CHECK(message_of([] {
              detail::require_range(quantity_range<mass>{1_g, mass::from_value(not_a_number)}, "portion");
          }) == "portion.max: got nan g, expected at least the min, 1 g");
    CHECK(message_of([] { detail::require_range(quantity_range<mass>{unlimited<mass>()}, "portion"); }) ==
          "portion.min: got inf g, expected a finite value, zero or more");
}

} // namespace require_test
