// The main job as a person runs it: the sample sheet, good and bad sheets, exit statuses.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <unistd.h>

#include "run_program.hpp"
#include "sample_sheet.hpp"
#include "support/catch.hpp"
#include <tranche/report/formats/plain_text.hpp>
#include <tranche/sheet/read_sheet.hpp>
#include <tranche/sheet/sheet_json.hpp>

namespace plan_a_loin_test {

using namespace tranche_test;
using namespace tranche;

namespace {

const std::string sample{example::sample_sheet_text};

std::string replaced(std::string text, const std::string& what, const std::string& with) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), with);
}

/// Without anything about selling prices.
std::string without_prices(std::string text) {
    for (const char* line : {"price = 15.90 USD/lb\n", "price = 17.90 USD/lb\n", "price = 9.80 USD/lb\n"})
        text = replaced(std::move(text), line, "");
    return text;
}

} // namespace

TEST_CASE("plan_a_loin: plans the embedded sample and writes every file it names") {
    const scratch_folder folder;
    const auto made = folder.path / "a folder" / "made";
    const program_run run = run_example("plan_a_loin", "--output '" + made.string() + "'");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, ContainsSubstring("invented") && ContainsSubstring((made / "report.html").string()));
    for (const char* file : {"report.html", "report.txt", "slabs.csv", "account.csv", "from_above.svg",
                             "from_the_side.svg", "faces.svg", "cut_ruler.svg", "waterfall.svg", "what_if.svg",
                             "savings.csv", "what_if.csv", "offers.csv", "cuts.csv", "board_card.html"}) {
        CHECK_THAT(run.out, ContainsSubstring(file));
        CHECK(std::filesystem::file_size(made / file) > 200);
    }
}

TEST_CASE("plan_a_loin: shows where the money went without anything to compare with") {
    const scratch_folder folder;
    const auto sheet = folder.path / "sheet.ini";
    std::string text = sample;
    for (std::size_t at; (at = text.find("\n[compare")) != std::string::npos;)
        text.erase(at, text.find("\n[", at + 1) - at);
    REQUIRE(text.size() < sample.size());
    std::ofstream(sheet) << text;
    const program_run run =
        run_example("plan_a_loin", "--output '" + (folder.path / "made").string() + "' '" + sheet.string() + "'");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, ContainsSubstring("waterfall.svg"));
    CHECK_THAT(contents(folder.path / "made" / "waterfall.svg"), ContainsSubstring("left for the portions to carry"));
    CHECK_THAT(contents(folder.path / "made" / "report.html"), ContainsSubstring("left for the portions to carry"));
    CHECK_FALSE(std::filesystem::exists(folder.path / "made" / "savings.csv"));
}

TEST_CASE("plan_a_loin: plans a sheet in JSON as the same sheet in an INI file, whatever its name") {
    const scratch_folder folder;
    const std::string json = sheet_json(read_sheet(sample));
    std::ofstream(folder.path / "sheet.json") << json;
    std::ofstream(folder.path / "sheet") << "\xEF\xBB\xBF\n  " << json;
    const auto made = folder.path / "made";
    const auto report = [&](const std::string& sheet) {
        const program_run run =
            run_example("plan_a_loin", "--output '" + made.string() + "' " +
                                           (sheet.empty() ? "" : '\'' + (folder.path / sheet).string() + '\''));
        CHECK(run.status == 0);
        CHECK(run.err.empty());
        return contents(made / "report.txt");
    };
    const std::string embedded = report("");
    CHECK(report("sheet.json") == embedded);
    CHECK(report("sheet") == embedded);

    std::ofstream(folder.path / "wrong.json") << "[cut steak]";
    const program_run wrong = run_example("plan_a_loin", '\'' + (folder.path / "wrong.json").string() + '\'');
    CHECK(wrong.status == 2);
    CHECK_THAT(wrong.err, ContainsSubstring("expected JSON (RFC 8259)"));
}

TEST_CASE("plan_a_loin: plans a sheet from a file, the same as the embedded one") {
    const scratch_folder folder;
    const auto sheet = folder.path / "my sheet.ini";
    std::ofstream(sheet) << sample;
    const program_run own =
        run_example("plan_a_loin", "--output '" + folder.path.string() + "' '" + sheet.string() + "'");
    const program_run embedded = run_example("plan_a_loin", "--output '" + folder.path.string() + "'");
    CHECK(own.status == 0);
    CHECK(own.out == embedded.out);
    CHECK(run_example("plan_a_loin", "--print-sample").out == sample);
}

TEST_CASE("plan_a_loin: prints 80 columns whatever the title says") {
    const scratch_folder folder;
    const auto sheet = folder.path / "sheet.ini";
    for (const std::string& title :
         {std::string(300, 'W') + ' ' + std::string(90, 'i'), std::string("\x1b[31mred"), std::string()}) {
        std::ofstream(sheet) << replaced(sample, "title = Friday service at the Harbour Lantern (an invented inn)\n",
                                         title.empty() ? "" : "title = " + title + "\n");
        const program_run run =
            run_example("plan_a_loin", "--output '" + folder.path.string() + "' '" + sheet.string() + "'");
        CHECK(run.status == 0);
        CHECK(run.out.find('\x1b') == std::string::npos);
        std::istringstream lines(run.out);
        for (std::string line; std::getline(lines, line);)
            if (line.find(folder.path.string()) == std::string::npos) CHECK(detail::columns_of(line) <= 80);
        CHECK(run.out.front() != '\n');
    }
}

TEST_CASE("plan_a_loin: says by its exit status what went wrong") {
    const scratch_folder folder;
    const std::string output = "--output '" + folder.path.string() + "' ";
    const auto sheet = folder.path / "sheet.ini";
    const auto status_of = [&](const std::string& text) {
        std::ofstream(sheet) << text;
        return run_example("plan_a_loin", output + "'" + sheet.string() + "'").status;
    };
    const program_run help = run_example("plan_a_loin", "--help");
    CHECK(help.status == 0);
    CHECK_THAT(help.out, ContainsSubstring("Exit status") && ContainsSubstring("--output"));
    CHECK(status_of(sample) == 0);
    CHECK(status_of(replaced(sample, "weight = 12 lb 2 oz", "weight = 12 lb 2 ozz")) == 2);
    CHECK(run_example("plan_a_loin", "--no-such-option").status == 2);
    CHECK(run_example("plan_a_loin", "--output").status == 2);
    CHECK(run_example("plan_a_loin", output + "one two").status == 2);
    CHECK(run_example("plan_a_loin", output + "'" + folder.path.string() + "/absent.ini'").status == 3);
    CHECK(run_example("plan_a_loin", output + "'" + folder.path.string() + "'").status == 3);
    CHECK(run_example("plan_a_loin", "--output /dev/null/folder").status == 3);
    CHECK(run_example("plan_a_loin", "''").status == 2);
    CHECK(run_example("plan_a_loin", "-h").status == 0);
    // No cut can be made: every window far above what a loin is.
    std::string hopeless = sample;
    for (const char* limits : {"1 1/8 in to 1 1/2 in", "1 1/2 in to 2 1/4 in", "3/4 in to 1 1/4 in"})
        hopeless = replaced(hopeless, limits, "40 in to 50 in");
    CHECK(status_of(hopeless) == 1);
}

TEST_CASE("plan_a_loin: plans for whatever the sheet says, and says what came of it") {
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    const auto run = [&](const std::string& text) {
        std::ofstream(file) << text;
        return run_example("plan_a_loin", "--output '" + (folder.path / "made").string() + "' '" + file.string() + "'");
    };
    const std::string coarse = replaced(sample, "grid = 1/64 in", "grid = 1/8 in");
    const auto aimed = [&](const std::string& aim) {
        return replaced(coarse, "plan for = best value", "plan for = " + aim);
    };
    for (const char* aim : {"most portions", "least waste", "least giveaway"}) {
        const program_run r = run(aimed(aim));
        INFO(aim << r.err);
        CHECK(r.status == 0);
        CHECK_THAT(r.out,
                   ContainsSubstring("proven best on 133 positions") && ContainsSubstring("What each limit costs"));
    }
    // Above the least portion, so that portions may be short of it.
    const program_run charged =
        run(replaced(aimed("least giveaway"), "[cut end steak]\n", "[cut end steak]\ncharged as = 9 oz\n"));
    CHECK(charged.status == 0);
    CHECK_THAT(charged.out, ContainsSubstring("proven best on 133 positions"));
    const program_run even = run(aimed("even portions\nportions = 11"));
    CHECK(even.status == 0);
    CHECK_THAT(even.out, ContainsSubstring("Portions      11\n") && ContainsSubstring("Apart by") &&
                             !ContainsSubstring("What each limit costs"));
    const program_run few = run(aimed("fewest settings"));
    CHECK(few.status == 0);
    CHECK_THAT(few.out, ContainsSubstring("Settings of the slicer"));
    // Two halved fillets are asked for; then more than there can be.
    const auto fillets = [&](const std::string& number) {
        return replaced(coarse, "[cut halved fillet]\n", "[cut halved fillet]\nnumber = " + number + "\n");
    };
    const program_run two = run(fillets("2"));
    CHECK(two.status == 0);
    CHECK_THAT(two.out, ContainsSubstring("halved fillet  "));
    const program_run many = run(fillets("at least 90"));
    CHECK(many.status == 1);
    CHECK_THAT(many.out, ContainsSubstring("halved fillet: 90 portions are asked for"));
}

TEST_CASE("plan_a_loin: plans for whatever needs no prices without them") {
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    const std::string coarse = without_prices(replaced(sample, "grid = 1/64 in", "grid = 1/4 in"));
    for (const std::string word :
         {"best value", "most portions", "least waste", "least giveaway", "even portions", "fewest settings"}) {
        INFO(word);
        std::ofstream(file) << replaced(coarse, "plan for = best value", "plan for = " + word);
        const program_run run =
            run_example("plan_a_loin", "--output '" + (folder.path / "made").string() + "' '" + file.string() + "'");
        if (word == "best value") {
            CHECK(run.status == 2);
            CHECK_THAT(run.err, StartsWith("[cut strip steak] price: got nothing, expected a price"));
            continue;
        }
        CHECK(run.status == 0);
        CHECK(run.err.empty());
        const std::string page = contents(folder.path / "made" / "report.html");
        for (const std::string& report : {run.out, page}) {
            CHECK_THAT(report, ContainsSubstring("Portions") && !ContainsSubstring("Worth, USD"));
            const bool what_ifs = word != "even portions" && word != "fewest settings";
            CHECK((report.find("What each limit costs") != std::string::npos) == what_ifs);
        }
    }
}

TEST_CASE("plan_a_loin: reckons in any currency of ISO 4217, to its minor unit") {
    // 12 lb 2 oz at 8.10 are 98.2125: a half of the last digit where there are three, which goes to the even one.
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    for (const auto& [code, price, paid] : std::vector<std::array<std::string, 3>>{
             {"JPY", "8", "98"}, {"KRW", "8", "98"}, {"CHF", "8.10", "98.21"}, {"KWD", "8.100", "98.212"}}) {
        INFO(code);
        std::string text = replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
        for (auto at = text.find("USD"); at != std::string::npos; at = text.find("USD", at)) text.replace(at, 3, code);
        std::ofstream(file) << text;
        const program_run run =
            run_example("plan_a_loin", "--output '" + (folder.path / "made").string() + "' '" + file.string() + "'");
        CHECK(run.status == 0);
        CHECK(run.err.empty());
        CHECK_THAT(run.out, ContainsSubstring("12 lb 2 oz at " + price + ' ' + code + "/lb") &&
                                ContainsSubstring(' ' + paid + ' ' + code + '\n') && ContainsSubstring("Savings"));
        CHECK_THAT(contents(folder.path / "made" / "account.csv"), ContainsSubstring(',' + paid + ',' + code));
        CHECK_THAT(contents(folder.path / "made" / "report.html"), ContainsSubstring(paid + ' ' + code));
    }
}

TEST_CASE("plan_a_loin: refuses a currency that is no code of ISO 4217") {
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    std::ofstream(file) << replaced(sample, "currency = USD", "currency = dollars");
    const program_run run = run_example("plan_a_loin", "'" + file.string() + "'");
    CHECK(run.status == 2);
    CHECK_THAT(run.err,
               StartsWith("[sheet] currency (line ") &&
                   EndsWith(": got \"dollars\", expected an ISO 4217 code, three capital letters such as USD\n"));
}

TEST_CASE("plan_a_loin: leaves nothing of another sheet in its folder, and only what is its own goes") {
    const scratch_folder folder;
    const auto made = folder.path / "made", sheet = folder.path / "sheet.ini";
    const std::string output = "--output '" + made.string() + "' ";
    REQUIRE(run_example("plan_a_loin", output).status == 0);
    REQUIRE(std::filesystem::exists(made / "offers.csv"));
    std::ofstream(made / "notes.txt") << "mine";
    std::string plain = replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
    plain.erase(plain.find("[compare"));
    std::ofstream(sheet) << plain;
    REQUIRE(run_example("plan_a_loin", output + "'" + sheet.string() + "'").status == 0);
    for (const char* gone : {"offers.csv", "savings.csv", "what_if.csv", "what_if.svg"})
        CHECK_FALSE(std::filesystem::exists(made / gone));
    CHECK(contents(made / "notes.txt") == "mine");
    for (const auto& entry : std::filesystem::directory_iterator(made))
        CHECK_FALSE(entry.path().extension() == ".part");
}

TEST_CASE("plan_a_loin: leaves the files of an earlier run alone when the new ones cannot be written whole") {
    const scratch_folder folder;
    const auto made = folder.path / "made";
    const std::string output = "--output '" + made.string() + "'";
    REQUIRE(run_example("plan_a_loin", output).status == 0);
    std::ofstream(made / "slabs.csv") << "of before";
    const std::string page = contents(made / "report.html");
    // Files of at most 100 blocks: the page is longer, as on a disk that is full.
    const program_run run = run_example("plan_a_loin", output, "", "trap '' XFSZ; ulimit -f 100; ");
    CHECK(run.status == 3);
    CHECK_THAT(run.err, StartsWith("cannot write " + (made / "report.html").string() + ": "));
    CHECK(contents(made / "report.html") == page);
    CHECK(contents(made / "slabs.csv") == "of before");
    for (const auto& entry : std::filesystem::directory_iterator(made))
        CHECK_FALSE(entry.path().extension() == ".part");
    // What a killed run left is in nobody's way.
    std::ofstream(made / ".report.html.part") << "half a pa";
    CHECK(run_example("plan_a_loin", output).status == 0);
    CHECK_FALSE(std::filesystem::exists(made / ".report.html.part"));
    CHECK_THAT(contents(made / "slabs.csv"), !ContainsSubstring("of before"));
}

TEST_CASE("plan_a_loin: writes through no link, be it in place of a folder or of a file") {
    const scratch_folder folder;
    const auto theirs = folder.path / "theirs", victim = folder.path / "victim", made = folder.path / "made";
    std::filesystem::create_directory(theirs);
    std::filesystem::create_directory(made);
    std::ofstream(victim) << "precious";
    std::filesystem::create_directory_symlink(theirs, folder.path / "link");
    for (const char* stroke : {"", "/"}) {
        const program_run run =
            run_example("plan_a_loin", "--output '" + (folder.path / "link").string() + stroke + "'");
        CHECK(run.status == 3);
        CHECK_THAT(run.err, ContainsSubstring("link is a symbolic link"));
    }
    CHECK(std::filesystem::is_empty(theirs));
    std::filesystem::create_symlink(victim, made / "report.txt");
    const program_run run = run_example("plan_a_loin", "--output '" + made.string() + "'");
    CHECK(run.status == 3);
    CHECK_THAT(run.err, ContainsSubstring("report.txt is a symbolic link"));
    std::filesystem::remove(made / "report.txt");
    std::filesystem::create_symlink(victim, made / ".report.txt.part");
    CHECK(run_example("plan_a_loin", "--output '" + made.string() + "'").status == 0);
    CHECK(contents(victim) == "precious");
}

TEST_CASE("plan_a_loin: has a folder of its own for each sheet if none is named, and takes no one else's") {
    const scratch_folder folder;
    const auto sheet = folder.path / "tuesday.ini";
    std::ofstream(sheet) << replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
    const std::string there = "TMPDIR='" + folder.path.string() + "' ";
    const auto mine = folder.path / ("tranche-plans-" + std::to_string(::geteuid()));
    const program_run own = run_example("plan_a_loin", "'" + sheet.string() + "'", "", there);
    const program_run embedded = run_example("plan_a_loin", "", "", there);
    CHECK_THAT(own.out, ContainsSubstring((mine / "tuesday" / "report.html").string()));
    CHECK_THAT(embedded.out, ContainsSubstring((mine / "sample" / "report.html").string()));
    CHECK(std::filesystem::exists(mine / "tuesday" / "report.html"));
    CHECK((std::filesystem::status(mine).permissions() & std::filesystem::perms::others_all) ==
          std::filesystem::perms::none);
    // Others may write there; then it is a link.
    std::filesystem::permissions(mine, std::filesystem::perms::all);
    CHECK(run_example("plan_a_loin", "", "", there).status == 3);
    std::filesystem::permissions(mine, std::filesystem::perms::owner_all);
    std::filesystem::rename(mine, folder.path / "elsewhere");
    std::filesystem::create_directory_symlink(folder.path / "elsewhere", mine);
    const program_run linked = run_example("plan_a_loin", "", "", there);
    CHECK(linked.status == 3);
    CHECK_THAT(linked.err, ContainsSubstring("is a link, or others may write there"));
}

TEST_CASE("plan_a_loin: shows no control character of a sheet or a command line") {
    const scratch_folder folder;
    const auto file = folder.path / "sheet.ini";
    const std::string output = "--output '" + (folder.path / "made").string() + "' ";
    const auto clean = [](const std::string& text) {
        return std::none_of(text.begin(), text.end(), [](char c) {
            return (static_cast<unsigned char>(c) < 0x20 && c != '\n') || static_cast<unsigned char>(c) == 0x7F;
        });
    };
    const std::string coarse = replaced(sample, "grid = 1/64 in", "grid = 1/4 in");
    const std::string bell = "\x1b]0;pwn\x07\x1b[31m";
    for (const auto& [what, with] :
         std::vector<std::pair<std::string, std::string>>{{"currency = USD", "currency = " + bell},
                                                          {"[cut end steak]", "[cut " + bell + "]"},
                                                          {"title = Friday", "title = " + bell},
                                                          {"price = 9.80 USD/lb", bell + " = 1"},
                                                          {"[worth]", bell},
                                                          {"[compare ready-cut strip steak]", "[compare " + bell + "]"},
                                                          {"[worth]", "[" + bell + "]"}}) {
        std::ofstream(file) << replaced(coarse, what, with);
        for (const char* program : {"plan_a_loin", "cut_along"}) {
            const bool plans = std::string_view(program) == "plan_a_loin";
            const program_run run = run_example(program, (plans ? output : "") + "'" + file.string() + "'",
                                                "3 1/4 oz\n" + bell + "\nplan\n");
            INFO(program << ' ' << what);
            CHECK_FALSE((run.out + run.err).empty());
            CHECK(clean(run.out));
            CHECK(clean(run.err));
        }
    }
    for (const char* program : {"plan_a_loin", "cut_along"}) {
        CHECK(clean(run_example(program, "'--" + bell + "'").err));
        CHECK(clean(run_example(program, "'" + bell + "'").err));
    }
}

} // namespace plan_a_loin_test
