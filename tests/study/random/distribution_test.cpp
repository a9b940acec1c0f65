// Quantiles of the textbooks, bounds, and what is refused.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/random/distribution.hpp>

#include <cmath>
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace distribution_test {

using namespace tranche;
using namespace tranche_test;

std::string error_of(const std::function<void()>& call) {
    try {
        call();
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "no error";
}

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

TEST_CASE("quantiles of distributions are those of the textbooks") {
    CHECK(distribution::certain(3.0).quantile(0.01) == 3.0);
    CHECK(distribution::uniform(2.0, 6.0).quantile(0.25) == 3.0);
    // Standard normal quantiles: NIST/SEMATECH e-Handbook, section 1.3.6.7.1, and any table.
    CHECK(distribution::normal(10.0, 2.0).quantile(0.975) == Approx(10.0 + 2.0 * 1.959963984540054));
    CHECK(distribution::normal(10.0, 2.0).quantile(0.5) == 10.0);
    // Triangular on 0 to 4 with mode 1: F(1) = 1/4, and F(x) = x²/4 up to it, 1 - (4 - x)²/12 beyond.
    const auto triangle = distribution::triangular(0.0, 1.0, 4.0);
    CHECK(triangle.quantile(0.25) == Approx(1.0));
    CHECK(triangle.quantile(0.0625) == Approx(0.5));
    CHECK(triangle.quantile(1.0 - 1.0 / 12.0) == Approx(3.0));
    // Beta(1, 1) is uniform; beta(2, 1) has F(x) = x².
    CHECK(distribution::beta(1.0, 1.0, 5.0, 7.0).quantile(0.5) == Approx(6.0));
    CHECK(distribution::beta(2.0, 1.0).quantile(0.49) == Approx(0.7));
    // The median of a lognormal value is its mean / √(1 + cv²).
    CHECK(distribution::lognormal(5.0, 2.0).quantile(0.5) == Approx(5.0 / std::sqrt(1.16)));
}

TEST_CASE("an empirical distribution hands out its samples and nothing else") {
    const auto d = distribution::empirical({9.0, 1.0, 3.0, 2.0});
    CHECK(d.quantile(0.1) == 1.0);
    CHECK(d.quantile(0.3) == 2.0);
    CHECK(d.quantile(0.6) == 3.0);
    CHECK(d.quantile(0.99) == 9.0);
    CHECK(d.quantile(std::nextafter(1.0, 0.0)) == 9.0);
    CHECK(d.mean() == Approx(3.75));
    CHECK(d.standard_deviation() == Approx(std::sqrt((27.5625 + 7.5625 + 0.5625 + 3.0625) / 4.0)));
}

TEST_CASE("a spread of zero is certain") {
    CHECK(distribution::normal(4.0, 0.0) == distribution::certain(4.0));
    CHECK(distribution::lognormal(4.0, 0.0) == distribution::certain(4.0));
    CHECK(distribution::uniform(4.0, 4.0) == distribution::certain(4.0));
    CHECK(distribution::triangular(4.0, 4.0, 4.0) == distribution::certain(4.0));
    CHECK(distribution::beta(2.0, 2.0, 4.0, 4.0) == distribution::certain(4.0));
    CHECK(distribution::truncated_normal(4.0, 0.0, 3.0, 5.0) == distribution::certain(4.0));
    CHECK(distribution::truncated_normal(4.0, 1.0, 5.0, 5.0) == distribution::certain(5.0));
    CHECK(distribution::certain(4.0).standard_deviation() == 0.0);
}

TEST_CASE("bounds hold at the outermost uniform numbers") {
    for (const auto& d :
         {distribution::uniform(0.1, 0.3), distribution::triangular(0.1, 0.1, 0.3),
          distribution::triangular(0.1, 0.3, 0.3), distribution::beta(0.5, 0.5, 0.1, 0.3),
          distribution::truncated_normal(0.0, 1.0, 0.1, 0.3), distribution::truncated_normal(9.0, 2.0, 0.1, 0.3),
          distribution::truncated_normal(-9.0, 2.0, 0.1, 0.3)})
        for (const double u : {0x1p-53, 0x1p-33, 0.5, 1.0 - 0x1p-33, 1.0 - 0x1p-53}) {
            CHECK(d.quantile(u) >= 0.1);
            CHECK(d.quantile(u) <= 0.3);
        }
    // The same through a copula, whose z may lie further out than any single number's.
    CHECK(distribution::uniform(0.1, 0.3).quantile_of_normal(40.0) <= 0.3);
    CHECK(distribution::uniform(0.1, 0.3).quantile_of_normal(-400.0) >= 0.1);
}

TEST_CASE("distributions that are none are refused by name") {
    CHECK(error_of([] { (void)distribution::normal(nan, 1.0); }) == "mean: got nan, expected a finite value");
    CHECK(error_of([] { (void)distribution::normal(1.0, -0.5); }) ==
          "standard deviation: got -0.5, expected a finite value, zero or more");
    CHECK(error_of([] { (void)distribution::normal(1.0, infinity); }) ==
          "standard deviation: got inf, expected a finite value, zero or more");
    CHECK(error_of([] { (void)distribution::lognormal(0.0, 1.0); }) ==
          "mean: got 0, expected a finite value above zero");
    CHECK(error_of([] { (void)distribution::uniform(2.0, 1.0); }) ==
          "most: got 1, expected a finite value, at least 2");
    CHECK(error_of([] { (void)distribution::uniform(0.0, infinity); }) ==
          "most: got inf, expected a finite value, at least 0");
    CHECK(error_of([] { (void)distribution::triangular(0.0, 3.0, 2.0); }) == "mode: got 3, expected 0 to 2");
    CHECK(error_of([] { (void)distribution::beta(0.0, 1.0); }) == "alpha: got 0, expected 0.01 to 1000000");
    CHECK(error_of([] { (void)distribution::beta(1.0, nan); }) == "beta: got nan, expected 0.01 to 1000000");
    CHECK(error_of([] { (void)distribution::empirical({}); }) == "samples: got none, expected at least one");
    CHECK(error_of([] {
              (void)distribution::empirical({1.0, nan});
          }) == "samples[1]: got nan, expected a finite value");
    CHECK(error_of([] { (void)distribution::truncated_normal(0.0, 1.0, 20.0, 21.0); }) ==
          "bounds: got 20 to 21, expected bounds between which the normal distribution has some share");
    CHECK(error_of([] { (void)distribution::truncated_normal(0.0, 1.0, nan, 21.0); }) ==
          "most: got 21, expected at least nan");
    CHECK(error_of([] { (void)distribution::truncated_normal(0.0, 0.0, 1.0, 2.0); }) ==
          "mean: got 0, expected a mean within the bounds, for there is no spread");
    for (const double u : {0.0, 1.0, -0.5, 1.5, nan})
        CHECK_THROWS_AS(distribution::normal(0.0, 1.0).quantile(u), invalid_input);
    CHECK_THROWS_AS(distribution::normal(0.0, 1.0).quantile_of_normal(nan), invalid_input);
    CHECK_THROWS_AS(distribution::uniform(0.0, 1.0).quantile_of_normal(nan), invalid_input);
}

} // namespace distribution_test
