// A loin model brought into line with the scale and with slices that were weighed, each at a known place.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/detail/least_squares.hpp>
#include <tranche/loin/calibration/slice_calibrated.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// A slice as it came off the loin, untrimmed: where it lay, and what it weighed. The standard deviation stands for
/// scale and knife together: a millimetre in the thickness of a strip loin is some 13 g (computed: 125 cm² of 1.044
/// g/cm³). Its default is common practice, no source.
struct weighed_slice {
    length from{}, to{}; ///< from the rib face
    mass weight{};
    mass standard_deviation = 10.0 * gram;

    friend bool operator==(const weighed_slice&, const weighed_slice&) = default;
};

/// What is thought of the factor along the loin before any slice is weighed: 1 everywhere, give or take `spread`, alike
/// at places close together. The correlation of places d apart is exp(-d / reach) (an autoregressive series of order
/// one).
struct slice_prior {
    fraction spread = 0.08; ///< as `local_mass_per_length` of a strip loin in `known_proportions.hpp`, see there
    fraction reach = 0.33;  ///< as a share of the length of the loin: common practice, no source
    std::size_t knots =
        17; ///< places where the factor is estimated; straight lines in between. 2 to 1000; by default one a slice's thickness (common practice, no source)
    /// A reading is refused when it is further than this from what the others say, in standard deviations of the
    /// difference. 3.5 is the usual limit for outliers (Iglewicz and Hoaglin 1993, from memory); a right reading passes
    /// it once in 2,000 times.
    double most_deviation = 3.5;

    friend bool operator==(const slice_prior&, const slice_prior&) = default;
};

/// What one reading said and changed.
struct slice_finding {
    mass by_weight_alone{};      ///< what the slice should weigh when only the weight of the loin is known
    mass by_the_others{};        ///< and when all readings but this one are known
    mass fitted{};               ///< and when all are
    mass residual{};             ///< reading less fitted
    double deviation = 0.0;      ///< reading less `by_the_others`, in standard deviations of that difference
    std::vector<double> changed; ///< at each knot, the factor less what it would be without this reading

    friend bool operator==(const slice_finding&, const slice_finding&) = default;
};

/// The factor at one place, of the fill (tape readings) or of the mass per length (other models): over that of the model
/// calibrated to the weight of the loin alone.
struct slice_factor {
    length at{};
    double factor = 1.0, standard_deviation = 0.0;

    friend bool operator==(const slice_factor&, const slice_factor&) = default;
};

template <loin_model Model>
struct slice_calibration {
    slice_calibrated_loin<Model> loin;
    std::vector<slice_finding> findings; ///< in the order of the readings
    std::vector<slice_factor> factors;   ///< from the rib face to the sirloin face

    friend bool operator==(const slice_calibration&, const slice_calibration&) = default;
};

/// Throws `invalid_input` naming the field: a spread that is not above 0 to 1, a reach or `most_deviation` that is not
/// above zero and finite, and knots that are not 2 to 1000.
inline void validate(const slice_prior& prior) {
    detail::require_positive(prior.spread, "prior.spread");
    detail::require_share(prior.spread, "prior.spread");
    detail::require_positive(prior.reach, "prior.reach");
    if (prior.knots < 2 || prior.knots > 1000)
        throw invalid_input("prior.knots", std::to_string(prior.knots), "2 to 1000");
    detail::require_positive(prior.most_deviation, "prior.most_deviation");
}

namespace detail {

/// "slices[2] (100 mm to 125 mm)": how a reading is named in a complaint.
[[nodiscard]] inline std::string name_of_slice(std::span<const weighed_slice> slices, std::size_t i) {
    return "slices[" + std::to_string(i) + "] (" + detail::shown(slices[i].from) + " to " +
           detail::shown(slices[i].to) + ")";
}

/// Refuses readings that cannot be right by themselves, or two that cannot both be.
inline void check_slices(std::span<const weighed_slice> slices, length extent, mass weight) {
    for (std::size_t i = 0; i < slices.size(); ++i) {
        const weighed_slice& s = slices[i];
        const std::string where = name_of_slice(slices, i);
        require_not_negative(s.from, where + ".from");
        if (!(snapped(s.to) > snapped(s.from)))
            throw invalid_input(where + ".to", detail::shown(s.to), "more than from, " + detail::shown(s.from));
        if (!(snapped(s.to) <= snapped(extent)))
            throw invalid_input(where + ".to", detail::shown(s.to),
                                "at most the length of the loin, " + detail::shown(extent));
        require_positive(s.weight, where + ".weight");
        require_positive(s.standard_deviation, where + ".standard_deviation");
        if (!(s.weight <= weight))
            throw invalid_input(where + ".weight", detail::shown(s.weight),
                                "at most that of the loin, " + detail::shown(weight));
    }
    for (std::size_t i = 0; i < slices.size(); ++i)
        for (std::size_t k = 0; k < slices.size(); ++k) {
            const weighed_slice &a = slices[i], &b = slices[k];
            const length a_from = snapped(a.from), a_to = snapped(a.to), b_from = snapped(b.from), b_to = snapped(b.to);
            if (a_from < b_from && b_from < a_to && a_to < b_to)
                throw invalid_input(name_of_slice(slices, std::max(i, k)), "a part of it in another slice",
                                    "a slice beside " + name_of_slice(slices, std::min(i, k)) + ", or one cut from it");
            const bool within = b_from <= a_from && a_to <= b_to && (b_from < a_from || a_to < b_to);
            if (within && a.weight > b.weight)
                throw invalid_input(name_of_slice(slices, i) + ".weight", detail::shown(a.weight),
                                    "at most that of the slice it was cut from, " + detail::shown(b.weight));
        }
}

/// Kilograms between two places of what the factor multiplies, without the tail or with it, split over the knots in the way in
/// which straight lines between them count: entry k is ∫ mass per length × hat k. O(cells between).
template <class = when_called>
[[nodiscard]] Eigen::VectorXd masses_at_knots(const profile& meat, bool with_tail, length from, length to,
                                              std::size_t knots) {
    Eigen::VectorXd masses = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(knots));
    const double spans = static_cast<double>(knots - 1);
    const auto first = std::min(static_cast<std::size_t>(from / meat.step()), meat.cells() - 1);
    for (std::size_t cell = first; cell < meat.cells() && meat.position(cell) < to; ++cell) {
        const length low = std::max(from, meat.position(cell)), high = std::min(to, meat.position(cell + 1));
        const double share = (high - low) / (meat.position(cell + 1) - meat.position(cell));
        const micrograms tail = with_tail ? micrograms{} : meat.between(cell, cell + 1, tissue::tail);
        const double kilograms = share * to_mass(meat.between(cell, cell + 1) - tail).value();
        const double x = std::clamp<double>(spans * (0.5 * (low + high) / meat.extent()), 0.0, spans);
        const std::size_t k = std::min(static_cast<std::size_t>(x), knots - 2);
        const double t = x - static_cast<double>(k);
        masses(static_cast<Eigen::Index>(k)) += (1.0 - t) * kilograms;
        masses(static_cast<Eigen::Index>(k + 1)) += t * kilograms;
    }
    return masses;
}

/// The regression for the factors less one. Rows, each over its standard deviation: the weight of the loin, which holds
/// to a part in 10^7; the readings; the prior, as an autoregressive series along the knots.
template <class = when_called>
struct slice_regression {
    Eigen::MatrixXd design;
    Eigen::VectorXd observed;
    least_squares_fit fit{};

    slice_regression(const profile& meat, bool with_tail, std::span<const weighed_slice> slices,
                     const slice_prior& prior) {
        const auto n = static_cast<Eigen::Index>(slices.size()), p = static_cast<Eigen::Index>(prior.knots);
        design = Eigen::MatrixXd::Zero(1 + n + p, p);
        observed = Eigen::VectorXd::Zero(1 + n + p);
        const Eigen::VectorXd whole = masses_at_knots(meat, with_tail, length{}, meat.extent(), prior.knots);
        design.row(0) = whole.transpose() / (1e-7 * whole.sum());
        for (Eigen::Index i = 0; i < n; ++i) {
            const weighed_slice& s = slices[static_cast<std::size_t>(i)];
            const Eigen::VectorXd masses = masses_at_knots(meat, with_tail, s.from, s.to, prior.knots);
            const double all = with_tail ? masses.sum() : masses_at_knots(meat, true, s.from, s.to, prior.knots).sum();
            const double sd = s.standard_deviation.value();
            design.row(1 + i) = masses.transpose() / sd;
            observed(1 + i) = (s.weight.value() - all) / sd;
        }
        const double alike = std::exp(-1.0 / (static_cast<double>(p - 1) * prior.reach));
        const double fresh = prior.spread * std::sqrt(1.0 - alike * alike);
        design(1 + n, 0) = 1.0 / prior.spread;
        for (Eigen::Index k = 1; k < p; ++k) {
            design(1 + n + k, k - 1) = -alike / fresh;
            design(1 + n + k, k) = 1.0 / fresh;
        }
        fit = least_squares(design, observed);
    }

    /// By how many standard deviations the readings alone miss the weight of the loin.
    [[nodiscard]] double deviation_of_weight() const {
        const Eigen::Index rest = design.rows() - 1;
        const least_squares_fit without = least_squares(design.bottomRows(rest), observed.tail(rest));
        const Eigen::VectorXd whole = design.row(0).transpose();
        return -whole.dot(without.coefficients) / std::sqrt(whole.dot(without.covariance * whole));
    }
};

} // namespace detail

/// Brings a model into line with the weight of the loin, and with slices weighed off it.
///
/// The model is first calibrated to `weight` alone. What calibration changes of it, the fill of tape readings or else the mass
/// per length, is then multiplied by a factor along the axis, which is found by weighted least squares with a prior: the factors b at the knots make least
/// Σ ((reading - predicted(b)) / sd)² + (b - 1)' P⁻¹ (b - 1), P being the covariance of `slice_prior`, while the loin
/// as a whole keeps its weight. So the factor follows the readings where they are, and returns to 1 at a distance of
/// some `reach`. With Gaussian errors this is the mean of the posterior, and the standard deviations are those of it.
/// The loin then weighs `weight` to the microgram, as with `calibrate`.
///
/// Throws `invalid_input` naming the reading, by index and place, that cannot be right: off the loin, without weight or
/// thickness, heavier than the loin, overlapping another one (a slice cut from a weighed slice is fine, when it is not
/// heavier), or further from what all others say than the prior allows; the worst is named. When it is the weight of
/// the loin that fits the rest least, that is named. Two wrong readings side by side can hide each other. Also throws
/// what `calibrate` does. Without readings it is `calibrate`.
///
/// Cost: four tabulations at most, and O((knots + readings) × knots²). Source of the estimate: Bayesian linear
/// regression with Gaussian errors, any handbook.
template <loin_model Model>
[[nodiscard]] slice_calibration<Model> calibrate_by_slices(const Model& model, mass weight,
                                                           const std::vector<weighed_slice>& slices,
                                                           const slice_prior& prior = {}, const tabulation& how = {}) {
    validate(prior);
    const calibrated_loin<Model> by_weight = calibrate(model, weight, how.step, how.densities);
    const profile meat = tabulate(by_weight, how.step, how.densities);
    detail::check_slices(slices, meat.extent(), weight);

    constexpr bool with_tail = !slice_calibrated_loin<Model>::fills_faces;
    const detail::slice_regression<> regression(meat, with_tail, slices, prior);
    const detail::least_squares_fit& fit = regression.fit;
    slice_calibration<Model> result{.loin = {.model = by_weight.model, .factors = {}}, .findings = {}, .factors = {}};
    std::size_t worst = 0;
    for (std::size_t i = 0; i < slices.size(); ++i) {
        const auto row = static_cast<Eigen::Index>(1 + i);
        const mass sd = slices[i].standard_deviation;
        slice_finding f;
        f.by_weight_alone = slices[i].weight - sd * regression.observed(row);
        f.by_the_others = slices[i].weight - sd * fit.left_out_residual(row);
        f.residual = sd * fit.residuals(row);
        f.fitted = slices[i].weight - f.residual;
        f.deviation = fit.studentised(row);
        const Eigen::VectorXd change = fit.change_by(regression.design, row);
        f.changed.assign(change.begin(), change.end());
        if (i > 0 && std::abs(f.deviation) > std::abs(result.findings[worst].deviation)) worst = i;
        result.findings.push_back(std::move(f));
    }
    if (!slices.empty()) {
        const slice_finding& f = result.findings[worst];
        const double of_slice = std::abs(f.deviation), of_weight = std::abs(regression.deviation_of_weight());
        const auto off = [](double d) { return "; it is " + detail::shown(d, 1) + " standard deviations off"; };
        if (of_weight > prior.most_deviation && of_weight > of_slice)
            throw invalid_input("weight", detail::shown(weight), "one that agrees with the slices" + off(of_weight));
        if (of_slice > prior.most_deviation)
            throw invalid_input(detail::name_of_slice(slices, worst) + ".weight", detail::shown(slices[worst].weight),
                                "about " + detail::shown(f.by_the_others) + " by the other readings" + off(of_slice) +
                                    ", so check what was read and where the slice lay");
    }

    for (Eigen::Index k = 0; k < fit.coefficients.size(); ++k) {
        const double factor = 1.0 + fit.coefficients(k);
        const length at = static_cast<double>(k) / static_cast<double>(prior.knots - 1) * meat.extent();
        if (!(factor > 0.0))
            throw invalid_input("slices", "a factor of " + detail::shown(factor) + " at " + detail::shown(at),
                                "readings that leave some meat");
        result.factors.push_back({at, factor, fit.standard_deviation(k)});
        result.loin.factors.push_back(factor * by_weight.factor);
    }
    // The table counts straight lines by the middle of a cell, tabulating the loin by Simpson's rule: a last few
    // micrograms.
    const mass aim = to_mass(to_micrograms(weight));
    const detail::open_mass open =
        with_tail ? detail::open_mass{.open = detail::modelled_mass(result.loin, how.step, how.densities).value()}
                  : detail::open_mass_of(result.loin, how.step, how.densities);
    const double last = open.factor(aim);
    // Not to its last bits, which are Eigen's: they depend on what it vectorises and fuses.
    for (double& factor : result.loin.factors) factor = detail::snapped_share(factor * last);
    result.loin.weight = aim;
    return result;
}

} // namespace tranche
