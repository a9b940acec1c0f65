// Linear least squares: the raw regression that calibration rests on, without units.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <limits>
#include <string>

#include <Eigen/Core>
#include <Eigen/QR>

#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// What a fit of y = X b + e found: n rows, p columns.
struct least_squares_fit {
    Eigen::VectorXd coefficients; ///< b, p
    Eigen::MatrixXd covariance;   ///< (X'X)^-1, p×p: that of b when every row of y has standard deviation 1
    Eigen::VectorXd residuals;    ///< y - X b, n
    Eigen::VectorXd leverages;    ///< diagonal of X (X'X)^-1 X', n, 0 to 1: what each row says in its own prediction
    double residual_sum_of_squares = 0.0;
    Eigen::Index degrees_of_freedom = 0; ///< n - p

    /// √(residual sum of squares / degrees of freedom), an estimate of the standard deviation of a row where it is not
    /// known; NaN without degrees of freedom.
    [[nodiscard]] double residual_standard_deviation() const {
        if (degrees_of_freedom < 1) return std::numeric_limits<double>::quiet_NaN();
        return std::sqrt(residual_sum_of_squares / static_cast<double>(degrees_of_freedom));
    }
    /// Standard deviation of coefficient `k` when every row has standard deviation `of_row`.
    [[nodiscard]] double standard_deviation(Eigen::Index k, double of_row = 1.0) const {
        return of_row * std::sqrt(covariance(k, k));
    }
    /// How far row `i` lies from what a fit without it predicts: e / (1 - h).
    [[nodiscard]] double left_out_residual(Eigen::Index i) const { return residuals(i) / (1.0 - leverages(i)); }
    /// The same over its standard deviation, for rows of standard deviation 1: e / √(1 - h). (For both, Cook and
    /// Weisberg, *Residuals and Influence in Regression*, 1982, chapter 2, from memory; the tests fit without the row.)
    [[nodiscard]] double studentised(Eigen::Index i) const { return residuals(i) / std::sqrt(1.0 - leverages(i)); }
    /// By how much row `i` moved the coefficients: b less the b of a fit without it, (X'X)^-1 x e / (1 - h).
    [[nodiscard]] Eigen::VectorXd change_by(const Eigen::MatrixXd& design, Eigen::Index i) const {
        return covariance * design.row(i).transpose() * left_out_residual(i);
    }
};

/// The b that makes |y - X b| least, by Householder QR with column pivoting. Columns are scaled by powers of two
/// before, which rounds nothing, so that the digits lost are those of the scaled problem: a column of years beside a
/// column of ones costs nothing. Rows of very different weight come out best with the heavy ones first. For weights,
/// divide the rows of X and y by their standard deviations; for a prior, add its rows.
///
/// Throws `invalid_input` for sizes that do not match, values that are not finite, fewer rows than columns, and columns
/// that depend on each other, which they do when less than a part in 10^12 of one stands for itself. O(n p²).
template <class = when_called>
[[nodiscard]] least_squares_fit least_squares(const Eigen::MatrixXd& design, const Eigen::VectorXd& observed) {
    const Eigen::Index rows = design.rows(), columns = design.cols();
    if (observed.size() != rows)
        throw invalid_input("observations", std::to_string(observed.size()), std::to_string(rows) + ", one a row");
    if (columns < 1 || rows < columns)
        throw invalid_input("design", std::to_string(rows) + " x " + std::to_string(columns),
                            "at least one column and as many rows as columns");
    if (!design.allFinite() || !observed.allFinite())
        throw invalid_input("design and observations", "a value that is not finite", "finite values");

    Eigen::VectorXd scale(columns);
    for (Eigen::Index k = 0; k < columns; ++k) {
        int exponent = 0;
        std::frexp(design.col(k).stableNorm(), &exponent);
        scale(k) = std::ldexp(1.0, -exponent);
    }
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr;
    qr.setThreshold(1e-12); // what is left of a column beside the others: below it there are no digits to be had
    qr.compute(design * scale.asDiagonal());
    if (qr.rank() < columns)
        throw invalid_input("design", "rank " + std::to_string(qr.rank()),
                            "rank " + std::to_string(columns) + ": columns that do not depend on each other");

    // Few columns: without Eigen's kernels for large blocks, which take a compiler several seconds to instantiate.
    Eigen::MatrixXd basis = Eigen::MatrixXd::Identity(rows, columns); // to become the first columns of Q
    Eigen::VectorXd workspace(columns);
    for (Eigen::Index k = columns; k-- > 0;)
        basis.bottomRows(rows - k).applyHouseholderOnTheLeft(qr.matrixQR().col(k).tail(rows - k - 1), qr.hCoeffs()(k),
                                                             workspace.data());
    const Eigen::MatrixXd triangle = qr.matrixR().topRows(columns);
    const auto solved = [&](const Eigen::VectorXd& v) -> Eigen::VectorXd {
        return triangle.triangularView<Eigen::Upper>().solve(v);
    };

    least_squares_fit fit;
    fit.coefficients = scale.cwiseProduct(qr.colsPermutation() * solved(basis.transpose() * observed));
    fit.residuals = observed - design * fit.coefficients;
    fit.residual_sum_of_squares = fit.residuals.squaredNorm();
    fit.degrees_of_freedom = rows - columns;
    fit.leverages = basis.rowwise().squaredNorm();
    // X S P = Q R, so (X'X)^-1 = S P R^-1 R^-T P' S.
    Eigen::MatrixXd inverse(columns, columns);
    for (Eigen::Index k = 0; k < columns; ++k) inverse.col(k) = solved(Eigen::VectorXd::Unit(columns, k));
    const Eigen::MatrixXd root = scale.asDiagonal() * (qr.colsPermutation() * inverse);
    fit.covariance = root.lazyProduct(root.transpose());
    return fit;
}

} // namespace tranche::detail
