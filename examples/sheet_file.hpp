// Where a cut sheet comes from: a file, in INI or JSON, or the sample that is compiled in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>

#include <tranche/sheet/read_sheet.hpp>

#include "made_files.hpp"
#include "sample_sheet.hpp"

namespace example {

/// The text of a file, or of the embedded sample if the path is empty. Throws `file_error`.
[[nodiscard]] inline std::string text_of_sheet(const std::filesystem::path& file) {
    if (file.empty()) return std::string(sample_sheet_text);
    std::ifstream in(file, std::ios::binary);
    if (!in || std::filesystem::is_directory(file)) throw file_error("cannot read " + file.string());
    std::stringstream text;
    text << in.rdbuf();
    if (in.bad()) throw file_error("cannot read " + file.string());
    return text.str();
}

/// In json/sheet_from_json.cpp.
[[nodiscard]] tranche::cut_sheet sheet_from_json(std::string_view text);

/// The sheet of a file, or the embedded sample if the path is empty. JSON is what begins with a brace, and what is named so. Throws
/// `file_error`, and `invalid_input` for what is no sheet.
[[nodiscard]] inline tranche::cut_sheet sheet_of(const std::filesystem::path& file) {
    const std::string text = text_of_sheet(file);
    const std::size_t first = text.find_first_not_of("\xEF\xBB\xBF \t\r\n");
    if (file.extension() != ".json" && (first == std::string::npos || text[first] != '{'))
        return tranche::read_sheet(std::string_view(text));
#ifdef TRANCHE_EXAMPLE_READS_JSON
    return sheet_from_json(text);
#else
    throw tranche::invalid_input(file.string(), "JSON",
                                 "an INI file: nlohmann's JSON library was not there to build with");
#endif
}

} // namespace example
