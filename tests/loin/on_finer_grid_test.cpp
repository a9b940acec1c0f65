// A profile on a finer grid keeps what it was at the old positions, and lies on straight lines between them.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>

#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/on_finer_grid.hpp>
#include <tranche/units/literals.hpp>

namespace refined_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Invented; 100.25 cells of 4 mm, so that the last one is short.
profile loin() {
    return tabulate(measured_loin{.length = 40.1_cm,
                                  .stations = {{0_cm, 20_cm, 7.8_cm, 1_cm, 4_cm}, {40_cm, 17_cm, 7_cm, 0.6_cm, 2_cm}},
                                  .gluteus_medius = {.onset = 30_cm, .share_at_end = 0.3}},
                    4_mm);
}

} // namespace

TEST_CASE("a finer grid keeps every mass at the old positions") {
    const profile meat = loin();
    for (const std::size_t parts : {std::size_t{1}, std::size_t{2}, std::size_t{7}, std::size_t{400}}) {
        const profile fine = on_finer_grid(meat, parts);
        CAPTURE(parts);
        CHECK(fine.total() == meat.total());
        CHECK(fine.unrounded_total() == meat.unrounded_total());
        CHECK(fine.cells() == 100 * parts + (parts + 3) / 4); // the last cell is a quarter of one
        for (std::size_t i = 0; i < meat.cells(); ++i) {
            CHECK(std::abs((fine.position(i * parts) - meat.position(i)).value()) < 1e-12);
            for (const tissue t : all_tissues) CHECK(fine.cumulative(t)[i * parts] == meat.cumulative(t)[i]);
            CHECK(fine.gluteus_medius_entered()[i * parts] == meat.gluteus_medius_entered()[i]);
            CHECK(fine.fat_cover(i * parts).thickness == meat.fat_cover(i).thickness);
        }
        CHECK(fine.position(fine.cells()) == meat.extent());
        for (const tissue t : all_tissues) CHECK(fine.total(t) == meat.total(t));
    }
}

TEST_CASE("masses between old positions lie on a line, less than a microgram below it") {
    const profile meat = loin(), fine = on_finer_grid(meat, 8);
    for (std::size_t i = 0; i + 1 < meat.cells(); ++i)
        for (std::size_t k = 1; k < 8; ++k)
            for (const tissue t : all_tissues) {
                const auto from = static_cast<double>(meat.cumulative(t)[i]),
                           to = static_cast<double>(meat.cumulative(t)[i + 1]);
                const double off = from + (to - from) * static_cast<double>(k) / 8.0 -
                                   static_cast<double>(fine.cumulative(t)[8 * i + k]);
                CHECK(off > -1e-6); // a double holds these masses to about 1e-6 micrograms
                CHECK(off < 1.0);
                CHECK(fine.cumulative()[8 * i + k] >= fine.cumulative()[8 * i + k - 1]);
            }
}

TEST_CASE("a position of a finer grid has the mass that a cut at that place has on the old one") {
    const profile meat = loin(), fine = on_finer_grid(meat, 50);
    for (std::size_t i = 0; i <= fine.cells(); ++i)
        for (const tissue t : all_tissues)
            CHECK(fine.cumulative(t)[i] == detail::profile_place::of(meat, fine.position(i)).in(meat.cumulative(t)));
}

TEST_CASE("a grid of no parts, or of too many, is refused") {
    CHECK_THROWS_AS(on_finer_grid(loin(), 0), invalid_input);
    CHECK_THROWS_AS(on_finer_grid(loin(), most_cells), invalid_input);
}

} // namespace refined_test
