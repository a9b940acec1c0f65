// The code that docs/records.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <string>
#include <vector>

#include <tranche/records.hpp>
#include <tranche/tranche.hpp>

#include "docs_pages.hpp"

namespace records_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Invented, as is all that follows.
constexpr const char* text =
    "date,supplier,grade,note,bought_g,usable_g,strips_g,dice_g,grind_g,rendering_g,discard_g,cutting_loss_g,purge_g,"
    "predicted_yield\n"
    "2026-02-05,Supplier North,choice,,5485,3880,245,0,550,690,0,25,90,0.717\n"
    "2026-02-12,Supplier North,choice,,5225,3860,170,0,465,690,0,10,30,0.746\n"
    "2026-02-15,Supplier South,select,,6000,4365,310,0,590,665,0,15,50,0.736\n"
    "2026-02-22,Supplier South,choice,,5285,3660,190,0,655,715,0,20,45,0.717\n";

const measured_loin taped{
    .length = 40_cm,
    .stations = {{.at = 0_cm, .width = 23_cm, .depth = 86_mm, .fat_cover = 15_mm, .tail = 6_cm},
                 {.at = 40_cm, .width = 22_cm, .depth = 80_mm, .fat_cover = 12_mm, .tail = 4_cm}}};

} // namespace

TEST_CASE("docs on records: a record is read, charted and learned from as the page says") {
    const std::vector<cutting_record> records = read_cutting_records(text); // CSV, below
    const record_summary summary = summarise_records(records);
    const learned_losses learned = learn_losses(records);
    const std::string picture = control_chart_svg(chart_yields(records), "Yield of strip loins");
    const yield_chart north = chart_yields(of_supplier(records, "Supplier North"));
    CHECK(summary.all.yield.count == 4);
    CHECK_THAT(picture, StartsWith("<svg"));
    CHECK(north.records.size() == 2);

    const measured_loin& readings = taped;
    const mass board = learned.expected_board_weight(5.6_kg); // bought (1 - purge): the bag is still closed
    const profile meat =
        calibrated_profile(readings, board);              // the plan starts from it, and settle() finds the purge again
    const fraction yield = learned.corrected_yield(0.73); // 1 - rest_over_planned (1 - planned)
    const double bought = 5485 + 5225 + 6000 + 5285, purge = 90 + 30 + 50 + 45;
    CHECK_THAT(board / kilogram, WithinRel(5.6 * (1.0 - purge / bought), 1e-12));
    CHECK(to_mass(meat.total()) / gram == Approx(board / gram));
    CHECK_THAT(yield, WithinRel(1.0 - learned.rest_over_planned->value * (1.0 - 0.73), 1e-12));
}

TEST_CASE("docs on records: an error in a record is named as the page says") {
    std::string wrong = text;
    wrong.replace(wrong.find(",5485,"), 6, ",5.4e3,");
    try {
        static_cast<void>(read_cutting_records(wrong));
        FAIL("was read");
    } catch (const invalid_input& error) {
        CHECK_THAT(in_one_line(page("records.md")), ContainsSubstring(error.what()));
    }
}

TEST_CASE("docs on records: factors of trim are learned from a record and its readings") {
    const cut_spec steak{.name = "steak", .thickness = 32_mm, .trim = {.fat_cover = 5_mm, .tail = 2_cm}};
    const auto cut_as_it_was = [&](const auto& loin) {
        const profile meat = tabulate(loin, 4_mm);
        std::vector<grid_slab> stretches;
        for (std::size_t from = 2; from < 82; from += 8) stretches.push_back({from, from + 8, slab_kind::portions, 0});
        stretches.push_back({82, meat.cells(), slab_kind::loose, 0});
        return lay_out(meat, {steak}, {.facing = 8_mm}, stretches);
    };
    const std::vector<measured_loin> readings{taped, taped};
    // Loins with a fifth more fat than the tape said and a tenth less tail.
    std::vector<cutting_record> records;
    for (const mass& board : {5.2_kg, 5.4_kg}) {
        const cutting_plan cuts = cut_as_it_was(calibrate(with_trim_factors(taped, {1.2, 0.9}), board));
        const mass_balance balance = balance_of(cuts);
        cutting_record record{.date = read_cutting_records(text)[records.size()].date,
                              .supplier = "Supplier North",
                              .bought = board,
                              .usable = to_mass(balance.portion_total()),
                              .cutting_loss = to_mass(balance.cutting_loss)};
        for (const destination d : all_destinations)
            record.by_products[d] = to_mass(balance.loose[d] + balance.trim[d]);
        records.push_back(record);
    }
    const learned_losses learned = learn_losses(records);
    // readings[i] are those of records[i]; cut_as_it_was lays out, or plans, the cuts that it had.
    const auto trim = learn_trim(records, [&](std::size_t i, const trim_factors& factors) {
        return cut_as_it_was(calibrate(with_trim_factors(readings[i], factors), records[i].on_board()));
    });
    // None where no factors from 1/3 to 3 explain the record: then the difference is not trim.
    const trim_factors factors = trim ? trim->factors : trim_factors{};
    const auto next = calibrate(with_trim_factors(taped, factors), learned.expected_board_weight(5.6_kg));
    REQUIRE(trim);
    CHECK_THAT(factors.fat_cover, WithinAbs(1.2, 0.05));
    CHECK_THAT(factors.tail, WithinAbs(0.9, 0.05));
    CHECK(next.fill() > 0.0);
}

} // namespace records_snippets
