// A table of text cells, and how it is written in fixed-pitch columns that never run wider than the page.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/report/formats/plain_text.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Rows of cells under heads. The text report and the HTML report both show these, so that they say the same.
struct report_table {
    enum class align { left, right };
    struct column {
        std::string head{};
        align towards = align::left;

        friend bool operator==(const column&, const column&) = default;
    };
    struct row {
        std::vector<std::string> cells{}; ///< as many as there are columns
        bool total = false;               ///< a sum of the rows above: set off by a rule

        friend bool operator==(const row&, const row&) = default;
    };

    std::string caption{};         ///< may be empty
    std::vector<column> columns{}; ///< if every head is empty there is no row of heads
    std::vector<row> rows{};
    bool drawn = false; ///< pictures of its section, if there are any, show the same: a page folds the table then

    /// Whether any column has a head. Throws nothing.
    [[nodiscard]] bool headed() const {
        return std::any_of(columns.begin(), columns.end(), [](const column& c) { return !c.head.empty(); });
    }

    friend bool operator==(const report_table&, const report_table&) = default;
};

namespace detail {

/// A report reads well in a terminal, an e-mail and a printer of tickets alike.
inline constexpr std::size_t report_width = 80;

} // namespace detail

namespace detail {

template <class = when_called>
class table_writer {
public:
    table_writer(const report_table& table, std::size_t width) : table_(table), widths_(table.columns.size(), 2) {
        for (std::size_t c = 0; c < widths_.size(); ++c) {
            const std::string head = printable(table.columns[c].head) + ' ';
            for (std::size_t at = 0, space = 0; at < head.size(); at = space + 1) {
                space = head.find(' ', at);
                widths_[c] = std::max(widths_[c], columns_of(std::string_view(head).substr(at, space - at)));
            }
            for (const report_table::row& row : table.rows)
                widths_[c] = std::max(widths_[c], columns_of(printable(row.cells[c])));
            widths_[c] = std::min(widths_[c], std::max(width, std::size_t{2})); // it gives way at once, however wide
        }
        // Words give way first, then whatever is widest: numbers stay whole as long as they can.
        while (total() > width && (shrink(true, 14) || shrink(false, 2))) {}
    }

    [[nodiscard]] TRANCHE_COLD std::string text() const {
        std::string result;
        if (table_.headed()) {
            std::vector<std::string> heads;
            for (const report_table::column& c : table_.columns) heads.push_back(c.head);
            result += lines(heads, true) + rule();
        }
        for (const report_table::row& row : table_.rows) result += (row.total ? rule() : "") + lines(row.cells, false);
        return result;
    }

private:
    static constexpr std::size_t gap = 2;

    [[nodiscard]] std::size_t total() const {
        std::size_t sum = gap * (widths_.size() - 1);
        for (const std::size_t w : widths_) sum += w;
        return sum;
    }

    /// Takes one from the widest column, of words if asked; false if none is wider than `least`.
    bool shrink(bool words_only, std::size_t least) {
        std::size_t* widest = nullptr;
        for (std::size_t c = 0; c < widths_.size(); ++c) {
            if (words_only && table_.columns[c].towards != report_table::align::left) continue;
            if (widths_[c] > least && (widest == nullptr || widths_[c] > *widest)) widest = &widths_[c];
        }
        if (widest != nullptr) --*widest;
        return widest != nullptr;
    }

    /// One row as lines, each cell wrapped; heads stand at the foot of theirs.
    [[nodiscard]] TRANCHE_COLD std::string lines(const std::vector<std::string>& cells, bool at_foot) const {
        std::vector<std::vector<std::string>> wraps;
        std::size_t height = 0;
        for (std::size_t c = 0; c < widths_.size(); ++c) {
            wraps.push_back(wrapped(printable(cells[c]), widths_[c]));
            height = std::max(height, wraps.back().size());
        }
        std::string result;
        for (std::size_t k = 0; k < height; ++k) {
            std::string line;
            for (std::size_t c = 0; c < widths_.size(); ++c) {
                const std::size_t skip = at_foot ? height - wraps[c].size() : 0;
                const std::string part = k < skip || k - skip >= wraps[c].size() ? "" : wraps[c][k - skip];
                const std::size_t columns = columns_of(part);
                const std::string blank(widths_[c] - std::min(columns, widths_[c]), ' ');
                line += table_.columns[c].towards == report_table::align::left ? part + blank : blank + part;
                if (c + 1 < widths_.size()) line.append(gap, ' ');
            }
            line.erase(line.find_last_not_of(' ') + 1);
            result += line + '\n';
        }
        return result;
    }

    [[nodiscard]] TRANCHE_COLD std::string rule() const {
        std::string line;
        for (const std::size_t w : widths_) line += (line.empty() ? "" : std::string(gap, ' ')) + std::string(w, '-');
        return line + '\n';
    }

    const report_table& table_;
    std::vector<std::size_t> widths_;
};

} // namespace detail

/// The table in lines of at most `width` columns (at least four for each column of the table): cells that do not fit are
/// wrapped, nothing is left out. O(characters + cells × width). Columns are of a fixed-pitch display. Throws nothing
/// but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string text_table(const report_table& table, std::size_t width = detail::report_width) {
    std::string caption;
    if (!table.caption.empty())
        for (const std::string& line : detail::wrapped(detail::printable(table.caption), width)) caption += line + '\n';
    return caption + detail::table_writer(table, width).text();
}

} // namespace tranche
