// The calculations of the trade as a person runs them.
// SPDX-License-Identifier: BSL-1.0
#include <sstream>
#include <string>

#include <tranche/report/formats/plain_text.hpp>

#include "run_program.hpp"
#include "support/catch.hpp"

namespace trade_calculations_test {

using namespace tranche_test;

TEST_CASE("trade_calculations: prints the key line of each calculation, and says that it is invented") {
    const program_run run = run_example("trade_calculations");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, StartsWith("Invented scenario"));
    // Computed: 12.5 lb × 8.40 less 5.00 and 1.50 on 7.5 lb, and 12.5 × 0.70 more of it at 9.10.
    CHECK_THAT(run.out, ContainsSubstring("Cost of the salable meat                  98.50 USD") &&
                            ContainsSubstring("Cost by salable weight                 13.13 USD/lb") &&
                            ContainsSubstring("costs 14.30 USD/lb"));
    // 92.40 less 5.00 of mince, 6.5 of 10 lb; every method adds up to it.
    CHECK_THAT(run.out, ContainsSubstring("strip steaks   56.81      63.12       65.55     65.04") &&
                            ContainsSubstring("all            87.40      87.40       87.40     87.40"));
    CHECK_THAT(run.out, ContainsSubstring(" 1  centre cut") && ContainsSubstring(" 2  value tray") &&
                            ContainsSubstring("(2012): outside"));
    CHECK_THAT(run.out, ContainsSubstring("the lot                               passes") &&
                            ContainsSubstring("the scale                                holds") &&
                            ContainsSubstring("legal-for-trade scale"));
    std::istringstream lines(run.out);
    for (std::string line; std::getline(lines, line);) CHECK(tranche::detail::columns_of(line) <= 80);
}

} // namespace trade_calculations_test
