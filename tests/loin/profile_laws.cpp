// Laws of a table over generated grids: any slices of a loin add up to it, and a finer grid gives the same masses.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <random>

#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace profile_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("slices between any positions telescope to the whole, tissue by tissue") {
    std::mt19937 random(64);
    for (int round = 0; round < 200; ++round) {
        const profile meat = tabulate(strip_loin(), static_cast<double>(1 + random() % 20) * millimetre);
        by_tissue<micrograms> sums;
        micrograms all;
        for (std::size_t from = 0; from < meat.cells();) {
            const std::size_t to = std::min(meat.cells(), from + 1 + random() % 9);
            for (const tissue t : all_tissues) sums[t] += meat.between(from, to, t);
            all += meat.between(from, to);
            from = to;
        }
        for (const tissue t : all_tissues) REQUIRE(sums[t] == meat.total(t));
        REQUIRE(all == meat.total());
    }
}

TEST_CASE("slices between any two places telescope to the whole, tissue by tissue") {
    std::mt19937 random(67);
    for (int round = 0; round < 200; ++round) {
        const profile meat = tabulate(strip_loin(), static_cast<double>(1 + random() % 20) * millimetre);
        by_tissue<micrograms> sums;
        micrograms all;
        for (length from = -5_mm; from < meat.extent();) {
            const length to = from + static_cast<double>(1 + random() % 900) * 0.1_mm;
            for (const tissue t : all_tissues) sums[t] += meat.mass_between(from, to, t);
            const micrograms slice = meat.mass_between(from, to);
            REQUIRE(slice >= micrograms{});
            REQUIRE(meat.mass_between(to, from) == micrograms{} - slice);
            all += slice;
            from = to;
        }
        for (const tissue t : all_tissues) REQUIRE(sums[t] == meat.total(t));
        REQUIRE(all == meat.total());
    }
}

TEST_CASE("places that are positions have the masses of positions") {
    const profile meat = tabulate(strip_loin(), 3.3_mm);
    for (std::size_t from = 0; from < meat.cells(); from += 7)
        for (std::size_t to = from; to <= meat.cells(); to += 5) {
            REQUIRE(meat.mass_between(meat.position(from), meat.position(to)) == meat.between(from, to));
            for (const tissue t : all_tissues)
                REQUIRE(meat.mass_between(meat.position(from), meat.position(to), t) == meat.between(from, to, t));
        }
}

TEST_CASE("inside a cell of a prism a slice weighs by its thickness") {
    const profile meat = tabulate(block(), 10_mm);
    // A tenth of the length of a prism, cut anywhere; each of five tissues may be rounded by one at both faces.
    for (const double at : {0.0, 1.25, 33.4, 87.1})
        CHECK(std::abs(meat.mass_between(at * millimetre, (at + 10.0) * millimetre).count - meat.total().count / 10) <=
              10 + 2);
}

TEST_CASE("a place that is no number is refused") {
    const profile meat = tabulate(block(), 10_mm);
    const length nowhere = not_a_number * metre;
    CHECK_THROWS_AS(meat.mass_between(nowhere, 10_mm), invalid_input);
    CHECK_THROWS_AS(meat.mass_between(10_mm, nowhere, tissue::eye), invalid_input);
}

TEST_CASE("the total is the nearest microgram to the sum before rounding") {
    std::mt19937 random(65);
    for (int round = 0; round < 300; ++round) {
        measured_loin loin = strip_loin();
        for (station& s : loin.stations) s.depth *= 0.9 + 0.2 * (static_cast<double>(random()) / 4294967295.0);
        const profile meat = tabulate(loin, 3_mm);
        REQUIRE(meat.total() == to_micrograms(meat.unrounded_total()));
    }
}

TEST_CASE("every position has a nearest place that is not farther than half a step") {
    std::mt19937 random(66);
    for (int round = 0; round < 2000; ++round) {
        prism_loin loin = block();
        loin.length = static_cast<double>(500 + random() % 1000) * 0.1 * millimetre;
        const profile meat = tabulate(loin, 3_mm);
        const length at = meat.extent() * (static_cast<double>(random()) / 4294967295.0);
        const std::size_t i = meat.nearest(at);
        // A step is known to a last bit, a position to a few.
        REQUIRE(std::abs((meat.position(i) - at).value()) <= 0.5 * meat.step().value() + 1e-15);
        if (i > 0) REQUIRE(at - meat.position(i - 1) >= meat.position(i) - at - 1e-15 * metre);
        if (i < meat.cells()) REQUIRE(meat.position(i + 1) - at >= at - meat.position(i) - 1e-15 * metre);
    }
}

TEST_CASE("a finer grid moves masses at common positions by its own rounding alone") {
    const profile coarse = tabulate(block(), 5_mm), fine = tabulate(block(), 1_mm);
    for (const tissue t : all_tissues)
        for (std::size_t i = 0; i <= coarse.cells(); ++i)
            // A prism is exact on both grids; either column may have been closed by up to two micrograms.
            REQUIRE(std::abs(coarse.cumulative(t)[i] - fine.cumulative(t)[5 * i]) <= 1 + 2);
}

} // namespace profile_laws
