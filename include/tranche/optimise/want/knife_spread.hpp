// What a knife that is not exact does to one portion: how likely it is inside its limits, and what it is worth on
// average.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The hand that cuts. A slab that is planned t thick comes out t + e, e ~ N(bias, spread²), each by itself.
///
/// Every slab is taken to start where it is planned, which is so for a hand that plans the rest again after each cut. One
/// that follows marks along the loin errs at both faces of a slab: give √2 times the spread of a mark, and no bias. One
/// that cuts thickness after thickness without looking up drifts away from any plan, and this says nothing of that.
struct knife_spread {
    length bias{}; ///< of what comes out thicker than was set; finite
    /// Standard deviation, zero or more and finite. The default is a rule of thumb, no source.
    length spread = 1.0 * millimetre;
    bool judge_thickness = true; ///< whether a portion must keep its limits of thickness as well, or its weight alone

    friend bool operator==(const knife_spread&, const knife_spread&) = default;
};

/// Throws `invalid_input` naming the field. The bias is any finite length, the spread zero or more.
template <class = detail::when_called>
void validate(const knife_spread& knife) {
    if (!std::isfinite(knife.bias.value()))
        throw invalid_input("knife.bias", detail::shown(knife.bias), "a finite length");
    detail::require_not_negative(knife.spread, "knife.spread");
}

/// What may become of the portions of a slab: chances that add up to 1.
struct portion_chances {
    fraction within = 0.0;    ///< inside all limits
    fraction too_light = 0.0; ///< below the least weight
    fraction too_heavy = 0.0; ///< above the largest weight
    fraction other_limit =
        0.0; ///< of a weight that is allowed, but too thin, too thick, or cut too far into the second muscle

    friend bool operator==(const portion_chances&, const portion_chances&) = default;
};

namespace detail {

/// Errors of thickness, in metres, from `low` to `high`; nothing where high is no more than low.
struct error_range {
    double low, high;
    [[nodiscard]] error_range both(const error_range& other) const {
        return {std::max(low, other.low), std::min(high, other.high)};
    }
};

/// One slab of portions under a knife: which errors leave which limits kept, and what it weighs then. First order:
/// with an error e it weighs W + λ e, where λ is the trimmed mass per length at the cut.
///
/// A slab at the sirloin face has no cut behind it: it gets what the cut in front of it errs by, -e.
template <class = when_called>
class slab_under_knife {
public:
    slab_under_knife(const cutting_problem& problem, const knife_spread& knife, std::size_t option, std::size_t from,
                     std::size_t to)
        : weight_(static_cast<double>(problem.weight(option, from, to))) {
        const bool at_end = to == problem.cells();
        if (at_end && from == 0) return; // all of the loin
        constexpr double slack = 1e-9;   // metres: what positions lose in their last bits
        const profile& meat = problem.meat();
        const option_window& w = problem.window(option);
        const cut_spec& spec = problem.spec_of(option);
        const length start = meat.position(from), end = meat.position(to);
        const length back = at_end ? end : end - problem.kerf(option);
        mean_ = (at_end ? -1.0 : 1.0) * knife.bias.value();
        sd_ = knife.spread.value();
        per_metre_ = mass_per_metre(problem, option, at_end ? start : back);
        // Limits are whole micrograms, and what is half of one off is on them.
        weights_ = {error_for(static_cast<double>(w.least_weight) - 0.5),
                    error_for(static_cast<double>(w.most_weight) + 0.5)};
        if (knife.judge_thickness) {
            const double thick = (back - start).value();
            others_ = {std::min(spec.thickness.min.value() - thick, 0.0) - slack,
                       std::max(spec.thickness.max.value() - thick, 0.0) + slack};
        }
        if (!at_end && w.past_to <= problem.cells())
            others_.high = std::min(
                others_.high, (where(meat, w.past_to, spec.gluteus_medius.towards_sirloin) - end).value() + slack);
        if (at_end && w.past_from <= problem.cells())
            others_.low = std::max(others_.low,
                                   (start - where(meat, w.past_from, spec.gluteus_medius.towards_rib)).value() - slack);
    }

    /// Errors that keep all limits, and those that keep all others but leave too much weight.
    [[nodiscard]] error_range within() const { return weights_.both(others_); }
    [[nodiscard]] error_range heavy() const { return others_.both({weights_.high, endless}); }

    [[nodiscard]] portion_chances chances() const {
        portion_chances c{.within = chance(within()),
                          .too_light = chance({-endless, weights_.low}),
                          .too_heavy = chance({weights_.high, endless})};
        c.other_limit = std::max(0.0, 1.0 - c.within - c.too_light - c.too_heavy);
        return c;
    }
    /// P(e in r) = Φ((high - bias) / sd) - Φ((low - bias) / sd).
    [[nodiscard]] double chance(const error_range& r) const { return std::max(0.0, below(r.high) - below(r.low)); }
    /// E(weight; e in r), in micrograms: (W + λ bias) P - λ sd (φ((high - bias) / sd) - φ((low - bias) / sd)).
    [[nodiscard]] double weight(const error_range& r) const {
        if (!(r.low < r.high)) return 0.0;
        return unfused((weight_ + unfused(per_metre_ * mean_)) * chance(r)) -
               unfused(per_metre_ * sd_ * (bell(r.high) - bell(r.low)));
    }

    static constexpr double endless = std::numeric_limits<double>::infinity();

private:
    [[nodiscard]] double error_for(double micrograms) const {
        const double off = micrograms - weight_;
        return per_metre_ > 0.0 ? off / per_metre_ : off >= 0.0 ? endless : -endless;
    }
    /// Trimmed, about the position nearest to `at`.
    [[nodiscard]] static double mass_per_metre(const cutting_problem& problem, std::size_t option, length at) {
        const profile& meat = problem.meat();
        const auto kept = problem.front(option);
        const std::size_t near = meat.nearest(at), before = near - std::min(near, std::size_t{1});
        const std::size_t behind = std::min(near + 1, problem.cells());
        return static_cast<double>(kept[behind] - kept[before]) /
               (meat.position(behind) - meat.position(before)).value();
    }
    /// Where a share of gluteus medius is first exceeded, in the cell in front of position `past`.
    [[nodiscard]] static length where(const profile& meat, std::size_t past, fraction share) {
        if (past == 0) return length{};
        const auto entered = meat.gluteus_medius_entered();
        const double into = (share - entered[past - 1]) / (entered[past] - entered[past - 1]);
        return meat.position(past - 1) + unfused(into * (meat.position(past) - meat.position(past - 1)));
    }
    [[nodiscard]] double below(double error) const {
        if (std::isinf(error) || !(sd_ > 0.0)) return error > mean_ ? 1.0 : 0.0;
        return 0.5 * std::erfc((mean_ - error) / (sd_ * 1.4142135623730951)); // √2
    }
    /// φ((error - bias) / sd), the density of the standard normal distribution.
    [[nodiscard]] double bell(double error) const {
        if (std::isinf(error) || !(sd_ > 0.0)) return 0.0;
        const double z = (error - mean_) / sd_;
        return 0.3989422804014327 * std::exp(-0.5 * z * z); // 1/√(2π)
    }

    double mean_ = 0.0, sd_ = 0.0, weight_ = 0.0, per_metre_ = 0.0;
    error_range weights_{-endless, endless}, others_{-endless, endless};
};

} // namespace detail

} // namespace tranche
