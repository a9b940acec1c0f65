// Cut sheets as text: an INI file that reads back as the same sheet.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/document/write_document.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Throws `invalid_input` for a sheet that nobody could have written: what `read_sheet` refuses, and what no key can say, such as
/// an order of cuts that is not one chain. The field is section and key. O(size of the sheet).
template <class = detail::when_called>
void validate(const cut_sheet& sheet) {
    (void)detail::document_of(sheet);
}

/// The sheet as a person would write it: `read_sheet(sheet_text(sheet)) == sheet`, to the last bit. Quantities are in the units of
/// the sheet where that is exact, in others or with more digits where it is not. Throws as `validate`. O(size of the sheet).
template <class = detail::when_called>
[[nodiscard]] std::string sheet_text(const cut_sheet& sheet) {
    std::string text;
    for (const detail::sheet_part& part : detail::document_of(sheet)) {
        if (!text.empty()) text += '\n';
        text +=
            '[' + part.heading + (part.name.empty() ? "" : ' ' + detail::quoted_where_needed(part.name, "]")) + "]\n";
        for (const detail::sheet_entry& entry : part.entries) {
            text += entry.key + " = ";
            for (std::size_t i = 0; i < entry.items.size(); ++i)
                text += (i > 0 ? ", " : "") + detail::quoted_where_needed(entry.items[i], entry.listed ? "," : "");
            text += '\n';
        }
    }
    return text;
}

} // namespace tranche
