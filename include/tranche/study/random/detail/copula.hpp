// The factor of a correlation matrix, and what is wrong with a matrix that is none.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

TRANCHE_COLD inline void require_correlation(const Eigen::MatrixXd& matrix, const std::vector<std::string>& names) {
    const auto sizes = [](Eigen::Index rows, Eigen::Index columns) {
        return std::to_string(rows) + " x " + std::to_string(columns);
    };
    const auto n = static_cast<Eigen::Index>(names.size());
    if (matrix.rows() != n || matrix.cols() != n)
        throw invalid_input("correlation", sizes(matrix.rows(), matrix.cols()),
                            "a square matrix with a row for each input, " + sizes(n, n));
    const auto entry = [&](Eigen::Index i, Eigen::Index j) {
        return "correlation of " + names[static_cast<std::size_t>(i)] + " and " + names[static_cast<std::size_t>(j)];
    };
    for (Eigen::Index i = 0; i < n; ++i) {
        for (Eigen::Index j = 0; j < n; ++j) {
            if (!(std::abs(matrix(i, j)) <= 1.0)) throw invalid_input(entry(i, j), shown(matrix(i, j)), "-1 to 1");
            if (!(std::abs(matrix(i, j) - matrix(j, i)) <= 1e-12))
                throw invalid_input(entry(i, j),
                                    shown(matrix(i, j)) + " one way and " + shown(matrix(j, i)) + " the other",
                                    "a symmetric matrix");
        }
        if (matrix(i, i) != 1.0) throw invalid_input(entry(i, i), shown(matrix(i, i)), "1 on the diagonal");
    }
}

/// The lower triangle L of L Lᵀ = `matrix`, by rows, rounded to 2^-32. Throws `invalid_input` as `study_inputs` says.
template <class Matrix>
[[nodiscard]] std::vector<double> copula_factor(const Matrix& matrix, const std::vector<std::string>& names) {
    require_correlation(matrix, names);
    const Eigen::LLT<Eigen::MatrixXd> cholesky(matrix);
    const Eigen::MatrixXd factor = cholesky.matrixL();
    std::vector<double> rows;
    for (Eigen::Index i = 0; i < factor.rows(); ++i) {
        // The square of the diagonal is what is left of an input's variance, given those before it.
        if (cholesky.info() != Eigen::Success || !(factor(i, i) * factor(i, i) > 1e-12)) {
            // Which input is too much: the first whose own leading block has no factor.
            Eigen::Index n = 1;
            const auto definite = [&](Eigen::Index size) {
                const Eigen::LLT<Eigen::MatrixXd> block(Eigen::MatrixXd(matrix.topLeftCorner(size, size)));
                const Eigen::MatrixXd lower = block.matrixL();
                return block.info() == Eigen::Success && lower(size - 1, size - 1) * lower(size - 1, size - 1) > 1e-12;
            };
            while (n < matrix.rows() && definite(n)) ++n;
            throw invalid_input(
                "correlation", "a matrix that is not positive definite, with " + names[static_cast<std::size_t>(n - 1)],
                "correlations that can hold together");
        }
        for (Eigen::Index j = 0; j <= i; ++j) rows.push_back(std::round(factor(i, j) * 0x1p32) * 0x1p-32);
    }
    return rows;
}

} // namespace tranche::detail
