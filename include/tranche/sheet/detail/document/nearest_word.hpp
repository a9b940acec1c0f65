// What was probably meant by a word that is none of a list.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cctype>
#include <cstddef>
#include <numeric>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tranche::detail {

/// How many letters have to be put in, left out, changed or swapped with their neighbour to make one word of another; capitals
/// do not count. (Optimal string alignment distance.) O(length of one × length of the other).
[[nodiscard]] inline std::size_t misspelt_by(std::string_view a, std::string_view b) {
    const auto same = [&](std::size_t i, std::size_t j) {
        const auto small = [](char c) { return std::tolower(static_cast<unsigned char>(c)); };
        return small(a[i]) == small(b[j]);
    };
    std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    std::iota(last.begin(), last.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same(i - 1, j - 1) ? 0U : 1U)});
            if (i > 1 && j > 1 && same(i - 1, j - 2) && same(i - 2, j - 1))
                row[j] = std::min(row[j], before[j - 2] + 1);
        }
        std::swap(before, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

/// The word of a list that was probably meant: the nearest, if no more than a third of it is wrong; empty if there is none.
[[nodiscard]] inline std::string_view nearest_word(std::string_view written,
                                                   const std::vector<std::string_view>& words) {
    std::string_view nearest;
    std::size_t least = 0;
    for (const std::string_view word : words) {
        if (written.size() > 2 * word.size() + 2) continue;
        const std::size_t off = misspelt_by(written, word);
        if (off > std::max<std::size_t>(1, word.size() / 3) || (!nearest.empty() && off >= least)) continue;
        nearest = word;
        least = off;
    }
    return nearest;
}

/// "A, B, C".
[[nodiscard]] inline std::string in_a_row(const std::vector<std::string_view>& words) {
    std::string row;
    for (const std::string_view word : words) row += (row.empty() ? "" : ", ") + std::string(word);
    return row;
}

} // namespace tranche::detail
