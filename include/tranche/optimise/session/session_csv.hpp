// A session as a table of comma-separated values, to be written after each slab and taken up again after a power cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <charconv>
#include <cstddef>
#include <cstdint>
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

} // namespace detail

/// A session as a table after RFC 4180: what loin it is of, its spreads, then a record for each slab or weighing of the
/// rest. Lengths are metres and masses kilograms, in as many digits as bring the same numbers back: read(write(state))
/// == state. O(entries). Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string session_csv(const session_state& state) {
    std::string text;
    const auto record = [&](std::vector<std::string> cells) {
        cells.resize(detail::session_columns.size());
        text += detail::csv_record(cells);
    };
    record({detail::session_columns.begin(), detail::session_columns.end()});
    record({"whole_ug", std::to_string(state.whole.count)});
    record({"extent_m", detail::shortest_decimal(state.extent / metre)});
    record({"ratio", detail::shortest_decimal(state.spreads.ratio)});
    record({"bias_m", detail::shortest_decimal(state.spreads.bias / metre)});
    record({"knife_m", detail::shortest_decimal(state.spreads.knife / metre)});
    record({"ruler_m", detail::shortest_decimal(state.spreads.ruler / metre)});
    record({"scale_kg", detail::shortest_decimal(state.spreads.scale / kilogram)});
    record({"single_slab", detail::shortest_decimal(state.spreads.single_slab)});
    for (const session_entry& e : state.entries) {
        const std::string weight = detail::shortest_decimal(e.weight / kilogram);
        if (e.rest)
            record({"rest_kg", weight});
        else
            record({"slab_kg", weight, e.thickness ? detail::shortest_decimal(*e.thickness / metre) : "",
                    std::string(name_of(e.kind)), std::to_string(e.option), e.last ? "yes" : "no",
                    detail::shortest_decimal(e.set / metre), detail::shortest_decimal(e.aimed / metre)});
    }
    return text;
}

/// Reads what `session_csv` writes. Whether the entries can be is seen where a session goes on from them. Throws
/// `invalid_input` naming line and column for what is no such table; one that was cut off in the middle of a record
/// too. O(length). Lengths in metres, masses in kilograms.
template <class = detail::when_called>
[[nodiscard]] session_state read_session_csv(std::string_view text) {
    const std::vector<csv_row> rows = read_csv(text);
    const auto expect = [](bool so, const csv_row& row, std::size_t column, const std::string& expected) {
        if (!so) throw invalid_input(csv_place(row, column), '"' + row.cells[column] + '"', expected);
    };
    session_state state;
    const std::array<std::string_view, 8> heads{"whole_ug", "extent_m", "ratio",    "bias_m",
                                                "knife_m",  "ruler_m",  "scale_kg", "single_slab"};
    if (rows.front().cells.size() != detail::session_columns.size())
        throw invalid_input(csv_place(rows.front(), 0), std::to_string(rows.front().cells.size()) + " columns",
                            std::to_string(detail::session_columns.size()) + ", of a session");
    for (std::size_t i = 0; i < detail::session_columns.size(); ++i)
        expect(rows.front().cells[i] == detail::session_columns[i], rows.front(), i,
               "the heading " + std::string(detail::session_columns[i]));
    if (rows.size() <= heads.size())
        throw invalid_input("table", std::to_string(rows.size()) + " lines",
                            "a session's, which has more than " + std::to_string(heads.size()));
    for (std::size_t i = 0; i < heads.size(); ++i)
        expect(rows[i + 1].cells[0] == heads[i], rows[i + 1], 0, std::string(heads[i]));
    const auto head = [&](std::size_t i) -> detail::session_row { return detail::session_row(rows[i + 1]); };
    state.whole = {detail::session_row(rows[1]).whole<std::int64_t>(1)};
    state.extent = head(1).metres(1);
    state.spreads = {.ratio = head(2).number(1),
                     .bias = head(3).metres(1),
                     .knife = head(4).metres(1),
                     .ruler = head(5).metres(1),
                     .scale = head(6).number(1) * kilogram,
                     .single_slab = head(7).number(1)};
    for (std::size_t r = heads.size() + 1; r < rows.size(); ++r) {
        const detail::session_row row(rows[r]);
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

} // namespace tranche
