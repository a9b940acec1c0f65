// How many loins to buy so that there is enough with a stated probability, when neither loins nor guests are sure.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstdint>
#include <optional>
#include <string>

#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Whole portions of one loin. `sd` is the spread from loin to loin; `lot_sd` that of the mean itself, which all loins
/// of a lot share: how uncertain the mean is, such as s / √n after n loins were cut, or how suppliers and seasons
/// differ. It does not average out over many loins.
struct portions_a_loin {
    double mean = 0.0;   ///< above zero
    double sd = 0.0;     ///< zero or more
    double lot_sd = 0.0; ///< zero or more
};

/// Portions that guests will ask for.
struct portions_wanted {
    double mean = 0.0; ///< above zero
    double sd = 0.0;   ///< zero or more
};

/// Demand of `guests`, each of whom comes, or chooses the dish, with probability `turn_up` on their own account and
/// then takes `portions_each`: binomial, with mean n a q and standard deviation a √(n q (1 - q)). Guests who come as a
/// party vary more: give their spread yourself. Throws `invalid_input` for fewer than one guest or portion, and a share
/// that is not above 0 and at most 1.
[[nodiscard]] inline portions_wanted wanted_by(std::int64_t guests, fraction turn_up = 1.0,
                                               std::int64_t portions_each = 1) {
    if (guests < 1) throw invalid_input("guests", std::to_string(guests), "one or more");
    if (portions_each < 1) throw invalid_input("portions_each", std::to_string(portions_each), "one or more");
    if (!(turn_up > 0.0 && turn_up <= 1.0))
        throw invalid_input("turn_up", shown(turn_up), "a share above 0, at most 1");
    const auto n = static_cast<double>(guests), each = static_cast<double>(portions_each);
    return {n * each * turn_up, each * std::sqrt(n * turn_up * (1.0 - turn_up))};
}

inline void validate(const portions_a_loin& loin) {
    require_positive(loin.mean, "portions_a_loin.mean");
    require_not_negative(loin.sd, "portions_a_loin.sd");
    require_not_negative(loin.lot_sd, "portions_a_loin.lot_sd");
}
inline void validate(const portions_wanted& wanted) {
    require_positive(wanted.mean, "portions_wanted.mean");
    require_not_negative(wanted.sd, "portions_wanted.sd");
}

/// P(enough) of k loins, with mean μ, spread σ and lot spread τ of the portions of one, and demand of mean m and spread
/// s:
///
///     P(S - D > -1/2) ≈ Φ((k μ - m + 1/2) / √(k σ² + k² τ² + s²))
///
/// the normal approximation of a sum with the correction for whole numbers (Feller, An Introduction to Probability
/// Theory and Its Applications, volume 1, chapter VII, from memory). It assumes that loins are independent but for what
/// a lot shares, that demand does not depend on them, and that there are several loins: `loins_to_buy` of counts
/// (`portion_counts.hpp`) needs no such assumption. Without any spread it is 1 if k μ >= m and else 0. Throws
/// `invalid_input` for negative `loins` and what is not finite or in range. O(1).
[[nodiscard]] inline double probability_of_enough(std::int64_t loins, const portions_a_loin& loin,
                                                  const portions_wanted& wanted) {
    validate(loin);
    validate(wanted);
    if (loins < 0) throw invalid_input("loins", std::to_string(loins), "zero or more");
    const auto k = static_cast<double>(loins);
    const double surplus = k * loin.mean - wanted.mean;
    const double spread = std::hypot(std::sqrt(k) * loin.sd, k * loin.lot_sd, wanted.sd);
    if (!(spread > 0.0)) return surplus >= -1e-9 * wanted.mean ? 1.0 : 0.0; // means are decimals
    return 0.5 * std::erfc(-(surplus + 0.5) / (spread * std::sqrt(2.0)));
}

/// An order of loins. Both probabilities are shown, so that the step to one loin fewer can be weighed.
struct loin_order {
    std::int64_t loins = 0;
    double probability = 0.0;      ///< of having enough
    double with_one_fewer = 0.0;   ///< the same with one loin fewer: below what was asked for
    double expected_surplus = 0.0; ///< mean of portions - mean of demand; may be negative where little is asked for
};

/// The smallest number of loins that is enough with at least `probability`, above 0 and below 1; none where no number
/// is, which happens where a whole lot may be poor (no number gives more than Φ(μ / τ)), or where it takes more than
/// 10^12. It is found by halving, because P(enough) rises with the number of loins: the argument of Φ has a derivative
/// of the sign of k μ σ² / 2 + μ s² + (m - 1/2) (σ² / 2 + k τ²). Throws as `probability_of_enough`, for a probability
/// out of range, and for a mean demand below one portion. O(log loins).
[[nodiscard]] inline std::optional<loin_order> loins_to_buy(const portions_a_loin& loin, const portions_wanted& wanted,
                                                            double probability) {
    if (!(probability > 0.0 && probability < 1.0))
        throw invalid_input("probability", shown(probability), "above 0 and below 1");
    validate(wanted);
    if (wanted.mean < 1.0) throw invalid_input("portions_wanted.mean", shown(wanted.mean), "one portion or more");
    std::int64_t too_few = 0, enough = 1;
    while (probability_of_enough(enough, loin, wanted) < probability) {
        if (enough > 1'000'000'000'000) return std::nullopt;
        too_few = enough;
        enough *= 2;
    }
    while (enough - too_few > 1) {
        const std::int64_t between = too_few + (enough - too_few) / 2;
        (probability_of_enough(between, loin, wanted) < probability ? too_few : enough) = between;
    }
    return loin_order{enough, probability_of_enough(enough, loin, wanted),
                      probability_of_enough(enough - 1, loin, wanted),
                      static_cast<double>(enough) * loin.mean - wanted.mean};
}

} // namespace tranche
