// What the slabs cut so far tell of the rest: how heavy it is for its length, and how the cutter's hand differs from the plan.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

#include <tranche/optimise/session/detail/gaussian_estimate.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// How uncertain things are before the first cut, and how exact the readings: standard deviations, zero or more and finite.
/// The defaults are rules of thumb, no source; whoever has cut and weighed some loins knows better.
struct cutting_spreads {
    fraction ratio = 0.03;           ///< of the loin's mass per length, as a share of the profile's
    length bias = 1.0 * millimetre;  ///< of what this cutter cuts too thick (or too thin) on average
    length knife = 1.0 * millimetre; ///< of single slabs about that average
    length ruler = 0.5 * millimetre; ///< of a thickness that is measured
    mass scale = 1.0 * gram;         ///< of a weight
    fraction single_slab = 0.01;     ///< of one slab's mass per length, by itself, about that of the loin

    friend bool operator==(const cutting_spreads&, const cutting_spreads&) = default;
};

/// Throws `invalid_input` naming the field. Every spread is a standard deviation, zero or more and finite: lengths,
/// masses and shares of a mass.
template <class = detail::when_called>
void validate(const cutting_spreads& spreads) {
    detail::require_not_negative(spreads.ratio, "ratio");
    detail::require_not_negative(spreads.bias, "bias");
    detail::require_not_negative(spreads.knife, "knife");
    detail::require_not_negative(spreads.ruler, "ruler");
    detail::require_not_negative(spreads.scale, "scale");
    detail::require_not_negative(spreads.single_slab, "single_slab");
}

/// The ratio r of the loin's mass per length to the profile's, the cutter's bias b and the place x of the last cut, jointly
/// normal.
///
/// A slab that was set to a comes out t = a + b + e thick, e ~ N(0, knife²), moves the cut to x + t + kerf, and weighs
/// w = r M(t) + noise, where M(t) is what the profile says of a slab of that thickness and the noise has the variance
/// scale² + (single_slab r M)². A measured thickness is t + N(0, ruler²). At first r ~ N(1, ratio²), b ~ N(0, bias²) and x = 0,
/// independent. Conjugate updates (`gaussian_estimate`) on (r, b, x, t), of which t is then integrated out; the product r M(t)
/// is linearised where the estimate ends up (Gauss–Newton), so what is left out is of second order in the spreads.
///
/// Without measured thickness a weight tells of r + b/a only: which of the two it was stays open, and their correlation
/// says so. A slab more than `slip` standard deviations off is taken for a slip or a change of mind: its thickness is
/// then believed from the readings alone, and tells nothing of the hand. Members throw nothing but what they say.
class cutting_estimate {
public:
    static constexpr double slip = 4.0; ///< by chance once in 16 000 slabs

    /// Throws what `validate` throws. Spreads are as for `validate`.
    explicit cutting_estimate(const cutting_spreads& spreads = {})
        : spreads_(spreads), known_(known::independent({1.0, 0.0, 0.0}, {spreads.ratio, spreads.bias.value(), 0.0})) {
        validate(spreads);
    }

    /// As they were given: lengths, masses, and shares of a mass.
    [[nodiscard]] const cutting_spreads& spreads() const { return spreads_; }
    /// The mean of r, a plain number; 1 to begin with.
    [[nodiscard]] fraction ratio() const { return known_.mean(0); }
    /// Its standard deviation, zero or more.
    [[nodiscard]] fraction ratio_spread() const { return known_.standard_deviation(0); }
    /// The mean of b, in metres, of either sign; above zero slabs come out thick.
    [[nodiscard]] length bias() const { return length::from_value(known_.mean(1)); }
    /// Its standard deviation, in metres, zero or more.
    [[nodiscard]] length bias_spread() const { return length::from_value(known_.standard_deviation(1)); }
    /// Where the loin is cut, from the rib face. In metres, any number.
    [[nodiscard]] length position() const { return length::from_value(known_.mean(2)); }
    /// The standard deviation of that, in metres, zero or more.
    [[nodiscard]] length position_spread() const { return length::from_value(known_.standard_deviation(2)); }
    /// Of ratio and bias: -1 to 1; 0 where one of the two is certain.
    [[nodiscard]] double correlation() const {
        const double product = known_.standard_deviation(0) * known_.standard_deviation(1);
        return product > 0.0 ? known_.covariance(0, 1) / product : 0.0;
    }

    /// What is believed of a slab once its readings are in.
    struct found_slab {
        length thickness{}, spread{};
        bool slipped = false;
    };

    /// Takes in a slab and the kerf behind it. `mass_of(t)` is the profile's mass (kg) of one `t` (m) thick, never
    /// falling; `most`, above zero, is how thick it can be at all. Lengths are metres, masses kilograms. Nothing is
    /// checked; throws what `mass_of` throws.
    template <class MassOf>
    found_slab observe_slab(length set, std::optional<length> measured, mass weight, length most, length kerf,
                            const MassOf& mass_of) {
        const double knife_variance = square(spreads_.knife.value()), ruler_variance = square(spreads_.ruler.value());
        const slab_too usual = with_thickness(set, knife_variance);
        found_slab found;
        if (measured) {
            found.slipped = far(measured->value() - usual.mean(thickness), usual.covariance(3, 3) + ruler_variance);
        } else {
            const weighing w = linear(usual.mean(0), usual.mean(thickness), most, mass_of);
            found.slipped = far(weight.value() - w.expected, usual.predicted_variance(w.direction, w.variance));
        }
        // Whatever thickness there can be is then as likely as any other.
        slab_too before = found.slipped ? with_thickness(set, square(10.0 * most.value())) : usual;
        if (measured) before.observe({0.0, 0.0, 0.0, 1.0}, measured->value(), ruler_variance);

        slab_too after = before;
        double at_ratio = before.mean(0), at = before.mean(thickness);
        for (int round = 0; round < rounds; ++round) {
            const weighing w = linear(at_ratio, at, most, mass_of);
            after = before;
            after.observe(w.direction,
                          weight.value() - w.expected + detail::unfused(w.direction[0] * at_ratio) +
                              detail::unfused(w.direction[3] * w.at),
                          w.variance);
            at_ratio = std::max(after.mean(0), 0.5 * at_ratio);
            at = after.mean(thickness);
        }
        take_cut(after, kerf);
        found.thickness = length::from_value(std::clamp(at, 0.0, most.value()));
        found.spread = length::from_value(after.standard_deviation(thickness));
        return found;
    }

    /// Takes in the weight of all that is left. `by_profile` is what the profile says of it, and `per_length` how much
    /// less that gets for each metre that the cut lies further on. Masses are kilograms, zero or more. Nothing is
    /// checked; throws nothing.
    void observe_rest(mass weight, mass by_profile, linear_density per_length) {
        const double m = by_profile.value(), slope = ratio() * per_length.value();
        known_.observe({m, 0.0, -slope}, weight.value() - detail::unfused(slope * known_.mean(2)),
                       square(spreads_.scale.value()) + square(spreads_.single_slab * m));
    }

private:
    using known = detail::gaussian_estimate<3>;    // ratio, bias, position
    using slab_too = detail::gaussian_estimate<4>; // and the thickness of a slab
    static constexpr std::size_t thickness = 3;
    static constexpr int rounds = 5; // each squares the error, and the first is below a percent

    [[nodiscard]] slab_too with_thickness(length set, double knife_variance) const {
        slab_too::vector means{known_.mean(0), known_.mean(1), known_.mean(2), set.value() + known_.mean(1)};
        slab_too::matrix covariance{};
        constexpr std::array<std::size_t, 4> as{0, 1, 2, 1}; // thickness goes with the bias
        for (std::size_t i = 0; i < 4; ++i)
            for (std::size_t k = 0; k < 4; ++k) covariance[i][k] = known_.covariance(as[i], as[k]);
        covariance[thickness][thickness] += knife_variance;
        return {means, covariance};
    }
    /// The cut moves on by the thickness and the kerf.
    void take_cut(const slab_too& with, length kerf) {
        known::vector means{with.mean(0), with.mean(1), with.mean(2) + with.mean(thickness) + kerf.value()};
        known::matrix covariance{};
        const auto moved = [&](std::size_t i, std::size_t k) {
            return with.covariance(i, k) + (k == 2 ? with.covariance(i, thickness) : 0.0);
        };
        for (std::size_t i = 0; i < 3; ++i)
            for (std::size_t k = 0; k < 3; ++k) covariance[i][k] = moved(i, k) + (i == 2 ? moved(thickness, k) : 0.0);
        known_ = known(means, covariance);
    }

    [[nodiscard]] static double square(double x) { return x * x; }
    [[nodiscard]] static bool far(double surprise, double variance) {
        return square(surprise) > square(slip) * variance + 1e-18;
    }

    /// A weight as a reading that is linear about a ratio and a thickness.
    struct weighing {
        slab_too::vector direction;
        double expected, variance, at;
    };
    template <class MassOf>
    [[nodiscard]] weighing linear(double at_ratio, double thick, length most, const MassOf& mass_of) const {
        constexpr double beside = 0.5e-3; // metres: as far as the tabulated mass is a straight line
        const double at = std::clamp(thick, 0.0, most.value());
        const double low = std::max(at - beside, 0.0), high = std::min(at + beside, most.value());
        const double m = mass_of(at), slope = (mass_of(high) - mass_of(low)) / (high - low);
        return {.direction = {m, 0.0, 0.0, at_ratio * slope},
                .expected = at_ratio * m,
                .variance = square(spreads_.scale.value()) + square(spreads_.single_slab * at_ratio * m),
                .at = at};
    }

    cutting_spreads spreads_;
    known known_;
};

} // namespace tranche
