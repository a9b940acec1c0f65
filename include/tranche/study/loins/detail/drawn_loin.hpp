// One draw of a study: the figures that vary, put where they belong, and why they may not be.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/loin/loin_factors.hpp>
#include <tranche/study/loins/loin_terms.hpp>
#include <tranche/study/vary/loin_variation.hpp>
#include <tranche/study/vary/varied.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// Reasons of impossible draws: those of `impossible_loin` in their order, and these behind them.
enum class bad_draw : std::size_t {
    knife = static_cast<std::size_t>(impossible_loin::gluteus_medius_share) + 1,
    fat_left,
    purge,
    cooking_yield,
    price,
    covers,
    knife_slipped,
    rules,
    session
};

[[nodiscard]] inline std::vector<std::string> reasons_of_bad_draws() {
    std::vector<std::string> reasons;
    for (std::size_t i = 0; i <= static_cast<std::size_t>(impossible_loin::gluteus_medius_share); ++i)
        reasons.emplace_back(name_of(static_cast<impossible_loin>(i)));
    for (const std::string_view reason :
         {"knife spread below zero", "fat left below zero", "purge below zero or all of the loin",
          "cooking yield outside of 0 to 1", "price below zero", "covers below zero",
          "a cut fell in front of the one before it", "cuts and rules do not fit on the loin",
          "a reading that the session refuses"})
        reasons.emplace_back(reason);
    return reasons;
}

/// What is drawn for one loin.
struct drawn_loin {
    loin_factors by{};
    std::optional<mass> bought{}; ///< as bought, where weights vary
    double bias = 0.0, spread = 0.0, fat_left = 0.0;
    double purge = 0.0, cooking_yield = 1.0;
    double price = 1.0, portion_prices = 1.0, by_product_values = 1.0, ready_price = 1.0;
    double covers = 0.0;

    explicit drawn_loin(const loin_task& task)
        : bias(task.hand.knife.bias.value()), spread(task.hand.knife.spread.value()), purge(task.purge),
          cooking_yield(task.cooking_yield), covers(static_cast<double>(task.covers.value_or(0))) {}

    void set(varied what, double value) {
        switch (what) {
        case varied::weight: bought = mass::from_value(value); break;
        case varied::loin_length: by.length = value; break;
        case varied::width: by.width = value; break;
        case varied::depth: by.depth = value; break;
        case varied::fat_cover: by.fat_cover = value; break;
        case varied::tail: by.tail = value; break;
        case varied::fill: by.fill = value; break;
        case varied::gluteus_medius_onset: by.gluteus_medius_onset = value; break;
        case varied::gluteus_medius_share: by.gluteus_medius_share = value; break;
        case varied::knife_bias: bias = value; break;
        case varied::knife_spread: spread = value; break;
        case varied::fat_left: fat_left = value; break;
        case varied::purge: purge = value; break;
        case varied::cooking_yield: cooking_yield = value; break;
        case varied::price: price = value; break;
        case varied::portion_prices: portion_prices = value; break;
        case varied::by_product_values: by_product_values = value; break;
        case varied::ready_price: ready_price = value; break;
        case varied::covers: covers = value; break;
        }
    }

    /// What is wrong with all but the loin itself.
    [[nodiscard]] std::optional<bad_draw> why_not() const {
        const auto some = [](double value) { return value >= 0.0 && std::isfinite(value); };
        if (!some(spread) || !std::isfinite(bias)) return bad_draw::knife;
        if (!std::isfinite(fat_left)) return bad_draw::fat_left;
        if (!(purge >= 0.0 && purge < 1.0)) return bad_draw::purge;
        if (!(cooking_yield >= 0.0 && cooking_yield <= 1.0)) return bad_draw::cooking_yield;
        if (!some(price) || !some(portion_prices) || !std::isfinite(by_product_values) || !some(ready_price))
            return bad_draw::price;
        if (!(covers >= 0.0 && covers < 1e9)) return bad_draw::covers;
        return std::nullopt;
    }
};

} // namespace tranche::detail
