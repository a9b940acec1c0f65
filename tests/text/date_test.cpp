// That days are read as they are written where it is clear which day is meant.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <chrono>

#include <tranche/text/date.hpp>

namespace date_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("a day is read in figures of ISO 8601, or with the month as a word") {
    const std::chrono::year_month_day day{std::chrono::year(2026), std::chrono::month(3), std::chrono::day(4)};
    for (const char* text : {"2026-03-04", "4 March 2026", "04 mar 2026", "March 4, 2026", "MAR. 4 2026"}) {
        CAPTURE(text);
        CHECK(date_from_text(text) == day);
    }
    CHECK(date_text(day) == "2026-03-04");
    CHECK(date_from_text(date_text(day)) == day);
}

TEST_CASE("a day that could be another one, or is in no calendar, is refused") {
    for (const char* text :
         {"", "03/04/2026", "4.3.2026", "2026-3-4", "tomorrow", "4 March 26", "4 M 2026", "March 2026"}) {
        CAPTURE(text);
        CHECK_THROWS_WITH(date_from_text(text, "the day"),
                          StartsWith("the day: got") && ContainsSubstring("such as 2026-03-14"));
    }
    for (const char* text : {"2026-02-29", "30 February 2026", "2026-13-01", "2026-00-10"}) {
        CAPTURE(text);
        CHECK_THROWS_WITH(date_from_text(text), ContainsSubstring("a day of the calendar"));
    }
}

} // namespace date_test
