// Functions whose Sobol' indices are known in closed form.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>
#include <string>
#include <vector>

#include <tranche/study/random/study_inputs.hpp>

namespace closed_forms {

/// sin x1 + a sin² x2 + b x3⁴ sin x1, each x uniform from -π to π, a = 7, b = 0.1 (Ishigami and Homma 1990; from memory).
inline double ishigami(std::span<const double> x) {
    const double s = std::sin(x[1]);
    return std::sin(x[0]) * (1.0 + 0.1 * x[2] * x[2] * x[2] * x[2]) + 7.0 * s * s;
}
inline tranche::study_inputs ishigami_inputs() {
    constexpr double pi = std::numbers::pi;
    return tranche::study_inputs({{"x1", tranche::distribution::uniform(-pi, pi)},
                                  {"x2", tranche::distribution::uniform(-pi, pi)},
                                  {"x3", tranche::distribution::uniform(-pi, pi)}});
}
struct known_indices {
    double mean, variance;
    std::vector<double> first, total;
};
/// By integrals of sines and powers: V1 = (1 + b π⁴/5)²/2, V2 = a²/8, V13 = 8 b² π⁸/225; computed here.
inline known_indices ishigami_indices() {
    const double a = 7.0, b = 0.1, p4 = std::pow(std::numbers::pi, 4.0);
    const double v1 = 0.5 * (1.0 + b * p4 / 5.0) * (1.0 + b * p4 / 5.0), v2 = a * a / 8.0,
                 v13 = 8.0 * b * b * p4 * p4 / 225.0;
    const double v = v1 + v2 + v13;
    return {0.5 * a, v, {v1 / v, v2 / v, 0.0}, {(v1 + v13) / v, v2 / v, v13 / v}};
}

/// Π (|4 u_i - 2| + a_i) / (1 + a_i), u uniform from 0 to 1 (Sobol' 1993, from memory): V_i = 1 / (3 (1 + a_i)²).
struct g_function {
    std::vector<double> a;

    double operator()(std::span<const double> u) const {
        double product = 1.0;
        for (std::size_t i = 0; i < a.size(); ++i) product *= (std::abs(4.0 * u[i] - 2.0) + a[i]) / (1.0 + a[i]);
        return product;
    }
    [[nodiscard]] tranche::study_inputs inputs() const {
        std::vector<tranche::study_input> all;
        for (std::size_t i = 0; i < a.size(); ++i)
            all.push_back({"u" + std::to_string(i + 1), tranche::distribution::uniform(0.0, 1.0)});
        return tranche::study_inputs(all);
    }
    [[nodiscard]] known_indices indices() const {
        double all = 1.0;
        for (const double x : a) all *= 1.0 + 1.0 / (3.0 * (1.0 + x) * (1.0 + x));
        known_indices known{1.0, all - 1.0, {}, {}};
        for (const double x : a) {
            const double v = 1.0 / (3.0 * (1.0 + x) * (1.0 + x));
            known.first.push_back(v / (all - 1.0));
            known.total.push_back(v * all / (1.0 + v) / (all - 1.0));
        }
        return known;
    }
};

} // namespace closed_forms
