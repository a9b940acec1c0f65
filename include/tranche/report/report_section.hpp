// One section of a report: what text and HTML show.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <vector>

#include <tranche/report/formats/report_table.hpp>

namespace tranche {

/// A heading, then tables, pictures (SVG, which only a page shows), paragraphs and points of a list; any may be missing.
struct report_section {
    std::string title{};
    std::vector<report_table> tables{};
    std::vector<std::string> pictures{};
    std::vector<std::string> paragraphs{};
    std::vector<std::string> points{};

    friend bool operator==(const report_section&, const report_section&) = default;
};

} // namespace tranche
