// The tables of a cutting test and of a bill: where the mass went and what it cost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/cost_per_edible.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/report/formats/detail/figure_lines.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

/// Where the mass went without a bill: the balance of a plan, which adds up to the loin on the board exactly. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table mass_table(const cutting_plan& cuts, const kitchen_units& units) {
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

/// A line of a cutting test, whatever the currency.
struct line_figures {
    const std::string* name = nullptr;
    std::string goes_to{};
    micrograms weight{};
    fraction share = 0.0;
    bool credited = false;
    double value = 0.0; ///< of a kilogram
    std::int64_t credit = 0;
};

template <currency C>
[[nodiscard]] line_figures figures_of(const yield_line<C>& line) {
    return {&line.part.name,
            destination_text(line.part),
            line.weight,
            line.ratio,
            line.part.role == part_role::by_product,
            line.part.value.value(),
            line.credit.minor};
}

/// The heads of a table of yield lines; with where each part goes if asked for.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table yield_lines_heads(const iso_currency& in, const kitchen_units& units,
                                                          bool with_destinations) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Part"}};
    if (with_destinations) table.columns.push_back({"Goes to"});
    for (const std::string& head : {headed_in("Weight", unit_name(units.bulk)), std::string("Share"),
                                    "Value, " + price_unit(in, units), "Credit, " + in.code})
        table.columns.push_back({head, right});
    return table;
}

/// A row of such a table, whose second cell is left out where the table has no destinations.
template <class = when_called>
TRANCHE_COLD void add_yield_row(report_table& table, std::vector<std::string> cells, bool total = false) {
    if (table.columns.size() < cells.size()) cells.erase(cells.begin() + 1);
    table.rows.push_back({.cells = std::move(cells), .total = total});
}

template <class = when_called>
TRANCHE_COLD void add_yield_line(report_table& table, const line_figures& line, const iso_currency& in,
                                 const kitchen_units& units) {
    add_yield_row(table, {*line.name, line.goes_to, number_of(to_mass(line.weight), units.bulk),
                          percent_text(line.share), line.credited ? price_number(line.value, in, units) : "",
                          line.credited ? money_number(line.credit, in) : ""});
}

/// The last row: what was bought, and all that is credited.
template <class = when_called>
TRANCHE_COLD void add_purchase_row(report_table& table, micrograms whole, std::int64_t credit, const iso_currency& in,
                                   const kitchen_units& units) {
    add_yield_row(
        table, {"bought", "", number_of(to_mass(whole), units.bulk), percent_text(1.0), "", money_number(credit, in)},
        true);
}

template <currency C>
[[nodiscard]] TRANCHE_COLD report_table yield_lines_table(const yield_test<C>& test, const kitchen_units& units,
                                                          bool with_destinations) {
    const iso_currency in = iso_form<C>();
    report_table table = yield_lines_heads(in, units, with_destinations);
    for (const yield_line<C>& line : test.lines) add_yield_line(table, figures_of(line), in, units);
    add_purchase_row(table, test.whole, test.credit.minor, in, units);
    return table;
}

/// What a cutting test comes to, whatever the currency. Prices are those of a kilogram.
struct cost_figures {
    mass bought{};
    double price = 0.0;
    std::int64_t paid = 0, less_credit = 0, primary_value = 0;
    bool any_usable = false;
    fraction yield = 0.0;
    std::optional<double> per_usable{}, factor{}, per_edible{};
};

template <class Quantity>
[[nodiscard]] std::optional<double> plain(const std::optional<Quantity>& quantity) {
    return quantity ? std::optional<double>(quantity->value()) : std::nullopt;
}

template <currency C>
[[nodiscard]] cost_figures figures_of(const yield_test<C>& test) {
    return {test.purchase.weight, test.purchase.price.value(),   test.paid.minor,
            (-test.credit).minor, test.primary_value.minor,      test.usable.count > 0,
            test.yield(),         plain(test.cost_per_usable()), test.cost_factor()};
}

/// `what` carries the cost; `none` says so where there is none of it.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table costs_table(const cost_figures& test, const iso_currency& in,
                                                    const kitchen_units& units, const std::string& what,
                                                    const std::string& none) {
    figure_lines add;
    add("Paid: " + to_text(test.bought, units.bulk) + " at " + price_text(test.price, in, units),
        money_text(test.paid, in));
    add("Credit for by-products", money_text(test.less_credit, in));
    add(test.any_usable ? "Cost of the " + what : "Cost that " + none + " carries", money_text(test.primary_value, in),
        true);
    add("Yield: " + what + " out of what was bought", percent_text(test.yield));
    if (test.per_usable) add("Cost of the " + what + " by weight", price_text(*test.per_usable, in, units));
    if (test.factor) add("Cost factor: that over the price paid", to_text(*test.factor, 3));
    if (test.per_edible) add("Cost of the edible part of them by weight", price_text(*test.per_edible, in, units));
    return std::move(add).table();
}

} // namespace detail

/// The lines of a cutting test with where each part goes, its share, value and credit; the last one is the purchase,
/// which they add up to. O(lines). Weights, lengths and prices are written in `units`; throws as `to_text` for one that
/// cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table yield_lines_table(const yield_test<C>& test, const kitchen_units& units) {
    return detail::yield_lines_table(test, units, true);
}

/// The same of a bill, whose parts say in their names where they go: "trim to grind". Weights, lengths and prices are
/// written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table yield_lines_table(const bill<C>& settled, const kitchen_units& units) {
    return detail::yield_lines_table(settled.test, units, false);
}

/// Paid, credited, and what is left for the usable meat to carry; yield, cost per usable weight and cost factor. O(1).
/// Weights, lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table costs_table(const yield_test<C>& test, const kitchen_units& units) {
    return detail::costs_table(detail::figures_of(test), detail::iso_form<C>(), units, "usable meat", "nothing");
}

/// The same of a bill and the plan that it settles, for the portions, with the cost of what is wanted of them. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table costs_table(const bill<C>& settled, const cutting_plan& cuts,
                                                    const kitchen_units& units, const edible_basis& basis = {}) {
    detail::cost_figures figures = detail::figures_of(settled.test);
    figures.per_edible = detail::plain(edible_portion_cost(cuts, settled, basis));
    return detail::costs_table(figures, detail::iso_form<C>(), units, "portions", "no portion");
}

} // namespace tranche
