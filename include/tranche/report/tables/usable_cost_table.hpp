// What usable meat cost as a table: by weight, by portion, and what to buy for a number of portions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>

#include <tranche/cost/yield/usable_cost.hpp>
#include <tranche/packs/net_weight.hpp>
#include <tranche/report/formats/detail/figure_lines.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// What is asked of a cost: for portions of which weight (above zero), how many come from which quantity as bought, and
/// what has to be bought for how many. The last two are left out of the table where they are empty.
struct portion_questions {
    mass portion{};
    std::optional<mass> quantity{};
    std::optional<std::int64_t> portions{};

    friend bool operator==(const portion_questions&, const portion_questions&) = default;
};

namespace detail {

/// A `usable_cost` and what was asked of it, whatever the currency. Prices are those of a kilogram.
struct usable_figures {
    fraction yield = 0.0;
    std::optional<double> per_weight{}, factor{};
    std::optional<std::int64_t> portion_cost{};
    std::optional<mass> portion_factor{};
    std::int64_t portions = 0;
    std::optional<mass> quantity{};
};

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table usable_cost_table(const usable_figures& costs, const portion_questions& asked,
                                                          const iso_currency& in, const kitchen_units& units) {
    figure_lines add;
    const std::string none = "none";
    const bool metric = units.basis == price_basis::per_kilogram || units.basis == price_basis::per_100_grams;
    const price_basis large = metric ? price_basis::per_kilogram : price_basis::per_pound;
    const price_basis small = metric ? price_basis::per_100_grams : price_basis::per_ounce;

    add("Yield: usable out of what was bought", percent_text(costs.yield));
    for (const price_basis basis : {large, small})
        add(std::string("Cost of a usable ") + (basis == price_basis::per_pound      ? "pound"
                                                : basis == price_basis::per_ounce    ? "ounce"
                                                : basis == price_basis::per_kilogram ? "kilogram"
                                                                                     : "100 g"),
            costs.per_weight
                ? to_text(*costs.per_weight * basis_mass(basis).value(), in.minor_digits + (basis == small ? 2 : 0)) +
                      ' ' + in.code + '/' + basis_name(basis)
                : none);
    add("Cost factor: that over the price paid", costs.factor ? to_text(*costs.factor, 3) : none);
    add("Cost of a portion of " + to_text(asked.portion, units.portion),
        costs.portion_cost ? money_text(*costs.portion_cost, in) : none);
    add("Weight as bought that costs as much",
        costs.portion_factor ? to_text(*costs.portion_factor, units.portion) : none);
    if (asked.quantity)
        add("Portions from " + to_text(*asked.quantity, units.bulk) + " as bought", std::to_string(costs.portions));
    if (asked.portions) // a billionth short is enough, see `portions_from`
        add("To buy for " + std::to_string(*asked.portions) + " portions",
            costs.quantity ? text_from_above(to_micrograms(*costs.quantity * (1.0 - 1e-9)), units.bulk) : none);
    return std::move(add).table();
}

} // namespace detail

/// Yield; cost by the weight that prices are read in, and by the small one beside it (an ounce beside a pound, 100 g
/// beside a kilogram); cost factor; then the cost of a portion, its factor (the weight as bought that costs as much),
/// and the answers asked for; what to buy is rounded up to what the units write. What has no answer, because nothing is
/// usable or nothing was paid, says "none". Throws as `usable_cost`. O(1). Weights and prices are written in `units`,
/// money to the minor unit.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table usable_cost_table(const usable_cost<C>& costs, const portion_questions& asked,
                                                          const kitchen_units& units) {
    detail::usable_figures figures{.yield = costs.yield(),
                                   .per_weight = detail::plain(costs.per_weight()),
                                   .factor = costs.factor(),
                                   .portion_factor = costs.portion_factor(asked.portion)};
    if (const auto cost = costs.portion_cost(asked.portion))
        figures.portion_cost = rounded<C>(*cost, rounding::half_even).minor;
    if (asked.quantity) figures.portions = costs.portions_from(*asked.quantity, asked.portion);
    if (asked.portions) figures.quantity = costs.quantity_for(*asked.portions, asked.portion);
    return detail::usable_cost_table(figures, asked, detail::iso_form<C>(), units);
}

} // namespace tranche
