// Cut sheets as JSON, for programs in any language.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <string_view>

#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/document/json_document.hpp>
#include <tranche/sheet/detail/document/read_document.hpp>
#include <tranche/sheet/detail/document/write_document.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// Reads a cut sheet in JSON (RFC 8259); `docs/cut_sheet.md` says how, and `docs/cut_sheet.schema.json` is its schema.
/// Values are what `read_sheet` reads, with their units: "12 lb 2 oz". Throws `invalid_input` as that does, with a JSON
/// pointer (RFC 6901) as its field, `/cuts/0/thickness`; nothing else is thrown but for lack of memory. O(length).
/// Quantities are held in SI units.
template <class = detail::when_called>
[[nodiscard]] cut_sheet sheet_from_json(std::string_view text) {
    return detail::sheet_of(detail::json_scanner<>().document(text));
}

/// The sheet in JSON, indented: `sheet_from_json(sheet_json(sheet)) == sheet`, to the last bit. Throws as `validate` of
/// a sheet. O(size of the sheet). Quantities have their units beside them.
template <class = detail::when_called>
[[nodiscard]] std::string sheet_json(const cut_sheet& sheet) {
    return detail::json_of(detail::document_of(sheet)).dump(2) + '\n';
}

} // namespace tranche
