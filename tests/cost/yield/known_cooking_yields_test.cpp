// The cooking yields as their sources print them.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <string>

#include <tranche/cost/yield/known_cooking_yields.hpp>
#include <tranche/text/to_text.hpp>

#include "support/catch.hpp"

namespace known_cooking_yields_test {

using namespace tranche;
using namespace tranche_test;

namespace {

/// "76.3 to 80.4 %", to as many digits as asked for.
std::string yield_of(const std::string& cut, const std::string& method, int digits) {
    const auto found = std::find_if(known_cooking_yields.begin(), known_cooking_yields.end(),
                                    [&](const cooking_yield& y) { return y.cut == cut && y.method == method; });
    if (found == known_cooking_yields.end()) return "none";
    if (found->low == found->high) return percent_text(found->low, digits);
    return to_text(100.0 * found->low, digits) + " to " + percent_text(found->high, digits);
}

} // namespace

TEST_CASE("known_cooking_yields: give the printed percentages of grilled strip steaks") {
    // USDA SR28 mean weights, computed: 235 of 302 g and so on, to three digits.
    CHECK(yield_of("strip steak, lip on, 1/8 in fat", "grilled", 1) == "77.8 %");
    CHECK(yield_of("strip steak, lip on, 1/8 in fat, choice", "grilled", 1) == "78.4 %");
    CHECK(yield_of("strip steak, lip on, 1/8 in fat, select", "grilled", 1) == "77.0 %");
    CHECK(yield_of("strip steak, lip off, 0 in fat, choice", "grilled", 1) == "80.8 %");
    CHECK(yield_of("strip steak, lip off, 0 in fat, select", "grilled", 1) == "80.6 %");
    CHECK(yield_of("strip steak, prime, without refuse", "broiled", 1) == "69.0 %");
}

TEST_CASE("known_cooking_yields: give the complement of the printed losses") {
    // Losses read in the sources: 23.7 to 19.6 %, 27.66 to 19.89 %, 15.09 and 13.13 %.
    CHECK(yield_of("beef longissimus", "several studies", 1) == "76.3 to 80.4 %");
    CHECK(yield_of("beef sirloin", "three methods", 2) == "72.34 to 80.11 %");
    CHECK(yield_of("pork steak, 1.5 to 2.0 cm", "medium-rare", 2) == "84.91 to 86.87 %");
    CHECK(yield_of("ribeye", "roasted", 0) == "76 %");
}

TEST_CASE("known_cooking_yields: are shares with a source and a word on how they are known") {
    for (const cooking_yield& y : known_cooking_yields) {
        INFO(y.cut << ", " << y.method);
        CHECK(y.low > 0.5);
        CHECK(y.low <= y.high);
        CHECK(y.high < 1.0);
        CHECK_FALSE(y.source.empty());
        // What is said to be recalled has no source read, and the other way round.
        CHECK((y.known == detail::known_by::memory) == (y.source.find("no source read") != std::string::npos));
    }
    CHECK(name_of(detail::known_by::reading) == "read in the source");
    CHECK(name_of(detail::known_by::computing) == "computed from the source");
    CHECK(name_of(detail::known_by::memory) == "from memory");
}

} // namespace known_cooking_yields_test
