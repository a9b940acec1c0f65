// Comma-separated values after RFC 4180, written: cells of text and records, as `read_csv` takes them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/text/detail/csv_formula.hpp>
#include <tranche/text/utf8.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// In double quotes, and those inside doubled (RFC 4180, section 2). O(length).
[[nodiscard]] TRANCHE_COLD inline std::string in_quotes(std::string_view text) {
    std::string quoted = "\"";
    for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + '"';
}

/// A text cell after RFC 4180 (2005), section 2: in double quotes, doubled inside, where it holds a comma, a quote or a
/// line break. Spreadsheets take a text that starts with = + - or @, also full-width and behind blanks, for a formula, so
/// such a text gets an apostrophe in front; numbers do not go through here. Control characters become spaces.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string csv_text(std::string_view text) {
    const std::string cell = guarded(printable(text));
    return cell.find_first_of(",\"") == std::string::npos ? cell : in_quotes(cell);
}

/// Cells beside each other, without an end of the record.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string csv_cells(const std::vector<std::string>& cells) {
    std::string record;
    for (std::size_t i = 0; i < cells.size(); ++i) record += (i == 0 ? "" : ",") + cells[i];
    return record;
}

/// Cells as one record; RFC 4180 ends it with CR LF.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string csv_record(const std::vector<std::string>& cells) {
    return csv_cells(cells) + "\r\n";
}

} // namespace tranche::detail
