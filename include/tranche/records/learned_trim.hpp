// What a record teaches of fat cover and tail: factors on the tape readings with which plans leave the trim that was weighed.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <type_traits>
#include <utility>
#include <vector>

#include <boost/math/tools/toms748_solve.hpp>

#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/records/cutting_record.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What the readings of fat cover and tail are multiplied by; above zero.
struct trim_factors {
    double fat_cover = 1.0, tail = 1.0;

    friend bool operator==(const trim_factors&, const trim_factors&) = default;
};

/// A taped loin, such as `measured_loin`, with these factors on the fat cover and the tail of each of its stations: the
/// model of the next loin, to be calibrated to the scale. Throws `invalid_input` for a factor that is not above zero,
/// and for readings that are impossible with it. Factors are plain numbers, readings lengths.
template <class Taped>
[[nodiscard]] Taped with_trim_factors(Taped loin, const trim_factors& factors) {
    detail::require_positive(factors.fat_cover, "factors.fat_cover");
    detail::require_positive(factors.tail, "factors.tail");
    for (auto& station : loin.stations) {
        station.fat_cover *= factors.fat_cover;
        station.tail *= factors.tail;
    }
    validate(loin);
    return loin;
}

struct learned_trim {
    trim_factors factors{};
    /// Whether the record tells fat from tail. If the trim of both goes to one destination it does not, and both factors
    /// are the same.
    bool told_apart = true;
    /// Σ (bought - usable) / Σ (bought - planned portions), of the plans with these factors: 1 to a millionth, unless
    /// plans jump as the factors move.
    double rest_over_planned = 1.0;

    friend bool operator==(const learned_trim&, const learned_trim&) = default;
};

namespace detail {

/// How much more the plans leave than the record says, in kilograms: of the destination of fat cover, and of everything
/// that is no portion.
struct trim_excess {
    double cover = 0.0, rest = 0.0;
};

/// A factor within 1/3 to 3 where the increasing `excess` is zero to `tolerance`: the bracket grows from `start`, then
/// `toms748_solve` of Boost.Math. Where the function jumps over zero, the place of the jump.
template <class Excess>
[[nodiscard]] std::optional<double> factor_without_excess(Excess excess, double start, double tolerance) {
    double a = start, at_a = excess(a);
    if (std::abs(at_a) <= tolerance) return a;
    const double step = at_a < 0.0 ? 1.1 : 1.0 / 1.1;
    double b = a, at_b = at_a;
    do {
        a = b;
        at_a = at_b;
        b *= step;
        if (!(b > 1.0 / 3.0 && b < 3.0)) return std::nullopt;
        try {
            at_b = excess(b);
        } catch (const invalid_input&) {
            return std::nullopt; // such a loin cannot be, and no nearer one would do
        }
        if (std::abs(at_b) <= tolerance) return b;
    } while ((at_a < 0.0) == (at_b < 0.0));
    // A value within the tolerance is as good as zero, and ends the search.
    const auto rounded = [&](double factor) {
        const double value = excess(factor);
        return std::abs(value) <= tolerance ? 0.0 : value;
    };
    if (b < a) {
        std::swap(a, b);
        std::swap(at_a, at_b);
    }
    std::uintmax_t calls = 200;
    return boost::math::tools::toms748_solve(
               rounded, a, b, at_a, at_b, [](double low, double high) { return high - low <= 1e-12; }, calls)
        .second;
}

} // namespace detail

/// A record holds what went to each destination, not how thick the fat was; but planned anew from its loins' readings, with
/// the factors φ on the cover and τ on the tail, the loins leave as much as was weighed where
///
///     Σ planned to the destination of fat cover (φ, τ) = Σ recorded there
///     Σ planned portions (φ, τ)                        = Σ recorded usable
///
/// These two sums are solved for φ and τ in turn, to 10^-7 of what came on the board, which leaves `rest_over_planned` of
/// the plans at 1. What is not trim but weighs on the sums goes into the factors too: loose meat that the plan did not
/// foresee, meat the scale did not account for. So plan the loins as they were cut.
///
/// `replanned(i, factors)` is the plan of records[i]: its readings `with_trim_factors`, calibrated to what came on the
/// board, with the cuts it had. The destinations are those of the first plan's rules. None where no factors from 1/3 to
/// 3 make up for the difference, or none with which the readings are still possible: then it is not trim, or no tail or
/// cover is ever taken off. Throws `invalid_input` for no records and as `validate` of a record, and what `replanned`
/// throws without factors. Takes some ten to a hundred plans of each loin. Factors are plain numbers, masses whole
/// micrograms. The method is this library's own, no source.
template <class Replanned>
requires std::convertible_to<std::invoke_result_t<Replanned&, std::size_t, const trim_factors&>, cutting_plan>
[[nodiscard]] std::optional<learned_trim> learn_trim(const std::vector<cutting_record>& records, Replanned replanned,
                                                     const weighing_tolerance& scale_tolerance = {}) {
    if (records.empty()) throw invalid_input("records", "none", "at least one");
    micrograms bought, board, usable;
    for (const cutting_record& r : detail::sorted_by_time(records, scale_tolerance)) {
        bought += to_micrograms(r.bought);
        board += to_micrograms(r.on_board());
        usable += to_micrograms(r.usable);
    }
    const cutting_plan first = replanned(0, trim_factors{});
    const destination of_cover = first.rules.trim_goes_to[tissue::fat_cover];
    const double tolerance = 1e-7 * (to_mass(board) / kilogram);
    micrograms planned_usable;
    std::optional<std::pair<trim_factors, detail::trim_excess>> latest; // plans are dear, and often asked for again
    const auto excess = [&](const trim_factors& factors) {
        if (latest && latest->first == factors) return latest->second;
        micrograms cover;
        planned_usable = {};
        for (std::size_t i = 0; i < records.size(); ++i) {
            const mass_balance balance = balance_of(replanned(i, factors));
            planned_usable += balance.portion_total();
            cover += balance.loose[of_cover] + balance.trim[of_cover] - to_micrograms(records[i].by_products[of_cover]);
        }
        const detail::trim_excess found{to_mass(cover) / kilogram, to_mass(usable - planned_usable) / kilogram};
        latest = {factors, found};
        return found;
    };

    learned_trim result{.told_apart = of_cover != first.rules.trim_goes_to[tissue::tail]};
    trim_factors& f = result.factors;
    for (int round = 0; round < 30; ++round) {
        if (result.told_apart) {
            const auto cover = detail::factor_without_excess(
                [&](double factor) {
                    return excess({factor, f.tail}).cover;
                },
                f.fat_cover, tolerance);
            if (!cover) return std::nullopt;
            f.fat_cover = *cover;
        }
        const auto tail = detail::factor_without_excess(
            [&](double factor) {
                return excess({result.told_apart ? f.fat_cover : factor, factor}).rest;
            },
            f.tail, tolerance);
        if (!tail) return std::nullopt;
        f.tail = *tail;
        if (!result.told_apart) f.fat_cover = *tail;
        if (!result.told_apart || std::abs(excess(f).cover) <= tolerance) break;
    }
    static_cast<void>(excess(f));
    const micrograms planned_rest = bought - planned_usable;
    if (!(planned_rest > micrograms{})) return std::nullopt;
    result.rest_over_planned = to_mass(bought - usable) / to_mass(planned_rest);
    return result;
}

} // namespace tranche
