// Programs that are told a folder: they make it, and where it cannot be made they say why and end with a status of its own. What
// plan_a_loin and cut_along do is in tests of their own.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>

#include "run_program.hpp"
#include "support/catch.hpp"

namespace made_folders_test {

using namespace tranche_test;

namespace {

/// What a program says of a folder below a plain file, which nobody can make, whoever runs it.
void says_why_not(const std::string& program) {
    const scratch_folder folder;
    const auto file = folder.path / "file";
    std::ofstream(file) << "no folder";
    const program_run run = run_example(program, '\'' + (file / "made").string() + '\'');
    INFO(program << ": " << run.err);
    CHECK(run.status == 3);
    CHECK_THAT(run.err, StartsWith("cannot make the folder " + (file / "made").string() + ": ") && EndsWith("\n"));
    CHECK(std::count(run.err.begin(), run.err.end(), '\n') == 1);
}

} // namespace

TEST_CASE("examples: say why a folder cannot be made, with an exit status of its own") {
    for (const char* program :
         {"buying_study", "orders_for_a_day", "scanned_loin", "steady_hand", "thickness_study", "which_measurement"})
        says_why_not(program);
}

TEST_CASE("examples: make a folder that is not there, with those above it") {
    const scratch_folder folder;
    const auto made = folder.path / "of" / "today";
    CHECK(run_example("scanned_loin", '\'' + made.string() + '\'').status == 0);
    CHECK_THAT(contents(made / "scan_faces.svg"), StartsWith("<svg"));
}

} // namespace made_folders_test
