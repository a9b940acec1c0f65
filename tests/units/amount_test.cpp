// That amounts are exact, rounded by name, and split without a cent lost.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <array>
#include <concepts>
#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/units/amount.hpp>
#include <tranche/units/literals.hpp>

namespace amount_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

template <class A, class B>
concept addable = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept multipliable = requires(A a, B b) {
    a* b;
};

static_assert(sizeof(amount<usd>) == sizeof(std::int64_t) && std::is_trivially_copyable_v<amount<usd>>);
static_assert(std::regular<amount<usd>> && std::totally_ordered<amount<usd>>);
static_assert(addable<amount<usd>, amount<usd>> && !addable<amount<usd>, amount<eur>>);
static_assert(!multipliable<amount<usd>, double> && !multipliable<amount<usd>, int>);
static_assert(!std::convertible_to<amount<usd>, money<usd>> && !std::convertible_to<money<usd>, amount<usd>>);
static_assert(amount<usd>{250} + amount<usd>{-50} == amount<usd>{200} && -amount<usd>{3} == amount<usd>{-3});

using counts = std::vector<std::int64_t>;

counts split_of(std::int64_t total, const counts& weights) {
    return detail::split_by_largest_remainder(total, weights);
}

} // namespace

TEST_CASE("half-even rounds a half to the even neighbour") {
    // 0.5, 1.5, 2.5, 3.5 to 0, 2, 2, 4: IEEE 754-2019, section 4.3 (from memory). Yen have no minor unit, so they show it.
    const auto even = [](double yen) { return rounded<jpy>(money<jpy>::from_value(yen), rounding::half_even).minor; };
    CHECK(even(0.5) == 0);
    CHECK(even(1.5) == 2);
    CHECK(even(2.5) == 2);
    CHECK(even(3.5) == 4);
    CHECK(even(-0.5) == 0);
    CHECK(even(-1.5) == -2);
    CHECK(even(-2.5) == -2);
    CHECK(even(-3.5) == -4);
    CHECK(even(2.499999) == 2);
    CHECK(even(2.500001) == 3);
}

TEST_CASE("half-up rounds a half away from zero") {
    // 0.125, 0.135, 0.175 to 0.13, 0.14, 0.18: the commercial rule (from memory). 0.135 and 0.175 have no binary form.
    const auto up = [](double dollars) {
        return rounded<usd>(money<usd>::from_value(dollars), rounding::half_up).minor;
    };
    CHECK(up(0.125) == 13);
    CHECK(up(0.135) == 14);
    CHECK(up(0.175) == 18);
    CHECK(up(0.145) == 15);
    CHECK(up(-0.125) == -13);
    CHECK(up(-0.135) == -14);
    CHECK(up(-0.175) == -18);
    CHECK(up(0.1249) == 12);
    CHECK(up(0.1251) == 13);
}

TEST_CASE("the two roundings differ on halves alone") {
    CHECK(rounded<usd>(0.125_usd, rounding::half_even).minor == 12);
    CHECK(rounded<usd>(0.125_usd, rounding::half_up).minor == 13);
    CHECK(rounded<usd>(0.135_usd, rounding::half_even).minor == 14);
    CHECK(rounded<usd>(0.145_usd, rounding::half_even).minor == 14);
    for (int minor = -300; minor <= 300; ++minor) {
        const money<usd> off_half = money<usd>::from_value(minor / 100.0 + 0.0049);
        REQUIRE(rounded<usd>(off_half, rounding::half_even).minor == minor);
        REQUIRE(rounded<usd>(off_half, rounding::half_up).minor == minor);
    }
}

TEST_CASE("rounding goes to the currency's own minor unit") {
    CHECK(rounded<jpy>(1199.5_jpy, rounding::half_up).minor == 1200);
    CHECK(rounded<usd>(1199.5_usd, rounding::half_up).minor == 119950);
    CHECK(rounded<bhd>(7.9005_bhd, rounding::half_up).minor == 7901);
    CHECK(rounded<bhd>(7.9005_bhd, rounding::half_even).minor == 7900);
}

TEST_CASE("money of every written amount comes back to it") {
    for (std::int64_t minor = -100'000; minor <= 100'000; minor += 7) {
        REQUIRE(rounded<usd>(to_money(amount<usd>{minor}), rounding::half_even).minor == minor);
        REQUIRE(rounded<bhd>(to_money(amount<bhd>{minor}), rounding::half_up).minor == minor);
        REQUIRE(rounded<jpy>(to_money(amount<jpy>{minor}), rounding::half_up).minor == minor);
    }
}

TEST_CASE("money that fits no amount is refused by its field") {
    const double bad = GENERATE(std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                                -std::numeric_limits<double>::infinity(), 9.3e16, -9.3e16, 1e300);
    try {
        (void)rounded<usd>(money<usd>::from_value(bad), rounding::half_even, "total cost");
        FAIL("accepted " << bad);
    } catch (const invalid_input& e) {
        CHECK(e.field() == "total cost");
        CHECK_THAT(e.value(), EndsWith(" USD"));
        CHECK(e.expected() == "a finite sum of money");
    }
    CHECK_NOTHROW(rounded<usd>(money<usd>::from_value(9.1e16), rounding::half_even));
}

TEST_CASE("largest remainder apportions the 1790 census") {
    // 60 seats by the populations of the 1790 census (public census figures: read in the source, and the seats run again
    // with exact fractions).
    const std::array<std::pair<std::string_view, std::pair<std::int64_t, std::int64_t>>, 15> states{
        {{"VA", {630'560, 11}},
         {"MA", {475'327, 8}},
         {"PA", {432'879, 7}},
         {"NC", {353'523, 6}},
         {"NY", {331'589, 6}},
         {"MD", {278'514, 5}},
         {"CT", {236'841, 4}},
         {"SC", {206'236, 3}},
         {"NJ", {179'570, 3}},
         {"NH", {141'822, 2}},
         {"VT", {85'533, 1}},
         {"GA", {70'835, 1}},
         {"KY", {68'705, 1}},
         {"RI", {68'446, 1}},
         {"DE", {55'540, 1}}}};
    counts populations;
    for (const auto& [name, numbers] : states) populations.push_back(numbers.first);
    const counts seats = split_of(60, populations);
    REQUIRE(seats.size() == states.size());
    for (std::size_t i = 0; i < states.size(); ++i) {
        CAPTURE(states[i].first);
        CHECK(seats[i] == states[i].second.second);
    }
}

TEST_CASE("units left over go to the earlier of equal remainders") {
    CHECK(split_of(10, {1, 1, 1}) == counts{4, 3, 3});
    CHECK(split_of(11, {1, 1, 1}) == counts{4, 4, 3});
    CHECK(split_of(2, {5, 5, 5, 5}) == counts{1, 1, 0, 0});
    CHECK(split_of(1, {0, 1, 1}) == counts{0, 1, 0});
}

TEST_CASE("a negative total is split as its opposite") {
    CHECK(split_of(-10, {1, 1, 1}) == counts{-4, -3, -3});
    CHECK(split_of(-1, {2, 3}) == counts{0, -1});
}

TEST_CASE("a split of nothing gives every part nothing") { CHECK(split_of(0, {3, 0, 5}) == counts{0, 0, 0}); }

TEST_CASE("a split is exact at the ends of 64 bits") {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
    constexpr std::int64_t least = std::numeric_limits<std::int64_t>::min();
    CHECK(split_of(most, {most}) == counts{most});
    CHECK(split_of(most, {1, most - 1}) == counts{1, most - 1});
    CHECK(split_of(least, {1}) == counts{least});
    CHECK(split_of(least, {1, 1}) == counts{least / 2, least / 2});
    CHECK(split_of(least, {0, 7, 0}) == counts{0, least, 0});
    CHECK(split_of(most, {1, 1}) == counts{most / 2 + 1, most / 2});
}

TEST_CASE("weights that cannot share anything are refused") {
    const auto message_of = [](const counts& weights) -> std::string {
        try {
            (void)split_of(100, weights);
        } catch (const invalid_input& e) {
            return e.what();
        }
        return "accepted";
    };
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
    CHECK(message_of({}) == "weights: got none, expected at least one above zero");
    CHECK(message_of({0, 0}) == "weights: got only zeros, expected at least one above zero");
    CHECK(message_of({3, -1}) == "weights: got -1, expected no negative weight");
    CHECK(message_of({most, 1}) ==
          "weights: got a sum beyond 64 bits, expected weights that add up to less than 9.2e18");
}

TEST_CASE("an amount is split into amounts that add up to it") {
    const counts weights{16, 12, 11};
    const auto parts = split(amount<usd>{10000}, weights);
    // 100.00 by 16, 12, 11 of 39: 4102.564, 3076.923, 2820.513 cents, and two left over (own instance, exact fractions).
    REQUIRE(parts.size() == 3);
    CHECK(parts[0] == amount<usd>{4103});
    CHECK(parts[1] == amount<usd>{3077});
    CHECK(parts[2] == amount<usd>{2820});
    CHECK(parts[0] + parts[1] + parts[2] == amount<usd>{10000});
}

TEST_CASE("amounts that 64 bits do not hold are refused, not wrapped around") {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
    const amount<usd> large{most};
    CHECK(large - amount<usd>{1} + amount<usd>{1} == large);
    CHECK_THROWS_WITH((large + amount<usd>{1}), StartsWith("amount of USD: got a sum beyond 64 bits"));
    CHECK_THROWS_AS((-large - amount<usd>{2}), invalid_input);
    CHECK_THROWS_AS(-amount<usd>{std::numeric_limits<std::int64_t>::min()}, invalid_input);
    amount<jpy> sum{most};
    CHECK_THROWS_AS(sum += amount<jpy>{1}, invalid_input);
    CHECK(sum.minor == most);
}

} // namespace amount_test
