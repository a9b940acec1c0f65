// What usable meat cost as a table: by weight, by portion, and what to buy for a number of portions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include <tranche/cost/yield/usable_cost.hpp>
#include <tranche/packs/net_weight.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/config.hpp>
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

/// Yield; cost by the weight that prices are read in, and by the small one beside it (an ounce beside a pound, 100 g
/// beside a kilogram); cost factor; then the cost of a portion, its factor (the weight as bought that costs as much), and
/// the answers asked for; what to buy is rounded up to what the units write. What has no answer, because nothing is usable
/// or nothing was paid, says "none". Throws as `usable_cost`. O(1).
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table usable_cost_table(const usable_cost<C>& costs, const portion_questions& asked,
                                                          const kitchen_units& units) {
    report_table table;
    table.columns = {{""}, {"", report_table::align::right}};
    const auto add = [&](const std::string& what, const std::optional<std::string>& answer) {
        table.rows.push_back({.cells = {what, answer.value_or("none")}});
    };
    const auto written = [](const auto& value, auto write) {
        return value ? std::optional<std::string>(write(*value)) : std::nullopt;
    };
    const bool metric = units.basis == price_basis::per_kilogram || units.basis == price_basis::per_100_grams;
    const price_basis large = metric ? price_basis::per_kilogram : price_basis::per_pound;
    const price_basis small = metric ? price_basis::per_100_grams : price_basis::per_ounce;
    const std::string portion = to_text(asked.portion, units.portion);

    add("Yield: usable out of what was bought", percent_text(costs.yield()));
    for (const price_basis basis : {large, small})
        add(std::string("Cost of a usable ") + (basis == price_basis::per_pound      ? "pound"
                                                : basis == price_basis::per_ounce    ? "ounce"
                                                : basis == price_basis::per_kilogram ? "kilogram"
                                                                                     : "100 g"),
            written(costs.per_weight(),
                    [&](unit_price<C> cost) { return to_text(cost, basis, basis == small ? 2 : 0); }));
    add("Cost factor: that over the price paid",
        written(costs.factor(), [](double factor) { return to_text(factor, 3); }));
    add("Cost of a portion of " + portion, written(costs.portion_cost(asked.portion), [](money<C> cost) {
            return to_text(rounded<C>(cost, rounding::half_even));
        }));
    add("Weight as bought that costs as much",
        written(costs.portion_factor(asked.portion), [&](mass weight) { return to_text(weight, units.portion); }));
    if (asked.quantity)
        add("Portions from " + to_text(*asked.quantity, units.bulk) + " as bought",
            std::to_string(costs.portions_from(*asked.quantity, asked.portion)));
    if (asked.portions)
        add("To buy for " + std::to_string(*asked.portions) + " portions",
            written(costs.quantity_for(*asked.portions, asked.portion),
                    [&](mass weight) { // a billionth short is enough, see `portions_from`
                        return detail::text_from_above(to_micrograms(weight * (1.0 - 1e-9)), units.bulk);
                    }));
    return table;
}

} // namespace tranche
