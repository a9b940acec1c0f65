// Whether a lot of packs holds what its labels say, by two sets of rules.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/cost/wide_integer.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>
#include <tranche/units/to_text.hpp>

namespace tranche {

namespace detail {

/// The tolerable negative error in thousandths of a microgram.
[[nodiscard]] constexpr wide_integer tolerable_thousandths(micrograms nominal) {
    constexpr std::int64_t one_gram = 1'000'000;
    const wide_integer q = nominal.count;
    if (q <= 50 * one_gram) return 90 * q;
    if (q <= 100 * one_gram) return wide_integer{4'500} * one_gram;
    if (q <= 200 * one_gram) return 45 * q;
    if (q <= 300 * one_gram) return wide_integer{9'000} * one_gram;
    if (q <= 500 * one_gram) return 30 * q;
    if (q <= 1'000 * one_gram) return wide_integer{15'000} * one_gram;
    if (q <= 10'000 * one_gram) return 15 * q;
    if (q <= 15'000 * one_gram) return wide_integer{150'000} * one_gram;
    return 10 * q;
}

} // namespace detail

/// Tolerable negative error T of a pack of nominal quantity Q (OIML R 87, as the New Zealand Weights and Measures
/// Regulations 1999, Schedule 7A, print it; read there): to 50 g 9 %; to 100 g 4.5 g; to 200 g 4.5 %; to 300 g 9 g; to 500 g
/// 3 %; to 1 kg 15 g; to 10 kg 1.5 %; to 15 kg 150 g; above 1 %. Not rounded. Throws `invalid_input` for a quantity that is
/// not above zero.
[[nodiscard]] inline mass tolerable_negative_error(mass nominal) {
    require_positive(nominal, "nominal");
    return mass::from_value(static_cast<double>(detail::tolerable_thousandths(to_micrograms(nominal, "nominal"))) /
                            1e12);
}

/// A lot of packs of one nominal quantity against the three rules.
struct nominal_lot {
    std::size_t packs = 0;
    mass nominal{}, mean{}, tolerable_error{};
    std::size_t below_once = 0;  ///< under Q - T
    std::size_t below_twice = 0; ///< under Q - 2T
    bool mean_holds = false, few_below = false, none_far_below = false;

    [[nodiscard]] bool passes() const { return mean_holds && few_below && none_far_below; }
};

/// The rules of OIML R 87: the mean is at least Q; at most 2.5 % of the packs lie below Q - T; none below Q - 2T. For a lot
/// that was weighed pack by pack: inspectors who weigh a sample have sampling plans with corrections, which are not here.
/// Compared in whole numbers. Throws `invalid_input` for a bad quantity, no packs and a weight that is not above zero.
/// O(packs).
[[nodiscard]] inline nominal_lot check_lot(mass nominal, const std::vector<mass>& net_weights) {
    if (net_weights.empty()) throw invalid_input("net_weights", "none", "at least one pack");
    nominal_lot lot{
        .packs = net_weights.size(), .nominal = nominal, .tolerable_error = tolerable_negative_error(nominal)};
    const micrograms q = to_micrograms(nominal, "nominal");
    const detail::wide_integer t = detail::tolerable_thousandths(q);
    detail::wide_integer sum = 0;
    for (std::size_t i = 0; i < net_weights.size(); ++i) {
        const std::string field = "net_weights[" + std::to_string(i) + ']';
        require_positive(net_weights[i], field);
        const micrograms weight = to_micrograms(net_weights[i], field.c_str());
        sum += weight.count;
        const detail::wide_integer missing = 1000 * (detail::wide_integer{q.count} - weight.count);
        lot.below_once += missing > t ? 1U : 0U;
        lot.below_twice += missing > 2 * t ? 1U : 0U;
    }
    const auto packs = static_cast<detail::wide_integer>(lot.packs);
    lot.mean = mass::from_value(static_cast<double>(sum) / static_cast<double>(lot.packs) / micrograms_in_a_kilogram);
    lot.mean_holds = sum >= packs * q.count;
    lot.few_below = 1000 * static_cast<detail::wide_integer>(lot.below_once) <= 25 * packs;
    lot.none_far_below = lot.below_twice == 0;
    return lot;
}

/// A pack with the net weight on its own label and what an inspector finds in it.
struct inspected_pack {
    mass labelled{}, found{};
};

/// Packs of different labelled weights against an average rule and a rule for each.
struct random_weight_lot {
    std::size_t packs = 0;
    mass mean_error{};          ///< found - labelled
    std::size_t over_limit = 0; ///< short by more than the maximum allowed variation
    std::size_t allowed_over = 0;
    bool mean_holds = false;

    [[nodiscard]] bool passes() const { return mean_holds && over_limit <= allowed_over; }
};

/// The two requirements in the manner of NIST Handbook 133, for a lot that was weighed pack by pack: on average packs hold
/// at least what they say, and no more than `allowed_over` are short by more than the maximum allowed variation.
/// `variation` gives that as a mass for a labelled mass. It has no default: the tables are in the handbook's edition in
/// force, recollections of them disagree, and so do places. So are sampling plans and moisture allowances the caller's.
/// Throws `invalid_input` for no packs, weights that are not above zero (found: below zero), and a variation that is
/// negative or not finite. O(packs).
template <class Variation>
[[nodiscard]] random_weight_lot check_random_weights(const std::vector<inspected_pack>& packs,
                                                     const Variation& variation, std::size_t allowed_over) {
    if (packs.empty()) throw invalid_input("packs", "none", "at least one pack");
    random_weight_lot lot{.packs = packs.size(), .allowed_over = allowed_over};
    detail::wide_integer sum = 0;
    for (std::size_t i = 0; i < packs.size(); ++i) {
        const std::string field = "packs[" + std::to_string(i) + "].";
        require_positive(packs[i].labelled, field + "labelled");
        require_not_negative(packs[i].found, field + "found");
        const mass allowed = variation(packs[i].labelled);
        require_not_negative(allowed, "maximum allowed variation");
        const std::int64_t error = (to_micrograms(packs[i].found) - to_micrograms(packs[i].labelled)).count;
        sum += error;
        lot.over_limit += -error > to_micrograms(allowed).count ? 1U : 0U;
    }
    lot.mean_error =
        mass::from_value(static_cast<double>(sum) / static_cast<double>(packs.size()) / micrograms_in_a_kilogram);
    lot.mean_holds = sum >= 0;
    return lot;
}

} // namespace tranche
