// That a plan knows its portions and where every microgram went.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <set>
#include <string_view>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>

#include "cut/samples.hpp"

namespace plan_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A block in cells of 5 mm, as in the tests of laying out, as steaks of two pieces with a kerf of a quarter of a cell.
cutting_plan two_slabs() {
    prism_loin loin = block();
    const profile meat = tabulate(loin, 5_mm, all_of(1_g_per_cm3));
    const std::vector<cut_spec> specs{{.name = "steak",
                                       .thickness = 20_mm,
                                       .pieces = 3,
                                       .trim = {.fat_cover = 5_mm, .tail = 0_mm, .silverskin = false},
                                       .kerf = 1.25_mm}};
    return lay_out(meat, specs, {.facing = 5_mm, .facing_goes_to = destination::dice},
                   {{1, 5, slab_kind::portions, 0}, {5, 9, slab_kind::portions, 0}, {9, 20, slab_kind::loose, 0}});
}

} // namespace

TEST_CASE("every kind of slab has a name of its own") {
    std::set<std::string_view> names;
    for (const slab_kind kind : {slab_kind::facing, slab_kind::portions, slab_kind::loose, slab_kind::end})
        names.insert(name_of(kind));
    CHECK(names == std::set<std::string_view>{"facing", "portions", "loose", "end"});
}

TEST_CASE("the balance of a plan is the one worked out by hand") {
    const mass_balance balance = balance_of(two_slabs());
    // Two slabs of 3.75 cells: kept 15.6 + 2 g a cell (half of the fat), trimmed 2 of fat, 2 of tail, 0.4 connective.
    REQUIRE(balance.portions.size() == 1);
    CHECK(balance.portions[0].count == 132'000'000);
    CHECK(balance.portion_total().count == 132'000'000);
    CHECK(balance.trim[destination::rendering].count == 15'000'000); // fat
    CHECK(balance.trim[destination::grind].count == 15'000'000);     // tail
    CHECK(balance.trim[destination::discard].count == 3'000'000);    // connective
    CHECK(balance.trim[destination::strips].count == 0);
    CHECK(balance.loose[destination::dice].count == 22'000'000);   // the facing
    CHECK(balance.loose[destination::grind].count == 242'000'000); // eleven cells of 22 g
    CHECK(balance.cutting_loss.count == 11'000'000);
    CHECK(balance.total().count == 440'000'000);
    CHECK(balance.total() == two_slabs().total);
}

TEST_CASE("trim goes where the rules send its tissue") {
    cutting_plan p = two_slabs();
    p.rules.trim_goes_to[tissue::fat_cover] = destination::discard;
    p.rules.trim_goes_to[tissue::tail] = destination::strips;
    const mass_balance balance = balance_of(p);
    CHECK(balance.trim[destination::discard].count == 18'000'000);
    CHECK(balance.trim[destination::strips].count == 15'000'000);
    CHECK(balance.trim[destination::rendering].count == 0);
    CHECK(balance.total() == p.total);
}

TEST_CASE("the portions of a slab are equal to the microgram, larger ones first") {
    cutting_plan p = two_slabs();
    slab& s = p.slabs[1];
    CHECK(p.portions_of(s) == std::vector<micrograms>(3, {22'000'000}));
    s.kept[tissue::eye].count += 2;
    CHECK(p.portions_of(s) == std::vector<micrograms>{{22'000'001}, {22'000'001}, {22'000'000}});
    CHECK(p.portions_of(p.slabs[0]).empty());
    CHECK(p.portions_of(p.slabs.back()).empty());
    CHECK(p.portion_count() == 6);
    CHECK(cutting_plan{}.portion_count() == 0);
}

TEST_CASE("a slab that is no portion goes to its destination") {
    const cutting_plan p = lay_out(strip_table(), two_cuts(), two_ways(), every_way());
    CHECK(p.destination_of(p.slabs[0]) == destination::grind);  // the facing
    CHECK(p.destination_of(p.slabs[3]) == destination::strips); // loose, option 1
    CHECK(p.destination_of(p.slabs.back()) == destination::grind);
    CHECK(p.spec_of(p.slabs[4]).name == "fillet");
}

TEST_CASE("the second muscle's share of a slab is of the lean that is kept") {
    slab s;
    CHECK(s.gluteus_medius_share() == 0.0);
    s.kept[tissue::fat_cover] = {500};
    CHECK(s.gluteus_medius_share() == 0.0);
    s.kept[tissue::gluteus_medius] = {100};
    s.kept[tissue::eye] = {300};
    CHECK(s.gluteus_medius_share() == 0.25);
}

} // namespace plan_test
