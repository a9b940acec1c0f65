// Loins for a number of guests: against Boost.Math, enumeration, simulation, and the central limit.
// SPDX-License-Identifier: BSL-1.0
#include <array>
#include <cfenv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numeric>
#include <random>
#include <vector>

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/normal.hpp>

#include <tranche/cost/menu/loins_to_buy.hpp>

#include "support/catch.hpp"

namespace portion_counts_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

// Invented record: portions of twelve loins.
constexpr std::array<std::int64_t, 12> record{11, 12, 12, 13, 12, 14, 11, 12, 13, 12, 10, 13};

/// P(enough) by walking through every way the loins can fall out.
double enumerated(int loins, const count_distribution& loin, const count_distribution& wanted, std::size_t sum = 0) {
    double total = 0.0;
    if (loins == 0) {
        for (std::size_t d = 0; d < wanted.probability.size() && d <= sum; ++d) total += wanted.probability[d];
        return total;
    }
    for (std::size_t n = 0; n < loin.probability.size(); ++n)
        if (loin.probability[n] > 0.0) total += loin.probability[n] * enumerated(loins - 1, loin, wanted, sum + n);
    return total;
}

std::size_t drawn(const count_distribution& counts, std::mt19937& random) {
    double u = static_cast<double>(random()) / 4294967296.0;
    for (std::size_t n = 0; n < counts.probability.size(); ++n)
        if ((u -= counts.probability[n]) < 0.0) return n;
    return counts.probability.size() - 1;
}

} // namespace

TEST_CASE("counts_wanted_by: is the binomial distribution of Boost.Math") {
    for (const std::int64_t guests : {1, 2, 17, 80, 1000})
        for (const double share : {0.01, 0.3, 0.75, 0.999}) {
            const auto counts = counts_wanted_by(guests, share);
            const boost::math::binomial_distribution<> reference(static_cast<double>(guests), share);
            for (std::size_t k = 0; k < counts.probability.size(); ++k)
                CHECK_THAT(counts.probability[k],
                           WithinAbs(boost::math::pdf(reference, static_cast<double>(k)), 1e-12));
            CHECK_THAT(counts.mean(), WithinRel(boost::math::mean(reference), 1e-12));
            CHECK_THAT(counts.sd(), WithinRel(boost::math::standard_deviation(reference), 1e-9));
        }
    const auto all = counts_wanted_by(5, 1.0, 2);
    CHECK(all.probability.size() == 11);
    CHECK(all.probability[10] == 1.0);
    CHECK(all.mean() == 10.0);
}

TEST_CASE("probability_of_enough: is what enumeration finds") {
    const auto loin = counted(record);
    for (int loins = 0; loins <= 5; ++loins)
        for (const std::int64_t guests : {1, 12, 37, 50, 70}) {
            const auto sure = exactly_counted(guests), unsure = counts_wanted_by(guests, 0.8);
            CHECK_THAT(probability_of_enough(loins, loin, sure), WithinAbs(enumerated(loins, loin, sure), 1e-13));
            CHECK_THAT(probability_of_enough(loins, loin, unsure), WithinAbs(enumerated(loins, loin, unsure), 1e-13));
        }
}

TEST_CASE("loins_to_buy: orders the smallest number that simulated parties find enough") {
    const auto loin = counted(record);
    const auto wanted = counts_wanted_by(90, 0.85);
    const auto order = loins_to_buy(loin, wanted, 0.95);
    REQUIRE(order);
    std::mt19937 random(20);
    constexpr int parties = 40'000;
    const auto simulated = [&](std::int64_t loins) {
        int enough = 0;
        for (int i = 0; i < parties; ++i) {
            std::size_t portions = 0;
            for (std::int64_t k = 0; k < loins; ++k) portions += drawn(loin, random);
            if (portions >= drawn(wanted, random)) ++enough;
        }
        return static_cast<double>(enough) / parties;
    };
    // Four standard errors of a share p of n parties: 4 √(p (1 - p) / n).
    const auto error = [](double p) { return 4.0 * std::sqrt(p * (1.0 - p) / parties); };
    CHECK_THAT(simulated(order->loins), WithinAbs(order->probability, error(order->probability)));
    CHECK_THAT(simulated(order->loins - 1), WithinAbs(*order->with_one_fewer, error(*order->with_one_fewer)));
    CHECK(order->probability >= 0.95);
    CHECK(order->with_one_fewer < 0.95);
}

// Berry and Esseen: the distribution of a sum of k independent counts is within 0.4748 ρ / (σ³ √k) of the normal one, ρ
// the third absolute central moment (Shevtsova 2011, constant from memory). The half portion of the correction moves
// the normal distribution by at most 1/2 / (σ √(2 π k)).
TEST_CASE("probability_of_enough: stays within the bound of the central limit") {
    const auto loin = counted(record);
    const double mean = loin.mean(), sd = loin.sd();
    double third = 0.0;
    for (std::size_t n = 0; n < loin.probability.size(); ++n)
        third += loin.probability[n] * std::pow(std::abs(static_cast<double>(n) - mean), 3);
    double worst = 0.0;
    for (const std::int64_t loins : {1, 2, 5, 10, 20})
        for (std::int64_t guests = 10 * loins; guests <= 14 * loins; ++guests) {
            const double exact = probability_of_enough(loins, loin, exactly_counted(guests));
            const double root = std::sqrt(static_cast<double>(loins));
            const double surplus = static_cast<double>(loins) * mean - static_cast<double>(guests);
            const double normal = boost::math::cdf(boost::math::normal(), (surplus + 0.5) / (sd * root));
            CHECK(std::abs(exact - normal) <=
                  (0.4748 * third / (sd * sd * sd) + 0.5 / (sd * std::sqrt(6.283185))) / root);
            if (loins >= 5) worst = std::max(worst, std::abs(exact - normal));
        }
    // With the correction for whole numbers they are far nearer than that from five loins on (measured: 0.0056).
    CHECK(worst < 0.01);
}

TEST_CASE("loins_to_buy: can be certain where a record says how bad it gets") {
    const auto loin = counted(record);
    const auto order = loins_to_buy(loin, exactly_counted(60), 1.0);
    REQUIRE(order);
    CHECK(order->loins == 6); // no loin of the record gave fewer than ten
    CHECK_THAT(order->probability, WithinAbs(1.0, 1e-12));
    CHECK(order->with_one_fewer < 1.0);
    CHECK_THAT(order->expected_surplus, WithinAbs(6.0 * loin.mean() - 60.0, 1e-9));
    CHECK_FALSE(loins_to_buy(exactly_counted(0), exactly_counted(1), 0.5));
    const count_distribution lean{{0.9999, 0.0001}};
    CHECK_FALSE(loins_to_buy(lean, exactly_counted(3), 0.99));
}

TEST_CASE("counts_wanted_by: divides by nothing where all turn up") {
    std::feclearexcept(FE_ALL_EXCEPT);
    const count_distribution all = counts_wanted_by(10, 1.0);
    CHECK_FALSE(std::fetestexcept(FE_DIVBYZERO | FE_INVALID));
    for (std::size_t n = 0; n <= 10; ++n) {
        CHECK(all.probability[n] == (n == 10 ? 1.0 : 0.0));
    }
}

TEST_CASE("portion_counts: name the field of a bad input") {
    const auto loin = counted(record);
    CHECK_THROWS_WITH(counted({}), StartsWith("counts: got none"));
    CHECK_THROWS_WITH(counted(std::vector<std::int64_t>{3, -1}), StartsWith("counts: got -1"));
    CHECK_THROWS_WITH(counted(std::vector<std::int64_t>{20'000}), StartsWith("counts: got 20000"));
    CHECK_THROWS_WITH(exactly_counted(10'001), StartsWith("count: got 10001"));
    CHECK_THROWS_WITH(counts_wanted_by(200, 0.5, 100), StartsWith("guests × portions_each: got 20000"));
    CHECK_THROWS_WITH(counts_wanted_by(0), StartsWith("guests: got 0"));
    CHECK_THROWS_WITH(counts_wanted_by(1, 0.0), StartsWith("turn_up: got 0"));
    CHECK_THROWS_WITH(counts_wanted_by(1, 1.01), StartsWith("turn_up: got 1.01"));
    CHECK_THROWS_WITH(counts_wanted_by(1, 0.5, 0), StartsWith("portions_each: got 0"));
    CHECK_THROWS_WITH(loins_to_buy(count_distribution{}, exactly_counted(1), 0.5), StartsWith("loin: got 0 in all"));
    CHECK_THROWS_WITH(loins_to_buy(count_distribution{{0.5, 0.4}}, exactly_counted(1), 0.5),
                      StartsWith("loin: got 0.9 in all"));
    CHECK_THROWS_WITH(loins_to_buy(loin, count_distribution{{1.5, -0.5}}, 0.5),
                      StartsWith("wanted: probability: got -0.5"));
    for (const double p : {0.0, 1.01, -1.0, std::numeric_limits<double>::quiet_NaN()})
        CHECK_THROWS_WITH(loins_to_buy(loin, exactly_counted(1), p), StartsWith("probability: got"));
    CHECK_THROWS_WITH(probability_of_enough(-1, loin, exactly_counted(1)), StartsWith("loins: got -1"));
}

} // namespace portion_counts_oracle
