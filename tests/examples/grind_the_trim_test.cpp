// SPDX-License-Identifier: BSL-1.0
#include "run_program.hpp"
#include "support/catch.hpp"

namespace grind_the_trim_test {

using namespace tranche_test;

TEST_CASE("grind_the_trim: blends under the limit it names, and shows the cautions") {
    const program_run run = run_example("grind_the_trim");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, ContainsSubstring("30.0 %, 9 CFR 319.15(a)") && ContainsSubstring("the blend   20.0 %") &&
                            ContainsSubstring("the trim brings") && ContainsSubstring("it saves") &&
                            ContainsSubstring("legal-for-trade scale"));
}

} // namespace grind_the_trim_test
