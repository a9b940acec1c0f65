// The order of a day as a person runs it: the answer, sums that agree, and files that are well-formed.
// SPDX-License-Identifier: BSL-1.0
#include <filesystem>
#include <sstream>
#include <string>

#include <tranche/report/formats/plain_text.hpp>

#include "run_program.hpp"
#include "support/catch.hpp"

namespace orders_for_a_day_test {

using namespace tranche_test;

TEST_CASE("orders_for_a_day: says which loins to open, and what each line came to") {
    const program_run run = run_example("orders_for_a_day");
    CHECK(run.status == 0);
    CHECK(run.err.empty());
    CHECK_THAT(run.out, StartsWith("Invented scenario"));
    CHECK_THAT(run.out, ContainsSubstring("Open ") && ContainsSubstring(" of 6 loins: ") &&
                            ContainsSubstring("The order comes to ") && ContainsSubstring("Saltmarsh"));
    std::istringstream lines(run.out);
    for (std::string line; std::getline(lines, line);) CHECK(tranche::detail::columns_of(line) <= 80);
}

TEST_CASE("orders_for_a_day: with a folder writes the page, the picture and a card for each loin that is opened") {
    const scratch_folder folder;
    const program_run run = run_example("orders_for_a_day", "'" + folder.path.string() + "'");
    CHECK(run.status == 0);
    CHECK_THAT(contents(folder.path / "order.svg"), StartsWith("<svg"));
    CHECK_THAT(contents(folder.path / "order.html"), ContainsSubstring("<svg") && ContainsSubstring("strip steak"));
    std::size_t cards = 0;
    for (const auto& file : std::filesystem::directory_iterator(folder.path))
        cards += file.path().filename().string().starts_with("board_card_") ? 1U : 0U;
    CHECK((cards >= 2 && cards <= 6));
}

} // namespace orders_for_a_day_test
