// That sheets in JSON are read as strictly as others, that the schema says what is read, and that the page explains it.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "any_sheet.hpp"
#include "json_schema.hpp"
#include "sheet_texts.hpp"
#include <tranche/sheet/read_sheet.hpp>
#include <tranche/sheet/sheet_json.hpp>
#include <tranche/sheet/write_sheet.hpp>

namespace sheet_json_test {

using namespace tranche;
using namespace tranche_test;
using json = nlohmann::ordered_json;

namespace {

std::string error_of(const std::string& text) {
    try {
        (void)sheet_from_json(text);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "no error";
}

json kitchen() { return json::parse(sheet_json(read_sheet(kitchen_sheet))); }

} // namespace

TEST_CASE("sheet_json: sheets of each kind of user come back from JSON as they were") {
    for (const std::string* text : {&kitchen_sheet, &home_sheet, &weight_only_sheet, &chef_sheet, &case_sheet}) {
        const cut_sheet sheet = read_sheet(*text);
        CHECK(sheet_from_json(sheet_json(sheet)) == sheet);
    }
    const json j = json::parse(sheet_json(read_sheet(chef_sheet)));
    CHECK(j["format"] == "tranche cut sheet");
    CHECK(j["version"] == 1);
    CHECK(j["loins"][0]["weight"] == "13.20 lb");
    CHECK(j["loins"][0]["stations"][1]["depth"] == "2 3/4 in");
    CHECK(j["cuts"][1]["pieces"] == 2);
    CHECK(j["cuts"][0]["silverskin"] == false);
    CHECK(j["cuts"][0]["price_each"] == "58.00 USD");
    CHECK(j["cutting"]["cut_at"] == json({"5 in", "9 in"}));
    CHECK(j["cutting"]["remnant_required"] == true);
    CHECK(j["loose"][0]["goes_to"] == "grind");
}

TEST_CASE("sheet_json: takes keys as sheets have them, numbers for what is counted, and lists or texts") {
    json j = kitchen();
    const cut_sheet sheet = sheet_from_json(j.dump());
    j["loins"][0]["Weight on the board"] = j["loins"][0]["weight_on_the_board"];
    j["loins"][0].erase("weight_on_the_board");
    j["loins"][0]["gluteus_medius_share"] = 0.3;
    j["cuts"][1]["pieces"] = "2";
    j["cuts"][0]["silverskin"] = "off";
    j["alternatives"][0]["replaces"] = "strip steak, halved fillet";
    CHECK(sheet_from_json(j.dump()) == sheet);
}

TEST_CASE("sheet_json: names the pointer, the text and the expectation") {
    const auto with = [](const char* pointer, const json& value) {
        json j = kitchen();
        j[json::json_pointer(pointer)] = value;
        return error_of(j.dump());
    };
    CHECK(with("/cuts/0/thickness", "1 inn") ==
          "/cuts/0/thickness: got \"1 inn\", expected a length such as 32 mm, 41.5 cm, 1 1/4 in "
          "or ¾ in (no such unit at character 3)");
    CHECK(with("/loins/0/stations/2/at", "450 mm") ==
          "/loins/0/stations/2/at: got \"450 mm\", expected at most the length, 16 1/2 in");
    CHECK_THAT(
        with("/cuts/0/fat_covers", "1 in"),
        StartsWith("/cuts/0/fat_covers: got a key that has no meaning here, expected perhaps fat cover; one of"));
    CHECK_THAT(with("/cut", json::array()),
               StartsWith("/cut: got a key that has no meaning here, expected perhaps cuts"));
    CHECK_THAT(with("/cuts/0/name", ""), StartsWith("/cuts/0/name: got nothing, expected a name"));
    CHECK_THAT(with("/cuts/1/name", "Strip steak"), StartsWith("/cuts/1: got the same section twice"));
    CHECK_THAT(with("/cuts/0/thickness", json::array({"1 in"})),
               StartsWith("/cuts/0/thickness: got a list, expected one value"));
    CHECK_THAT(with("/cuts/0/thickness", nullptr), StartsWith("/cuts/0/thickness: got null, expected a text"));
    CHECK_THAT(with("/cuts/0/thickness", 1), StartsWith("/cuts/0/thickness: got \"1\", expected a length"));
    CHECK_THAT(with("/cuts/0", 1), StartsWith("/cuts/0: got \"1\", expected an object"));
    CHECK_THAT(with("/cuts", "steak"), StartsWith("/cuts: got \"steak\", expected a list"));
    CHECK_THAT(with("/cuts", json::array()), StartsWith("/cuts: got no such section, expected at least one"));
    CHECK_THAT(with("/version", 2), StartsWith("/version: got \"2\", expected version 1"));
    CHECK_THAT(with("/format", "another"), StartsWith("/format: got \"another\", expected \"tranche cut sheet\""));
    CHECK_THAT(with("/sheet/title", "a\nb"), StartsWith("/sheet/title: got \"a b\", expected one line"));
    CHECK_THAT(error_of("{\n  \"format\": nonsense\n}"), StartsWith("line 2, column "));
    CHECK_THAT(error_of("[]"), StartsWith("/: got a list, expected an object"));
    CHECK_THAT(error_of("{\"format\": \"tranche cut sheet\"}"), StartsWith("/version: got nothing"));
    CHECK_THAT(error_of("{\"sheet\": {\"title\": \"a\", \"Title\": \"b\"}}"), ContainsSubstring("the same key twice"));
    CHECK_THAT(error_of("{\"cuts\":" + std::string(100'000, '[')), ContainsSubstring("nested more than 6 deep"));
    CHECK_THAT(error_of("{\"version\": 1e999}"), ContainsSubstring("out of range"));
}

TEST_CASE("sheet_json: the schema knows each key that is read, and no others") {
    const json schema = json::parse(docs_text("cut_sheet.schema.json"));
    CHECK(schema["$schema"] == "https://json-schema.org/draft/2020-12/schema");
    std::vector<std::string> sections{"format", "version"};
    for (const detail::section_kind& kind : detail::section_kinds()) {
        const std::string name(kind.json);
        INFO(name);
        if (name != "stations") sections.push_back(name);
        std::vector<std::string> keys, required;
        if (name == "loins") keys = {"name", "stations"};
        if (name == "loose") keys = required = {"goes_to"};
        if (name == "cuts" || name == "orders" || name == "alternatives" || name == "offers")
            keys = required = {"name"};
        const json section = resolved(schema, json{{"$ref", "#/$defs/" + name}});
        for (const detail::known_key& key : detail::keys_of(kind)) {
            keys.push_back(detail::json_key(key.key));
            if (key.required) required.push_back(keys.back());
            INFO(keys.back());
            REQUIRE(section["properties"].contains(keys.back()));
            const json rule = resolved(schema, section["properties"][keys.back()]);
            CHECK_FALSE(rule["description"].get<std::string>().empty());
            const auto takes = [&](const char* type) {
                return rule.contains("type") && rule["type"].is_array() &&
                       std::count(rule["type"].begin(), rule["type"].end(), json(type)) == 1;
            };
            CHECK(takes("array") == (key.form == detail::field_form::list));
            CHECK(takes("integer") == (key.form == detail::field_form::whole_number));
            CHECK(takes("boolean") == (key.form == detail::field_form::yes_or_no));
        }
        std::vector<std::string> known, needed;
        for (const auto& [key, rule] : section["properties"].items()) known.push_back(key);
        if (section.contains("required")) needed = section["required"].get<std::vector<std::string>>();
        for (std::vector<std::string>* list : {&keys, &known, &required, &needed})
            std::sort(list->begin(), list->end());
        CHECK(known == keys);
        CHECK(needed == required);
    }
    std::vector<std::string> known;
    for (const auto& [key, rule] : schema["properties"].items()) known.push_back(key);
    std::sort(known.begin(), known.end());
    std::sort(sections.begin(), sections.end());
    CHECK(known == sections);
}

TEST_CASE("sheet_json: what is written conforms to the schema, and each of its words is read") {
    const json schema = json::parse(docs_text("cut_sheet.schema.json"));
    schema_check check(schema);
    for (const std::string* text : {&kitchen_sheet, &home_sheet, &weight_only_sheet, &chef_sheet, &case_sheet})
        CHECK(check.faults_of(json::parse(sheet_json(read_sheet(*text)))).empty());
    for (std::uint64_t seed = 0; seed < 40; ++seed)
        CHECK(check.faults_of(json::parse(sheet_json(sheet_maker(seed).sheet()))).empty());
    // Each word of an enum, in its section of a sheet that takes it.
    const cut_sheet sheet = read_sheet(kitchen_sheet);
    for (const char* section : {"sheet", "cutting", "trim", "case"})
        for (const auto& [key, property] : schema["$defs"][section]["properties"].items()) {
            const json rule = resolved(schema, property);
            if (!rule.contains("enum")) continue;
            for (const json& word : rule["enum"]) {
                json j = kitchen();
                j[section][key] = word;
                INFO(section << '/' << key << ": " << word);
                CHECK(error_of(j.dump()) == "no error");
            }
        }
}

TEST_CASE("read_sheet: takes the keys that its page explains, and no others") {
    std::vector<std::pair<std::string, std::string>> explained;
    std::string heading;
    std::istringstream lines(docs_text("cut_sheet.md"));
    for (std::string line; std::getline(lines, line);) {
        if (!line.starts_with("| `") && !line.starts_with("|  |")) continue;
        const auto second = line.find('|', 1), third = line.find('|', second + 1);
        const auto quoted = [](const std::string& cell) {
            const auto at = cell.find('`'), end = cell.rfind('`');
            return at == std::string::npos ? std::string() : cell.substr(at + 1, end - at - 1);
        };
        if (const std::string section = quoted(line.substr(0, second)); !section.empty()) {
            heading = section.substr(1, section.size() - 2);
            for (const char* name : {" NAME", " N", " DESTINATION"})
                if (heading.ends_with(name)) heading.erase(heading.size() - std::string(name).size());
        }
        explained.emplace_back(heading, quoted(line.substr(second, third - second)));
    }
    std::size_t known = 0;
    for (const detail::section_kind& kind : detail::section_kinds())
        for (const detail::known_key& key : detail::keys_of(kind)) {
            INFO(kind.heading << ": " << key.key);
            CHECK(std::count(explained.begin(), explained.end(), std::pair(std::string(kind.heading), key.key)) == 1);
            ++known;
        }
    CHECK(explained.size() == known);
}

} // namespace sheet_json_test
