// The board card: one printed page to lay beside the board, with what to cut where, boxes for the weights, and a ruler.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/trim.hpp>
#include <tranche/report/detail/page_parts.hpp>
#include <tranche/report/detail/page_style.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/page_foot.hpp>
#include <tranche/report/pictures/board_pictures.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// What a card is printed on, upright: ISO 216 A4 (210 by 297 mm) or US Letter (8 1/2 by 11 in).
enum class card_paper { a4, us_letter };

/// How a board card is made.
struct board_card_options {
    card_paper paper = card_paper::a4;
    kitchen_units units = us_kitchen; ///< distances and thicknesses are both written in the finer of its divisions
    page_foot made{};                 ///< what its foot says

    friend bool operator==(const board_card_options&, const board_card_options&) = default;
};

namespace detail {

/// With distances and thicknesses in the finer division of both, so that they add up.
[[nodiscard]] inline kitchen_units units_of_card(kitchen_units units) {
    if (step_of(units.thickness) < step_of(units.along)) units.along = units.thickness;
    units.thickness = units.along;
    return units;
}

/// "A", "B", ..., "Z", "A2": how a way of trimming is called.
template <class = when_called>
[[nodiscard]] std::string letter_of(std::size_t which) {
    return std::string(1, static_cast<char>('A' + which % 26)) + (which < 26 ? "" : std::to_string(which / 26 + 1));
}

/// The ways of trimming of a plan, each once, and which of them each slab is trimmed in.
struct ways_to_trim {
    std::vector<trim_spec> ways;
    std::vector<std::size_t> of_slab;

    template <class = when_called>
    explicit ways_to_trim(const cutting_plan& cuts) {
        for (const slab& s : cuts.slabs) {
            const trim_spec trim = cuts.trim_of(s);
            const auto found = std::find(ways.begin(), ways.end(), trim);
            of_slab.push_back(static_cast<std::size_t>(found - ways.begin()));
            if (found == ways.end()) ways.push_back(trim);
        }
    }
};

/// "fat cover to 1/4 in (rendering), tail off (grind)": of the tissues that the loin has.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string trim_text(const trim_spec& trim, const cutting_plan& cuts,
                                                 const kitchen_units& units) {
    std::string text;
    const auto add = [&](tissue t, const std::string& what) {
        const bool any = std::any_of(cuts.slabs.begin(), cuts.slabs.end(),
                                     [&](const slab& s) { return s.kept[t].count + s.trim[t].count > 0; });
        if (any)
            text += (text.empty() ? "" : ", ") + what + " (" + std::string(name_of(cuts.rules.trim_goes_to[t])) + ')';
    };
    const auto to = [&](length l) { return l > length{} ? "to " + to_text(l, units.thickness) : std::string("off"); };
    if (trim.fat_cover < unlimited<length>()) add(tissue::fat_cover, "fat cover " + to(trim.fat_cover));
    if (trim.tail.longer_end() < unlimited<length>()) {
        const length rib = trim.tail.at(0.0), sirloin = trim.tail.at(1.0);
        add(tissue::tail, rib == sirloin
                              ? "tail " + to(rib)
                              : "tail " + to(rib) + " at the rib end, " + to(sirloin) + " at the sirloin end");
    }
    if (!trim.silverskin) add(tissue::connective, "silverskin off");
    return text.empty() ? "nothing" : text;
}

/// Sizes in millimetres. What stands beside the rows of the table takes so much of a page.
struct card_room {
    double page_height, rows, row;
    bool one_page, ruler_beside;

    card_room(card_paper paper, std::size_t slabs, std::size_t strips)
        : page_height((paper == card_paper::a4 ? 297.0 : 279.4) - 20.0), rows(static_cast<double>(slabs)) {
        constexpr double least = 5.2, most = 8.5, around = 84.0, strip = 18.2, bar = 9.0;
        const double with_ruler = page_height - around - bar - strip * static_cast<double>(strips);
        ruler_beside = with_ruler >= least * rows;
        one_page = ruler_beside || page_height - around >= least * rows;
        row = std::clamp((ruler_beside ? with_ruler : page_height - around) / rows, 6.0, most);
        if (ruler_beside)
            row = std::clamp(with_ruler / rows, least, most);
        else if (one_page)
            row = std::clamp((page_height - around) / rows, least, most);
    }
};

inline constexpr std::string_view card_style = R"(
* { box-sizing: border-box; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { margin: 0 auto; padding: 5mm; max-width: 200mm; background: #fff; color: #000; font: 8.5pt/1.25 system-ui, sans-serif; }
h1 { margin: 0; font-size: 13pt; line-height: 1.15; max-height: 2.3em; overflow: hidden; overflow-wrap: anywhere; }
p { margin: 0 0 1mm; overflow-wrap: anywhere; }
.top { display: grid; grid-template-columns: 92mm minmax(0, 1fr); gap: 4mm; margin: 1mm 0 2mm; }
.top svg { display: block; width: 92mm; height: auto; max-height: 54mm; }
.top ul { margin: 0; padding: 0; list-style: none; }
table { width: 100%; border-collapse: collapse; font-variant-numeric: tabular-nums; }
th, td { padding: 0 1.5mm; border: 0.2mm solid #777; text-align: left; vertical-align: middle; }
thead th { padding: 0.6mm 1.5mm; background: #e9eef2; font-size: 8pt; }
thead .name { font-weight: normal; background: #fff; border-color: #fff #fff #777; overflow-wrap: anywhere; }
td { height: var(--row); }
.number { text-align: right; white-space: nowrap; }
.trim { text-align: center; }
.cut { max-width: 45mm; overflow-wrap: anywhere; }
.loose td { background: #eee; }
.loose td.box, td.box { width: 27mm; background: #fff; border: 0.4mm solid #000; }
.ruler { margin-top: 2mm; }
.ruler svg { display: block; max-width: none; margin-bottom: 1mm; }
.scroll { overflow-x: auto; }
footer { color: #444; font-size: 7.5pt; overflow-wrap: anywhere; }
footer p { margin: 0.5mm 0 0; }
@media screen and (max-width: 40rem) {
  body { font-size: 11.5pt; }
  .top { display: block; }
  .top svg { width: 100%; }
  .headed tbody tr > td { height: auto; }
  .headed tbody tr > td.goes { grid-column: auto; }
  .headed tbody tr > td.box { grid-column: auto; width: auto; min-height: 12mm; padding: 0 1mm; border: 0.4mm solid #000; }
  .headed tbody tr.loose { background: #eee; }
  .headed tbody tr.loose > td:not(.box) { background: none; }
}
@media print {
  body { padding: 0; max-width: none; }
  .scroll { overflow: visible; }
  tr, .ruler svg, .top { break-inside: avoid; }
  .apart { break-before: page; margin-top: 0; }
}
)";

/// One row a slab. The heading stands again on each page.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string card_table(const cutting_plan& cuts, const ways_to_trim& trims,
                                                  const kitchen_units& units, std::string_view name) {
    std::string html = "<table role=\"table\" class=\"headed\">\n<thead role=\"rowgroup\">\n";
    if (!name.empty()) html += "<tr role=\"row\"><th class=\"name\" colspan=\"8\">" + escape_xml(name) + "</th></tr>\n";
    html += "<tr role=\"row\">";
    const std::string along = unit_name(units.along), weight = unit_name(units.portion);
    const std::vector<std::string> heads{
        "No.",  "Cut",     headed_in("Cut at", along),  headed_in("Thick", along), headed_in("Weight", weight),
        "Trim", "Goes to", headed_in("Weighed", weight)};
    for (const std::string& head : heads)
        html += "<th role=\"columnheader\" scope=\"col\">" + escape_xml(head) + "</th>";
    html += "</tr>\n</thead>\n<tbody role=\"rowgroup\">\n";
    const auto cell = [&](std::size_t column, const char* kind, const std::string& text) {
        html += "<td role=\"cell\" data-head=\"" + heads[column] + "\" class=\"" + kind + "\">" + escape_xml(text) +
                "</td>";
    };
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
        const slab& s = cuts.slabs[i];
        const bool portions = s.kind == slab_kind::portions;
        const int pieces = portions ? cuts.spec_of(s).pieces : 1;
        html += portions ? "<tr role=\"row\">" : "<tr role=\"row\" class=\"loose\">";
        cell(0, "number", std::to_string(i + 1));
        cell(1, "cut", portions ? cuts.spec_of(s).name : std::string(name_of(s.kind)));
        cell(2, "number at", number_of(cut_behind(s), units.along) + (i + 1 == cuts.slabs.size() ? " end" : ""));
        cell(3, "number thick", number_of(shown_thickness(s, units), units.thickness));
        cell(4, "number", weight_text(s, cuts, units));
        cell(5, "number trim", letter_of(trims.of_slab[i]));
        cell(6, "goes",
             !portions     ? std::string(name_of(cuts.destination_of(s)))
             : pieces == 1 ? "portion"
                           : std::to_string(pieces) + " portions");
        cell(7, "box", "");
        html += "</tr>\n";
    }
    return html + "</tbody>\n</table>\n";
}

/// What stands beside the picture: how to trim, and how to use the card.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string card_notes(const cutting_plan& cuts, const ways_to_trim& trims,
                                                  const kitchen_units& units) {
    std::vector<std::string> notes{"On the board " + to_text(to_mass(cuts.total), units.bulk) + ", " +
                                   to_text(cuts.extent, units.along) +
                                   " long: " + std::to_string(cuts.portion_count()) + " portions."};
    for (std::size_t k = 0; k < trims.ways.size(); ++k)
        notes.push_back("Trim " + letter_of(k) + ": " + trim_text(trims.ways[k], cuts, units) + '.');
    length kerf{};
    for (const slab& s : cuts.slabs) kerf = std::max(kerf, s.kerf);
    if (kerf > length{}) notes.push_back("The knife takes up to " + shown(kerf) + " between two slabs.");
    notes.emplace_back("Cut at: from the rib end. Weights are estimates: weigh every portion.");
    notes.emplace_back("Raw meat at or under 40 °F (4 °C). Cut away from the hand. Keep paper off the meat: use a "
                       "clean sleeve.");
    std::string html = "<ul>\n";
    for (const std::string& words : notes) html += "<li>" + escape_xml(words) + "</li>\n";
    return html + "</ul>\n";
}

} // namespace detail

/// One page to print and lay beside the board: numbered slabs with where to cut, how thick, what they weigh, how to trim them and
/// where they go, each with a box for its weight; the loin from above with the same numbers; a ruler at true scale in strips, with
/// a bar of 4 in or 100 mm to check the print. Distances are shown to the nearest step of `options.units`, a thickness is the
/// difference of its distances as shown. Where all of that does not fit on a page the ruler comes on one of its own, and rows go
/// to further pages under their heading. A blank `title` becomes "Board card". No scripts, nothing from elsewhere, well-formed
/// XML. Throws `invalid_input` if the plan is not as long as the outline, and as `to_text` for what cannot be written.
/// O(points + slabs × ways of trimming).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string board_card(std::string_view title, const cutting_plan& cuts,
                                                  const loin_outline& outline, const board_card_options& options = {}) {
    const kitchen_units units = detail::units_of_card(readable_units(options.units, cuts));
    const std::vector<std::string> strips = board_ruler_strips(cuts, units);
    const detail::card_room room(options.paper, cuts.slabs.size(), strips.size());
    const detail::ways_to_trim trims(cuts);
    std::string style = "\n@page { size: ";
    style += options.paper == card_paper::a4 ? "210mm 297mm" : "8.5in 11in";
    style += "; margin: 10mm; }\n:root { --row: " + detail::svg_number(room.row, 2) +
             "mm; color-scheme: light; --ink: #000; --faint: #444; --line: #777; }" + std::string(detail::card_style) +
             std::string(detail::stacked_rows_style);
    std::string html = detail::html_head(title, "Board card", style);
    html += "<div class=\"top\">\n" + board_view_svg(cuts, outline, units) + detail::card_notes(cuts, trims, units) +
            "</div>\n";
    html += detail::card_table(cuts, trims, units, room.one_page ? std::string_view() : title);
    html += room.ruler_beside ? "<section class=\"ruler\">\n" : "<section class=\"ruler apart\">\n";
    std::string all;
    for (const std::string& strip : strips) all += strip;
    detail::add_scroll_box(html, "Ruler", all + detail::check_strip(units).draw());
    return html + "</section>\n" + detail::html_foot(options.made);
}

} // namespace tranche
