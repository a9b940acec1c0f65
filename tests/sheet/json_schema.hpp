// Whether JSON is what a schema says, as far as ours go (JSON Schema, draft 2020-12): $ref, const, enum, type, pattern, minimum,
// properties, required, additionalProperties, items, minItems; if, then and else where they tell of constants and what is required.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

namespace tranche_test {

using schema_json = nlohmann::ordered_json;

/// The text of a page of docs/.
inline std::string docs_text(const char* name) {
    std::ifstream in(std::filesystem::path(TRANCHE_DOCS_DIR) / name);
    if (!in) throw std::runtime_error(std::string("no docs/") + name);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// What a part of a schema is, with what it refers to.
inline schema_json resolved(const schema_json& schema, const schema_json& part) {
    schema_json whole = part;
    while (whole.contains("$ref")) {
        const std::string name = whole["$ref"].get<std::string>().substr(std::string_view("#/$defs/").size());
        if (!schema["$defs"].contains(name)) throw std::runtime_error("no $defs/" + name);
        whole.erase("$ref");
        whole.update(schema["$defs"][name]);
    }
    return whole;
}

class schema_check {
public:
    explicit schema_check(const schema_json& schema) : schema_(schema) {}

    /// What of a value is not as the schema says, each with its place.
    [[nodiscard]] std::vector<std::string> faults_of(const schema_json& value) {
        faults_.clear();
        check(schema_, value, "");
        return faults_;
    }
    /// The places of the schema that values so far had something for: "label/tare_g".
    [[nodiscard]] const std::vector<std::string>& seen() const { return seen_; }

private:
    void fault(const std::string& where, const std::string& what) { faults_.push_back(where + ": " + what); }
    [[nodiscard]] static std::string type_of(const schema_json& value) {
        return value.is_object()           ? "object"
               : value.is_array()          ? "array"
               : value.is_string()         ? "string"
               : value.is_boolean()        ? "boolean"
               : value.is_number_integer() ? "integer"
               : value.is_number()         ? "number"
                                           : "null";
    }
    void check(const schema_json& part, const schema_json& value, const std::string& where) {
        const schema_json rule = resolved(schema_, part);
        if (rule.contains("const")) {
            if (value != rule["const"]) fault(where, "not " + rule["const"].dump());
            return;
        }
        if (rule.contains("enum")) {
            if (std::count(rule["enum"].begin(), rule["enum"].end(), value) != 1) fault(where, "not one of the enum");
            return;
        }
        std::vector<std::string> types;
        if (rule["type"].is_string()) types = {rule["type"].get<std::string>()};
        if (rule["type"].is_array()) types = rule["type"].get<std::vector<std::string>>();
        const auto takes = [&](const std::string& type) {
            return std::count(types.begin(), types.end(), type) > 0 ||
                   (type == "integer" && types == std::vector<std::string>{"number"});
        };
        if (!takes(type_of(value))) return fault(where, "a wrong type, " + type_of(value));
        if (rule.contains("pattern") &&
            !std::regex_search(value.get<std::string>(), std::regex(rule["pattern"].get<std::string>())))
            fault(where, "not of the pattern");
        if (rule.contains("minimum") && value.get<double>() < rule["minimum"].get<double>()) fault(where, "too small");
        if (value.is_array()) {
            if (value.size() < rule.value("minItems", std::size_t{0})) fault(where, "too few items");
            for (const schema_json& item : value) check(rule["items"], item, where + "/item");
        }
        if (!value.is_object()) return;
        const schema_json others = rule.value("additionalProperties", schema_json(true));
        if (others == schema_json(true)) fault(where, "a schema that takes anything");
        const std::string name = part.value("$ref", std::string());
        for (const auto& [key, inner] : value.items()) {
            if (!rule.contains("properties") || !rule["properties"].contains(key)) {
                if (others.is_object())
                    check(others, inner, where + "/other");
                else
                    fault(where + '/' + key, "unknown");
                continue;
            }
            seen_.push_back(name.substr(name.rfind('/') + 1) + '/' + key);
            check(rule["properties"][key], inner, where + '/' + key);
        }
        require(rule, value, where);
        if (!rule.contains("if")) return;
        const char* const branch = is_so(rule["if"], value) ? "then" : "else";
        if (rule.contains(branch)) require(rule[branch], value, where);
    }
    void require(const schema_json& rule, const schema_json& value, const std::string& where) {
        for (const schema_json& required : rule.value("required", schema_json::array()))
            if (!value.contains(required.get<std::string>()))
                fault(where + '/' + required.get<std::string>(), "missing");
    }
    /// Whether all that is required is there, and each constant that is there is the one asked for.
    [[nodiscard]] static bool is_so(const schema_json& condition, const schema_json& value) {
        for (const schema_json& required : condition.value("required", schema_json::array()))
            if (!value.contains(required.get<std::string>())) return false;
        const schema_json properties = condition.value("properties", schema_json::object());
        for (const auto& [key, rule] : properties.items())
            if (value.contains(key) && value[key] != rule["const"]) return false;
        return true;
    }

    const schema_json& schema_;
    std::vector<std::string> faults_{}, seen_{};
};

} // namespace tranche_test
