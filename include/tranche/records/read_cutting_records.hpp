// Cutting tests out of a table of comma-separated values, read strictly.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/records/cutting_record.hpp>
#include <tranche/text/date.hpp>
#include <tranche/text/detail/csv_formula.hpp>
#include <tranche/text/read_csv.hpp>
#include <tranche/units/detail/number_from_chars.hpp>

namespace tranche {

namespace detail {

/// The columns of a record table, in this order.
inline constexpr std::array<std::string_view, 14> record_columns{
    "date",   "supplier", "grade",       "note",      "bought_g",       "usable_g", "strips_g",
    "dice_g", "grind_g",  "rendering_g", "discard_g", "cutting_loss_g", "purge_g",  "predicted_yield"};

} // namespace detail

namespace detail {

class record_line {
public:
    explicit record_line(const csv_row& row) : row_(row) {}

    [[nodiscard]] std::string text(std::size_t column) const { return unguarded(row_.cells[column]); }
    [[nodiscard]] std::chrono::year_month_day date(std::size_t column) const {
        const std::string_view cell = row_.cells[column];
        const auto date = iso_date(cell);
        if (!date) fail(column, "a date such as 2026-03-14");
        if (!date->ok()) fail(column, "a day of the calendar");
        return *date;
    }
    /// Digit by digit, so that every microgram that can be written can be read.
    [[nodiscard]] mass grams(std::size_t column) const {
        const std::string_view cell = row_.cells[column];
        const std::size_t point = std::min(cell.find('.'), cell.size());
        const std::string_view whole = cell.substr(0, point);
        const std::string_view decimals = point < cell.size() ? cell.substr(point + 1) : std::string_view("0");
        if (!is_digits(whole) || !is_digits(decimals) || whole.size() > 9 || decimals.size() > 6)
            fail(column, "grams such as 340 or 340.5, with at most nine digits and six decimals");
        std::string digits(whole);
        (digits += decimals).append(6 - decimals.size(), '0');
        std::int64_t count = 0;
        std::from_chars(digits.data(), digits.data() + digits.size(), count);
        return to_mass({count});
    }
    [[nodiscard]] std::optional<fraction> share(std::size_t column) const {
        const std::string_view cell = row_.cells[column];
        if (cell.empty()) return std::nullopt;
        double value = -1.0;
        const auto [end, error] =
            number_from_chars(cell.data(), cell.data() + cell.size(), value, std::chars_format::fixed);
        const bool plain = cell.front() >= '0' && cell.front() <= '9'; // neither a sign nor nan
        if (!plain || error != std::errc{} || end != cell.data() + cell.size() || !(value >= 0.0 && value <= 1.0))
            fail(column, "a share, 0 to 1, or nothing");
        return value;
    }

private:
    [[noreturn]] void fail(std::size_t column, const char* expected) const {
        throw invalid_input(csv_place(row_, column) + " (" + std::string(record_columns[column]) + ')',
                            quoted_start(row_.cells[column]), expected);
    }

    const csv_row& row_;
};

} // namespace detail

/// Reads a table whose first line is `record_columns`: dates as in ISO 8601 (2026-03-14), weights in grams with a decimal
/// point, at most nine digits before it and six behind; a weight of nothing is 0. `predicted_yield` is a share or empty. A
/// cell that starts with apostrophes and then with a formula (= + - or @, also full-width or behind blanks) loses the first of
/// them (`cutting_records_csv`).
///
/// Dates may come in any order and more than once, and the records keep the order of the lines. A line that says
/// what an earlier one says was entered twice and is refused: two loins of one day that agree to the gram get notes.
/// Throws `invalid_input` for what `read_csv` refuses, for other headings, and with line, column, text and expectation for a
/// cell that cannot be read; and naming the line for a record that `validate` refuses. O(length, log lines a line).
[[nodiscard]] inline std::vector<cutting_record> read_cutting_records(std::string_view text,
                                                                      const weighing_tolerance& scale_tolerance = {}) {
    const std::vector<csv_row> rows = read_csv(text);
    for (std::size_t i = 0; i < std::max(detail::record_columns.size(), rows[0].cells.size()); ++i) {
        const std::string_view found = i < rows[0].cells.size() ? std::string_view(rows[0].cells[i]) : "";
        if (i >= detail::record_columns.size())
            throw invalid_input(csv_place(rows[0], i), detail::quoted_start(found), "no more columns");
        if (found != detail::record_columns[i])
            throw invalid_input(csv_place(rows[0], i), detail::quoted_start(found),
                                "the heading " + std::string(detail::record_columns[i]));
    }
    std::vector<cutting_record> records;
    std::map<cutting_record, std::size_t, detail::record_before> lines;
    for (std::size_t i = 1; i < rows.size(); ++i) {
        const std::string place = "line " + std::to_string(rows[i].line);
        const detail::record_line line(rows[i]);
        cutting_record record{.date = line.date(0),
                              .supplier = line.text(1),
                              .grade = line.text(2),
                              .note = line.text(3),
                              .bought = line.grams(4),
                              .usable = line.grams(5),
                              .cutting_loss = line.grams(11),
                              .purge = line.grams(12),
                              .predicted_yield = line.share(13)};
        for (std::size_t d = 0; d < detail::destination_count; ++d) record.by_products.values[d] = line.grams(6 + d);
        try {
            validate(record, scale_tolerance);
        } catch (const invalid_input& error) {
            throw within(place + ", ", error);
        }
        const auto [earlier, fresh] = lines.try_emplace(record, rows[i].line);
        if (!fresh)
            throw invalid_input(place, "the same as in line " + std::to_string(earlier->second),
                                "each test once; give two loins alike a note");
        records.push_back(std::move(record));
    }
    if (records.empty()) throw invalid_input("table", "only headings", "at least one cutting test");
    return records;
}

} // namespace tranche
