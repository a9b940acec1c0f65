// A table of two columns without heads: what a figure is, and the figure.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <utility>

#include <tranche/report/formats/report_table.hpp>
#include <tranche/units/detail/config.hpp>

namespace tranche::detail {

class figure_lines {
public:
    /// Words lie to the right as figures do, unless `towards` says otherwise.
    explicit figure_lines(report_table::align towards = report_table::align::right)
        : table_{.columns = {{""}, {"", towards}}} {}

    TRANCHE_COLD void operator()(std::string what, std::string figure, bool total = false) {
        table_.rows.push_back({.cells = {std::move(what), std::move(figure)}, .total = total});
    }
    [[nodiscard]] report_table table() && { return std::move(table_); }

private:
    report_table table_;
};

} // namespace tranche::detail
