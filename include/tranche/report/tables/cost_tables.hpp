// The tables of what it really cost: cooking loss, joint cost, the plate, and loins for a number of guests.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cost/joint/joint_cost.hpp>
#include <tranche/cost/menu/loins_to_buy.hpp>
#include <tranche/cost/menu/plate_cost.hpp>
#include <tranche/cost/yield/cooking_loss.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

/// Where the purchase went, from the cutting board to the plate: the parts of the cutting test that were not cooked,
/// what the oven took, and what was carved. Weights and shares add up to the purchase, which comes last, and credits to
/// those of both tests. O(parts). Weights, lengths and prices are written in `units`; throws as `to_text` for one that
/// cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table cooking_loss_table(const cooking_loss<C>& test, const kitchen_units& units) {
    const iso_currency in = detail::iso_form<C>();
    report_table table = detail::yield_lines_heads(in, units, true);
    for (const yield_line<C>& line : test.cut.lines)
        if (line.part.role != part_role::usable) detail::add_yield_line(table, detail::figures_of(line), in, units);
    detail::add_yield_row(table,
                          {"lost in cooking", "lost", detail::number_of(to_mass(test.lost_in_cooking), units.bulk),
                           percent_text(to_mass(test.lost_in_cooking) / to_mass(test.cut.whole)), "", ""});
    for (const yield_line<C>& line : test.lines) detail::add_yield_line(table, detail::figures_of(line), in, units);
    detail::add_purchase_row(table, test.cut.whole, (test.cut.credit + test.credit).minor, in, units);
    return table;
}

/// What the salable meat carries, and its rates before and after cooking. O(1). Weights, lengths and prices are written
/// in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table cooking_costs_table(const cooking_loss<C>& test, const kitchen_units& units) {
    report_table table;
    table.columns = {{""}, {"", report_table::align::right}};
    const auto add = [&](const std::string& what, const std::string& value) {
        table.rows.push_back({.cells = {what, value}});
    };
    add("Paid: " + to_text(test.cut.purchase.weight, units.bulk) + " at " +
            detail::price_text<C>(test.cut.purchase.price, units),
        to_text(test.cut.paid));
    add("Credit for by-products of cutting", to_text(-test.cut.credit));
    add("Credit for by-products of carving", to_text(-test.credit));
    table.rows.push_back({.cells = {test.salable.count > 0 ? "Cost of the salable meat" : "Cost that nothing carries",
                                    to_text(test.primary_value)},
                          .total = true});
    add("Cooking yield: cooked out of raw", percent_text(test.cooking_yield()));
    add("Yield: salable out of what was bought", percent_text(test.costs().yield()));
    if (const auto raw = test.cut.cost_per_usable()) add("Cost by raw weight", detail::price_text<C>(*raw, units));
    if (const auto cooked = test.costs().per_weight())
        add("Cost by salable weight", detail::price_text<C>(*cooked, units));
    if (const auto factor = test.costs().factor()) add("Cost factor: that over the price paid", to_text(*factor, 3));
    return table;
}

/// Each product with its share of the joint cost, what finishing it cost, sales and margin; the last row is their sum,
/// without sales and margin if a product has no value. O(products). Money to the minor unit, shares in per cent. Throws
/// as `to_text` for what cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table joint_cost_table(const joint_allocation<C>& shared) {
    const auto right = report_table::align::right;
    report_table table;
    table.caption =
        "Joint cost by " + std::string(name_of(shared.method)) + ", " + std::string(C::code) + " and share of sales";
    table.columns = {{"Product"},      {"Share", right}, {"Joint cost", right}, {"Finishing", right},
                     {"Total", right}, {"Sales", right}, {"Margin", right},     {"of sales", right}};
    joint_line<C> sum{.share = 0.0};
    sum.sales = sum.margin = amount<C>{};
    const auto row = [](const std::string& name, const joint_line<C>& line) {
        const auto margin = line.margin_share();
        return std::vector<std::string>{name,
                                        percent_text(line.share),
                                        detail::number_of(line.joint_cost),
                                        detail::number_of(line.separable_cost),
                                        detail::number_of(line.total_cost),
                                        line.sales ? detail::number_of(*line.sales) : "",
                                        line.margin ? detail::number_of(*line.margin) : "",
                                        margin ? percent_text(*margin) : ""};
    };
    for (const joint_line<C>& line : shared.lines) {
        table.rows.push_back({.cells = row(line.product.name, line)});
        sum.share += line.share;
        sum.joint_cost += line.joint_cost;
        sum.separable_cost += line.separable_cost;
        sum.total_cost += line.total_cost;
        if (sum.sales && line.sales) {
            *sum.sales += *line.sales;
            *sum.margin += *line.margin;
        } else
            sum.sales = sum.margin = std::nullopt;
    }
    table.rows.push_back({.cells = row("all", sum), .total = true});
    return table;
}

/// The joint cost of each product by several methods side by side, so that it can be seen how much of a "cost" is
/// convention. All allocations are of the same products in the same order; throws `invalid_input` otherwise.
/// O(products × methods).
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table joint_methods_table(const std::vector<joint_allocation<C>>& methods) {
    if (methods.empty()) throw invalid_input("methods", "none", "at least one allocation");
    report_table table;
    table.caption = "Joint cost, " + std::string(C::code) + ", by";
    table.columns = {{"Product"}};
    for (const joint_line<C>& line : methods.front().lines) table.rows.push_back({.cells = {line.product.name}});
    report_table::row total{.cells = {"all"}, .total = true};
    for (const joint_allocation<C>& shared : methods) {
        table.columns.push_back({std::string(name_of(shared.method)), report_table::align::right});
        if (shared.lines.size() != table.rows.size())
            throw invalid_input("methods", std::to_string(shared.lines.size()) + " products",
                                "the products of the first, " + std::to_string(table.rows.size()));
        for (std::size_t i = 0; i < shared.lines.size(); ++i) {
            if (shared.lines[i].product.name != table.rows[i].cells.front())
                throw invalid_input("methods", '"' + shared.lines[i].product.name + '"',
                                    "the product of the first, \"" + table.rows[i].cells.front() + '"');
            table.rows[i].cells.push_back(detail::number_of(shared.lines[i].joint_cost));
        }
        total.cells.push_back(detail::number_of(shared.shared));
    }
    table.rows.push_back(total);
    return table;
}

/// One plate at a menu price: what food costs of it and what is left. The food cost is rounded to the nearest minor unit,
/// halves to even, and so is the meat; everything else is what lies between them, so that the figures add up as they are
/// shown, each within a minor unit of its own worth. Throws as `plate_cost`.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table plate_table(const plate_cost<C>& plate, amount<C> menu_price) {
    const auto food = rounded<C>(plate.food(), rounding::half_even, "food");
    const auto meat = rounded<C>(plate.meat, rounding::half_even, "meat");
    report_table table;
    table.columns = {{""}, {"", report_table::align::right}};
    table.rows = {{.cells = {"Meat", to_text(meat)}},
                  {.cells = {"Everything else on the plate", to_text(food - meat)}},
                  {.cells = {"Food cost", to_text(food)}, .total = true},
                  {.cells = {"Menu price, before tax and service", to_text(menu_price)}},
                  {.cells = {"Food-cost percentage", percent_text(plate.food_cost_percentage(to_money(menu_price)))}},
                  {.cells = {"Left for everything but food", to_text(menu_price - food)}}};
    return table;
}

/// A number of loins that was asked for: with what probability, and the answer.
struct asked_loins {
    double probability = 0.0;
    std::optional<loin_order> order{};

    friend bool operator==(const asked_loins&, const asked_loins&) = default;
};

/// How many loins are enough with each probability, and with which one loin fewer would be. O(orders). Shares in per
/// cent. Takes what the library made at its word; throws as `to_text` for a number that is not finite.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table loin_orders_table(const std::vector<asked_loins>& orders) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Asked for", right},
                     {"Loins", right},
                     {"Enough with", right},
                     {"With one fewer", right},
                     {"Portions left on average", right}};
    for (const asked_loins& asked : orders) {
        report_table::row row{.cells = {percent_text(asked.probability), "no number", "", "", ""}};
        if (asked.order)
            row.cells = {percent_text(asked.probability), std::to_string(asked.order->loins),
                         percent_text(asked.order->probability),
                         asked.order->with_one_fewer ? percent_text(*asked.order->with_one_fewer) : std::string(),
                         to_text(asked.order->expected_surplus, 1)};
        table.rows.push_back(row);
    }
    return table;
}

} // namespace tranche
