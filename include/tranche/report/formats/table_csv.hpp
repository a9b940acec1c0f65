// Any table of a report as comma-separated values.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Whether all of `text` is one number as the tables write them: "-5.00", "+8 1/4", "-3/4 oz", "-1 lb 4 oz", "-1.47 ± 1.27 %",
/// "-12.00 USD/lb". Nothing in such a text is more than a number to a spreadsheet.
template <class = when_called>
[[nodiscard]] bool is_written_number(std::string_view text) {
    const auto accept = [&](std::string_view token) {
        if (!text.starts_with(token)) return false;
        text.remove_prefix(token.size());
        return true;
    };
    const auto digits = [&] {
        const std::size_t count = std::min(text.find_first_not_of("0123456789"), text.size());
        text.remove_prefix(count);
        return count > 0;
    };
    const auto number = [&] {
        if (!digits()) return false;
        if (accept(".") || accept("/")) return digits();
        const std::string_view whole = text;
        if (!(accept(" ") && digits() && accept("/") && digits())) text = whole; // no fraction behind it
        return true;
    };
    const auto unit = [&] {
        for (const std::string_view name : {"kg", "g", "oz", "lb", "mm", "cm", "min", "m", "in", "h", "%"})
            if (accept(name)) return true;
        return false;
    };
    const auto currency_code = [&] {
        const std::size_t count = std::min(text.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ"), text.size());
        text.remove_prefix(count);
        return count == 3; // ISO 4217
    };
    if (!accept("-")) (void)accept("+");
    if (!number() || (accept(" ± ") && !number())) return false;
    if (text.empty()) return true;
    if (!accept(" ")) return false;
    if (accept("lb ")) return number() && text == " oz";
    if (accept("h ")) return number() && text == " min";
    if (unit()) return text.empty();
    if (!currency_code()) return false;
    return text.empty() || (accept("/") && (accept("100 g") || unit()) && text.empty());
}

} // namespace detail

/// The heads, if there are any, and the rows of a table after RFC 4180 (2005); the caption is left out. Cells say what
/// the table says, rounded for display: `slabs_csv` and `account_csv` are exact. Cells of words are guarded as in
/// `csv_text`; those of a column of numbers, towards the right, keep their sign where all of the cell is one number, with or
/// without a unit. O(characters). Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string table_csv(const report_table& table) {
    std::string text;
    const auto cell = [&](const report_table::column& column, const std::string& words) {
        const bool number = column.towards == report_table::align::right && detail::is_written_number(words);
        return number ? words : detail::csv_text(words);
    };
    std::vector<std::string> record;
    if (table.headed()) {
        for (const report_table::column& column : table.columns) record.push_back(detail::csv_text(column.head));
        text += detail::csv_record(record);
    }
    for (const report_table::row& row : table.rows) {
        record.clear();
        for (std::size_t c = 0; c < row.cells.size(); ++c) record.push_back(cell(table.columns[c], row.cells[c]));
        text += detail::csv_record(record);
    }
    return text;
}

} // namespace tranche
