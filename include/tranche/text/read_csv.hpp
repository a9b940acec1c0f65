// Comma-separated values after RFC 4180, read strictly: what is wrong is named by line and column.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/text/utf8.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// One record of a table.
struct csv_row {
    std::size_t line = 0; ///< where it starts, counted from 1
    std::vector<std::string> cells{};

    friend bool operator==(const csv_row&, const csv_row&) = default;
};

/// "line 3, column 5": as errors name a cell, both counted from 1. `cell` counts from 0 and need not be one of the row.
/// Throws nothing but for lack of memory.
[[nodiscard]] inline std::string csv_place(const csv_row& row, std::size_t cell) {
    return "line " + std::to_string(row.line) + ", column " + std::to_string(cell + 1);
}

namespace detail {

/// `text` in quotes and not too long for an error.
[[nodiscard]] inline std::string quoted_start(std::string_view text) {
    return '"' + std::string(text.substr(0, whole_characters(text, 40))) + (text.size() > 40 ? "..." : "") + '"';
}

class csv_scanner {
public:
    explicit csv_scanner(std::string_view text) : text_(text) {
        if (text_.starts_with("\xEF\xBB\xBF")) text_.remove_prefix(3);
    }
    [[nodiscard]] bool done() const { return at_ == text_.size(); }

    [[nodiscard]] csv_row row() {
        csv_row result{line_, {}};
        do {
            result.cells.push_back(text_.substr(at_).starts_with('"') ? quoted(result) : plain(result));
        } while (accept(","));
        if (done() || accept("\r\n") || accept("\n")) {
            ++line_;
            return result;
        }
        fail(result, result.cells.size() - 1, text_.substr(at_, 1), "a comma or the end of the line after a cell");
    }

private:
    [[noreturn]] static void fail(const csv_row& row, std::size_t cell, std::string_view found, const char* expected) {
        throw invalid_input(csv_place(row, cell), quoted_start(found), expected);
    }
    [[nodiscard]] bool accept(std::string_view token) {
        if (!text_.substr(at_).starts_with(token)) return false;
        at_ += token.size();
        return true;
    }
    [[nodiscard]] std::string plain(const csv_row& row) {
        const std::size_t end = std::min(text_.find_first_of(",\r\n", at_), text_.size());
        const std::string_view cell = text_.substr(at_, end - at_);
        if (cell.find('"') != std::string_view::npos)
            fail(row, row.cells.size(), cell, "quotes around the whole cell, doubled inside it");
        at_ = end;
        return std::string(cell);
    }
    [[nodiscard]] std::string quoted(const csv_row& row) {
        const std::size_t start = at_++;
        std::string cell;
        for (;;) {
            const std::size_t quote = text_.find('"', at_);
            if (quote == std::string_view::npos) fail(row, row.cells.size(), text_.substr(start), "a closing quote");
            for (const char c : text_.substr(at_, quote - at_)) line_ += c == '\n' ? 1 : 0;
            cell += text_.substr(at_, quote - at_);
            at_ = quote + 1;
            if (!accept("\"")) return cell;
            cell += '"';
        }
    }

    std::string_view text_;
    std::size_t at_ = 0, line_ = 1;
};

} // namespace detail

/// The records of `text` after RFC 4180 (2005), section 2: cells between commas, in double quotes where they hold a comma,
/// a quote (doubled) or a line break; spaces belong to the cell. Lines end with CR LF or with LF alone, the last one may
/// end with neither, and a byte order mark in front is left out. The first record heads the columns.
///
/// Throws `invalid_input` naming line and column for text that is not UTF-8, a quote out of place or not closed, a CR
/// alone, and a record with another number of cells than the first; and for a text without records. O(length).
[[nodiscard]] inline std::vector<csv_row> read_csv(std::string_view text) {
    std::vector<csv_row> rows;
    detail::csv_scanner scanner(text);
    if (scanner.done()) throw invalid_input("table", "nothing", "a line of headings");
    while (!scanner.done()) {
        rows.push_back(scanner.row());
        const csv_row& row = rows.back();
        for (std::size_t i = 0; i < row.cells.size(); ++i)
            for (std::size_t at = 0; at < row.cells[i].size();) {
                const detail::code_point c = detail::code_point_at(row.cells[i], at);
                if (!c.valid) throw invalid_input(csv_place(row, i), "bytes that are no UTF-8", "UTF-8 text");
                at += c.bytes;
            }
        if (const std::size_t wanted = rows.front().cells.size(); row.cells.size() != wanted)
            throw invalid_input("line " + std::to_string(row.line), std::to_string(row.cells.size()) + " cells",
                                std::to_string(wanted) + ", as many as in the first line");
    }
    return rows;
}

} // namespace tranche
