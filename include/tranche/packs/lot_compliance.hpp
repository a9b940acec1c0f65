// Whether a lot of packs holds what its labels say, by two sets of rules.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/units/detail/same_weight.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

namespace detail {

/// Tolerable negative error T of a pack of nominal quantity Q (OIML R 87, as the New Zealand Weights and Measures
/// Regulations 1999, Schedule 7A, print it; read there): to 50 g 9 %; to 100 g 4.5 g; to 200 g 4.5 %; to 300 g 9 g; to 500 g
/// 3 %; to 1 kg 15 g; to 10 kg 1.5 %; to 15 kg 150 g; above 1 %. Not rounded. One row passes into the next without a jump.
/// Throws `invalid_input` for a quantity that is not above zero.
[[nodiscard]] inline mass tolerable_negative_error(mass nominal) {
    require_positive(nominal, "nominal");
    const double q = nominal / gram;
    const double t = q <= 50.0       ? 0.09 * q
                     : q <= 100.0    ? 4.5
                     : q <= 200.0    ? 0.045 * q
                     : q <= 300.0    ? 9.0
                     : q <= 500.0    ? 0.03 * q
                     : q <= 1000.0   ? 15.0
                     : q <= 10'000.0 ? 0.015 * q
                     : q <= 15'000.0 ? 150.0
                                     : 0.01 * q;
    return t * gram;
}

} // namespace detail

namespace detail {

/// Weights added up without rounding, in 2^-64 kg: less than a last bit of anything above 0.3 mg.
class exact_sum {
public:
    void add(mass m) { count_ += static_cast<wide_integer>(std::ldexp(m.value(), 64)); }
    [[nodiscard]] mass value() const { return std::ldexp(static_cast<double>(count_), -64) * kilogram; }

private:
    wide_integer count_ = 0;
};

/// A weight in a list, which must be below a million tonnes: 128 bits hold the sum of ten thousand million of them.
inline void require_weight(mass m, const std::string& field) {
    if (!(m < 1e9 * kilogram)) throw invalid_input(field, detail::shown(m), "less than a million tonnes");
}

} // namespace detail

/// A lot of packs of one nominal quantity against the three rules.
struct nominal_lot {
    std::size_t packs = 0;
    mass nominal{}, mean{}, tolerable_error{};
    std::size_t below_once = 0;  ///< under Q - T
    std::size_t below_twice = 0; ///< under Q - 2T
    bool mean_holds = false, few_below = false, none_far_below = false;

    /// Whether all three rules hold. Throws nothing.
    [[nodiscard]] bool passes() const { return mean_holds && few_below && none_far_below; }

    friend bool operator==(const nominal_lot&, const nominal_lot&) = default;
};

/// The rules of OIML R 87: the mean is at least Q; at most 2.5 % of the packs lie below Q - T; none below Q - 2T. For a lot
/// that was weighed pack by pack: inspectors who weigh a sample have sampling plans with corrections, which are not here.
/// A weight that is meant to lie on a border lies on it, in whatever unit it was written, and keeps the rule: packs of 12 oz
/// hold 0.75 lb. Throws `invalid_input` for a bad quantity, no packs and a weight that is not above zero. O(packs).
/// Every mass is above zero and below a million tonnes. Source of T and the rules: see `tolerable_negative_error`.
[[nodiscard]] inline nominal_lot lot_compliance(mass nominal, const std::vector<mass>& net_weights) {
    if (net_weights.empty()) throw invalid_input("net_weights", "none", "at least one pack");
    nominal_lot lot{
        .packs = net_weights.size(), .nominal = nominal, .tolerable_error = detail::tolerable_negative_error(nominal)};
    detail::require_weight(nominal, "nominal");
    detail::exact_sum errors;
    mass sum{};
    for (std::size_t i = 0; i < net_weights.size(); ++i) {
        const std::string field = "net_weights[" + std::to_string(i) + ']';
        detail::require_positive(net_weights[i], field);
        detail::require_weight(net_weights[i], field);
        const mass missing = nominal - net_weights[i], t = lot.tolerable_error;
        sum += net_weights[i];
        errors.add(net_weights[i]);
        errors.add(-nominal);
        lot.below_once += detail::really_above(missing, t, nominal) ? 1U : 0U;
        lot.below_twice += detail::really_above(missing, 2.0 * t, nominal) ? 1U : 0U;
    }
    const auto packs = static_cast<detail::wide_integer>(lot.packs);
    lot.mean = nominal + errors.value() / static_cast<double>(lot.packs);
    lot.mean_holds = !detail::really_above(mass{}, errors.value(), sum);
    lot.few_below = 1000 * static_cast<detail::wide_integer>(lot.below_once) <= 25 * packs;
    lot.none_far_below = lot.below_twice == 0;
    return lot;
}

/// A pack with the net weight on its own label and what an inspector finds in it.
struct inspected_pack {
    mass labelled{}, found{};

    friend bool operator==(const inspected_pack&, const inspected_pack&) = default;
};

/// Packs of different labelled weights against an average rule and a rule for each.
struct random_weight_lot {
    std::size_t packs = 0;
    mass mean_error{};          ///< found - labelled
    std::size_t over_limit = 0; ///< short by more than the maximum allowed variation
    std::size_t allowed_over = 0;
    bool mean_holds = false;

    /// Whether both requirements hold. Throws nothing.
    [[nodiscard]] bool passes() const { return mean_holds && over_limit <= allowed_over; }

    friend bool operator==(const random_weight_lot&, const random_weight_lot&) = default;
};

/// The two requirements in the manner of NIST Handbook 133, for a lot that was weighed pack by pack: on average packs
/// hold at least what they say, and no more than `allowed_over` are short by more than the maximum allowed variation.
/// `variation` gives that as a mass for a labelled mass. It has no default: the tables are in the handbook's edition in
/// force, recollections of them disagree, and so do places. So are sampling plans and moisture allowances the caller's.
/// Throws `invalid_input` for no packs, weights that are not above zero (found: below zero), and a variation that is
/// negative or not finite. O(packs). Masses are below a million tonnes.
template <class Variation>
[[nodiscard]] random_weight_lot lot_compliance(const std::vector<inspected_pack>& packs, const Variation& variation,
                                               std::size_t allowed_over) {
    if (packs.empty()) throw invalid_input("packs", "none", "at least one pack");
    random_weight_lot lot{.packs = packs.size(), .allowed_over = allowed_over};
    detail::exact_sum errors;
    mass labelled{};
    for (std::size_t i = 0; i < packs.size(); ++i) {
        const std::string field = "packs[" + std::to_string(i) + "].";
        detail::require_positive(packs[i].labelled, field + "labelled");
        detail::require_not_negative(packs[i].found, field + "found");
        const mass allowed = variation(packs[i].labelled);
        detail::require_not_negative(allowed, "maximum allowed variation");
        detail::require_weight(packs[i].labelled, field + "labelled");
        detail::require_weight(packs[i].found, field + "found");
        labelled += packs[i].labelled;
        errors.add(packs[i].found);
        errors.add(-packs[i].labelled);
        const mass missing = packs[i].labelled - packs[i].found;
        lot.over_limit += detail::really_above(missing, allowed, packs[i].labelled) ? 1U : 0U;
    }
    lot.mean_error = errors.value() / static_cast<double>(packs.size());
    lot.mean_holds = !detail::really_above(mass{}, errors.value(), labelled);
    return lot;
}

} // namespace tranche
