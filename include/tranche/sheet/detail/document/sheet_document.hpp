// A cut sheet as sections, keys and texts, whether it is an INI file or JSON.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/text/detail/text_reader.hpp>
#include <tranche/text/utf8.hpp>
#include <tranche/text/write_csv.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// In small letters, with one blank for any blanks, hyphens and underscores between words.
[[nodiscard]] inline std::string plain_key(std::string_view written) {
    std::string key;
    for (const char c : written) {
        const bool blank = c == ' ' || c == '\t' || c == '_' || c == '-';
        if (!blank)
            key += text_reader::small(c);
        else if (!key.empty() && key.back() != ' ')
            key += ' ';
    }
    if (!key.empty() && key.back() == ' ') key.pop_back();
    return key;
}

/// What stands behind a key, for those who write it in JSON.
enum class field_form { text, whole_number, yes_or_no, list };

/// A key and what stands behind it.
struct sheet_entry {
    std::string key{};                  ///< as written
    std::string text{};                 ///< without remark and quotes
    std::vector<std::string> items{};   ///< of it as a list
    field_form form = field_form::text; ///< as it was written by us
    bool listed = false;                ///< a list beyond doubt: no key of one value takes it
    std::string place{};                ///< "[loin] weight (line 12)", "/loins/0/weight"

    /// What an error shows of it.
    [[nodiscard]] std::string shown() const {
        constexpr std::size_t most = 200;
        return '"' + (text.size() > most ? text.substr(0, whole_characters(text, most)) + " ..." : text) + '"';
    }
};

/// A section. Its heading is one of those of `section_kinds`.
struct sheet_part {
    std::string heading{}; ///< "cut"
    std::string name{};    ///< "strip steak"
    std::string place{};   ///< "[cut strip steak]", "/cuts/0"
    std::string line{};    ///< " (line 7)" of its heading, if it stands on one
    bool json = false;
    std::vector<sheet_entry> entries{};

    /// Where a key would stand that is not there.
    [[nodiscard]] std::string field(std::string_view key) const {
        if (!json) return place + ' ' + std::string(key);
        std::string path = place + '/' + plain_key(key);
        std::replace(path.begin(), path.end(), ' ', '_');
        return path;
    }
    [[nodiscard]] const sheet_entry* find(std::string_view key) const {
        const std::string plain = plain_key(key);
        for (const sheet_entry& entry : entries)
            if (plain_key(entry.key) == plain) return &entry;
        return nullptr;
    }
};
using sheet_document = std::vector<sheet_part>;

[[nodiscard]] inline std::string trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r";
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return std::string(text.substr(first, text.find_last_not_of(blanks) - first + 1));
}

/// Whether a remark starts here: ; behind a blank, or # between blanks.
[[nodiscard]] inline bool starts_remark(std::string_view text, std::size_t at) {
    const auto blank = [&](std::size_t i) { return text[i] == ' ' || text[i] == '\t' || text[i] == '\r'; };
    if (at > 0 && !blank(at - 1)) return false;
    return text[at] == ';' || (text[at] == '#' && (at + 1 == text.size() || blank(at + 1)));
}

struct quoted_text {
    std::string inside{};
    std::size_t end = 0; ///< behind the closing quote
};

/// What stands between quotes that open at `at`, "" inside for one of them. None where they do not close in front of the end of
/// the text, one of `stops` or a remark: then they are quotes in a text, or inches.
[[nodiscard]] inline std::optional<quoted_text> quoted_at(std::string_view text, std::size_t at,
                                                          std::string_view stops) {
    if (at >= text.size() || text[at] != '"') return std::nullopt;
    quoted_text quoted;
    for (std::size_t i = at + 1; i < text.size(); ++i) {
        if (text[i] != '"') {
            quoted.inside += text[i];
        } else if (i + 1 < text.size() && text[i + 1] == '"') {
            quoted.inside += text[i++];
        } else {
            quoted.end = i + 1;
            const std::size_t next = text.find_first_not_of(" \t\r", quoted.end);
            const bool closed = next == std::string_view::npos || stops.find(text[next]) != std::string_view::npos ||
                                starts_remark(text, next);
            return closed ? std::optional(quoted) : std::nullopt;
        }
    }
    return std::nullopt;
}

/// Fills text and items of an entry from what stands behind its = sign; a remark goes.
inline void take_value(std::string_view raw, sheet_entry& entry) {
    std::size_t at = 0, items = 0;
    bool quotes = false;
    const auto add = [&](std::string item, bool quoted) {
        if (!item.empty() || quoted) entry.items.push_back(std::move(item));
        ++items;
        quotes = quotes || quoted;
    };
    std::size_t end = raw.size();
    while (at < raw.size()) {
        const std::size_t first = std::min(raw.find_first_not_of(" \t\r", at), raw.size());
        if (const auto quoted = quoted_at(raw, first, ",")) {
            add(quoted->inside, true);
            at = std::min(raw.find_first_not_of(" \t\r", quoted->end), raw.size());
            if (at < raw.size() && raw[at] != ',') {
                end = at;
                break;
            }
            ++at;
            continue;
        }
        std::size_t stop = first;
        while (stop < raw.size() && raw[stop] != ',' && !starts_remark(raw, stop)) ++stop;
        add(trimmed(raw.substr(first, stop - first)), false);
        if (stop == raw.size() || raw[stop] != ',') {
            end = stop;
            break;
        }
        at = stop + 1;
    }
    entry.text = items == 1 && quotes ? entry.items.front() : trimmed(raw.substr(0, end));
}

/// A text as it can stand behind an = sign, in a list or in a heading: in quotes where it would be read as something else.
[[nodiscard]] inline std::string quoted_where_needed(const std::string& text, std::string_view stops) {
    bool plain = !text.empty() && text.front() != '"';
    for (std::size_t at = 0; plain && at < text.size(); ++at)
        plain = stops.find(text[at]) == std::string_view::npos && !starts_remark(text, at);
    if (plain) return text;
    return in_quotes(text);
}

} // namespace tranche::detail
