// Laws of plans over generated cuts: mass closes with no tolerance, portions add up, and a plan laid out is a plan verified.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <random>
#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/verify.hpp>

#include "cut/random_trim.hpp"
#include "cut/samples.hpp"

namespace plan_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

destination some_destination(std::mt19937& random) { return all_destinations[random() % detail::destination_count]; }

/// One to three specs with any trim, kerf and number of pieces, and limits that everything meets.
std::vector<cut_spec> some_specs(std::mt19937& random) {
    std::vector<cut_spec> specs;
    for (auto n = 1 + random() % 3; n > 0; --n)
        specs.push_back({.name = "cut " + std::to_string(n),
                         .thickness = {0.001_mm, unlimited<length>()},
                         .pieces = static_cast<int>(1 + random() % 5),
                         .trim = some_trim(random),
                         .gluteus_medius = any_gluteus_medius,
                         .kerf = random() % 2 == 0 ? 0_mm : 3.0 * random_share(random) * millimetre});
    return specs;
}

cutting_rules some_rules(std::mt19937& random) {
    cutting_rules rules{.facing = random() % 3 == 0 ? 0_mm : 25.0 * random_share(random) * millimetre,
                        .facing_goes_to = some_destination(random)};
    rules.loose.clear();
    for (auto n = 1 + random() % 3; n > 0; --n)
        rules.loose.push_back(
            {.goes_to = some_destination(random), .trim = some_trim(random), .least_thickness = 0_mm});
    for (const tissue t : all_tissues) rules.trim_goes_to[t] = some_destination(random);
    return rules;
}

std::vector<grid_slab> some_stretches(std::mt19937& random, const profile& meat, const std::vector<cut_spec>& specs,
                                      const cutting_rules& rules) {
    std::vector<grid_slab> stretches;
    for (std::size_t from = detail::position_behind_facing(meat, rules); from < meat.cells();) {
        const std::size_t to = std::min(meat.cells(), from + 2 + random() % 12);
        // Wider than any kerf: two cells are 4 mm at least, but for the end, where there is none.
        if (random() % 3 == 0)
            stretches.push_back({from, to, slab_kind::loose, random() % rules.loose.size()});
        else
            stretches.push_back({from, to, slab_kind::portions, random() % specs.size()});
        from = to;
    }
    return stretches;
}

} // namespace

TEST_CASE("every microgram of a loin is in its plan once") {
    std::mt19937 random(1180);
    for (int round = 0; round < 400; ++round) {
        const profile meat = tabulate(strip_loin(), (2.0 + 8.0 * random_share(random)) * millimetre);
        const std::vector<cut_spec> specs = some_specs(random);
        const cutting_rules rules = some_rules(random);
        validate(specs);
        validate(rules, meat.extent());
        const cutting_plan p = lay_out(meat, specs, rules, some_stretches(random, meat, specs, rules));

        const mass_balance balance = balance_of(p);
        REQUIRE(balance.total() == meat.total());
        REQUIRE(p.total == meat.total());
        by_tissue<micrograms> tissues;
        micrograms loss;
        std::size_t portions = 0;
        for (const slab& s : p.slabs) {
            for (const tissue t : all_tissues) {
                tissues[t] += s.kept[t] + s.trim[t];
                REQUIRE(s.kept[t].count >= 0);
                REQUIRE(s.trim[t].count >= 0);
            }
            REQUIRE(s.cutting_loss.count >= 0);
            if (s.kerf == 0_mm) REQUIRE(s.cutting_loss.count == 0);
            loss += s.cutting_loss;

            micrograms of_slab;
            const std::vector<micrograms> weights = p.portions_of(s);
            for (const micrograms w : weights) of_slab += w;
            portions += weights.size();
            if (s.kind == slab_kind::portions) {
                REQUIRE(of_slab == s.weight());
                REQUIRE(std::is_sorted(weights.rbegin(), weights.rend()));
                REQUIRE((weights.front() - weights.back()).count <= 1);
            }
        }
        REQUIRE(portions == p.portion_count());
        REQUIRE(tissues.sum() + loss == meat.total());
        for (const tissue t : all_tissues) REQUIRE(tissues[t] <= meat.total(t));
        const std::vector<std::string> faults = verify(p, meat, specs, rules);
        REQUIRE(faults == std::vector<std::string>{});
    }
}

TEST_CASE("slabs tile the loin from face to face") {
    std::mt19937 random(1181);
    for (int round = 0; round < 200; ++round) {
        const profile meat = tabulate(strip_loin(), (2.0 + 8.0 * random_share(random)) * millimetre);
        const std::vector<cut_spec> specs = some_specs(random);
        const cutting_rules rules = some_rules(random);
        const cutting_plan p = lay_out(meat, specs, rules, some_stretches(random, meat, specs, rules));
        length at{};
        for (const slab& s : p.slabs) {
            // Ends are sums of three lengths below half a metre: a few last bits.
            REQUIRE(std::abs((s.start - at).value()) <= 4 * 5.6e-17);
            REQUIRE(s.thickness > 0_mm);
            at = s.end();
        }
        REQUIRE(std::abs((at - meat.extent()).value()) <= 4 * 5.6e-17);
        REQUIRE((p.slabs.front().kind == slab_kind::facing) == (rules.facing > 0_mm));
        REQUIRE(p.slabs.back().kind != slab_kind::loose);
    }
}

TEST_CASE("a deeper trim moves weight from the portion to the trim and loses none") {
    const profile meat = strip_table();
    micrograms before{-1};
    for (int reach = 0; reach <= 12; ++reach) {
        std::vector<cut_spec> specs = two_cuts();
        specs[0].trim.fat_cover = static_cast<double>(reach) * millimetre;
        const cutting_plan p = lay_out(meat, specs, two_ways(), every_way());
        const slab& steak = p.slabs[1];
        REQUIRE(steak.weight() >= before);
        REQUIRE(steak.weight() + steak.trim.sum() + steak.cutting_loss == meat.between(2, 8));
        before = steak.weight();
    }
}

} // namespace plan_laws
