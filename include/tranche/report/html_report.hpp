// The report, the pictures and the cut ruler on one self-contained HTML page.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/report/detail/page_parts.hpp>
#include <tranche/report/detail/page_style.hpp>
#include <tranche/report/page_foot.hpp>
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

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string page_style() {
    return std::string(report_style) + std::string(stacked_rows_style);
}

/// A page of these sections; `more(i)` gives what section i has besides, `last` sections of its own at the end.
template <class More>
[[nodiscard]] TRANCHE_COLD std::string html_page(const std::string& head, const std::vector<report_section>& sections,
                                                 const More& more, std::string_view last_title, std::string_view last,
                                                 const page_foot& at_foot) {
    std::string top, rest;
    std::size_t pictures = last.size();
    for (std::size_t i = 0; i < sections.size(); ++i) {
        pictures += more(i).size();
        for (const std::string& picture : sections[i].pictures) pictures += picture.size();
    }
    rest.reserve(pictures + 65536); // and words
    page_contents contents;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        const std::string id = "part-" + std::to_string(i + 1);
        const auto is = sections[i].is;
        const bool on_top = rest.empty() && (is == report_section::part::answer || is == report_section::part::warning);
        if (!on_top) contents.add(id, sections[i].title);
        add_section(on_top ? top : rest, sections[i], id, more(i));
    }
    if (!last.empty()) contents.add("ruler", last_title);
    (rest.append(last) += html_foot(at_foot)).insert(0, head + top + contents.html());
    return rest;
}

} // namespace detail

/// Sections on a page of their own, without pictures, as `text_of` has them in text. The answer and warnings stand in front of the
/// contents; sections behind the answer are folded until opened, printed or led to by a link. No scripts and nothing from
/// elsewhere; also well-formed XML. A blank `title` becomes "Report". O(characters). Any text: what HTML would take for marks is
/// escaped, and bytes that are no UTF-8 are replaced. Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string html_of(std::string_view title, const std::vector<report_section>& sections,
                                               const page_foot& at_foot = {}) {
    return detail::html_page(
        detail::html_head(title, "Report", detail::page_style()), sections,
        [](std::size_t) { return std::string_view(); }, {}, {}, at_foot);
}

/// What a page draws of a loin besides its plan.
struct page_pictures {
    loin_outline outline{};        ///< `outline_of` the loin's model or profile
    std::vector<cut_face> faces{}; ///< `cut_faces`; none are drawn if there are none

    friend bool operator==(const page_pictures&, const page_pictures&) = default;
};

/// Sections of a report on one HTML page with the plan's pictures and its cut ruler, in strips that print at true scale
/// on A4 and US Letter; otherwise as `html_of`. The loin from above stands below the cutting order, other pictures are
/// folded. `title` heads the page, its control characters as spaces; a blank one becomes "Cutting plan". Throws
/// `invalid_input` if the plan is not as long as the outline, and what `faces_svg` throws. O(points), and
/// `cut_ruler_pages` and `faces_svg`. Sizes of the ruler are millimetres; quantities are written in `kitchen`.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string html_report(std::string_view title, std::vector<report_section> sections,
                                                   const cutting_plan& cuts, const page_pictures& pictures,
                                                   const kitchen_units& kitchen = us_kitchen,
                                                   const page_foot& at_foot = {}) {
    const auto& [outline, faces] = pictures;
    const kitchen_units units = readable_units(kitchen, cuts);
    // Without a cutting order of its own, a page has the picture in front of everything that is no answer.
    const auto order = std::find_if(sections.begin(), sections.end(),
                                    [](const report_section& s) { return s.title == detail::cutting_title; });
    const auto behind = order != sections.end()
                            ? order + 1
                            : std::find_if(sections.begin(), sections.end(), [](const report_section& s) {
                                  return s.is != report_section::part::answer && s.is != report_section::part::warning;
                              });
    std::string above, others;
    detail::add_figure(above, "The loin from above", view_from_above_svg(cuts, outline, units, slab_list::left_out));
    detail::add_figure(others, "The loin from the side", view_from_side_svg(cuts, outline, units, slab_list::left_out));
    if (!faces.empty()) detail::add_figure(others, "The faces of the cuts", faces_svg(faces, cuts, units), "all-faces");
    std::size_t with_above = static_cast<std::size_t>(behind - sections.begin());
    if (order == sections.end())
        sections.insert(behind, {.title = "The loin from above"});
    else
        --with_above;
    const std::size_t with_others = with_above + 1;
    sections.insert(sections.begin() + static_cast<std::ptrdiff_t>(with_others),
                    {.title = faces.empty() ? "The loin from the side" : "From the side, and the faces of the cuts",
                     .is = report_section::part::behind});
    std::string ruler = "<section class=\"ruler\" id=\"ruler\">\n<h2>Cut ruler</h2>\n";
    for (const std::string& strip : cut_ruler_pages(cuts, units))
        detail::add_scroll_box(ruler, "A strip of the ruler", strip, "strip");
    ruler += "</section>\n";
    const auto more = [&](std::size_t i) -> std::string_view {
        return i == with_above ? above : i == with_others ? others : std::string_view();
    };
    return detail::html_page(detail::html_head(title, "Cutting plan", detail::page_style()), sections, more,
                             "Cut ruler", ruler, at_foot);
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

/// The same of what `text_report` says, with a waterfall and a what-if grid for each saving. Throws what `text_report`
/// throws as well. Quantities are written in the units of `options`.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string html_report(std::string_view title, const planned& planned,
                                                   const page_pictures& pictures, const bill<C>& settled,
                                                   const report_options<C>& options = {},
                                                   const page_foot& at_foot = {}) {
    std::vector<report_section> sections = report_sections(planned, settled, options);
    add_pictures<C>(sections, settled, options.saved, options.units);
    return html_report(title, std::move(sections), planned.plan, pictures, options.units, at_foot);
}

/// The page of a plan without prices. Weights, lengths and prices are written in `units`; throws as `to_text` for one
/// that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string html_report(std::string_view title, const planned& planned,
                                                   const page_pictures& pictures,
                                                   const kitchen_units& units = us_kitchen,
                                                   const page_foot& at_foot = {}) {
    return html_report(title, report_sections(planned, units), planned.plan, pictures, units, at_foot);
}

} // namespace tranche
