// SPDX-License-Identifier: BSL-1.0
#include <tranche/text/write_csv.hpp>

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

} // namespace write_csv_test
