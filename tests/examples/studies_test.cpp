// The studies as a person runs them: their tables, and the pictures that they draw where they are told to.
// SPDX-License-Identifier: BSL-1.0
#include <filesystem>
#include <string>

#include "run_program.hpp"
#include "support/catch.hpp"

namespace studies_test {

using namespace tranche_test;

namespace {

const std::filesystem::path root = std::filesystem::path(TRANCHE_EXAMPLES_SOURCE_DIR).parent_path();

/// Runs a study with a folder for its picture; what it printed.
std::string table_of(const std::string& program) {
    const scratch_folder folder;
    const program_run run = run_example(program, '\'' + folder.path.string() + '\'');
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(contents(folder.path / (program + ".svg")), StartsWith("<svg") && ContainsSubstring("</svg>"));
    REQUIRE_FALSE(run.out.empty());
    CHECK_THAT(contents(root / "docs" / "loin_studies.md"), ContainsSubstring("```\n" + run.out + "```"));
    return run.out;
}

} // namespace

TEST_CASE("thickness_study: compares thicknesses loin by loin") {
    const std::string table = table_of("thickness_study");
    CHECK_THAT(table, ContainsSubstring("steaks sold") && ContainsSubstring("36 mm") && ContainsSubstring("+/-"));
}

TEST_CASE("buying_study: says how many loins of each range it takes") {
    const std::string table = table_of("buying_study");
    CHECK_THAT(table, ContainsSubstring("4.5 to 5.4 kg") && ContainsSubstring("95 % sure"));
}

TEST_CASE("steady_hand: says what each way to cut keeps as the hand gets less steady") {
    const std::string table = table_of("steady_hand");
    CHECK_THAT(table, ContainsSubstring("planned again") && ContainsSubstring("0.0 mm           100 %"));
}

} // namespace studies_test
