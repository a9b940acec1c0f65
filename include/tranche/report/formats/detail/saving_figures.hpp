// Steps and grids of a saving as numbers, so that what shows them is compiled once for all currencies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/cost/savings/savings_grid.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

template <class Quantity>
[[nodiscard]] break_even<double> plain(const break_even<Quantity>& even) {
    return {even.at ? std::optional<double>(even.at->value()) : std::nullopt, even.saves_anyway};
}

/// A `cost_step`, whatever the currency.
struct step_figures {
    savings_part part{};
    const std::string* text = nullptr;
    micrograms weight{};
    std::int64_t change = 0, level = 0;
    bool total = false;
};

/// Of steps that outlive them.
template <currency C>
[[nodiscard]] std::vector<step_figures> figures_of(const std::vector<cost_step<C>>& steps) {
    std::vector<step_figures> figures;
    figures.reserve(steps.size());
    for (const cost_step<C>& s : steps)
        figures.push_back({s.part, &s.text, s.weight, s.change.minor, s.level.minor, s.total});
    return figures;
}

/// A `savings_grid`, whatever the currency. Prices are those of a kilogram.
struct grid_figures {
    const std::string* against = nullptr;
    std::vector<double> prices{};
    const std::vector<fraction>* yields = nullptr;
    std::vector<std::vector<std::int64_t>> net_saving{};
    std::vector<break_even<double>> break_evens{};
    double price = 0.0;
    fraction yield = 0.0;
};

/// Of a grid that outlives them.
template <currency C>
[[nodiscard]] grid_figures figures_of(const savings_grid<C>& grid) {
    grid_figures figures{
        .against = &grid.against, .yields = &grid.yields, .price = grid.price.value(), .yield = grid.yield};
    for (const unit_price<C>& price : grid.prices) figures.prices.push_back(price.value());
    for (const auto& row : grid.net_saving) {
        figures.net_saving.emplace_back();
        for (const amount<C> a : row) figures.net_saving.back().push_back(a.minor);
    }
    for (const auto& even : grid.break_evens) figures.break_evens.push_back(plain(even));
    return figures;
}

} // namespace tranche::detail
