// SPDX-License-Identifier: BSL-1.0
#include <tranche/text/read_csv.hpp>
#include <tranche/text/write_csv.hpp>

#include <cstddef>
#include <random>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace write_csv_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("a name that a spreadsheet would take for a formula gets an apostrophe") {
    CHECK(detail::csv_text("=1+2") == "'=1+2");
    CHECK(detail::csv_text("+1") == "'+1");
    CHECK(detail::csv_text("-1") == "'-1");
    CHECK(detail::csv_text("@sum") == "'@sum");
    CHECK(detail::csv_text(" =1") == "' =1");
    CHECK(detail::csv_text("\t=1") == "' =1");
    CHECK(detail::csv_text("=a(\"b\",1)") == "\"'=a(\"\"b\"\",1)\"");
    CHECK(detail::csv_text("\u00A0=1") == "'\u00A0=1"); // behind a no-break space
    CHECK(detail::csv_text("＝1+2") == "'＝1+2");       // full-width
    CHECK(detail::csv_text("＠sum") == "'＠sum");
    CHECK(detail::csv_text("steak = good") == "steak = good");
    CHECK(detail::csv_text("") == "");
}

TEST_CASE("what was written of any text is read back as that text, made printable") {
    std::mt19937 random(45);
    const std::vector<std::string> pieces{"=", "+",  "-",  "@",  "1",  "'",  " ",      "\"",  ",",
                                          "A", "肉", "\t", "＝", "\n", "\r", "\u00A0", "\xFF"};
    for (int i = 0; i < 5000; ++i) {
        std::vector<std::string> texts(1 + random() % 4), cells;
        for (std::string& text : texts) {
            for (auto n = random() % 7; n > 0; --n) text += pieces[random() % pieces.size()];
            cells.push_back(detail::csv_text(text));
        }
        CAPTURE(texts);
        const std::vector<csv_row> rows = read_csv(detail::csv_record(cells) + detail::csv_record(cells));
        REQUIRE(rows.size() == 2);
        REQUIRE(rows[0].cells == rows[1].cells);
        for (std::size_t k = 0; k < texts.size(); ++k) {
            REQUIRE_FALSE(detail::looks_like_formula(rows[0].cells[k]));
            REQUIRE(detail::unguarded(rows[0].cells[k]) == detail::printable(texts[k]));
        }
    }
}

} // namespace write_csv_test
