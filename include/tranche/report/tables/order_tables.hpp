// The tables of an order: its lines, its loins, its money, and where the mass of the opened loins went.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include <tranche/optimise/request/demand.hpp>
#include <tranche/orders/order_account.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// "12", "8 to 12", "at least 8", "at most 12": what a line asks for; empty if it asks for nothing and takes any.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string ordered_words(const order_line_account& line) {
    const std::string least = std::to_string(line.at_least), most = std::to_string(line.at_most);
    if (line.at_most == demand::any_number) return line.at_least > 0 ? "at least " + least : "";
    if (line.at_least == line.at_most) return most;
    return line.at_least > 0 ? least + " to " + most : "at most " + most;
}

/// "4 × strip steak, 2 × fillet".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string portions_words(const std::vector<std::int64_t>& portions,
                                                      const order_account& account) {
    std::string words;
    for (std::size_t line = 0; line < portions.size(); ++line)
        if (portions[line] > 0)
            words += (words.empty() ? "" : ", ") + std::to_string(portions[line]) + std::string(no_break_space) + "×" +
                     std::string(no_break_space) + account.lines[line].name;
    return words.empty() ? "no portions" : words;
}

/// Whether there is money in it: of an order without prices the values say only what is better.
[[nodiscard]] inline bool has_money(const order_account& account) { return !account.currency.code.empty(); }

[[nodiscard]] inline std::int64_t left_over(const order_line_account& line) {
    return line.filled.carried + line.filled.surplus;
}

} // namespace detail

/// One row a line: what is ordered, cut, missing and left over, weights, and what one portion more costs at the prices that bound the plan
/// (nothing where there is enough). Columns for what no line has are left out. Weights are written in `units`; throws as `to_text` for
/// one that cannot be written. O(lines).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table order_lines_table(const order_account& account, const kitchen_units& units) {
    const auto right = report_table::align::right;
    const std::string weight = detail::unit_name(units.portion);
    const auto any = [&](const auto& has) { return std::any_of(account.lines.begin(), account.lines.end(), has); };
    const bool missing = any([](const order_line_account& line) { return line.filled.unfilled > 0; });
    const bool over = any([](const order_line_account& line) { return detail::left_over(line) > 0; });
    const bool money = detail::has_money(account);
    report_table table{.columns = {{"Product"}, {"Ordered", right}, {"Cut", right}}};
    if (missing) table.columns.push_back({"Missing", right});
    if (over) table.columns.push_back({"Left over", right});
    table.columns.insert(table.columns.end(), {{detail::headed_in("Together", detail::unit_name(units.bulk)), right},
                                               {detail::headed_in("Lightest", weight), right},
                                               {detail::headed_in("Heaviest", weight), right}});
    if (money) table.columns.push_back({"Last costs, " + account.currency.code, right});
    std::int64_t all_cut = 0, all_missing = 0, all_over = 0;
    for (const order_line_account& line : account.lines) {
        const auto portion = [&](micrograms m) {
            return line.filled.made > 0 ? detail::number_of(to_mass(m), units.portion) : "";
        };
        const auto some = [](std::int64_t count) { return count > 0 ? std::to_string(count) : std::string(); };
        report_table::row row{.cells = {line.name, detail::ordered_words(line), std::to_string(line.filled.made)}};
        if (missing) row.cells.push_back(some(line.filled.unfilled));
        if (over) row.cells.push_back(some(detail::left_over(line)));
        row.cells.insert(row.cells.end(), {detail::number_of(to_mass(line.weight), units.bulk), portion(line.lightest),
                                           portion(line.heaviest)});
        if (money)
            row.cells.push_back(line.last_portion == 0 ? ""
                                                       : detail::money_number(line.last_portion, account.currency));
        table.rows.push_back(std::move(row));
        all_cut += line.filled.made;
        all_missing += line.filled.unfilled;
        all_over += detail::left_over(line);
    }
    report_table::row total{.cells = {"all products", "", std::to_string(all_cut)}, .total = true};
    if (missing) total.cells.push_back(std::to_string(all_missing));
    if (over) total.cells.push_back(std::to_string(all_over));
    total.cells.push_back(detail::number_of(to_mass(account.portions()), units.bulk));
    total.cells.resize(table.columns.size());
    table.rows.push_back(std::move(total));
    return table;
}

/// One row for loins that are cut alike, opened ones first: what is cut from each, what it weighs, how much of it goes into
/// portions, and what it is worth unopened. Of more than `most` rows the last says how many loins are left out. Weights are
/// written in `units`; throws as `to_text`. O(rows × lines).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table order_loins_table(const order_account& account, const kitchen_units& units,
                                                          std::size_t most = 40) {
    const auto right = report_table::align::right;
    const bool several = std::any_of(account.loins.begin(), account.loins.end(),
                                     [](const order_loin_account& loin) { return loin.count > 1; });
    const bool money = detail::has_money(account);
    report_table table{.columns = {{"Loin"}}};
    if (several) table.columns.push_back({"Loins", right});
    table.columns.insert(table.columns.end(), {{several ? "Cut from each" : "Cut"},
                                               {"Portions", right},
                                               {detail::headed_in("Weight", detail::unit_name(units.bulk)), right},
                                               {"In portions", right}});
    if (money) table.columns.push_back({"Worth whole, " + account.currency.code, right});
    const std::size_t shown = account.loins.size() <= most ? account.loins.size() : most - 1;
    for (std::size_t i = 0; i < shown; ++i) {
        const order_loin_account& loin = account.loins[i];
        std::int64_t portions = 0;
        for (const std::int64_t count : loin.portions) portions += count;
        report_table::row row{.cells = {loin.name}};
        if (several) row.cells.push_back(std::to_string(loin.count));
        row.cells.push_back(loin.opened ? detail::portions_words(loin.portions, account) : "stays whole");
        if (loin.opened)
            row.cells.insert(
                row.cells.end(),
                {std::to_string(portions), detail::number_of(to_mass(loin.whole), units.bulk),
                 loin.whole.count > 0 ? percent_text(to_mass(loin.in_portions) / to_mass(loin.whole)) : ""});
        else
            row.cells.insert(row.cells.end(), 3, "");
        if (money) row.cells.push_back(detail::money_number(loin.worth, account.currency));
        table.rows.push_back(std::move(row));
    }
    if (shown == account.loins.size()) return table;
    std::int64_t opened = 0, whole = 0;
    for (std::size_t i = shown; i < account.loins.size(); ++i)
        (account.loins[i].opened ? opened : whole) += account.loins[i].count;
    report_table::row more{.cells = {"and more"}};
    if (several) more.cells.push_back(std::to_string(opened + whole));
    more.cells.push_back(std::to_string(opened) + " opened, " + std::to_string(whole) + " whole: see the files");
    more.cells.resize(table.columns.size());
    table.rows.push_back(std::move(more));
    return table;
}

namespace detail {

/// What makes up the total of an order, in words and minor units; what is paid is negative. Figures of nothing are left out.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<std::pair<std::string, std::int64_t>> order_money(const order_account& account) {
    std::vector<std::pair<std::string, std::int64_t>> lines;
    const auto add = [&](const std::string& what, std::int64_t minor) {
        if (minor != 0) lines.emplace_back(what, minor);
    };
    for (const order_line_account& line : account.lines) {
        const std::int64_t sold = std::min(line.filled.made, line.at_most);
        add(line.name + ": " + std::to_string(sold) + " by the piece", line.by_piece);
        add(line.name + ": by weight", line.by_weight);
        add(line.name + ": " + std::to_string(left_over(line)) + " left over", line.left_over);
        add(line.name + ": " + std::to_string(line.filled.unfilled) + " missing", -line.unfilled);
    }
    add(std::to_string(account.remnants_kept) + " remnants kept", account.remnants_worth);
    for (const destination d : all_destinations)
        add("loose meat and trim for " + std::string(name_of(d)), account.by_products[d]);
    add("labour", -account.labour);
    add(std::to_string(account.opened) + (account.opened == 1 ? " loin opened" : " loins opened"),
        -account.loins_worth);
    return lines;
}

} // namespace detail

/// What is sold and kept, less what it costs, to the minor unit. O(lines). Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table order_money_table(const order_account& account) {
    report_table table{.columns = {{""}, {account.currency.code, report_table::align::right}}};
    for (const auto& [what, minor] : detail::order_money(account))
        table.rows.push_back({.cells = {what, detail::money_number(minor, account.currency)}});
    table.rows.push_back({.cells = {"in all", detail::money_number(account.total(), account.currency)}, .total = true});
    return table;
}

/// Where the mass of the opened loins went. Weights are written in `units`; throws as `to_text`. O(lines).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table order_mass_table(const order_account& account, const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table{
        .columns = {{"Part"}, {detail::headed_in("Weight", detail::unit_name(units.bulk)), right}, {"Share", right}}};
    const micrograms whole = account.whole();
    const auto add = [&](const std::string& part, micrograms m) {
        if (m.count == 0) return;
        table.rows.push_back(
            {.cells = {part, detail::number_of(to_mass(m), units.bulk), percent_text(to_mass(m) / to_mass(whole))}});
    };
    for (const order_line_account& line : account.lines) add(line.name, line.weight);
    add("remnants kept", account.remnants);
    for (const destination d : all_destinations) add("loose meat to " + std::string(name_of(d)), account.loose[d]);
    for (const destination d : all_destinations) add("trim to " + std::string(name_of(d)), account.trim[d]);
    add("cutting loss", account.cutting_loss);
    add("the loins that are opened", whole);
    if (!table.rows.empty()) table.rows.back().total = true;
    return table;
}

} // namespace tranche
