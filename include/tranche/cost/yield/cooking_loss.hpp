// The cooking-loss test as the textbooks have it: what the meat cost once it is cooked and carved.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/cost/yield/usable_cost.hpp>
#include <tranche/cost/yield/weighed_part.hpp>
#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// The result of a cooking-loss test. Purchase = everything else of the cutting test + lost in cooking + the lines, to
/// the microgram; amounts add up exactly; rates come from unrounded values.
template <currency C>
struct cooking_loss {
    yield_test<C> cut{};              ///< the cutting test before it
    micrograms raw{};                 ///< what went into the oven: all that the cutting test left usable
    micrograms cooked{};              ///< what came out
    micrograms lost_in_cooking{};     ///< raw - cooked; below zero only within the tolerance of the scales
    std::vector<yield_line<C>> lines; ///< what was carved; ratios to the purchase, as in the cutting test
    micrograms salable{};             ///< Σ of the usable lines
    amount<C> credit{};               ///< of the by-products carved off, such as bones for stock
    amount<C> primary_value{};        ///< that of the cutting test - credit: what the salable meat cost
    money<C> unrounded_primary_value{};

    /// cooked / raw. By mass, a plain share, 0 to 1 and above by the tolerance of the scales; a test has raw meat.
    /// Throws nothing. Source: as `cooking_loss_test`.
    [[nodiscard]] fraction cooking_yield() const { return to_mass(cooked) / to_mass(raw); }
    /// Rates of the salable meat against the purchase; weights of portions are cooked ones. Money by mass, not rounded.
    /// Throws nothing; the members of what it gives do.
    [[nodiscard]] usable_cost<C> costs() const {
        const mass heavier =
            to_mass(std::max(salable - cut.whole, micrograms{})); // within the tolerances of the scales
        return {cut.purchase.price, to_mass(cut.whole), to_mass(salable), unrounded_primary_value, heavier};
    }

    friend bool operator==(const cooking_loss&, const cooking_loss&) = default;
};

/// Follows the usable meat of a cutting test through the oven. With V the primary value of that test, less the value of
/// what is carved off, and S the salable weight cooked: cost per salable weight = V / S, cost factor = that / price
/// paid as bought (Dittmer and Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th edition, chapter 6).
/// Meat that is bought ready for the oven has a cutting test of one usable part; a plan has one in its bill.
///
/// `cooked` is the weight out of the oven, zero or more, and no more than went in but for `scale_tolerance`; `carved` are its
/// parts (`usable` is what is served), which must add up to it as those of `cutting_yield_test` must. Throws
/// `invalid_input` if the cutting test left nothing usable, for a bad weight, and what `cutting_yield_test` throws for
/// its parts. O(parts). Masses are whole micrograms, amounts minor units, rounded as `how` says; rates are not rounded.
template <currency C>
[[nodiscard]] cooking_loss<C> cooking_loss_test(yield_test<C> cut, mass cooked,
                                                const std::vector<weighed_part<C>>& carved,
                                                const weighing_tolerance& scale_tolerance = {},
                                                rounding how = rounding::half_even) {
    detail::require_not_negative(cooked, "cooked");
    cooking_loss<C> test;
    test.raw = cut.usable;
    if (!(test.raw > micrograms{})) throw invalid_input("cut.usable", to_mass(test.raw), "meat to cook");
    test.cooked = to_micrograms(cooked, "cooked");
    detail::require_not_heavier(to_mass(test.cooked), to_mass(test.raw), scale_tolerance, "cooked",
                                "no more than the raw weight, ");
    test.lost_in_cooking = test.raw - test.cooked;

    detail::weighed_parts<C> weighed = detail::weigh(carved, test.cooked, "the cooked meat", cut.whole, scale_tolerance,
                                                     static_cast<std::int64_t>(carved.size()), how);
    test.lines = std::move(weighed.lines);
    test.salable = weighed.usable;
    test.credit = weighed.credit;
    test.primary_value = cut.primary_value - test.credit;
    test.unrounded_primary_value = cut.unrounded_primary_value - weighed.unrounded_credit;
    test.cut = std::move(cut);
    return test;
}

/// The same test at another price of the purchase, with what was credited in cutting and carving at the value it had:
/// see `repriced` of a cutting test. Throws `invalid_input` for a price that is negative or not finite, and where 64
/// bits do not hold an amount. O(lines). Money by mass, amounts in minor units. Source: as `repriced`, arithmetic.
template <currency C>
[[nodiscard]] cooking_loss<C> repriced(cooking_loss<C> test, unit_price<C> price, rounding how = rounding::half_even) {
    const money<C> carved = test.cut.unrounded_primary_value - test.unrounded_primary_value;
    test.cut = repriced(std::move(test.cut), price, how);
    test.primary_value = test.cut.primary_value - test.credit;
    test.unrounded_primary_value = test.cut.unrounded_primary_value - carved;
    return test;
}

} // namespace tranche
