// Which texts a spreadsheet would take for a formula: the one rule of all that writes and reads comma-separated values.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include <tranche/text/utf8.hpp>

namespace tranche::detail {

/// = + - or @ (CWE-1236, "Improper Neutralization of Formula Elements in a CSV File"), and their full-width and small forms
/// (Unicode 15, blocks FF00 and FE50), which compatibility mappings turn into them.
[[nodiscard]] constexpr bool starts_formula(char32_t c) {
    return std::u32string_view(U"=+-@\uFF1D\uFF0B\uFF0D\uFF20\uFE66\uFE62\uFE63\uFE6B").find(c) !=
           std::u32string_view::npos;
}

/// What a program may trim before it looks: white space (Unicode 15, property White_Space), and marks without a width.
[[nodiscard]] constexpr bool is_blank(char32_t c) {
    return between(c, 0x9, 0xD) || between(c, 0x2000, 0x200F) || between(c, 0x2028, 0x202F) ||
           between(c, 0x205F, 0x206F) ||
           std::u32string_view(U" \u0085\u00A0\u00AD\u1680\u180E\u3000\uFEFF").find(c) != std::u32string_view::npos;
}

/// Whether what stands behind the blanks in front of `text` starts a formula. O(length).
[[nodiscard]] inline bool looks_like_formula(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const code_point c = code_point_at(text, at);
        if (!is_blank(c.value)) return starts_formula(c.value);
        at += c.bytes;
    }
    return false;
}

/// Whether `text` is apostrophes, one at least, and a formula. O(length).
[[nodiscard]] inline bool is_guarded_formula(std::string_view text) {
    const std::size_t first = text.find_first_not_of('\'');
    return first != 0 && first != std::string_view::npos && looks_like_formula(text.substr(first));
}

/// With an apostrophe in front of a formula, and one more in front of what would be taken for a guarded one, so that `unguarded`
/// brings every text back. O(length).
[[nodiscard]] inline std::string guarded(std::string text) {
    if (looks_like_formula(text) || is_guarded_formula(text)) text.insert(text.begin(), '\'');
    return text;
}

/// Without the apostrophe that `guarded` put in front. O(length).
[[nodiscard]] inline std::string unguarded(const std::string& text) {
    return is_guarded_formula(text) ? text.substr(1) : text;
}

} // namespace tranche::detail
