// Against certified values and closed forms.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/statistics/one_way_anova.hpp>

#include <cmath>
#include <limits>
#include <vector>

#include <boost/math/distributions/students_t.hpp>

#include "support/catch.hpp"
#include "support/reference_sets.hpp"

namespace variance_analysis_test {

using namespace tranche;
using namespace tranche_test;
using namespace reference_sets;

using groups = std::vector<std::vector<double>>;

TEST_CASE("SiRstv is reached to eleven digits") {
    // Values of 196 in steps of 2.8e-14 scatter by 0.1: each deviation has 12.9 digits at worst, squares and their sums
    // about as many. Group means lie 0.05 from the grand mean: 12.3, less a factor of two in the square.
    const auto a = one_way_anova(sirstv());
    REQUIRE(a);
    CHECK(digits(a->between_squares, 5.11462616E-02) > 11.0);
    CHECK(digits(a->within_squares, 2.16636560E-01) > 11.0);
    CHECK(a->between_degrees == 4.0);
    CHECK(a->within_degrees == 20.0);
    CHECK(digits(*a->f, 1.18046237440255) > 11.0);
    CHECK(digits(a->r_squared(), 1.90999039051129E-01) > 11.0);
    CHECK(digits(a->residual_deviation(), 1.04076068334656E-01) > 11.0);
    // Computed from the certified squares: ((SSB / 4) - (SSW / 20)) / 5. Eight digits are given.
    CHECK_THAT(a->between_variance, WithinRel(3.9094748E-04, 5e-8));
}

TEST_CASE("two groups give the square of Student's t and its probability") {
    // Pooled two-sample test, any handbook. Invented yields.
    const std::vector<double> a{0.71, 0.73, 0.72, 0.75}, b{0.69, 0.70, 0.72};
    const auto analysis = one_way_anova({a, b});
    const double ma = 0.7275, mb = 2.11 / 3.0; // by hand
    double squares = 0.0;
    for (const double v : a) squares += (v - ma) * (v - ma);
    for (const double v : b) squares += (v - mb) * (v - mb);
    const double t = (ma - mb) / std::sqrt(squares / 5.0 * (1.0 / 4.0 + 1.0 / 3.0));
    CHECK_THAT(*analysis->f,
               WithinRel(t * t, 1e-12)); // means to 1e-16 of 0.7, their difference 0.024: 14.5 digits, squared
    const boost::math::students_t_distribution<double> student(5.0);
    CHECK_THAT(*analysis->p, WithinRel(2.0 * cdf(complement(student, std::abs(t))), 1e-10));
}

TEST_CASE("the probability of three groups has its closed form") {
    // With two degrees above, P(F > f) = (1 + 2 f / n)^(-n / 2).
    const auto a = one_way_anova({{1, 2, 3}, {2, 3, 5}, {4, 4, 6}});
    const double n = a->within_degrees;
    CHECK(n == 6.0);
    CHECK_THAT(*a->p, WithinRel(std::pow(1.0 + 2.0 * *a->f / n, -0.5 * n), 1e-12));
}

TEST_CASE("squares between and within add up to those about the grand mean") {
    const groups g = sirstv();
    std::vector<double> all;
    for (const auto& one : g) all.insert(all.end(), one.begin(), one.end());
    const auto s = summarise(all);
    const auto a = one_way_anova(g);
    const double about = *s.standard_deviation * *s.standard_deviation * 24.0;
    CHECK(digits(a->between_squares + a->within_squares, about) > 11.0); // as above
}

TEST_CASE("groups that are alike in truth have no component between them") {
    const auto a = one_way_anova({{0.70, 0.74}, {0.71, 0.73}, {0.69, 0.75}}); // equal means
    CHECK(a->between_variance == 0.0);
    CHECK(a->f.value() < 1e-20);
    CHECK_THAT(*a->p, WithinAbs(1.0, 1e-12));
}

TEST_CASE("what is not known of a spread is none and not a number of nothing") {
    CHECK_FALSE(one_way_anova({}));
    CHECK_FALSE(one_way_anova({{1, 2, 3}}));
    CHECK_FALSE(one_way_anova({{1}, {2}, {3}}));
    const auto still = one_way_anova({{0.7, 0.7}, {0.8, 0.8}});
    REQUIRE(still);
    CHECK_FALSE(still->f);
    CHECK_FALSE(still->p);
    CHECK(still->within_variance == 0.0);
    CHECK_THAT(still->between_variance, WithinRel(0.005, 1e-12)); // variance of 0.7 and 0.8
    CHECK(still->r_squared() == 1.0);
    CHECK(one_way_anova({{2, 2}, {2}})->r_squared() == 0.0);
    CHECK(one_way_anova({{1, 2}, {3}})->f); // one group of two is enough
    CHECK_THROWS_WITH(one_way_anova({{1, 2}, {}}), StartsWith("groups[1]: got no values"));
    CHECK_THROWS_WITH(one_way_anova({{1, 2}, {std::numeric_limits<double>::infinity()}}),
                      StartsWith("groups[1][0]: got inf"));
}

} // namespace variance_analysis_test
