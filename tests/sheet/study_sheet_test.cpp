// A sheet with a study: the same plan and bill, and chances beside them; in text, and in the sheet's own keys.
// SPDX-License-Identifier: BSL-1.0
#include <string>

#include <tranche/sheet_study.hpp>
#include <tranche/units/literals.hpp>

#include "report/csv_reading.hpp"
#include "support/catch.hpp"

namespace study_sheet_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Invented.
const std::string guess = "[sheet]\ncurrency = USD\nunits = metric\n"
                          "[loin]\nweight = 5.4 kg\nweight on the board = 5.35 kg\nprice = 17.90 USD/kg\n"
                          "[cutting]\nplan for = most portions\nfacing = 8 mm\ngrid = 1 mm\n"
                          "[cut steak]\nthickness = 25 mm to 35 mm\nportion = 280 g to 360 g\nfat cover = 5 mm\n"
                          "tail = 25 mm\n[worth]\ngrind = 9 USD/kg\n";
const std::string measured = "[sheet]\nunits = metric\n[loin]\nweight = 5.2 kg\nlength = 40 cm\n"
                             "[station 1]\nat = 0 mm\nwidth = 220 mm\ndepth = 82 mm\nfat cover = 10 mm\ntail = 50 mm\n"
                             "[station 2]\nat = 400 mm\nwidth = 215 mm\ndepth = 76 mm\nfat cover = 8 mm\ntail = 40 mm\n"
                             "[cutting]\nplan for = most portions\ngrid = 1 mm\n"
                             "[cut steak]\nthickness = 25 mm to 35 mm\nportion = 280 g to 360 g\n";

} // namespace

TEST_CASE("a guess has chances by the spreads of its kind, and the plan is what it was") {
    const cut_sheet sheet = read_sheet(guess + "[study]\nloins = 200\n");
    const sheet_answer answer = study_sheet(sheet), plain = plan_sheet(read_sheet(guess));
    REQUIRE(answer.loins.size() == 1);
    REQUIRE(answer.loins[0].chances);
    const loin_chances& c = *answer.loins[0].chances;
    CHECK(answer.loins[0].planned == plain.loins[0].planned);
    CHECK(answer.loins[0].settled == plain.loins[0].settled);
    CHECK(answer.remarks == plain.remarks);
    CHECK(!plain.loins[0].chances);
    CHECK(c.loins == 200);
    CHECK(c.impossible < 20);
    CHECK(c.fewest < c.most); // loins of one weight differ in length
    const std::size_t planned = answer.loins[0].planned.plan.portion_count();
    CHECK(c.fewest <= planned);
    CHECK(planned <= c.most);
    CHECK(c.fewest_within <= c.fewest);
    CHECK(c.lightest < c.heaviest);
    CHECK(c.least_yield < c.most_yield);
    REQUIRE(c.least);
    CHECK(*c.least < *c.dearest);
    CHECK(study_sheet(sheet) == answer); // the same loins every time
    const std::string text = answer_text(answer);
    CHECK_THAT(text, ContainsSubstring("9 times out of 10: " + std::to_string(c.fewest) + " to "));
    CHECK_THAT(answer_text(plain), !ContainsSubstring("times out of 10"));
    CHECK_THAT(answer_page(answer), ContainsSubstring("9 times out of 10"));
}

TEST_CASE("a loin that was measured has chances by what the sheet says alone") {
    const sheet_answer knife =
        study_sheet(read_sheet(measured + "[study]\nloins = 100\nplan = once\nfollow = marks\n"));
    REQUIRE(knife.loins[0].chances);
    const loin_chances& c = *knife.loins[0].chances;
    CHECK(c.planned_once);
    CHECK(c.fewest == knife.loins[0].planned.plan.portion_count());
    CHECK(c.most == c.fewest);
    CHECK(c.within < 1.0);
    CHECK(!c.least);
    CHECK_THAT(answer_text(knife), ContainsSubstring("cut by this plan"));
    const sheet_answer steady = study_sheet(read_sheet(measured + "[study]\nloins = 50\nknife = 0 mm\n"));
    CHECK(steady.loins[0].chances->within == 1.0);
    const sheet_answer tape =
        study_sheet(read_sheet(measured + "[study]\nloins = 100\nknife = 0 mm\nlength spread = 6 %\nsure = 80 %\n"));
    CHECK(tape.loins[0].chances->fewest < tape.loins[0].chances->most);
    bool said = false; // the text breaks its lines anywhere
    const auto sections = answer_sections(tape);
    for (const std::string& words : sections.front().paragraphs)
        said = said || words.find("80 % of the time: ") != std::string::npos;
    CHECK(said);
}

TEST_CASE("without its study run the answer says so") {
    const sheet_answer answer = plan_sheet(read_sheet(measured + "[study]\n"));
    REQUIRE(!answer.remarks.empty());
    CHECK_THAT(answer_text(answer), ContainsSubstring("study_sheet runs it"));
}

TEST_CASE("prices, worth and the fat that stays vary where the sheet says so, and a guess by that alone if it wants") {
    // Nothing varies but the price: the same portions of every loin, and limits of their cost as far apart as those of the price.
    const std::string fixed = "[study]\nloins = 400\nvary = stated\nknife = 0 mm\nplan = once\n";
    const auto chances = [&](const std::string& keys) {
        const sheet_answer answer = study_sheet(read_sheet(guess + fixed + keys));
        REQUIRE(answer.loins[0].chances);
        return *answer.loins[0].chances;
    };
    const loin_chances still = chances("");
    CHECK(still.fewest == still.most);
    CHECK(still.lightest <= still.heaviest);
    CHECK(still.least == still.dearest);
    const loin_chances price = chances("price spread = 10 %\n");
    CHECK(price.fewest == still.fewest);
    CHECK(price.lightest == still.lightest);
    // The cost of a portion is (price × weight - what the rest brings) / portions, so it moves by the price alone: of a lognormal factor
    // of 10 % the 5th and 95th percentile are 0.845 and 1.172 (computed).
    const double apart = static_cast<double>(price.dearest->minor - price.least->minor);
    const double paid = 17.90 * 5.4 * 100.0 / static_cast<double>(still.fewest);
    CHECK(apart / paid == Approx(1.172 - 0.845).epsilon(0.15));
    CHECK(price.least->minor < still.least->minor);
    CHECK(still.least->minor < price.dearest->minor);
    const loin_chances worth = chances("worth spread = 30 %\n");
    CHECK(worth.lightest == still.lightest);
    CHECK(worth.least->minor < worth.dearest->minor);
    const loin_chances fat = chances("fat left spread = 2 mm\n");
    CHECK(fat.lightest < still.lightest);
    CHECK(still.heaviest < fat.heaviest);
    CHECK(fat.impossible == 0);
}

TEST_CASE("chances stand in a table too") {
    const sheet_answer answer = study_sheet(read_sheet(guess + "[study]\nloins = 50\nplan = once\n"));
    const loin_chances& c = *answer.loins[0].chances;
    const auto file_of = [](const sheet_answer& of) {
        for (const answer_file& file : answer_csv(of))
            if (file.name == "chances.csv") return file.text;
        return std::string();
    };
    const records rows = read_csv(file_of(answer));
    REQUIRE(rows.size() == 2);
    const auto cell = [&](const std::string& head) {
        for (std::size_t i = 0; i < rows[0].size(); ++i)
            if (rows[0][i] == head) return rows[1].at(i);
        return "no column " + head;
    };
    CHECK(cell("loins") == "50");
    CHECK(cell("planned") == "once");
    CHECK(cell("sure") == "0.9");
    CHECK(cell("fewest_portions") == std::to_string(c.fewest));
    CHECK(cell("most_within") == std::to_string(c.most_within));
    CHECK(cell("currency") == "USD");
    CHECK(std::stod(cell("lightest_g")) == Approx(to_mass(c.lightest).value() * 1000.0));
    CHECK(std::stod(cell("highest_cost_each")) * 100.0 == Approx(static_cast<double>(c.dearest->minor)));
    CHECK(file_of(plan_sheet(read_sheet(guess))).empty());
}

TEST_CASE("a study that is stopped says so, and has the loins drawn until then") {
    const cut_sheet sheet = read_sheet(measured + "[study]\nloins = 1000\nplan = once\n");
    int asked = 0;
    sheet_planning how;
    how.what_ifs = false;
    how.search.stop = [&asked] { return ++asked > 60; };
    const sheet_answer some = study_sheet(sheet, how);
    REQUIRE(some.loins[0].chances);
    CHECK(some.loins[0].chances->loins < 1000);
    CHECK(some.loins[0].chances->loins > 0);
    CHECK(some.remarks.back() == sentence(detail::study_stopped()));
    how.search.stop = [] { return true; };
    const sheet_answer none = study_sheet(sheet, how);
    CHECK(!none.loins[0].chances);
    CHECK_THAT(answer_text(none), ContainsSubstring("The study was stopped"));
}

TEST_CASE("keys of a study are checked as others are") {
    const auto reads = [](const std::string& keys) { return read_sheet(measured + "[study]\n" + keys); };
    CHECK(reads("sure = 95 %\n").study->sure == 0.95);
    CHECK(reads("knife = 1.5 mm\n").study->knife == 1.5_mm);
    CHECK(reads("plan = once\n").study->plan_once);
    CHECK_THROWS_WITH(reads("loins = 10\n"), ContainsSubstring("50 to 100000"));
    CHECK_THROWS_WITH(reads("sure = 100 %\n"), ContainsSubstring("sure"));
    CHECK_THROWS_WITH(reads("knife = -1 mm\n"), ContainsSubstring("knife"));
    CHECK_THROWS_WITH(reads("length spread = 80 %\n"), ContainsSubstring("length spread"));
    CHECK(reads("vary = stated\n").study->stated_only);
    CHECK(reads("fat left spread = 1 mm\n").study->fat_left_spread == 1_mm);
    CHECK_THROWS_WITH(reads("price spread = 60 %\n"), ContainsSubstring("price spread"));
    CHECK_THROWS_WITH(reads("fat left spread = -1 mm\n"), ContainsSubstring("fat left spread"));
    CHECK_THROWS_WITH(reads("vary = all\n"), ContainsSubstring("kind, stated"));
    CHECK_THROWS_WITH(reads("follow = intuition\n"), ContainsSubstring("thickness, marks"));
    CHECK_THROWS_AS(reads("spread = 5 %\n"), invalid_input);
    const cut_sheet sheet = reads(
        "loins = 60\nfollow = marks\nvary = stated\ntail spread = 20 %\nworth spread = 5 %\nfat left spread = 2 mm\n");
    CHECK(read_sheet(sheet_text(sheet)) == sheet);
}

} // namespace study_sheet_test
