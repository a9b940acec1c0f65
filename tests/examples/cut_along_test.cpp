// The session beside the board, as a script drives it: weights in, cuts out, words, ends and exit statuses.
// SPDX-License-Identifier: BSL-1.0
#include <filesystem>
#include <fstream>
#include <string>

#include <tranche/records.hpp>

#include "run_program.hpp"
#include "sample_sheet.hpp"
#include "support/catch.hpp"

namespace cut_along_test {

using namespace tranche_test;

namespace {

program_run session(const std::string& input, const std::string& arguments = {}) {
    return run_example("cut_along", arguments, input);
}

std::size_t count_of(const std::string& text, const std::string& what) {
    std::size_t count = 0;
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size())) ++count;
    return count;
}

/// What stands behind the last "Cut ".
std::string last_advice(const std::string& out) {
    const std::string told = out.substr(0, out.find("\nWhat was cut"));
    return told.substr(told.rfind("\nCut ") + 1);
}

std::string replaced(std::string text, const std::string& what, const std::string& with) {
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size()))
        text.replace(at, what.size(), with);
    return text;
}

} // namespace

TEST_CASE("cut_along: shows the cautions and where the first cut goes before it asks for a weight") {
    const program_run run = session("");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, ContainsSubstring("invented") && ContainsSubstring("guard or mail glove"));
    CHECK_THAT(run.out, ContainsSubstring("Cut 1: facing, 1/4 in thick, the knife at 1/4 in from the rib end"));
    CHECK(run.out.find("mail glove") < run.out.find("Cut 1"));
    CHECK(run.out.find("Cut 1") < run.out.find("Weight?"));
    CHECK_THAT(run.out,
               ContainsSubstring("Slabs 0 oz, rest 11 lb 15 oz, unaccounted for 0 oz: the loin, 11 lb 15 oz."));
}

TEST_CASE("cut_along: takes weights and thicknesses and says what a slab has become") {
    const program_run run = session("3 1/4 oz\n22 oz, 1 5/8 in\n17 oz\n");
    CHECK(run.status == 0);
    CHECK(count_of(run.out, "Weight?") == 4);
    CHECK_THAT(run.out, ContainsSubstring("give or take"));
    CHECK_THAT(run.out, ContainsSubstring("within") || ContainsSubstring("too heavy; trim"));
    CHECK_THAT(run.out, ContainsSubstring("Slabs 2 lb 10 1/4 oz, rest 9 lb 4 3/4 oz, unaccounted for 0 oz"));
}

TEST_CASE("cut_along: takes a loin to its end and asks for nothing more") {
    // As many slabs of 13 oz as the loin gives; what does not fit is the end.
    std::string input = "3 1/4 oz\n";
    for (int i = 0; i < 20; ++i) input += "13 oz\n";
    const program_run run = session(input);
    CHECK((run.status == 0 || run.status == 4)); // whether the last of them is refused hangs on what is left
    CHECK_THAT(run.out, ContainsSubstring("What was cut:"));
    CHECK(count_of(run.out, "\nCut ") >= 12);
    // Nothing is asked behind the account.
    CHECK(run.out.rfind("Weight?") < run.out.find("What was cut:"));
}

TEST_CASE("cut_along: undo brings back the advice that was") {
    const std::string before = last_advice(session("3 1/4 oz\n").out);
    const std::string after = last_advice(session("3 1/4 oz\n24 oz\nundo\n").out);
    REQUIRE_THAT(before, StartsWith("Cut 2: "));
    const auto advice = [](const std::string& text) { return text.substr(0, text.find("Weight?")); };
    CHECK(advice(after) == advice(before));
    CHECK_THAT(session("undo\n").out, ContainsSubstring("nothing to take back"));
}

TEST_CASE("cut_along: the weight of the rest moves the advice") {
    const program_run run = session("3 1/4 oz\n22 oz\nrest 10 lb\n");
    CHECK(run.status == 0);
    const auto estimates = count_of(run.out, "what was thought for its length");
    CHECK(estimates == 3);
    CHECK_THAT(session("plan\n").out, ContainsSubstring("planned from there:") && ContainsSubstring("strip steak"));
}

TEST_CASE("cut_along: ends at the word, with the rest weighed or not, and takes nothing behind it") {
    const program_run plain = session("3 1/4 oz\nend\n22 oz\n");
    CHECK(plain.status == 0);
    CHECK_THAT(plain.out, ContainsSubstring("Slabs 3 1/4 oz, rest 11 lb 11 3/4 oz, unaccounted for 0 oz"));
    const program_run weighed = session("3 1/4 oz\nend 11 lb 11 oz\n");
    CHECK(weighed.status == 0);
    CHECK_THAT(weighed.out, ContainsSubstring("rest 11 lb 11 oz, unaccounted for 3/4 oz: the loin, 11 lb 15 oz"));
}

TEST_CASE("cut_along: says by its exit status what went wrong") {
    const scratch_folder folder;
    const auto sheet = folder.path / "sheet.ini";
    const auto with_sheet = [&](const std::string& text, const std::string& input) {
        std::ofstream(sheet) << text;
        return session(input, "'" + sheet.string() + "'");
    };
    const std::string sample{example::sample_sheet_text};
    CHECK(with_sheet(sample, "3 1/4 oz\n").out == session("3 1/4 oz\n").out);
    const program_run help = session("", "--help");
    CHECK(help.status == 0);
    CHECK_THAT(help.out, ContainsSubstring("Exit status") && ContainsSubstring("undo"));

    std::string hopeless = sample;
    for (const char* limits : {"1 1/8 in to 1 1/2 in", "1 1/2 in to 2 1/4 in", "3/4 in to 1 1/4 in"})
        hopeless = replaced(hopeless, limits, "40 in to 50 in");
    CHECK(with_sheet(hopeless, "3 oz\n").status == 1);
    CHECK(with_sheet(replaced(sample, "weight = 12 lb 2 oz", "weight = 12 lb 2 ozz"), "").status == 2);
    CHECK(session("", "--no-such-option").status == 2);
    CHECK(session("", "one two").status == 2);
    CHECK(session("", "'" + folder.path.string() + "/absent.ini'").status == 3);
    CHECK(session("", "'" + folder.path.string() + "'").status == 3);
}

TEST_CASE("cut_along: leaves out a line that cannot be right, and says so") {
    for (const char* line : {"3 ozz", "-3 oz", "0 oz", "40 lb", "nan", "rest 2 oz", "rest", "3 1/4 oz, 40 in",
                             "end soon", "3 1/4 oz,", ", 1 in", "stop", "3 1/4 oz, 2 in"}) {
        CAPTURE(line);
        const program_run run = session(std::string(line) + "\n3 1/4 oz # the facing\n\n   \nend\n");
        CHECK(run.status == 4);
        CHECK(count_of(run.out, "not taken: ") == 1);
        // The line behind it was taken as the first slab.
        CHECK_THAT(run.out, ContainsSubstring("Slabs 3 1/4 oz, rest 11 lb 11 3/4 oz"));
    }
}

TEST_CASE("cut_along: follows whatever the sheet plans for") {
    const scratch_folder folder;
    const auto sheet = folder.path / "sheet.ini";
    const auto run_for = [&](const std::string& what, const std::string& with) {
        std::ofstream(sheet) << replaced(std::string(example::sample_sheet_text), what, with);
        return session("3 1/4 oz\nplan\n", "'" + sheet.string() + "'");
    };
    for (const char* aim : {"most portions", "least waste", "least giveaway", "even portions", "fewest settings"}) {
        const program_run run = run_for("plan for = best value", std::string("plan for = ") + aim);
        CHECK(run.status == 0);
        CHECK_THAT(run.out, ContainsSubstring("Cut 2: "));
    }
    const program_run none = run_for("[cut halved fillet]\n", "[cut halved fillet]\nnumber = at most 0\n");
    CHECK(none.status == 0);
    CHECK_THAT(none.out, ContainsSubstring(": end steak, about ") && !ContainsSubstring("halved fillet"));
    const program_run too_many = run_for("[cut halved fillet]\n", "[cut halved fillet]\nnumber = 90\n");
    CHECK(too_many.status == 0);
    CHECK_THAT(too_many.out, ContainsSubstring("halved fillet: 90 more asked for"));
}

TEST_CASE("cut_along: takes numbers in the units of the sheet, and words in any case") {
    const program_run run = session("3.25\nUNDO\n3 1/4\nPlan\nHELP\nEND\n");
    CHECK(run.status == 0);
    CHECK_THAT(run.out, ContainsSubstring("Slabs 3 1/4 oz, rest 11 lb 11 3/4 oz"));
    CHECK_THAT(run.out, ContainsSubstring("takes a reading that was asked back"));
    CHECK_THAT(run.out, ContainsSubstring("as it comes off")); // the plan has weights
}

TEST_CASE("cut_along: asks back what can hardly be, and suspects a lost decimal point aloud") {
    // The slab is to weigh about 22 oz.
    const program_run again = session("3 1/4 oz\n2.2 oz\n22 oz\nend\n");
    CHECK(again.status == 0);
    CHECK_THAT(again.out, ContainsSubstring("a decimal point may be lost, and 22 oz be meant"));
    CHECK_THAT(again.out, ContainsSubstring("Slabs 1 lb 9 1/4 oz"));
    const program_run sure = session("3 1/4 oz\n2.2 oz\nyes\nend\n");
    CHECK_THAT(sure.out, ContainsSubstring("Slabs 5 1/2 oz"));
    const program_run none = session("3 1/4 oz\nyes\nend\n");
    CHECK_THAT(none.out, ContainsSubstring("nothing was asked"));
    const program_run much = session("3 1/4 oz\n14 lb\nend\n");
    CHECK(much.status == 4);
    CHECK_THAT(much.out, ContainsSubstring("no more than what is left of the loin"));
    const program_run little = session("3 1/4 oz\nend 2 lb\nend 11 lb 11 oz\n");
    CHECK(little.status == 0);
    CHECK_THAT(little.out,
               ContainsSubstring("are missing from the loin then") && ContainsSubstring("rest 11 lb 11 oz"));
}

TEST_CASE("cut_along: offers what a heavy slab may become, and counts it as what is said") {
    const program_run heavy = session("3 1/4 oz\n30 oz\nend\n");
    CHECK_THAT(heavy.out, ContainsSubstring("too heavy by") &&
                              ContainsSubstring("it becomes trimmed down to 2 of 8 oz") &&
                              ContainsSubstring("or say leave: left as it is"));
    CHECK_THAT(heavy.out, ContainsSubstring("2 halved fillet") && ContainsSubstring("16 oz"));
    const program_run left = session("3 1/4 oz\n30 oz\nleave\nend\n");
    CHECK_THAT(left.out, ContainsSubstring("noted: left as it is"));
    const auto slab_line = [](const std::string& out) {
        const auto at = out.find("\n2 halved fillet");
        return out.substr(at + 1, out.find("\n", at + 1) - at - 1);
    };
    CHECK(slab_line(left.out) != slab_line(heavy.out));
    CHECK_THAT(session("3 1/4 oz\nhalve\n").out, ContainsSubstring("a slab of portions that was just weighed"));
    CHECK_THAT(session("3 1/4 oz\n22 oz\nas nothing\n").out, ContainsSubstring("not taken: slab"));
}

TEST_CASE(
    "cut_along: says planned against cut at the end: counts, yield, money, slab by slab, and where it came from") {
    std::string input = "3 1/4 oz\n";
    for (int i = 0; i < 20; ++i) input += "13 oz\n";
    const program_run run = session(input);
    for (const char* part : {"Planned and cut", "Yield of portions", "Cost each", "Slab by slab", "Standard and actual",
                             "Usage (portions heavier than planned)", "All portions"})
        CHECK_THAT(run.out, ContainsSubstring(part));
}

TEST_CASE("cut_along: keeps a session after each line, goes on with it, and writes a record that records read") {
    const scratch_folder folder;
    const std::string keeps = "--folder '" + folder.path.string() + "'";
    const program_run first = session("3 1/4 oz\n22 oz\nquit\n", keeps);
    CHECK(first.status == 0);
    CHECK_THAT(first.out, ContainsSubstring("start again to go on"));
    REQUIRE(std::filesystem::exists(folder.path / "session.csv"));
    const program_run second = session("plan\nundo\n22 oz\nend\n", keeps);
    CHECK_THAT(second.out, ContainsSubstring("2 slabs are cut") && ContainsSubstring("Slabs 1 lb 9 1/4 oz"));
    CHECK_FALSE(std::filesystem::exists(folder.path / "session.csv"));
    const program_run third = session("3 1/4 oz\n22 oz\nend\n", keeps + " --new");
    CHECK(third.status == 0);
    const auto records = tranche::read_cutting_records(contents(folder.path / "records.csv"));
    REQUIRE(records.size() == 2); // the second is told apart by its note
    for (const auto& record : records) {
        CHECK(record.bought / tranche::pound == Approx(12.125));
        CHECK(record.unaccounted().count <= 5);
        CHECK(record.predicted_yield);
    }
    // A session of another loin is refused, and stays.
    session("3 1/4 oz\nquit\n", keeps);
    const auto sheet = folder.path / "other.ini";
    std::ofstream(sheet) << replaced(std::string(example::sample_sheet_text), "weight on the board = 11 lb 15 oz",
                                     "weight on the board = 11 lb 14 oz");
    const program_run other = session("", keeps + " '" + sheet.string() + "'");
    CHECK(other.status == 2);
    CHECK(std::filesystem::exists(folder.path / "session.csv"));
    // A table that was cut off is refused by its place.
    std::ofstream(folder.path / "session.csv") << "what,value\r\nwhole_ug,12\r\n";
    CHECK(session("", keeps).status == 2);
}

} // namespace cut_along_test
