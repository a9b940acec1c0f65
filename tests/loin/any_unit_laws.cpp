// Readings that are one place in any unit give one table.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/slice_calibrated.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/literals.hpp>

#include "loin/any_unit.hpp"
#include "loin/mesh_shapes.hpp"

namespace any_unit_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

measured_loin measured(std::uint64_t seed, in_any_unit write) {
    whole_numbers some(seed);
    const std::int64_t extent = some(300'000, 500'000), middle = some(100'000, 200'000);
    const auto at = [&](length place) {
        return station{.at = place,
                       .width = write.micrometres(some(180'000, 220'000)),
                       .depth = write.inches_128(some(300, 420)),
                       .fat_cover = write.inches_128(some(20, 70)),
                       .tail = write.micrometres(some(10'000, 60'000))};
    };
    measured_loin loin{
        .length = write.micrometres(extent),
        .stations = {at(write.micrometres(0)), at(write.micrometres(middle)), at(write.micrometres(extent))}};
    loin.gluteus_medius = {write.micrometres(500 * some(400, 590)), 0.35};
    loin.shape.silverskin = write.micrometres(some(0, 2'000));
    return loin;
}

taped_readings readings(whole_numbers& some, in_any_unit& write) {
    return {.width = write.micrometres(some(180'000, 220'000)),
            .depth = write.micrometres(some(60'000, 90'000)),
            .fat_cover = write.inches_128(some(20, 70)),
            .tail = write.inches_128(some(0, 300))};
}

outline rectangle(length left, length low, length right, length high) {
    return {.points = {{left, low}, {right, low}, {right, high}, {left, high}}};
}

/// One step for every table of a round, in any unit too.
template <class Make>
void tables_agree(std::uint64_t rounds, const Make& make) {
    for (std::uint64_t round = 1; round <= rounds; ++round) {
        const auto table = [&](std::uint64_t units) {
            in_any_unit write(1000 * round + units);
            return tabulate(make(round, write), write.inches_128(static_cast<std::int64_t>(16 + round)));
        };
        const profile first = table(1);
        for (std::uint64_t units = 2; units <= 4; ++units) REQUIRE(table(units) == first);
    }
}

} // namespace

TEST_CASE("readings in any unit are different doubles") { // or the laws below would say nothing
    in_any_unit a(1), b(2);
    std::size_t apart = 0;
    for (std::int64_t i = 1; i <= 1000; ++i) apart += a.micrometres(500 * i) != b.micrometres(500 * i) ? 1 : 0;
    CHECK(apart > 100);
}

TEST_CASE("a taped loin has one table in any unit") { tables_agree(20, measured); }

TEST_CASE("a prism has one table in any unit") {
    tables_agree(5, [](std::uint64_t seed, in_any_unit& write) {
        whole_numbers some(seed);
        return prism_loin{.length = write.micrometres(some(300'000, 500'000)), .face = readings(some, write)};
    });
}

TEST_CASE("a frustum has one table in any unit") {
    tables_agree(5, [](std::uint64_t seed, in_any_unit& write) {
        whole_numbers some(seed);
        const length extent = write.micrometres(some(300'000, 500'000));
        const taped_readings rib = readings(some, write), sirloin = readings(some, write);
        return tapered_loin{.length = extent, .rib = rib, .sirloin = sirloin};
    });
}

TEST_CASE("a loin that was calibrated has one table in any unit") {
    tables_agree(3, [](std::uint64_t seed, in_any_unit& write) {
        const measured_loin loin = measured(seed, write);
        return calibrate(loin, to_mass(tabulate(loin, 5_mm).total()) + 100_g, write.micrometres(5'000));
    });
    tables_agree(3, [](std::uint64_t seed, in_any_unit& write) {
        return slice_calibrated_loin<measured_loin>{measured(seed, write), {1.0, 1.1, 0.9}};
    });
}

TEST_CASE("a taped loin under a tilted knife has one table in any unit") {
    tables_agree(1, [](std::uint64_t seed, in_any_unit& write) {
        return slanted_loin(measured(seed, write), {.about_vertical = 10.0 * degree}, loin_side::left);
    });
}

TEST_CASE("traced faces have one table in any unit of their places") {
    tables_agree(2, [](std::uint64_t seed, in_any_unit& write) {
        whole_numbers some(seed);
        const auto face = [&](length at, length cover) {
            return traced_face{.at = at,
                               .whole = rectangle(0_mm, 0_mm, 200_mm, 80_mm),
                               .eye = rectangle(0_mm, 0_mm, 200_mm, 80_mm - cover)};
        };
        const std::int64_t extent = some(1500, 2000);
        return traced_loin(write.inches_128(extent),
                           {face(write.inches_128(0), 12_mm), face(write.inches_128(some(400, 900)), 9_mm),
                            face(write.inches_128(extent), 5_mm)},
                           write.micrometres(some(500, 1500)));
    });
}

TEST_CASE("a scanned loin has one table in any unit of its readings") {
    tables_agree(2, [](std::uint64_t seed, in_any_unit& write) {
        whole_numbers some(seed);
        const auto probe = [&](std::int64_t at) {
            return probe_reading{.at = write.micrometres(at),
                                 .fat_cover = write.inches_128(some(20, 60)),
                                 .silverskin = write.micrometres(some(0, 2'000)),
                                 .tail = write.micrometres(some(10'000, 50'000))};
        };
        const std::vector<probe_reading> probes{probe(0), probe(some(100'000, 200'000)), probe(400'000)};
        return scanned_loin(box(0.4, 0.2, 0.08),
                            {.probes = probes, .gluteus_medius = {write.micrometres(500 * some(400, 700)), 0.3}});
    });
}

TEST_CASE("a station, a face or a probe at the end of a loin is on it in any unit") {
    for (std::int64_t places = 1280; places <= 2560; places += 7) {
        in_any_unit write(static_cast<std::uint64_t>(places));
        const station near{.at = {}, .width = 20_cm, .depth = 8_cm};
        station far = near;
        far.at = write.inches_128(places);
        CHECK_NOTHROW(validate(measured_loin{.length = write.inches_128(places), .stations = {near, far}}));
        // And one that lies a grain behind it is not, though that is a sixteenth of a micrometre.
        far.at = write.grains(3'175 * places + 1);
        CHECK_THROWS_AS(validate(measured_loin{.length = write.inches_128(places), .stations = {near, far}}),
                        invalid_input);
    }
    const traced_face face{
        .at = 1_ft, .whole = rectangle(0_mm, 0_mm, 200_mm, 80_mm), .eye = rectangle(0_mm, 0_mm, 200_mm, 70_mm)};
    CHECK_NOTHROW(traced_loin(12_in, {face}));
    CHECK_NOTHROW(traced_loin(1_ft, {face}));
    for (const double metres : {0.415, 0.42, 0.43, 0.445, 0.51}) // of some, the length of the mesh is an ulp short
        CHECK_NOTHROW(scanned_loin(
            box(metres, 0.2, 0.08),
            {.probes = {{.at = {}, .fat_cover = 10_mm}, {.at = metres * 1000.0 * millimetre, .fat_cover = 10_mm}}}));
}

TEST_CASE("the second muscle has not entered on the face at its onset in any unit") {
    for (std::int64_t half_millimetres = 450; half_millimetres < 900; half_millimetres += 5) {
        in_any_unit write(static_cast<std::uint64_t>(half_millimetres));
        const measured_loin loin{.length = 500_mm,
                                 .stations = {{.at = {}, .width = 20_cm, .depth = 8_cm}},
                                 .gluteus_medius = {write.micrometres(500 * half_millimetres), 0.4}};
        const auto position = static_cast<std::size_t>(half_millimetres);
        const profile meat = tabulate(loin);
        CHECK(meat.gluteus_medius_share(position) == 0.0);
        CHECK(meat.gluteus_medius_share(position + 1) > 0.0);
    }
}

TEST_CASE("a share that a face was meant to have is the one it has in the table") {
    // 0.15 half way between the onset and a share of 0.30 at the end.
    for (int onset = 200; onset < 400; onset += 10)
        for (int extent = onset + 20; extent <= onset + 100; extent += 40) {
            const measured_loin loin{.length = extent * millimetre,
                                     .stations = {{.at = {}, .width = 20_cm, .depth = 8_cm}},
                                     .gluteus_medius = {onset * millimetre, 0.3}};
            CHECK(tabulate(loin).gluteus_medius_share(static_cast<std::size_t>(onset + extent)) == 0.15);
        }
}

TEST_CASE("shares that were computed and shares that were stated give one table") {
    const auto taped = [](double tail_depth, double share_at_end) {
        return measured_loin{.length = 40_cm,
                             .stations = {{.at = {}, .width = 20_cm, .depth = 8_cm, .fat_cover = 9_mm, .tail = 4_cm},
                                          {.at = 40_cm, .width = 19_cm, .depth = 7_cm, .tail = 2_cm}},
                             .gluteus_medius = {30_cm, share_at_end},
                             .shape = {.tail_depth = tail_depth}};
    };
    for (int percent = 10; percent <= 60; percent += 5) {
        const double stated = percent / 100.0;
        double summed = 0.0;
        for (int i = 0; i < percent; ++i) summed += 0.01; // off in its last digits
        CAPTURE(percent);
        CHECK(tabulate(taped(stated, 0.3), 5_mm) == tabulate(taped(summed, 0.3), 5_mm));
        CHECK(tabulate(taped(0.4, stated), 5_mm) == tabulate(taped(0.4, summed), 5_mm));
    }
}

} // namespace any_unit_laws
