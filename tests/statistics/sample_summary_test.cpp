// Against certified values, to the digits that a double allows.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/statistics/sample_summary.hpp>

#include <algorithm>
#include <limits>
#include <vector>

#include "support/catch.hpp"
#include "support/reference_sets.hpp"

namespace sample_summary_test {

using namespace tranche;
using namespace tranche_test;
using namespace reference_sets;

TEST_CASE("NumAcc1 is reached exactly") {
    // Whole numbers of eight digits: every step of the two passes is exact.
    const auto s = summarise(std::vector<double>{10000001, 10000003, 10000002});
    CHECK(s.mean == 10000002.0);
    CHECK(s.standard_deviation == 1.0);
}

TEST_CASE("NumAcc2 to NumAcc4 are reached as closely as a double holds their values") {
    // The certified deviation is 0.1. A value near V lies within ulp(V) / 2 of its decimal, which moves the deviation by up
    // to ulp(V) / 2 / 0.1 relative: 1.2 has 1.1e-16, so 1.1e-15, 15 digits less the rounding of a sum of 1,001 squares
    // (about 1,001 x 1.1e-16 at worst, 13 digits); 1e6 has 5.8e-11, so 9.2 digits; 1e7 has 9.3e-10, so 8.0 digits.
    const auto numacc2 = summarise(numacc(1.2, 1.1, 1.3));
    CHECK(digits(numacc2.mean, 1.2) > 15.0);
    CHECK(digits(*numacc2.standard_deviation, 0.1) > 13.0);
    const auto numacc3 = summarise(numacc(1000000.2, 1000000.1, 1000000.3));
    CHECK(digits(numacc3.mean, 1000000.2) > 15.0); // half an ulp of the mean
    CHECK(digits(*numacc3.standard_deviation, 0.1) > 9.2);
    const auto numacc4 = summarise(numacc(10000000.2, 10000000.1, 10000000.3));
    CHECK(digits(numacc4.mean, 10000000.2) > 15.0);
    CHECK(digits(*numacc4.standard_deviation, 0.1) > 8.0);
}

TEST_CASE("the interval of a mean follows the tables of Student's t") {
    // Tables of t, two-sided (any handbook, from memory): 95 % with 2 degrees 4.303, 9 degrees 2.262, 30 degrees 2.042;
    // 99 % with 4 degrees 4.604; 90 % with 1 degree 6.314. Printed to three decimals.
    CHECK_THAT(student_t(0.95, 2), WithinAbs(4.303, 0.0005));
    CHECK_THAT(student_t(0.95, 9), WithinAbs(2.262, 0.0005));
    CHECK_THAT(student_t(0.95, 30), WithinAbs(2.042, 0.0005));
    CHECK_THAT(student_t(0.99, 4), WithinAbs(4.604, 0.0005));
    CHECK_THAT(student_t(0.90, 1), WithinAbs(6.314, 0.0005));
    // Closed form for one degree, the Cauchy distribution: tan(pi c / 2).
    CHECK_THAT(student_t(0.5, 1), WithinRel(1.0, 1e-12));
    // Values 1, 2, 3: mean 2, deviation 1, half-width 4.302653 / sqrt(3).
    const auto s = summarise(std::vector<double>{1, 3, 2});
    REQUIRE(s.interval);
    CHECK_THAT(s.interval->high - s.mean, WithinRel(student_t(0.95, 2) / std::sqrt(3.0), 1e-14));
    CHECK_THAT(s.mean - s.interval->low, WithinRel(s.interval->high - s.mean, 1e-14));
}

TEST_CASE("one value has a mean and no spread") {
    const auto s = summarise(std::vector<double>{0.72});
    CHECK(s.count == 1);
    CHECK(s.mean == 0.72);
    CHECK_FALSE(s.standard_deviation);
    CHECK_FALSE(s.interval);
}

TEST_CASE("values that are all equal have just them as mean and no spread at all") {
    for (const double v : {0.1, 0.7231, 1e-300, 1e300, 0.0}) {
        const auto s = summarise(std::vector<double>(7, v));
        CHECK(s.mean == v);
        CHECK(s.standard_deviation == 0.0);
        CHECK(s.interval->low == s.interval->high);
    }
}

TEST_CASE("samples that cannot be are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(summarise(std::vector<double>{}), StartsWith("values: got none"));
    CHECK_THROWS_WITH(summarise(std::vector<double>{1, nan}), StartsWith("values[1]: got nan"));
    for (const double bad : {0.0, 1.0, -0.5, nan})
        CHECK_THROWS_WITH(summarise(std::vector<double>{1, 2}, bad), StartsWith("confidence"));
}

} // namespace sample_summary_test
