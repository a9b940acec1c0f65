// Where the text of a cut sheet comes from: a file, or the sample that is compiled in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

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

} // namespace example
