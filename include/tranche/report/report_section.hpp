// One section of a report: what text and HTML show.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <vector>

#include <tranche/report/formats/report_table.hpp>

namespace tranche {

/// A heading, then tables, pictures (SVG, which only a page shows), paragraphs and points of a list; any may be missing.
struct report_section {
    /// What it is to who asked: the answer stands on top and out, as do warnings; what lies behind an answer is folded on a page
    /// until it is opened or printed. Text shows all alike.
    enum class part { plain, answer, warning, behind };

    std::string title{};
    std::vector<report_table> tables{};
    std::vector<std::string> pictures{};
    std::vector<std::string> paragraphs{};
    std::vector<std::string> points{};
    part is = part::plain;

    friend bool operator==(const report_section&, const report_section&) = default;
};

} // namespace tranche
