// The cutting-yield test as the textbooks have it: what the usable meat cost once the rest is credited.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cost/yield/usable_cost.hpp>
#include <tranche/cost/yield/weighed_part.hpp>
#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// The result of a cutting-yield test. Amounts are what a bill says and add up exactly; rates come from unrounded
/// values.
template <currency C>
struct yield_test {
    tranche::purchase<C> purchase{};
    micrograms whole{};
    std::vector<yield_line<C>> lines;
    amount<C> paid{};   ///< whole × price
    amount<C> credit{}; ///< Σ of the by-products' credits
    amount<C>
        primary_value{}; ///< paid - credit: what the usable part cost; where nothing is usable, what nothing carries
    micrograms usable{};
    money<C> unrounded_primary_value{};
    weighing_tolerance scale_tolerance{}; ///< within which the parts add up: the usable ones may weigh so much more

    /// The same as rates: cost per weight, cost factor, portions and quantities to buy. Money by mass, not rounded.
    /// Throws nothing; the members of what it gives do.
    [[nodiscard]] usable_cost<C> costs() const {
        return {purchase.price, to_mass(whole), to_mass(usable), unrounded_primary_value, scale_tolerance};
    }
    /// usable / whole. A share by mass, 0 to 1, and above by the tolerance of the scales. Throws what `usable_cost`
    /// does, as the next two; a test that was made by the functions below throws nothing. Source of the three:
    /// `cutting_yield_test`.
    [[nodiscard]] fraction yield() const { return costs().yield(); }
    /// Primary value / usable weight; none when nothing is usable. Money by mass. Throws as `yield`.
    [[nodiscard]] std::optional<unit_price<C>> cost_per_usable() const { return costs().per_weight(); }
    /// Cost per usable weight / price paid per weight; none when nothing is usable or nothing was paid. A plain number.
    /// Throws as `yield`.
    [[nodiscard]] std::optional<double> cost_factor() const { return costs().factor(); }

    friend bool operator==(const yield_test&, const yield_test&) = default;
};

namespace detail {

/// `cutting_yield_test`, with the micrograms up to which what the parts miss is put down to rounding.
template <currency C>
[[nodiscard]] yield_test<C> test_of_parts(const purchase<C>& bought, const std::vector<weighed_part<C>>& parts,
                                          const weighing_tolerance& scale_tolerance, std::int64_t rounding_slack,
                                          rounding how) {
    validate(bought);
    yield_test<C> test;
    test.purchase = bought;
    test.scale_tolerance = scale_tolerance;
    test.whole = to_micrograms(bought.weight, "purchase.weight");
    if (test.whole.count == 0) throw invalid_input("purchase.weight", bought.weight, "at least a microgram");
    test.paid = rounded<C>(bought.cost(), how, "cost of the purchase");

    weighed_parts<C> weighed =
        weigh(parts, test.whole, "the purchase", test.whole, scale_tolerance, rounding_slack, how);
    test.lines = std::move(weighed.lines);
    test.usable = weighed.usable;
    test.credit = weighed.credit;
    test.unrounded_primary_value = bought.cost() - weighed.unrounded_credit;
    test.primary_value = test.paid - test.credit;
    return test;
}

} // namespace detail

/// ratio = part / whole; primary value = total cost - Σ by-product values; cost per usable weight = primary value /
/// usable weight; cost factor = cost per usable weight / price paid (Dittmer and Keefe, Principles of Food, Beverage,
/// and Labor Cost Controls, 9th edition, chapter 6).
///
/// The parts must add up to the purchase within `scale_tolerance`; what they miss then becomes a loss line of its own
/// ("unaccounted for", negative when they weigh more, which was not paid for). A miss of no more than a microgram a part comes from rounding
/// and goes to the heaviest part instead, the first of several. Throws `invalid_input` for a bad purchase, no parts, a
/// bad part (see `validate`), one that is heavier than the whole, or a sum beyond the tolerance, and says by how much;
/// also where 64 bits do not hold an amount. O(parts). The weight bought is above zero, its price and all weights zero
/// or more, values any finite ones. Masses are whole micrograms, amounts minor units, rates not rounded.
template <currency C>
[[nodiscard]] yield_test<C> cutting_yield_test(const purchase<C>& bought, const std::vector<weighed_part<C>>& parts,
                                               const weighing_tolerance& scale_tolerance = {},
                                               rounding how = rounding::half_even) {
    return detail::test_of_parts(bought, parts, scale_tolerance, static_cast<std::int64_t>(parts.size()), how);
}

template <currency C>
yield_test<C> cutting_yield_test(const detail::purchase_with_price_in_another_currency<C>& bought,
                                 const std::vector<weighed_part<C>>& parts,
                                 const weighing_tolerance& scale_tolerance = {},
                                 rounding how = rounding::half_even) = delete;

/// The same test at another price of the whole, each by-product at the value it had. Cost per usable weight then moves
/// by the change of price / yield; `usable_cost::per_weight_at`, the textbook's cost factor, takes the by-products to
/// move in proportion, and so says less when prices rise, and more when they fall, by the by-products' share. Throws
/// `invalid_input` for a price that is negative or not finite, and where 64 bits do not hold an amount. O(lines). Money
/// by mass; amounts are in minor units, rounded as `how` says.
template <currency C>
[[nodiscard]] yield_test<C> repriced(yield_test<C> test, unit_price<C> price, rounding how = rounding::half_even) {
    detail::require_price<C>(price, "price");
    test.unrounded_primary_value += detail::unfused((price - test.purchase.price) * test.purchase.weight);
    test.purchase.price = price;
    test.paid = rounded<C>(test.purchase.cost(), how, "cost of the purchase");
    test.primary_value = test.paid - test.credit;
    return test;
}

} // namespace tranche
