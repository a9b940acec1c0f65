// The normal distribution's quantile and probability, fast and in arithmetic that no compiler fuses.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// c[0] + c[1] x + c[2] x^2 + ..., by Horner's rule, each product rounded by itself.
template <std::size_t N>
[[nodiscard]] constexpr double polynomial(const std::array<double, N>& c, double x) {
    double sum = c[N - 1];
    for (std::size_t i = N - 1; i-- > 0;) sum = c[i] + unfused(sum * x);
    return sum;
}

/// The z of which the standard normal distribution leaves `u` below: algorithm AS 241, PPND16 (Wichura 1988, Applied Statistics 37,
/// 477-484; coefficients from memory, held against Boost.Math), to about 1 part in 10^16. `u` lies above 0 and below 1. The tails,
/// |u - 1/2| > 0.425, take a logarithm of the C library.
[[nodiscard]] inline double normal_quantile(double u) {
    constexpr std::array<double, 8> a{3.3871328727963666080e0, 1.3314166789178437745e2, 1.9715909503065514427e3,
                                      1.3731693765509461125e4, 4.5921953931549871457e4, 6.7265770927008700853e4,
                                      3.3430575583588128105e4, 2.5090809287301226727e3};
    constexpr std::array<double, 8> b{1.0,
                                      4.2313330701600911252e1,
                                      6.8718700749205790830e2,
                                      5.3941960214247511077e3,
                                      2.1213794301586595867e4,
                                      3.9307895800092710610e4,
                                      2.8729085735721942674e4,
                                      5.2264952788528545610e3};
    constexpr std::array<double, 8> c{1.42343711074968357734e0,  4.63033784615654529590e0, 5.76949722146069140550e0,
                                      3.64784832476320460504e0,  1.27045825245236838258e0, 2.41780725177450611770e-1,
                                      2.27238449892691845833e-2, 7.74545014278341407640e-4};
    constexpr std::array<double, 8> d{1.0,
                                      2.05319162663775882187e0,
                                      1.67638483018380384940e0,
                                      6.89767334985100004550e-1,
                                      1.48103976427480074590e-1,
                                      1.51986665636164571966e-2,
                                      5.47593808499534494600e-4,
                                      1.05075007164441684324e-9};
    constexpr std::array<double, 8> e{6.65790464350110377720e0,  5.46378491116411436990e0,  1.78482653991729133580e0,
                                      2.96560571828504891230e-1, 2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                      2.71155556874348757815e-5, 2.01033439929228813265e-7};
    constexpr std::array<double, 8> f{1.0,
                                      5.99832206555887937690e-1,
                                      1.36929880922735805310e-1,
                                      1.48753612908506148525e-2,
                                      7.86869131145613259100e-4,
                                      1.84631831751005468180e-5,
                                      1.42151175831644588870e-7,
                                      2.04426310338993978564e-15};
    const double q = u - 0.5;
    if (std::abs(q) <= 0.425) {
        const double r = 0.180625 - unfused(q * q);
        return q * polynomial(a, r) / polynomial(b, r);
    }
    const double root = std::sqrt(-std::log(q < 0.0 ? u : 1.0 - u));
    const double z = root <= 5.0 ? polynomial(c, root - 1.6) / polynomial(d, root - 1.6)
                                 : polynomial(e, root - 5.0) / polynomial(f, root - 5.0);
    return q < 0.0 ? -z : z;
}

/// The share of the standard normal distribution below z, in all its digits below 1/2. By the C library's erfc.
[[nodiscard]] inline double normal_share(double z) { return 0.5 * std::erfc(z * -0.70710678118654752440); }

/// The density of the standard normal distribution at z.
[[nodiscard]] inline double normal_density(double z) { return 0.39894228040143267794 * std::exp(-0.5 * z * z); }

} // namespace tranche::detail
