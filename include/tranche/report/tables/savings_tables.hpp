// The tables of a saving: the net saving, how the gross saving differs from it, and where it would be zero.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/cost_breakdown.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/savings/offers.hpp>
#include <tranche/cost/savings/savings_grid.hpp>
#include <tranche/report/formats/detail/figure_lines.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/detail/round_step.hpp>
#include <tranche/report/formats/detail/saving_figures.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// A weight in bulk; nothing for none.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string weight_cell(micrograms weight, const kitchen_units& units) {
    return weight.count == 0 ? "" : number_of(to_mass(weight), units.bulk);
}

/// A table of money whose rows have a text and a weight in front.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table money_table(const std::vector<std::string>& heads, const iso_currency& in,
                                                    const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{heads.front()}, {headed_in("Weight", unit_name(units.bulk)), right}};
    for (std::size_t i = 1; i < heads.size(); ++i) table.columns.push_back({heads[i] + ", " + in.code, right});
    return table;
}
template <class = when_called>
TRANCHE_COLD void add_money_row(report_table& table, const std::string& text, micrograms weight,
                                std::vector<std::string> money, const kitchen_units& units, bool total = false) {
    report_table::row row{.cells = {text, weight_cell(weight, units)}, .total = total};
    for (std::string& cell : money) row.cells.push_back(std::move(cell));
    table.rows.push_back(std::move(row));
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table cost_breakdown_table(const std::vector<step_figures>& steps,
                                                             const iso_currency& in, const kitchen_units& units,
                                                             const std::string& head) {
    report_table table = money_table({head, "Money", "So far"}, in, units);
    for (const step_figures& step : steps)
        add_money_row(table, *step.text, step.weight,
                      {step.total ? "" : money_number(step.change, in), money_number(step.level, in)}, units,
                      step.total);
    return table;
}

[[nodiscard]] inline const char* saved_or_lost(std::int64_t net) {
    return net < 0 ? "lost by cutting" : "saved by cutting";
}

/// A value at which a saving is zero, or what happens at every value.
template <class Quantity, class Write>
[[nodiscard]] TRANCHE_COLD std::string break_even_text(const break_even<Quantity>& even, Write write) {
    return even.at ? write(*even.at) : even.saves_anyway ? "none: it saves anyway" : "none: it never saves";
}

} // namespace detail

/// Where each unit of money went, step by step, and where each step leads; see `cost_breakdown`. The last one is the net
/// saving, which is negative where cutting lost money. Weights, lengths and prices are written in `units`; throws as
/// `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table
cost_breakdown_table(const std::vector<cost_step<C>>& steps, const kitchen_units& units,
                     const std::string& head = "Cutting it, against buying ready cut") {
    return detail::cost_breakdown_table(detail::figures_of(steps), detail::iso_form<C>(), units, head);
}

/// From the gross saving, which takes all that was bought for steak, to the net saving, line by line. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table difference_table(const savings<C>& saved, const kitchen_units& units) {
    report_table table =
        detail::money_table({"From the gross saving to the net saving", "Value"}, detail::iso_form<C>(), units);
    const auto add = [&](const std::string& text, micrograms weight, amount<C> value, bool total) {
        detail::add_money_row(table, text, weight, {detail::number_of(value)}, units, total);
    };
    add("gross saving: all that was bought, taken for steak", {}, saved.gross_saving, false);
    for (const savings_line<C>& line : saved.differences) add(line.text, line.weight, line.value, false);
    add(detail::saved_or_lost(saved.net_saving.minor), {}, saved.net_saving, true);
    return table;
}

namespace detail {

/// What a saving comes to and where it would be zero, whatever the currency. Prices are those of a kilogram, the wage that of a
/// second.
struct saving_figures {
    const std::string* against = nullptr;
    std::int64_t gross = 0, net = 0, net_without_others = 0;
    fraction own_edible_share = 1.0, ready_edible_share = 1.0, yield = 0.0;
    break_even<double> price{}, price_without_others{}, ready_price{};
    std::optional<break_even<double>> pay{}; ///< none where no time was taken
    break_even<fraction> even_yield{};
};

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table break_even_table(const saving_figures& saved, const iso_currency& in,
                                                         const kitchen_units& units) {
    figure_lines add;
    const auto add_price = [&](const std::string& what, const break_even<double>& even) {
        add(what, break_even_text(even, [&](double price) { return price_text(price, in, units); }));
    };
    const bool others = saved.net_without_others != saved.net;
    add("Gross saving, which takes all that was bought for steak", money_text(saved.gross, in));
    add("Net saving", money_text(saved.net, in));
    if (others) add("Net saving, if the other portions are worth nothing", money_text(saved.net_without_others, in));
    if (saved.ready_edible_share != saved.own_edible_share) {
        add("Wanted of the portions, by weight", percent_text(saved.own_edible_share));
        add("Wanted of " + *saved.against + ", by weight", percent_text(saved.ready_edible_share));
    }
    add_price("Break-even price of the whole loin", saved.price);
    if (others) add_price("Break-even price, if the other portions are worth nothing", saved.price_without_others);
    add_price("Break-even price of " + *saved.against, saved.ready_price);
    if (saved.pay)
        add("Break-even wage", break_even_text(*saved.pay, [&](double wage) {
                return to_text(wage * hour.value(), in.minor_digits) + ' ' + in.code + "/h";
            }));
    add("Yield of portions", percent_text(saved.yield));
    add("Break-even yield of portions", break_even_text(saved.even_yield, [](fraction y) { return percent_text(y); }));
    return std::move(add).table();
}

} // namespace detail

/// The net saving beside the gross one, what is wanted of either side, and where the net saving would be
/// zero. Weights, lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table break_even_table(const savings<C>& saved, const kitchen_units& units) {
    const savings_terms<C>& terms = saved.terms;
    detail::saving_figures figures{&saved.against,
                                   saved.gross_saving.minor,
                                   saved.net_saving.minor,
                                   saved.net_saving_without_others.minor,
                                   saved.own_edible_share,
                                   saved.ready_edible_share,
                                   terms.yield(),
                                   detail::plain(break_even_price(terms)),
                                   detail::plain(break_even_price(terms.without_other_portions())),
                                   detail::plain(break_even_ready_price(terms)),
                                   {},
                                   break_even_yield(terms)};
    if (terms.time > duration{}) figures.pay = detail::plain(break_even_wage(terms));
    return detail::break_even_table(figures, detail::iso_form<C>(), units);
}

/// Prices and yields around those of a saving, for reports: up to two steps of price to each side, the least round ones
/// (1, 2 or 5 × 10^k) of at least 5 % of what was paid, such as 0.50 of 8.10 USD/lb or 1.00 of 17.90 EUR/kg, and three
/// of two points of yield; one step where `width` columns of text do not hold the figures. None where there is nothing
/// to vary: no portions, no prices. Throws as `tabulate_savings`. The step of 5 % is common practice, no source.
template <currency C>
[[nodiscard]] std::optional<savings_grid<C>> savings_grid_around(const savings<C>& saved, const kitchen_units& units,
                                                                 std::size_t width = detail::report_width) {
    const mass basis = detail::basis_mass(units.basis);
    const unit_price<C> paid = saved.terms.bought.price;
    const double wide = 0.05 * ((paid > unit_price<C>{} ? paid : saved.terms.ready_price) * basis).value();
    if (!(wide > 0.0) || !(saved.terms.portions > mass{})) return std::nullopt;
    const unit_price<C> step = detail::round_step(wide) * money<C>::from_value(1.0) / basis;
    for (int n = 2; n > 0; --n) {
        savings_grid<C> grid =
            tabulate_savings(saved, stepped(paid, step, n), stepped(saved.terms.yield(), 0.02, 3, 0.01, 1.0));
        std::size_t widest = 0;
        for (const auto& row : grid.net_saving)
            for (const amount<C> a : row) widest = std::max(widest, detail::number_of(a).size());
        if (n == 1 || 20 + grid.prices.size() * (widest + 2) <= width) return grid;
    }
    return std::nullopt;
}

namespace detail {

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table savings_grid_table(const grid_figures& grid, const iso_currency& in,
                                                           const kitchen_units& units) {
    const auto right = report_table::align::right;
    const auto number = [&](double price) { return price_number(price, in, units); };
    report_table table;
    table.caption = "What if: saved at other prices of the whole loin (across, " + price_unit(in, units) +
                    ") and other yields of portions (down)";
    table.columns.push_back({"Yield", right});
    for (const double price : grid.prices) table.columns.push_back({number(price), right});
    table.columns.push_back({"Breaks even at", right});
    for (std::size_t i = 0; i < grid.yields->size(); ++i) {
        report_table::row row{.cells = {percent_text((*grid.yields)[i])}};
        for (const std::int64_t saving : grid.net_saving[i]) row.cells.push_back(money_number(saving, in));
        row.cells.push_back(break_even_text(grid.break_evens[i], number));
        table.rows.push_back(std::move(row));
    }
    return table;
}

} // namespace detail

/// The grid as a table: a row for each yield, with the price at which it breaks even in the last column. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table savings_grid_table(const savings_grid<C>& grid, const kitchen_units& units) {
    return detail::savings_grid_table(detail::figures_of(grid), detail::iso_form<C>(), units);
}

namespace detail {

/// An offer, whatever the currency. Prices are those of a kilogram.
struct offer_figures {
    std::size_t rank = 0;
    const std::string* name = nullptr;
    double price = 0.0;
    fraction yield = 0.0, edible_share = 1.0;
    double edible_portion_cost = 0.0;
    std::int64_t cost_per_portion = 0;
    std::optional<double> worth_up_to{};
};

template <currency C>
[[nodiscard]] offer_figures figures_of(const ranked_offer<C>& o) {
    return {o.rank,
            &o.offer.name,
            o.offer.bought.price.value(),
            o.offer.portions / o.offer.bought.weight,
            o.offer.edible_share,
            o.edible_portion_cost.value(),
            o.cost_per_portion.minor,
            plain(o.worth_up_to)};
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table offers_heads(const iso_currency& in, const kitchen_units& units) {
    const std::string per = price_unit(in, units);
    report_table table;
    for (const std::string& head :
         {std::string("No."), std::string("Offer"), "Price, " + per, std::string("Yield"), std::string("Wanted"),
          "Edible, " + per, "Portion, " + in.code, "Worth up to, " + per})
        table.columns.push_back({head, report_table::align::right});
    table.columns[1].towards = report_table::align::left;
    return table;
}
template <class = when_called>
TRANCHE_COLD void add_offer(report_table& table, const offer_figures& o, const char* worth_nothing,
                            const iso_currency& in, const kitchen_units& units) {
    table.rows.push_back(
        {.cells = {std::to_string(o.rank), *o.name, price_number(o.price, in, units), percent_text(o.yield),
                   percent_text(o.edible_share), price_number(o.edible_portion_cost, in, units),
                   money_number(o.cost_per_portion, in),
                   o.worth_up_to ? price_number(*o.worth_up_to, in, units) : worth_nothing}});
}

} // namespace detail

/// Offers in their order, the cheapest edible portion first; "nothing" where no price would do. Weights, lengths and
/// prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table offers_table(const std::vector<ranked_offer<C>>& offers,
                                                     const kitchen_units& units) {
    const iso_currency in = detail::iso_form<C>();
    report_table table = detail::offers_heads(in, units);
    for (const ranked_offer<C>& o : offers)
        detail::add_offer(table, detail::figures_of(o), offers.size() > 1 ? "nothing" : "", in, units);
    return table;
}

} // namespace tranche
