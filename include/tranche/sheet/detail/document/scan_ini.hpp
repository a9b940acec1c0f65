// The text of a cut sheet taken apart: sections, keys, and what stands behind them, each with its line.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/report/formats/plain_text.hpp>
#include <tranche/sheet/detail/document/nearest_word.hpp>
#include <tranche/sheet/detail/document/section_kinds.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Throws for bytes that are a text, but not in UTF-8; a byte order mark of UTF-8 goes.
[[nodiscard]] TRANCHE_COLD inline std::string_view utf8_text(std::string_view bytes) {
    constexpr std::string_view mark = "\xEF\xBB\xBF", big = "\xFE\xFF", little = "\xFF\xFE";
    if (bytes.starts_with(big) || bytes.starts_with(little) ||
        bytes.substr(0, 1000).find('\0') != std::string_view::npos)
        throw invalid_input("the sheet", "text in UTF-16, or no text at all",
                            "UTF-8: save it again with that as its encoding");
    return bytes.starts_with(mark) ? bytes.substr(mark.size()) : bytes;
}

/// Reads line by line into a document.
template <class = when_called>
class ini_scanner {
public:
    [[nodiscard]] sheet_document document(std::string_view bytes) {
        std::string_view rest = utf8_text(bytes);
        while (!rest.empty()) {
            const auto end = rest.find('\n');
            ++line_;
            take(rest.substr(0, end));
            rest = end == std::string_view::npos ? std::string_view{} : rest.substr(end + 1);
        }
        return std::move(document_);
    }

private:
    static constexpr std::size_t longest_line = 200'000;

    [[nodiscard]] std::string at_line() const { return " (line " + std::to_string(line_) + ')'; }

    void take(std::string_view bytes) {
        if (bytes.size() > longest_line)
            throw invalid_input("line " + std::to_string(line_), std::to_string(bytes.size()) + " bytes",
                                "at most " + std::to_string(longest_line));
        const std::string line = trimmed(printable(bytes)); // so that nothing of it is a command to a terminal
        if (line.empty() || starts_remark(line, 0) || line.front() == '#') return;
        if (line.front() == '[')
            heading(line);
        else
            entry(line);
    }

    void heading(const std::string& line) {
        std::size_t end = 1;
        while (end < line.size() && line[end] != ']') {
            const auto quoted = line[end - 1] == ' ' ? quoted_at(line, end, "]") : std::nullopt;
            end = quoted ? quoted->end : end + 1;
        }
        if (end >= line.size()) refuse_line(line, "a ] behind the heading");
        const std::string behind = trimmed(std::string_view(line).substr(end + 1));
        if (!behind.empty() && !starts_remark(behind, 0)) refuse_line(line, "nothing behind the ] but a remark");
        const std::string inside = trimmed(std::string_view(line).substr(1, end - 1));
        sheet_part part{.place = '[' + inside + ']', .line = at_line()};
        const auto blank = std::min(inside.find(' '), inside.size());
        std::string first = plain_key(std::string_view(inside).substr(0, blank));
        if (first == "labor") first = "labour";
        const std::string name = trimmed(std::string_view(inside).substr(blank));
        for (const section_kind& kind : section_kinds()) {
            const bool whole = kind.named != naming::yes &&
                               (plain_key(inside) == kind.heading || (name.empty() && first == kind.heading));
            const bool named_so = kind.named != naming::no && first == kind.heading && !name.empty();
            if (!whole && !named_so) continue;
            part.heading = kind.heading;
            if (named_so) {
                const auto quoted = quoted_at(name, 0, "");
                part.name = quoted && quoted->end == name.size() ? quoted->inside : name;
            }
        }
        if (part.heading.empty()) refuse_heading(part.place, first);
        document_.push_back(std::move(part));
    }

    [[noreturn]] void refuse_heading(const std::string& place, const std::string& first) const {
        std::vector<std::string_view> headings;
        std::string known;
        for (const section_kind& kind : section_kinds()) {
            headings.push_back(kind.heading);
            known +=
                (known.empty() ? "" : ", ") + std::string(kind.heading) + (kind.named == naming::yes ? " ..." : "");
        }
        const std::string_view meant = nearest_word(first, headings);
        throw invalid_input(shortened(place, 60) + at_line(), "a section that has no meaning here",
                            (meant.empty() ? "" : "perhaps " + std::string(meant) + "; ") + ("one of " + known));
    }

    void entry(const std::string& line) {
        const auto sign = line.find_first_of("=:");
        if (sign == std::string::npos || sign == 0) refuse_line(line, "[section], key = value, or a remark behind ;");
        sheet_entry entry{.key = trimmed(std::string_view(line).substr(0, sign))};
        if (document_.empty())
            throw invalid_input(shortened(entry.key, 60) + at_line(), "a key", "a [section] in front of the first key");
        sheet_part& part = document_.back();
        entry.place = part.place + ' ' + shortened(entry.key, 60) + at_line();
        take_value(std::string_view(line).substr(sign + 1), entry);
        part.entries.push_back(std::move(entry));
        if (part.entries.size() > most_keys)
            throw invalid_input(part.place + at_line(), "more than " + std::to_string(most_keys) + " keys", "fewer");
    }

    [[noreturn]] void refuse_line(const std::string& line, const char* expected) const {
        throw invalid_input((document_.empty() ? "" : document_.back().place + ' ') + "line " + std::to_string(line_),
                            '"' + shortened(line, 120) + '"', expected);
    }

    static constexpr std::size_t most_keys = 50; // of any section

    sheet_document document_{};
    std::size_t line_ = 0;
};

} // namespace tranche::detail
