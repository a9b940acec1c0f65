// The tables of a bill: where the mass went and what it cost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>

#include <tranche/cost/settle.hpp>
#include <tranche/report/kitchen_units.hpp>
#include <tranche/report/plan_tables.hpp>
#include <tranche/report/report_table.hpp>

namespace tranche {

namespace detail {

/// Prices per ounce are small numbers and get two more digits.
template <currency C>
[[nodiscard]] std::string price_text(unit_price<C> price, const kitchen_units& units) {
    return to_text<C>(price, units.basis, units.basis == price_basis::per_ounce ? 2 : 0);
}

/// "12.99" from "12.99 USD/lb", for a column that has the rest in its head.
template <currency C>
[[nodiscard]] std::string price_number(unit_price<C> price, const kitchen_units& units) {
    const std::string text = price_text<C>(price, units);
    return text.substr(0, text.find(' '));
}

} // namespace detail

/// Where the mass went without a bill: the balance of a plan, which adds up to the loin on the board exactly.
[[nodiscard]] inline report_table mass_table(const plan& cuts, const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Part"}, {detail::headed_in("Weight", unit_name(units.bulk)), right}, {"Share", right}};
    const auto add = [&](const std::string& part, micrograms m) {
        if (m.count == 0) return;
        table.rows.push_back(
            {.cells = {part, number_of(to_mass(m), units.bulk), percent_text(to_mass(m) / to_mass(cuts.total))}});
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

/// The lines of the yield test with their share, value and credit; the last one is the purchase, which they add up to.
template <currency C>
[[nodiscard]] report_table yield_lines_table(const bill<C>& settled, const kitchen_units& units) {
    const auto right = report_table::align::right;
    const std::string code(C::code);
    report_table table;
    table.columns = {{"Part"},
                     {detail::headed_in("Weight", unit_name(units.bulk)), right},
                     {"Share", right},
                     {"Value, " + code + '/' + detail::basis_name(units.basis), right},
                     {"Credit, " + code, right}};
    for (const yield_line<C>& line : settled.test.lines) {
        const bool credited = line.part.role == part_role::by_product;
        const std::string value = detail::price_text<C>(line.part.value, units);
        table.rows.push_back(
            {.cells = {line.part.name, number_of(to_mass(line.weight), units.bulk), percent_text(line.ratio),
                       credited ? value.substr(0, value.find(' ')) : "", credited ? number_of(line.credit) : ""}});
    }
    table.rows.push_back({.cells = {"bought", number_of(to_mass(settled.test.whole), units.bulk), percent_text(1.0), "",
                                    number_of(settled.test.credit)},
                          .total = true});
    return table;
}

/// Paid, credited, and what is left for the portions to carry; yield, cost per usable weight and cost factor.
template <currency C>
[[nodiscard]] report_table costs_table(const bill<C>& settled, const kitchen_units& units) {
    const yield_test<C>& test = settled.test;
    report_table table;
    table.columns = {{""}, {"", report_table::align::right}};
    const auto add = [&](const std::string& what, const std::string& value) {
        table.rows.push_back({.cells = {what, value}});
    };
    add("Paid: " + to_text(test.purchase.weight, units.bulk) + " at " +
            detail::price_text<C>(test.purchase.price, units),
        to_text(test.paid));
    add("Credit for by-products", to_text(-test.credit));
    table.rows.push_back({.cells = {test.usable.count > 0 ? "Cost of the portions" : "Cost that no portion carries",
                                    to_text(test.primary_value)},
                          .total = true});
    add("Yield: portions out of what was bought", percent_text(test.yield()));
    if (const auto cost = test.cost_per_usable())
        add("Cost of the portions by weight", detail::price_text<C>(*cost, units));
    if (const auto factor = test.cost_factor()) add("Cost factor: that over the price paid", decimal_text(*factor, 3));
    return table;
}

} // namespace tranche
