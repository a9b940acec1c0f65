// The answer to a cut sheet on one self-contained HTML page.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <utility>
#include <vector>

#include <tranche/report/html_report.hpp>
#include <tranche/report/pictures/cut_faces.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/report/pictures/loin_pictures.hpp>
#include <tranche/sheet/answer_cards.hpp>
#include <tranche/sheet/answer_sections.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// The page of an answer: `answer_sections` with their pictures; of one loin with its cut ruler in strips that print at
/// true scale, as `html_report`. No scripts and nothing from elsewhere; also well-formed XML. Throws as those.
/// Quantities are written in the units of the sheet.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string answer_page(const sheet_answer& answer) {
    const currency_choice choice(detail::currency_of_sheet(answer.sheet));
    const kitchen_units units = kitchen_of(answer.sheet);
    std::vector<report_section> sections = detail::answer_sections(answer, true);
    const page_foot at_foot = detail::foot_of(answer.sheet);
    if (answer.loins.size() == 1 && answer.loins.front().opened) {
        const loin_answer& loin = answer.loins.front();
        const cutting_plan& cuts = loin.planned.plan;
        return html_report(answer.sheet.title, std::move(sections), cuts,
                           {outline_of(loin.loin), cut_faces(loin.loin, cuts)}, units, at_foot);
    }
    for (const loin_answer& loin : answer.loins)
        for (report_section& section : sections)
            if (loin.opened && section.title == "Loin " + loin.name)
                section.pictures.push_back(view_from_above_svg(loin.planned.plan, outline_of(loin.loin), units));
    return html_of(answer.sheet.title, sections, at_foot);
}

} // namespace tranche
