// What is worth measuring, as a person runs it: words on the screen, charts and a table in a folder.
// SPDX-License-Identifier: BSL-1.0
#include <filesystem>

#include "docs_pages.hpp"
#include "run_program.hpp"
#include "support/catch.hpp"

namespace which_measurement_test {

using namespace tranche_test;

namespace {
const std::filesystem::path root = std::filesystem::path(TRANCHE_EXAMPLES_SOURCE_DIR).parent_path();
} // namespace

TEST_CASE("which_measurement: says and draws what the docs show") {
    const scratch_folder folder;
    const program_run run = run_example("which_measurement", '\'' + (folder.path / "made").string() + '\'');
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, ContainsSubstring("length: not distinguishable from zero"));
    CHECK_THAT(page("studies.md"), ContainsSubstring("```\n" + run.out + "```"));
    for (const char* picture :
         {"distribution", "indices", "information", "lines", "map", "pairs", "robust", "tornado", "convergence"}) {
        INFO(picture);
        const std::string name = std::string("study_") + picture + ".svg";
        const bool same = contents(folder.path / "made" / name) == contents(root / "docs" / "pictures" / name);
        CHECK(same); // the pictures themselves would fill the screen
        CHECK_THAT(page("charts.md") + page("studies.md"), ContainsSubstring("pictures/" + name));
    }
    CHECK_THAT(contents(folder.path / "made" / "study_sweep.csv"),
               StartsWith("point,thickness (mm),fat cover (mm),output,"));
}

TEST_CASE("which_measurement: says what is wrong with a folder") {
    CHECK(run_example("which_measurement").status == 0);
    CHECK(run_example("which_measurement", "/proc/nowhere").status == 3);
}

} // namespace which_measurement_test
