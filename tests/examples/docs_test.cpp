// What the README and the docs show is what the examples are and print.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <filesystem>
#include <string>

#include "run_program.hpp"
#include "support/catch.hpp"

namespace docs_test {

using namespace tranche_test;

namespace {

const std::filesystem::path examples = TRANCHE_EXAMPLES_SOURCE_DIR;
const std::filesystem::path root = examples.parent_path();

/// The `index`th ```cpp block of a page.
std::string code_block(const std::string& page, int index = 0) {
    std::size_t at = 0;
    for (;; --index) {
        at = page.find("```cpp\n", at);
        if (at == std::string::npos) return {};
        at += 7;
        const std::size_t end = page.find("```", at);
        if (index == 0) return page.substr(at, end - at);
        at = end + 3;
    }
}

/// Its lines without the blanks in front: docs show the inside of functions.
std::string without_indent(const std::string& text) {
    std::string lines;
    bool at_start = true;
    for (const char c : text) {
        if (at_start && c == ' ') continue;
        at_start = c == '\n';
        lines += c;
    }
    return lines;
}

/// A source without its two heading lines.
std::string body(const std::string& source) { return source.substr(source.find('\n', source.find('\n') + 1) + 1); }

} // namespace

TEST_CASE("README: shows the first plan as it is compiled") {
    const std::string shown = code_block(contents(root / "README.md"));
    REQUIRE_FALSE(shown.empty());
    CHECK(shown == body(contents(examples / "first_plan.cpp")));
    const std::string in_main = shown.substr(shown.find("int main() {\n") + 13);
    const auto lines = std::count(in_main.begin(), in_main.end(), '\n') - 1; // the closing brace
    CHECK(lines <= 16);
}

TEST_CASE("docs: show what the first plan prints") {
    const program_run run = run_example("first_plan");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK(run.out == contents(root / "docs" / "first_plan.txt"));
}

TEST_CASE("docs: show what closing the loop buys") {
    const program_run run = run_example("closing_the_loop");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    REQUIRE_FALSE(run.out.empty());
    CHECK_THAT(contents(root / "docs" / "optimisers.md"), ContainsSubstring("```\n" + run.out + "```"));
}

TEST_CASE("docs: show what allowing for the knife buys") {
    const program_run run = run_example("allowing_for_the_knife");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    REQUIRE_FALSE(run.out.empty());
    CHECK_THAT(contents(root / "docs" / "explaining_plans.md"), ContainsSubstring("```\n" + run.out + "```"));
}

TEST_CASE("docs: show code on optimisers and cuts that is compiled") {
    const std::string compiled = contents(examples / "own_model_and_objective.cpp") +
                                 contents(root / "tests" / "examples" / "optimisers_snippets.cpp");
    for (const char* page : {"optimisers.md", "cutting.md"}) {
        const std::string text = contents(root / "docs" / page);
        int blocks = 0;
        for (std::string shown; !(shown = code_block(text, blocks)).empty(); ++blocks) {
            INFO(shown);
            CHECK_THAT(without_indent(compiled), ContainsSubstring(without_indent(shown)));
        }
        CHECK(blocks > 0);
    }
}

TEST_CASE("docs: show code on units and text that is compiled, and all that it prints") {
    const std::string compiled = contents(examples / "units_and_text.cpp");
    const std::string text = contents(root / "docs" / "units_and_text.md");
    int blocks = 0;
    for (std::string shown; !(shown = code_block(text, blocks)).empty(); ++blocks) {
        INFO(shown);
        CHECK_THAT(without_indent(compiled), ContainsSubstring(without_indent(shown)));
    }
    CHECK(blocks == 6); // one for each function of the example
    const program_run run = run_example("units_and_text");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    REQUIRE_FALSE(run.out.empty());
    CHECK_THAT(text, ContainsSubstring("```\n" + run.out + "```"));
}

TEST_CASE("docs: show the pictures of the sample sheet") {
    const scratch_folder folder;
    const program_run run = run_example("plan_a_loin", "--output '" + folder.path.string() + "/made'");
    REQUIRE(run.status == 0);
    for (const char* picture :
         {"from_above.svg", "from_the_side.svg", "faces.svg", "cut_ruler.svg", "waterfall.svg", "what_if.svg"}) {
        INFO(picture);
        const bool same = contents(folder.path / "made" / picture) == contents(root / "docs" / "pictures" / picture);
        CHECK(same); // the pictures themselves would fill the screen
    }
}

TEST_CASE("docs: show the faces of the scan") {
    const scratch_folder folder;
    const program_run run = run_example("scanned_loin", "'" + folder.path.string() + "/made'");
    REQUIRE(run.status == 0);
    const bool same =
        contents(folder.path / "made" / "scan_faces.svg") == contents(root / "docs" / "pictures" / "scan_faces.svg");
    CHECK(same);
}

} // namespace docs_test
