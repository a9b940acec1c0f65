// The tables of what would help an order: loins that would, and other suppliers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include <tranche/orders/advice/loin_help.hpp>
#include <tranche/orders/advice/supplied_order.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// Portions of all lines that are cut, and that are missing.
[[nodiscard]] inline std::int64_t portions_of(const order_account& account) {
    std::int64_t portions = 0;
    for (const order_line_account& line : account.lines) portions += line.filled.made;
    return portions;
}
[[nodiscard]] inline std::int64_t missing_of(const order_account& account) {
    std::int64_t missing = 0;
    for (const order_line_account& line : account.lines) missing += line.filled.unfilled;
    return missing;
}

} // namespace detail

/// One row a loin: what one more like it would bring, if the order was planned with it, and what it could bring at most; those that
/// bring nothing, and those behind the first `most`, are left out. Money in `in`, to the minor unit. Throws nothing but for lack of
/// memory. O(rows).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table loin_help_table(const std::vector<loin_help>& helps, const iso_currency& in,
                                                        std::size_t most = 10) {
    const auto right = report_table::align::right;
    report_table table{.columns = {{"One more like"},
                                   {"Brings, " + in.code, right},
                                   {"Fills portions", right},
                                   {"At most, " + in.code, right}}};
    for (const loin_help& help : helps) {
        if (help.at_most <= 0 || help.gains == 0 || table.rows.size() == most) continue;
        table.rows.push_back(
            {.cells = {help.name, help.gains ? detail::money_number(*help.gains, in) : "",
                       help.gains ? std::to_string(help.fills) : "", detail::money_number(help.at_most, in)}});
    }
    return table;
}

/// One row a supplier, the one that the order is worth most with first. Throws nothing but for lack of memory. O(suppliers × lines).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table order_suppliers_table(const std::vector<supplied_order>& ranked) {
    const auto right = report_table::align::right;
    const std::string code = ranked.empty() ? "" : ranked.front().account.currency.code;
    report_table table{.columns = {{"", right},
                                   {"Loins of"},
                                   {"Opened", right},
                                   {"Cost of those, " + code, right},
                                   {"Portions", right},
                                   {"Missing", right},
                                   {"Order is worth, " + code, right}}};
    for (const supplied_order& by : ranked) {
        table.rows.push_back(
            {.cells = {std::to_string(by.rank), by.name,
                       std::to_string(by.account.opened) + " of " +
                           std::to_string(by.account.opened + by.account.unopened),
                       detail::money_number(by.account.loins_worth, by.account.currency),
                       std::to_string(detail::portions_of(by.account)), std::to_string(detail::missing_of(by.account)),
                       detail::money_number(by.account.total(), by.account.currency)}});
    }
    return table;
}

} // namespace tranche
