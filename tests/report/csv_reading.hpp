// Comma-separated values read back, and sums of their columns in whole units.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "support/catch.hpp"

using records = std::vector<std::vector<std::string>>;

/// A reader of RFC 4180 that knows nothing of the writer.
inline records read_csv(const std::string& text) {
    records rows(1, std::vector<std::string>(1));
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted) {
            if (c == '"' && i + 1 < text.size() && text[i + 1] == '"')
                rows.back().back() += text[++i];
            else if (c == '"')
                quoted = false;
            else
                rows.back().back() += c;
        } else if (c == '"') {
            quoted = true;
        } else if (c == ',') {
            rows.back().emplace_back();
        } else if (c == '\r' && i + 1 < text.size() && text[i + 1] == '\n') {
            ++i;
            rows.emplace_back(1);
        } else {
            rows.back().back() += c;
        }
    }
    REQUIRE(rows.back() == std::vector<std::string>{""}); // the last record has its CR LF too
    rows.pop_back();
    return rows;
}

inline std::size_t column(const records& rows, const std::string& name) {
    const auto found = std::find(rows[0].begin(), rows[0].end(), name);
    REQUIRE(found != rows[0].end());
    return static_cast<std::size_t>(found - rows[0].begin());
}

/// A decimal as a whole number of its last digit, which must be there.
inline std::int64_t digits_of(const std::string& decimal, std::size_t places) {
    if (decimal.empty()) return 0;
    if (places == 0) return std::stoll(decimal);
    const std::size_t point = decimal.find('.');
    REQUIRE(point != std::string::npos);
    REQUIRE(decimal.size() - point - 1 == places);
    return std::stoll(decimal.substr(0, point) + decimal.substr(point + 1));
}

inline std::int64_t sum_of(const records& rows, const std::string& name, std::size_t places) {
    const std::size_t c = column(rows, name);
    std::int64_t sum = 0;
    for (std::size_t r = 1; r < rows.size(); ++r) sum += digits_of(rows[r][c], places);
    return sum;
}
