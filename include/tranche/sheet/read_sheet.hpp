// Cut sheets out of text as people write it: an INI file.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <istream>
#include <iterator>
#include <string>
#include <string_view>

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/document/read_document.hpp>
#include <tranche/sheet/detail/document/scan_ini.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Reads a cut sheet: sections, `key = value`, remarks behind `;` or `#`; `docs/cut_sheet.md` has all of them.
/// Headings, keys and words may be in any case. Throws `invalid_input` for what cannot be read or cannot be: the field
/// is section, key and line, and value and expectation are in the units of the sheet, on one line without control
/// characters. Nothing else is thrown but for lack of memory. O(length). Quantities have their units in the text, and
/// are held in SI units; their ranges are those that `plan_sheet` plans with.
template <class = detail::when_called>
[[nodiscard]] cut_sheet read_sheet(std::string_view text) {
    return detail::sheet_of(detail::ini_scanner<>().document(text));
}

/// The same of all that is left of a stream. Throws as that; what a stream that breaks off has given is read.
template <class = detail::when_called>
[[nodiscard]] cut_sheet read_sheet(std::istream& in) {
    const std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    return read_sheet(std::string_view(text));
}

} // namespace tranche
