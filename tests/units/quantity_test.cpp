// That quantities have the exact constants of the trade, one type per dimension, and no arithmetic across dimensions.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <concepts>
#include <limits>
#include <type_traits>

#include <tranche/units/currency.hpp>
#include <tranche/units/literals.hpp>
#include <tranche/units/quantity.hpp>

namespace quantity_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

template <class A, class B>
concept addable = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept subtractable = requires(A a, B b) {
    a - b;
};
template <class A, class B>
concept less_than_comparable = requires(A a, B b) {
    a < b;
};
template <class A, class B>
concept equal_comparable = requires(A a, B b) {
    a == b;
};

template <class A, class B>
constexpr bool nothing_in_common = !addable<A, B> && !subtractable<A, B> && !less_than_comparable<A, B> &&
                                   !equal_comparable<A, B> && !std::convertible_to<A, B> && !std::convertible_to<B, A>;
template <class A>
constexpr bool everything_with_itself = addable<A, A>&& subtractable<A, A>&& less_than_comparable<A, A>&&
    equal_comparable<A, A>&& std::totally_ordered<A>&& std::regular<A>;

// A quantity is as large as the number in it, and a value like any other.
static_assert(sizeof(mass) == sizeof(double) && sizeof(length) == sizeof(double) && sizeof(density) == sizeof(double));
static_assert(everything_with_itself<mass> && everything_with_itself<length> && everything_with_itself<area> &&
              everything_with_itself<volume> && everything_with_itself<density> && everything_with_itself<duration> &&
              everything_with_itself<linear_density> && everything_with_itself<money<usd>> &&
              everything_with_itself<unit_price<usd>> && everything_with_itself<wage<eur>>);

// Dimensions do not mix.
static_assert(nothing_in_common<mass, length> && nothing_in_common<length, area> && nothing_in_common<area, volume> &&
              nothing_in_common<mass, duration> && nothing_in_common<density, linear_density> &&
              nothing_in_common<mass, money<usd>> && nothing_in_common<money<usd>, unit_price<usd>> &&
              nothing_in_common<unit_price<usd>, wage<usd>>);
// Nor does a naked number stand in for a quantity.
static_assert(!addable<mass, double> && !less_than_comparable<mass, double> && !std::convertible_to<double, mass> &&
              !std::convertible_to<mass, double>);
// Nor do currencies.
static_assert(nothing_in_common<money<usd>, money<eur>> && nothing_in_common<unit_price<usd>, unit_price<cad>> &&
              nothing_in_common<wage<gbp>, wage<aud>> && nothing_in_common<money<jpy>, money<bhd>>);

// Products and quotients land in the named types.
static_assert(std::same_as<decltype(unit_price<usd>{} * mass{}), money<usd>>);
static_assert(std::same_as<decltype(mass{} * unit_price<usd>{}), money<usd>>);
static_assert(std::same_as<decltype(wage<eur>{} * duration{}), money<eur>>);
static_assert(std::same_as<decltype(money<usd>{} / mass{}), unit_price<usd>>);
static_assert(std::same_as<decltype(money<usd>{} / duration{}), wage<usd>>);
static_assert(std::convertible_to<decltype(money<usd>{} / unit_price<usd>{}), mass>);
static_assert(std::same_as<decltype(length{} * length{}), area>);
static_assert(std::same_as<decltype(area{} * length{}), volume>);
static_assert(std::same_as<decltype(volume{} * density{}), mass>);
static_assert(std::same_as<decltype(area{} * density{}), linear_density>);
static_assert(std::same_as<decltype(linear_density{} * length{}), mass>);
static_assert(std::convertible_to<decltype(mass{} / mass{}), fraction>);
static_assert(!std::convertible_to<decltype(unit_price<usd>{} * length{}), money<usd>>);
static_assert(!std::convertible_to<decltype(unit_price<usd>{} * mass{}), money<eur>>);

static_assert(quantity_range<length>{}.min == length{} && quantity_range<length>{}.max == unlimited<length>());
static_assert(quantity_range<length>{1_in}.min == 1_in && quantity_range<length>{1_in}.max == 1_in);
static_assert(quantity_range<length>{1_in, 2_in}.contains(1_in) && quantity_range<length>{1_in, 2_in}.contains(2_in) &&
              !quantity_range<length>{1_in, 2_in}.contains(0.99_in) &&
              !quantity_range<length>{1_in, 2_in}.contains(2.01_in));
static_assert(quantity_range<mass>{} == quantity_range<mass>{mass{}, unlimited<mass>()} &&
              quantity_range<mass>{1_g} != quantity_range<mass>{1_g, 2_g});
static_assert(std::is_convertible_v<length, quantity_range<length>> &&
              !std::is_convertible_v<mass, quantity_range<length>>);

} // namespace

TEST_CASE("the pound, the ounce and the inch are the exact ones") {
    // 1 lb = 0.45359237 kg exactly, 1 oz = 1/16 lb = 28.349523125 g (NIST Handbook 44, appendix C; NIST SP 811,
    // appendix B: quoted). The constants are the doubles nearest to these decimals: no tolerance.
    CHECK(pound / kilogram == 0.45359237);
    CHECK(ounce / kilogram == 0.028349523125);
    CHECK(16.0 * ounce == pound);
    // 1 in = 2.54 cm exactly (16 CFR 500.19(a), read in the source).
    CHECK(inch / metre == 0.0254);
    CHECK(foot / metre == 0.3048);
    // 12 times the double nearest to 0.0254 is one unit in the last place off the double nearest to 0.3048.
    CHECK_THAT(12.0 * inch / metre, WithinULP(foot / metre, 1));
}

TEST_CASE("the six-digit values of the labelling rule follow from the exact constants") {
    // 16 CFR 500.19(a), read in the source. Six digits: half of the last one either way.
    CHECK_THAT(1_in / 1_cm, WithinRel(2.54, 1e-15));
    CHECK_THAT(double(1_in2 / 1_cm2), WithinRel(6.4516, 1e-15)); // exact in the rule: only rounding of doubles is left
    CHECK_THAT(double(1_in3 / 1_cm3), WithinAbs(16.3871, 0.5e-4));
    CHECK_THAT(1_oz / 1_g, WithinAbs(28.3495, 0.5e-4));
    CHECK_THAT(1_kg / 1_lb, WithinAbs(2.20462, 0.5e-5));
}

TEST_CASE("no upper limit is above every quantity") {
    CHECK(unlimited<mass>() > mass::from_value(std::numeric_limits<double>::max()));
    CHECK(quantity_range<mass>{1_kg, unlimited<mass>()}.contains(1e9_kg));
}

TEST_CASE("a range contains nothing when asked for NaN") {
    CHECK_FALSE(quantity_range<mass>{}.contains(mass::from_value(std::nan(""))));
}

} // namespace quantity_test
