// A session as a table of comma-separated values, to be written after each slab and taken up again after a power cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <charconv>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include <tranche/optimise/session/session_state.hpp>
#include <tranche/text/read_csv.hpp>
#include <tranche/text/write_csv.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/number_from_chars.hpp>
#include <tranche/units/detail/shortest_decimal.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

inline constexpr std::array<std::string_view, 8> session_columns{"what",   "value", "thickness_m", "kind",
                                                                 "option", "last",  "set_m",       "aimed_m"};

class session_row {
public:
    explicit session_row(const csv_row& row) : row_(row) {}

    [[nodiscard]] const std::string& cell(std::size_t column) const { return row_.cells[column]; }
    [[noreturn]] TRANCHE_COLD void refuse(std::size_t column, const std::string& expected) const {
        throw invalid_input(csv_place(row_, column), '"' + cell(column) + '"', expected);
    }
    [[nodiscard]] double number(std::size_t column) const {
        const std::string& text = cell(column);
        double value = 0.0;
        const auto [end, error] = number_from_chars(text.data(), text.data() + text.size(), value);
        if (error != std::errc{} || end != text.data() + text.size()) refuse(column, "a number");
        return value;
    }
    template <class Whole>
    [[nodiscard]] Whole whole(std::size_t column) const {
        const std::string& text = cell(column);
        Whole value = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
        if (error != std::errc{} || end != text.data() + text.size()) refuse(column, "a whole number");
        return value;
    }
    [[nodiscard]] length metres(std::size_t column) const { return number(column) * metre; }

private:
    const csv_row& row_;
};

/// The records of a session below the headings of its table: what loin it is of, its spreads, then what it was told.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string session_records(const session_state& state) {
    std::string text;
    const auto record = [&](std::vector<std::string> cells) {
        cells.resize(session_columns.size());
        text += csv_record(cells);
    };
    record({"whole_ug", std::to_string(state.whole.count)});
    record({"extent_m", shortest_decimal(state.extent / metre)});
    record({"ratio", shortest_decimal(state.spreads.ratio)});
    record({"bias_m", shortest_decimal(state.spreads.bias / metre)});
    record({"knife_m", shortest_decimal(state.spreads.knife / metre)});
    record({"ruler_m", shortest_decimal(state.spreads.ruler / metre)});
    record({"scale_kg", shortest_decimal(state.spreads.scale / kilogram)});
    record({"single_slab", shortest_decimal(state.spreads.single_slab)});
    for (const session_entry& e : state.entries) {
        const std::string weight = shortest_decimal(e.weight / kilogram);
        if (e.rest)
            record({"rest_kg", weight});
        else
            record({"slab_kg", weight, e.thickness ? shortest_decimal(*e.thickness / metre) : "",
                    std::string(name_of(e.kind)), std::to_string(e.option), e.last ? "yes" : "no",
                    shortest_decimal(e.set / metre), shortest_decimal(e.aimed / metre)});
    }
    return text;
}

/// Reads what `session_records` writes.
template <class = when_called>
[[nodiscard]] session_state read_session_records(std::span<const csv_row> rows) {
    const auto expect = [](bool so, const csv_row& row, std::size_t column, const std::string& expected) {
        if (!so) throw invalid_input(csv_place(row, column), '"' + row.cells[column] + '"', expected);
    };
    session_state state;
    const std::array<std::string_view, 8> heads{"whole_ug", "extent_m", "ratio",    "bias_m",
                                                "knife_m",  "ruler_m",  "scale_kg", "single_slab"};
    if (rows.size() < heads.size())
        throw invalid_input("table", std::to_string(rows.size()) + " lines below its headings",
                            "a session's, which has at least " + std::to_string(heads.size()));
    for (std::size_t i = 0; i < heads.size(); ++i)
        expect(rows[i].cells[0] == heads[i], rows[i], 0, std::string(heads[i]));
    const auto head = [&](std::size_t i) -> session_row { return session_row(rows[i]); };
    state.whole = {session_row(rows[0]).whole<std::int64_t>(1)};
    state.extent = head(1).metres(1);
    state.spreads = {.ratio = head(2).number(1),
                     .bias = head(3).metres(1),
                     .knife = head(4).metres(1),
                     .ruler = head(5).metres(1),
                     .scale = head(6).number(1) * kilogram,
                     .single_slab = head(7).number(1)};
    for (std::size_t r = heads.size(); r < rows.size(); ++r) {
        const session_row row(rows[r]);
        session_entry entry{.weight = row.number(1) * kilogram};
        entry.rest = row.cell(0) == "rest_kg";
        if (!entry.rest) {
            if (row.cell(0) != "slab_kg") row.refuse(0, "slab_kg or rest_kg");
            if (!row.cell(2).empty()) entry.thickness = row.metres(2);
            bool known = false;
            for (const slab_kind kind : {slab_kind::facing, slab_kind::portions, slab_kind::loose, slab_kind::end})
                if (row.cell(3) == name_of(kind)) entry.kind = kind, known = true;
            if (!known) row.refuse(3, "facing, portions, loose or end");
            entry.option = row.whole<std::size_t>(4);
            if (row.cell(5) != "yes" && row.cell(5) != "no") row.refuse(5, "yes or no");
            entry.last = row.cell(5) == "yes";
            entry.set = row.metres(6);
            entry.aimed = row.metres(7);
        }
        state.entries.push_back(entry);
    }
    return state;
}

/// A table with the headings of a session.
template <class = when_called>
[[nodiscard]] std::vector<csv_row> read_session_table(std::string_view text) {
    std::vector<csv_row> rows = read_csv(text);
    if (rows.front().cells.size() != session_columns.size())
        throw invalid_input(csv_place(rows.front(), 0), std::to_string(rows.front().cells.size()) + " columns",
                            std::to_string(session_columns.size()) + ", of a session");
    for (std::size_t i = 0; i < session_columns.size(); ++i)
        if (rows.front().cells[i] != session_columns[i])
            throw invalid_input(csv_place(rows.front(), i), '"' + rows.front().cells[i] + '"',
                                "the heading " + std::string(session_columns[i]));
    return rows;
}

} // namespace detail

/// A session as a table after RFC 4180: what loin it is of, its spreads, then a record for each slab or weighing of the
/// rest. Lengths are metres and masses kilograms, in as many digits as bring the same numbers back: read(write(state))
/// == state. O(entries). Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string session_csv(const session_state& state) {
    return detail::csv_record({detail::session_columns.begin(), detail::session_columns.end()}) +
           detail::session_records(state);
}

/// Reads what `session_csv` writes. Whether the entries can be is seen where a session goes on from them. Throws
/// `invalid_input` naming line and column for what is no such table; one that was cut off in the middle of a record
/// too. O(length). Lengths in metres, masses in kilograms.
template <class = detail::when_called>
[[nodiscard]] session_state read_session_csv(std::string_view text) {
    const std::vector<csv_row> rows = detail::read_session_table(text);
    return detail::read_session_records(std::span(rows).subspan(1));
}

} // namespace tranche
