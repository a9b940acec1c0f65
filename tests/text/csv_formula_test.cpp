// That a text which a spreadsheet would take for a formula is known as one, however it is disguised.
// SPDX-License-Identifier: BSL-1.0
#include <string>

#include <tranche/text/detail/csv_formula.hpp>

#include "support/catch.hpp"

namespace csv_formula_test {

using namespace tranche;
using namespace tranche_test;

// The characters of CWE-1236; forms and spaces by the Unicode Character Database 15 (quoted from memory).
TEST_CASE("a formula is known by its first character in every form and behind every blank") {
    for (const std::string sign : {"=", "+", "-", "@", "＝", "＋", "－", "＠", "﹦", "﹢", "﹣", "﹫"}) {
        CAPTURE(sign);
        CHECK(detail::looks_like_formula(sign));
        CHECK_FALSE(detail::looks_like_formula("1" + sign + "1"));
        CHECK_FALSE(detail::looks_like_formula("'" + sign));
        CHECK(detail::is_guarded_formula("'" + sign + "1"));
        CHECK(detail::is_guarded_formula("'' " + sign));
        CHECK_FALSE(detail::is_guarded_formula(sign + "1"));
        CHECK_FALSE(detail::is_guarded_formula(" '" + sign));
        for (const std::string blank : {" ", "\t", "\r\n", "\u00A0", "\u2003", "\u200B", "\u202F", "\u2060", "\u3000",
                                        "\uFEFF", "\u00AD", " \u00A0 "})
            CHECK(detail::looks_like_formula(blank + sign + "1"));
    }
    for (const std::string plain : {"", " ", "steak = good", "1-2", "ŭ=", "−5", "'", "\xFF=1"}) {
        CAPTURE(plain);
        CHECK_FALSE(detail::looks_like_formula(plain));
        CHECK_FALSE(detail::is_guarded_formula(plain));
    }
}

} // namespace csv_formula_test
