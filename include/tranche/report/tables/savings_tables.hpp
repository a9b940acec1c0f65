// The tables of a saving: the net saving, how the gross saving differs from it, and where it would be zero.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/savings/offers.hpp>
#include <tranche/cost/savings/savings_grid.hpp>
#include <tranche/report/formats/detail/round_step.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// A weight in bulk; nothing for none.
template <class = when_called>
[[nodiscard]] std::string weight_cell(micrograms weight, const kitchen_units& units) {
    return weight.count == 0 ? "" : number_of(to_mass(weight), units.bulk);
}

template <currency C>
[[nodiscard]] report_table lines_table(const std::string& head, const std::vector<savings_line<C>>& lines,
                                       const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {
        {head}, {headed_in("Weight", unit_name(units.bulk)), right}, {"Value, " + std::string(C::code), right}};
    for (const savings_line<C>& line : lines)
        table.rows.push_back({.cells = {line.text, weight_cell(line.weight, units), number_of(line.value)}});
    return table;
}

template <currency C>
[[nodiscard]] std::string saved_or_lost(amount<C> net) {
    return net < amount<C>{} ? "lost by cutting" : "saved by cutting";
}

/// A value at which a saving is zero, or what happens at every value.
template <class Quantity, class Write>
[[nodiscard]] std::string break_even_text(const break_even<Quantity>& even, Write write) {
    return even.at ? write(*even.at) : even.saves_anyway ? "none: it saves anyway" : "none: it never saves";
}

} // namespace detail

/// Where each unit of money went, step by step, and where each step leads; see `cost_breakdown`. The last one is the net
/// saving, which is negative where cutting lost money. Weights, lengths and prices are written in `units`; throws as
/// `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] report_table cost_breakdown_table(const std::vector<cost_step<C>>& steps, const kitchen_units& units,
                                                const std::string& head = "Cutting it, against buying ready cut") {
    const auto right = report_table::align::right;
    const std::string code(C::code);
    report_table table;
    table.columns = {{head},
                     {detail::headed_in("Weight", detail::unit_name(units.bulk)), right},
                     {"Money, " + code, right},
                     {"So far, " + code, right}};
    for (const cost_step<C>& step : steps)
        table.rows.push_back(
            {.cells = {step.text, detail::weight_cell(step.weight, units),
                       step.total ? "" : detail::number_of(step.change), detail::number_of(step.level)},
             .total = step.total});
    return table;
}

/// From the gross saving, which takes all that was bought for steak, to the net saving, line by line. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] report_table difference_table(const savings<C>& saved, const kitchen_units& units) {
    report_table table = detail::lines_table("From the gross saving to the net saving", saved.differences, units);
    table.rows.insert(table.rows.begin(), {.cells = {"gross saving: all that was bought, taken for steak", "",
                                                     detail::number_of(saved.gross_saving)}});
    table.rows.push_back(
        {.cells = {detail::saved_or_lost(saved.net_saving), "", detail::number_of(saved.net_saving)}, .total = true});
    return table;
}

/// The net saving beside the gross one, what is wanted of either side, and where the net saving would be
/// zero. Weights, lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] report_table break_even_table(const savings<C>& saved, const kitchen_units& units) {
    report_table table;
    table.columns = {{""}, {"", report_table::align::right}};
    const auto add = [&](const std::string& what, const std::string& value) {
        table.rows.push_back({.cells = {what, value}});
    };
    const auto price = [&](unit_price<C> p) { return detail::price_text<C>(p, units); };
    const bool others = saved.net_saving_without_others != saved.net_saving;
    add("Gross saving, which takes all that was bought for steak", to_text(saved.gross_saving));
    add("Net saving", to_text(saved.net_saving));
    if (others) add("Net saving, if the other portions are worth nothing", to_text(saved.net_saving_without_others));
    if (saved.ready_edible_share != saved.own_edible_share) {
        add("Wanted of the portions, by weight", percent_text(saved.own_edible_share));
        add("Wanted of " + saved.against + ", by weight", percent_text(saved.ready_edible_share));
    }
    add("Break-even price of the whole loin", detail::break_even_text(break_even_price(saved.terms), price));
    if (others)
        add("Break-even price, if the other portions are worth nothing",
            detail::break_even_text(break_even_price(saved.terms.without_other_portions()), price));
    add("Break-even price of " + saved.against, detail::break_even_text(break_even_ready_price(saved.terms), price));
    if (saved.terms.time > duration{})
        add("Break-even wage",
            detail::break_even_text(break_even_wage(saved.terms), [](wage<C> w) { return to_text(w); }));
    add("Yield of portions", percent_text(saved.terms.yield()));
    add("Break-even yield of portions",
        detail::break_even_text(break_even_yield(saved.terms), [](fraction y) { return percent_text(y); }));
    return table;
}

/// Prices and yields around those of a saving, for reports: up to three steps to each side, of two points of yield, and of
/// about 5 % of the price or wider, so that three steps reach the price that breaks even; fewer steps where `width`
/// columns of text do not hold the figures. None where there is nothing to vary: no portions, no prices. Throws as
/// `tabulate_savings`.
template <currency C>
[[nodiscard]] std::optional<savings_grid<C>> savings_grid_around(const savings<C>& saved, const kitchen_units& units,
                                                                 std::size_t width = detail::report_width) {
    const mass basis = detail::basis_mass(units.basis);
    const unit_price<C> paid = saved.terms.bought.price;
    double wide = 0.05 * ((paid > unit_price<C>{} ? paid : saved.terms.ready_price) * basis).value();
    if (!(wide > 0.0) || !(saved.terms.portions > mass{})) return std::nullopt;
    if (const auto even = break_even_price(saved.terms); even.at)
        wide = std::max(wide, std::abs(((*even.at - paid) * basis).value()) / 3.0);
    const unit_price<C> step = detail::round_step(wide) * money<C>::from_value(1.0) / basis;
    for (int n = 3; n > 0; --n) {
        savings_grid<C> grid =
            tabulate_savings(saved, stepped(paid, step, n), stepped(saved.terms.yield(), 0.02, 3, 0.01, 1.0));
        std::size_t widest = 0;
        for (const auto& row : grid.net_saving)
            for (const amount<C> a : row) widest = std::max(widest, detail::number_of(a).size());
        if (n == 1 || 20 + grid.prices.size() * (widest + 2) <= width) return grid;
    }
    return std::nullopt;
}

/// The grid as a table: a row for each yield, with the price at which it breaks even in the last column. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] report_table savings_grid_table(const savings_grid<C>& grid, const kitchen_units& units) {
    const auto right = report_table::align::right;
    const auto number = [&](unit_price<C> price) { return detail::price_number<C>(price, units); };
    report_table table;
    table.caption = "What if: saved at other prices of the whole loin (across, " + std::string(C::code) + '/' +
                    detail::basis_name(units.basis) + ") and other yields of portions (down)";
    table.columns.push_back({"Yield", right});
    for (const unit_price<C>& price : grid.prices) table.columns.push_back({number(price), right});
    table.columns.push_back({"Breaks even at", right});
    for (std::size_t i = 0; i < grid.yields.size(); ++i) {
        report_table::row row{.cells = {percent_text(grid.yields[i])}};
        for (const amount<C> saving : grid.net_saving[i]) row.cells.push_back(detail::number_of(saving));
        row.cells.push_back(detail::break_even_text(grid.break_evens[i], number));
        table.rows.push_back(row);
    }
    return table;
}

/// Offers in their order, the cheapest edible portion first; "nothing" where no price would do. Weights, lengths and
/// prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] report_table offers_table(const std::vector<ranked_offer<C>>& offers, const kitchen_units& units) {
    const auto right = report_table::align::right;
    const std::string code(C::code), per = code + '/' + detail::basis_name(units.basis);
    const auto number = [&](unit_price<C> price) { return detail::price_number<C>(price, units); };
    report_table table;
    table.columns = {{"No.", right},
                     {"Offer"},
                     {"Price, " + per, right},
                     {"Yield", right},
                     {"Wanted", right},
                     {"Edible, " + per, right},
                     {"Portion, " + code, right},
                     {"Worth up to, " + per, right}};
    for (const ranked_offer<C>& o : offers)
        table.rows.push_back(
            {.cells = {std::to_string(o.rank), o.offer.name, number(o.offer.bought.price),
                       percent_text(o.offer.portions / o.offer.bought.weight), percent_text(o.offer.edible_share),
                       number(o.edible_portion_cost), detail::number_of(o.cost_per_portion),
                       o.worth_up_to       ? number(*o.worth_up_to)
                       : offers.size() > 1 ? "nothing"
                                           : ""}});
    return table;
}

} // namespace tranche
