// That the regression reaches certified values, with the digits that its conditions allow, and closed forms.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <array>
#include <cfenv>
#include <cmath>
#include <vector>

#include <boost/math/statistics/linear_regression.hpp>

#include <tranche/loin/calibration/detail/least_squares.hpp>

#include "support/reference_sets.hpp"

namespace least_squares_test {

using namespace tranche;
using namespace tranche_test;

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

using reference_sets::digits;
using reference_sets::norris;

/// NIST Statistical Reference Datasets, Longley, y and x1 to x6 (read in the source).
constexpr double longley[16][7] = {
    {60323, 83.0, 234289, 2356, 1590, 107608, 1947},  {61122, 88.5, 259426, 2325, 1456, 108632, 1948},
    {60171, 88.2, 258054, 3682, 1616, 109773, 1949},  {61187, 89.5, 284599, 3351, 1650, 110929, 1950},
    {63221, 96.2, 328975, 2099, 3099, 112075, 1951},  {63639, 98.1, 346999, 1932, 3594, 113270, 1952},
    {64989, 99.0, 365385, 1870, 3547, 115094, 1953},  {63761, 100.0, 363112, 3578, 3350, 116219, 1954},
    {66019, 101.2, 397469, 2904, 3048, 117388, 1955}, {67857, 104.6, 419180, 2822, 2857, 118734, 1956},
    {68169, 108.4, 442769, 2936, 2798, 120445, 1957}, {66513, 110.8, 444546, 4681, 2637, 121950, 1958},
    {68655, 112.6, 482704, 3813, 2552, 123366, 1959}, {69564, 114.2, 502601, 3931, 2514, 125368, 1960},
    {69331, 115.7, 518173, 4806, 2572, 127852, 1961}, {70551, 116.9, 554894, 4007, 2827, 130081, 1962}};

struct problem {
    MatrixXd design;
    VectorXd observed;
};

problem norris_problem() {
    problem p{MatrixXd(36, 2), VectorXd(36)};
    for (Index i = 0; i < 36; ++i) {
        p.design.row(i) << 1.0, norris[i][1];
        p.observed(i) = norris[i][0];
    }
    return p;
}

problem longley_problem() {
    problem p{MatrixXd(16, 7), VectorXd(16)};
    for (Index i = 0; i < 16; ++i) {
        p.design(i, 0) = 1.0;
        for (Index k = 1; k < 7; ++k) p.design(i, k) = longley[i][k];
        p.observed(i) = longley[i][0];
    }
    return p;
}

/// Invented rows: no two alike, smooth and without a pattern.
problem invented_problem(Index rows, Index columns) {
    problem p{MatrixXd(rows, columns), VectorXd(rows)};
    for (Index i = 0; i < rows; ++i) {
        for (Index k = 0; k < columns; ++k) {
            const auto m = double(i * columns + k + 1);
            p.design(i, k) = std::cos(0.7 * m * m);
        }
        p.observed(i) = 2.0 + std::sin(2.9 * double(i)) + 0.1 * double(i);
    }
    return p;
}

problem without_row(const problem& p, Index out) {
    problem rest{MatrixXd(p.design.rows() - 1, p.design.cols()), VectorXd(p.design.rows() - 1)};
    for (Index i = 0, to = 0; i < p.design.rows(); ++i) {
        if (i == out) continue;
        rest.design.row(to) = p.design.row(i);
        rest.observed(to++) = p.observed(i);
    }
    return rest;
}

} // namespace

TEST_CASE("Norris is reached to twelve digits") {
    // Lower level of difficulty. With columns of unit length the condition is 2.4 (computed: both columns positive,
    // their cosine 0.71), so rounding costs next to nothing in the slope. The intercept is a difference of sums 2,000
    // times larger: three to four of 16 digits. The sum of squares loses as many as y exceeds its residuals: three.
    const problem p = norris_problem();
    const detail::least_squares_fit fit = detail::least_squares(p.design, p.observed);
    const double s = fit.residual_standard_deviation();
    CHECK(digits(fit.coefficients(0), -0.262323073774029) > 11.9);
    CHECK(digits(fit.coefficients(1), 1.00211681802045) > 13.5); // certified to 15
    CHECK(digits(fit.standard_deviation(0, s), 0.232818234301152) > 11.9);
    CHECK(digits(fit.standard_deviation(1, s), 0.429796848199937E-03) > 11.9);
    CHECK(digits(fit.residual_sum_of_squares, 26.6173985294224) > 11.9);
    CHECK(digits(s, 0.884796396144373) > 11.9);
    CHECK(fit.degrees_of_freedom == 34);
}

TEST_CASE("Longley is reached to ten digits") {
    // Higher level of difficulty. The condition is 5e9 as it stands, but 4e4 with columns of unit length; the error of
    // QR is at most about eps × (condition + condition² × |residual| / |y|): 1e-16 × (4e4 + 2e9 × 0.003) is 6e-10 in
    // the worst case, and a hundredth of that in practice.
    const problem p = longley_problem();
    const detail::least_squares_fit fit = detail::least_squares(p.design, p.observed);
    constexpr std::array certified{-3482258.63459582, 15.0618722713733,    -0.0358191792925910, -2.02022980381683,
                                   -1.03322686717359, -0.0511041056535807, 1829.15146461355};
    constexpr std::array deviations{890420.383607373,  84.9149257747669,  0.0334910077722432, 0.488399681651699,
                                    0.214274163161675, 0.226073200069370, 455.478499142212};
    const double s = fit.residual_standard_deviation();
    for (std::size_t k = 0; k < 7; ++k) {
        CAPTURE(k, digits(fit.coefficients(Index(k)), certified[k]));
        CHECK(digits(fit.coefficients(Index(k)), certified[k]) > 10.0);
        CHECK(digits(fit.standard_deviation(Index(k), s), deviations[k]) > 10.0);
    }
    CHECK(digits(fit.residual_sum_of_squares, 836424.055505915) > 10.0);
    CHECK(digits(s, 304.854073561965) > 10.0);
    const double mean = p.observed.mean();
    const double about_mean = (p.observed.array() - mean).matrix().squaredNorm();
    CHECK(digits(1.0 - fit.residual_sum_of_squares / about_mean, 0.995479004577296) > 10.0);
}

TEST_CASE("a straight line agrees with another library") {
    const problem p = norris_problem();
    std::vector<double> x(p.design.col(1).begin(), p.design.col(1).end()), y(p.observed.begin(), p.observed.end());
    const auto [intercept, slope] = boost::math::statistics::simple_ordinary_least_squares(x, y);
    const detail::least_squares_fit fit = detail::least_squares(p.design, p.observed);
    CHECK_THAT(fit.coefficients(0), WithinRel(intercept, 1e-11)); // both as in the certified case: twelve digits
    CHECK_THAT(fit.coefficients(1), WithinRel(slope, 1e-13));
}

TEST_CASE("one coefficient with weights and a prior is the weighted mean") {
    // Closed form: b = (Σ y/s² + m/t²) / (Σ 1/s² + 1/t²), with variance 1 / (Σ 1/s² + 1/t²). Invented figures.
    constexpr std::array y{4.2, 3.9, 5.1}, s{0.2, 0.5, 0.1};
    constexpr double m = 4.0, t = 0.3;
    MatrixXd design(4, 1);
    VectorXd observed(4);
    double top = m / (t * t), bottom = 1.0 / (t * t);
    for (std::size_t i = 0; i < 3; ++i) {
        design(Index(i), 0) = 1.0 / s[i];
        observed(Index(i)) = y[i] / s[i];
        top += y[i] / (s[i] * s[i]);
        bottom += 1.0 / (s[i] * s[i]);
    }
    design(3, 0) = 1.0 / t;
    observed(3) = m / t;
    const detail::least_squares_fit fit = detail::least_squares(design, observed);
    CHECK_THAT(fit.coefficients(0), WithinRel(top / bottom, 1e-14)); // a dozen roundings
    CHECK_THAT(fit.covariance(0, 0), WithinRel(1.0 / bottom, 1e-14));
    CHECK_THAT(fit.leverages(2), WithinRel(1.0 / (s[2] * s[2]) / bottom, 1e-14));
}

TEST_CASE("two columns agree with the normal equations in long double") {
    const problem p = norris_problem();
    long double n = 0, sx = 0, sxx = 0, sy = 0, sxy = 0;
    for (const auto& row : norris) {
        const long double yy = row[0], xx = row[1];
        n += 1, sx += xx, sxx += xx * xx, sy += yy, sxy += xx * yy;
    }
    const long double determinant = n * sxx - sx * sx;
    const detail::least_squares_fit fit = detail::least_squares(p.design, p.observed);
    // The normal equations square the condition, 2.4, and long double has three digits to spare.
    CHECK_THAT(fit.covariance(0, 0), WithinRel(double(sxx / determinant), 1e-13));
    CHECK_THAT(fit.covariance(0, 1), WithinRel(double(-sx / determinant), 1e-13));
    CHECK_THAT(fit.covariance(1, 1), WithinRel(double(n / determinant), 1e-13));
    CHECK_THAT(fit.coefficients(1), WithinRel(double((n * sxy - sx * sy) / determinant), 1e-13));
}

TEST_CASE("what leaving out a row does is known without another fit") {
    const problem p = invented_problem(12, 3);
    const detail::least_squares_fit all = detail::least_squares(p.design, p.observed);
    for (Index i = 0; i < 12; ++i) {
        const problem rest = without_row(p, i);
        const detail::least_squares_fit fewer = detail::least_squares(rest.design, rest.observed);
        // Well conditioned numbers near 1, a few dozen roundings: 1e-13.
        const double predicted = p.design.row(i) * fewer.coefficients;
        CHECK_THAT(all.left_out_residual(i), WithinAbs(p.observed(i) - predicted, 1e-13));
        const double variance = 1.0 + p.design.row(i) * fewer.covariance * p.design.row(i).transpose();
        CHECK_THAT(all.studentised(i), WithinAbs((p.observed(i) - predicted) / std::sqrt(variance), 1e-13));
        const VectorXd change = all.coefficients - fewer.coefficients;
        CHECK((all.change_by(p.design, i) - change).cwiseAbs().maxCoeff() < 1e-13);
    }
}

TEST_CASE("residuals are at right angles to every column and leverages add up to the number of columns") {
    for (const Index columns : {1, 2, 5, 8}) {
        const problem p = invented_problem(20, columns);
        const detail::least_squares_fit fit = detail::least_squares(p.design, p.observed);
        CHECK((p.design.transpose() * fit.residuals).cwiseAbs().maxCoeff() <
              1e-12); // 20 terms of size 1, condition < 100
        CHECK_THAT(fit.leverages.sum(), WithinAbs(double(columns), 1e-13));
        CHECK(fit.degrees_of_freedom == 20 - columns);
    }
}

TEST_CASE("a column in another unit changes its coefficient by the unit and nothing else") {
    const problem p = invented_problem(10, 3);
    const detail::least_squares_fit one = detail::least_squares(p.design, p.observed);
    MatrixXd design = p.design;
    design.col(1) *= 1e9;
    const detail::least_squares_fit other = detail::least_squares(design, p.observed);
    CHECK_THAT(1e9 * other.coefficients(1), WithinRel(one.coefficients(1), 1e-13));
    CHECK_THAT(other.coefficients(2), WithinRel(one.coefficients(2), 1e-13));
    CHECK((other.residuals - one.residuals).cwiseAbs().maxCoeff() < 1e-13);

    design.col(1) = 0x1p40 * p.design.col(1);
    CHECK(0x1p40 * detail::least_squares(design, p.observed).coefficients(1) ==
          one.coefficients(1)); // nothing is rounded
}

TEST_CASE("as many rows as columns are solved exactly and leave no degrees of freedom") {
    const problem p = invented_problem(4, 4);
    const detail::least_squares_fit fit = detail::least_squares(p.design, p.observed);
    CHECK(fit.residuals.cwiseAbs().maxCoeff() < 1e-13);
    CHECK(fit.degrees_of_freedom == 0);
    std::feclearexcept(FE_ALL_EXCEPT);
    CHECK(std::isnan(detail::least_squares_fit{}.residual_standard_deviation()));
    CHECK_FALSE(std::fetestexcept(FE_DIVBYZERO | FE_INVALID));
}

TEST_CASE("a regression that has no answer is refused") {
    const problem p = invented_problem(6, 2);
    CHECK_THROWS_WITH(detail::least_squares(p.design, VectorXd::Ones(5)),
                      StartsWith("observations: got 5, expected 6"));
    CHECK_THROWS_WITH(detail::least_squares(p.design.topRows(1), p.observed.head(1)), StartsWith("design: got 1 x 2"));
    CHECK_THROWS_WITH(detail::least_squares(MatrixXd(3, 0), VectorXd::Ones(3)), StartsWith("design: got 3 x 0"));
    MatrixXd dependent(6, 3);
    dependent << p.design, p.design.col(0) - 2.0 * p.design.col(1);
    CHECK_THROWS_WITH(detail::least_squares(dependent, p.observed), StartsWith("design: got rank 2, expected rank 3"));
    CHECK_THROWS_AS(detail::least_squares(MatrixXd::Zero(6, 1), p.observed), invalid_input);
    MatrixXd broken = p.design;
    broken(3, 1) = std::nan("");
    CHECK_THROWS_AS(detail::least_squares(broken, p.observed), invalid_input);
}

} // namespace least_squares_test
