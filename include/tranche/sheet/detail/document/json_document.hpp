// A cut sheet as JSON, taken apart into sections and keys and put together from them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include <tranche/report/formats/plain_text.hpp>
#include <tranche/sheet/detail/document/scan_ini.hpp>
#include <tranche/sheet/detail/document/section_reader.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

inline constexpr std::string_view json_sheet_format = "tranche cut sheet";
inline constexpr int json_sheet_version = 1;

/// "/cuts/0/fat_cover" (RFC 6901).
[[nodiscard]] TRANCHE_COLD inline std::string pointer_to(const std::string& from, std::string_view key) {
    std::string path = from + '/';
    for (const char c : printable(shortened(printable(key), 60)))
        path += c == '~' ? std::string("~0") : c == '/' ? std::string("~1") : std::string(1, c);
    return path;
}
[[nodiscard]] TRANCHE_COLD inline std::string json_key(std::string_view key) {
    std::string name = plain_key(key);
    std::replace(name.begin(), name.end(), ' ', '_');
    return name;
}

/// Takes a JSON text apart. Keys may be written as in an INI file too. Nothing may stand twice, and nothing deep.
template <class = when_called>
class json_scanner {
public:
    [[nodiscard]] sheet_document document(std::string_view bytes) {
        const json root = parsed(utf8_text(bytes));
        if (!root.is_object()) throw invalid_input("/", kind_of(root), "an object: a cut sheet");
        check_format(root);
        for (const auto& [key, value] : root.items()) {
            if (key == "format" || key == "version") continue;
            take(key, value);
        }
        for (const char* const required : {"format", "version"})
            if (!root.contains(required))
                throw invalid_input(std::string("/") + required, "nothing", format_expected(required));
        return std::move(document_);
    }

private:
    using json = nlohmann::ordered_json;

    static constexpr int deepest = 6; // the root is 0

    /// Throws for what is no JSON, naming line and column.
    [[nodiscard]] static json parsed(std::string_view text) {
        std::vector<std::set<std::string>> keys;
        const auto watch = [&](int depth, json::parse_event_t event, json& read) {
            using happens = json::parse_event_t;
            if (depth > deepest)
                throw invalid_input("the sheet", "JSON nested more than " + std::to_string(deepest) + " deep",
                                    "a cut sheet");
            if (event == happens::object_start) keys.emplace_back();
            if (event == happens::object_end) keys.pop_back();
            if (event == happens::key && !keys.back().insert(json_key(read.get_ref<const std::string&>())).second)
                throw invalid_input(pointer_to("...", read.get_ref<const std::string&>()), "the same key twice",
                                    "each key once in an object");
            return true;
        };
        try {
            return json::parse(text.begin(), text.end(), watch);
        } catch (const json::parse_error& error) {
            const std::string_view read = text.substr(0, std::min(error.byte, text.size()));
            const auto line = std::count(read.begin(), read.end(), '\n') + 1;
            const std::size_t begin = read.rfind('\n') == std::string_view::npos ? 0 : read.rfind('\n') + 1;
            throw invalid_input("line " + std::to_string(line) + ", column " + std::to_string(read.size() - begin),
                                '"' + printable(shortened(printable(read.substr(begin)), 60)) + '"', "JSON (RFC 8259)");
        } catch (const json::exception&) { // a number beyond any double
            throw invalid_input("the sheet", "JSON with a number that is out of range", "a cut sheet");
        }
    }

    [[nodiscard]] static std::string format_expected(std::string_view key) {
        if (key == "format") return '"' + std::string(json_sheet_format) + '"';
        return "version " + std::to_string(json_sheet_version) + ", which is the only one yet";
    }
    static void check_format(const json& root) {
        if (root.contains("format") && root["format"] != json(json_sheet_format))
            throw invalid_input("/format", shown_value(root["format"]), format_expected("format"));
        if (root.contains("version") && root["version"] != json(json_sheet_version))
            throw invalid_input("/version", shown_value(root["version"]), format_expected("version"));
    }

    [[nodiscard]] static std::string kind_of(const json& value) {
        if (value.is_object()) return "an object";
        if (value.is_array()) return "a list";
        if (value.is_null()) return "null";
        return shown_value(value);
    }
    [[nodiscard]] static std::string shown_value(const json& value) {
        if (value.is_structured() || value.is_null()) return kind_of(value);
        return '"' + printable(shortened(scalar_text(value, ""), 60)) + '"';
    }

    /// What stands in the root: a section, or a list of sections of a kind.
    void take(const std::string& key, const json& value) {
        const std::string plain = json_key(key), place = pointer_to("", key);
        const auto kind = std::find_if(section_kinds().begin(), section_kinds().end(), [&](const section_kind& k) {
            return plain == k.json && k.heading != "station";
        });
        if (kind == section_kinds().end()) {
            std::vector<std::string_view> known;
            for (const section_kind& k : section_kinds())
                if (k.heading != "station") known.push_back(k.json);
            throw invalid_input(place, "a key that has no meaning here",
                                perhaps_meant(nearest_word(plain, known), known));
        }
        if (kind->named == naming::no) {
            object(*kind, value, place, "");
            return;
        }
        if (!value.is_array()) throw invalid_input(place, kind_of(value), "a list");
        for (std::size_t i = 0; i < value.size(); ++i) object(*kind, value[i], place + '/' + std::to_string(i), "");
    }

    /// `of` is the name of the loin in front of a station's number.
    void object(const section_kind& kind, const json& value, const std::string& place, const std::string& number) {
        if (!value.is_object()) throw invalid_input(place, kind_of(value), "an object");
        sheet_part part{.heading = std::string(kind.heading), .name = number, .place = place, .json = true};
        const json* stations = nullptr;
        for (const auto& [key, inner] : value.items()) {
            const std::string plain = json_key(key), inner_place = pointer_to(place, key);
            if (plain == name_key(kind)) {
                if (!inner.is_string()) throw invalid_input(inner_place, kind_of(inner), "a text");
                part.name = line_of(inner, inner_place);
            } else if (kind.heading == "loin" && plain == "stations") {
                if (!inner.is_array()) throw invalid_input(inner_place, kind_of(inner), "a list");
                stations = &inner;
            } else {
                part.entries.push_back(entry(key, inner, inner_place));
            }
        }
        if (kind.named == naming::yes && part.name.empty())
            throw invalid_input(pointer_to(place, name_key(kind)), "nothing", "a name");
        const std::string loin = part.name;
        document_.push_back(std::move(part));
        if (stations == nullptr) return;
        for (std::size_t i = 0; i < stations->size(); ++i)
            object(*section_kind_of("station"), (*stations)[i], pointer_to(place, "stations") + '/' + std::to_string(i),
                   (loin.empty() ? "" : loin + ' ') + std::to_string(i + 1));
    }

    [[nodiscard]] static std::string name_key(const section_kind& kind) {
        if (kind.named == naming::no || kind.heading == "station") return {};
        return kind.heading == "loose" ? "goes_to" : "name";
    }

    [[nodiscard]] static sheet_entry entry(const std::string& key, const json& value, const std::string& place) {
        sheet_entry read{.key = key, .place = place};
        if (value.is_array()) {
            read.listed = true;
            for (std::size_t i = 0; i < value.size(); ++i) {
                read.items.push_back(scalar_text(value[i], place + '/' + std::to_string(i)));
                read.text += (i > 0 ? ", " : "") + read.items.back();
            }
            return read;
        }
        read.text = scalar_text(value, place);
        if (value.is_string()) {
            sheet_entry split;
            take_value(read.text, split);
            read.items = std::move(split.items);
        } else {
            read.items = {read.text};
        }
        return read;
    }

    [[nodiscard]] static std::string line_of(const json& text, const std::string& place) {
        const auto& line = text.get_ref<const std::string&>();
        if (!is_plain_line(line))
            throw invalid_input(place, '"' + printable(shortened(printable(line), 60)) + '"',
                                "one line without control characters");
        return trimmed(line);
    }
    [[nodiscard]] static std::string scalar_text(const json& value, const std::string& place) {
        if (value.is_string()) return line_of(value, place);
        if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
        if (value.is_number_unsigned()) return std::to_string(value.get<std::uint64_t>());
        if (value.is_number_integer()) return std::to_string(value.get<std::int64_t>());
        if (value.is_number()) return shortest_decimal(value.get<double>());
        throw invalid_input(place, kind_of(value), "a text, a number, true or false");
    }

    sheet_document document_{};
};

/// A document of `document_of` in JSON.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD nlohmann::ordered_json json_of(const sheet_document& document) {
    using json = nlohmann::ordered_json;
    json root{{"format", json_sheet_format}, {"version", json_sheet_version}};
    for (const sheet_part& part : document) {
        json object = json::object();
        const section_kind& kind = *section_kind_of(part.heading);
        if (part.heading == "loose")
            object["goes_to"] = part.name;
        else if (part.heading != "station" && !part.name.empty())
            object["name"] = part.name;
        for (const sheet_entry& entry : part.entries) {
            json& value = object[json_key(entry.key)];
            const std::string& text = entry.text;
            if (entry.listed)
                value = entry.items;
            else if (const auto whole = whole_number_of<std::int64_t>(text);
                     entry.form == field_form::whole_number && whole)
                value = *whole;
            else if (entry.form == field_form::yes_or_no)
                value = text == "yes" || text == "on";
            else
                value = text;
        }
        if (part.heading == "station")
            root["loins"].back()["stations"].push_back(std::move(object));
        else if (kind.named == naming::no)
            root[std::string(kind.json)] = std::move(object);
        else
            root[std::string(kind.json)].push_back(std::move(object));
    }
    return root;
}

} // namespace tranche::detail
