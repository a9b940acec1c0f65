// The report as plain text: at most 80 columns, for a terminal, an e-mail or a sheet of paper.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include <tranche/report/report_sections.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Sections as UTF-8 text of at most `report_width` columns, each line ended by a newline. Bytes that are no UTF-8 are
/// replaced. Throws nothing but for lack of memory. O(characters).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string text_of(const std::vector<report_section>& sections) {
    std::string text;
    const auto paragraph = [&](const std::string& first, const std::string& words) {
        std::string lead = first;
        for (const std::string& line : detail::wrapped(detail::printable(words), detail::report_width - first.size())) {
            std::string plain = lead + line + '\n';
            for (std::size_t at = 0; (at = plain.find(detail::no_break_space, at)) != std::string::npos; ++at)
                plain.replace(at, detail::no_break_space.size(), 1, ' ');
            text += plain;
            lead.assign(first.size(), ' ');
        }
    };
    for (const report_section& section : sections) {
        if (!text.empty()) text += '\n';
        text += section.title + '\n' + std::string(detail::columns_of(section.title), '=') + '\n';
        bool first = true;
        for (const report_table& table : section.tables) {
            if (!first) text += '\n';
            text += text_table(table);
            first = false;
        }
        if (!section.tables.empty() && !section.paragraphs.empty()) text += '\n';
        for (const std::string& words : section.paragraphs) paragraph("", words);
        for (const std::string& words : section.points) paragraph("- ", words);
    }
    return text;
}

/// The report of a plan and its bill. Nothing is printed. Throws `invalid_input` where a number is too large to be
/// written (more than 15 digits). O(specs + slabs + portions log portions). Weights, lengths and prices are written in
/// `units`, money to the minor unit.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string text_report(const planned& planned, const bill<C>& settled,
                                                   const kitchen_units& units = us_kitchen) {
    return text_of(report_sections(planned, settled, units));
}

/// The same with comparisons with ready-cut meat (of this bill) and offers ranked. Throws for a saving of another bill
/// as well. Quantities are written in the units of `options`.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string text_report(const planned& planned, const bill<C>& settled,
                                                   const report_options<C>& options) {
    return text_of(report_sections(planned, settled, options));
}

/// The report of a plan without prices. Weights, lengths and prices are written in `units`; throws as `to_text` for one
/// that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string text_report(const planned& planned, const kitchen_units& units = us_kitchen) {
    return text_of(report_sections(planned, units));
}

} // namespace tranche
