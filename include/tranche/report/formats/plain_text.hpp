// UTF-8 text for reports: made printable, measured in columns, wrapped, shortened and padded.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/text/utf8.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

inline constexpr std::string_view no_break_space = "\xC2\xA0";

/// Columns on a fixed-pitch display: 0 for common combining marks, 2 for the wide East Asian blocks (after Unicode
/// Standard Annex 11), 1 otherwise.
[[nodiscard]] constexpr std::size_t width_of(char32_t c) {
    if (between(c, 0x300, 0x36F) || between(c, 0x200B, 0x200F) || between(c, 0xFE00, 0xFE0F)) return 0;
    const bool wide = between(c, 0x1100, 0x115F) || between(c, 0x2E80, 0xA4CF) || between(c, 0xAC00, 0xD7A3) ||
                      between(c, 0xF900, 0xFAFF) || between(c, 0xFE30, 0xFE6F) || between(c, 0xFF00, 0xFF60) ||
                      between(c, 0xFFE0, 0xFFE6) || between(c, 0x1F300, 0x1FAFF) || between(c, 0x20000, 0x3FFFD);
    return wide ? 2 : 1;
}

} // namespace detail

namespace detail {

/// How many columns printable `text` takes on a fixed-pitch display.
template <class = when_called>
[[nodiscard]] std::size_t columns_of(std::string_view text) {
    std::size_t columns = 0;
    for (std::size_t at = 0; at < text.size();) {
        const detail::code_point c = detail::code_point_at(text, at);
        columns += detail::width_of(c.value);
        at += c.bytes;
    }
    return columns;
}

} // namespace detail

namespace detail {

/// How many bytes of `text` fit into `width` columns; at least one character.
template <class = when_called>
[[nodiscard]] std::size_t bytes_within(std::string_view text, std::size_t width) {
    std::size_t at = 0, columns = 0;
    while (at < text.size()) {
        const code_point c = code_point_at(text, at);
        columns += width_of(c.value);
        if (columns > width && at > 0) break;
        at += c.bytes;
    }
    return at;
}

} // namespace detail

namespace detail {

/// Printable `text` broken at spaces into lines of at most `width` columns (2 or more); a word that is longer is broken
/// anywhere. At least one line. O(length).
template <class = when_called>
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
    std::vector<std::string> lines(1);
    std::size_t filled = 0; // columns of the last line
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t space = std::min(text.find(' ', at), text.size());
        std::string_view word = text.substr(at, space - at);
        at = space + 1;
        if (word.empty()) continue;
        std::size_t columns = columns_of(word);
        if (!lines.back().empty()) {
            if (filled + 1 + columns <= width) {
                (lines.back() += ' ') += word;
                filled += 1 + columns;
                continue;
            }
            lines.emplace_back();
        }
        while (columns > width) {
            const std::size_t bytes = detail::bytes_within(word, width);
            lines.back() = word.substr(0, bytes);
            columns -= columns_of(lines.back());
            word.remove_prefix(bytes);
            lines.emplace_back();
        }
        lines.back() = word;
        filled = columns;
    }
    return lines;
}

/// Printable `text` in at most `width` columns (1 or more), with an ellipsis where something was left out.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string shortened(std::string_view text, std::size_t width) {
    if (columns_of(text) <= width) return std::string(text);
    std::string result(width > 1 ? text.substr(0, detail::bytes_within(text, width - 1)) : std::string_view{});
    if (columns_of(result) >= width) result.clear(); // a wide first letter
    while (!result.empty() && (result.back() == ' ' || result.back() == ',')) result.pop_back();
    return result + "…";
}

} // namespace detail

} // namespace tranche
