// An order as tables of comma-separated values, exact to the microgram and the minor unit, a file each.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/optimise/request/demand.hpp>
#include <tranche/orders/advice/supplied_order.hpp>
#include <tranche/orders/order_account.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/tables/order_advice_tables.hpp>
#include <tranche/report/tables/order_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// One record a line of the order: what is ordered (an empty cell where any number is taken), cut, missing and left
/// over, weights in grams, and money. Money columns are empty without a currency. O(lines). Throws nothing but for lack
/// of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string order_lines_csv(const order_account& account) {
    const bool money = detail::has_money(account);
    std::string text = detail::csv_record({"product", "at_least", "at_most", "cut", "missing", "carried", "surplus",
                                           "most", "weight_g", "lightest_g", "heaviest_g", "by_piece", "by_weight",
                                           "left_over_worth", "missing_cost", "one_more_costs", "currency"});
    const auto figure = [&](std::int64_t minor) {
        return money ? detail::money_number(minor, account.currency) : std::string();
    };
    for (const order_line_account& line : account.lines)
        text += detail::csv_record({detail::csv_text(line.name), std::to_string(line.at_least),
                                    line.at_most == demand::any_number ? "" : std::to_string(line.at_most),
                                    std::to_string(line.filled.made), std::to_string(line.filled.unfilled),
                                    std::to_string(line.filled.carried), std::to_string(line.filled.surplus),
                                    std::to_string(line.filled.most), detail::csv_grams(line.weight),
                                    line.filled.made > 0 ? detail::csv_grams(line.lightest) : "",
                                    line.filled.made > 0 ? detail::csv_grams(line.heaviest) : "", figure(line.by_piece),
                                    figure(line.by_weight), figure(line.left_over), figure(line.unfilled),
                                    figure(line.last_portion), account.currency.code});
    return text;
}

/// One record for loins that are cut alike or stay whole: how many, what is cut from each of them by product, and where
/// the mass of each went, in grams: whole = portions + remnant + loose + trim + cutting_loss, exactly. O(loins ×
/// lines). Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string order_loins_csv(const order_account& account) {
    const bool money = detail::has_money(account);
    std::vector<std::string> head{"loin", "loins", "opened"};
    for (const order_line_account& line : account.lines) head.push_back(detail::csv_text(line.name));
    for (const char* name : {"whole_g", "portions_g", "remnant_g", "loose_g", "trim_g", "cutting_loss_g", "worth_whole",
                             "gives", "currency"})
        head.emplace_back(name);
    std::string text = detail::csv_record(head);
    for (const order_loin_account& loin : account.loins) {
        std::vector<std::string> row{detail::csv_text(loin.name), std::to_string(loin.count),
                                     loin.opened ? "yes" : "no"};
        for (const std::int64_t count : loin.portions) row.push_back(std::to_string(count));
        for (const micrograms m :
             {loin.whole, loin.in_portions, loin.remnant, loin.loose, loin.trim, loin.cutting_loss})
            row.push_back(loin.opened ? detail::csv_grams(m) : "");
        row.push_back(money ? detail::money_number(loin.worth, account.currency) : "");
        row.push_back(money && loin.opened ? detail::money_number(loin.gives, account.currency) : "");
        row.push_back(account.currency.code);
        text += detail::csv_record(row);
    }
    return text;
}

/// What the order comes to with the loins of each supplier, one record each, the one that it is worth most with first: how many loins are
/// opened and what they cost, portions and missing ones, and what the order is worth. Money is exact to the minor unit, and empty without
/// a currency. O(suppliers × lines). Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string order_suppliers_csv(const std::vector<supplied_order>& ranked) {
    std::string text = detail::csv_record(
        {"rank", "loins_of", "opened", "unopened", "loins_cost", "portions", "missing", "worth", "currency"});
    for (const supplied_order& by : ranked) {
        const order_account& account = by.account;
        const auto figure = [&](std::int64_t minor) {
            return detail::has_money(account) ? detail::money_number(minor, account.currency) : std::string();
        };
        text += detail::csv_record({std::to_string(by.rank), detail::csv_text(by.name), std::to_string(account.opened),
                                    std::to_string(account.unopened), figure(account.loins_worth),
                                    std::to_string(detail::portions_of(account)),
                                    std::to_string(detail::missing_of(account)), figure(account.total()),
                                    account.currency.code});
    }
    return text;
}

/// What makes up the total of the order, one record a figure, and the total: they add up to the minor unit. Empty
/// without a currency. O(lines). Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string order_money_csv(const order_account& account) {
    if (!detail::has_money(account)) return "";
    std::string text = detail::csv_record({"what", "amount", "currency"});
    const auto add = [&](const std::string& what, std::int64_t minor) {
        text += detail::csv_record(
            {detail::csv_text(what), detail::money_number(minor, account.currency), account.currency.code});
    };
    for (const auto& [what, minor] : detail::order_money(account)) add(what, minor);
    add("in all", account.total());
    return text;
}

} // namespace tranche
