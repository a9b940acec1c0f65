// How an uncertain figure is spread: one value type for all shapes, drawn from by its quantile function.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <span>
#include <utility>
#include <vector>

#include <tranche/study/random/detail/normal_quantile.hpp>
#include <tranche/study/random/detail/shapes.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

class study_inputs;

/// How an uncertain figure is spread, in the figure's own unit, whichever that is: a plain number in, a plain number out. Copies are
/// cheap, and share the samples of `empirical`. Draws go through `quantile` and nothing else, so each takes one uniform number, rises
/// with it, and is the same with all compilers: products are rounded by themselves, and no `std::` distribution is asked, which
/// differ between libraries.
///
/// All factories throw `invalid_input`, naming the figure, for what is not finite, a spread below zero and bounds in the wrong
/// order. A spread of zero is `certain`.
class distribution {
public:
    /// Always `value`.
    [[nodiscard]] static distribution certain(double value) {
        detail::require_number(value, "value");
        return {detail::shape::certain, {.location = value, .least = value, .most = value}};
    }

    /// Any value between two bounds is as likely.
    [[nodiscard]] static distribution uniform(double least, double most) {
        detail::require_bounds(least, most);
        return of_spread(most - least, {detail::shape::uniform, {.least = least, .most = most}});
    }

    /// The normal distribution: any `mean`, a `standard_deviation` of zero or more, both in the figure's unit.
    [[nodiscard]] static distribution normal(double mean, double standard_deviation) {
        detail::require_number(mean, "mean");
        detail::require_not_negative(standard_deviation, "standard deviation");
        if (standard_deviation == 0.0) return certain(mean);
        return {detail::shape::normal, {.location = mean, .scale = standard_deviation}};
    }

    /// The normal distribution of `mean` and `standard_deviation`, of which only what lies between the bounds may happen; its own mean
    /// and spread are others. Bounds may be infinite. Throws where less than 10^-12 of it lies between them.
    [[nodiscard]] static distribution truncated_normal(double mean, double standard_deviation, double least,
                                                       double most) {
        detail::require_number(mean, "mean");
        detail::require_not_negative(standard_deviation, "standard deviation");
        if (!(least <= most)) throw invalid_input("most", detail::shown(most), "at least " + detail::shown(least));
        if (standard_deviation == 0.0) {
            if (!(least <= mean && mean <= most))
                throw invalid_input("mean", detail::shown(mean), "a mean within the bounds, for there is no spread");
            return certain(mean);
        }
        if (least == most) return certain(least);
        detail::shape_figures figures{.location = mean, .scale = standard_deviation, .least = least, .most = most};
        // Shares of an upper tail are 1 less something tiny: the mirrored ones have all their digits.
        const double low = (least - mean) / standard_deviation, high = (most - mean) / standard_deviation;
        figures.mirrored = low + high > 0.0;
        figures.below = detail::normal_share(figures.mirrored ? -high : low);
        figures.inside = detail::normal_share(figures.mirrored ? -low : high) - figures.below;
        if (!(figures.inside >= 1e-12))
            throw invalid_input("bounds", detail::shown(least) + " to " + detail::shown(most),
                                "bounds between which the normal distribution has some share");
        return {detail::shape::truncated_normal, figures};
    }

    /// The logarithm is normal. `mean` and `standard_deviation` are those of the figure itself, not of its logarithm; the mean is above
    /// zero.
    [[nodiscard]] static distribution lognormal(double mean, double standard_deviation) {
        detail::require_positive(mean, "mean");
        detail::require_not_negative(standard_deviation, "standard deviation");
        if (standard_deviation == 0.0) return certain(mean);
        const double cv = standard_deviation / mean, variance = std::log1p(cv * cv);
        detail::require_number(variance, "standard deviation");
        return {detail::shape::lognormal,
                {.location = std::log(mean) - 0.5 * variance,
                 .scale = std::sqrt(variance),
                 .least = mean,
                 .most = standard_deviation}};
    }

    /// Density rises in a straight line to the mode and falls in one, zero at the bounds. The mode may be a bound.
    [[nodiscard]] static distribution triangular(double least, double mode, double most) {
        detail::require_bounds(least, most);
        if (!(mode >= least && mode <= most))
            throw invalid_input("mode", detail::shown(mode), detail::shown(least) + " to " + detail::shown(most));
        return of_spread(most - least, {detail::shape::triangular, {.location = mode, .least = least, .most = most}});
    }

    /// The beta distribution of `alpha` and `beta`, each 0.01 to 10^6, stretched to the bounds. Draws are rounded to 2^-48 of the
    /// distance of the bounds, for Boost.Math finds them by iteration.
    [[nodiscard]] static distribution beta(double alpha, double beta, double least = 0.0, double most = 1.0) {
        detail::require_between(alpha, 0.01, 1e6, "alpha");
        detail::require_between(beta, 0.01, 1e6, "beta");
        detail::require_bounds(least, most);
        return of_spread(most - least,
                         {detail::shape::beta, {.location = alpha, .scale = beta, .least = least, .most = most}});
    }

    /// One of the samples, each as likely: the inverse of their distribution function, so nothing between or beyond them. In any
    /// order; at least one.
    [[nodiscard]] static distribution empirical(std::vector<double> samples) {
        detail::require_samples(samples);
        std::sort(samples.begin(), samples.end());
        distribution result(detail::shape::empirical, {.least = samples.front(), .most = samples.back()});
        result.samples_ = std::make_shared<const std::vector<double>>(std::move(samples));
        return result;
    }

    /// The value that a share `u` lies below. Throws `invalid_input` unless `u` is above 0 and below 1. O(1); `beta` takes some
    /// microseconds.
    [[nodiscard]] double quantile(double u) const {
        if (!(u > 0.0 && u < 1.0)) detail::refuse_uniform(u);
        return value_at(u);
    }

    /// The same of a standard normal z, as a Gaussian copula has it: the quantile of the share below z. Of a normal distribution it is
    /// mean + z × standard deviation, without a detour. Throws `invalid_input` for NaN.
    [[nodiscard]] double quantile_of_normal(double z) const {
        if (shape_ == detail::shape::normal || shape_ == detail::shape::lognormal) {
            if (!(std::abs(z) <= 1e3)) detail::refuse_uniform(z);
            return normal_value(z);
        }
        constexpr double least_share = 0x1p-1000, most_share = 1.0 - 0x1p-53;
        const double u = detail::normal_share(z);
        return quantile(u < least_share ? least_share : u > most_share ? most_share : u);
    }

    /// The distribution's own mean, and standard deviation (of all of it: empirical ones divide by n). Closed forms; those of narrow
    /// truncated normal ones are sums of twenty terms. O(1), O(n) for empirical ones.
    [[nodiscard]] double mean() const { return detail::moments_of(shape_, figures_, samples_.get()).mean; }
    /// Zero or more, in the figure's unit; see `mean`.
    [[nodiscard]] double standard_deviation() const {
        return detail::moments_of(shape_, figures_, samples_.get()).standard_deviation;
    }

    friend bool operator==(const distribution& a, const distribution& b) {
        return a.shape_ == b.shape_ && a.figures_ == b.figures_ &&
               (a.samples_ == b.samples_ || (a.samples_ && b.samples_ && *a.samples_ == *b.samples_));
    }

private:
    friend class study_inputs; // whose numbers are known to lie between 0 and 1

    distribution(detail::shape shape, const detail::shape_figures& figures) : shape_(shape), figures_(figures) {}

    [[nodiscard]] static distribution of_spread(double spread, const distribution& spread_out) {
        return spread == 0.0 ? certain(spread_out.figures_.least) : spread_out;
    }
    /// `quantile` of what is known to be above 0 and below 1.
    [[nodiscard]] double value_at(double u) const {
        const auto& f = figures_;
        if (shape_ == detail::shape::uniform) return within(f, f.least + detail::unfused(u * (f.most - f.least)));
        return value_of_shape(u);
    }
    /// Each number of a column becomes its `value_at`. What is done for each shape is chosen once.
    void values_at(std::span<double> column) const {
        const detail::shape_figures f = figures_; // a copy, which nothing in the column can be
        const double width = f.most - f.least;
        if (shape_ == detail::shape::uniform)
            for (double& u : column) u = within(f, f.least + detail::unfused(u * width));
        else
            for (double& u : column) u = value_of_shape(u);
    }
    [[nodiscard]] double value_of_shape(double u) const {
        const auto& f = figures_;
        switch (shape_) {
        case detail::shape::certain: return f.location;
        case detail::shape::uniform: break; // as above
        case detail::shape::normal:
        case detail::shape::lognormal: return normal_value(detail::normal_quantile(u));
        case detail::shape::truncated_normal: return detail::truncated_quantile(f, u);
        case detail::shape::triangular: return within(f, detail::triangular_quantile(f, u));
        case detail::shape::beta: return within(f, detail::beta_quantile(f, u));
        case detail::shape::empirical: break;
        }
        return detail::sample_below(*samples_, u);
    }
    /// By values and not by references, which would have to lie in memory.
    [[nodiscard]] static double within(const detail::shape_figures& f, double value) {
        value = value < f.least ? f.least : value;
        return f.most < value ? f.most : value;
    }
    [[nodiscard]] double normal_value(double z) const {
        const double value = figures_.location + detail::unfused(z * figures_.scale);
        return shape_ == detail::shape::normal ? value : std::exp(value);
    }

    detail::shape shape_;
    detail::shape_figures figures_;
    std::shared_ptr<const std::vector<double>> samples_{};
};

} // namespace tranche
