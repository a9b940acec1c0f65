// What a record teaches for the next loin: the shares lost to purge and knife, where trim goes, and how far plans are off.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

#include <tranche/records/cutting_record.hpp>
#include <tranche/records/record_summary.hpp>
#include <tranche/statistics/sample_summary.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A share of a whole, estimated over many: Σ part / Σ whole, so that heavy loins count for more and the masses of the
/// record come out right. Error and interval are none with one record.
struct learned_share {
    std::size_t count = 0; ///< of records
    double value = 0.0;
    std::optional<double> standard_error{};
    std::optional<confidence_interval> interval{};

    friend bool operator==(const learned_share&, const learned_share&) = default;
};

/// r = Σy / Σx with the error of linearisation, se² = n / (n - 1) × Σ(y - r x)² / (Σx)², and Student's t of n - 1 degrees of
/// freedom (Cochran, *Sampling Techniques*, 3rd edition, 1977, chapter 6, without the correction for a finite population,
/// from memory). `parts` and `wholes` pair up. None where the wholes add up to nothing. O(n). Both in one unit, any
/// finite numbers. Throws `invalid_input` for lists of different sizes, a number that is not finite and a confidence
/// that is not between 0 and 1.
[[nodiscard]] inline std::optional<learned_share> learned_ratio(const std::vector<double>& parts,
                                                                const std::vector<double>& wholes,
                                                                fraction confidence = 0.95) {
    detail::require_confidence(confidence);
    if (parts.size() != wholes.size())
        throw invalid_input("parts", std::to_string(parts.size()), std::to_string(wholes.size()) + ", one a whole");
    detail::require_finite(parts, "parts");
    detail::require_finite(wholes, "wholes");
    double all_parts = 0.0, all = 0.0;
    for (const double p : parts) all_parts += p;
    for (const double w : wholes) all += w;
    if (!(all > 0.0)) return std::nullopt;
    learned_share share{.count = parts.size(), .value = all_parts / all};
    if (parts.size() < 2) return share;
    double squares = 0.0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const double off = parts[i] - share.value * wholes[i];
        squares += off * off;
    }
    const double degrees = static_cast<double>(parts.size() - 1);
    share.standard_error = std::sqrt((degrees + 1.0) / degrees * squares) / all;
    const double half = student_t(confidence, degrees) * *share.standard_error;
    share.interval = confidence_interval{share.value - half, share.value + half};
    return share;
}

/// Purge is a share of what was bought; everything else of what came on the board, so that usable, by-products, cutting
/// loss and what is unaccounted for add up to 1.
struct learned_losses {
    learned_share purge{};
    learned_share usable{}, cutting_loss{}, unaccounted{};
    by_destination<learned_share> by_products{};
    /// What did not become portions over what the plans said would not: Σ bought (1 - yield) / Σ bought (1 - predicted),
    /// over the tests with a plan. None without a plan that expected a rest.
    std::optional<learned_share> rest_over_planned{};

    /// What to expect on the board of a purchase, W (1 - purge): the scale weight for `calibrate` before the bag is
    /// open. Throws `invalid_input` for a weight that is negative or not finite, and a purge that is no share below 1.
    /// Both in kilograms. Source: `learned_ratio`.
    [[nodiscard]] mass expected_board_weight(mass bought) const {
        detail::require_not_negative(bought, "bought");
        return bought * share_on_board();
    }
    /// What to buy to have `board` on the board, W / (1 - purge). Throws as `expected_board_weight`. Both in kilograms.
    /// Source: `learned_ratio`.
    [[nodiscard]] mass purchase_for(mass board) const {
        detail::require_not_negative(board, "board");
        return board / share_on_board();
    }
    /// A plan's yield with its rest corrected by `rest_over_planned`, 0 to 1; as planned where that is not known.
    /// Throws `invalid_input` for a yield that is no share. A share by mass, 0 to 1. O(1).
    [[nodiscard]] fraction corrected_yield(fraction planned) const {
        detail::require_share(planned, "planned");
        const double factor = rest_over_planned ? rest_over_planned->value : 1.0;
        return std::clamp(1.0 - detail::unfused(factor * (1.0 - planned)), 0.0, 1.0);
    }

    friend bool operator==(const learned_losses&, const learned_losses&) = default;

private:
    [[nodiscard]] fraction share_on_board() const {
        if (!(purge.value >= 0.0 && purge.value < 1.0))
            throw invalid_input("purge", detail::shown(purge.value), "a share, 0 to below 1");
        return 1.0 - purge.value;
    }
};

/// Learns from a record; the order of the list does not matter. Throws as `summarise_records`. O(n log n). Every figure
/// is a share by mass. Formula and source: `learned_ratio`.
[[nodiscard]] inline learned_losses learn_losses(const std::vector<cutting_record>& records,
                                                 const record_rules& rules = {}) {
    detail::require_confidence(rules.confidence);
    if (records.empty()) throw invalid_input("records", "none", "at least one");
    const std::vector<cutting_record> sorted = detail::sorted_by_time(records, rules.scale_tolerance);
    const auto share_of = [&](auto part, auto whole) {
        std::vector<double> parts, wholes;
        for (const cutting_record& r : sorted) {
            parts.push_back(part(r) / kilogram);
            wholes.push_back(whole(r) / kilogram);
        }
        return *learned_ratio(parts, wholes, rules.confidence); // something was on the board every time
    };
    const auto bought = [](const cutting_record& r) { return r.bought; };
    const auto board = [](const cutting_record& r) { return r.on_board(); };
    learned_losses result;
    result.purge = share_of([](const cutting_record& r) { return r.purge; }, bought);
    result.usable = share_of([](const cutting_record& r) { return r.usable; }, board);
    result.cutting_loss = share_of([](const cutting_record& r) { return r.cutting_loss; }, board);
    result.unaccounted = share_of([](const cutting_record& r) { return to_mass(r.unaccounted()); }, board);
    for (const destination d : all_destinations)
        result.by_products[d] = share_of([d](const cutting_record& r) { return r.by_products[d]; }, board);

    std::vector<double> rests, planned;
    for (const cutting_record& r : sorted) {
        if (!r.predicted_yield) continue;
        rests.push_back(r.bought / kilogram - r.usable / kilogram);
        planned.push_back(r.bought / kilogram * (1.0 - *r.predicted_yield));
    }
    result.rest_over_planned = learned_ratio(rests, planned, rules.confidence);
    return result;
}

} // namespace tranche
