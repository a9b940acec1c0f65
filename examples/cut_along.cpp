// Stays with you while you cut: takes the weight of every slab as it comes off and says where the knife goes next.
// SPDX-License-Identifier: BSL-1.0
#include <chrono>
#include <exception>
#include <filesystem>
#include <iostream>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include <unistd.h>

#include <tranche/board.hpp>
#include <tranche/compiled_sheet.hpp>
#include <tranche/records.hpp>

#include "cutting_dialogue.hpp"
#include "made_files.hpp"
#include "sheet_file.hpp"

namespace {

using namespace tranche;

constexpr const char* usage = R"(cut_along [--loin NAME] [--folder FOLDER] [--new] [SHEET]

Says where the next cut goes, takes what the scale says of the slab, learns from it and plans the rest again. SHEET is a
cut sheet as plan_a_loin reads it; without it an embedded sample (an invented scenario) is cut.

  --loin NAME       which loin of the sheet is on the board, if it has several
  --folder FOLDER   where the session is kept after each line (session.csv), gone on with when the program is started again, and
                    where the record of the loin goes (records.csv, which learns from loin to loin). At a terminal there is one
                    of your own for each name of a sheet, among the temporary files; a pipe keeps nothing unless it is named.
  --new             does not go on with a session that was kept

Each line of input is one of these, in any case of letters:

)";

constexpr const char* usage_end = R"(
Empty lines and what follows a # are left out, so a file or a pipe will do for input. Its end is as good as "end".

Exit status: 0 the session was closed or left; 1 the sheet is fine but no portion can be cut; 2 the sheet or the command line
is wrong; 3 a file could not be read or written; 4 the session was closed, but a line was refused and left out.
)";

enum exit_status { finished = 0, no_portions = 1, bad_input = 2, file_trouble = 3, line_refused = 4 };

struct command_line {
    std::filesystem::path sheet{}, folder{};
    std::string loin{};
    bool anew = false;
};

/// Where a session is kept: nowhere, if there is no folder.
class kept_session {
public:
    explicit kept_session(std::filesystem::path folder) : folder_(std::move(folder)) {}

    [[nodiscard]] bool keeps() const { return !folder_.empty(); }
    [[nodiscard]] std::filesystem::path file() const { return folder_ / "session.csv"; }
    [[nodiscard]] std::optional<session_state> read() const {
        if (!keeps() || !std::filesystem::exists(file())) return {};
        session_state state = read_session_csv(example::text_of_sheet(file()));
        if (state.entries.empty()) return {};
        return state;
    }
    void write(const session_state& state) const {
        if (!keeps()) return;
        example::make_folder(folder_);
        example::write_files(folder_, {{"session.csv", session_csv(state)}});
    }
    /// Adds the record of a loin to those of others, and forgets the session.
    void close(const cutting_record& record) const {
        if (!keeps()) return;
        const std::filesystem::path records = folder_ / "records.csv";
        std::vector<cutting_record> all;
        if (std::filesystem::exists(records))
            all = read_cutting_records(example::text_of_sheet(records), tranche::detail::tolerance_of_slabs());
        cutting_record own = record;
        const std::string note = own.note;
        for (int again = 2; std::find(all.begin(), all.end(), own) != all.end(); ++again)
            own.note = note + " (" + std::to_string(again) + ')';
        all.push_back(own);
        example::make_folder(folder_);
        example::write_files(folder_, {{"records.csv", cutting_records_csv(all, 0.02 * own.bought)}}, {"session.csv"});
        std::cout << "\nThe record of this loin: " << tranche::detail::printable(records.string()) << '\n';
    }

private:
    std::filesystem::path folder_;
};

std::chrono::year_month_day today() { return std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now()); }

/// Prints what was cut against what was planned, and writes it down.
template <class Session>
void close(const Session& session, const example::cutting_dialogue<Session>& said, const sheet_answer& planned,
           std::size_t loin, const kept_session& kept) {
    const kitchen_units units = kitchen_of(planned.sheet);
    const cutting_account a = session.account(said.rest());
    const auto bulk = [&](micrograms m) { return to_text(to_mass(m), units.bulk); };
    std::cout << "\nWhat was cut:\nSlabs " << bulk(a.slabs) << ", rest " << bulk(a.rest) << ", unaccounted for "
              << bulk(a.unaccounted) << ": the loin, " << bulk(a.whole) << ".\nPortions: " << a.portions_within
              << " within their limits, " << a.portions_too_heavy << " too heavy, " << a.portions_too_light
              << " too light.\n\n";
    if (session.slabs().empty()) return;
    const std::vector<slab_use> uses = said.uses();
    const board_account account = board_account_of(planned, loin, plan_as_cut(session, said.rest(), uses), today());
    std::cout << text_of(sections_of(account, planned, loin));
    kept.close(account.record);
}

template <class Session>
exit_status cut(Session& session, const sheet_answer& planned, std::size_t loin, const kept_session& kept,
                bool goes_on) {
    const kitchen_units units = kitchen_of(planned.sheet);
    if (goes_on)
        std::cout << "Going on where the knife was laid down: " << session.slabs().size()
                  << " slabs are cut. undo takes the last one back; --new starts again.\n\n";
    for (const demand_shortfall& missing : session.shortfalls()) std::cout << missing.text << '\n';
    example::cutting_dialogue<Session> dialogue(session, units, std::cout,
                                                [&](const Session& s) { kept.write(s.state()); });
    if (dialogue.run(std::cin) == example::board_end::left) {
        std::cout << (kept.keeps() ? "Left; start again to go on.\n" : "Left; nothing was kept.\n");
        return dialogue.refused() ? line_refused : finished;
    }
    close(session, dialogue, planned, loin, kept);
    return dialogue.refused() ? line_refused : finished;
}

std::size_t index_of_loin(const cut_sheet& sheet, const std::string& name) {
    std::string known;
    for (std::size_t i = 0; i < sheet.loins.size(); ++i) {
        if (sheet.loins[i].name == name || (name.empty() && sheet.loins.size() == 1)) return i;
        known += (known.empty() ? "" : ", ") + sheet.loins[i].name;
    }
    throw invalid_input("--loin", name.empty() ? "nothing" : '"' + name + '"', "one of " + known);
}

exit_status cut_along(const command_line& line) {
    const cut_sheet sheet = example::sheet_of(line.sheet);
    const std::size_t loin = index_of_loin(sheet, line.loin);
    std::filesystem::path folder = line.folder;
    if (folder.empty() && isatty(STDIN_FILENO) != 0) {
        folder = example::own_folder_for(line.sheet);
        if (!line.loin.empty()) folder += '-' + std::to_string(loin + 1);
    }
    const kept_session kept(folder);
    const auto from = line.anew ? std::nullopt : kept.read();
    if (!sheet.title.empty()) std::cout << tranche::detail::printable(sheet.title) << "\n\n";
    for (const std::string& caution : cautions()) std::cout << caution << '\n';
    std::cout << '\n';

    const sheet_answer planned = plan_sheet(sheet, {.what_ifs = false});
    const loin_answer& answer = planned.loins[loin];
    if (answer.planned.plan.portion_count() == 0) {
        std::cout << "no portion can be cut:\n";
        for (const std::string& why : warnings_of(answer.planned, kitchen_of(sheet))) std::cout << "  " << why << '\n';
        return no_portions;
    }
    return with_board_session(
        sheet, loin, [&](auto& session) { return cut(session, planned, loin, kept, from.has_value()); }, from);
}

command_line read_command_line(int count, char** words) {
    command_line line;
    for (int i = 1; i < count; ++i) {
        const std::string_view word = words[i];
        const auto value = [&](const char* expected) {
            if (++i == count) throw invalid_input(std::string(word), "nothing", expected);
            return words[i];
        };
        if (word == "--loin")
            line.loin = value("the name of a loin of the sheet");
        else if (word == "--folder")
            line.folder = value("a folder");
        else if (word == "--new")
            line.anew = true;
        else if (word.starts_with("-") || word.empty())
            throw invalid_input("command line", '"' + std::string(word) + '"',
                                "--loin, --folder, --new, --help or a sheet");
        else if (!line.sheet.empty())
            throw invalid_input("command line", "two sheets", "one");
        else
            line.sheet = word;
    }
    return line;
}

} // namespace

int main(int count, char** words) {
    for (int i = 1; i < count; ++i)
        if (const std::string_view word = words[i]; word == "--help" || word == "-h")
            return std::cout << usage << example::what_a_line_may_be << usage_end, finished;
    try {
        return cut_along(read_command_line(count, words));
    } catch (const invalid_input& error) {
        std::cerr << tranche::detail::printable(error.what()) << '\n';
        return bad_input;
    } catch (const std::exception& error) { // files, memory, or a fault of our own
        std::cerr << tranche::detail::printable(error.what()) << '\n';
        return file_trouble;
    }
}
