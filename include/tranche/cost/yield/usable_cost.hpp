// What usable meat cost by weight, and what follows from it: portions, quantities to buy, and prices that move.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstdint>
#include <optional>
#include <string>

#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

template <currency C>
struct usable_cost;

/// Throws `invalid_input` for a price or tolerance that is negative or not finite, a weight bought that is not above
/// zero, a usable weight that is negative, not finite or more than `scale_tolerance` heavier than what was bought, and
/// a primary value that is not finite. Prices are money by mass, weights kilograms.
template <currency C>
void validate(const usable_cost<C>& costs);

/// The cost of the usable part of a purchase: `primary_value` is what is left of the price once by-products are
/// credited, and `usable` carries it. With W bought at price p, U usable and V the primary value (Dittmer and Keefe,
/// Principles of Food, Beverage, and Labor Cost Controls, 9th edition, chapter 6):
///
///     yield U / W    cost c = V / U    cost factor f = c / p    portion cost = portion × c
///     quantity as bought for n portions = n × portion / yield
///
/// Nothing usable has no cost, and what was a gift has no factor: those answers are empty. Every member throws what
/// `validate` throws. Everything O(1).
template <currency C>
struct usable_cost {
    unit_price<C> price{};    ///< paid per weight as bought: finite, zero or more
    mass bought{};            ///< above zero
    mass usable{};            ///< zero or more
    money<C> primary_value{}; ///< finite; below zero where the by-products are worth more than the purchase cost
    weighing_tolerance scale_tolerance{}; ///< how much more than `bought` the usable part may weigh

    /// Usable / bought, by mass: 0 to 1, and above by the tolerance of the scales.
    [[nodiscard]] fraction yield() const {
        validate(*this);
        return usable / bought;
    }
    /// Primary value / usable weight, money by mass; below zero where by-products are worth more than was paid.
    [[nodiscard]] std::optional<unit_price<C>> per_weight() const {
        validate(*this);
        if (!(usable > mass{})) return std::nullopt;
        return primary_value / usable;
    }
    /// Cost per usable weight / price paid per weight. A plain number, below zero where the cost is.
    [[nodiscard]] std::optional<double> factor() const {
        validate(*this);
        if (!(usable > mass{}) || !(price > unit_price<C>{})) return std::nullopt;
        return *per_weight() / price;
    }
    /// What a portion of this weight cost. Throws `invalid_input` unless `portion` is above zero. In the currency, not
    /// rounded.
    [[nodiscard]] std::optional<money<C>> portion_cost(mass portion) const {
        detail::require_positive(portion, "portion");
        const std::optional<unit_price<C>> cost = per_weight();
        if (!cost) return std::nullopt;
        return portion * *cost;
    }
    /// The weight as bought that costs as much as a portion of this weight: portion × cost factor. Times a price per
    /// pound it is the cost of the portion, so its pounds are the "portion cost factor" of the textbook. Throws
    /// `invalid_input` unless `portion` is above zero.
    [[nodiscard]] std::optional<mass> portion_factor(mass portion) const {
        detail::require_positive(portion, "portion");
        const std::optional<double> f = factor();
        if (!f) return std::nullopt;
        return portion * *f;
    }
    /// Cost per usable weight when the market moves: new price × cost factor. It takes the by-products to move with the
    /// price; `repriced` keeps their values instead. Throws `invalid_input` for a price that is negative or not finite.
    /// Money by mass.
    [[nodiscard]] std::optional<unit_price<C>> per_weight_at(unit_price<C> new_price) const {
        detail::require_price<C>(new_price, "price");
        const std::optional<double> f = factor();
        if (!f) return std::nullopt;
        return *f * new_price;
    }
    /// How many whole portions come from a quantity as bought. Short of a whole portion by a billionth counts as whole,
    /// because weights are kept in whole micrograms. Throws `invalid_input` unless `quantity` is zero or more,
    /// `portion` above zero, and the number below 9e15. A plain number of portions.
    [[nodiscard]] std::int64_t portions_from(mass quantity, mass portion) const {
        detail::require_not_negative(quantity, "quantity");
        detail::require_positive(portion, "portion");
        const double count = quantity * yield() / portion;
        if (!(count < 9e15)) throw invalid_input("portion", portion, "one that gives fewer than 9e15 portions");
        return static_cast<std::int64_t>(std::floor(count * (1.0 + 1e-9)));
    }
    /// The quantity to buy for that many portions; none at a yield of zero. Throws `invalid_input` for a negative
    /// number and unless `portion` is above zero. In kilograms; `portions` is zero or more.
    [[nodiscard]] std::optional<mass> quantity_for(std::int64_t portions, mass portion) const {
        if (portions < 0) throw invalid_input("portions", std::to_string(portions), "zero or more");
        detail::require_positive(portion, "portion");
        validate(*this);
        if (portions == 0) return mass{};
        if (!(usable > mass{})) return std::nullopt;
        return static_cast<double>(portions) * portion / yield();
    }

    friend bool operator==(const usable_cost&, const usable_cost&) = default;
};

template <currency C>
void validate(const usable_cost<C>& costs) {
    detail::require_price<C>(costs.price, "price");
    detail::require_positive(costs.bought, "bought");
    detail::require_not_negative(costs.usable, "usable");
    validate(costs.scale_tolerance);
    detail::require_not_heavier(costs.usable, costs.bought, costs.scale_tolerance, "usable",
                                "no more than what was bought, ");
    if (!std::isfinite(costs.primary_value.value()))
        throw invalid_input("primary_value", detail::shown(costs.primary_value.value()) + ' ' + std::string(C::code),
                            "a finite sum of money");
}

} // namespace tranche
