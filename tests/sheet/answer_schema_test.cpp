// That answers in JSON are what docs/answer.schema.json says, and that it says nothing that no answer has.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "full_sheet.hpp"
#include "json_schema.hpp"
#include "sheet_texts.hpp"
#include <tranche/sheet/answer_json.hpp>
#include <tranche/sheet/plan_sheet.hpp>
#include <tranche/sheet/read_sheet.hpp>
#include <tranche/sheet_study.hpp>

namespace answer_schema_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

schema_json answer_of(const cut_sheet& sheet, const sheet_planning& how = {}) {
    return schema_json::parse(answer_json(study_sheet(sheet, how)));
}

/// The covers of an evening: as they are, more than all loins give, and as many portions as there are.
std::vector<cut_sheet> sheets_with_orders() {
    std::vector<cut_sheet> sheets(3, read_sheet(covers_sheet));
    for (cut_sheet& sheet : sheets) sheet.grid = 8_mm; // quick
    sheets[1].orders[0].at_least = 200;
    sheets[1].orders[0].at_most.reset();
    sheets[2].plan_for = sheet_aim::most_portions;
    sheets[1].study = sheet_study{.loins = 50};
    sheets[1].offers.push_back({.name = "Saltmarsh", .bought = {20_kg, sheet_price::from_value(16.0)}, .yield = 0.75});
    return sheets;
}
cut_sheet sheet_with_study() {
    return read_sheet("[sheet]\ncurrency = USD\n[loin]\nweight = 12 lb\nprice = 8 USD/lb\n[cutting]\ngrid = "
                      "1/8 in\n[cut steak]\nthickness = 1 in\n[study]\nloins = 50\n");
}

} // namespace

TEST_CASE("answer_json: every answer is as the schema says, and all that the schema says is in one") {
    const schema_json schema = schema_json::parse(docs_text("answer.schema.json"));
    CHECK(schema["$schema"] == "https://json-schema.org/draft/2020-12/schema");
    schema_check check(schema);
    std::vector<cut_sheet> sheets{full_sheet(), weight_alone()};
    for (const std::string* text : {&kitchen_sheet, &home_sheet, &weight_only_sheet, &chef_sheet, &case_sheet})
        sheets.push_back(read_sheet(*text));
    sheets.push_back(weight_alone()); // side by side
    sheets.back().thicknesses = {0.75_in, 1_in};
    sheets.back().currency = iso_currency_named("USD");
    sheets.back().loins[0].price = per_pound(8.1);
    sheets.back().cuts[0].price = per_pound(16.0);
    sheets.back().alternatives = {{.ready = {.name = "ready-cut", .price = per_pound(15.0)}}};
    sheets.back().retail.emplace();
    sheets.push_back(weight_alone()); // nothing of this can be cut
    sheets.back().cuts[0].spec.portion = {9_kg, 9_kg};
    sheets.push_back(full_sheet()); // a menu price, and a supplier
    sheets.back().loins[0].supplier = "Gull Wharf";
    sheets.back().loins[0].on_arrival = temperature{2.0};
    sheets.back().cuts[0].price_each = cash(40.0);
    const std::vector<cut_sheet> orders = sheets_with_orders(); // the first is below
    sheets.insert(sheets.end(), orders.begin() + 1, orders.end());
    sheets.push_back(sheet_with_study());
    for (cut_sheet& sheet : sheets) {
        sheet.grid = 8_mm; // quick
        const std::vector<std::string> faults = check.faults_of(answer_of(sheet));
        CAPTURE(sheet.title, faults);
        CHECK(faults.empty());
    }
    const auto has_been = [&](const std::string& place) {
        return std::find(check.seen().begin(), check.seen().end(), place) != check.seen().end();
    };
    for (const auto& [key, rule] : schema["properties"].items()) {
        CAPTURE(key);
        CHECK(has_been('/' + key));
    }
    for (const auto& [name, part] : schema["$defs"].items()) {
        if (!part.contains("properties") || name == "by_destination") continue;
        for (const auto& [key, rule] : part["properties"].items()) {
            CAPTURE(name, key);
            CHECK(has_been(name + '/' + key));
        }
    }
}

TEST_CASE("answer_json: what is not as the schema says is seen") {
    const schema_json schema = schema_json::parse(docs_text("answer.schema.json"));
    schema_check check(schema);
    const schema_json answer = answer_of(full_sheet());
    REQUIRE(check.faults_of(answer).empty());
    const auto faults_with = [&](const char* pointer, const schema_json& value) {
        schema_json changed = answer;
        changed[schema_json::json_pointer(pointer)] = value;
        return check.faults_of(changed);
    };
    CHECK(faults_with("/format", "tranche answer 2") == std::vector<std::string>{"/format: not \"tranche answer 1\""});
    CHECK(faults_with("/labels/0/tare_g", "8 g").size() == 1);
    CHECK(faults_with("/labels/0/total_price", "12.3.4").size() == 1);
    CHECK(faults_with("/all/portions", -1).size() == 1);
    CHECK(faults_with("/loins/0/slabs/0/kind", "steak").size() == 1);
    CHECK(faults_with("/loins", schema_json::array()).size() == 1);
    CHECK(faults_with("/more", true) == std::vector<std::string>{"/more: unknown"});
    schema_json without = answer;
    without["all"].erase("yield");
    CHECK(check.faults_of(without) == std::vector<std::string>{"/all/yield: missing"});
}

TEST_CASE("answer_json: orders and studies are in an answer as the schema says") {
    const schema_json schema = schema_json::parse(docs_text("answer.schema.json"));
    schema_check check(schema);
    const schema_json studied = answer_of(sheet_with_study());
    REQUIRE(studied["loins"][0].contains("chances"));
    CHECK(check.faults_of(studied).empty());
    schema_json changed = studied;
    changed["loins"][0]["chances"].erase("sure");
    CHECK(check.faults_of(changed) == std::vector<std::string>{"/loins/item/chances/sure: missing"});

    const schema_json ordered = answer_of(sheets_with_orders()[0], {.what_ifs = false});
    REQUIRE(ordered.contains("order"));
    CHECK(check.faults_of(ordered).empty());
    const schema_json& loins = ordered["loins"];
    const auto whole = std::find_if(loins.begin(), loins.end(), [](const schema_json& l) { return !l["opened"]; });
    REQUIRE(whole != loins.end());
    CHECK(!whole->contains("slabs")); // it needs none
    for (const bool opened : {true, false}) {
        changed = ordered;
        for (schema_json& loin : changed["loins"])
            if (loin["opened"] == opened) loin.erase("opened");
        // Without the word every loin must have all that a loin has that is cut.
        CHECK(check.faults_of(changed).empty() == opened);
    }
    changed = ordered;
    changed["order"]["loins"][0].erase("whole_g"); // opened ones stand first
    CHECK(check.faults_of(changed) == std::vector<std::string>{"/order/loins/item/whole_g: missing"});
    changed = ordered;
    changed["order"]["loins"][0]["portions"]["strip steak"] = "two";
    CHECK(check.faults_of(changed) ==
          std::vector<std::string>{"/order/loins/item/portions/other: a wrong type, string"});
}

TEST_CASE("answer_json: how far a plan is from the best is left out where it is not known") {
    const schema_json schema = schema_json::parse(docs_text("answer.schema.json"));
    schema_check check(schema);
    std::size_t asked = 0; // stops soon, yet not before there is a plan
    const sheet_planning hasty{.search = {.stop = [&asked] { return ++asked > 3; }}, .what_ifs = false};
    const schema_json order_of = answer_of(sheets_with_orders()[2], hasty);
    CHECK(check.faults_of(order_of).empty());
    CHECK(order_of["order"]["ended"] == "stopped");
    CHECK(!order_of["order"].contains("relative_gap"));
    CHECK(!order_of["order"].contains("bound"));
}

} // namespace answer_schema_test
