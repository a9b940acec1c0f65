// Against certified values and a regression that shares nothing with it.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/statistics/linear_regression.hpp>

#include <cmath>
#include <limits>
#include <vector>

#include <tranche/loin/calibration/detail/least_squares.hpp>

#include "support/catch.hpp"
#include "support/reference_sets.hpp"

namespace straight_line_test {

using namespace tranche;
using namespace tranche_test;
using namespace reference_sets;

namespace {

struct points {
    std::vector<double> x, y;
};

points norris_points() {
    points p;
    for (const auto& row : norris) {
        p.y.push_back(row[0]);
        p.x.push_back(row[1]);
    }
    return p;
}

} // namespace

TEST_CASE("the line through Norris has twelve certified digits") {
    // About the means the problem has the condition 1. y of up to 1,000 in 1.1e-13 steps against residuals of 0.9 loses four
    // of 16 digits in the residuals; the slope, known to 4e-4 of 1, loses none; the intercept is a difference of 434 from
    // 434 (the means) that leaves 0.26, so it keeps 16 - 3.3.
    const points p = norris_points();
    const auto line = linear_regression(p.x, p.y);
    REQUIRE(line);
    CHECK(digits(line->intercept, -0.262323073774029) > 11.9);
    CHECK(digits(line->slope, 1.00211681802045) > 13.5); // certified to 15
    CHECK(digits(*line->intercept_deviation, 0.232818234301152) > 11.9);
    CHECK(digits(*line->slope_deviation, 0.429796848199937E-03) > 11.9);
    CHECK(digits(*line->residual_deviation, 0.884796396144373) > 11.9);
    CHECK(digits(line->squares, 26.6173985294224) > 11.9);
    // Swapped (computed): a transposition would show.
    CHECK_THAT(linear_regression(p.y, p.x)->slope, WithinAbs(0.997881412527, 5e-13));
    CHECK_THAT(linear_regression(p.y, p.x)->intercept, WithinAbs(0.264388905964, 5e-13));
}

TEST_CASE("the line agrees with the regression by orthogonal factors") {
    const points p = norris_points();
    Eigen::MatrixXd design(36, 2);
    Eigen::VectorXd observed(36);
    for (Eigen::Index i = 0; i < 36; ++i) {
        design.row(i) << 1.0, p.x[std::size_t(i)];
        observed(i) = p.y[std::size_t(i)];
    }
    const detail::least_squares_fit fit = detail::least_squares(design, observed);
    const auto line = linear_regression(p.x, p.y);
    CHECK(digits(line->slope, fit.coefficients(1)) > 13.0); // both as in the certified case
    CHECK(digits(line->intercept, fit.coefficients(0)) > 11.5);
    const double s = fit.residual_standard_deviation();
    CHECK(digits(*line->slope_deviation, fit.standard_deviation(1, s)) > 11.5);
    CHECK_THAT(line->slope_interval->high - line->slope,
               WithinRel(student_t(0.95, 34) * fit.standard_deviation(1, s), 1e-11));
}

TEST_CASE("two points have a line and nothing to judge it by") {
    const auto line = linear_regression(std::vector<double>{2, 4}, std::vector<double>{1, 2});
    REQUIRE(line);
    CHECK(line->slope == 0.5);
    CHECK(line->intercept == 0.0);
    CHECK(line->at(10) == 5.0);
    CHECK_FALSE(line->slope_interval);
    CHECK_FALSE(line->slope_deviation);
    CHECK_FALSE(line->residual_deviation);
}

TEST_CASE("points of one place have no line") {
    CHECK_FALSE(linear_regression(std::vector<double>{}, std::vector<double>{}));
    CHECK_FALSE(linear_regression(std::vector<double>{3}, std::vector<double>{1}));
    CHECK_FALSE(linear_regression(std::vector<double>{3, 3, 3}, std::vector<double>{1, 2, 3}));
    CHECK_FALSE(linear_regression(std::vector<double>(3, 0.1), std::vector<double>{1, 2, 3}));
}

TEST_CASE("a level course has a slope of zero and a constant added to y moves the intercept alone") {
    const std::vector<double> x{0, 3, 7, 14, 21};
    const auto level = linear_regression(x, std::vector<double>(5, 0.7231));
    CHECK(level->slope == 0.0);
    CHECK(level->squares == 0.0);
    CHECK(level->intercept == 0.7231);
    const auto one = linear_regression(x, std::vector<double>{1, 2, 2, 3, 5});
    const auto moved = linear_regression(x, std::vector<double>{11, 12, 12, 13, 15});
    CHECK_THAT(moved->slope, WithinRel(one->slope, 1e-14)); // a dozen roundings
    CHECK_THAT(moved->intercept, WithinRel(one->intercept + 10.0, 1e-14));
}

TEST_CASE("points that cannot be are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(linear_regression(std::vector<double>{1, 2}, std::vector<double>{1}),
                      StartsWith("y: got 1 values"));
    CHECK_THROWS_WITH(linear_regression(std::vector<double>{1, nan}, std::vector<double>{1, 2}),
                      StartsWith("x[1]: got nan"));
    CHECK_THROWS_WITH(linear_regression(std::vector<double>{1, 2}, std::vector<double>{nan, 2}),
                      StartsWith("y[0]: got nan"));
    CHECK_THROWS_WITH(linear_regression(std::vector<double>{1, 2}, std::vector<double>{1, 2}, 1.5),
                      StartsWith("confidence"));
}

} // namespace straight_line_test
