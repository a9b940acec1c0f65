// The parts of a page: its head and foot, tables, boxes that scroll, and sections that may be folded.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/report/page_foot.hpp>
#include <tranche/report/pictures/detail/svg.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/version.hpp>

namespace tranche::detail {

/// Whether a word is so long that it may have to be broken.
template <class = when_called>
[[nodiscard]] bool has_long_word(std::string_view text) {
    constexpr std::size_t long_word = 24;
    std::size_t run = 0;
    for (const char c : text)
        if ((run = c == ' ' ? 0 : run + 1) > long_word) return true;
    return false;
}

/// Adds something wide, in a box that scrolls and that the keyboard reaches. Pictures are long, so parts of a page are added to
/// what there is of it.
template <class = when_called>
TRANCHE_COLD void add_scroll_box(std::string& html, std::string_view label, std::string_view content,
                                 std::string_view more = {}) {
    html += "<div class=\"scroll";
    if (!more.empty()) (html += ' ').append(more);
    html += "\" tabindex=\"0\" role=\"region\" aria-label=\"";
    (html.append(escape_xml(label)) += "\">\n").append(content) += "</div>\n";
}
template <class = when_called>
TRANCHE_COLD void add_figure(std::string& html, std::string_view label, std::string_view picture,
                             std::string_view more = {}) {
    html += "<figure>\n";
    add_scroll_box(html, label, picture, more);
    html += "</figure>\n";
}

/// The head of a column with its unit, "From rib end, in": a short one alone on a line would be taken for a word.
template <class = when_called>
[[nodiscard]] std::string head_of_column(const std::string& head) {
    std::string text = escape_xml(head);
    const std::size_t unit = text.rfind(", ");
    if (unit != std::string::npos && text.find(' ', unit + 2) == std::string::npos && text.size() - unit <= 5)
        text.replace(unit + 1, 1, no_break_space);
    return text;
}

/// Escaped text in which "12 1/2" stays on one line, and of a cell "87 %" as well.
template <class = when_called>
[[nodiscard]] std::string unbroken_numbers(std::string_view words, bool of_cell = false) {
    std::string text = escape_xml(words);
    const auto digit = [&](std::size_t at) { return at < text.size() && text[at] >= '0' && text[at] <= '9'; };
    for (std::size_t at = 1; (at = text.find(' ', at)) != std::string::npos; ++at) {
        std::size_t behind = at + 1;
        while (digit(behind)) ++behind;
        const bool share = of_cell && behind == at + 1 && text.compare(behind, 1, "%") == 0;
        const bool part = behind > at + 1 && text.compare(behind, 1, "/") == 0 && digit(behind + 1);
        if (digit(at - 1) && (share || part)) text.replace(at, 1, no_break_space);
    }
    return text;
}

/// A cell knows the head of its column: where rows stack it is shown beside it. Roles stay what they are when rows are no table rows.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string html_table(const report_table& table, std::string_view label) {
    constexpr std::size_t rows_of_a_page = 32;
    const bool headed = table.headed();
    std::string html = "<table role=\"table\" class=\"";
    html += headed ? "headed" : "plain";
    html += table.rows.size() <= rows_of_a_page ? " short\">\n" : "\">\n";
    if (!table.caption.empty()) html += "<caption>" + escape_xml(table.caption) + "</caption>\n";
    std::vector<std::string> cells; // how the cells of a column begin
    const auto number = [&](std::size_t c) { return table.columns[c].towards == report_table::align::right; };
    if (headed) html += "<thead role=\"rowgroup\"><tr role=\"row\">";
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        const std::string head = head_of_column(table.columns[c].head);
        const std::string side = number(c) ? " class=\"number\"" : "";
        if (headed) html += "<th role=\"columnheader\" scope=\"col\"" + side + '>' + head + "</th>";
        cells.push_back(std::string(" role=\"cell\"") + (head.empty() ? "" : " data-head=\"" + head + '"'));
    }
    if (headed) html += "</tr></thead>\n";
    html += "<tbody role=\"rowgroup\">\n";
    for (const report_table::row& row : table.rows) {
        html += row.total ? "<tr role=\"row\" class=\"total\">" : "<tr role=\"row\">";
        for (std::size_t c = 0; c < row.cells.size(); ++c) {
            const bool head = c == 0 && !headed, broken = has_long_word(row.cells[c]);
            html += head ? "<th role=\"rowheader\" scope=\"row\"" : "<td" + cells[c];
            if (broken || (number(c) && !head)) html += broken ? " class=\"long\"" : " class=\"number\"";
            ((html += '>') += number(c) && !head ? unbroken_numbers(row.cells[c], true) : escape_xml(row.cells[c])) +=
                head ? "</th>" : "</td>";
        }
        html += "</tr>\n";
    }
    html += "</tbody>\n</table>\n";
    std::string boxed;
    add_scroll_box(boxed, table.caption.empty() ? label : std::string_view(table.caption), html);
    return boxed;
}

/// Adds what stands under the heading of a section. Tables that a picture shows lie behind it.
template <class = when_called>
TRANCHE_COLD void add_section_content(std::string& html, const report_section& section) {
    std::string drawn;
    for (const report_table& table : section.tables)
        (table.drawn && !section.pictures.empty() ? drawn : html) += html_table(table, section.title);
    for (const std::string& picture : section.pictures) add_figure(html, "Picture: " + section.title, picture);
    if (!drawn.empty())
        html += "<details class=\"as-tables\"><summary>What the pictures show, as tables</summary>\n" + drawn +
                "</details>\n";
    for (const std::string& words : section.paragraphs) html += "<p>" + unbroken_numbers(words) + "</p>\n";
    if (!section.points.empty()) {
        html += "<ul>\n";
        for (const std::string& words : section.points) html += "<li>" + escape_xml(words) + "</li>\n";
        html += "</ul>\n";
    }
}

/// Links lead to `id`; into what is folded, so that it opens.
template <class = when_called>
TRANCHE_COLD void add_section(std::string& html, const report_section& section, const std::string& id,
                              std::string_view more = {}) {
    const std::string head = "<h2>" + escape_xml(section.title) + "</h2>";
    const bool folded = section.is == report_section::part::behind;
    if (folded) {
        html += "<details>\n<summary>" + head + "</summary>\n<div class=\"behind\" id=\"" + id + "\">\n";
    } else {
        const std::string_view kind = section.is == report_section::part::answer    ? " class=\"answer\""
                                      : section.is == report_section::part::warning ? " class=\"warnings\""
                                                                                    : "";
        (html += "<section").append(kind) += " id=\"" + id + "\">\n" + head + '\n';
    }
    add_section_content(html, section);
    html.append(more) += folded ? "</div>\n</details>\n" : "</section>\n";
}

/// A page up to what it says. The style comes without marks.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string html_head(std::string_view title, std::string_view if_blank,
                                                 std::string_view style) {
    const bool blank = printable(title).find_first_not_of(' ') == std::string::npos;
    const std::string name = escape_xml(blank ? if_blank : title);
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
           "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>" +
           name + "</title>\n<style>" + std::string(style) + "</style>\n</head>\n<body>\n<main>\n<h1>" + name +
           "</h1>\n";
}

/// The foot in words: "Made with tranche 0.2.0 · 2026-03-14 · sheet friday.ini".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string foot_text(const page_foot& at_foot) {
    std::string words = "Made with tranche " + std::string(version_text);
    for (const std::string* part : {&at_foot.date, &at_foot.sheet})
        if (printable(*part).find_first_not_of(' ') != std::string::npos) words += " · " + *part;
    return words;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string html_foot(const page_foot& at_foot) {
    return "</main>\n<footer>\n<p>" + escape_xml(foot_text(at_foot)) + "</p>\n</footer>\n</body>\n</html>\n";
}

/// Links to sections, answer and warnings left out: they stand beside it.
struct page_contents {
    std::string links;

    template <class = when_called>
    TRANCHE_COLD void add(const std::string& id, std::string_view title) {
        links += "<li><a href=\"#" + id + "\">" + escape_xml(title) + "</a></li>\n";
    }
    [[nodiscard]] std::string html() const {
        return links.empty() ? "" : "<nav aria-label=\"Contents\">\n<ul>\n" + links + "</ul>\n</nav>\n";
    }
};

} // namespace tranche::detail
