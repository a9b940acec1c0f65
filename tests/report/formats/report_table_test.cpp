// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/formats/report_table.hpp>

#include <algorithm>
#include <cstddef>
#include <sstream>
#include <string>

#include "support/catch.hpp"

namespace report_table_test {

using namespace tranche;
using namespace tranche_test;

namespace {

const auto right = report_table::align::right;

} // namespace

TEST_CASE("a table sets words to the left, numbers to the right and a rule above a total") {
    const report_table table{.columns = {{"Cut"}, {"Weight, oz", right}},
                             .rows = {{.cells = {"strip steak", "12"}}, {.cells = {"all", "12 1/4"}, .total = true}}};
    CHECK(text_table(table) == "             Weight,\n"
                               "Cut               oz\n"
                               "-----------  -------\n"
                               "strip steak       12\n"
                               "-----------  -------\n"
                               "all           12 1/4\n");
}

TEST_CASE("a table without heads has no row of heads") {
    const report_table table{.columns = {{""}, {""}}, .rows = {{.cells = {"Length", "16 1/2 in"}}}};
    CHECK(text_table(table) == "Length  16 1/2 in\n");
}

TEST_CASE("a table that is too wide wraps its words before its numbers") {
    const report_table table{.columns = {{"Cut"}, {"Weight", right}},
                             .rows = {{.cells = {"a steak with a name as long as a speech", "1000 lb 15 3/4 oz"}}}};
    CHECK(text_table(table, 40) == "Cut                               Weight\n"
                                   "---------------------  -----------------\n"
                                   "a steak with a name    1000 lb 15 3/4 oz\n"
                                   "as long as a speech\n");
}

TEST_CASE("a table never runs wider than asked, whatever its cells hold") {
    const std::string word(200, 'x');
    const report_table table{.caption = word,
                             .columns = {{"Cut"}, {word, right}, {"Weight", right}, {"Größe"}},
                             .rows = {{.cells = {word, "1", word, "和牛和牛和牛"}}, {.cells = {"", word, "", ""}}}};
    for (const std::size_t width : {20U, 40U, 80U}) {
        std::istringstream lines(text_table(table, width));
        std::size_t letters = 0;
        for (std::string line; std::getline(lines, line);) {
            CHECK(detail::columns_of(line) <= width);
            for (const char c : line) letters += c == 'x' ? 1U : 0U;
        }
        CHECK(letters == 5 * word.size());
    }
}

TEST_CASE("a cell of a million characters leaves its table as wide as asked") {
    const std::size_t size = 1'000'000;
    const report_table table{.columns = {{"Cut"}, {"Weight", right}},
                             .rows = {{.cells = {std::string(size, 'x'), "12 lb 6 oz"}}}};
    const std::string text = text_table(table, 42); // 30 for the cut, 2 between, 10 for the weight
    CHECK_THAT(text,
               StartsWith("Cut" + std::string(27, ' ') + "      Weight\n" + std::string(30, '-') + "  ----------\n" +
                          std::string(30, 'x') + "  12 lb 6 oz\n" + std::string(30, 'x') + '\n'));
    CHECK(static_cast<std::size_t>(std::count(text.begin(), text.end(), 'x')) == size);
}

} // namespace report_table_test
