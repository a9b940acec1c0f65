// Any table of a report as comma-separated values.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/report/csv.hpp>
#include <tranche/report/report_table.hpp>

namespace tranche {

/// The heads, if there are any, and the rows of a table after RFC 4180 (2005); the caption is left out. Cells say what
/// the table says, rounded for display: `slabs_csv` and `account_csv` are exact. Cells of words are guarded as in
/// `csv_text`; those of a column of numbers, towards the right, keep their minus sign if they start with one and a
/// digit. O(cells).
[[nodiscard]] inline std::string table_csv(const report_table& table) {
    std::string text;
    const auto cell = [&](const report_table::column& column, const std::string& words) {
        const bool number = column.towards == report_table::align::right && words.size() > 1 && words[0] == '-' &&
                            words[1] >= '0' && words[1] <= '9';
        return number ? '-' + csv_text(std::string_view(words).substr(1)) : csv_text(words);
    };
    std::vector<std::string> record;
    if (table.headed()) {
        for (const report_table::column& column : table.columns) record.push_back(csv_text(column.head));
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
