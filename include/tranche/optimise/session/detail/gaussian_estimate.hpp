// Unknowns with a joint normal distribution, and what a reading of known spread makes of them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// A normal estimate of N unknowns x ~ N(m, P), closed under readings y = h·x + noise, noise ~ N(0, v) with v known:
///
///     S = h'Ph + v,   K = Ph / S,   m ← m + K (y - h'm),   P ← P - K (Ph)'
///
/// For one unknown this is the normal model with known variance of Gelman et al., Bayesian Data Analysis, section 2.5 (from
/// memory): precisions add, and the mean is weighted by them. For several it is the same update along one direction; readings
/// may come in any order.
template <std::size_t N>
class gaussian_estimate {
public:
    using vector = std::array<double, N>;
    using matrix = std::array<vector, N>;

    /// Independent unknowns with these means and standard deviations (zero or more: zero is known for certain).
    [[nodiscard]] static gaussian_estimate independent(const vector& means, const vector& deviations) {
        matrix covariance{};
        for (std::size_t i = 0; i < N; ++i) covariance[i][i] = deviations[i] * deviations[i];
        return {means, covariance};
    }
    /// `covariance` is symmetric and has no negative eigenvalue.
    gaussian_estimate(const vector& means, const matrix& covariance) : means_(means), covariance_(covariance) {}

    [[nodiscard]] double mean(std::size_t i) const { return means_[i]; }
    [[nodiscard]] double covariance(std::size_t i, std::size_t k) const { return covariance_[i][k]; }
    [[nodiscard]] double standard_deviation(std::size_t i) const { return std::sqrt(std::max(covariance_[i][i], 0.0)); }

    /// The variance that a reading along `direction` is expected to have.
    [[nodiscard]] double predicted_variance(const vector& direction, double noise_variance) const {
        const vector spread = times(direction);
        double sum = noise_variance;
        for (std::size_t i = 0; i < N; ++i) sum += unfused(direction[i] * spread[i]);
        return sum;
    }
    /// The mean that it is expected to have.
    [[nodiscard]] double predicted(const vector& direction) const {
        double sum = 0.0;
        for (std::size_t i = 0; i < N; ++i) sum += unfused(direction[i] * means_[i]);
        return sum;
    }

    /// Takes in one reading. One that tells nothing, because nothing is uncertain, changes nothing. O(N²).
    void observe(const vector& direction, double value, double noise_variance) {
        const double total = predicted_variance(direction, noise_variance);
        if (!(total > 0.0)) return;
        const vector spread = times(direction);
        const double surprise = value - predicted(direction);
        for (std::size_t i = 0; i < N; ++i) {
            means_[i] += unfused(spread[i] / total * surprise);
            for (std::size_t k = 0; k < N; ++k) covariance_[i][k] -= spread[i] * spread[k] / total;
            covariance_[i][i] = std::max(covariance_[i][i], 0.0); // what rounding leaves below zero is zero
        }
    }

private:
    [[nodiscard]] vector times(const vector& direction) const {
        vector result{};
        for (std::size_t i = 0; i < N; ++i)
            for (std::size_t k = 0; k < N; ++k) result[i] += unfused(covariance_[i][k] * direction[k]);
        return result;
    }

    vector means_;
    matrix covariance_;
};

} // namespace tranche::detail
