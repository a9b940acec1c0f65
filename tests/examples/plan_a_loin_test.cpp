// The main job as a person runs it: the sample sheet, good and bad sheets, exit statuses.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <unistd.h>

#include "run_program.hpp"
#include "sample_sheet.hpp"
#include "support/catch.hpp"
#include <tranche/sheet/detail/priced_sheet.hpp>
#include <tranche/sheet/detail/sheet_plan.hpp>

namespace plan_a_loin_test {

using namespace tranche_test;
using namespace tranche;

namespace {

const std::string sample{example::sample_sheet_text};

std::string replaced(std::string text, const std::string& what, const std::string& with) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), with);
}

/// Reads, models and plans a sheet: all of the program but printing.
template <currency C>
planned plan_of(const detail::sheet_sections& sections) {
    const auto sheet = detail::read_cut_sheet<C>(sections);
    const profile meat = detail::tabulated(sheet);
    planned cuts = best_value(meat, sheet.cuts, sheet.prices, sheet.rules);
    CHECK(verify(cuts.plan, meat, sheet.cuts, sheet.rules).empty());
    (void)settle(cuts.plan, sheet.bought, sheet.prices);
    return cuts;
}

planned plan_of(const std::string& text) {
    std::istringstream in(text);
    const auto sections = detail::read_sections(in);
    return detail::in_currency_of(sections, [&]<currency C>(C) { return plan_of<C>(sections); });
}

std::string error_of(const std::string& text) {
    try {
        (void)plan_of(text);
    } catch (const invalid_input& error) {
        return detail::error_text(error, us_kitchen);
    }
    return "no error";
}

/// Without anything about selling prices.
std::string without_prices(std::string text) {
    for (const char* line : {"price = 15.90 USD/lb\n", "price = 17.90 USD/lb\n", "price = 9.80 USD/lb\n"})
        text = replaced(std::move(text), line, "");
    return text;
}

} // namespace

TEST_CASE("plan_a_loin: plans the embedded sample and writes every file it names") {
    const scratch_folder folder;
    const auto made = folder.path / "a folder" / "made";
    const program_run run = run_example("plan_a_loin", "--output '" + made.string() + "'");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, ContainsSubstring("invented") && ContainsSubstring((made / "report.html").string()));
    for (const char* file :
         {"report.html", "report.txt", "slabs.csv", "account.csv", "from_above.svg", "from_the_side.svg", "faces.svg",
          "cut_ruler.svg", "waterfall.svg", "what_if.svg", "savings.csv", "what_if.csv", "offers.csv"}) {
        CHECK_THAT(run.out, ContainsSubstring(file));
        CHECK(std::filesystem::file_size(made / file) > 200);
    }
}

TEST_CASE("plan_a_loin: shows where the money went without anything to compare with") {
    const scratch_folder folder;
    const auto sheet = folder.path / "sheet.ini";
    std::string text = sample;
    for (std::size_t at; (at = text.find("\n[compare")) != std::string::npos;)
        text.erase(at, text.find("\n[", at + 1) - at);
    REQUIRE(text.size() < sample.size());
    std::ofstream(sheet) << text;
    const program_run run =
        run_example("plan_a_loin", "--output '" + (folder.path / "made").string() + "' '" + sheet.string() + "'");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, ContainsSubstring("waterfall.svg"));
    CHECK_THAT(contents(folder.path / "made" / "waterfall.svg"), ContainsSubstring("left for the portions to carry"));
    CHECK_THAT(contents(folder.path / "made" / "report.html"), ContainsSubstring("left for the portions to carry"));
    CHECK_FALSE(std::filesystem::exists(folder.path / "made" / "savings.csv"));
}

TEST_CASE("plan_a_loin: plans a sheet from a file, the same as the embedded one") {
    const scratch_folder folder;
    const auto sheet = folder.path / "my sheet.ini";
    std::ofstream(sheet) << sample;
    const program_run own =
        run_example("plan_a_loin", "--output '" + folder.path.string() + "' '" + sheet.string() + "'");
    const program_run embedded = run_example("plan_a_loin", "--output '" + folder.path.string() + "'");
    CHECK(own.status == 0);
    CHECK(own.out == embedded.out);
    CHECK(run_example("plan_a_loin", "--print-sample").out == sample);
}

TEST_CASE("plan_a_loin: prints 80 columns whatever the title says") {
    const scratch_folder folder;
    const auto sheet = folder.path / "sheet.ini";
    for (const std::string& title :
         {std::string(300, 'W') + ' ' + std::string(90, 'i'), std::string("\x1b[31mred"), std::string()}) {
        std::ofstream(sheet) << replaced(sample, "title = Friday service at the Harbour Lantern (an invented inn)\n",
                                         title.empty() ? "" : "title = " + title + "\n");
        const program_run run =
            run_example("plan_a_loin", "--output '" + folder.path.string() + "' '" + sheet.string() + "'");
        CHECK(run.status == 0);
        CHECK(run.out.find('\x1b') == std::string::npos);
        std::istringstream lines(run.out);
        for (std::string line; std::getline(lines, line);)
            if (line.find(folder.path.string()) == std::string::npos) CHECK(detail::columns_of(line) <= 80);
        CHECK(run.out.front() != '\n');
    }
}

TEST_CASE("plan_a_loin: says by its exit status what went wrong") {
    const scratch_folder folder;
    const std::string output = "--output '" + folder.path.string() + "' ";
    const auto sheet = folder.path / "sheet.ini";
    const auto status_of = [&](const std::string& text) {
        std::ofstream(sheet) << text;
        return run_example("plan_a_loin", output + "'" + sheet.string() + "'").status;
    };
    const program_run help = run_example("plan_a_loin", "--help");
    CHECK(help.status == 0);
    CHECK_THAT(help.out, ContainsSubstring("Exit status") && ContainsSubstring("--output"));
    CHECK(status_of(sample) == 0);
    CHECK(status_of(replaced(sample, "weight = 12 lb 2 oz", "weight = 12 lb 2 ozz")) == 2);
    CHECK(run_example("plan_a_loin", "--no-such-option").status == 2);
    CHECK(run_example("plan_a_loin", "--output").status == 2);
    CHECK(run_example("plan_a_loin", output + "one two").status == 2);
    CHECK(run_example("plan_a_loin", output + "'" + folder.path.string() + "/absent.ini'").status == 3);
    CHECK(run_example("plan_a_loin", output + "'" + folder.path.string() + "'").status == 3);
    CHECK(run_example("plan_a_loin", "--output /dev/null/folder").status == 3);
    CHECK(run_example("plan_a_loin", "''").status == 2);
    CHECK(run_example("plan_a_loin", "-h").status == 0);
    // No cut can be made: every window far above what a loin is.
    std::string hopeless = sample;
    for (const char* limits : {"1 1/8 in to 1 1/2 in", "1 1/2 in to 2 1/4 in", "3/4 in to 1 1/4 in"})
        hopeless = replaced(hopeless, limits, "40 in to 50 in");
    CHECK(status_of(hopeless) == 1);
}

TEST_CASE("cut_sheet: names section, key, text and expectation") {
    const std::vector<std::pair<std::pair<std::string, std::string>, std::string>> cases{
        {{"weight = 12 lb 2 oz", "weight = 12 lb 2 oxen"}, "[loin] weight: got \"12 lb 2 oxen\", expected a mass"},
        {{"weight = 12 lb 2 oz\n", ""}, "[loin] weight: got nothing, expected the invoiced weight"},
        {{"weight on the board = 11 lb 15 oz", "weight on the board = 13 lb"},
         "[loin] weight on the board: got \"13 lb\", expected at most the invoiced weight"},
        {{"weight on the board = 11 lb 15 oz", "weight on the board = 3 g"},
         "[loin] weight on the board: got \"3 g\", expected"},
        {{"price = 8.10 USD/lb", "price = 8.10 EUR/lb"},
         "[loin] price: got \"8.10 EUR/lb\", expected a price such as 7.90 USD/lb"},
        {{"length = 16 1/2 in", "length = 0 in"}, "[loin] length: got \"0 in\", expected a finite value above zero"},
        {{"length = 16 1/2 in", "length = 16,5 in"}, "[loin] length: got \"16,5 in\""},
        {{"tail = 2 in", "tail = 20 in"}, "[station 1] tail: got \"20 in\", expected less than the width"},
        {{"at = 8 in", "at = 18 in"}, "[station 3] at: got \"16 1/2 in\", expected more than at the station before it"},
        {{"at = 8 in", "at = 0 in"}, "[station 2] at: got \"0 in\", expected more than at the station before it"},
        {{"gluteus medius share = 30 %", "gluteus medius share = 130 %"},
         "[loin] gluteus medius share: got \"130 %\", expected a share"},
        {{"plan for = best value", "plan for = best"},
         "[cutting] plan for: got \"best\", expected one of most portions, least waste, best value"},
        {{"facing = 1/4 in", "facing = 17 in"},
         "[cutting] facing: got \"17 in\", expected less than the loin's length"},
        {{"grid = 1/64 in", "grid = 0 in"}, "[cutting] grid: got \"0 in\", expected a finite value above zero"},
        {{"thickness = 1 1/8 in to 1 1/2 in", "thickness = 1 1/2 in to 1 1/8 in"},
         "[cut strip steak] thickness: got \"1 1/2 in to 1 1/8 in\", expected at least the min"},
        {{"thickness = 1 1/8 in to 1 1/2 in", "thickness = 1 inn"}, "[cut strip steak] thickness: got \"1 inn\""},
        {{"thickness = 1 1/8 in to 1 1/2 in\n", ""},
         "[cut strip steak] thickness: got nothing, expected a thickness such as"},
        {{"pieces = 2", "pieces = 1.5"}, "[cut halved fillet] pieces: got \"1.5\", expected a whole number, 1 to 100"},
        {{"gluteus medius = none", "gluteus medius = some"},
         "[cut halved fillet] gluteus medius: got \"some\", expected one of none"},
        {{"price = 15.90 USD/lb\n", ""}, "[cut strip steak] price: got nothing"},
        {{"price = 15.90 USD/lb", "prize = 15.90 USD/lb"},
         "[cut strip steak] prize: got a key that has no meaning here, expected perhaps price; one of thickness, "},
        {{"[worth]", "[words]"}, "[words]: got a section that has no meaning here"},
        {{"[loose strips]", "[loose stripes]"}, "[loose stripes]: got \"stripes\""},
        {{"replaces = strip steak,", "replaces = stripe steak,"},
         "[compare ready-cut strip steak] replaces: got \"stripe steak\""},
        {{"currency = USD", "currency = XYZ"}, "price: got \"8.10 USD/lb\", expected a price such as 7.90 XYZ/lb"},
        {{"[cutting]", "[cutting"}, "got \"[cutting\", expected [section]"},
        {{"thickness = 1 1/8 in to 1 1/2 in", "thickness = at most 2 in"},
         "[cut strip steak] thickness: got \"at most 2 in\", expected a lower limit above zero"},
        {{"at = 16 1/2 in", "at = 17 in"}, "[station 3] at: got \"17 in\", expected at most the length"},
        {{"currency = USD", "currency = usd"}, "[sheet] currency: got \"usd\", expected an ISO 4217 code"},
        {{"price = 8.10 USD/lb", "price = -8.10 USD/lb"},
         "[loin] price: got \"-8.10 USD/lb\", expected a price of zero or more"},
        {{"price = 16.49 USD/lb", "price = -16.49 USD/lb"},
         "[compare ready-cut strip steak] price: got \"-16.49 USD/lb\""},
        {{"grind = 4.60 USD/lb", "grind = 999999999999 USD/lb"},
         "[worth] grind: got \"999999999999 USD/lb\", expected less than 10 million"},
        {{"weight = 12 lb 2 oz", "weight = 0 lb"}, "[loin] weight: got \"0 lb\", expected a finite value above zero"},
        {{"gluteus medius from = 13 1/4 in\n", ""}, "[loin] gluteus medius from: got nothing"},
        {{"gluteus medius share = 30 %\n", ""}, "[loin] gluteus medius share: got nothing"},
        {{"gluteus medius = any", "gluteus medius = up to 2000 %"},
         "[cut end steak] gluteus medius: got \"up to 2000 %\", expected a share"},
        {{"replaces = strip steak, halved fillet", "replaces = ,"},
         "[compare ready-cut strip steak] replaces: got \",\", expected names of cuts"},
        {{"length = 16 1/2 in", "length = ; as it lies"}, "[loin] length: got nothing"},
        {{"grid = 1/64 in", "grid = 0.0001 mm"}, "[cutting] grid: got \"0.0001 mm\""},
        {{"[cut end steak]", "[cut end: steak]\nthickness = 0 in\n[cut end steak]"},
         "[cut end: steak] thickness: got \"0 in\""},
        {{"[worth]", "[cut roast]\n[worth]"}, "[cut roast] thickness: got nothing"},
        {{"[worth]", "[cuttings]\n[worth]"}, "[cuttings]: got a section that has no meaning here"},
        {{"thickness = 1 1/8 in to 1 1/2 in", "thickness = 1 1/8 in to 1 1/2 in\nthickness step = 1/10 in"},
         "[cut strip steak] thickness step: got \"1/10 in\", expected a whole multiple of the grid, 1/64 in"},
        {{"[worth]", "[loin]\n[worth]"}, "[loin] (line 87): got the same section twice, expected each section once"},
        {{"[sheet]", ""}, "expected"},
        {{"title = Friday", "title = Monday\ntitle = Friday"}, "[sheet] title (line "},
        {{"weight = 12 lb 2 oz", "weight ="}, "[loin] weight: got nothing"},
        {{"wage = 18.50 USD/h", "wage = 18.50 USD/lb"}, "[costs] wage: got \"18.50 USD/lb\", expected a wage"},
        {{"wage = 18.50 USD/h", "wage = -1 USD/h"}, "[costs] wage: got \"-1 USD/h\", expected a price of zero or more"},
        {{"time = 35 min", "time = -35 min"}, "[costs] time: got \"-35 min\", expected a finite value, zero or more"},
        {{"knife wear = 0.60 USD", "frozen = 120 %"}, "[costs] frozen: got \"120 %\", expected a share"},
        {{"[costs]", "[edible]\nfat cover = 101 %\n[costs]"}, "[edible] fat cover: got \"101 %\", expected a share"},
        {{"[costs]", "[edible]\neye = 0 %\n[costs]"},
         "[edible] eye: got a key that has no meaning here, expected one of gluteus medius, "},
        {{"gluteus medius = 8 %", "gluteus medius = 108 %"},
         "[compare ready-cut strip steak] gluteus medius: got \"108 %\", expected a share"},
        {{"gluteus medius = 8 %", "edible share = 80 %"},
         "[compare ready-cut strip steak] edible share: got \"80 %\", expected either that share, or fat cover"},
        {{"edible share = 90 %", "edible share = 0 %"},
         "[offer trimmed loin, Gull Wharf] edible share: got \"0 %\", expected a share above zero"},
        {{"yield = 86 %", "yield = 0 %"},
         "[offer trimmed loin, Gull Wharf] yield: got \"0 %\", expected a share above"},
        {{"yield = 86 %\n", ""}, "[offer trimmed loin, Gull Wharf] yield: got nothing, expected portions out of"},
        {{"weight = 10 lb", "weight = 0 lb"}, "[offer trimmed loin, Gull Wharf] weight: got \"0 lb\""},
        // What is misspelt is not reported as missing, wherever it stands.
        {{"length = 16 1/2 in", "lenght = 16 1/2 in"},
         "[loin] lenght: got a key that has no meaning here, expected perhaps length"},
        {{"currency = USD", "Curency = USD"},
         "[sheet] Curency: got a key that has no meaning here, expected perhaps currency"},
        {{"wage = 18.50 USD/h", "wages = 18.50 USD/h"},
         "[costs] wages: got a key that has no meaning here, expected perhaps wage"},
        {{"[costs]", "[cost]"}, "[cost]: got a section that has no meaning here, expected perhaps costs"},
        {{"[station 2]", "[staton 2]"}, "[staton 2]: got a section that has no meaning here, expected perhaps station"},
        // In the units of the sheet, and rounded so that what is named would do.
        {{"weight on the board = 11 lb 15 oz", "weight on the board = 13 lb"},
         "at most the invoiced weight, 12 lb 2 oz"},
        {{"weight on the board = 11 lb 15 oz", "weight on the board = 20 oz"}, "oz to "},
        {{"tail = 2 in", "tail = 20 in"}, "less than the width, 8 1/4 in"},
        {{"at = 16 1/2 in", "at = 17 in"}, "at most the length, 16 1/2 in"},
        {{"facing = 1/4 in", "facing = 17 in"}, "less than the loin's length, 16 1/2 in"},
        {{"thickness = 1 1/8 in to 1 1/2 in", "thickness = 1 1/2 in to 1 1/8 in"}, "at least the min, 1 1/2 in"},
        {{"portion = 10 oz to 12 1/2 oz", "portion = 12 oz to 10 oz"}, "at least the min, 12 oz"},
        {{"weight = 12 lb 2 oz\nweight on the board = 11 lb 15 oz\n", "weight = 2 lb 2 oz\n"},
         "[loin] weight: got \"2 lb 2 oz\", expected"},
        {{"time = 25 min", "time = 25 lb"}, "[offer trimmed loin, Gull Wharf] time: got \"25 lb\""},
    };
    for (const auto& [change, message] : cases) {
        INFO(change.first << " -> " << change.second);
        CHECK_THAT(error_of(replaced(sample, change.first, change.second)), ContainsSubstring(message));
    }
    CHECK_THAT(error_of(""), ContainsSubstring("[sheet]: got no such section"));
}

TEST_CASE("cut_sheet: reads sections without keys, remarks behind tabs and a byte order mark") {
    std::string text =
        replaced(sample, "[loose strips]\nfat cover = 0 in\ntail = 0 in\nsilverskin = off\n", "[loose dice]\n");
    text = replaced(text, "[loose grind]\nsilverskin = off\n", "");
    text = replaced(text, "length = 16 1/2 in", "length = 16 1/2 in\t; as it lies");
    text = replaced(text, "replaces = strip steak, halved fillet", "replaces = strip steak,\thalved fillet,");
    std::istringstream in("\xEF\xBB\xBF" + text);
    const auto sheet = detail::read_cut_sheet<usd>(detail::read_sections(in));
    REQUIRE(sheet.rules.loose.size() == 1);
    CHECK(sheet.rules.loose[0].goes_to == destination::dice);
    CHECK(sheet.alternatives.at(0).ready.replaces == std::vector<std::string>{"strip steak", "halved fillet"});
}

TEST_CASE("cut_sheet: reads a trim of the whole loin and an over-cut") {
    std::string text = replaced(sample, "[worth]", "[trim whole]\nfat cover = 3/8 in\nover-cut = 1 mm\n[worth]");
    text = replaced(text, "tail = 1 in\nsilverskin = off\ngluteus medius = one face",
                    "over-cut = 0.5 mm\ngluteus medius = one face");
    std::istringstream in(text);
    const auto sheet = detail::read_cut_sheet<usd>(detail::read_sections(in));
    CHECK(sheet.rules.trim_whole.over_cut == 1.0 * millimetre);
    CHECK(sheet.rules.trim_whole.fat_cover == 0.375 * inch);
    CHECK(sheet.cuts[0].trim.over_cut == 0.5 * millimetre);
    CHECK(plan_of(text).feasible());
}

TEST_CASE("cut_sheet: reads zones, notches, an order, a remnant, one thickness and labour") {
    std::string text =
        replaced(sample, "[cut strip steak]\n",
                 "[cut strip steak]\nzone = 1 in to 12 in\nthickness step = 1/8 in\none thickness = yes\n");
    text = replaced(text, "[cutting]\n",
                    "[cutting]\norder = strip steak, end steak\nleast remnant = 1/2 in\nleast remnant weight = 2 oz\n");
    text += "\n[labour]\nslab = 0.10 USD\nportion = 0.25 USD\ntrimmed portion = 0.30 USD\n";
    std::istringstream in(text);
    const auto sheet = detail::read_cut_sheet<usd>(detail::read_sections(in));
    const cut_spec& steak = sheet.cuts.front();
    CHECK(steak.zone == quantity_range<length>{from_text<length>("1 in", ""), from_text<length>("12 in", "")});
    CHECK(steak.thickness_step == from_text<length>("1/8 in", ""));
    CHECK(steak.one_thickness);
    CHECK(sheet.rules.order == std::vector<cut_order>{{"strip steak", "end steak"}});
    CHECK(sheet.rules.remnant == least_remnant{from_text<length>("1/2 in", ""), from_text<mass>("2 oz", "")});
    CHECK(sheet.prices.labour.trimmed.value() == 0.3);
    CHECK(plan_of(text).feasible()); // and its plan holds by a second opinion

    // Each of three lies before all later ones, whether there are any in between or not.
    std::istringstream of_three(
        replaced(text, "order = strip steak, end steak", "order = strip steak, halved fillet, end steak"));
    CHECK(detail::read_cut_sheet<usd>(detail::read_sections(of_three)).rules.order ==
          std::vector<cut_order>{
              {"strip steak", "halved fillet"}, {"strip steak", "end steak"}, {"halved fillet", "end steak"}});

    CHECK_THAT(error_of(replaced(text, "order = strip steak, end steak", "order = strip steak, roast")),
               StartsWith("[cutting] order: got \"strip steak, roast\", expected the name of a spec"));
    CHECK_THAT(error_of(replaced(text, "order = strip steak, end steak", "order = strip steak")),
               ContainsSubstring("names of two cuts or more"));
    CHECK_THAT(error_of(replaced(text, "thickness step = 1/8 in", "thickness step = 1/100 in")),
               ContainsSubstring("[cut strip steak] thickness step") && ContainsSubstring("multiple of the grid"));
    CHECK_THAT(error_of(replaced(text, "zone = 1 in to 12 in", "zone = 12 in to 1 in")),
               StartsWith("[cut strip steak] zone: got"));
    CHECK_THAT(error_of(replaced(text, "one thickness = yes", "one thickness = maybe")),
               ContainsSubstring("one of yes, no"));
}

TEST_CASE("cut_sheet: reads how many portions, what they are charged as, and every aim") {
    std::string text = replaced(sample, "[cut halved fillet]\n", "[cut halved fillet]\nnumber = 2 to 6\n");
    text = replaced(text, "[cut strip steak]\n", "[cut strip steak]\nnumber = at least 3\ncharged as = 10 oz\n");
    text = replaced(text, "[cut end steak]\n", "[cut end steak]\nnumber = 2\n");
    const auto read = [](const std::string& t) {
        std::istringstream in(t);
        return detail::read_cut_sheet<usd>(detail::read_sections(in));
    };
    const auto sheet = read(text);
    CHECK(sheet.demands == std::vector<demand>{at_least(3, "strip steak"),
                                               {.spec = "halved fillet", .at_least = 2, .at_most = 6},
                                               exactly(2, "end steak")});
    CHECK(sheet.charged == charged_weights{{"strip steak", from_text<mass>("10 oz", "")}});
    CHECK(read(replaced(text, "number = 2\n", "number = at most 2\n")).demands[2] == at_most(2, "end steak"));
    CHECK(read(replaced(text, "number = 2\n", "number = exactly 2\n")).demands == sheet.demands);
    for (const auto& [word, meaning] : detail::aim_words()) {
        const std::string aimed = replaced(sample, "plan for = best value", "plan for = " + std::string(word));
        CHECK(read(aimed).plan_for == meaning);
    }
    CHECK(read(replaced(sample, "plan for = best value", "plan for = even portions\nportions = 12")).portions == 12);

    for (const char* number : {"-1", "2.5", "some", "6 to 2", "at least", "99999999999", "at most -3"})
        CHECK_THAT(error_of(replaced(text, "number = 2 to 6", std::string("number = ") + number)),
                   StartsWith("[cut halved fillet] number: got \"" + std::string(number)));
    CHECK_THAT(error_of(replaced(text, "plan for = best value", "plan for = even portions")),
               StartsWith("[cut strip steak] number: got \"at least 3\", expected none"));
    CHECK_THAT(error_of(replaced(text, "charged as = 10 oz", "charged as = 0 oz")),
               StartsWith("[cut strip steak] charged as: got \"0 oz\""));
    CHECK_THAT(error_of(replaced(replaced(sample, "plan for = best value", "plan for = least giveaway"),
                                 "portion = 8 oz to 14 oz", "portion = at most 14 oz")),
               StartsWith("[cut end steak] charged as: got nothing"));
    CHECK_THAT(error_of(replaced(sample, "plan for = best value", "plan for = even portions\nportions = 0")),
               StartsWith("[cutting] portions: got \"0\", expected a whole number, 1 to "));
}

TEST_CASE("plan_a_loin: plans for whatever the sheet says, and says what came of it") {
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    const auto run = [&](const std::string& text) {
        std::ofstream(file) << text;
        return run_example("plan_a_loin", "--output '" + (folder.path / "made").string() + "' '" + file.string() + "'");
    };
    const std::string coarse = replaced(sample, "grid = 1/64 in", "grid = 1/8 in");
    const auto aimed = [&](const std::string& aim) {
        return replaced(coarse, "plan for = best value", "plan for = " + aim);
    };
    for (const char* aim : {"most portions", "least waste", "least giveaway"}) {
        const program_run r = run(aimed(aim));
        INFO(aim << r.err);
        CHECK(r.status == 0);
        CHECK_THAT(r.out,
                   ContainsSubstring("proven best on 133 positions") && ContainsSubstring("What each limit costs"));
    }
    // Above the least portion, so that portions may be short of it.
    const program_run charged =
        run(replaced(aimed("least giveaway"), "[cut end steak]\n", "[cut end steak]\ncharged as = 9 oz\n"));
    CHECK(charged.status == 0);
    CHECK_THAT(charged.out, ContainsSubstring("proven best on 133 positions"));
    const program_run even = run(aimed("even portions\nportions = 11"));
    CHECK(even.status == 0);
    CHECK_THAT(even.out, ContainsSubstring("Portions      11\n") && ContainsSubstring("Apart by") &&
                             !ContainsSubstring("What each limit costs"));
    const program_run few = run(aimed("fewest settings"));
    CHECK(few.status == 0);
    CHECK_THAT(few.out, ContainsSubstring("Settings of the slicer"));
    // Two halved fillets are asked for; then more than there can be.
    const auto fillets = [&](const std::string& number) {
        return replaced(coarse, "[cut halved fillet]\n", "[cut halved fillet]\nnumber = " + number + "\n");
    };
    const program_run two = run(fillets("2"));
    CHECK(two.status == 0);
    CHECK_THAT(two.out, ContainsSubstring("halved fillet  "));
    const program_run many = run(fillets("at least 90"));
    CHECK(many.status == 1);
    CHECK_THAT(many.out, ContainsSubstring("halved fillet: 90 portions are asked for"));
}

TEST_CASE("plan_a_loin: plans for whatever needs no prices without them") {
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    const std::string coarse = without_prices(replaced(sample, "grid = 1/64 in", "grid = 1/4 in"));
    for (const auto& [word, meaning] : detail::aim_words()) {
        INFO(word);
        std::ofstream(file) << replaced(coarse, "plan for = best value", "plan for = " + std::string(word));
        const program_run run =
            run_example("plan_a_loin", "--output '" + (folder.path / "made").string() + "' '" + file.string() + "'");
        if (meaning == detail::aim::best_value) {
            CHECK(run.status == 2);
            CHECK_THAT(run.err, StartsWith("[cut strip steak] price: got nothing, expected a price"));
            continue;
        }
        CHECK(run.status == 0);
        CHECK(run.err.empty());
        const std::string page = contents(folder.path / "made" / "report.html");
        for (const std::string& report : {run.out, page}) {
            CHECK_THAT(report, ContainsSubstring("Portions") && !ContainsSubstring("Worth, USD"));
            const bool what_ifs = meaning != detail::aim::even_portions && meaning != detail::aim::fewest_settings;
            CHECK((report.find("What each limit costs") != std::string::npos) == what_ifs);
        }
    }
}

TEST_CASE("plan_a_loin: names why it looks for no what-ifs where there are too many cuts for them") {
    const auto cuts = [](std::size_t count) {
        std::string text = replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
        for (std::size_t i = 3; i < count; ++i)
            text += "\n[cut steak " + std::to_string(i) + "]\nthickness = 1 in to 1 1/4 in\nprice = 9 USD/lb\n";
        return text;
    };
    for (const std::size_t count : {detail::most_cuts_of_what_ifs, std::size_t{63}}) {
        std::istringstream in(cuts(count));
        const auto sheet = detail::read_cut_sheet<usd>(detail::read_sections(in));
        REQUIRE(sheet.cuts.size() == count);
        const detail::sheet_plan planned =
            detail::plan_of_sheet(sheet, detail::tabulated(sheet), [&](const cutting_problem& problem) {
                return worth_objective(problem, sheet.prices);
            });
        CHECK(planned.planned.feasible());
        CHECK(planned.found.has_value() == (count <= detail::most_cuts_of_what_ifs));
        if (!planned.found)
            CHECK_THAT(text_of(planned.remarks), ContainsSubstring("Not looked for") && ContainsSubstring("63 cuts"));
    }
}

TEST_CASE("plan_a_loin: reckons in any currency of ISO 4217, to its minor unit") {
    // 12 lb 2 oz at 8.10 are 98.2125: a half of the last digit where there are three, which goes to the even one.
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    for (const auto& [code, price, paid] : std::vector<std::array<std::string, 3>>{
             {"JPY", "8", "98"}, {"KRW", "8", "98"}, {"CHF", "8.10", "98.21"}, {"KWD", "8.100", "98.212"}}) {
        INFO(code);
        std::string text = replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
        for (auto at = text.find("USD"); at != std::string::npos; at = text.find("USD", at)) text.replace(at, 3, code);
        std::ofstream(file) << text;
        const program_run run =
            run_example("plan_a_loin", "--output '" + (folder.path / "made").string() + "' '" + file.string() + "'");
        CHECK(run.status == 0);
        CHECK(run.err.empty());
        CHECK_THAT(run.out, ContainsSubstring("12 lb 2 oz at " + price + ' ' + code + "/lb") &&
                                ContainsSubstring(' ' + paid + ' ' + code + '\n') && ContainsSubstring("Savings"));
        CHECK_THAT(contents(folder.path / "made" / "account.csv"), ContainsSubstring(',' + paid + ',' + code));
        CHECK_THAT(contents(folder.path / "made" / "report.html"), ContainsSubstring(paid + ' ' + code));
    }
}

TEST_CASE("plan_a_loin: refuses a currency that is no code of ISO 4217") {
    const std::string error = error_of(replaced(sample, "currency = USD", "currency = dollars"));
    CHECK(error == "[sheet] currency: got \"dollars\", expected an ISO 4217 code, three capital letters such as USD");
}

TEST_CASE("plan_a_loin: leaves nothing of another sheet in its folder, and only what is its own goes") {
    const scratch_folder folder;
    const auto made = folder.path / "made", sheet = folder.path / "sheet.ini";
    const std::string output = "--output '" + made.string() + "' ";
    REQUIRE(run_example("plan_a_loin", output).status == 0);
    REQUIRE(std::filesystem::exists(made / "offers.csv"));
    std::ofstream(made / "notes.txt") << "mine";
    std::string plain = replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
    plain.erase(plain.find("[compare"));
    std::ofstream(sheet) << plain;
    REQUIRE(run_example("plan_a_loin", output + "'" + sheet.string() + "'").status == 0);
    for (const char* gone : {"offers.csv", "savings.csv", "what_if.csv", "what_if.svg"})
        CHECK_FALSE(std::filesystem::exists(made / gone));
    CHECK(contents(made / "notes.txt") == "mine");
    for (const auto& entry : std::filesystem::directory_iterator(made))
        CHECK_FALSE(entry.path().extension() == ".part");
}

TEST_CASE("plan_a_loin: leaves the files of an earlier run alone when the new ones cannot be written whole") {
    const scratch_folder folder;
    const auto made = folder.path / "made";
    const std::string output = "--output '" + made.string() + "'";
    REQUIRE(run_example("plan_a_loin", output).status == 0);
    std::ofstream(made / "slabs.csv") << "of before";
    const std::string page = contents(made / "report.html");
    // Files of at most 100 blocks: the page is longer, as on a disk that is full.
    const program_run run = run_example("plan_a_loin", output, "", "trap '' XFSZ; ulimit -f 100; ");
    CHECK(run.status == 3);
    CHECK_THAT(run.err, StartsWith("cannot write " + (made / "report.html").string() + ": "));
    CHECK(contents(made / "report.html") == page);
    CHECK(contents(made / "slabs.csv") == "of before");
    for (const auto& entry : std::filesystem::directory_iterator(made))
        CHECK_FALSE(entry.path().extension() == ".part");
    // What a killed run left is in nobody's way.
    std::ofstream(made / ".report.html.part") << "half a pa";
    CHECK(run_example("plan_a_loin", output).status == 0);
    CHECK_FALSE(std::filesystem::exists(made / ".report.html.part"));
    CHECK_THAT(contents(made / "slabs.csv"), !ContainsSubstring("of before"));
}

TEST_CASE("plan_a_loin: writes through no link, be it in place of a folder or of a file") {
    const scratch_folder folder;
    const auto theirs = folder.path / "theirs", victim = folder.path / "victim", made = folder.path / "made";
    std::filesystem::create_directory(theirs);
    std::filesystem::create_directory(made);
    std::ofstream(victim) << "precious";
    std::filesystem::create_directory_symlink(theirs, folder.path / "link");
    for (const char* stroke : {"", "/"}) {
        const program_run run =
            run_example("plan_a_loin", "--output '" + (folder.path / "link").string() + stroke + "'");
        CHECK(run.status == 3);
        CHECK_THAT(run.err, ContainsSubstring("link is a symbolic link"));
    }
    CHECK(std::filesystem::is_empty(theirs));
    std::filesystem::create_symlink(victim, made / "report.txt");
    const program_run run = run_example("plan_a_loin", "--output '" + made.string() + "'");
    CHECK(run.status == 3);
    CHECK_THAT(run.err, ContainsSubstring("report.txt is a symbolic link"));
    std::filesystem::remove(made / "report.txt");
    std::filesystem::create_symlink(victim, made / ".report.txt.part");
    CHECK(run_example("plan_a_loin", "--output '" + made.string() + "'").status == 0);
    CHECK(contents(victim) == "precious");
}

TEST_CASE("plan_a_loin: has a folder of its own for each sheet if none is named, and takes no one else's") {
    const scratch_folder folder;
    const auto sheet = folder.path / "tuesday.ini";
    std::ofstream(sheet) << replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
    const std::string there = "TMPDIR='" + folder.path.string() + "' ";
    const auto mine = folder.path / ("tranche-plans-" + std::to_string(::geteuid()));
    const program_run own = run_example("plan_a_loin", "'" + sheet.string() + "'", "", there);
    const program_run embedded = run_example("plan_a_loin", "", "", there);
    CHECK_THAT(own.out, ContainsSubstring((mine / "tuesday" / "report.html").string()));
    CHECK_THAT(embedded.out, ContainsSubstring((mine / "sample" / "report.html").string()));
    CHECK(std::filesystem::exists(mine / "tuesday" / "report.html"));
    CHECK((std::filesystem::status(mine).permissions() & std::filesystem::perms::others_all) ==
          std::filesystem::perms::none);
    // Others may write there; then it is a link.
    std::filesystem::permissions(mine, std::filesystem::perms::all);
    CHECK(run_example("plan_a_loin", "", "", there).status == 3);
    std::filesystem::permissions(mine, std::filesystem::perms::owner_all);
    std::filesystem::rename(mine, folder.path / "elsewhere");
    std::filesystem::create_directory_symlink(folder.path / "elsewhere", mine);
    const program_run linked = run_example("plan_a_loin", "", "", there);
    CHECK(linked.status == 3);
    CHECK_THAT(linked.err, ContainsSubstring("is a link, or others may write there"));
}

TEST_CASE("plan_a_loin: shows no control character of a sheet or a command line") {
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    const std::string output = "--output '" + (folder.path / "made").string() + "' ";
    const auto clean = [](const std::string& text) {
        return std::none_of(text.begin(), text.end(), [](char c) {
            return (static_cast<unsigned char>(c) < 0x20 && c != '\n') || static_cast<unsigned char>(c) == 0x7F;
        });
    };
    const std::string coarse = replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
    const std::string bell = "\x1b]0;pwn\x07\x1b[31m";
    for (const auto& [what, with] :
         std::vector<std::pair<std::string, std::string>>{{"currency = USD", "currency = " + bell},
                                                          {"[cut end steak]", "[cut " + bell + "]"},
                                                          {"title = Friday", "title = " + bell},
                                                          {"price = 9.80 USD/lb", bell + " = 1"},
                                                          {"[worth]", bell},
                                                          {"[compare ready-cut strip steak]", "[compare " + bell + "]"},
                                                          {"[worth]", "[" + bell + "]"}}) {
        std::ofstream(file) << replaced(coarse, what, with);
        for (const char* program : {"plan_a_loin", "cut_along"}) {
            const bool plans = std::string_view(program) == "plan_a_loin";
            const program_run run = run_example(program, (plans ? output : "") + "'" + file.string() + "'",
                                                "3 1/4 oz\n" + bell + "\nplan\n");
            INFO(program << ' ' << what);
            CHECK_FALSE((run.out + run.err).empty());
            CHECK(clean(run.out));
            CHECK(clean(run.err));
        }
    }
    for (const char* program : {"plan_a_loin", "cut_along"}) {
        CHECK(clean(run_example(program, "'--" + bell + "'").err));
        CHECK(clean(run_example(program, "'" + bell + "'").err));
    }
}

TEST_CASE("cut_sheet: refuses a name that nothing could show, and shows the beginning of it") {
    const std::string error = error_of(replaced(sample, "[cut end steak]", "[cut " + std::string(5000, 'y') + "]"));
    CHECK_THAT(error, StartsWith("[cut yyy") && ContainsSubstring("expected at most 120"));
    CHECK(error.size() < 120);
}

TEST_CASE("cut_sheet: writes its errors in the units of the sheet") {
    const auto refused = [](const std::string& units) {
        std::istringstream in(
            replaced(replaced(sample, "units = us", "units = " + units), "at = 16 1/2 in", "at = 450 mm"));
        const auto sections = detail::read_sections(in);
        try {
            (void)detail::read_cut_sheet<usd>(sections);
        } catch (const invalid_input& error) {
            return detail::error_text(error, detail::units_of(sections));
        }
        return std::string("no error");
    };
    CHECK(refused("us") == "[station 3] at: got \"450 mm\", expected at most the length, 16 1/2 in");
    CHECK(refused("metric") == "[station 3] at: got \"450 mm\", expected at most the length, 419 mm");
}

TEST_CASE("cut_sheet: takes the keys that its page explains, and no others") {
    const std::string page =
        contents(std::filesystem::path(TRANCHE_EXAMPLES_SOURCE_DIR).parent_path() / "docs" / "cut_sheet.md");
    std::vector<std::pair<std::string, std::string>> explained, known;
    std::string heading;
    std::istringstream lines(page);
    for (std::string line; std::getline(lines, line);) {
        if (!line.starts_with("| `") && !line.starts_with("| |")) continue;
        const auto second = line.find('|', 1), third = line.find('|', second + 1);
        const auto quoted = [](const std::string& cell) {
            std::vector<std::string> words;
            for (std::size_t at = 0; (at = cell.find('`', at)) != std::string::npos;) {
                const auto end = cell.find('`', at + 1);
                words.push_back(cell.substr(at + 1, end - at - 1));
                at = end + 1;
            }
            return words;
        };
        if (const auto sections = quoted(line.substr(0, second)); !sections.empty())
            heading = sections.front().substr(1, sections.front().size() - 2);
        for (const std::string& key : quoted(line.substr(second, third - second))) explained.emplace_back(heading, key);
    }
    for (const detail::section_kind& kind : detail::section_kinds())
        for (const std::string_view key : kind.keys) {
            const auto is = [&](const auto& e) { return kind.is_of(e.first) && e.second == key; };
            INFO(kind.heading << ": " << key);
            CHECK(std::count_if(explained.begin(), explained.end(), is) == 1);
        }
    for (const auto& [section, key] : explained) {
        const detail::section_kind* const kind = detail::kind_of(section);
        INFO(section << ": " << key);
        REQUIRE(kind != nullptr);
        CHECK(std::count(kind->keys.begin(), kind->keys.end(), key) == 1);
    }
}

TEST_CASE("cut_sheet: survives the loss of any one character") {
    // Either the sheet still means something, or the error says what does not; nothing else may come out of it. A coarse
    // grid keeps this quick. Remarks in front of the first section are left out.
    const std::string sheet = replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
    std::size_t planned = 0, refused = 0;
    for (std::size_t at = sheet.find("[sheet]"); at < sheet.size(); ++at) {
        std::string torn = sheet;
        torn.erase(at, 1);
        const std::string error = error_of(torn);
        if (error == "no error") {
            ++planned;
            continue;
        }
        ++refused;
        INFO("without character " << at << ": " << error);
        CHECK_THAT(error, ContainsSubstring(": got ") && ContainsSubstring(", expected "));
    }
    CHECK(planned > 0);
    CHECK(refused > 200);
}

TEST_CASE("cut_sheet: reads limits, remarks and metric quantities") {
    std::string text =
        replaced(sample, "thickness = 1 1/8 in to 1 1/2 in", "thickness = at least 25 mm ; as thick as you like");
    text = replaced(text, "portion = 10 oz to 12 1/2 oz", "portion = at most 400 g");
    std::istringstream in(text);
    const auto sheet = detail::read_cut_sheet<usd>(detail::read_sections(in));
    CHECK(sheet.cuts[0].thickness == quantity_range<length>{25.0 * millimetre, unlimited<length>()});
    CHECK(sheet.cuts[0].portion == quantity_range<mass>{mass{}, 400.0 * gram});
    CHECK(sheet.alternatives.at(0).ready.replaces == std::vector<std::string>{"strip steak", "halved fillet"});
}

} // namespace plan_a_loin_test
