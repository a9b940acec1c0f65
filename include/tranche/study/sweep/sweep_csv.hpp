// A sweep as tidy comma-separated values: one record for each point and output.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <charconv>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/study/sweep/run_sweep.hpp>
#include <tranche/text/write_csv.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// The shortest decimal number that reads back as the same double.
[[nodiscard]] TRANCHE_COLD inline std::string exact_decimal(double value) {
    std::array<char, 32> digits{};
    return {digits.data(), std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr};
}

} // namespace detail

/// Heads: point, a column for each axis ("thickness (in)"), output, unit, mean, low, high (of the interval of the mean),
/// standard_deviation, replicates, impossible. What there is not is empty. Numbers read back as the same doubles; RFC 4180. O(rows × axes).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string sweep_csv(const sweep_result& result) {
    std::vector<std::string> heads{"point"};
    for (const sweep_axis& a : result.design.axes)
        heads.push_back(detail::csv_text(a.unit.empty() ? a.name : a.name + " (" + a.unit + ')'));
    for (const char* head : {"output", "unit", "mean", "low", "high", "standard_deviation", "replicates", "impossible"})
        heads.emplace_back(head);
    std::string text = detail::csv_record(heads);
    for (const sweep_row& row : result.rows) {
        std::vector<std::string> cells{std::to_string(row.point + 1)};
        for (const double c : result.design.points[row.point]) cells.push_back(detail::exact_decimal(c));
        cells.push_back(detail::csv_text(result.outputs[row.output].name));
        cells.push_back(detail::csv_text(result.outputs[row.output].unit));
        cells.push_back(row.mean ? detail::exact_decimal(*row.mean) : "");
        cells.push_back(row.interval ? detail::exact_decimal(row.interval->low) : "");
        cells.push_back(row.interval ? detail::exact_decimal(row.interval->high) : "");
        cells.push_back(row.standard_deviation ? detail::exact_decimal(*row.standard_deviation) : "");
        cells.push_back(std::to_string(row.count));
        cells.push_back(std::to_string(row.impossible));
        text += detail::csv_record(cells);
    }
    return text;
}

} // namespace tranche
