// A stretched table against tables of loins that were measured so, and what no loin can be.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/varied_profiles.hpp>

#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>

#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace varied_profiles_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Invented. Two stations: between them readings run in straight lines, of which sums are such too.
measured_loin taped() {
    return {.length = 400_mm,
            .stations = {{.at = 0_mm, .width = 220_mm, .depth = 88_mm, .fat_cover = 12_mm, .tail = 60_mm},
                         {.at = 400_mm, .width = 205_mm, .depth = 76_mm, .fat_cover = 9_mm, .tail = 40_mm}},
            .gluteus_medius = {.onset = 312_mm, .share_at_end = 0.32}};
}
/// The readings that the tape would show of a loin of these factors.
measured_loin taped_as(const loin_factors& by) {
    measured_loin loin = taped();
    loin.length *= by.length;
    for (station& s : loin.stations) {
        const length lean = s.depth - s.fat_cover, body = s.width - s.tail;
        s.at *= by.length;
        s.fat_cover *= by.fat_cover;
        s.depth = by.depth * lean + s.fat_cover;
        s.tail *= by.width * by.tail;
        s.width = by.width * body + s.tail;
    }
    loin.shape.fill *= by.fill;
    loin.gluteus_medius.onset *= by.length * by.gluteus_medius_onset;
    loin.gluteus_medius.share_at_end *= by.gluteus_medius_share;
    return loin;
}

double kilograms(micrograms m) { return to_mass(m).value(); }

} // namespace

TEST_CASE("factors of one leave a profile as it is") {
    varied_profiles room(tabulate(taped()));
    CHECK(room.last() == room.base());
    CHECK(room.vary({}) == room.base());
}

TEST_CASE("a stretched profile has the masses of the loin that is measured so") {
    // The tail of a taped face is a share of the whole depth, cover and all: so here cover and lean have one factor.
    const loin_factors by{.length = 1.0625,
                          .width = 1.1,
                          .depth = 0.93,
                          .fat_cover = 0.93,
                          .tail = 1.2,
                          .gluteus_medius_onset = 0.95,
                          .gluteus_medius_share = 1.15};
    varied_profiles room(tabulate(taped()));
    const profile& varied = room.vary(by);
    const profile measured = tabulate(taped_as(by));
    REQUIRE(varied.cells() == measured.cells());
    CHECK(varied.extent() == measured.extent());
    CHECK(varied.step() == measured.step());
    for (const tissue t : all_tissues) {
        INFO(name_of(t));
        // What a cell has where the second muscle sets in is of second order in the step.
        for (std::size_t i = 0; i <= varied.cells(); i += 10)
            CHECK(std::abs(varied.between(0, i, t).count - measured.between(0, i, t).count) <= 2'000);
    }
    for (std::size_t i = 0; i < varied.cells(); i += 50) {
        CHECK(varied.fat_cover(i).thickness / measured.fat_cover(i).thickness == Approx(1.0).epsilon(5e-4));
        CHECK(varied.tail(i).thickness / measured.tail(i).thickness == Approx(1.0).epsilon(5e-4));
        CHECK(varied.width(i) / measured.width(i) == Approx(1.0).epsilon(1e-3));
        CHECK(varied.depth(i) / measured.depth(i) == Approx(1.0).epsilon(1e-3));
        CHECK(varied.gluteus_medius_share(i) == Approx(measured.gluteus_medius_share(i)).margin(1e-4));
    }
}

TEST_CASE("what a trim leaves of a stretched loin is nearly what it leaves of one measured so",
          "[loin][varied_profiles]") {
    const loin_factors by{.length = 1.0625, .width = 0.95, .depth = 1.08, .fat_cover = 1.4, .tail = 0.8};
    varied_profiles room(tabulate(taped()));
    const profile& varied = room.vary(by);
    const profile measured = tabulate(taped_as(by));
    const trim_spec trim{.fat_cover = 5_mm, .tail = 25_mm};
    const yield_table a(varied, trim), b(measured, trim);
    // The tail of a taped face has its thickness from the whole depth, 3 % more here, and where the lower edge of the cover
    // lies is read anew: both together less than a hundredth of what is left.
    CHECK(kilograms(a.kept_between(0_mm, varied.extent())) ==
          Approx(kilograms(b.kept_between(0_mm, measured.extent()))).epsilon(0.01));
}

TEST_CASE("a varied loin weighs what it should, whatever gives way") {
    varied_profiles room(calibrated_profile(typical_loin(5.4_kg, beef_strip_loin), 5.4_kg));
    const loin_factors by{.length = 1.03, .depth = 0.96, .fat_cover = 1.3, .tail = 0.9, .gluteus_medius_onset = 1.02};
    for (const gives_way way : {gives_way::width, gives_way::fill}) {
        impossible_loin why{};
        const std::optional<loin_factors> found = room.to_weight(by, 5.1_kg, way, why);
        REQUIRE(found);
        CHECK(room.mass_of(*found).value() == Approx(5.1).epsilon(1e-12));
        const profile& varied = room.vary(*found, 5.1_kg);
        CHECK(varied.total().count == 5'100'000'000);
        CHECK((way == gives_way::width ? found->fill : found->width) == 1.0);
        std::int64_t before = 0; // nothing falls, and tissues add up
        for (std::size_t i = 0; i <= varied.cells(); ++i) {
            std::int64_t sum = 0;
            for (const tissue t : all_tissues) {
                sum += varied.cumulative(t)[i];
                if (i > 0) REQUIRE(varied.cumulative(t)[i] >= varied.cumulative(t)[i - 1]);
            }
            REQUIRE(sum == varied.cumulative()[i]);
            REQUIRE(sum >= before);
            before = sum;
        }
    }
}

TEST_CASE("what no loin can be has its reason") {
    const varied_profiles room(tabulate(taped()));
    using why = impossible_loin;
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(!room.why_not({}));
    CHECK(room.why_not({.length = 0.0}) == why::loin_length);
    CHECK(room.why_not({.length = 1e9}) == why::loin_length);
    CHECK(room.why_not({.length = nan}) == why::loin_length);
    CHECK(room.why_not({.width = -1.0}) == why::width);
    CHECK(room.why_not({.depth = -0.1}) == why::depth);
    CHECK(room.why_not({.fat_cover = -0.1}) == why::fat_cover);
    CHECK(!room.why_not({.fat_cover = 0.0}));
    CHECK(room.why_not({.tail = nan}) == why::tail);
    CHECK(room.why_not({.fill = 0.0}) == why::fill);
    CHECK(!room.why_not({.gluteus_medius_onset = 1.28}));
    CHECK(room.why_not({.gluteus_medius_onset = 1.29}) == why::gluteus_medius_onset); // 312 mm x 1.29 > 400 mm
    CHECK(room.why_not({.gluteus_medius_share = 3.2}) == why::gluteus_medius_share);  // 0.32 x 3.2 > 1
    impossible_loin reason{};
    CHECK(!room.to_weight({}, -1_kg, gives_way::width, reason));
    CHECK(reason == why::weight);
    CHECK(!room.to_weight({.length = 0.5}, 6_kg, gives_way::width, reason));
    CHECK(reason == why::width);
    CHECK(!room.to_weight({}, 50_kg, gives_way::fill, reason));
    CHECK(reason == why::fill);
    varied_profiles other(room);
    CHECK_THROWS_AS(other.vary({.depth = -1.0}), invalid_input);
    CHECK_THROWS_AS(other.vary({}, 0_kg), invalid_input);
}

TEST_CASE("a box without a second muscle stretches to the microgram") {
    const prism_loin box{.length = 200_mm, .face = {.width = 100_mm, .depth = 50_mm}, .shape = {.fill = 1.0}};
    varied_profiles room(tabulate(box));
    const profile& varied = room.vary({.length = 1.25, .width = 2.0, .depth = 0.5});
    const prism_loin other{.length = 250_mm, .face = {.width = 200_mm, .depth = 25_mm}, .shape = {.fill = 1.0}};
    const profile measured = tabulate(other);
    REQUIRE(varied.cells() == measured.cells());
    for (std::size_t i = 0; i <= varied.cells(); ++i)
        REQUIRE(std::abs(varied.cumulative()[i] - measured.cumulative()[i]) <= 2);
    CHECK(!room.why_not({.gluteus_medius_onset = 7.0}));
}

} // namespace varied_profiles_test
