// The report, the pictures and the cut ruler on one self-contained HTML page.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/report/pictures/cut_faces.hpp>
#include <tranche/report/pictures/cut_ruler.hpp>
#include <tranche/report/pictures/face_pictures.hpp>
#include <tranche/report/pictures/loin_pictures.hpp>
#include <tranche/report/pictures/waterfall.hpp>
#include <tranche/report/pictures/what_if_picture.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/report/report_sections.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Wide content scrolls on a small screen; on paper it wraps, for a browser shrinks a page that overflows, ruler and all.
inline constexpr std::string_view report_style = R"(
:root { color-scheme: light; }
* { box-sizing: border-box; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { margin: 0 auto; padding: 1.5rem; max-width: 60rem; background: #fff; color: #1a1a1a;
  font: 1rem/1.5 system-ui, sans-serif; }
h1 { margin: 0 0 1rem; font-size: 1.8rem; line-height: 1.2; overflow-wrap: anywhere; }
h2 { margin: 2rem 0 0.5rem; padding-bottom: 0.2rem; border-bottom: 2px solid #0072B2; font-size: 1.2rem; }
table { margin: 0.5rem 0 1rem; border-collapse: collapse; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-weight: bold; }
th, td { padding: 0.25rem 0.75rem 0.25rem 0; text-align: left; vertical-align: top; }
tbody th, td:not(.number) { min-width: 7rem; overflow-wrap: anywhere; }
thead th { border-bottom: 1px solid #1a1a1a; vertical-align: bottom; }
tbody tr + tr > * { border-top: 1px solid #d9d9d9; }
tbody tr.total > * { border-top: 1px solid #1a1a1a; font-weight: bold; }
tbody th { font-weight: normal; }
.number { text-align: right; }
td.number { white-space: nowrap; }
.scroll, figure, .strip { overflow-x: auto; }
.warnings { padding: 0.25rem 1rem; border: 2px solid #D55E00; }
.warnings h2 { margin-top: 0.5rem; border-color: #D55E00; }
figure { margin: 1rem 0; }
figure svg { display: block; width: 100%; min-width: 36rem; max-width: 60rem; height: auto; }
.strip { margin: 0.5rem 0; }
.strip svg { display: block; max-width: none; }
@page { margin: 10mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 10pt; }
  h2 { break-after: avoid; }
  figure svg { width: auto; min-width: 0; max-width: 100%; max-height: 170mm; }
  th, td, tbody th, td.number, td:not(.number) { min-width: 0; white-space: normal; overflow-wrap: anywhere; }
  .scroll, figure, .strip { overflow: visible; }
  tr, li, figure, .strip { break-inside: avoid; }
  .ruler { break-before: page; }
  .ruler h2 { margin-top: 0; }
  .strip { margin: 0 0 1mm; }
}
)";

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string html_table(const report_table& table) {
    std::string html = "<div class=\"scroll\">\n<table>\n";
    if (!table.caption.empty()) html += "<caption>" + escape_xml(table.caption) + "</caption>\n";
    const auto side = [&](std::size_t c) {
        return table.columns[c].towards == report_table::align::right ? std::string(" class=\"number\"") : "";
    };
    if (table.headed()) {
        html += "<thead><tr>";
        for (std::size_t c = 0; c < table.columns.size(); ++c)
            html += "<th scope=\"col\"" + side(c) + '>' + escape_xml(table.columns[c].head) + "</th>";
        html += "</tr></thead>\n";
    }
    html += "<tbody>\n";
    for (const report_table::row& row : table.rows) {
        html += row.total ? "<tr class=\"total\">" : "<tr>";
        for (std::size_t c = 0; c < row.cells.size(); ++c) {
            const bool head = c == 0 && !table.headed();
            html += (head ? "<th scope=\"row\">" : "<td" + side(c) + '>') + escape_xml(row.cells[c]) +
                    (head ? "</th>" : "</td>");
        }
        html += "</tr>\n";
    }
    return html + "</tbody>\n</table>\n</div>\n";
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string html_section(const report_section& section) {
    std::string html = section.title == "Warnings" ? "<section class=\"warnings\">\n" : "<section>\n";
    html += "<h2>" + escape_xml(section.title) + "</h2>\n";
    for (const report_table& table : section.tables) html += html_table(table);
    for (const std::string& picture : section.pictures) html += "<figure>\n" + picture + "</figure>\n";
    for (const std::string& words : section.paragraphs) html += "<p>" + escape_xml(words) + "</p>\n";
    if (!section.points.empty()) {
        html += "<ul>\n";
        for (const std::string& words : section.points) html += "<li>" + escape_xml(words) + "</li>\n";
        html += "</ul>\n";
    }
    return html + "</section>\n";
}

inline constexpr std::string_view html_foot = "</main>\n</body>\n</html>\n";

/// Everything of a page in front of its sections.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string html_head(std::string_view title, std::string_view if_blank) {
    const bool blank = printable(title).find_first_not_of(' ') == std::string::npos;
    const std::string name = escape_xml(blank ? if_blank : title);
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
           "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>" +
           name + "</title>\n<style>" + std::string(report_style) + "</style>\n</head>\n<body>\n<main>\n<h1>" + name +
           "</h1>\n";
}

} // namespace detail

/// Sections on a page of their own, without pictures, as `text_of` has them in text. No scripts and nothing from elsewhere;
/// also well-formed XML. A blank `title` becomes "Report". O(characters). Any text: what HTML would take for marks is
/// escaped, and bytes that are no UTF-8 are replaced. Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string html_of(std::string_view title, const std::vector<report_section>& sections) {
    std::string html = detail::html_head(title, "Report");
    for (const report_section& section : sections) html += detail::html_section(section);
    return html + std::string(detail::html_foot);
}

/// What a page draws of a loin besides its plan.
struct page_pictures {
    loin_outline outline{};        ///< `outline_of` the loin's model or profile
    std::vector<cut_face> faces{}; ///< `cut_faces`; none are drawn if there are none

    friend bool operator==(const page_pictures&, const page_pictures&) = default;
};

/// Sections of a report on one HTML page with the plan's pictures and its cut ruler, in strips that print at true scale on A4
/// and US Letter. No scripts and nothing from elsewhere; also well-formed XML. `title` heads the page, its control characters
/// as spaces; a blank one becomes "Cutting plan". Throws `invalid_input` if the plan is not as long as the outline, and what `faces_svg`
/// throws. O(points), and `cut_ruler_pages` and `faces_svg`.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string html_report(std::string_view title, const std::vector<report_section>& sections,
                                                   const cutting_plan& cuts, const page_pictures& pictures,
                                                   const kitchen_units& units = us_kitchen) {
    const auto& [outline, faces] = pictures;
    std::string html = detail::html_head(title, "Cutting plan");
    bool drawn = false;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        // The pictures stand behind the facts and the warnings, in front of the tables.
        if (!drawn && i > 0 && sections[i].points.empty()) {
            html += "<section>\n<h2>Pictures</h2>\n<figure>\n" + view_from_above_svg(cuts, outline, units) +
                    "</figure>\n<figure>\n" + view_from_side_svg(cuts, outline, units) + "</figure>\n";
            if (!faces.empty()) html += "<figure>\n" + faces_svg(faces, cuts, units) + "</figure>\n";
            html += "</section>\n";
            drawn = true;
        }
        html += detail::html_section(sections[i]);
    }
    html += "<section class=\"ruler\">\n<h2>Cut ruler</h2>\n";
    for (const std::string& strip : cut_ruler_pages(cuts, units))
        html += "<div class=\"strip\">\n" + strip + "</div>\n";
    return html + "</section>\n" + std::string(detail::html_foot);
}

/// Adds to the sections of a report with prices, which are those of this bill and these savings, where the money went: a
/// waterfall of the bill, or a waterfall and a what-if grid for each saving. Sections of other reports stay as they are. Weights and
/// prices are written in `units`. Throws what `cost_breakdown` throws, for savings of another test than the bill's too, and
/// what `to_text` throws for what cannot be written. O(sections + lines).
template <currency C>
void add_pictures(std::vector<report_section>& sections, const bill<C>& settled, const std::vector<savings<C>>& saved,
                  const kitchen_units& units = us_kitchen) {
    for (report_section& section : sections) {
        if (saved.empty() && section.title == detail::costs_title) // nothing else shows where the money went
            section.pictures.push_back(waterfall_svg(cost_breakdown(settled.test), ""));
        if (section.title != detail::savings_title) continue;
        for (std::size_t i = 0; i < saved.size(); ++i) {
            const std::string number = std::to_string(i + 1);
            section.pictures.push_back(
                waterfall_svg(cost_breakdown(saved[i], settled.test), saved[i].against, "waterfall-" + number));
            if (const auto grid = savings_grid_around(saved[i], units))
                section.pictures.push_back(savings_grid_svg(*grid, units, "what-if-" + number));
        }
    }
}

/// The same of what `text_report` says, with a waterfall and a what-if grid for each saving. Throws what `text_report` throws
/// as well.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string html_report(std::string_view title, const planned& planned,
                                                   const page_pictures& pictures, const bill<C>& settled,
                                                   const report_options<C>& options = {}) {
    std::vector<report_section> sections = report_sections(planned, settled, options);
    add_pictures<C>(sections, settled, options.saved, options.units);
    return html_report(title, sections, planned.plan, pictures, options.units);
}

/// The page of a plan without prices. Weights, lengths and prices are written in `units`; throws as `to_text` for one
/// that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string html_report(std::string_view title, const planned& planned,
                                                   const page_pictures& pictures,
                                                   const kitchen_units& units = us_kitchen) {
    return html_report(title, report_sections(planned, units), planned.plan, pictures, units);
}

} // namespace tranche
