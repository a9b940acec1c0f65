// The cut of a sheet that is meant by a name.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/document/nearest_word.hpp>
#include <tranche/sheet/detail/document/sheet_document.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// In small letters.
[[nodiscard]] inline std::string lower(std::string_view text) {
    std::string small;
    for (const char c : text) small += text_reader::small(c);
    return small;
}

/// A cut may be named in any case: `name` becomes what the cut is called. Throws for a name that no cut has, at the key of the section,
/// or at the section where the key is empty.
template <class = when_called>
TRANCHE_COLD void name_cut(const cut_sheet& sheet, const sheet_part& part, std::string_view key, std::string& name) {
    std::vector<std::string_view> known;
    for (const sheet_cut& cut : sheet.cuts) {
        if (lower(cut.spec.name) == lower(name)) {
            name = cut.spec.name;
            return;
        }
        known.push_back(cut.spec.name);
    }
    const std::string_view meant = nearest_word(name, known);
    const sheet_entry* const entry = part.find(key);
    throw invalid_input(entry != nullptr ? entry->place
                        : key.empty()    ? part.place + part.line
                                         : part.field(key),
                        '"' + name + '"',
                        (key.empty() ? "the name of a cut" : "names of cuts") + std::string(" in the sheet") +
                            (meant.empty() ? "" : ", perhaps " + std::string(meant)));
}

} // namespace tranche::detail
