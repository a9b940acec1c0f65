// Where the text of a cut sheet comes from: a file, or the sample that is compiled in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <filesystem>
#include <fstream>
#include <sstream>

#include "made_files.hpp"
#include "sample_sheet.hpp"
#include <tranche/sheet/detail/sheet_section.hpp>

namespace example {

/// The sections of a file, or of the embedded sample if the path is empty. Throws `file_error` or as `read_sections` does.
[[nodiscard]] inline tranche::detail::sheet_sections sections_of(const std::filesystem::path& file) {
    std::stringstream text;
    if (file.empty()) {
        text << sample_sheet_text;
    } else {
        std::ifstream in(file, std::ios::binary);
        if (!in || std::filesystem::is_directory(file)) throw file_error("cannot read " + file.string());
        text << in.rdbuf();
        if (in.bad()) throw file_error("cannot read " + file.string());
    }
    return tranche::detail::read_sections(text);
}

} // namespace example
