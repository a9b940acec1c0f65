// What holds for every limit of the tail, on a loin whose tail and layers change along it.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/tail_limit.hpp>
#include <tranche/cut/verify.hpp>
#include <tranche/cut/yield_table.hpp>

#include "cut/random_trim.hpp"
#include "cut/samples.hpp"
#include "loin/samples.hpp"

namespace tail_limit_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

length some_length(std::mt19937& random) { return 60.0 * random_share(random) * millimetre; }

std::vector<std::int64_t> kept(const profile& meat, const tail_limit& limit) {
    std::vector<std::int64_t> masses;
    for (std::size_t i = 0; i < meat.cells(); ++i)
        masses.push_back(detail::kept_in_cell(meat, i, tissue::tail, {.tail = limit}));
    return masses;
}

} // namespace

TEST_CASE("a taper with equal ends is the constant") {
    std::mt19937 random(31);
    const profile meat = tabulate(strip_loin(), 7_mm);
    for (int round = 0; round < 50; ++round) {
        const length l = some_length(random);
        REQUIRE(tail_limit{l, l} == tail_limit{l});
        REQUIRE(kept(meat, {l, l}) == kept(meat, l));
        REQUIRE(tail_limit(l, l).at(random_share(random)) == detail::snapped(l));
    }
}

TEST_CASE("a tighter taper never keeps more, anywhere") {
    std::mt19937 random(32);
    const profile meat = tabulate(strip_loin(), 7_mm);
    for (int round = 0; round < 50; ++round) {
        const length rib = some_length(random), sirloin = some_length(random);
        const tail_limit tighter(rib * random_share(random), sirloin * random_share(random));
        const auto more = kept(meat, {rib, sirloin}), less = kept(meat, tighter);
        for (std::size_t i = 0; i < meat.cells(); ++i) REQUIRE(less[i] <= more[i]);
    }
}

TEST_CASE("a taper keeps what lies between the constants of its ends") {
    std::mt19937 random(33);
    const profile meat = tabulate(strip_loin(), 7_mm);
    for (int round = 0; round < 50; ++round) {
        const length rib = some_length(random), sirloin = some_length(random);
        const auto taper = kept(meat, {rib, sirloin});
        const auto least = kept(meat, std::min(rib, sirloin)), most = kept(meat, std::max(rib, sirloin));
        for (std::size_t i = 0; i < meat.cells(); ++i) {
            REQUIRE(least[i] <= taper[i]);
            REQUIRE(taper[i] <= most[i]);
        }
    }
}

TEST_CASE("two trims after another leave the shorter tail at every place, in either order") {
    std::mt19937 random(34);
    const profile meat = tabulate(strip_loin(), 7_mm);
    for (int round = 0; round < 50; ++round) {
        const tail_limit a(some_length(random), some_length(random)), b(some_length(random), some_length(random));
        const tail_limit both = shorter(a, b);
        REQUIRE(both == shorter(b, a));
        for (int k = 0; k < 20; ++k) {
            const double along = random_share(random);
            REQUIRE(both.at(along) == std::min(a.at(along), b.at(along)));
        }
        const auto one = kept(meat, a), other = kept(meat, b), left = kept(meat, both);
        for (std::size_t i = 0; i < meat.cells(); ++i) REQUIRE(left[i] == std::min(one[i], other[i]));
    }
}

TEST_CASE("every plan under limits that taper, and cross, holds on any grid") {
    std::mt19937 random(35);
    for (int round = 0; round < 20; ++round) {
        const profile meat = tabulate(strip_loin(), round % 2 == 0 ? 5_mm : 5.3_mm);
        cut_list specs = two_cuts();
        cutting_rules rules = two_ways();
        const auto taper = [&] { return tail_limit(some_length(random), some_length(random)); };
        rules.trim_whole.tail = taper();
        rules.loose[1].trim.tail = taper();
        for (cut_spec& spec : specs) {
            spec.thickness = {1_mm, 100_mm};
            spec.portion = {};
            spec.gluteus_medius = any_gluteus_medius;
            spec.trim.tail = taper();
            spec.kerf = 1.3_mm;
        }
        const std::size_t end = meat.cells();
        const cutting_plan p = lay_out(meat, specs, rules,
                                       {{2, 9, slab_kind::portions, 0},
                                        {9, 17, slab_kind::portions, 1},
                                        {17, 30, slab_kind::loose, 1},
                                        {30, 41, slab_kind::portions, 0},
                                        {41, end, slab_kind::loose, 0}});
        REQUIRE(verify(p, meat, specs, rules) == std::vector<std::string>{});
    }
}

} // namespace tail_limit_laws
