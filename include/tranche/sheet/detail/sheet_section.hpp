// One section of a cut sheet: keys and texts, read as quantities, and errors that name section, key and text.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <istream>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <boost/property_tree/ini_parser.hpp>
#include <boost/property_tree/ptree.hpp>

#include <tranche/tranche.hpp>

#include <tranche/sheet/detail/sheet_keys.hpp>

namespace tranche::detail {

[[nodiscard]] inline std::string trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r";
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return std::string(text.substr(first, text.find_last_not_of(blanks) - first + 1));
}

/// A list separated by commas, without empty entries.
[[nodiscard]] inline std::vector<std::string> listed(std::string_view text) {
    std::vector<std::string> entries;
    while (true) {
        const auto comma = text.find(',');
        if (std::string entry = trimmed(text.substr(0, comma)); !entry.empty()) entries.push_back(std::move(entry));
        if (comma == std::string_view::npos) return entries;
        text.remove_prefix(comma + 1);
    }
}

/// What an error says, with its quantities in these units, on one line that no terminal takes for a command.
[[nodiscard]] inline std::string error_text(const invalid_input& error, const kitchen_units& units) {
    return printable(error.field() + ": got " + in_units(error.value_words(), units) + ", expected " +
                     in_units(error.expected_words(), units));
}

/// A section of the sheet.
class sheet_section {
public:
    sheet_section(std::string name, const boost::property_tree::ptree& entries) : name_(std::move(name)) {
        for (const auto& [key, value] : entries) texts_.emplace_back(key, without_remark(value.data()));
    }

    [[nodiscard]] const std::string& name() const { return name_; }
    [[nodiscard]] std::string field(std::string_view key) const { return '[' + name_ + "] " + std::string(key); }
    [[noreturn]] void refuse(const std::string& key, const sentence& expected) const {
        const auto found = find(key);
        throw invalid_input(field(key), found == texts_.end() ? "nothing" : '"' + found->second + '"', expected);
    }

    [[nodiscard]] bool has(const std::string& key) const { return find(key) != texts_.end(); }

    /// The text of a key; empty if the sheet does not have it.
    [[nodiscard]] std::string text(const std::string& key) const {
        if (const section_kind* kind = kind_of(name_);
            kind == nullptr || std::find(kind->keys.begin(), kind->keys.end(), key) == kind->keys.end())
            throw std::logic_error("section_kinds() has no key " + field(key));
        const auto found = find(key);
        if (found == texts_.end()) return {};
        if (found->second.empty()) throw invalid_input(field(key), "nothing", "a value behind the =");
        return found->second;
    }
    [[nodiscard]] std::string required_text(const std::string& key, const std::string& expected) const {
        std::string value = text(key);
        if (value.empty()) refuse(key, expected);
        return value;
    }
    template <class Quantity>
    [[nodiscard]] Quantity required(const std::string& key, const std::string& expected) const {
        return from_text<Quantity>(required_text(key, expected), field(key));
    }
    template <class Quantity>
    [[nodiscard]] Quantity optional(const std::string& key, Quantity otherwise) const {
        const std::string value = text(key);
        return value.empty() ? otherwise : from_text<Quantity>(value, field(key));
    }
    [[nodiscard]] int whole_number(const std::string& key, int otherwise, int least, int most) const {
        const std::string value = text(key);
        if (value.empty()) return otherwise;
        const auto number = whole(value);
        if (!number || *number < least || *number > most)
            refuse(key, "a whole number, " + std::to_string(least) + " to " + std::to_string(most));
        return *number;
    }
    /// A price or a sum that a bill can hold: below 10 million of the currency, a kilogram or in all.
    template <class Monetary>
    [[nodiscard]] Monetary monetary(const std::string& key, bool may_be_negative = false) const {
        const auto value = optional<Monetary>(key, Monetary{});
        if (!(std::abs(value.value()) < 1e7)) refuse(key, "less than 10 million of the currency, or that a kilogram");
        if (!may_be_negative && value < Monetary{}) refuse(key, "a price of zero or more");
        return value;
    }
    /// "A", "exactly A", "A to B", "at least A", "at most B".
    template <class Quantity>
    [[nodiscard]] quantity_range<Quantity> limits(const std::string& key) const {
        const auto [min, max] = limit_texts(key);
        const auto read = [&](const std::string& part, Quantity otherwise) {
            return part.empty() ? otherwise : from_text<Quantity>(part, field(key));
        };
        if (min.empty() && max.empty()) return {};
        return {read(min, Quantity{}), read(max, unlimited<Quantity>())};
    }
    /// The same of whole numbers; no upper one if there is none.
    [[nodiscard]] std::pair<int, std::optional<int>> whole_limits(const std::string& key, int most) const {
        const auto [min, max] = limit_texts(key);
        const auto read = [&](const std::string& part) {
            const auto number = whole(part);
            if (!number || *number < 0 || *number > most)
                refuse(key,
                       "a whole number up to " + std::to_string(most) + ", A to B, exactly A, at least A or at most B");
            return *number;
        };
        const int least = min.empty() ? 0 : read(min);
        if (max.empty()) return {least, std::nullopt};
        const int upper = read(max);
        if (upper < least) refuse(key, "an upper number that is not below the lower one");
        return {least, upper};
    }
    /// One of a list of words, given with what they mean.
    template <class T>
    [[nodiscard]] T choice(const std::string& key, const std::vector<std::pair<std::string_view, T>>& words,
                           T otherwise) const {
        const std::string value = text(key);
        if (value.empty()) return otherwise;
        std::string known;
        for (const auto& [word, meaning] : words) {
            if (value == word) return meaning;
            known += (known.empty() ? "" : ", ") + std::string(word);
        }
        refuse(key, "one of " + known);
    }

    /// Runs a check of the library and puts its errors into the words of the sheet. `keys` says which of the sheet's keys a
    /// field of the library stands for; the text that was written for it is shown as the value.
    template <class Check>
    void checked(const std::vector<std::pair<std::string_view, std::string>>& keys, Check&& check) const {
        try {
            check();
        } catch (const invalid_input& error) {
            const auto known =
                std::find_if(keys.begin(), keys.end(), [&](const auto& k) { return error.field().ends_with(k.first); });
            if (known == keys.end())
                throw invalid_input('[' + name_ + ']', error.value_words(), error.expected_words());
            if (has(known->second)) refuse(known->second, error.expected_words());
            throw invalid_input(field(known->second), error.value_words(), error.expected_words());
        }
    }

    /// Throws for a section that no sheet has, and for a key that this one has not: before anything is read, because what is
    /// misspelt would else be reported as missing.
    void require_known() const {
        if (const std::size_t long_name = columns_of(name_); long_name > longest_name)
            throw invalid_input('[' + shortened(name_, 30) + ']',
                                "a name of " + std::to_string(long_name) + " characters",
                                "at most " + std::to_string(longest_name));
        const section_kind* const kind = kind_of(name_);
        if (kind == nullptr) {
            std::vector<std::string_view> headings;
            std::string known;
            for (const section_kind& k : section_kinds()) {
                headings.push_back(k.heading);
                known += (known.empty() ? "" : ", ") + std::string(k.heading) + (k.named ? " ..." : "");
            }
            const std::string_view meant = nearest_word(std::string_view(name_).substr(0, name_.find(' ')), headings);
            throw invalid_input('[' + name_ + ']', "a section that has no meaning here",
                                (meant.empty() ? "" : "perhaps " + std::string(meant) + "; ") + ("one of " + known));
        }
        for (const auto& [key, value] : texts_) {
            if (std::find(kind->keys.begin(), kind->keys.end(), key) != kind->keys.end()) continue;
            const std::string_view meant = nearest_word(key, kind->keys);
            throw invalid_input(field(key), "a key that has no meaning here",
                                (meant.empty() ? "" : "perhaps " + std::string(meant) + "; ") +
                                    ("one of " + in_a_row(kind->keys)));
        }
    }

private:
    [[nodiscard]] std::vector<std::pair<std::string, std::string>>::const_iterator find(const std::string& key) const {
        return std::find_if(texts_.begin(), texts_.end(), [&](const auto& e) { return e.first == key; });
    }
    [[nodiscard]] static std::optional<int> whole(const std::string& text) {
        int number = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
        if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
        return number;
    }
    /// The lower and the upper limit as they are written; empty if there is none.
    [[nodiscard]] std::pair<std::string, std::string> limit_texts(const std::string& key) const {
        const std::string value = text(key);
        if (value.starts_with("at least ")) return {trimmed(std::string_view(value).substr(9)), {}};
        if (value.starts_with("at most ")) return {{}, trimmed(std::string_view(value).substr(8))};
        if (value.starts_with("exactly "))
            return {trimmed(std::string_view(value).substr(8)), trimmed(std::string_view(value).substr(8))};
        const auto to = value.find(" to ");
        if (to == std::string::npos) return {value, value};
        return {trimmed(std::string_view(value).substr(0, to)), trimmed(std::string_view(value).substr(to + 4))};
    }
    /// A value may be followed by a remark: "3 in ; at the thickest".
    [[nodiscard]] static std::string without_remark(std::string value) {
        for (std::size_t at = value.find(';'); at != std::string::npos; at = value.find(';', at + 1))
            if (at == 0 || value[at - 1] == ' ' || value[at - 1] == '\t') {
                value.erase(at);
                break;
            }
        return trimmed(value);
    }

    static constexpr std::size_t longest_name = 120; // more than any table or picture shows of it

    std::string name_;
    std::vector<std::pair<std::string, std::string>> texts_;
};

/// The sections of a sheet in order.
using sheet_sections = std::vector<std::pair<std::string, boost::property_tree::ptree>>;

/// Throws for a line that the parser did not take, naming the section that it stands in.
[[noreturn]] inline void refuse_line(const std::string& text, unsigned long number, const std::string& message) {
    std::istringstream lines(text);
    std::string section, line;
    for (unsigned long i = 1; i <= number && std::getline(lines, line); ++i) {
        line = trimmed(line);
        if (i < number && line.starts_with('[')) section = line + ' ';
    }
    const std::string where = " (line " + std::to_string(number) + ')';
    if (message == "duplicate section name")
        throw invalid_input(line + where, "the same section twice", "each section once");
    if (message == "duplicate key name")
        throw invalid_input(section + trimmed(line.substr(0, line.find('='))) + where, "the same key twice",
                            "each key once in a section");
    throw invalid_input(section + "line " + std::to_string(number), '"' + line + '"',
                        "[section], key = value, or a remark behind ;");
}

/// Throws `invalid_input` with the line for what is no INI file, and for sections and keys that no sheet has. Sections without keys count: the parser of Boost drops
/// them, so their headings are looked up in the text. A byte order mark in front is passed over.
[[nodiscard]] inline sheet_sections read_sections(std::istream& in) {
    std::string text;
    for (std::string line; std::getline(in, line);) {
        if (text.empty() && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
        text += printable(line) + '\n'; // so that nothing of it is a command to the terminal that it is shown on
    }
    boost::property_tree::ptree tree;
    try {
        std::istringstream ini(text);
        boost::property_tree::read_ini(ini, tree);
    } catch (const boost::property_tree::ini_parser_error& error) {
        refuse_line(text, error.line(), error.message());
    }
    for (const auto& entry : tree)
        if (entry.second.empty() && !entry.second.data().empty())
            throw invalid_input(entry.first, '"' + entry.second.data() + '"', "a [section] in front of the first key");
    sheet_sections sections;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        const std::string heading = trimmed(line);
        if (!heading.starts_with('[') || heading.find(']') == std::string::npos) continue;
        const std::string name = trimmed(std::string_view(heading).substr(1, heading.find(']') - 1));
        if (std::any_of(sections.begin(), sections.end(), [&](const auto& s) { return s.first == name; }))
            throw invalid_input('[' + name + ']', "the same section twice", "each section once");
        const auto found = tree.find(name);
        sections.emplace_back(name, found == tree.not_found() ? boost::property_tree::ptree{} : found->second);
    }
    for (const auto& [name, entries] : sections) sheet_section(name, entries).require_known();
    return sections;
}

[[nodiscard]] inline const boost::property_tree::ptree& section_named(const sheet_sections& sections,
                                                                      const std::string& name) {
    for (const auto& section : sections)
        if (section.first == name) return section.second;
    throw invalid_input('[' + name + ']', "no such section", "one");
}

/// The units that a sheet is written for, which its errors are written in too.
[[nodiscard]] inline kitchen_units units_of(const sheet_sections& sections) {
    return sheet_section("sheet", section_named(sections, "sheet"))
        .choice<kitchen_units>("units", {{"us", us_kitchen}, {"metric", metric_kitchen}}, us_kitchen);
}

} // namespace tranche::detail
