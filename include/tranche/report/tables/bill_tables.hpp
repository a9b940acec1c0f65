// The tables of a cutting test and of a bill: where the mass went and what it cost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/cost_per_edible.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Prices per ounce are small numbers and get two more digits.
template <currency C>
[[nodiscard]] std::string price_text(unit_price<C> price, const kitchen_units& units) {
    return to_text(price, units.basis, units.basis == price_basis::per_ounce ? 2 : 0);
}

/// "12.99" from "12.99 USD/lb", for a column that has the rest in its head.
template <currency C>
[[nodiscard]] std::string price_number(unit_price<C> price, const kitchen_units& units) {
    const std::string text = price_text<C>(price, units);
    return text.substr(0, text.find(' '));
}

} // namespace detail

/// Where the mass went without a bill: the balance of a plan, which adds up to the loin on the board exactly. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <class = detail::when_called>
[[nodiscard]] report_table mass_table(const cutting_plan& cuts, const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Part"}, {detail::headed_in("Weight", detail::unit_name(units.bulk)), right}, {"Share", right}};
    const auto add = [&](const std::string& part, micrograms m) {
        if (m.count == 0) return;
        table.rows.push_back({.cells = {part, detail::number_of(to_mass(m), units.bulk),
                                        percent_text(to_mass(m) / to_mass(cuts.total))}});
    };
    const mass_balance balance = balance_of(cuts);
    for (std::size_t s = 0; s < cuts.specs.size(); ++s) add(cuts.specs[s].name, balance.portions[s]);
    for (const destination d : all_destinations) add("loose meat to " + std::string(name_of(d)), balance.loose[d]);
    for (const destination d : all_destinations) add("trim to " + std::string(name_of(d)), balance.trim[d]);
    add("cutting loss", balance.cutting_loss);
    add("the loin on the board", balance.total());
    if (!table.rows.empty()) table.rows.back().total = true;
    return table;
}

namespace detail {

/// The heads of a table of yield lines; with where each part goes if asked for.
template <currency C>
[[nodiscard]] report_table yield_lines_heads(const kitchen_units& units, bool with_destinations) {
    const auto right = report_table::align::right;
    const std::string code(C::code);
    report_table table;
    table.columns = {{"Part"}};
    if (with_destinations) table.columns.push_back({"Goes to"});
    for (const std::string& head : {headed_in("Weight", unit_name(units.bulk)), std::string("Share"),
                                    "Value, " + code + '/' + basis_name(units.basis), "Credit, " + code})
        table.columns.push_back({head, right});
    return table;
}

/// A row of such a table, whose second cell is left out where the table has no destinations.
template <class = when_called>
void add_yield_row(report_table& table, std::vector<std::string> cells, bool total = false) {
    if (table.columns.size() < cells.size()) cells.erase(cells.begin() + 1);
    table.rows.push_back({.cells = std::move(cells), .total = total});
}

template <currency C>
void add_yield_line(report_table& table, const yield_line<C>& line, const kitchen_units& units) {
    const bool credited = line.part.role == part_role::by_product;
    add_yield_row(table, {line.part.name, destination_text(line.part), number_of(to_mass(line.weight), units.bulk),
                          percent_text(line.ratio), credited ? price_number<C>(line.part.value, units) : "",
                          credited ? number_of(line.credit) : ""});
}

/// The last row: what was bought, and all that is credited.
template <currency C>
void add_purchase_row(report_table& table, const yield_test<C>& test, amount<C> credit, const kitchen_units& units) {
    add_yield_row(table,
                  {"bought", "", number_of(to_mass(test.whole), units.bulk), percent_text(1.0), "", number_of(credit)},
                  true);
}

template <currency C>
[[nodiscard]] report_table yield_lines_table(const yield_test<C>& test, const kitchen_units& units,
                                             bool with_destinations) {
    report_table table = yield_lines_heads<C>(units, with_destinations);
    for (const yield_line<C>& line : test.lines) add_yield_line(table, line, units);
    add_purchase_row(table, test, test.credit, units);
    return table;
}

/// `what` carries the cost; `none` says so where there is none of it.
template <currency C>
[[nodiscard]] report_table costs_table(const yield_test<C>& test, const kitchen_units& units, const std::string& what,
                                       const std::string& none) {
    report_table table;
    table.columns = {{""}, {"", report_table::align::right}};
    const auto add = [&](const std::string& name, const std::string& value) {
        table.rows.push_back({.cells = {name, value}});
    };
    add("Paid: " + to_text(test.purchase.weight, units.bulk) + " at " + price_text<C>(test.purchase.price, units),
        to_text(test.paid));
    add("Credit for by-products", to_text(-test.credit));
    table.rows.push_back({.cells = {test.usable.count > 0 ? "Cost of the " + what : "Cost that " + none + " carries",
                                    to_text(test.primary_value)},
                          .total = true});
    add("Yield: " + what + " out of what was bought", percent_text(test.yield()));
    if (const auto cost = test.cost_per_usable())
        add("Cost of the " + what + " by weight", price_text<C>(*cost, units));
    if (const auto factor = test.cost_factor()) add("Cost factor: that over the price paid", to_text(*factor, 3));
    return table;
}

} // namespace detail

/// The lines of a cutting test with where each part goes, its share, value and credit; the last one is the purchase,
/// which they add up to. O(lines). Weights, lengths and prices are written in `units`; throws as `to_text` for one that
/// cannot be written.
template <currency C>
[[nodiscard]] report_table yield_lines_table(const yield_test<C>& test, const kitchen_units& units) {
    return detail::yield_lines_table(test, units, true);
}

/// The same of a bill, whose parts say in their names where they go: "trim to grind". Weights, lengths and prices are
/// written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] report_table yield_lines_table(const bill<C>& settled, const kitchen_units& units) {
    return detail::yield_lines_table(settled.test, units, false);
}

/// Paid, credited, and what is left for the usable meat to carry; yield, cost per usable weight and cost factor. O(1).
/// Weights, lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] report_table costs_table(const yield_test<C>& test, const kitchen_units& units) {
    return detail::costs_table(test, units, "usable meat", "nothing");
}

/// The same of a bill and the plan that it settles, for the portions, with the cost of what is wanted of them. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] report_table costs_table(const bill<C>& settled, const cutting_plan& cuts, const kitchen_units& units,
                                       const edible_basis& basis = {}) {
    report_table table = detail::costs_table(settled.test, units, "portions", "no portion");
    if (const auto cost = edible_portion_cost(cuts, settled, basis))
        table.rows.push_back(
            {.cells = {"Cost of the edible part of them by weight", detail::price_text<C>(*cost, units)}});
    return table;
}

} // namespace tranche
