// The tables of what it really cost: cooking loss, joint cost, the plate, and loins for a number of guests.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/cost/joint/joint_cost.hpp>
#include <tranche/cost/menu/loins_to_buy.hpp>
#include <tranche/cost/menu/plate_cost.hpp>
#include <tranche/cost/yield/cooking_loss.hpp>
#include <tranche/report/formats/detail/figure_lines.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
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

namespace detail {

/// What a cooking test comes to, whatever the currency. Prices are those of a kilogram.
struct cooking_figures {
    mass bought{};
    double price = 0.0;
    std::int64_t paid = 0, less_cutting_credit = 0, less_carving_credit = 0, primary_value = 0;
    bool any_salable = false;
    fraction cooking_yield = 0.0, yield = 0.0;
    std::optional<double> per_raw{}, per_salable{}, factor{};
};

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table cooking_costs_table(const cooking_figures& test, const iso_currency& in,
                                                            const kitchen_units& units) {
    figure_lines add;
    add("Paid: " + to_text(test.bought, units.bulk) + " at " + price_text(test.price, in, units),
        money_text(test.paid, in));
    add("Credit for by-products of cutting", money_text(test.less_cutting_credit, in));
    add("Credit for by-products of carving", money_text(test.less_carving_credit, in));
    add(test.any_salable ? "Cost of the salable meat" : "Cost that nothing carries", money_text(test.primary_value, in),
        true);
    add("Cooking yield: cooked out of raw", percent_text(test.cooking_yield));
    add("Yield: salable out of what was bought", percent_text(test.yield));
    if (test.per_raw) add("Cost by raw weight", price_text(*test.per_raw, in, units));
    if (test.per_salable) add("Cost by salable weight", price_text(*test.per_salable, in, units));
    if (test.factor) add("Cost factor: that over the price paid", to_text(*test.factor, 3));
    return std::move(add).table();
}

/// A `joint_line`, whatever the currency.
struct joint_figures {
    std::string name{};
    fraction share = 0.0;
    std::int64_t joint = 0, separable = 0, total = 0;
    std::optional<std::int64_t> sales{}, margin{};
};
template <currency C>
[[nodiscard]] joint_figures figures_of(const joint_line<C>& line, const std::string& name) {
    joint_figures figures{name, line.share, line.joint_cost.minor, line.separable_cost.minor, line.total_cost.minor};
    if (line.sales) figures.sales = line.sales->minor;
    if (line.margin) figures.margin = line.margin->minor;
    return figures;
}

/// The last line is their sum.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table joint_cost_table(std::string_view method,
                                                         const std::vector<joint_figures>& lines,
                                                         const iso_currency& in) {
    const auto right = report_table::align::right;
    report_table table;
    table.caption = "Joint cost by " + std::string(method) + ", " + in.code + " and share of sales";
    table.columns = {{"Product"},      {"Share", right}, {"Joint cost", right}, {"Finishing", right},
                     {"Total", right}, {"Sales", right}, {"Margin", right},     {"of sales", right}};
    const auto known = [&](const std::optional<std::int64_t>& minor) {
        return minor ? money_number(*minor, in) : std::string();
    };
    for (const joint_figures& line : lines) {
        const bool sold = line.margin && *line.sales != 0;
        table.rows.push_back(
            {.cells = {
                 line.name, percent_text(line.share), money_number(line.joint, in), money_number(line.separable, in),
                 money_number(line.total, in), known(line.sales), known(line.margin),
                 sold ? percent_text(static_cast<double>(*line.margin) / static_cast<double>(*line.sales)) : ""}});
    }
    table.rows.back().total = true;
    return table;
}

} // namespace detail

/// What the salable meat carries, and its rates before and after cooking. O(1). Weights, lengths and prices are written
/// in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table cooking_costs_table(const cooking_loss<C>& test, const kitchen_units& units) {
    const usable_cost<C> costs = test.costs();
    return detail::cooking_costs_table(
        {test.cut.purchase.weight, test.cut.purchase.price.value(), test.cut.paid.minor, (-test.cut.credit).minor,
         (-test.credit).minor, test.primary_value.minor, test.salable.count > 0, test.cooking_yield(), costs.yield(),
         detail::plain(test.cut.cost_per_usable()), detail::plain(costs.per_weight()), costs.factor()},
        detail::iso_form<C>(), units);
}

/// Each product with its share of the joint cost, what finishing it cost, sales and margin; the last row is their sum,
/// without sales and margin if a product has no value. O(products). Money to the minor unit, shares in per cent. Throws
/// as `to_text` for what cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table joint_cost_table(const joint_allocation<C>& shared) {
    joint_line<C> sum{.share = 0.0};
    sum.sales = sum.margin = amount<C>{};
    std::vector<detail::joint_figures> lines;
    for (const joint_line<C>& line : shared.lines) {
        lines.push_back(detail::figures_of(line, line.product.name));
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
    lines.push_back(detail::figures_of(sum, "all"));
    return detail::joint_cost_table(name_of(shared.method), lines, detail::iso_form<C>());
}

namespace detail {

/// Joint cost by one method, whatever the currency.
struct method_figures {
    std::string name{};
    std::vector<std::string> products{};
    std::vector<std::int64_t> costs{};
    std::int64_t shared = 0;
};

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table joint_methods_table(const std::vector<method_figures>& methods,
                                                            const iso_currency& in) {
    if (methods.empty()) throw invalid_input("methods", "none", "at least one allocation");
    const std::vector<std::string>& products = methods.front().products;
    report_table table;
    table.caption = "Joint cost, " + in.code + ", by";
    table.columns = {{"Product"}};
    for (const std::string& product : products) table.rows.push_back({.cells = {product}});
    report_table::row total{.cells = {"all"}, .total = true};
    for (const method_figures& method : methods) {
        table.columns.push_back({method.name, report_table::align::right});
        if (method.products.size() != products.size())
            throw invalid_input("methods", std::to_string(method.products.size()) + " products",
                                "the products of the first, " + std::to_string(products.size()));
        for (std::size_t i = 0; i < products.size(); ++i) {
            if (method.products[i] != products[i])
                throw invalid_input("methods", '"' + method.products[i] + '"',
                                    "the product of the first, \"" + products[i] + '"');
            table.rows[i].cells.push_back(money_number(method.costs[i], in));
        }
        total.cells.push_back(money_number(method.shared, in));
    }
    table.rows.push_back(std::move(total));
    return table;
}

} // namespace detail

/// The joint cost of each product by several methods side by side, so that it can be seen how much of a "cost" is
/// convention. All allocations are of the same products in the same order; throws `invalid_input` otherwise. O(products
/// × methods). Money to the minor unit.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table joint_methods_table(const std::vector<joint_allocation<C>>& methods) {
    std::vector<detail::method_figures> figures;
    for (const joint_allocation<C>& shared : methods) {
        figures.push_back({std::string(name_of(shared.method)), {}, {}, shared.shared.minor});
        for (const joint_line<C>& line : shared.lines) {
            figures.back().products.push_back(line.product.name);
            figures.back().costs.push_back(line.joint_cost.minor);
        }
    }
    return detail::joint_methods_table(figures, detail::iso_form<C>());
}

namespace detail {

/// What is on a plate, whatever the currency; what is left of the menu price for everything but food.
struct plate_figures {
    std::int64_t meat = 0, rest = 0, food = 0, menu_price = 0, left = 0;
    fraction food_cost = 0.0;
};

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table plate_table(const plate_figures& plate, const iso_currency& in) {
    figure_lines add;
    add("Meat", money_text(plate.meat, in));
    add("Everything else on the plate", money_text(plate.rest, in));
    add("Food cost", money_text(plate.food, in), true);
    add("Menu price, before tax and service", money_text(plate.menu_price, in));
    add("Food-cost percentage", percent_text(plate.food_cost));
    add("Left for everything but food", money_text(plate.left, in));
    return std::move(add).table();
}

} // namespace detail

/// One plate at a menu price: what food costs of it and what is left. The food cost is rounded to the nearest minor
/// unit, halves to even, and so is the meat; everything else is what lies between them, so that the figures add up as
/// they are shown, each within a minor unit of its own worth. Throws as `plate_cost`. Money to the minor unit,
/// `menu_price` above zero.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table plate_table(const plate_cost<C>& plate, amount<C> menu_price) {
    const auto food = rounded<C>(plate.food(), rounding::half_even, "food");
    const auto meat = rounded<C>(plate.meat, rounding::half_even, "meat");
    return detail::plate_table({meat.minor, (food - meat).minor, food.minor, menu_price.minor,
                                (menu_price - food).minor, plate.food_cost_percentage(to_money(menu_price))},
                               detail::iso_form<C>());
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
