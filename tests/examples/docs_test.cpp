// What the README and the docs show is what the examples are and print.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <filesystem>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "run_program.hpp"
#include "support/catch.hpp"

namespace docs_test {

using namespace tranche_test;

namespace {

const std::filesystem::path examples = TRANCHE_EXAMPLES_SOURCE_DIR;
const std::filesystem::path root = examples.parent_path();

struct code_block {
    std::string where; ///< "docs/cost.md, line 43"
    std::string text;
};

/// The blocks of a page that are marked as C++.
std::vector<code_block> code_blocks(const std::filesystem::path& page) {
    std::vector<code_block> blocks;
    std::istringstream lines(contents(page));
    bool inside = false, shown = false;
    int number = 0;
    for (std::string line; std::getline(lines, line);) {
        ++number;
        if (line.starts_with("```")) {
            shown = !inside && (line == "```cpp" || line == "```c++");
            inside = !inside;
            if (shown) blocks.push_back({page.filename().string() + ", line " + std::to_string(number), {}});
        } else if (inside && shown) {
            blocks.back().text += line + '\n';
        }
    }
    return blocks;
}

/// Its lines without the blanks in front, because docs show the inside of functions, each line with a newline before it.
std::string without_indent(const std::string& text) {
    std::string lines = "\n";
    bool at_start = true;
    for (const char c : text) {
        if (at_start && c == ' ') continue;
        at_start = c == '\n';
        lines += c;
    }
    return lines;
}

/// Whether the lines stand together in one of the sources. Blank lines alone stand nowhere.
bool stands_in(const std::vector<std::string>& sources, const std::string& text) {
    const std::string lines = without_indent(text);
    return lines.find_first_not_of('\n') != std::string::npos &&
           std::any_of(sources.begin(), sources.end(),
                       [&](const std::string& source) { return source.find(lines) != std::string::npos; });
}

/// A source without its two heading lines.
std::string body(const std::string& source) { return source.substr(source.find('\n', source.find('\n') + 1) + 1); }

} // namespace

TEST_CASE("README: shows the first plan as it is compiled") {
    const std::vector<code_block> blocks = code_blocks(root / "README.md");
    REQUIRE(blocks.size() == 1);
    const std::string& shown = blocks[0].text;
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

TEST_CASE("docs: show no code that is not compiled") {
    std::vector<std::string> sources; // of programs and of tests, without indent
    const std::vector<std::pair<std::filesystem::path, const char*>> kinds{
        {examples, ".cpp"}, {examples, ".hpp"}, {root / "tests" / "examples", "_snippets.cpp"}};
    for (const auto& [folder, ending] : kinds)
        for (const auto& entry : std::filesystem::directory_iterator(folder))
            if (entry.path().filename().string().ends_with(ending))
                sources.push_back(without_indent(contents(entry.path())));
    std::vector<std::filesystem::path> pages{root / "README.md"};
    for (const auto& entry : std::filesystem::directory_iterator(root / "docs"))
        if (entry.path().extension() == ".md") pages.push_back(entry.path());
    std::size_t blocks = 0;
    for (const std::filesystem::path& page : pages)
        for (const code_block& block : code_blocks(page)) {
            ++blocks;
            INFO(block.where << ":\n" << block.text);
            CHECK(stands_in(sources, block.text));
        }
    CHECK(blocks > 20);

    // What is altered, broken off within a line, or nothing is not found.
    CHECK(stands_in({"\nint a = 1;\nint b = 2;\n"}, "  int a = 1;\n    int b = 2;\n"));
    CHECK_FALSE(stands_in({"\nint a = 1;\nint b = 2;\n"}, "int b = 3;\n"));
    CHECK_FALSE(stands_in({"\nint a = 1; // one\n"}, "int a = 1;\n"));
    CHECK_FALSE(stands_in({"\nint a = 1;\n\n"}, "\n"));
}

TEST_CASE("docs: show all that the example of units and text prints") {
    const program_run run = run_example("units_and_text");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    REQUIRE_FALSE(run.out.empty());
    CHECK_THAT(contents(root / "docs" / "units_and_text.md"), ContainsSubstring("```\n" + run.out + "```"));
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
