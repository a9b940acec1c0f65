// The normal estimate against its closed forms.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>

#include <tranche/optimise/session/detail/gaussian_estimate.hpp>

namespace gaussian_estimate_test {

using namespace tranche;
using namespace tranche_test;

namespace {

// A dozen products and sums of numbers near 1 lose a few units of the 53rd bit each.
constexpr double rounding = 1e-12;

} // namespace

TEST_CASE("precisions of one unknown add up") {
    // Prior N(2, 3²), readings 5, 4 and 9 of variances 4, 1 and 16: precision 1/9 + 1/4 + 1 + 1/16, mean weighted by it.
    auto one = detail::gaussian_estimate<1>::independent({2.0}, {3.0});
    const double values[] = {5.0, 4.0, 9.0}, variances[] = {4.0, 1.0, 16.0};
    double precision = 1.0 / 9.0, weighted = 2.0 / 9.0;
    for (std::size_t i = 0; i < 3; ++i) {
        one.observe({1.0}, values[i], variances[i]);
        precision += 1.0 / variances[i];
        weighted += values[i] / variances[i];
        CHECK(one.covariance(0, 0) == Approx(1.0 / precision).epsilon(rounding));
        CHECK(one.mean(0) == Approx(weighted / precision).epsilon(rounding));
    }
}

TEST_CASE("a reading of a sum leaves its parts anticorrelated") {
    // x, y ~ N(0, 1) and x + y + N(0, 1) = 3: by symmetry each mean is 1, variance 2/3, covariance -1/3.
    auto two = detail::gaussian_estimate<2>::independent({0.0, 0.0}, {1.0, 1.0});
    CHECK(two.predicted_variance({1.0, 1.0}, 1.0) == 3.0);
    two.observe({1.0, 1.0}, 3.0, 1.0);
    CHECK(two.mean(0) == Approx(1.0).epsilon(rounding));
    CHECK(two.mean(1) == Approx(1.0).epsilon(rounding));
    CHECK(two.covariance(0, 0) == Approx(2.0 / 3.0).epsilon(rounding));
    CHECK(two.covariance(0, 1) == Approx(-1.0 / 3.0).epsilon(rounding));
    CHECK(two.covariance(1, 0) == two.covariance(0, 1));
    CHECK(two.predicted({1.0, 1.0}) == Approx(2.0).epsilon(rounding));
}

TEST_CASE("the order of readings does not matter") {
    auto forwards = detail::gaussian_estimate<2>::independent({1.0, 0.0}, {0.5, 2.0}), backwards = forwards;
    const detail::gaussian_estimate<2>::vector directions[] = {{1.0, 0.3}, {0.0, 1.0}, {1.0, -0.7}};
    const double values[] = {1.4, 0.2, 0.9};
    for (std::size_t i = 0; i < 3; ++i) {
        forwards.observe(directions[i], values[i], 0.1);
        backwards.observe(directions[2 - i], values[2 - i], 0.1);
    }
    for (std::size_t i = 0; i < 2; ++i) {
        CHECK(forwards.mean(i) == Approx(backwards.mean(i)).epsilon(rounding));
        for (std::size_t k = 0; k < 2; ++k)
            CHECK(forwards.covariance(i, k) == Approx(backwards.covariance(i, k)).epsilon(rounding));
    }
}

TEST_CASE("an exact reading settles its unknown and what is certain cannot be moved") {
    auto two = detail::gaussian_estimate<2>::independent({0.0, 7.0}, {1.0, 0.0});
    two.observe({1.0, 0.0}, 3.0, 0.0);
    CHECK(two.mean(0) == 3.0);
    CHECK(two.standard_deviation(0) == 0.0);
    two.observe({1.0, 0.0}, 5.0, 0.0); // contradicts, but nothing is uncertain
    two.observe({0.0, 1.0}, 8.0, 1.0);
    CHECK(two.mean(0) == 3.0);
    CHECK(two.mean(1) == 7.0);
}

} // namespace gaussian_estimate_test
