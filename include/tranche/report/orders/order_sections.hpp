// The report of an order, section by section, for text and page.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <utility>
#include <vector>

#include <tranche/orders/advice/loin_help.hpp>
#include <tranche/orders/advice/supplied_order.hpp>
#include <tranche/orders/order_account.hpp>
#include <tranche/report/cautions.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/orders/order_lines.hpp>
#include <tranche/report/pictures/order_picture.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/report/tables/order_advice_tables.hpp>
#include <tranche/report/tables/order_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

inline constexpr const char* order_suppliers_title = "With other loins";

} // namespace detail

/// What a report of an order says beside its plan.
struct order_report_options {
    kitchen_units units = us_kitchen;
    std::vector<loin_help> helps{};          ///< `loins_that_help`
    std::vector<supplied_order> suppliers{}; ///< `rank_suppliers`, the order's own loins among them

    friend bool operator==(const order_report_options&, const order_report_options&) = default;
};

/// The answer first, then the lines of the order with their picture, the loins, the money, what would help, other suppliers, where the mass
/// went, and the cautions: for `text_of` and `html_of`. Throws as `to_text` for what cannot be written. O(loins × lines).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> order_sections(const order_account& account,
                                                                      const order_report_options& options = {}) {
    using part = report_section::part;
    const kitchen_units& units = options.units;
    const bool money = detail::has_money(account);
    std::vector<report_section> sections{
        {.title = "The answer", .paragraphs = order_lines(account), .is = part::answer},
        {.title = "The order", .tables = {order_lines_table(account, units)}, .pictures = {order_svg(account)}},
        {.title = "Loins", .tables = {order_loins_table(account, units)}}};
    if (money)
        sections[1].paragraphs.emplace_back(
            "Last costs: what the order loses if it asks for one portion more of the product, and saves with one "
            "less, at the prices that bound the plan.");
    if (money) sections.push_back({.title = "What the order comes to", .tables = {order_money_table(account)}});
    if (!options.helps.empty()) {
        report_table table = loin_help_table(options.helps, account.currency);
        report_section section{.title = "One more loin"};
        if (table.rows.empty())
            section.paragraphs.emplace_back("None would help: more of no loin is worth what it costs.");
        else
            section.tables.push_back(std::move(table));
        sections.push_back(std::move(section));
    }
    if (!options.suppliers.empty())
        sections.push_back(
            {.title = detail::order_suppliers_title, .tables = {order_suppliers_table(options.suppliers)}});
    if (account.opened > 0)
        sections.push_back({.title = "Where the mass of the opened loins went",
                            .tables = {order_mass_table(account, units)},
                            .is = part::behind});
    sections.push_back({.title = "Cautions", .points = cautions()});
    return sections;
}

} // namespace tranche
