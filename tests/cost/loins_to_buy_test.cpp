// Loins for a number of guests: the normal approximation. Invented records and parties.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstdint>
#include <limits>

#include <boost/math/distributions/normal.hpp>

#include <tranche/cost/loins_to_buy.hpp>

#include "support/catch.hpp"

namespace loins_to_buy_test {

using namespace tranche;
using namespace tranche_test;

namespace {
constexpr double nan_ = std::numeric_limits<double>::quiet_NaN();
}

TEST_CASE("loins_to_buy: divides where nothing is uncertain") {
    const auto order = loins_to_buy({.mean = 12.0}, wanted_by(120), 0.95);
    REQUIRE(order);
    CHECK(order->loins == 10);
    CHECK(order->probability == 1.0);
    CHECK(order->with_one_fewer == 0.0);
    CHECK(order->expected_surplus == 0.0);
    CHECK(loins_to_buy({.mean = 12.0}, wanted_by(121), 0.95)->loins == 11);
    CHECK(loins_to_buy({.mean = 12.1}, {.mean = 12.1 * 7}, 0.5)->loins == 7); // decimals that binary lacks
}

// Boost.Math's normal distribution and a root of the quadratic (k μ - m + 1/2)² = z² (k σ² + s²) instead of a search.
TEST_CASE("loins_to_buy: agrees with the quantile of Boost.Math and the root of a quadratic") {
    const boost::math::normal standard;
    for (const double mean : {3.0, 12.4, 17.0})
        for (const double sd : {0.0, 0.8, 1.33, 4.0})
            for (const double guests : {1.0, 20.0, 75.0, 400.0, 12000.0})
                for (const double guests_sd : {0.5, 6.0})
                    for (const double p : {0.5, 0.9, 0.95, 0.975, 0.99, 0.9999}) {
                        const portions_a_loin loin{.mean = mean, .sd = sd};
                        const portions_wanted wanted{.mean = guests, .sd = guests_sd};
                        const auto order = loins_to_buy(loin, wanted, p);
                        REQUIRE(order);
                        const double z = boost::math::quantile(standard, p), a = guests - 0.5;
                        const double b = 2.0 * mean * a + z * z * sd * sd;
                        const double c = a * a - z * z * guests_sd * guests_sd;
                        const double k = (b + std::sqrt(b * b - 4.0 * mean * mean * c)) / (2.0 * mean * mean);
                        CHECK(order->loins == static_cast<std::int64_t>(std::ceil(std::max(k, 1.0) - 1e-9)));
                        CHECK(order->probability >= p);
                        CHECK((order->loins == 1 || order->with_one_fewer < p));
                        // Both are the same function to a few roundings of an argument below 1e4.
                        const auto loins = static_cast<double>(order->loins);
                        const double spread = std::sqrt(loins * sd * sd + guests_sd * guests_sd);
                        CHECK_THAT(order->probability,
                                   WithinAbs(boost::math::cdf(standard, (loins * mean - a) / spread), 1e-14));
                    }
}

TEST_CASE("loins_to_buy: says that no number is enough where a whole lot may be poor") {
    // P(enough) tends to Φ(12 / 6) = 0.977250 (standard tables).
    const portions_a_loin unsure{.mean = 12.0, .sd = 1.5, .lot_sd = 6.0};
    CHECK_FALSE(loins_to_buy(unsure, wanted_by(60), 0.98));
    const auto order = loins_to_buy(unsure, wanted_by(60), 0.97);
    REQUIRE(order);
    CHECK(order->with_one_fewer < 0.97);
    CHECK(order->probability >= 0.97);
    CHECK_THAT(probability_of_enough(1'000'000'000, unsure, wanted_by(60)), WithinAbs(0.977250, 5e-7));
    // A little uncertainty of the mean costs two loins. Computed: 24.5 / (1.5 √52) = 2.26 and 12.5 / (1.5 √51) = 1.17,
    // and 48.5 / √(54 × 1.5² + 54² / 4) = 1.66 and 36.5 / √(53 × 1.5² + 53² / 4) = 1.27, against 1.645.
    const portions_a_loin sure{.mean = 12.0, .sd = 1.5};
    const portions_a_loin estimated{.mean = 12.0, .sd = 1.5, .lot_sd = 1.5 / std::sqrt(9.0)};
    CHECK(loins_to_buy(sure, wanted_by(600), 0.95)->loins == 52);
    CHECK(loins_to_buy(estimated, wanted_by(600), 0.95)->loins == 54);
}

TEST_CASE("loins_to_buy: asks for no fewer loins for more guests, more spread or more certainty") {
    const portions_a_loin loin{.mean = 12.4, .sd = 1.3};
    std::int64_t before = 0;
    for (std::int64_t guests = 1; guests <= 500; ++guests) {
        const auto loins = loins_to_buy(loin, wanted_by(guests), 0.95)->loins;
        CHECK(loins >= before);
        before = loins;
    }
    before = 0;
    for (const double p : {0.1, 0.5, 0.8, 0.9, 0.99, 0.999999}) {
        const auto loins = loins_to_buy(loin, wanted_by(300), p)->loins;
        CHECK(loins >= before);
        before = loins;
    }
    for (std::int64_t k = 0; k < 40; ++k)
        CHECK(probability_of_enough(k, {12.4, 1.3, 0.7}, {200.0, 9.0}) <=
              probability_of_enough(k + 1, {12.4, 1.3, 0.7}, {200.0, 9.0}));
}

TEST_CASE("wanted_by: has the mean and spread of a binomial") {
    // 80 guests, three in four of whom take it, two each: 120 and 2 √15.
    CHECK_THAT(wanted_by(80, 0.75, 2).mean, WithinRel(120.0, 1e-14));
    CHECK_THAT(wanted_by(80, 0.75, 2).sd, WithinRel(2.0 * std::sqrt(15.0), 1e-14));
    CHECK(wanted_by(80).sd == 0.0);
}

TEST_CASE("loins_to_buy: names the field of a bad input") {
    CHECK_THROWS_WITH(loins_to_buy(portions_a_loin{}, wanted_by(10), 0.9), StartsWith("portions_a_loin.mean: got 0"));
    CHECK_THROWS_WITH(loins_to_buy({.mean = nan_}, wanted_by(10), 0.9), StartsWith("portions_a_loin.mean: got nan"));
    CHECK_THROWS_WITH(loins_to_buy({.mean = 1.0, .sd = -1.0}, wanted_by(10), 0.9), StartsWith("portions_a_loin.sd"));
    CHECK_THROWS_WITH(loins_to_buy({.mean = 1.0, .lot_sd = nan_}, wanted_by(10), 0.9),
                      StartsWith("portions_a_loin.lot_sd"));
    CHECK_THROWS_WITH(loins_to_buy({.mean = 1.0}, portions_wanted{}, 0.9), StartsWith("portions_wanted.mean: got 0"));
    CHECK_THROWS_WITH(loins_to_buy({.mean = 1.0}, {.mean = 0.9}, 0.9), StartsWith("portions_wanted.mean: got 0.9"));
    CHECK_THROWS_WITH(loins_to_buy({.mean = 1.0}, {.mean = 5.0, .sd = -1.0}, 0.9), StartsWith("portions_wanted.sd"));
    for (const double p : {0.0, 1.0, -0.5, 95.0, nan_})
        CHECK_THROWS_WITH(loins_to_buy({.mean = 1.0}, wanted_by(10), p), StartsWith("probability: got"));
    CHECK_THROWS_WITH(probability_of_enough(-1, portions_a_loin{.mean = 1.0}, wanted_by(1)),
                      StartsWith("loins: got -1"));
    CHECK_THROWS_WITH(wanted_by(0), StartsWith("guests: got 0"));
    CHECK_THROWS_WITH(wanted_by(1, 0.0), StartsWith("turn_up: got 0"));
    CHECK_THROWS_WITH(wanted_by(1, 1.01), StartsWith("turn_up: got 1.01"));
    CHECK_THROWS_WITH(wanted_by(1, 0.5, 0), StartsWith("portions_each: got 0"));
}

} // namespace loins_to_buy_test
