// Readings that are possible and unlike those of loins are named; the loins that the library knows are not.
// SPDX-License-Identifier: BSL-1.0
#include <limits>
#include <string>
#include <vector>

#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/doubts.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace doubts_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const measured_loin good{.length = 42_cm,
                         .stations = {{.at = 0_cm, .width = 23_cm, .depth = 8.6_cm, .fat_cover = 12_mm, .tail = 6_cm},
                                      {.at = 40_cm, .width = 22_cm, .depth = 7.8_cm, .fat_cover = 11_mm, .tail = 5_cm}},
                         .gluteus_medius = {.onset = 34_cm, .share_at_end = 0.3}};

template <class Change>
std::vector<std::string> doubted(Change change) {
    measured_loin loin = good;
    change(loin);
    std::vector<std::string> texts;
    for (const sentence& doubt : doubts(loin)) texts.push_back(doubt.text());
    return texts;
}

/// Of one metre's thickness, one face.
measured_loin box_of(mass weight) {
    measured_loin loin{.length = 40_cm, .stations = {{.width = 20_cm, .depth = 8_cm}}, .shape = {.fill = 0.8}};
    loin.length = weight / (0.8 * 20_cm * 8_cm * densities_at_4_celsius()[tissue::eye]);
    return loin;
}

} // namespace

TEST_CASE("doubts: there are none of a loin like others") {
    CHECK(doubts(good).empty());
    for (const loin_proportions& kind : {beef_strip_loin, boneless_pork_loin, lamb_loin, tuna_loin})
        for (const double share : {0.85, 1.0, 1.15}) {
            CAPTURE(kind.name, share);
            for (const sentence& doubt : doubts(typical_loin(share * kind.weight.value, kind).readings()))
                FAIL_CHECK(doubt.text());
        }
}

TEST_CASE("doubts: name the reading, what was read, and what is usual") {
    using texts = std::vector<std::string>;
    CHECK(doubted([](auto& l) { l.stations[1].depth = 2.8_cm; }) ==
          texts{"stations[1].depth: 28 mm is 0.16 of the width without the tail, 170 mm; usual is 0.25 to 1.",
                "stations[1].fat_cover: 11 mm is 0.39 of the depth, 28 mm; usual is at most 0.35."});
    CHECK(doubted([](auto& l) { l.stations[0].tail = 10_cm; }) ==
          texts{"stations[0].tail: 100 mm is 0.43 of the width, 230 mm; usual is at most 0.4."});
    CHECK(doubted([](auto& l) { l.shape.fill = 0.62; }) == texts{"fill: 0.62 was given; usual is 0.7 to 0.82."});
    CHECK(doubted([](auto& l) { l.shape.fill = 0.85; }) == texts{"fill: 0.85 was given; usual is 0.7 to 0.82."});
    CHECK(doubted([](auto& l) { l.shape.tail_depth = 1.0; }) ==
          texts{"tail_depth: 1 was given; usual is 0.15 to 0.8."});
    CHECK(doubted([](auto& l) { l.shape.silverskin = 8_mm; }) ==
          texts{"silverskin: 8 mm was read; usual is 0 mm to 3 mm. Was it read in another unit?"});
    CHECK(doubted([](auto& l) { l.gluteus_medius.onset = 10_cm; }) ==
          texts{"gluteus_medius.onset: 100 mm is 0.24 of the length, 420 mm; usual is 0.5 to 1."});
    CHECK(doubted([](auto& l) { l.gluteus_medius.share_at_end = 0.9; }) ==
          texts{"gluteus_medius.share_at_end: 0.9 was given; usual is at most 0.6."});
}

TEST_CASE("doubts: sizes read in another unit are asked about") {
    const auto inches_as_millimetres = doubted([](auto& l) {
        l.length = 16.5_mm;
        l.stations = {{.width = 9_mm, .depth = 3.4_mm, .fat_cover = 0.5_mm, .tail = 2.4_mm}};
        l.gluteus_medius = {};
    });
    REQUIRE(inches_as_millimetres.size() == 3); // length, width and depth; proportions are as they were
    for (const std::string& text : inches_as_millimetres) CHECK_THAT(text, EndsWith("Was it read in another unit?"));
    CHECK_THAT(inches_as_millimetres[0], StartsWith("length: 16.5 mm was read; usual is 150 mm to 1200 mm."));
}

TEST_CASE("doubts: are written in the units of the kitchen") {
    measured_loin loin = good;
    loin.stations[0].tail = 4_in;
    const auto found = doubts(loin);
    REQUIRE(found.size() == 1);
    CHECK(in_units(found[0], us_kitchen) ==
          "stations[0].tail: 4 in is 0.44 of the width, 9 1/16 in; usual is at most 0.4.");
}

TEST_CASE("doubts: impossible readings stay errors") {
    measured_loin loin = good;
    loin.stations[0].tail = 30_cm;
    CHECK_THROWS_WITH(doubts(loin), StartsWith("stations[0].tail: got 300 mm"));
}

TEST_CASE("scale_against_tape: says how far the scale is off, and the fill that would explain it") {
    CHECK(scale_against_tape(box_of(5_kg), 5_kg).text() ==
          "The scale agrees with the measurements: 5000 g for 5000 g.");
    CHECK(scale_against_tape(box_of(5_kg), 5.3_kg).text() == "The scale says 6 % more than the measurements: 5300 g "
                                                             "for 5000 g, as if the faces filled 0.85 of width x depth "
                                                             "and not 0.8.");
    CHECK(scale_against_tape(box_of(5_kg), 4.4_kg).text() ==
          "The scale says 12 % less than the measurements: 4400 g for 5000 g, as if the faces filled 0.7 of width x "
          "depth "
          "and not 0.8; check the scale, then length, widths and depths.");
    CHECK_THROWS_WITH(scale_against_tape(box_of(5_kg), 0_kg), StartsWith("scale weight: got 0 g"));
    CHECK_THROWS_WITH(scale_against_tape(box_of(5_kg), std::numeric_limits<double>::quiet_NaN() * 1_kg),
                      StartsWith("scale weight: got nan"));
}

} // namespace doubts_test
