// That literals give quantities of the right type and size, whole and decimal numbers alike.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <concepts>

#include <tranche/units/literals.hpp>

namespace literals_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

static_assert(std::same_as<decltype(1_kg), mass> && std::same_as<decltype(1.5_kg), mass>);
static_assert(std::same_as<decltype(1_g), mass> && std::same_as<decltype(1.5_g), mass>);
static_assert(std::same_as<decltype(1_lb), mass> && std::same_as<decltype(1.5_lb), mass>);
static_assert(std::same_as<decltype(1_oz), mass> && std::same_as<decltype(1.5_oz), mass>);
static_assert(std::same_as<decltype(1_m), length> && std::same_as<decltype(1.5_m), length>);
static_assert(std::same_as<decltype(1_cm), length> && std::same_as<decltype(1.5_cm), length>);
static_assert(std::same_as<decltype(1_mm), length> && std::same_as<decltype(1.5_mm), length>);
static_assert(std::same_as<decltype(1_in), length> && std::same_as<decltype(1.5_in), length>);
static_assert(std::same_as<decltype(1_ft), length> && std::same_as<decltype(1.5_ft), length>);
static_assert(std::same_as<decltype(1_cm2), area> && std::same_as<decltype(1.5_cm2), area>);
static_assert(std::same_as<decltype(1_in2), area> && std::same_as<decltype(1.5_in2), area>);
static_assert(std::same_as<decltype(1_cm3), volume> && std::same_as<decltype(1.5_cm3), volume>);
static_assert(std::same_as<decltype(1_in3), volume> && std::same_as<decltype(1.5_in3), volume>);
static_assert(std::same_as<decltype(1_kg_per_m3), density> && std::same_as<decltype(1.5_kg_per_m3), density>);
static_assert(std::same_as<decltype(1_g_per_cm3), density> && std::same_as<decltype(1.5_g_per_cm3), density>);
static_assert(std::same_as<decltype(1_s), duration> && std::same_as<decltype(1.5_s), duration>);
static_assert(std::same_as<decltype(1_min), duration> && std::same_as<decltype(1.5_min), duration>);
static_assert(std::same_as<decltype(1_h), duration> && std::same_as<decltype(1.5_h), duration>);
static_assert(std::same_as<decltype(1_percent), fraction> && std::same_as<decltype(1.5_percent), fraction>);
static_assert(std::same_as<decltype(1_usd), money<usd>> && std::same_as<decltype(1.5_usd), money<usd>>);
static_assert(std::same_as<decltype(1_eur), money<eur>> && std::same_as<decltype(1.5_eur), money<eur>>);
static_assert(std::same_as<decltype(1_gbp), money<gbp>> && std::same_as<decltype(1.5_gbp), money<gbp>>);
static_assert(std::same_as<decltype(1_cad), money<cad>> && std::same_as<decltype(1.5_cad), money<cad>>);
static_assert(std::same_as<decltype(1_aud), money<aud>> && std::same_as<decltype(1.5_aud), money<aud>>);
static_assert(std::same_as<decltype(1_jpy), money<jpy>> && std::same_as<decltype(1.5_jpy), money<jpy>>);
static_assert(std::same_as<decltype(1_bhd), money<bhd>> && std::same_as<decltype(1.5_bhd), money<bhd>>);

// Whole and decimal forms of a literal are the same value, at compile time already.
static_assert(2_kg == 2.0_kg && 2_g == 2.0_g && 2_lb == 2.0_lb && 2_oz == 2.0_oz);
static_assert(2_m == 2.0_m && 2_cm == 2.0_cm && 2_mm == 2.0_mm && 2_in == 2.0_in && 2_ft == 2.0_ft);
static_assert(2_cm2 == 2.0_cm2 && 2_in2 == 2.0_in2 && 2_cm3 == 2.0_cm3 && 2_in3 == 2.0_in3);
static_assert(2_kg_per_m3 == 2.0_kg_per_m3 && 2_g_per_cm3 == 2.0_g_per_cm3);
static_assert(2_s == 2.0_s && 2_min == 2.0_min && 2_h == 2.0_h && 30_percent == 30.0_percent);
static_assert(2_usd == 2.0_usd && 2_eur == 2.0_eur && 2_gbp == 2.0_gbp && 2_cad == 2.0_cad && 2_aud == 2.0_aud &&
              2_jpy == 2.0_jpy && 2_bhd == 2.0_bhd);

TEST_CASE("a literal is that many of its unit") {
    // One multiplication of two doubles: half a unit in the last place, and as much for the constant's own rounding.
    constexpr double two_ulp = 4.5e-16;
    CHECK_THAT(11.9_lb / kilogram, WithinRel(11.9 * 0.45359237, two_ulp));
    CHECK_THAT(11_oz / gram, WithinRel(311.844754375, two_ulp)); // 11 × 28.349523125
    CHECK_THAT(5.6_kg / gram, WithinRel(5600.0, two_ulp));
    CHECK_THAT(340_g / kilogram, WithinRel(0.34, two_ulp));
    CHECK_THAT(0.75_in / millimetre, WithinRel(19.05, two_ulp));
    CHECK_THAT(41.5_cm / metre, WithinRel(0.415, two_ulp));
    CHECK_THAT(19_mm / metre, WithinRel(0.019, two_ulp));
    CHECK_THAT(2_ft / inch, WithinRel(24.0, two_ulp));
    CHECK_THAT((1.06_g_per_cm3).value(), WithinRel(1060.0, two_ulp));
    CHECK((90_kg_per_m3).value() == 90.0);
    CHECK_THAT((90_cm2).value(), WithinRel(0.009, 2 * two_ulp)); // two factors of 0.01
    CHECK_THAT((90_cm3).value(), WithinRel(9e-5, 3 * two_ulp));  // three
    CHECK((1.5_h).value() == 5400.0);
    CHECK((20_min).value() == 1200.0);
    CHECK((45_s).value() == 45.0);
    CHECK_THAT(30_percent, WithinRel(0.3, two_ulp));
    CHECK((7.9_usd).value() == 7.9);
}

} // namespace literals_test
