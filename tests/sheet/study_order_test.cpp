// The chance that a sheet's order is filled: certain where all is known, less so the less steady the knife is, and in every answer.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <string>
#include <utility>

#include <nlohmann/json.hpp>

#include <tranche/sheet/answer_json.hpp>
#include <tranche/sheet_study.hpp>

namespace study_order_test {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Invented: a loin that was measured, and steaks that weigh what their thickness makes them.
const std::string taped = "[sheet]\ncurrency = USD\n[loin]\nweight = 5 kg\nprice = 10 USD/kg\nlength = 400 mm\n"
                          "[station 1]\nat = 0 mm\nwidth = 200 mm\ndepth = 80 mm\nfat cover = 8 mm\n"
                          "[station 2]\nat = 400 mm\nwidth = 200 mm\ndepth = 75 mm\nfat cover = 8 mm\n"
                          "[cutting]\ngrid = 8 mm\n[cut steak]\nthickness = 24 mm to 40 mm\nportion = 300 g to 420 g\n"
                          "price each = 15 USD\n[order steak]\nnumber = 8\n";

order_chances chances(const std::string& keys) {
    const sheet_answer answer = study_sheet(read_sheet(taped + "[study]\n" + keys), {.what_ifs = false});
    REQUIRE((answer.order && answer.order->account.filled() && answer.order->chances));
    return *answer.order->chances;
}

} // namespace

TEST_CASE("study_sheet: an order out of a loin that is known, cut by a sure hand, is filled every time") {
    const order_chances sure = chances("loins = 60\nknife = 0 mm\n");
    CHECK(sure == order_chances{.evenings = 60, .filled = 1.0, .missing = 0.0});
}

TEST_CASE("study_sheet: the less steady the knife and the less known the loin, the less often is an order filled") {
    const order_chances steady = chances("loins = 50\nknife = 1 mm\n"), shaky = chances("loins = 50\nknife = 6 mm\n");
    CHECK(steady.filled >= shaky.filled);
    CHECK((shaky.filled < 0.5 && shaky.missing > 0.5));
    // A loin that is a fifth longer weighs a sixth less to the millimetre: it is as if its scale were not sure.
    CHECK(chances("loins = 50\nknife = 0 mm\nlength spread = 20 %\n").filled < 1.0);
    CHECK(chances("loins = 50\nknife = 6 mm\nfollow = marks\n").missing > shaky.missing);
}

TEST_CASE("study_sheet: text, page and JSON say how often the order is filled, and without a study nothing does") {
    const cut_sheet sheet = read_sheet(taped + "[study]\nloins = 60\nknife = 3 mm\n");
    const sheet_answer answer = study_sheet(sheet, {.what_ifs = false});
    REQUIRE(answer.order->chances);
    const std::string share = percent_text(answer.order->chances->filled, 0);
    for (const std::string& report : {answer_text(answer), answer_page(answer)})
        CHECK_THAT(report, ContainsSubstring("the order is filled " + share + " of the time"));
    const auto j = nlohmann::json::parse(answer_json(answer));
    CHECK(j["order"]["chances"]["evenings"] == 60);
    CHECK(j["order"]["chances"]["filled"] == answer.order->chances->filled);
    CHECK_FALSE(plan_sheet(sheet, {.what_ifs = false}).order->chances);
}

TEST_CASE("study_sheet: a loin that stays whole has no chances, and the others and the order have theirs") {
    std::string two = taped + "[study]\nloins = 50\n";
    for (const auto& [from, to] :
         {std::pair("[loin]", "[loin A]"), {"[station 1]", "[station A 1]"}, {"[station 2]", "[station A 2]"}})
        two.replace(two.find(from), std::string(from).size(), to);
    two.insert(two.find("[cutting]"), "[loin B]\nweight = 4 kg\nprice = 30 USD/kg\n");
    const sheet_answer answer = study_sheet(read_sheet(two), {.what_ifs = false});
    REQUIRE((answer.loins[0].opened && !answer.loins[1].opened));
    CHECK((answer.loins[0].chances && !answer.loins[1].chances && answer.order->chances));
    CHECK_THAT(answer_text(answer), ContainsSubstring("the order is filled"));
}

TEST_CASE("study_sheet: an order of nothing has no chances") {
    std::string none = taped + "[study]\nloins = 50\n";
    none.replace(none.find("number = 8"), 10, "number = at most 0");
    const sheet_answer answer = study_sheet(read_sheet(none), {.what_ifs = false});
    REQUIRE(answer.order);
    CHECK_FALSE(answer.order->chances);
    CHECK_THAT(answer_text(answer), ContainsSubstring("The order opens no loin"));
}

TEST_CASE("study_sheet: a study that is stopped in the order says so in text, page and JSON") {
    const cut_sheet sheet = read_sheet(taped + "[study]\nloins = 1000\nknife = 3 mm\n");
    const auto stopped_after = [&](int questions) {
        sheet_planning how{.what_ifs = false};
        int asked = 0;
        how.search.stop = [&asked, questions] { return ++asked > questions; };
        return study_sheet(sheet, how);
    };
    const auto said = [](const sheet_answer& answer, const std::string& words) {
        for (const std::string& text : {answer_text(answer), answer_page(answer), answer_json(answer)}) {
            std::string on_one_line;
            for (const char c : text)
                if (c != '\n' || on_one_line.empty() || on_one_line.back() != ' ') on_one_line += c == '\n' ? ' ' : c;
            for (auto at = on_one_line.find("  "); at != std::string::npos; at = on_one_line.find("  "))
                on_one_line.erase(at, 1);
            CHECK_THAT(on_one_line, ContainsSubstring(words));
        }
    };
    const sheet_answer full = study_sheet(sheet, {.what_ifs = false});
    CHECK_THAT(answer_text(full), !ContainsSubstring("was stopped"));
    bool partly = false, not_at_all = false;
    for (int questions = 1; questions < 100'000 && !(partly && not_at_all); questions *= 2) {
        const sheet_answer answer = stopped_after(questions);
        REQUIRE(answer.order);
        if (answer.order->plan.opened.empty()) continue;
        const std::uint64_t evenings = answer.order->chances ? answer.order->chances->evenings : 0;
        CAPTURE(questions, evenings);
        if (evenings == 1000) break; // stopped later, or never
        if (evenings == 0)
            said(answer, "how often that is filled is not known");
        else
            said(answer, "how often the order is filled is known of " + std::to_string(evenings) + " of 1000 evenings");
        (evenings == 0 ? not_at_all : partly) = true;
    }
    CHECK((partly || not_at_all));
}

} // namespace study_order_test
