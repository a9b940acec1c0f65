// The portion on the plate: its weight before cooking, its cost, its menu price, and how many guests it serves.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstdint>
#include <optional>
#include <string>

#include <tranche/cost/yield/purchase.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

namespace detail {

/// Throws unless 0 < `value` <= 1.
inline void require_positive_share(fraction value, const std::string& field) {
    if (!(value > 0.0 && value <= 1.0)) throw invalid_input(field, detail::shown(value), "a share above 0, at most 1");
}

} // namespace detail

/// What a raw portion weighs once cooked, in kilograms, zero or more: raw × cooking yield. Throws `invalid_input` for a
/// weight that is negative or not finite, and a yield that is not above 0 and at most 1. Yields by cut and method:
/// `known_cooking_yields`, each with its source. O(1).
[[nodiscard]] inline mass cooked_portion(mass raw, fraction cooking_yield) {
    detail::require_not_negative(raw, "raw");
    detail::require_positive_share(cooking_yield, "cooking_yield");
    return raw * cooking_yield;
}
/// What to cut for a portion of that weight on the plate, in kilograms, zero or more: cooked / cooking yield. Throws as
/// `cooked_portion`. Source of the formula: common practice, and Dittmer and Keefe, 9th edition, chapter 6. O(1).
[[nodiscard]] inline mass raw_portion(mass cooked, fraction cooking_yield) {
    detail::require_not_negative(cooked, "cooked");
    detail::require_positive_share(cooking_yield, "cooking_yield");
    return cooked / cooking_yield;
}
/// How many guests that many portions serve: the whole part of portions / portions each. Throws `invalid_input` for
/// negative portions, and fewer than one each. Plain whole numbers. O(1). Common practice, no source.
[[nodiscard]] inline std::int64_t guests_served(std::int64_t portions, std::int64_t portions_each = 1) {
    if (portions < 0) throw invalid_input("portions", std::to_string(portions), "zero or more");
    if (portions_each < 1) throw invalid_input("portions_each", std::to_string(portions_each), "one or more");
    return portions / portions_each;
}

namespace detail {

/// The prices that a menu prints: whole steps and an ending, such as every whole dollar and 95 cents.
template <currency C>
struct menu_steps {
    amount<C> step{1};  ///< above zero
    amount<C> ending{}; ///< zero or more and below the step
};

} // namespace detail

/// The food on one plate: the meat, at the cost of its portion, and everything else. Both zero or more, and finite.
///
///     food-cost percentage = food cost / menu price        menu price = food cost / food-cost percentage
///
/// (Dittmer and Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th edition, chapter 6; the formulas are
/// common practice.) Menu prices are before tax and service. Percentages are shares, above 0 and at most 1 where they
/// are asked for. Everything throws `invalid_input` for a cost, price or share outside these limits. O(1).
template <currency C>
struct plate_cost {
    money<C> meat{};
    money<C> other{}; ///< garnish, sauce, fat, bread

    /// meat + other, in the currency, not rounded, zero or more.
    [[nodiscard]] money<C> food() const {
        detail::require_money<C>(meat, "meat");
        detail::require_money<C>(other, "other");
        return meat + other;
    }
    /// Food cost / menu price; above 1 where the plate costs more than it sells for. `price` is above zero. A plain
    /// share.
    [[nodiscard]] fraction food_cost_percentage(money<C> price) const {
        detail::require_positive(price.value(), "price");
        return food() / price;
    }
    /// The price at which food costs that share of it, not rounded. In the currency; `percentage` is above 0 and at
    /// most 1.
    [[nodiscard]] money<C> menu_price(fraction percentage) const {
        detail::require_positive_share(percentage, "percentage");
        return food() / percentage;
    }
    /// The lowest price the menu can print at which food costs no more than that share. A millionth of a minor unit is
    /// taken for rounding. Throws also for steps that are none, and a price beyond 9e15 minor units. In minor units:
    /// `step` is 1 to 9e15 of them, `ending` zero or more and below it.
    [[nodiscard]] amount<C> menu_price(fraction percentage, detail::menu_steps<C> steps) const {
        const std::int64_t step = steps.step.minor, ending = steps.ending.minor;
        if (step < 1 || step > 9'000'000'000'000'000)
            throw invalid_input("step", std::to_string(step), "one minor unit or more, at most 9e15");
        if (ending < 0 || ending >= step)
            throw invalid_input("ending", std::to_string(ending), "zero or more minor units, below the step");
        const double exact = menu_price(percentage).value() * static_cast<double>(detail::minor_units_in_one<C>());
        if (!(exact < 9e15)) throw invalid_input("menu price", detail::shown(exact), "fewer than 9e15 minor units");
        const auto least = static_cast<std::int64_t>(std::ceil(exact - 1e-6));
        const std::int64_t steps_up = least > ending ? (least - ending - 1) / step + 1 : 0;
        return {steps_up * step + ending};
    }
    /// Menu price - food cost: what a plate leaves for everything but food. Below zero where the food costs more.
    /// `price` is zero or more, in the currency.
    [[nodiscard]] money<C> gross_margin(money<C> price) const {
        detail::require_money<C>(price, "price");
        return price - food();
    }
    /// The largest portion, by the weight that `cost` is a price of, that keeps food within a share of the menu price:
    /// (price × percentage - other) / cost. Zero where the rest of the plate takes it all; none where meat costs
    /// nothing. In kilograms; `price` and `cost` are zero or more.
    [[nodiscard]] std::optional<mass> largest_portion(money<C> price, fraction percentage, unit_price<C> cost) const {
        detail::require_money<C>(price, "price");
        detail::require_positive_share(percentage, "percentage");
        detail::require_price<C>(cost, "cost");
        detail::require_money<C>(other, "other");
        if (!(cost > unit_price<C>{})) return std::nullopt;
        const money<C> left = detail::unfused(price * percentage) - other;
        if (!(left > money<C>{})) return mass{};
        return mass(left / cost);
    }

    friend bool operator==(const plate_cost&, const plate_cost&) = default;
};

} // namespace tranche
