// Sheets of small cards to print and cut apart: labels for packs, cards for portions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/report/board_card.hpp>
#include <tranche/report/detail/page_parts.hpp>
#include <tranche/report/page_foot.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// One card: a heading, what it says line by line, and words below.
struct printed_card {
    std::string heading{};
    std::vector<std::pair<std::string, std::string>> lines{}; ///< a name and what it is
    std::string note{};

    friend bool operator==(const printed_card&, const printed_card&) = default;
};

/// How a sheet of cards is made.
struct card_sheet_options {
    card_paper paper = card_paper::a4;
    int columns = 2;  ///< side by side, 1 to 4
    page_foot made{}; ///< what its foot says

    friend bool operator==(const card_sheet_options&, const card_sheet_options&) = default;
};

namespace detail {

inline constexpr std::string_view card_sheet_style = R"(
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 5mm; max-width: 200mm; background: #fff; color: #000; font: 9pt/1.3 system-ui, sans-serif; }
h1 { margin: 0 0 2mm; font-size: 13pt; overflow-wrap: anywhere; }
p { margin: 0 0 2mm; overflow-wrap: anywhere; }
.cards { display: grid; grid-template-columns: repeat(var(--columns), minmax(0, 1fr)); }
.card { padding: 3mm; border: 0.2mm dashed #777; break-inside: avoid; }
.card h2 { margin: 0 0 1mm; font-size: 11pt; overflow-wrap: anywhere; }
dl { display: grid; grid-template-columns: auto minmax(0, 1fr); gap: 0.3mm 3mm; margin: 0; }
dt { color: #444; }
dd { margin: 0; text-align: right; overflow-wrap: anywhere; font-variant-numeric: tabular-nums; }
.card p { margin: 1mm 0 0; color: #444; font-size: 7.5pt; }
footer { color: #444; font-size: 7.5pt; overflow-wrap: anywhere; }
@media screen and (max-width: 40rem) { .cards { display: block; } }
@media print { body { padding: 0; max-width: none; } }
)";

} // namespace detail

/// A page of cards in columns, dashed where they are cut apart; none is split between two sheets of paper. `words` stand under the
/// title. No scripts, nothing from elsewhere, well-formed XML. A blank title becomes "Cards". Throws `invalid_input` for a
/// number of columns that is not 1 to 4. O(characters).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string card_sheet(std::string_view title, const std::vector<printed_card>& cards,
                                                  const std::string& words = {},
                                                  const card_sheet_options& options = {}) {
    if (options.columns < 1 || options.columns > 4)
        throw invalid_input("columns", std::to_string(options.columns), "1 to 4");
    std::string style = "\n@page { size: ";
    style += options.paper == card_paper::a4 ? "210mm 297mm" : "8.5in 11in";
    style += "; margin: 10mm; }\n:root { color-scheme: light; --columns: " + std::to_string(options.columns) + "; }" +
             std::string(detail::card_sheet_style);
    std::string html = detail::html_head(title, "Cards", style);
    if (!words.empty()) html += "<p>" + detail::escape_xml(words) + "</p>\n";
    html += "<div class=\"cards\">\n";
    for (const printed_card& card : cards) {
        html += "<section class=\"card\">\n<h2>" + detail::escape_xml(card.heading) + "</h2>\n<dl>\n";
        for (const auto& [name, value] : card.lines)
            html += "<dt>" + detail::escape_xml(name) + "</dt><dd>" + detail::escape_xml(value) + "</dd>\n";
        html += "</dl>\n";
        if (!card.note.empty()) html += "<p>" + detail::escape_xml(card.note) + "</p>\n";
        html += "</section>\n";
    }
    return html + "</div>\n" + detail::html_foot(options.made);
}

} // namespace tranche
