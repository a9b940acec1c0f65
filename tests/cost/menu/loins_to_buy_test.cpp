// Loins for a number of guests: edges, laws, and as many loins as there may be. Invented parties.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <random>
#include <vector>

#include <boost/math/distributions/binomial.hpp>

#include <tranche/cost/menu/loins_to_buy.hpp>

#include "support/catch.hpp"

namespace loins_to_buy_test {

using namespace tranche;
using namespace tranche_test;

namespace {

count_distribution drawn(std::mt19937& random, std::size_t most) {
    count_distribution counts{std::vector<double>(1 + random() % (most + 1))};
    double sum = 0.0;
    for (double& p : counts.probability) sum += p = random() % 3 == 0 ? 0.0 : static_cast<double>(1 + random() % 1000);
    if (sum == 0.0) return exactly_counted(static_cast<std::int64_t>(most));
    for (double& p : counts.probability) p /= sum;
    return counts;
}

/// P(enough) with 0, 1, 2 ... loins: one after another, nothing left out.
std::vector<double> one_after_another(std::size_t loins, const count_distribution& loin,
                                      const count_distribution& wanted) {
    std::vector<double> sum{1.0}, result;
    for (std::size_t k = 0; k <= loins; ++k) {
        double enough = 0.0;
        for (std::size_t d = 0; d < wanted.probability.size(); ++d)
            for (std::size_t s = d; s < sum.size(); ++s) enough += wanted.probability[d] * sum[s];
        result.push_back(enough);
        std::vector<double> more(sum.size() + loin.probability.size() - 1);
        for (std::size_t a = 0; a < sum.size(); ++a)
            for (std::size_t b = 0; b < loin.probability.size(); ++b) more[a + b] += sum[a] * loin.probability[b];
        sum = more;
    }
    return result;
}

/// A loin that gives one portion with probability q, and else none: k of them give a binomial number.
count_distribution one_or_none(double q) { return {{1.0 - q, q}}; }

double binomial_enough(std::int64_t loins, double q, std::int64_t guests) {
    if (loins < guests) return 0.0;
    const boost::math::binomial_distribution<> sum(static_cast<double>(loins), q);
    return boost::math::cdf(boost::math::complement(sum, static_cast<double>(guests - 1)));
}

} // namespace

TEST_CASE("loins_to_buy: divides where nothing is uncertain") {
    const auto order = loins_to_buy(exactly_counted(12), exactly_counted(120), 0.95);
    REQUIRE(order);
    CHECK(order->loins == 10);
    CHECK(order->probability == 1.0);
    CHECK(order->with_one_fewer == 0.0);
    CHECK(order->expected_surplus == 0.0);
    CHECK(loins_to_buy(exactly_counted(12), exactly_counted(121), 0.95)->loins == 11);
    CHECK(loins_to_buy(exactly_counted(1), exactly_counted(10'000), 1.0)->loins == 10'000);
    CHECK_FALSE(loins_to_buy(exactly_counted(1), counts_wanted_by(5'000, 0.5, 2), 1.0) == std::nullopt);
    CHECK(loins_to_buy(exactly_counted(10'000), exactly_counted(10'000), 1.0)->loins == 1);
}

TEST_CASE("loins_to_buy: buys none where guests stay away often enough, and then has no order with one fewer") {
    const auto order = loins_to_buy(exactly_counted(10), counts_wanted_by(2, 0.5), 0.2);
    REQUIRE(order);
    CHECK(order->loins == 0);
    CHECK_THAT(order->probability, WithinAbs(0.25, 1e-15)); // both stay away
    CHECK_FALSE(order->with_one_fewer);
    CHECK_THAT(order->expected_surplus, WithinAbs(-1.0, 1e-15));
    CHECK(loins_to_buy(exactly_counted(10), counts_wanted_by(2, 0.5), 0.25)->loins == 0);
    CHECK(loins_to_buy(exactly_counted(10), counts_wanted_by(2, 0.5), 0.26)->loins == 1);
    CHECK(loins_to_buy(exactly_counted(10), counts_wanted_by(2, 0.5), 0.26)->with_one_fewer == order->probability);
    CHECK(loins_to_buy(exactly_counted(3), exactly_counted(0), 1.0)->loins == 0);
    CHECK(loins_to_buy(exactly_counted(0), exactly_counted(0), 1.0)->loins == 0);
}

TEST_CASE("loins_to_buy: is the first of all numbers of loins that is enough, whatever is asked") {
    std::mt19937 random(31);
    for (int round = 0; round < 300; ++round) {
        const count_distribution loin = drawn(random, 6), wanted = drawn(random, 40);
        const auto chances = one_after_another(40, loin, wanted);
        for (std::size_t k = 0; k < chances.size(); ++k) {
            CHECK_THAT(probability_of_enough(static_cast<std::int64_t>(k), loin, wanted), WithinAbs(chances[k], 1e-13));
            if (k > 0) CHECK(chances[k] >= chances[k - 1] - 1e-14);
        }
        const double asked = static_cast<double>(1 + random() % 999) / 1000.0;
        const auto first = std::find_if(chances.begin(), chances.end(), [&](double p) { return p >= asked - 1e-12; });
        if (first == chances.end()) continue;
        const auto order = loins_to_buy(loin, wanted, asked);
        REQUIRE(order);
        CHECK(order->loins == first - chances.begin());
        CHECK_THAT(order->probability, WithinAbs(*first, 1e-13));
        REQUIRE(order->with_one_fewer.has_value() == (order->loins > 0));
        if (order->with_one_fewer) {
            CHECK(*order->with_one_fewer < asked);
            CHECK_THAT(*order->with_one_fewer, WithinAbs(*(first - 1), 1e-13));
        }
        CHECK_THAT(order->expected_surplus,
                   WithinAbs(static_cast<double>(order->loins) * loin.mean() - wanted.mean(), 1e-12));
    }
}

TEST_CASE("loins_to_buy: agrees with the binomial distribution of Boost.Math up to ten thousand loins") {
    // Sums of 10,000 loins carry some 1e-12 of rounding: 14 doublings, each of which doubles what came before.
    for (const double q : {0.03, 0.5, 0.97})
        for (const std::int64_t guests : {1, 7, 150, 280, 4'700, 9'600})
            for (const double asked : {0.01, 0.5, 0.95, 0.9999}) {
                CAPTURE(q, guests, asked);
                const auto order = loins_to_buy(one_or_none(q), exactly_counted(guests), asked);
                if (!order) {
                    CHECK(binomial_enough(detail::largest_count, q, guests) < asked);
                    continue;
                }
                CHECK_THAT(order->probability, WithinAbs(binomial_enough(order->loins, q, guests), 1e-11));
                CHECK(order->probability >= asked - 1e-12);
                REQUIRE(order->with_one_fewer);
                CHECK_THAT(*order->with_one_fewer, WithinAbs(binomial_enough(order->loins - 1, q, guests), 1e-11));
                CHECK(*order->with_one_fewer < asked);
            }
    CHECK_THAT(probability_of_enough(10'000, one_or_none(0.5), exactly_counted(5'000)),
               WithinAbs(binomial_enough(10'000, 0.5, 5'000), 1e-11));
}

TEST_CASE("probability_of_enough: keeps of the sum of ten thousand loins only what has a weight") {
    // A window of 10^-20 on either side of a binomial of sd 50 is some 9.3 sd wide; with all 10,001 values it would take
    // 10^8 products for the last doubling.
    detail::portion_sum sum(one_or_none(0.5), 10'000);
    for (int doubling = 0; doubling < 13; ++doubling) sum = sum + sum;
    CHECK(sum.window() > 2 * 9 * 45);
    CHECK(sum.window() < 2 * 10 * 46); // of 8192 loins: sd 45.25
}

TEST_CASE("loins_to_buy: asks for no fewer loins for more guests or more certainty") {
    const std::vector<std::int64_t> record{11, 12, 12, 13, 12, 14, 11, 12, 13, 12, 10, 13}; // invented
    const auto loin = counted(record);
    std::int64_t before = 0;
    for (std::int64_t guests = 1; guests <= 300; guests += 7) {
        const auto loins = loins_to_buy(loin, counts_wanted_by(guests, 0.9), 0.95)->loins;
        CHECK(loins >= before);
        before = loins;
    }
    before = 0;
    for (const double p : {0.1, 0.5, 0.8, 0.9, 0.99, 0.999999, 1.0}) {
        const auto loins = loins_to_buy(loin, counts_wanted_by(300, 0.9), p)->loins;
        CHECK(loins >= before);
        before = loins;
    }
}

} // namespace loins_to_buy_test
