// That every key of a sheet does something: with another value the answer is another one.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include <tranche/sheet/answer_json.hpp>
#include <tranche/sheet/detail/document/section_kinds.hpp>
#include <tranche/sheet/read_sheet.hpp>
#include <tranche/sheet_study.hpp>

namespace every_key_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Invented. Most keys are set, so that others have something to work on.
const std::string whole_sheet = R"([sheet]
title = Everything (invented)
currency = USD
units = us
[loin]
weight = 12 lb 8 oz
weight on the board = 12 lb
price = 8 USD/lb
length = 16 in
silverskin = 1 mm
gluteus medius from = 12 in
gluteus medius share = 30 %
[station 1]
at = 0 in
width = 8 in
depth = 3 in
fat cover = 1/2 in
tail = 2 in
[station 2]
at = 15 in
width = 8 1/4 in
depth = 2 7/8 in
fat cover = 3/8 in
tail = 1 1/2 in
[cutting]
plan for = best value
grid = 1/8 in
facing = 1/4 in
[trim]
[trim whole]
fat cover = 1/2 in
[cut steak]
thickness = 1 in to 1 1/2 in
portion = 10 oz to 16 oz
fat cover = 1/4 in
tail = 1 in
price = 16 USD/lb
[cut fillet]
thickness = 1 1/2 in to 2 in
pieces = 2
fat cover = 0 in
tail = 0 in
silverskin = off
gluteus medius = none
price = 22 USD/lb
number = 2 to 6
[loose strips]
least thickness = 2 in
[loose grind]
[worth]
strips = 7 USD/lb
dice = 6 USD/lb
grind = 5 USD/lb
rendering = 0.10 USD/lb
discard = -0.05 USD/lb
[labour]
[edible]
[costs]
time = 30 min
wage = 20 USD/h
freezing = 0.10 USD/lb
[compare plain]
price = 17 USD/lb
replaces = steak
[compare by looks]
price = 15 USD/lb
fat cover = 1/2 in
tail = 2 in
[offer Gull Wharf]
price = 9.90 USD/lb
weight = 10 lb
yield = 80 %
[grind]
fat = 20 %
lean fat = 8 %
lean price = 6 USD/lb
[menu]
food cost = 30 %
[case]
)";

std::size_t end_of_section(const std::string& text, std::size_t begin) {
    const auto next = text.find("\n[", begin);
    return next == std::string::npos ? text.size() : next + 1;
}

/// The text with a key of a section set, in place of what it was if it stood there.
std::string with(const std::string& text, const std::string& section, const std::string& key,
                 const std::string& value) {
    const std::string heading = '[' + section + "]\n", line = key + " = ";
    const auto begin = text.find(heading);
    if (begin == std::string::npos) return text + heading + line + value + '\n';
    const auto from = begin + heading.size(), end = end_of_section(text, from - 1);
    std::string keys = text.substr(from, end - from);
    if (const auto at = ('\n' + keys).find('\n' + line); at != std::string::npos)
        keys.erase(at, keys.find('\n', at) + 1 - at);
    return text.substr(0, from) + line + value + '\n' + keys + text.substr(end);
}
std::string without(std::string text, const std::string& section) {
    const auto begin = text.find('[' + section + "]\n");
    REQUIRE(begin != std::string::npos);
    return text.erase(begin, end_of_section(text, begin) - begin);
}
std::string in_currency(std::string text, const std::string& code) {
    for (std::size_t at = 0; (at = text.find("USD", at)) != std::string::npos; at += 3) text.replace(at, 3, code);
    return text;
}

/// A sheet that the aim `words` plans, without what only other aims take.
std::string aimed(const std::string& words) { return with(whole_sheet, "cutting", "plan for", words); }
std::string weight_alone() {
    return "[sheet]\ncurrency = USD\n[loin]\nweight = 12 lb\n[cutting]\ngrid = 1/8 in\n[cut steak]\nthickness = 1 in\n";
}

/// Loins of which some are ordered, and one whose chances are asked for.
std::string ordered(const std::string& number) {
    return "[sheet]\ncurrency = USD\n[loin]\nweight = 12 lb\nprice = 8 USD/lb\n[cutting]\ngrid = 1/8 in\n[cut steak]\n"
           "thickness = 1 in to 1 1/2 in\nprice each = 15 USD\n[order steak]\nnumber = " +
           number + '\n';
}
std::string studied() {
    return "[sheet]\ncurrency = USD\n[loin]\nweight = 12 lb\nprice = 8 USD/lb\n[cutting]\ngrid = 1/8 in\n[cut steak]\n"
           "thickness = 1 in to 1 1/4 in\nportion = 8 oz to 16 oz\nfat cover = 1/4 in\ntail = 1 in\n[study]\nloins = "
           "50\n";
}

/// What it says again of what its sheet says of a study is left out: a study is to come to something else.
std::string answer_to(const std::string& text) {
    auto answer = nlohmann::ordered_json::parse(answer_json(study_sheet(read_sheet(text), {.what_ifs = false})));
    for (auto& loin : answer["loins"])
        if (loin.contains("chances"))
            for (const char* said : {"sure", "loins", "planned_once"}) loin["chances"].erase(said);
    return answer.dump(2);
}

struct change {
    std::string section, key, value;
    std::string before = whole_sheet;
};

std::vector<change> changes() {
    const std::string even =
        with(without(without(aimed("even portions"), "cut fillet"), "case"), "cut steak", "gluteus medius", "any");
    const std::string charged =
        with(with(aimed("least giveaway"), "cut fillet", "charged as", "8 oz"), "cut steak", "charged as", "10 oz");
    const std::string short_of_the_end = with(whole_sheet, "cut steak", "zone", "0 in to 15 in");
    const std::string up_to_the_face = with(with(with(weight_alone(), "cut steak", "gluteus medius", "any"),
                                                 "cut steak", "thickness", "3/4 in to 1 1/4 in"),
                                            "cutting", "plan for", "least waste");
    const std::string gap =
        without(with(with(whole_sheet, "cut steak", "zone", "0 in to 5 in"), "cut fillet", "zone", "7 in to 12 in"),
                "loose strips");
    const std::string half_loose =
        without(with(with(whole_sheet, "cut steak", "zone", "2 in to 9 in"), "cut fillet", "zone", "2 in to 9 in"),
                "loose strips");
    const std::string sold_each = without(whole_sheet, "case");
    return {
        {"sheet", "title", "Something else"},
        {"sheet", "units", "metric"},
        {"sheet", "date", "2026-03-14"},
        {"sheet", "cutter", "Robin"},
        {"loin", "weight", "13 lb"},
        {"loin", "weight on the board", "11 lb"},
        {"loin", "price", "9 USD/lb"},
        {"loin", "length", "16 1/2 in"},
        {"loin", "silverskin", "3 mm"},
        {"loin", "fill", "70 %"},
        {"loin", "gluteus medius from", "9 in"},
        {"loin", "gluteus medius share", "50 %"},
        {"loin", "kind", "boneless pork loin", weight_alone()},
        {"loin", "lot", "4711"},
        {"loin", "supplier", "Gull Wharf"},
        {"loin", "temperature on arrival", "50 °F"},
        {"station 2", "at", "12 in"},
        {"station 2", "width", "9 in"},
        {"station 2", "depth", "2 3/4 in"},
        {"station 2", "fat cover", "1/8 in"},
        {"station 2", "tail", "1/2 in"},
        {"cutting", "plan for", "most portions"},
        {"cutting", "portions", "8", even},
        {"cutting", "even within", "5 oz", with(even, "cutting", "even within", "1/8 oz")},
        {"cutting", "thicknesses", "3/4 in, 1 in", weight_alone()},
        {"cutting", "facing", "1/2 in"},
        {"cutting", "facing goes to", "discard"},
        {"cutting", "grid", "1/4 in"},
        {"cutting", "least remnant", "6 in", short_of_the_end},
        {"cutting", "least remnant weight", "6 lb", short_of_the_end},
        {"cutting", "remnant required", "yes", up_to_the_face},
        {"cutting", "cut at", "3 in, 9 7/8 in"},
        {"cutting", "kept whole", "4 in to 8 in"},
        {"cutting", "order", "fillet, steak"},
        {"trim", "fat cover", "discard"},
        {"trim", "tail", "discard"},
        {"trim", "silverskin", "grind"},
        {"trim", "lean", "discard", with(whole_sheet, "cut fillet", "over-cut", "2 mm")},
        {"trim whole", "fat cover", "1/8 in"},
        {"trim whole", "tail", "1/2 in"},
        {"trim whole", "silverskin", "off"},
        {"trim whole", "over-cut", "1 mm", with(whole_sheet, "trim whole", "fat cover", "0 in")},
        {"cut steak", "thickness", "1 1/4 in to 1 1/2 in"},
        {"cut steak", "portion", "10 oz to 12 oz"},
        {"cut steak", "pieces", "2"},
        {"cut steak", "fat cover", "0 in"},
        {"cut steak", "tail", "0 in"},
        {"cut steak", "silverskin", "off"},
        {"cut steak", "over-cut", "1 mm"},
        {"cut steak", "gluteus medius", "any"},
        {"cut steak", "kerf", "1 mm"},
        {"cut steak", "zone", "0 in to 6 in"},
        {"cut steak", "thickness step", "1/2 in"},
        {"cut steak", "one thickness", "yes"},
        {"cut steak", "number", "exactly 3"},
        {"cut steak", "charged as", "13 oz", charged},
        {"cut steak", "price", "25 USD/lb"},
        {"cut steak", "price each", "30 USD", sold_each},
        {"loose grind", "fat cover", "0 in", half_loose},
        {"loose grind", "tail", "0 in", half_loose},
        {"loose grind", "silverskin", "off", half_loose},
        {"loose grind", "over-cut", "1 mm", with(half_loose, "loose grind", "fat cover", "0 in")},
        {"loose grind", "least thickness", "3 in", gap},
        {"loose grind", "place", "nowhere", half_loose},
        {"loose grind", "zone", "9 in to 16 in", half_loose},
        {"order steak", "number", "8", ordered("9")},
        {"order steak", "unfilled costs", "3 USD", ordered("40")},
        {"order steak", "left over is worth", "14 USD", ordered("9")},
        {"order steak", "left over is worth", "14 USD", ordered("at least 4")},
        {"worth", "strips", "70 USD/lb"},
        {"worth", "dice", "4 USD/lb", with(whole_sheet, "cutting", "facing goes to", "dice")},
        {"worth", "grind", "3 USD/lb"},
        {"worth", "rendering", "0.50 USD/lb"},
        {"worth", "discard", "-2 USD/lb"},
        {"labour", "slab", "20 USD"},
        {"labour", "portion", "20 USD"},
        {"labour", "trimmed portion", "20 USD"},
        {"edible", "gluteus medius", "50 %"},
        {"edible", "fat cover", "50 %"},
        {"edible", "tail", "0 %"},
        {"edible", "silverskin", "100 %"},
        {"costs", "time", "60 min"},
        {"costs", "wage", "40 USD/h"},
        {"costs", "packaging each", "1 USD"},
        {"costs", "freezing", "0.50 USD/lb"},
        {"costs", "frozen", "50 %"},
        {"costs", "knife wear", "3 USD"},
        {"compare plain", "price", "16 USD/lb"},
        {"compare plain", "replaces", "fillet"},
        {"compare plain", "edible share", "90 %"},
        {"compare by looks", "fat cover", "0 in"},
        {"compare by looks", "tail", "0 in"},
        {"compare by looks", "silverskin", "off"},
        {"compare by looks", "over-cut", "2 mm", with(whole_sheet, "compare by looks", "fat cover", "0 in")},
        {"compare by looks", "gluteus medius", "30 %", with(whole_sheet, "edible", "gluteus medius", "50 %")},
        {"offer Gull Wharf", "price", "8.90 USD/lb"},
        {"offer Gull Wharf", "weight", "11 lb"},
        {"offer Gull Wharf", "yield", "85 %"},
        {"offer Gull Wharf", "edible share", "90 %"},
        {"offer Gull Wharf", "rest is worth", "2 USD/lb"},
        {"offer Gull Wharf", "time", "20 min"},
        {"grind", "fat", "25 %"},
        {"grind", "lean fat", "5 %"},
        {"grind", "lean price", "5 USD/lb"},
        {"menu", "food cost", "40 %"},
        {"menu", "rest of the plate", "3 USD"},
        {"case", "margin", "30 %"},
        {"case", "shrink", "10 %"},
        {"case", "share cost by", "sales value"},
        {"case", "tare", "0.02 lb"},
        {"case", "packed on", "2026-03-14"},
        {"case", "sell by", "2026-03-21"},
        {"study", "loins", "60", studied()},
        {"study", "sure", "60 %", studied()},
        {"study", "knife", "3 mm", studied()},
        {"study", "follow", "marks", studied()},
        {"study", "plan", "once", studied()},
        {"study", "vary", "stated", studied()},
        {"study", "weight spread", "3 %", studied()},
        {"study", "length spread", "10 %", studied()},
        {"study", "depth spread", "20 %", studied()},
        {"study", "fat cover spread", "50 %", studied()},
        {"study", "tail spread", "50 %", studied()},
        {"study", "price spread", "10 %", studied()},
        {"study", "worth spread", "50 %", studied() + "[worth]\ngrind = 3 USD/lb\n"},
        {"study", "fat left spread", "1/8 in", studied()},
    };
}

/// The kind of a section: "station" of "station 2".
std::string kind_of(const std::string& section) {
    std::string longest;
    for (const detail::section_kind& kind : detail::section_kinds()) {
        const std::string heading(kind.heading);
        if ((section == heading || section.starts_with(heading + ' ')) && heading.size() > longest.size())
            longest = heading;
    }
    return longest;
}

} // namespace

TEST_CASE("every key of a sheet changes its answer") {
    std::map<std::string, std::string> answers; // to sheets before a change
    for (const change& c : changes()) {
        CAPTURE(c.section, c.key, c.value);
        std::string& before = answers[c.before];
        if (before.empty()) before = answer_to(c.before);
        std::string after = before;
        CHECK_NOTHROW(after = answer_to(with(c.before, c.section, c.key, c.value)));
        const bool changed = after != before;
        CHECK(changed);
    }
    const bool changed = answer_to(in_currency(whole_sheet, "JPY")) != answers[whole_sheet]; // and all prices with it
    CHECK(changed);
}

TEST_CASE("every key that there is stands among those that change an answer") {
    std::set<std::pair<std::string, std::string>> there{{"sheet", "currency"}}, changed{{"sheet", "currency"}};
    for (const detail::section_kind& kind : detail::section_kinds())
        for (const detail::known_key& key : detail::keys_of(kind)) there.emplace(kind.heading, key.key);
    for (const change& c : changes()) changed.emplace(kind_of(c.section), c.key);
    CHECK(there == changed);
}

// These are on a sheet to stand in its answer: title, date, cutter, lot, supplier and temperature on arrival (with a warning if it was
// too warm), and the days on the labels.
TEST_CASE("what a sheet says for the record changes no figure of its answer") {
    const auto figures = [](const std::string& text) {
        const auto j = nlohmann::json::parse(answer_to(text));
        return std::pair(j["all"], j["loins"][0]["slabs"]);
    };
    const auto before = figures(whole_sheet);
    std::string all = whole_sheet;
    for (const change& c : changes())
        for (const auto& [section, key] :
             std::vector<std::pair<std::string, std::string>>{{"sheet", "title"},
                                                              {"sheet", "date"},
                                                              {"sheet", "cutter"},
                                                              {"loin", "lot"},
                                                              {"loin", "supplier"},
                                                              {"loin", "temperature on arrival"},
                                                              {"case", "packed on"},
                                                              {"case", "sell by"}})
            if (c.section == section && c.key == key) all = with(all, section, key, c.value);
    const bool same = figures(all) == before;
    CHECK(same);
    CHECK_THAT(answer_to(all), ContainsSubstring("arrived warmer than 40 °F"));
}

} // namespace every_key_laws
