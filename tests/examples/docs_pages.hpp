// The pages of docs/, for tests that hold them against what is compiled and what it prints.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <filesystem>
#include <iostream>
#include <sstream>
#include <string>

#include "run_program.hpp"

namespace tranche_test {

/// A page of docs/ as it is.
inline std::string page(const std::string& name) {
    return contents(std::filesystem::path(TRANCHE_EXAMPLES_SOURCE_DIR).parent_path() / "docs" / name);
}

/// `text` with one blank wherever there is white space, so that a page may break its lines elsewhere.
inline std::string in_one_line(const std::string& text) {
    std::istringstream words(text);
    std::string line;
    for (std::string word; words >> word;) line += (line.empty() ? "" : " ") + word;
    return line;
}

/// Keeps what is written to standard output while it lives.
class kept_output {
public:
    kept_output() : screen_(std::cout.rdbuf(text_.rdbuf())) {}
    ~kept_output() { std::cout.rdbuf(screen_); }
    kept_output(const kept_output&) = delete;
    kept_output& operator=(const kept_output&) = delete;
    [[nodiscard]] std::string text() const { return text_.str(); }

private:
    std::ostringstream text_;
    std::streambuf* screen_;
};

} // namespace tranche_test
