// Laws of a measured loin: units of measurement do not matter, nor does scale, and slices add up.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <random>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace measured_loin_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

double share(std::mt19937& random) { return static_cast<double>(random()) / 4294967295.0; }

/// Invented readings, in inches, of one to five stations.
measured_loin some_loin(std::mt19937& random, length one) {
    measured_loin loin;
    const double whole = 8.0 + 10.0 * share(random);
    loin.length = whole * one;
    double at = 0.2 * share(random);
    for (auto n = 1 + random() % 5; n > 0 && at < whole; --n) {
        const double width = 5.0 + 3.0 * share(random), depth = 2.0 + share(random);
        loin.stations.push_back({.at = at * one,
                                 .width = width * one,
                                 .depth = depth * one,
                                 .fat_cover = 0.6 * share(random) * one,
                                 .tail = 1.5 * share(random) * one});
        at += 0.5 + 5.0 * share(random);
    }
    loin.gluteus_medius = {.onset = (0.5 + 0.4 * share(random)) * whole * one, .share_at_end = share(random)};
    loin.shape.silverskin = 0.05 * share(random) * one;
    return loin;
}

} // namespace

TEST_CASE("a loin weighs the same whether taped in inches or in centimetres") {
    for (unsigned seed = 0; seed < 40; ++seed) {
        std::mt19937 in_inches(seed), in_centimetres(seed);
        const profile a = tabulate(some_loin(in_inches, inch), 1_mm);
        const profile b = tabulate(some_loin(in_centimetres, 2.54 * centimetre), 1_mm);
        REQUIRE(a.cells() == b.cells());
        for (const tissue t : all_tissues)
            for (std::size_t i = 0; i <= a.cells(); ++i) {
                // Readings differ in their last bits, masses by some 1e-15 of 1e10 micrograms, which turns a rounding now
                // and then; the closing of the total moves two micrograms more at most.
                REQUIRE(std::abs(a.cumulative(t)[i] - b.cumulative(t)[i]) <= 1 + 2);
            }
        REQUIRE(std::abs((a.total() - b.total()).count) <= 1);
    }
}

TEST_CASE("a loin twice the size weighs eight times as much") {
    for (unsigned seed = 0; seed < 20; ++seed) {
        std::mt19937 random(seed);
        const measured_loin loin = some_loin(random, inch).snapped(); // of whole grains, as twice as many are
        measured_loin twice = loin;
        for (length* reading : {&twice.length, &twice.gluteus_medius.onset, &twice.shape.silverskin}) *reading *= 2.0;
        for (station& s : twice.stations)
            for (length* reading : {&s.at, &s.width, &s.depth, &s.fat_cover, &s.tail}) *reading *= 2.0;
        const mass small = tabulate(loin, 1_mm).unrounded_total(), large = tabulate(twice, 2_mm).unrounded_total();
        REQUIRE(large == 8.0 * small); // powers of two: exact
    }
}

TEST_CASE("masses never fall along a measured loin and its slices add up to it") {
    std::mt19937 random(16);
    for (int round = 0; round < 40; ++round) {
        const profile meat = tabulate(some_loin(random, inch), 1_mm);
        by_tissue<micrograms> sums;
        for (const tissue t : all_tissues) {
            REQUIRE(meat.cumulative(t).front() == 0);
            REQUIRE(std::is_sorted(meat.cumulative(t).begin(), meat.cumulative(t).end()));
            for (std::size_t i = 0; i < meat.cells(); ++i) sums[t] += meat.between(i, i + 1, t);
            REQUIRE(sums[t] == meat.total(t));
        }
        REQUIRE(sums.sum() == meat.total());
        REQUIRE(meat.total() == to_micrograms(meat.unrounded_total()));
        for (std::size_t i = 0; i <= meat.cells(); ++i) {
            std::int64_t all = 0;
            for (const tissue t : all_tissues) all += meat.cumulative(t)[i];
            REQUIRE(meat.cumulative()[i] == all);
        }
    }
}

} // namespace measured_loin_laws
