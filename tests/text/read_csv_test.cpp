// RFC 4180 (2005), section 2, rule by rule; and what breaks it.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/text/read_csv.hpp>

#include <string>
#include <vector>

#include "support/catch.hpp"

namespace read_csv_test {

using namespace tranche;
using namespace tranche_test;

namespace {

using cells = std::vector<std::vector<std::string>>;

cells read(const std::string& text) {
    cells result;
    for (const csv_row& row : read_csv(text)) result.push_back(row.cells);
    return result;
}

} // namespace

// The examples of RFC 4180, section 2 (from memory, as are its rules).
TEST_CASE("records are read by the rules of the standard") {
    CHECK(read("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == cells{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read("aaa,bbb,ccc\r\nzzz,yyy,xxx") == cells{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx") == cells{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") ==
          cells{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read("\"aaa\",\"b\"\"bb\",\"ccc\"") == cells{{"aaa", "b\"bb", "ccc"}});
    CHECK(read(" a , b ") == cells{{" a ", " b "}}); // spaces belong to the cell
    CHECK(read("\"a,b\"\r\n") == cells{{"a,b"}});
}

TEST_CASE("lines may end with a line feed alone and a byte order mark is left out") {
    CHECK(read("\xEF\xBB\xBF"
               "a,b\nc,d\n") == cells{{"a", "b"}, {"c", "d"}});
    CHECK(read("a,\nb,\"\"") == cells{{"a", ""}, {"b", ""}});
    CHECK(read("\n") == cells{{""}});
}

TEST_CASE("rows know the line that they start at") {
    const auto rows = read_csv("a,b\r\n\"1\r\n2\n3\",c\r\nd,e\r\n");
    REQUIRE(rows.size() == 3);
    CHECK(rows[1].line == 2);
    CHECK(rows[2].line == 5);
    CHECK(csv_place(rows[2], 1) == "line 5, column 2");
}

TEST_CASE("what breaks the rules is named by line and column") {
    CHECK_THROWS_WITH(read_csv(""), Equals("table: got nothing, expected a line of headings"));
    CHECK_THROWS_WITH(read_csv("\xEF\xBB\xBF"), StartsWith("table: got nothing"));
    CHECK_THROWS_WITH(read_csv("a,b\nc\n"), Equals("line 2: got 1 cells, expected 2, as many as in the first line"));
    CHECK_THROWS_WITH(read_csv("a,b\n\nc,d\n"), StartsWith("line 2: got 1 cells"));
    CHECK_THROWS_WITH(read_csv("a,b\nc,d,e\n"), StartsWith("line 2: got 3 cells, expected 2"));
    CHECK_THROWS_WITH(
        read_csv("a,b\nc,d\"e\n"),
        Equals("line 2, column 2: got \"d\"e\", expected quotes around the whole cell, doubled inside it"));
    CHECK_THROWS_WITH(read_csv("a,b\nc,\"d\"e\n"),
                      Equals("line 2, column 2: got \"e\", expected a comma or the end of the line after a cell"));
    CHECK_THROWS_WITH(read_csv("a,b\n\"c,d\ne,f\n"),
                      StartsWith("line 2, column 1: got \"\"c,d") && EndsWith("expected a closing quote"));
    CHECK_THROWS_WITH(read_csv("a,b\rc,d\n"), StartsWith("line 1, column 2: got \"\r\""));
    CHECK_THROWS_WITH(read_csv("a,b\nc,d\xFF\n"),
                      Equals("line 2, column 2: got bytes that are no UTF-8, expected UTF-8 text"));
    CHECK_THROWS_WITH(read_csv(std::string(100, 'x').insert(0, "a,\"")), ContainsSubstring("xxx...\""));
}

TEST_CASE("a replacement character that the text has itself is read") {
    CHECK(read("a,b\r\nx\xEF\xBF\xBD,1\r\n") == cells{{"a", "b"}, {"x\xEF\xBF\xBD", "1"}});
}

TEST_CASE("a cell in an error is cut between characters") {
    for (std::size_t n = 0; n < 4; ++n) {
        const std::string cell = std::string(n, 'x') + "肉肉肉肉肉肉肉肉肉肉肉肉肉肉肉肉肉肉\"";
        try {
            (void)read_csv(cell);
            FAIL_CHECK("accepted");
        } catch (const invalid_input& error) {
            CHECK(detail::is_plain_line(error.value()));
            CHECK_THAT(error.value(), EndsWith("肉...\""));
        }
    }
}

} // namespace read_csv_test
