// An order that is being cut as a table of comma-separated values, to be written after each slab and taken up after a power cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/optimise/session/session_csv.hpp>
#include <tranche/orders/order_session.hpp>
#include <tranche/text/read_csv.hpp>
#include <tranche/text/write_csv.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shortest_decimal.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

inline constexpr std::array<std::pair<slab_use::way, std::string_view>, 5> words_of_uses{
    {{slab_use::way::as_it_is, "as it is"},
     {slab_use::way::trimmed_down, "trimmed down"},
     {slab_use::way::halved, "halved"},
     {slab_use::way::other_cut, "other cut"},
     {slab_use::way::loose, "loose"}}};

/// Adds the loin of these records to a state. One that is off the board has what became of it behind its session: `what` is
/// "off_the_board", and its weight that of the rest, or none; then a "use_kg" for each slab, whose weight is that of a portion. The
/// last one alone may be on the board.
template <class = when_called>
TRANCHE_COLD void read_order_board(std::span<const csv_row> rows, bool last, order_session_state& state) {
    const session_row loin(rows.front());
    if (loin.cell(0) != "loin") loin.refuse(0, "loin");
    order_board board{.loin = loin.whole<std::size_t>(1)};
    std::size_t end = 1;
    while (end < rows.size() && rows[end].cells[0] != "off_the_board") ++end;
    board.readings = read_session_records(rows.subspan(1, end - 1));
    if (end == rows.size()) {
        if (!last) loin.refuse(0, "off_the_board before another loin");
        state.board = std::move(board);
        return;
    }
    const session_row off(rows[end]);
    if (!off.cell(1).empty()) board.rest = off.number(1) * kilogram;
    for (const csv_row& cells : rows.subspan(end + 1)) {
        const session_row row(cells);
        if (row.cell(0) != "use_kg") row.refuse(0, "use_kg, loin or end");
        slab_use use{.spec = row.whole<std::size_t>(4), .portion = row.number(1) * kilogram};
        bool known = false;
        for (const auto& [way, words] : words_of_uses)
            if (row.cell(3) == words) use.becomes = way, known = true;
        if (!known) row.refuse(3, "as it is, trimmed down, halved, other cut or loose");
        board.uses.push_back(use);
    }
    state.done.push_back(std::move(board));
}

} // namespace detail

/// An order that is being cut as a table after RFC 4180, with the columns of `session_csv`: for each loin its index, its session as that
/// writes it and, once it is off the board, what was left and what became of its slabs; the last record is "end". Lengths are
/// metres and masses kilograms, in as many digits as bring the same numbers back: read(write(state)) == state. O(readings). Throws nothing
/// but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string order_session_csv(const order_session_state& state) {
    std::string text = detail::csv_record({detail::session_columns.begin(), detail::session_columns.end()});
    const auto record = [&](std::vector<std::string> cells) {
        cells.resize(detail::session_columns.size());
        text += detail::csv_record(cells);
    };
    const auto put = [&](const order_board& board) {
        record({"loin", std::to_string(board.loin)});
        text += detail::session_records(board.readings);
    };
    for (const order_board& board : state.done) {
        put(board);
        record({"off_the_board", board.rest ? detail::shortest_decimal(*board.rest / kilogram) : ""});
        for (const slab_use& use : board.uses)
            for (const auto& [way, words] : detail::words_of_uses)
                if (way == use.becomes)
                    record({"use_kg", detail::shortest_decimal(use.portion / kilogram), "", std::string(words),
                            std::to_string(use.spec)});
    }
    if (state.board) put(*state.board);
    record({"end"});
    return text;
}

/// Reads what `order_session_csv` writes. Whether the order has such loins and its loins such slabs is seen where a session goes on from
/// it. Throws `invalid_input` naming line and column for what is no such table, and for one that was cut off, wherever that was.
/// O(length). Lengths in metres, masses in kilograms.
template <class = detail::when_called>
[[nodiscard]] order_session_state read_order_session_csv(std::string_view text) {
    const std::vector<csv_row> table = detail::read_session_table(text);
    if (table.back().cells[0] != "end") detail::session_row(table.back()).refuse(0, "end, in the last line");
    const std::span<const csv_row> rows = std::span(table).subspan(1, table.size() - 2);
    order_session_state state;
    for (std::size_t from = 0, to = 0; from < rows.size(); from = to) {
        for (to = from + 1; to < rows.size() && rows[to].cells[0] != "loin";) ++to;
        detail::read_order_board(rows.subspan(from, to - from), to == rows.size(), state);
    }
    return state;
}

} // namespace tranche
