// The shapes of distributions: their quantiles, their moments, and the checks on what they are made of.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include <boost/math/quadrature/gauss.hpp>
#include <boost/math/special_functions/beta.hpp>

#include <tranche/study/random/detail/normal_quantile.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

TRANCHE_COLD inline void require_number(double value, std::string_view field) {
    if (!std::isfinite(value)) throw invalid_input(std::string(field), shown(value), "a finite value");
}

TRANCHE_COLD inline void require_between(double value, double least, double most, std::string_view field) {
    if (!(value >= least && value <= most))
        throw invalid_input(std::string(field), shown(value), shown(least) + " to " + shown(most));
}

TRANCHE_COLD inline void require_bounds(double least, double most) {
    require_number(least, "least");
    if (!(std::isfinite(most) && most >= least))
        throw invalid_input("most", shown(most), "a finite value, at least " + shown(least));
    require_number(most - least, "most - least");
}

TRANCHE_COLD inline void require_samples(const std::vector<double>& samples) {
    if (samples.empty()) throw invalid_input("samples", "none", "at least one");
    for (std::size_t i = 0; i < samples.size(); ++i) require_number(samples[i], "samples[" + std::to_string(i) + ']');
}

[[noreturn]] TRANCHE_COLD inline void refuse_uniform(double u) {
    throw invalid_input("uniform", shown(u), "a number above 0 and below 1");
}

enum class shape { certain, uniform, normal, truncated_normal, lognormal, triangular, beta, empirical };

struct shape_figures {
    double location = 0.0, scale = 0.0; ///< mean and deviation (of the logarithm too), mode, or alpha and beta
    double least = 0.0, most = 0.0;     ///< bounds; of lognormal ones, mean and deviation as given
    double below = 0.0, inside = 0.0;   ///< shares of the normal distribution that bounds cut, mirrored if so
    bool mirrored = false;

    friend bool operator==(const shape_figures&, const shape_figures&) = default;
};

[[nodiscard]] inline double truncated_quantile(const shape_figures& f, double u) {
    // The share inside may have been rounded, so that the sum is 0 or 1 at the ends.
    const double share = f.below + unfused((f.mirrored ? 1.0 - u : u) * f.inside);
    if (!(share > 0.0)) return f.mirrored ? f.most : f.least;
    if (!(share < 1.0)) return f.mirrored ? f.least : f.most;
    const double z = normal_quantile(share);
    return std::clamp(f.location + unfused((f.mirrored ? -z : z) * f.scale), f.least, f.most);
}

[[nodiscard]] inline double triangular_quantile(const shape_figures& f, double u) {
    const double width = f.most - f.least, rising = f.location - f.least;
    if (u * width < rising) return f.least + std::sqrt(u * width * rising);
    return f.most - std::sqrt((1.0 - u) * width * (f.most - f.location));
}

template <class Figures>
[[nodiscard]] double beta_quantile(const Figures& f, double u) {
    const double share = boost::math::ibeta_inv(f.location, f.scale, u);
    return f.least + unfused(std::round(share * 0x1p48) * 0x1p-48 * (f.most - f.least));
}

/// The smallest sample that at least the share `u` of them does not exceed. Sorted, at least one.
[[nodiscard]] inline double sample_below(const std::vector<double>& samples, double u) {
    const auto place = static_cast<std::size_t>(u * static_cast<double>(samples.size()));
    return samples[std::min(place, samples.size() - 1)];
}

struct shape_moments {
    double mean = 0.0, standard_deviation = 0.0;
};

/// By the textbooks' closed form (Johnson, Kotz and Balakrishnan, *Continuous Univariate Distributions* 1, section 13.10, from memory),
/// which loses its digits where the bounds are near each other compared to the deviation: there by 20 points of Gauss and Legendre.
template <class Figures>
[[nodiscard]] shape_moments truncated_moments(const Figures& f) {
    const double low = (f.least - f.location) / f.scale, high = (f.most - f.location) / f.scale;
    double mean = 0.0, variance = 0.0;
    if (high - low < 2.0) {
        const double origin = std::clamp(0.0, low, high); // where the density is greatest, for tails underflow
        const auto weight = [&](double z) { return std::exp(0.5 * (origin - z) * (origin + z)); };
        const auto integral = [&](auto&& of) {
            return boost::math::quadrature::gauss<double, 20>::integrate([&](double z) { return of(z) * weight(z); },
                                                                         low, high);
        };
        const double all = integral([](double) { return 1.0; });
        mean = low + integral([&](double z) { return z - low; }) / all;
        variance = integral([&](double z) { return (z - mean) * (z - mean); }) / all;
    } else {
        const auto moment = [](double z) { return std::isfinite(z) ? z * normal_density(z) : 0.0; };
        mean = (normal_density(low) - normal_density(high)) / f.inside;
        variance = 1.0 + (moment(low) - moment(high)) / f.inside - mean * mean;
    }
    return {f.location + mean * f.scale, std::sqrt(std::max(0.0, variance)) * f.scale};
}

[[nodiscard]] inline shape_moments sample_moments(const std::vector<double>& samples) {
    const auto n = static_cast<double>(samples.size());
    double rest = 0.0, squares = 0.0;
    for (const double sample : samples) rest += (sample - samples.front()) / n;
    const double mean = samples.front() + rest;
    for (const double sample : samples) squares += (sample - mean) * (sample - mean) / n;
    return {mean, std::sqrt(squares)};
}

[[nodiscard]] inline shape_moments moments_of(shape kind, const shape_figures& f, const std::vector<double>* samples) {
    const double width = f.most - f.least;
    switch (kind) {
    case shape::certain: return {f.location, 0.0};
    case shape::uniform: return {f.least + 0.5 * width, width / std::sqrt(12.0)};
    case shape::normal: return {f.location, f.scale};
    case shape::lognormal: return {f.least, f.most};
    case shape::truncated_normal: return truncated_moments(f);
    case shape::triangular: {
        const double mode = f.location - f.least;
        return {f.least + (mode + width) / 3.0, std::sqrt((width * width - width * mode + mode * mode) / 18.0)};
    }
    case shape::beta: {
        const double sum = f.location + f.scale;
        return {f.least + width * (f.location / sum), width * std::sqrt(f.location * f.scale / (sum + 1.0)) / sum};
    }
    case shape::empirical: break;
    }
    return sample_moments(*samples);
}

} // namespace tranche::detail
