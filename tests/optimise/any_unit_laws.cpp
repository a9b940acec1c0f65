// Requests that mean the same in any unit have one plan, and it keeps them in every unit.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/on_finer_grid.hpp>
#include <tranche/optimise/explain/binding_limit.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "loin/any_unit.hpp"

namespace plans_in_any_unit_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct request {
    measured_loin loin;
    length step;
    cut_list specs;
    cutting_rules rules;
};

/// Limits that lie on the grid, where the last bits matter most, and some that do not.
request some_request(std::uint64_t seed, std::uint64_t units) {
    whole_numbers some(seed);
    in_any_unit write(units);
    const bool inches = some(0, 1) == 0; // a grid of 1/64 in or of 0.5 mm
    const auto steps = [&](std::int64_t count) {
        return inches ? write.inches_128(2 * count) : write.micrometres(500 * count);
    };
    const auto near = [&](std::int64_t low, std::int64_t high) {
        const std::int64_t count = some(low, high);
        return some(0, 3) == 0 ? write.grains(7'777 * count) : steps(count);
    };
    request r;
    r.step = steps(1);
    r.loin.length = near(600, 800);
    for (const std::int64_t place : {0, 300, 600})
        r.loin.stations.push_back({.at = steps(place),
                                   .width = write.micrometres(some(180'000, 220'000)),
                                   .depth = write.micrometres(some(60'000, 80'000)),
                                   .fat_cover = write.micrometres(some(5'000, 15'000)),
                                   .tail = write.micrometres(some(10'000, 60'000))});
    r.loin.gluteus_medius = {steps(some(400, 590)), 0.01 * static_cast<double>(some(10, 40))};

    cut_spec steak{.name = "steak"}, fillet{.name = "fillet", .pieces = 2};
    const std::int64_t thin = some(40, 60), thick = thin + some(0, 12);
    const length least = steps(thin), most = steps(thick);
    steak.thickness = {least, most};
    steak.kerf = some(0, 1) == 0 ? length{} : near(1, 4);
    steak.trim = {.fat_cover = write.micrometres(6'000), .tail = {write.inches_128(384), write.inches_128(256)}};
    if (some(0, 2) == 0) steak.thickness_step = steps(some(2, 5));
    if (some(0, 2) == 0) steak.gluteus_medius = gluteus_medius_up_to(0.01 * static_cast<double>(some(0, 20)));
    const length tall = near(70, 90);
    fillet.thickness = {tall, tall + steps(some(0, 6))};
    const length from = near(100, 300), to = near(301, 560);
    fillet.zone = {from, to};
    fillet.gluteus_medius = no_gluteus_medius;
    r.specs = {fillet, steak};
    r.rules.facing = near(0, 20);
    r.rules.loose.front().least_thickness = near(10, 30);
    r.rules.remnant.thickness = near(0, 60);
    return r;
}

} // namespace

TEST_CASE("a request in any unit has one plan, which keeps it in every unit") {
    std::size_t planned = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        const request first = some_request(seed, 1);
        const profile meat = tabulate(first.loin, first.step);
        const cutting_plan plan = most_portions(meat, first.specs, first.rules).plan;
        planned += plan.portion_count() > 0 ? 1 : 0;
        for (std::uint64_t units = 2; units <= 3; ++units) {
            const request other = some_request(seed, units);
            const profile again = tabulate(other.loin, other.step);
            REQUIRE(again == meat);
            REQUIRE(most_portions(again, other.specs, other.rules).plan == plan);
            REQUIRE(verify(plan, again, other.specs, other.rules) == std::vector<std::string>{});
            const cutting_problem one(meat, first.specs, first.rules), two(again, other.specs, other.rules);
            for (std::size_t spec = 0; spec < first.specs.size(); ++spec)
                REQUIRE(binding_limit_of(one, spec) == binding_limit_of(two, spec));
        }
    }
    CHECK(planned > 20);
}

TEST_CASE("plans on a finer grid, whose positions lie between the grains, hold") {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        CAPTURE(seed);
        const request r = some_request(seed, 1);
        const profile meat = tabulate(r.loin, r.step);
        for (const std::size_t parts :
             {std::size_t{3}, std::size_t{4}, std::size_t{7}}) { // steps of thirds and halves of a grain
            const profile fine = on_finer_grid(meat, parts);
            cut_list specs = r.specs;
            for (cut_spec& spec : specs) spec.thickness_step = {};
            const cutting_plan plan = most_portions(fine, specs, r.rules).plan;
            REQUIRE(verify(plan, fine, specs, r.rules) == std::vector<std::string>{});
        }
    }
}

TEST_CASE("a muscle that sets in at 33.8 cm gives as many steaks as one at 338 mm") {
    // Thirteen of 26 mm reach to 338 mm, and the fourteenth shows the muscle on one face only.
    for (const length& onset : {33.8_cm, 338_mm, 0.338_m}) {
        const measured_loin loin{
            .length = 400_mm, .stations = {{.at = {}, .width = 20_cm, .depth = 8_cm}}, .gluteus_medius = {onset, 0.3}};
        const profile meat = tabulate(loin);
        CHECK(most_portions(meat, cut_spec{.name = "steak", .thickness = 26_mm}).plan.portion_count() == 14);
    }
}

TEST_CASE("a face with just the share that a cut tolerates is tolerated") {
    for (int onset = 200; onset < 400; onset += 20) {
        // 0.15 half way between the onset and 0.30 at the end, which is where the last of ten slabs ends.
        const int extent = onset + 60, half = onset + 30;
        const measured_loin loin{.length = extent * millimetre,
                                 .stations = {{.at = {}, .width = 20_cm, .depth = 8_cm}},
                                 .gluteus_medius = {onset * millimetre, 0.3}};
        const profile meat = tabulate(loin);
        const cut_spec spec{
            .name = "steak", .thickness = half / 10.0 * millimetre, .gluteus_medius = gluteus_medius_up_to(0.15)};
        CHECK(most_portions(meat, spec).plan.portion_count() == 10);
    }
}

TEST_CASE("a range, a facing and a loin of one foot meet twelve inches") {
    const prism_loin loin{.length = 1_ft, .face = {.width = 20_cm, .depth = 8_cm}};
    const profile meat = tabulate(loin, 0.5_in);
    const cut_spec whole{.name = "whole", .thickness = {12_in, 1_ft}};
    CHECK_NOTHROW(validate(whole));
    CHECK(most_portions(meat, whole).plan.portion_count() == 1);
    CHECK_THROWS_AS(validate(cutting_rules{.facing = 12_in}, meat.extent()), invalid_input);
    const cut_spec fourths{.name = "fourth", .thickness = 7.62_cm, .zone = {0_in, 304.8_mm}};
    CHECK(most_portions(meat, fourths).plan.portion_count() == 4);
}

} // namespace plans_in_any_unit_laws
