// Held against the distributions of Boost.Math, which go other ways (inverse error functions, root finding).
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/random/distribution.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/lognormal.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/triangular.hpp>

#include "support/catch.hpp"

namespace distribution_oracle {

using namespace tranche;
using namespace tranche_test;

constexpr double infinity = std::numeric_limits<double>::infinity();

std::vector<double> shares() {
    std::vector<double> all{1e-15, 1e-12, 1e-9, 1e-6, 1e-4, 0.001, 0.01, 0.0749999, 0.0750001};
    for (double u = 0.02; u < 1.0; u += 0.0173) all.push_back(u);
    for (const double u : {0.9249999, 0.9250001, 0.99, 0.9999, 1.0 - 1e-9, 1.0 - 1e-12}) all.push_back(u);
    return all;
}

TEST_CASE("the normal quantile is Boost.Math's to a few units in the last place") {
    const boost::math::normal_distribution<long double> exact;
    for (const double u : shares()) {
        const auto z = static_cast<double>(boost::math::quantile(exact, static_cast<long double>(u)));
        // Near 1/2 the quantile is as exact as u - 1/2 is; elsewhere AS 241 claims 1 part in 10^16, before rounding.
        CHECK(std::abs(tranche::detail::normal_quantile(u) - z) <= 2e-15 * std::abs(z));
    }
    for (const double u : {1e-300, 1e-200, 1e-100, 1e-30})
        CHECK(tranche::detail::normal_quantile(u) ==
              Approx(static_cast<double>(boost::math::quantile(exact, static_cast<long double>(u)))).epsilon(1e-14));
    for (const double z : {-30.0, -8.0, -3.0, -1.0, 0.0, 0.5, 2.0, 6.0})
        CHECK(tranche::detail::normal_share(z) ==
              Approx(static_cast<double>(boost::math::cdf(exact, static_cast<long double>(z)))).epsilon(1e-13));
}

TEST_CASE("lognormal, triangular and beta quantiles are Boost.Math's") {
    const double variance = std::log(1.0 + 0.16), mean = 5.0;
    const boost::math::lognormal_distribution<> lognormal(std::log(mean) - variance / 2.0, std::sqrt(variance));
    const boost::math::triangular_distribution<> triangular(2.0, 3.0, 7.0);
    const boost::math::beta_distribution<> beta(2.5, 4.0);
    for (const double u : shares()) {
        CHECK(distribution::lognormal(mean, 2.0).quantile(u) ==
              Approx(boost::math::quantile(lognormal, u)).epsilon(1e-12));
        CHECK(distribution::triangular(2.0, 3.0, 7.0).quantile(u) ==
              Approx(boost::math::quantile(triangular, u)).epsilon(1e-12));
        // Rounded to 2^-48 of the width, 3.6e-15.
        CHECK(std::abs(distribution::beta(2.5, 4.0, 1.0, 2.0).quantile(u) - 1.0 - boost::math::quantile(beta, u)) <
              4e-15);
    }
}

TEST_CASE("a truncated normal's quantile leaves its share of what lies between the bounds below") {
    struct bounds {
        double least = 0.0, most = 0.0;
    };
    const boost::math::normal_distribution<long double> normal(3.0L, 2.0L);
    for (const bounds b : {bounds{1.0, 4.0}, bounds{-infinity, 2.0}, bounds{2.0, infinity}, bounds{9.0, 9.5},
                           bounds{-5.0, -4.0}, bounds{15.0, infinity}, bounds{-infinity, infinity}}) {
        const auto d = distribution::truncated_normal(3.0, 2.0, b.least, b.most);
        // Shares above, so that upper tails keep their digits.
        const auto above = [&](double x) -> long double {
            return x == infinity    ? 0.0L
                   : x == -infinity ? 1.0L
                                    : boost::math::cdf(boost::math::complement(normal, static_cast<long double>(x)));
        };
        for (const double u : {0.001, 0.1, 0.5, 0.9, 0.999}) {
            const long double share = (above(b.least) - above(d.quantile(u))) / (above(b.least) - above(b.most));
            CHECK(static_cast<double>(share) ==
                  Approx(u).epsilon(1e-9)); // x itself is known to 1e-16 of 15, z² / 2 = 18
        }
    }
}

TEST_CASE("means and deviations are those of the quantiles") {
    // Midpoints of n equal shares: the error of the mean is below the outermost shares' contribution, which is small for n = 20,000.
    for (const auto& d :
         {distribution::certain(2.0), distribution::uniform(2.0, 5.0), distribution::normal(1.0, 2.0),
          distribution::lognormal(5.0, 2.0), distribution::truncated_normal(0.0, 1.0, 1.0, 1.5),
          distribution::truncated_normal(0.0, 1.0, 1.0, 9.0), distribution::truncated_normal(0.0, 1.0, -infinity, -1.0),
          distribution::truncated_normal(3.0, 1.0, -1.0, 2.0), distribution::truncated_normal(3.0, 100.0, 1.0, 2.0),
          distribution::triangular(1.0, 2.0, 5.0), distribution::beta(2.0, 3.0, 1.0, 4.0),
          distribution::empirical({3.0, 1.0, 2.0, 9.0, 9.0})}) {
        const int n = d == distribution::beta(2.0, 3.0, 1.0, 4.0) ? 1000 : 20'000;
        double mean = 0.0, squares = 0.0;
        for (int i = 0; i < n; ++i) mean += d.quantile((i + 0.5) / n) / n;
        for (int i = 0; i < n; ++i) squares += std::pow(d.quantile((i + 0.5) / n) - mean, 2) / n;
        CHECK(d.mean() == Approx(mean).epsilon(2e-4));
        CHECK(d.standard_deviation() == Approx(std::sqrt(squares)).epsilon(1e-3).margin(1e-12));
    }
}

} // namespace distribution_oracle
