// The answer to a cut sheet as plain text of at most 80 columns.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <vector>

#include <tranche/report/text_report.hpp>
#include <tranche/sheet/answer_sections.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// The title of the sheet, then `answer_sections` as text. Nothing of the sheet is a command to a terminal. Throws as
/// they do. Quantities are written in the units of the sheet.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string answer_text(const sheet_answer& answer) {
    std::string text;
    if (!answer.sheet.title.empty()) {
        for (const std::string& line : detail::wrapped(detail::printable(answer.sheet.title), detail::report_width))
            text += line + '\n';
        text += '\n';
    }
    return text + text_of(answer_sections(answer));
}

} // namespace tranche
