// Savings, what-if grids and offers as comma-separated values, exact to the minor unit, for a spreadsheet.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/savings/offers.hpp>
#include <tranche/cost/savings/savings_grid.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/units/detail/config.hpp>

namespace tranche {

namespace detail {

/// A price per kilogram with four digits beyond the minor unit.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string csv_per_kilogram(unit_price<C> price) {
    return csv_price((price * kilogram).value(), C::minor_digits + 4);
}

} // namespace detail

/// Three lists of each saving, told apart by `list`: `money` has the steps of `cost_breakdown` from nothing to the net
/// saving, `gross` the gross saving, `difference` the steps from there to the net saving. What is no `total` adds up
/// to it: the steps of `money`, and `gross` with `difference`. Throws what `cost_breakdown` throws. O(lines).
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string savings_csv(const std::vector<savings<C>>& saved, const yield_test<C>& test) {
    std::string text = detail::csv_record({"against", "list", "text", "weight_g", "value", "currency"});
    const std::string code(C::code);
    for (const savings<C>& s : saved) {
        const auto add = [&](const char* list, std::string_view what, micrograms weight, amount<C> value) {
            text += detail::csv_record({detail::csv_text(s.against), list, detail::csv_text(what),
                                        detail::csv_grams(weight), detail::number_of(value), code});
        };
        for (const cost_step<C>& step : cost_breakdown(s, test))
            add(step.total ? "total" : "money", step.text, step.weight, step.change);
        add("gross", "gross saving", test.whole, s.gross_saving);
        for (const savings_line<C>& line : s.differences) add("difference", line.text, line.weight, line.value);
    }
    return text;
}

/// One record for each cell of the grids. Prices are per kilogram; the break-even price is empty where there is none.
/// O(cells). Yields are shares. Throws as `to_text` for a number that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string savings_grid_csv(const std::vector<savings_grid<C>>& grids) {
    std::string text =
        detail::csv_record({"against", "yield", "price_per_kg", "net_saving", "break_even_price_per_kg", "currency"});
    for (const savings_grid<C>& grid : grids)
        for (std::size_t i = 0; i < grid.yields.size(); ++i)
            for (std::size_t k = 0; k < grid.prices.size(); ++k) {
                const auto& even = grid.break_evens[i].at;
                text += detail::csv_record({detail::csv_text(grid.against), detail::shown(grid.yields[i]),
                                            detail::csv_per_kilogram<C>(grid.prices[k]),
                                            detail::number_of(grid.net_saving[i][k]),
                                            even ? detail::csv_per_kilogram<C>(*even) : "", std::string(C::code)});
            }
    return text;
}

/// Offers in their order, one record each. Prices are per kilogram; `worth_up_to_per_kg` is empty where there is none.
/// O(offers). Throws as `to_text` for a number that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string offers_csv(const std::vector<ranked_offer<C>>& offers) {
    std::string text =
        detail::csv_record({"rank", "offer", "price_per_kg", "yield", "edible_share", "edible_g", "portions",
                            "cost_per_edible_kg", "cost_per_portion", "worth_up_to_per_kg", "currency"});
    for (const ranked_offer<C>& o : offers)
        text += detail::csv_record(
            {std::to_string(o.rank), detail::csv_text(o.offer.name), detail::csv_per_kilogram<C>(o.offer.bought.price),
             detail::shown(fraction(o.offer.portions / o.offer.bought.weight)), detail::shown(o.offer.edible_share),
             detail::csv_grams(to_micrograms(o.edible)), detail::shown(o.portions),
             detail::csv_per_kilogram<C>(o.edible_portion_cost), detail::number_of(o.cost_per_portion),
             o.worth_up_to ? detail::csv_per_kilogram<C>(*o.worth_up_to) : "", std::string(C::code)});
    return text;
}

} // namespace tranche
