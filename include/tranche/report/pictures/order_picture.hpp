// An order as SVG: how many portions of each product come out of each loin, and what is missing.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

#include <tranche/orders/order_account.hpp>
#include <tranche/report/pictures/detail/order_chart.hpp>
#include <tranche/report/tables/order_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// "12", "8–12", "≥ 8", "≤ 12": what stands in a narrow column.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string ordered_signs(const order_line_account& line) {
    const std::string least = std::to_string(line.at_least), most = std::to_string(line.at_most);
    if (line.at_most == demand::any_number) return line.at_least > 0 ? "≥ " + least : "";
    if (line.at_least == line.at_most) return most;
    return line.at_least > 0 ? least + "–" + most : "≤ " + most;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD order_figures figures_of(const order_account& account) {
    order_figures figures;
    for (const order_line_account& line : account.lines)
        figures.products.push_back(
            {line.name, ordered_signs(line), line.filled.made, line.filled.unfilled, left_over(line)});
    for (const order_loin_account& loin : account.loins) {
        order_row row{.name = loin.name, .loins = static_cast<std::size_t>(loin.count), .opened = loin.opened};
        row.portions = loin.portions;
        if (loin.count > 1) row.name += ", " + std::to_string(loin.count) + " alike";
        figures.loins.push_back(std::move(row));
    }
    return figures;
}

} // namespace detail

/// Loins by products: a row for each loin with its portions of each product, the darker the more, grey where it stays whole;
/// below what was cut, ordered, missing and left over. Of more than 32 rows loins that are cut alike share one, the largest
/// groups first, and the last row has all others together; of more than 24 products those with fewest portions share a column.
/// 960 pixels wide, self-contained, readable in greyscale; `name` begins the ids. Throws `invalid_input` for an account without
/// lines. O(loins × products × log loins).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string order_svg(const order_account& account, const std::string& name = "order") {
    if (account.lines.empty()) throw invalid_input("lines", "none", "at least one");
    return detail::order_chart<>(detail::figures_of(account), name).draw();
}

} // namespace tranche
