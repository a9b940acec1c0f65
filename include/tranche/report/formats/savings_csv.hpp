// Savings, what-if grids and offers as comma-separated values, exact to the minor unit, for a spreadsheet.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/savings/offers.hpp>
#include <tranche/cost/savings/savings_grid.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/detail/saving_figures.hpp>
#include <tranche/report/tables/savings_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// A saving and the lists of it that `savings_csv` writes, whatever the currency.
struct saving_lists {
    const std::string* against = nullptr;
    std::vector<step_figures> steps{};
    micrograms bought{};
    std::int64_t gross = 0;
    std::vector<step_figures> differences{};
};

template <class = when_called>
TRANCHE_COLD void add_saving(std::string& text, const saving_lists& s, const iso_currency& in) {
    const auto add = [&](const char* list, std::string_view what, micrograms weight, std::int64_t value) {
        text += csv_record(
            {csv_text(*s.against), list, csv_text(what), csv_grams(weight), money_number(value, in), in.code});
    };
    for (const step_figures& step : s.steps) add(step.total ? "total" : "money", *step.text, step.weight, step.change);
    add("gross", "gross saving", s.bought, s.gross);
    for (const step_figures& line : s.differences) add("difference", *line.text, line.weight, line.change);
}

template <class = when_called>
TRANCHE_COLD void add_grid(std::string& text, const grid_figures& grid, const iso_currency& in) {
    for (std::size_t i = 0; i < grid.yields->size(); ++i)
        for (std::size_t k = 0; k < grid.prices.size(); ++k) {
            const auto& even = grid.break_evens[i].at;
            text +=
                csv_record({csv_text(*grid.against), shown((*grid.yields)[i]), csv_per_kilogram(grid.prices[k], in),
                            money_number(grid.net_saving[i][k], in), even ? csv_per_kilogram(*even, in) : "", in.code});
        }
}

template <class = when_called>
TRANCHE_COLD void add_offer(std::string& text, const offer_figures& o, micrograms edible, double portions,
                            const iso_currency& in) {
    text += csv_record({std::to_string(o.rank), csv_text(*o.name), csv_per_kilogram(o.price, in), shown(o.yield),
                        shown(o.edible_share), csv_grams(edible), shown(portions),
                        csv_per_kilogram(o.edible_portion_cost, in), money_number(o.cost_per_portion, in),
                        o.worth_up_to ? csv_per_kilogram(*o.worth_up_to, in) : "", in.code});
}

} // namespace detail

/// Three lists of each saving, told apart by `list`: `money` has the steps of `cost_breakdown` from nothing to the net
/// saving, `gross` the gross saving, `difference` the steps from there to the net saving. What is no `total` adds up to
/// it: the steps of `money`, and `gross` with `difference`. Throws what `cost_breakdown` throws. O(lines). Weights are
/// grams, money has the decimals of its minor unit.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string savings_csv(const std::vector<savings<C>>& saved, const yield_test<C>& test) {
    std::string text = detail::csv_record({"against", "list", "text", "weight_g", "value", "currency"});
    for (const savings<C>& s : saved) {
        const std::vector<cost_step<C>> steps = cost_breakdown(s, test);
        detail::saving_lists lists{&s.against, detail::figures_of(steps), test.whole, s.gross_saving.minor, {}};
        for (const savings_line<C>& line : s.differences)
            lists.differences.push_back({.text = &line.text, .weight = line.weight, .change = line.value.minor});
        detail::add_saving(text, lists, detail::iso_form<C>());
    }
    return text;
}

/// One record for each cell of the grids. Prices are per kilogram; the break-even price is empty where there is none.
/// O(cells). Yields are shares. Throws as `to_text` for a number that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string savings_grid_csv(const std::vector<savings_grid<C>>& grids) {
    std::string text =
        detail::csv_record({"against", "yield", "price_per_kg", "net_saving", "break_even_price_per_kg", "currency"});
    for (const savings_grid<C>& grid : grids) detail::add_grid(text, detail::figures_of(grid), detail::iso_form<C>());
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
        detail::add_offer(text, detail::figures_of(o), to_micrograms(o.edible), o.portions, detail::iso_form<C>());
    return text;
}

} // namespace tranche
