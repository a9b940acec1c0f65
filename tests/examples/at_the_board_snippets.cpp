// The code that docs/at_the_board.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/board.hpp>
#include <tranche/records.hpp>
#include <tranche/sheet.hpp>

#include "docs_pages.hpp"
#include "sample_sheet.hpp"

namespace at_the_board_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("docs at the board: a loin of a sheet is cut, kept, gone on with and accounted for as the page says") {
    const cut_sheet sheet = read_sheet(std::string_view(example::sample_sheet_text));
    const std::chrono::year_month_day today{std::chrono::year(2026), std::chrono::month(12), std::chrono::day(1)};
    const sheet_answer planned = plan_sheet(sheet, {.what_ifs = false});
    std::string kept;
    std::vector<slab_use> could;
    with_board_session(sheet, 0, [&](auto& session) {
        session.record({.weight = session.next()->weight});        // the facing, as the scale says
        session.record({.weight = 1.25 * session.next()->weight}); // a slab that came out heavy
        could = session.uses_of(session.slabs().back());           // what it may become, the advice first
        kept = session_csv(session.state());                       // written to a file after each slab
    });
    const board_account account = with_board_session(
        sheet, 0,
        [&](auto& session) {
            while (session.next()) session.record({.weight = session.next()->weight});
            return board_account_of(planned, 0, plan_as_cut(session), today);
        },
        read_session_csv(kept));
    const std::string report = text_of(sections_of(account, planned, 0));
    const std::string record = cutting_records_csv({account.record}, 0.02 * account.record.bought);
    CHECK_THAT(report, ContainsSubstring("Planned and cut") && ContainsSubstring("Standard and actual"));
    CHECK(could.size() > 1);
    CHECK(account.variances->price.minor == 0);
    CHECK(account.record.unaccounted().count <= 5);
    CHECK_THAT(record, ContainsSubstring("2026-12-01"));
}

TEST_CASE("docs at the board: forms of a class are read and compared as the page says") {
    const cut_sheet sheet = read_sheet(std::string_view(example::sample_sheet_text));
    const iso_currency dollars = *sheet.currency;
    const std::string blank = yield_forms_csv({blank_form(sheet)}, dollars, kitchen_of(sheet)); // to be filled in
    const auto forms = read_yield_forms(blank, dollars); // of one team, or of many behind each other
    const class_results results = results_of(forms, dollars);
    const std::string compared = text_of(sections_of(results, kitchen_of(sheet), true)); // true: each figure worked out
    CHECK(results.teams.size() == 1);
    CHECK_THAT(compared, ContainsSubstring("team 1 is left out"));
}

} // namespace at_the_board_snippets
