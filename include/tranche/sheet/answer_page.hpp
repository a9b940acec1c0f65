// The answer to a cut sheet on one self-contained HTML page.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/board_card.hpp>
#include <tranche/report/html_report.hpp>
#include <tranche/report/page_foot.hpp>
#include <tranche/report/pictures/cut_faces.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/report/pictures/loin_pictures.hpp>
#include <tranche/sheet/answer_csv.hpp>
#include <tranche/sheet/answer_sections.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/text/date.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// By what a page tells of which sheet it was made.
[[nodiscard]] inline page_foot foot_of(const cut_sheet& sheet) {
    return {.date = sheet.date ? date_text(*sheet.date) : "", .sheet = sheet.title};
}

} // namespace detail

/// The page of an answer: `answer_sections` with their pictures; of one loin with its cut ruler in strips that print at
/// true scale, as `html_report`. No scripts and nothing from elsewhere; also well-formed XML. Throws as those.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string answer_page(const sheet_answer& answer) {
    const currency_choice choice(detail::currency_of_sheet(answer.sheet));
    const kitchen_units units = kitchen_of(answer.sheet);
    std::vector<report_section> sections = detail::answer_sections(answer, true);
    const page_foot at_foot{.date = answer.sheet.date ? date_text(*answer.sheet.date) : "",
                            .sheet = answer.sheet.title};
    if (answer.loins.size() == 1) {
        const loin_answer& loin = answer.loins.front();
        const cutting_plan& cuts = loin.planned.plan;
        return html_report(answer.sheet.title, std::move(sections), cuts,
                           {outline_of(loin.loin), cut_faces(loin.loin, cuts)}, units, at_foot);
    }
    for (const loin_answer& loin : answer.loins)
        for (report_section& section : sections)
            if (section.title == "Loin " + loin.name)
                section.pictures.push_back(view_from_above_svg(loin.planned.plan, outline_of(loin.loin), units));
    return html_of(answer.sheet.title, sections, at_foot);
}

/// The board card of each loin (`board_card`), on US Letter for a sheet in US units and on A4 for a metric one:
/// board_card.html; of several loins with "loin_1_" in front, and so on. Throws as that.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<answer_file> answer_cards(const sheet_answer& answer) {
    const cut_sheet& sheet = answer.sheet;
    const bool metric = sheet.units == sheet_units::metric, several = answer.loins.size() > 1;
    std::vector<answer_file> files;
    for (std::size_t i = 0; i < answer.loins.size(); ++i) {
        const loin_answer& loin = answer.loins[i];
        board_card_options options{.paper = metric ? card_paper::a4 : card_paper::us_letter,
                                   .units = kitchen_of(sheet),
                                   .made = detail::foot_of(sheet)};
        if (!sheet.loins[i].lot.empty())
            options.made.sheet += (options.made.sheet.empty() ? "lot " : ", lot ") + sheet.loins[i].lot;
        const std::string title = sheet.title + (several ? ", loin " + loin.name : "");
        files.push_back({(several ? "loin_" + std::to_string(i + 1) + '_' : "") + "board_card.html",
                         board_card(title, loin.planned.plan, outline_of(loin.loin), options)});
    }
    return files;
}

} // namespace tranche
