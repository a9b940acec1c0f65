// Laws of answers: whatever valid sheet there is, it is answered or refused, masses and money add up, and every output is made.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <sstream>
#include <string>
#include <vector>

#include "any_sheet.hpp"
#include "sheet_texts.hpp"
#include <tranche/sheet.hpp>
#include <tranche/sheet_json.hpp>

namespace plan_sheet_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Portions, loose meat, trim, loss and purge are what was bought; cuts carry what was paid less what came back.
void check_account(const sheet_account& of) {
    micrograms sum = of.portion_weight() + of.cutting_loss;
    for (const destination d : all_destinations) sum += of.loose[d] + of.trim[d];
    CHECK(sum == of.on_the_board);
    CHECK(sum + of.purge == of.bought);
    if (!of.primary_value) return;
    CHECK(*of.primary_value == *of.paid - *of.credit);
    sheet_amount carried;
    for (const cut_account& c : of.cuts) carried += *c.cost;
    if (of.portions() > 0) CHECK(carried == *of.primary_value);
}

} // namespace

TEST_CASE("plan_sheet: answers any valid sheet or refuses it, and what it answers adds up") {
    std::size_t answered = 0, refused = 0, cut = 0;
    for (std::uint64_t seed = 0; seed < 40; ++seed) {
        CAPTURE(seed);
        cut_sheet sheet = sheet_maker(seed).sheet();
        sheet.grid = 4.0 * millimetre; // quick
        for (sheet_cut& c : sheet.cuts) c.spec.thickness_step = length{};
        sheet_planning how;
        how.search.most_passes = 300;
        how.what_ifs = seed % 8 == 0;
        try {
            const sheet_answer answer = plan_sheet(sheet, how);
            ++answered;
            cut += answer.all.portions() > 0 ? 1 : 0;
            REQUIRE(answer.loins.size() == sheet.loins.size());
            check_account(answer.all);
            micrograms bought;
            for (const loin_answer& loin : answer.loins) {
                check_account(loin.account);
                bought += loin.account.bought;
            }
            CHECK(bought == answer.all.bought);
            std::istringstream lines(answer_text(answer));
            for (std::string line; std::getline(lines, line);) CHECK(detail::columns_of(line) <= 80);
            CHECK(answer_json(answer).size() > 100);
            CHECK(answer_csv(answer).size() >= 2);
            if (seed % 4 != 0) continue; // pages take longest
            CHECK(answer_page(answer).size() > 1000);
            std::size_t opened = 0; // an order may leave loins whole
            for (const loin_answer& loin : answer.loins) opened += loin.opened ? 1U : 0U;
            CHECK(board_cards(answer).size() == opened);
            CHECK(answer_pictures(answer).size() >= 4 * opened);
        } catch (const invalid_input& error) { // readings that cannot be of that weight, mostly
            ++refused;
            CAPTURE(error.what());
            CHECK_FALSE(error.field().empty());
            CHECK_FALSE(error.expected().empty());
        }
    }
    CHECK(answered > 10);
    CHECK(cut > 5);
    CHECK(refused + answered == 40);
}

TEST_CASE("plan_sheet: plans what is left of a sheet, or says what does not hold") {
    const std::string text(kitchen_sheet);
    std::size_t planned = 0, refused = 0;
    for (std::size_t at = 0; at < text.size(); at += 5) {
        std::string torn = text;
        torn.erase(at, 1 + at % 2);
        CAPTURE(at);
        try {
            cut_sheet sheet = read_sheet(torn);
            sheet.grid = inch / 4.0;
            (void)plan_sheet(sheet, {.what_ifs = false});
            ++planned;
        } catch (const invalid_input& error) {
            ++refused;
            CHECK_FALSE(error.field().empty());
        }
    }
    CHECK(planned > 20);
    CHECK(refused > 20);
}

TEST_CASE("plan_sheet: answers the same to a sheet, to its text and to its JSON") {
    cut_sheet sheet = read_sheet(kitchen_sheet);
    sheet.grid = inch / 4.0;
    const sheet_answer answer = plan_sheet(sheet);
    CHECK(answer.feasible());
    CHECK(plan_sheet(read_sheet(sheet_text(sheet))) == answer);
    CHECK(plan_sheet(sheet_from_json(sheet_json(sheet))) == answer);
}

} // namespace plan_sheet_laws
