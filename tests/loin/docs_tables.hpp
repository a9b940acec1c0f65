// The rows of the tables in docs/, for tests that hold them against what is computed.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

// The build says where; compiled by hand, tests run from the root.
#ifndef TRANCHE_DOCS_DIR
#define TRANCHE_DOCS_DIR "docs"
#endif

namespace tranche_test {

/// The cells of the row of `page` whose first cell is `name`, without the blanks around them. Throws where there is none.
[[nodiscard]] inline std::vector<std::string> docs_row(const std::string& page, const std::string& name) {
    std::ifstream in(std::string(TRANCHE_DOCS_DIR) + '/' + page);
    for (std::string line; std::getline(in, line);) {
        std::vector<std::string> cells;
        std::istringstream row(line);
        for (std::string cell; std::getline(row, cell, '|');) {
            const auto from = cell.find_first_not_of(' ');
            cells.push_back(from == std::string::npos ? "" : cell.substr(from, cell.find_last_not_of(' ') + 1 - from));
        }
        if (cells.size() > 2 && cells.front().empty() && cells[1] == name) return {cells.begin() + 1, cells.end()};
    }
    throw std::runtime_error("no row \"" + name + "\" in docs/" + page);
}

} // namespace tranche_test
