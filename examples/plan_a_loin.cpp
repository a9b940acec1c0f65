// Plans loins from a cut sheet: prints plan, yields, costs and savings, and writes them as CSV, SVG and HTML.
// SPDX-License-Identifier: BSL-1.0
#include <exception>
#include <filesystem>
#include <iostream>
#include <string>
#include <string_view>
#include <vector>

#include <unistd.h>

#include <tranche/compiled_sheet.hpp>

#include "made_files.hpp"
#include "sheet_file.hpp"

namespace {

using namespace tranche;

constexpr const char* usage = R"(plan_a_loin [--output FOLDER] [SHEET]

Plans where to cut whole boneless loins. SHEET is a cut sheet, an INI file or JSON; without it an embedded sample (an
invented scenario) is planned. The report is printed, and files are written to FOLDER (default: one of
your own for each name of a sheet, among the temporary files).

  --output FOLDER   where to write report.html, board, portion and label cards, the CSV tables and the SVG pictures
  --print-sample    print the embedded sample sheet, to start your own from
  --help            this text

Exit status: 0 a plan was made; 1 the sheet is fine but what it asks for cannot be cut; 2 the sheet or the command line is
wrong; 3 a file could not be read or written, or the program failed.
)";

enum exit_status { all_planned = 0, no_portions = 1, bad_input = 2, file_trouble = 3 };

/// The files that an answer may have: those of an earlier run that this one does not write would be taken for its own.
std::vector<std::string> names_of_files() {
    std::vector<std::string> names{
        "report.html",     "report.txt",      "slabs.csv",       "cuts.csv",        "account.csv",        "savings.csv",
        "what_if.csv",     "offers.csv",      "menu.csv",        "labels.csv",      "portion_cards.html", "labels.html",
        "thicknesses.csv", "thicknesses.svg", "order_lines.csv", "order_loins.csv", "order_money.csv",    "order.svg"};
    for (int loin = 0; loin <= 99; ++loin)
        for (const char* own : {"board_card.html", "from_above.svg", "from_the_side.svg", "faces.svg", "cut_ruler.svg",
                                "waterfall.svg", "what_if.svg"})
            names.push_back((loin == 0 ? "" : "loin_" + std::to_string(loin) + '_') + own);
    return names;
}

exit_status plan(const std::filesystem::path& file, const std::filesystem::path& folder) {
    const cut_sheet sheet = example::sheet_of(file);
    const auto say = [](const sheet_progress& at) { // to who waits, not into a file
        if (::isatty(STDERR_FILENO) == 1)
            std::cerr << at.step << " of " << at.steps << ": " << detail::printable(at.doing) << '\n';
    };
    const sheet_answer answer = study_sheet(sheet, {.progress = say});
    // Every text is made before the first one is shown or written: a sheet is planned whole or not at all.
    const std::string report = answer_text(answer);
    std::vector<example::made_file> files{{"report.html", answer_page(answer)}, {"report.txt", report}};
    std::string others = "beside it: report.txt";
    for (const std::vector<answer_file>& more : {answer_cards(answer), answer_csv(answer), answer_pictures(answer)})
        for (const answer_file& made : more) {
            files.emplace_back(made.name, made.text);
            others += ", " + made.name;
        }
    const std::vector<std::string> ours = names_of_files();
    example::make_folder(folder);
    example::write_files(folder, files, {ours.begin(), ours.end()});
    std::cout << report << "\nPictures and tables: " << detail::printable((folder / "report.html").string()) << '\n';
    for (const std::string& line : detail::wrapped(others, 78)) std::cout << "  " << line << '\n';
    if (!std::cout.flush()) throw example::file_error("cannot write the report to standard output");
    return answer.feasible() ? all_planned : no_portions;
}

} // namespace

int main(int count, char** words) {
    try {
        std::filesystem::path folder, file;
        for (int i = 1; i < count; ++i) {
            const std::string_view word = words[i];
            if (word == "--help" || word == "-h") return std::cout << usage, all_planned;
            if (word == "--print-sample") return std::cout << example::sample_sheet_text, all_planned;
            if (word == "--output") {
                if (++i == count) throw invalid_input("--output", "nothing", "a folder");
                folder = words[i];
            } else if (word.starts_with("-") || word.empty()) {
                throw invalid_input("command line", '"' + std::string(word) + '"',
                                    "--output, --print-sample, --help or a sheet");
            } else if (!file.empty()) {
                throw invalid_input("command line", "two sheets", "one");
            } else {
                file = word;
            }
        }
        return plan(file, folder.empty() ? example::own_folder_for(file) : folder);
    } catch (const invalid_input& error) {
        std::cerr << detail::printable(error.what()) << '\n';
        return bad_input;
    } catch (const std::exception& error) { // files, memory, or a fault of our own
        std::cerr << detail::printable(error.what()) << '\n';
        return file_trouble;
    }
}
