// The tables of the answer to a sheet: cuts, loins, thicknesses side by side, the delivery, the menu and the case.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/pictures/thickness_picture.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// "6.52": the figure of an amount, under a head that has the code; nothing for none.
[[nodiscard]] TRANCHE_COLD inline std::string figure_cell(const std::optional<sheet_amount>& a) {
    if (!a) return "";
    const std::string text = to_text(*a);
    return text.substr(0, text.find(' '));
}
[[nodiscard]] TRANCHE_COLD inline std::string percent_cell(const std::optional<fraction>& share) {
    return share ? percent_text(*share) : "";
}
/// "8.10": a price by the kitchen's basis; nothing for none.
[[nodiscard]] TRANCHE_COLD inline std::string price_cell(const std::optional<sheet_price>& price,
                                                         const kitchen_units& units) {
    if (!price) return "";
    const std::string text = to_text(*price, units.basis);
    return text.substr(0, text.find(' '));
}
[[nodiscard]] TRANCHE_COLD inline std::string code_of_sheet() { return std::string(chosen_currency::code); }
[[nodiscard]] TRANCHE_COLD inline std::string per_weight_of_sheet(const kitchen_units& units) {
    return code_of_sheet() + '/' + basis_name(units.basis);
}

/// A table whose first column is words and the others are figures.
[[nodiscard]] TRANCHE_COLD inline report_table figures_table(std::vector<std::string> heads) {
    report_table table;
    for (std::string& head : heads)
        table.columns.push_back(
            {std::move(head), table.columns.empty() ? report_table::align::left : report_table::align::right});
    return table;
}

/// One row a cut that has portions, and all of them.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table cuts_table(const sheet_account& account, const kitchen_units& units) {
    const bool money = account.primary_value.has_value();
    report_table table = figures_table({"Cut", "Portions", headed_in("Together", unit_name(units.bulk)),
                                        headed_in("Lightest", unit_name(units.portion)),
                                        headed_in("Heaviest", unit_name(units.portion))});
    const auto right = report_table::align::right;
    if (money)
        table.columns.insert(table.columns.end(),
                             {{"Cost each, " + code_of_sheet(), right}, {"Cost, " + code_of_sheet(), right}});
    const auto add = [&](const cut_account& of, bool total) {
        const auto weight = [&](micrograms m) { return total ? "" : number_of(to_mass(m), units.portion); };
        report_table::row row{.cells = {of.name, std::to_string(of.portions), number_of(to_mass(of.weight), units.bulk),
                                        weight(of.lightest), weight(of.heaviest)},
                              .total = total};
        if (money) row.cells.insert(row.cells.end(), {figure_cell(of.cost_each()), figure_cell(of.cost)});
        table.rows.push_back(std::move(row));
    };
    for (const cut_account& of : account.cuts)
        if (of.portions > 0) add(of, false);
    add({.name = "all portions",
         .portions = account.portions(),
         .weight = account.portion_weight(),
         .cost = account.portions() > 0 ? account.primary_value : std::nullopt},
        true);
    return table;
}

/// One row a loin, and the delivery.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table loins_table(const sheet_answer& answer, const kitchen_units& units) {
    const bool money = answer.all.paid.has_value(), saved = !answer.all.saved.empty();
    const std::string bulk = unit_name(units.bulk);
    report_table table =
        figures_table({"Loin", headed_in("Bought", bulk), headed_in("On the board", bulk), "Portions", "Yield"});
    const auto right = report_table::align::right;
    if (money)
        table.columns.insert(table.columns.end(),
                             {{"Paid, " + code_of_sheet(), right}, {"Cost each, " + code_of_sheet(), right}});
    if (saved) table.columns.push_back({"Saved, " + code_of_sheet(), right});
    const auto add = [&](const std::string& name, const sheet_account& of, bool total) {
        report_table::row row{.cells = {name, number_of(to_mass(of.bought), units.bulk),
                                        number_of(to_mass(of.on_the_board), units.bulk), std::to_string(of.portions()),
                                        percent_text(of.yield())},
                              .total = total};
        if (money) {
            const cut_account all{.portions = of.portions(), .cost = of.primary_value};
            row.cells.insert(row.cells.end(), {figure_cell(of.paid), figure_cell(all.cost_each())});
        }
        if (saved) row.cells.push_back(of.saved.empty() ? "" : figure_cell(of.saved.front().net));
        table.rows.push_back(std::move(row));
    };
    for (const loin_answer& loin : answer.loins)
        if (loin.opened) add(loin.name, loin.account, false);
    add(answer.order ? "loins opened" : "all loins", answer.all, true);
    if (saved) table.caption = "Saved against " + answer.all.saved.front().against;
    return table;
}

/// Where all that was bought went, by cut and by destination, and what carries its cost.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table delivery_table(const sheet_account& all, const kitchen_units& units) {
    const bool money = all.paid.has_value();
    report_table table = figures_table({"Part", headed_in("Weight", unit_name(units.bulk)), "Share"});
    if (money) table.columns.push_back({"Cost, " + code_of_sheet(), report_table::align::right});
    const auto add = [&](const std::string& part, micrograms m, const std::optional<sheet_amount>& cost, bool total) {
        if (m.count == 0 && !total) return;
        report_table::row row{
            .cells = {part, number_of(to_mass(m), units.bulk), percent_text(to_mass(m) / to_mass(all.bought))},
            .total = total};
        if (money) row.cells.push_back(figure_cell(cost));
        table.rows.push_back(std::move(row));
    };
    for (const cut_account& of : all.cuts) add(of.name, of.weight, of.cost, false);
    for (const destination d : all_destinations)
        add("loose meat to " + std::string(name_of(d)), all.loose[d], std::nullopt, false);
    for (const destination d : all_destinations)
        add("trim to " + std::string(name_of(d)), all.trim[d], std::nullopt, false);
    add("cutting loss", all.cutting_loss, std::nullopt, false);
    add("purge", all.purge, std::nullopt, false);
    add("bought", all.bought, all.primary_value, true);
    return table;
}

/// "saves 92.30 USD against ready-cut steak, pays up to 9.10 USD/lb".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string saving_words(const saving_account& saved, const kitchen_units& units) {
    const bool lost = saved.net < sheet_amount{};
    const break_even<sheet_price> even = break_even_price(saved.terms);
    return (lost ? "loses " : "saves ") + to_text(lost ? -saved.net : saved.net) + " against " + saved.against + " (" +
           (even.at             ? "pays up to " + to_text(*even.at, units.basis)
            : even.saves_anyway ? std::string("pays at any price of the loins")
                                : std::string("pays at no price of the loins")) +
           ')';
}

/// Thicknesses side by side: count, weight, cost each, what is saved against the first alternative.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table thicknesses_table(const sheet_answer& answer, const kitchen_units& units) {
    const bool money = answer.all.primary_value.has_value(), saved = !answer.all.saved.empty();
    report_table table = figures_table({headed_in("Thick", unit_name(units.thickness)), "Portions",
                                        headed_in("Mean weight", unit_name(units.portion)),
                                        headed_in("Together", unit_name(units.bulk)), "Yield"});
    const auto right = report_table::align::right;
    if (money) table.columns.push_back({"Cost each, " + code_of_sheet(), right});
    if (saved) table.columns.push_back({"Saved, " + code_of_sheet(), right});
    for (const thickness_account& row : answer.thicknesses) {
        const sheet_account& of = row.account;
        const std::size_t count = of.portions();
        report_table::row cells{
            .cells = {number_of(row.thickness, units.thickness), std::to_string(count),
                      count > 0 ? number_of(to_mass(of.portion_weight()) / static_cast<double>(count), units.portion)
                                : "",
                      number_of(to_mass(of.portion_weight()), units.bulk), percent_text(of.yield())}};
        const cut_account all{.portions = count, .cost = of.primary_value};
        if (money) cells.cells.push_back(figure_cell(all.cost_each()));
        if (saved) cells.cells.push_back(of.saved.empty() ? "" : figure_cell(of.saved.front().net));
        table.rows.push_back(std::move(cells));
    }
    if (saved) table.caption = "Saved against " + answer.all.saved.front().against;
    return table;
}

/// The same as a picture.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string thicknesses_picture(const sheet_answer& answer, const kitchen_units& units) {
    std::vector<thickness_bar> bars;
    for (const thickness_account& row : answer.thicknesses) {
        const sheet_account& of = row.account;
        thickness_bar bar{.thickness = row.thickness, .portions = of.portions()};
        if (bar.portions > 0) {
            bar.says = "of " + to_text(to_mass(of.portion_weight()) / static_cast<double>(bar.portions), units.portion);
            const cut_account all{.portions = bar.portions, .cost = of.primary_value};
            if (const auto each = all.cost_each()) bar.says += ", " + to_text(*each) + " each";
            if (!of.saved.empty()) {
                const sheet_amount net = of.saved.front().net;
                bar.says +=
                    (net < sheet_amount{} ? ", loses " : ", saves ") + to_text(net < sheet_amount{} ? -net : net);
            }
        }
        bars.push_back(std::move(bar));
    }
    return thicknesses_svg(bars, units);
}

/// What portions cost, sell for and leave, by cut, and the price that the margin asked for would take.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table margins_table(const sheet_account& account, const kitchen_units& units) {
    const std::string in = ", " + code_of_sheet();
    const bool needed = std::any_of(account.cuts.begin(), account.cuts.end(),
                                    [](const cut_account& of) { return of.price_needed.has_value(); });
    report_table table = figures_table({"Cut", "Portions", "Cost" + in, "Sales" + in, "Margin" + in, "of sales"});
    if (needed) {
        table.columns.push_back({"Price needed, " + per_weight_of_sheet(units), report_table::align::right});
        table.columns.push_back({"Each" + in, report_table::align::right});
    }
    for (const cut_account& of : account.cuts) {
        if (of.portions == 0) continue;
        report_table::row row{.cells = {of.name, std::to_string(of.portions), figure_cell(of.cost),
                                        figure_cell(of.sales), figure_cell(of.margin()),
                                        percent_cell(of.margin_share())}};
        if (needed)
            row.cells.insert(row.cells.end(), {price_cell(of.price_needed, units), figure_cell(of.each_needed)});
        table.rows.push_back(std::move(row));
    }
    const cut_account all{.portions = account.portions(), .cost = account.primary_value, .sales = account.sales};
    report_table::row total{.cells = {"all portions", std::to_string(all.portions), figure_cell(all.cost),
                                      figure_cell(all.sales), figure_cell(all.margin()),
                                      percent_cell(all.margin_share())},
                            .total = true};
    total.cells.resize(table.columns.size());
    table.rows.push_back(std::move(total));
    return table;
}

/// The same by loin, with everything that is sold: portions and by-products at their value.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table loin_margins_table(const sheet_answer& answer) {
    const std::string in = ", " + code_of_sheet();
    report_table table = figures_table(
        {"Loin", "Paid" + in, "Portions sell for" + in, "By-products" + in, "Gross margin" + in, "of all sales"});
    const auto add = [&](const std::string& name, const sheet_account& of, bool total) {
        table.rows.push_back({.cells = {name, figure_cell(of.paid), figure_cell(of.sales), figure_cell(of.credit),
                                        figure_cell(of.margin()), percent_cell(of.margin_share())},
                              .total = total});
    };
    if (answer.loins.size() > 1)
        for (const loin_answer& loin : answer.loins)
            if (loin.opened) add(loin.name, loin.account, false);
    add(answer.loins.size() > 1 ? "all loins" : "the loin", answer.all, answer.loins.size() > 1);
    return table;
}

/// What a plate costs, what of its price that is, and the price for the percentage that the sheet asks for.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table menu_table(const std::vector<menu_line>& menu,
                                                   const std::optional<fraction>& percentage) {
    const std::string in = ", " + code_of_sheet();
    const auto written = [](sheet_money m) { return rounded<chosen_currency>(m, rounding::half_even, "plate"); };
    report_table table =
        figures_table({"Cut", "Portion" + in, "Food" + in, "Menu price" + in, "Food cost", "Left" + in});
    if (percentage)
        table.columns.push_back({"Price for " + percent_text(*percentage) + in, report_table::align::right});
    for (const menu_line& line : menu) {
        const sheet_amount food = written(line.plate.food());
        report_table::row row{.cells = {line.cut, figure_cell(written(line.plate.meat)), figure_cell(food),
                                        figure_cell(line.price), percent_cell(line.food_cost),
                                        line.price ? figure_cell(*line.price - food) : ""}};
        if (percentage) row.cells.push_back(figure_cell(line.price_needed));
        table.rows.push_back(std::move(row));
    }
    return table;
}

} // namespace tranche::detail
