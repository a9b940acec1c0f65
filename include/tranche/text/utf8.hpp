// UTF-8 taken apart: the code points of a text, and those that have no place in a line of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>

#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Stands in for bytes that are no UTF-8.
inline constexpr char32_t replacement_character = 0xFFFD;

struct code_point {
    char32_t value = replacement_character;
    std::size_t bytes = 1;
    bool valid = false; ///< false where U+FFFD stands in, and true where the text has one itself
};

/// The code point at `at`; U+FFFD of one byte that is not valid where the bytes are not UTF-8 (Unicode 15, table 3-7).
[[nodiscard]] inline code_point code_point_at(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned lead = byte(at);
    if (lead < 0x80) return {lead, 1, true};
    const std::size_t bytes = lead >= 0xF0 && lead < 0xF5 ? 4 : lead >= 0xE0 ? 3 : lead >= 0xC2 ? 2 : 0;
    if (bytes == 0 || lead >= 0xF5 || at + bytes > text.size()) return {};
    char32_t value = lead & (0x7FU >> bytes);
    for (std::size_t i = 1; i < bytes; ++i) {
        if ((byte(at + i) & 0xC0U) != 0x80U) return {};
        value = (value << 6U) | (byte(at + i) & 0x3FU);
    }
    const bool overlong = (bytes == 3 && value < 0x800) || (bytes == 4 && value < 0x10000);
    if (overlong || value > 0x10FFFF || (value >= 0xD800 && value < 0xE000)) return {};
    return {value, bytes, true};
}

[[nodiscard]] constexpr bool between(char32_t c, char32_t first, char32_t last) { return first <= c && c <= last; }

/// Controls, line and paragraph separators and changes of writing direction would tear a table apart.
[[nodiscard]] constexpr bool is_control(char32_t c) {
    return c < 0x20 || between(c, 0x7F, 0x9F) || between(c, 0x2028, 0x202E) || between(c, 0x2066, 0x2069);
}

/// Code points that XML does not have (XML 1.0, section 2.2).
[[nodiscard]] constexpr bool is_no_character(char32_t c) { return between(c, 0xFFFE, 0xFFFF); }

/// How many bytes at the start of `text`, at most `bytes`, do not cut a UTF-8 character in two.
[[nodiscard]] inline std::size_t whole_characters(std::string_view text, std::size_t bytes) {
    if (text.size() <= bytes) return text.size();
    const auto goes_on = [&](std::size_t i) { return (static_cast<unsigned char>(text[i]) & 0xC0U) == 0x80U; };
    for (std::size_t back = 0; back < 4 && back <= bytes; ++back)
        if (!goes_on(bytes - back)) return bytes - back;
    return bytes; // no UTF-8
}

} // namespace detail

namespace detail {

/// Whether `text` is UTF-8 that can stand on one line of a report or a table: no control characters, no changes of writing
/// direction, and nothing that XML does not have. What `printable` made of a text is. O(length).
[[nodiscard]] inline bool is_plain_line(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const detail::code_point c = detail::code_point_at(text, at);
        if (!c.valid || detail::is_control(c.value) || detail::is_no_character(c.value)) return false;
        at += c.bytes;
    }
    return true;
}

/// `text` as valid UTF-8 on one line (`is_plain_line`): bytes that are no UTF-8 and code points that XML does not have become
/// U+FFFD, control characters spaces. What is printable stays as it is. O(length).
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string printable(std::string_view text) {
    const auto odd = std::find_if(text.begin(), text.end(), [](char c) { return c < ' ' || c > '~'; });
    std::string result(text.begin(), odd); // as it is
    for (std::size_t at = result.size(); at < text.size();) {
        const detail::code_point c = detail::code_point_at(text, at);
        if (detail::is_control(c.value))
            result += ' ';
        else if (!c.valid || detail::is_no_character(c.value))
            result += "\xEF\xBF\xBD";
        else
            result += text.substr(at, c.bytes);
        at += c.bytes;
    }
    return result;
}

} // namespace detail

} // namespace tranche
