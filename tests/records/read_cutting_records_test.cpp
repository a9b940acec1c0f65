// What a table of cutting tests may say, and how it is told what it may not.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/records/read_cutting_records.hpp>
#include <tranche/units/literals.hpp>

#include <string>

#include "support/catch.hpp"

namespace read_cutting_records_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const std::string head = "date,supplier,grade,note,bought_g,usable_g,strips_g,dice_g,grind_g,rendering_g,discard_g,"
                         "cutting_loss_g,purge_g,predicted_yield\n";
const std::string first = "2026-03-02,\"North, Ltd.\",choice,,5400,3900.5,120,0,480,740,0,20.000001,54,0.735\n";
const std::string other = "2026-02-27,South,,late,5600,3950,0,0,600,800,0,15,40,\n";

std::string error_of(const std::string& text, mass tolerance = mass{}) {
    try {
        (void)read_cutting_records(text, tolerance);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "no error";
}

/// The error where `what` in the first line of weights became `with`.
std::string error_with(const std::string& what, const std::string& with) {
    std::string line = first;
    const auto at = line.find(what);
    REQUIRE(at != std::string::npos);
    return error_of(head + line.replace(at, what.size(), with) + other);
}

} // namespace

TEST_CASE("a table of cutting tests is read to the microgram, in the order of its lines") {
    const auto records = read_cutting_records(head + first + other);
    REQUIRE(records.size() == 2);
    const cutting_record& r = records[0];
    CHECK(r.date == std::chrono::year(2026) / 3 / 2);
    CHECK(r.supplier == "North, Ltd.");
    CHECK(r.grade == "choice");
    CHECK(r.note.empty());
    CHECK(to_micrograms(r.bought) == micrograms{5'400'000'000});
    CHECK(to_micrograms(r.usable) == micrograms{3'900'500'000});
    CHECK(to_micrograms(r.by_products[destination::strips]) == micrograms{120'000'000});
    CHECK(to_micrograms(r.by_products[destination::grind]) == micrograms{480'000'000});
    CHECK(to_micrograms(r.by_products[destination::rendering]) == micrograms{740'000'000});
    CHECK(to_micrograms(r.cutting_loss) == micrograms{20'000'001});
    CHECK(to_micrograms(r.purge) == micrograms{54'000'000});
    CHECK(r.predicted_yield == 0.735);
    CHECK(records[1].note == "late");
    CHECK_FALSE(records[1].predicted_yield);
    CHECK(records[1].date < records[0].date); // unordered dates are fine
}

TEST_CASE("an error names line, column, text and expectation") {
    CHECK(error_of(head + first + other) == "no error");
    CHECK(error_with("2026-03-02", "2026-3-02") ==
          "line 2, column 1 (date): got \"2026-3-02\", expected a date such as 2026-03-14");
    CHECK(error_with("2026-03-02", "2026-02-30") ==
          "line 2, column 1 (date): got \"2026-02-30\", expected a day of the calendar");
    CHECK_THAT(error_with("2026-03-02", "02/03/2026"), StartsWith("line 2, column 1 (date): got \"02/03/2026\""));
    CHECK_THAT(error_with("2026-03-02", "2026-13-02"), EndsWith("expected a day of the calendar"));
    CHECK_THAT(error_with("2026-03-02", "+026-03-02"), StartsWith("line 2, column 1"));
    CHECK_THAT(error_with("2026-03-02", "2026-03-02T10:00"), StartsWith("line 2, column 1"));
    for (const char* bad : {"", "5,4", "5.4e3", "-5400", "+5400", "5400 g", " 5400", "nan", "inf", "5400.", ".5",
                            "5400.0000001", "1234567890", "5'400", "0x10"}) {
        INFO(bad);
        if (std::string(bad) == "5,4") {
            CHECK_THAT(error_with("5400", bad), StartsWith("line 2: got 15 cells, expected 14"));
            continue;
        }
        CHECK(error_with("5400", bad) ==
              "line 2, column 5 (bought_g): got \"" + std::string(bad) +
                  "\", expected grams such as 340 or 340.5, with at most nine digits and six "
                  "decimals");
    }
    for (const char* bad : {"73.5", "-0.1", "nan", "73.5 %", "1.0001", "7e-1", "0.7.3", "inf"})
        CHECK(error_with("0.735", bad) == "line 2, column 14 (predicted_yield): got \"" + std::string(bad) +
                                              "\", expected a share, 0 to 1, or nothing");
    CHECK_THAT(error_with("\"North, Ltd.\"", ""), StartsWith("line 2, supplier: got nothing"));
    CHECK_THAT(error_with("choice", " choice"), StartsWith("line 2, grade: got \" choice\""));
    CHECK_THAT(error_with("choice", "\"two\nlines\""), StartsWith("line 2, grade"));
    CHECK_THAT(error_with("5400", "0"), StartsWith("line 2, bought: got 0 g"));
    CHECK_THAT(error_with("3900.5", "4090.5"),
               StartsWith("line 2, parts: got 5504.5 g in all") && EndsWith("too heavy by 104.5 g"));
    CHECK(error_of(head + "2026-03-02,N,,,100,101,0,0,0,0,0,0,0,\n", 1_g) == "no error");
}

TEST_CASE("headings are taken as they should be and nothing else") {
    CHECK_THAT(error_of(""), StartsWith("table: got nothing"));
    CHECK_THAT(error_of(head), StartsWith("table: got only headings, expected at least one cutting test"));
    CHECK(error_of("date,supplier\n") == "line 1, column 3: got \"\", expected the heading grade");
    CHECK(error_of("day" + head.substr(4) + first) == "line 1, column 1: got \"day\", expected the heading date");
    std::string more = head;
    more.insert(more.size() - 1, ",extra");
    CHECK(error_of(more) == "line 1, column 15: got \"extra\", expected no more columns");
    CHECK(error_of("\xEF\xBB\xBF" + head + first) == "no error");
}

TEST_CASE("a test entered twice is refused and two alike with notes are not") {
    CHECK(error_of(head + first + other + first) ==
          "line 4: got the same as in line 2, expected each test once; give two loins alike a note");
    std::string spelled = first; // otherwise, but the same weights
    spelled.replace(spelled.find("5400"), 4, "05400.00");
    CHECK_THAT(error_of(head + first + spelled), StartsWith("line 3: got the same as in line 2"));
    std::string noted = first;
    noted.replace(noted.find("choice,,"), 8, "choice,second loin,");
    CHECK(error_of(head + first + noted) == "no error"); // of one date
}

TEST_CASE("an apostrophe in front of a formula is the spreadsheet's and not the text's") {
    const auto note_of = [](const std::string& cell) {
        return read_cutting_records(head + "2026-03-02,N,," + cell + ",100,90,0,0,0,0,0,0,0,\n").at(0).note;
    };
    CHECK(note_of("'=1+2") == "=1+2");
    CHECK(note_of("'-2 degrees on arrival") == "-2 degrees on arrival");
    CHECK(note_of("''@home") == "'@home");
    CHECK(note_of("'quoted'") == "'quoted'");
    CHECK(note_of("=1") == "=1"); // written by hand
    CHECK(note_of("'") == "'");
}

} // namespace read_cutting_records_test
