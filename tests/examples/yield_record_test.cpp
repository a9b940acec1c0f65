// The record as a person looks at it: tables on the screen, a chart in a file.
// SPDX-License-Identifier: BSL-1.0
#include <filesystem>

#include "run_program.hpp"
#include "support/catch.hpp"

namespace yield_record_test {

using namespace tranche_test;

namespace {
const std::filesystem::path root = std::filesystem::path(TRANCHE_EXAMPLES_SOURCE_DIR).parent_path();
} // namespace

TEST_CASE("yield_record: shows its tables and writes the chart that the docs show") {
    const scratch_folder folder;
    const auto file = folder.path / "chart.svg";
    const program_run run = run_example("yield_record", '\'' + file.string() + '\'');
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, ContainsSubstring("Supplier North") && ContainsSubstring("purge") &&
                            ContainsSubstring("Outside the limits"));
    REQUIRE_FALSE(run.out.empty());
    CHECK_THAT(contents(root / "docs" / "records.md"), ContainsSubstring("```\n" + run.out + "```"));
    const bool same = contents(file) == contents(root / "docs" / "pictures" / "yield_chart.svg");
    CHECK(same); // the picture itself would fill the screen
}

TEST_CASE("yield_record: says what is wrong with a command line or a file") {
    CHECK(run_example("yield_record", "--help").status == 0);
    CHECK(run_example("yield_record", "--what").status == 2);
    CHECK(run_example("yield_record", "a b").status == 2);
    const program_run run = run_example("yield_record", "/nowhere/chart.svg");
    CHECK(run.status == 3);
    CHECK_THAT(run.err, ContainsSubstring("cannot write /nowhere/chart.svg"));
}

} // namespace yield_record_test
