// That positions become slabs with the weights worked out by hand, and that stretches that do not tile are refused.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <vector>

#include <tranche/cut/lay_out.hpp>

#include "cut/samples.hpp"
#include "loin/samples.hpp"

namespace lay_out_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Cells of 5 mm: eye 15.6 g, fat 4 g (10 mm deep), tail 2 g (20 mm long), connective 0.4 g, 22 g in all; 20 of them, and
/// one of 2 mm and 8.8 g.
profile block_table() {
    prism_loin loin = block();
    loin.length = 102_mm;
    return tabulate(loin, 5_mm, all_of(1_g_per_cm3));
}

void check_masses(const by_tissue<micrograms>& masses, double eye, double fat, double tail, double connective) {
    CHECK(masses[tissue::eye].count == std::llround(eye * 1e6));
    CHECK(masses[tissue::gluteus_medius].count == 0);
    CHECK(masses[tissue::fat_cover].count == std::llround(fat * 1e6));
    CHECK(masses[tissue::tail].count == std::llround(tail * 1e6));
    CHECK(masses[tissue::connective].count == std::llround(connective * 1e6));
}

} // namespace

TEST_CASE("slabs without kerf weigh their cells, kept or trimmed") {
    const profile meat = block_table();
    const std::vector<cut_spec> specs{
        {.name = "steak", .thickness = 20_mm, .trim = {.fat_cover = 2.5_mm, .tail = 5_mm, .silverskin = false}}};
    const cutting_rules rules{.facing = 10_mm, .loose = {{.trim = {.fat_cover = 0_mm}}}};
    const cutting_plan p = lay_out(meat, specs, rules,
                                   {{2, 6, slab_kind::portions, 0},
                                    {6, 10, slab_kind::portions, 0},
                                    {10, 12, slab_kind::loose, 0},
                                    {12, 21, slab_kind::loose, 0}});
    REQUIRE(p.slabs.size() == 5);

    const slab& facing = p.slabs[0];
    CHECK(facing.kind == slab_kind::facing);
    CHECK(facing.start == 0_mm);
    CHECK(facing.thickness == meat.position(2));
    check_masses(facing.kept, 31.2, 8, 4, 0.8); // whole, untrimmed
    check_masses(facing.trim, 0, 0, 0, 0);

    const slab& steak = p.slabs[2];
    CHECK(steak.kind == slab_kind::portions);
    CHECK(steak.start == meat.position(6));
    CHECK(steak.end() == meat.position(10));
    check_masses(steak.kept, 62.4, 4, 2, 0); // four cells: a quarter of the fat and of the tail stays
    check_masses(steak.trim, 0, 12, 6, 1.6);
    CHECK(steak.cutting_loss.count == 0);

    const slab& loose = p.slabs[3];
    CHECK(loose.kind == slab_kind::loose);
    check_masses(loose.kept, 31.2, 0, 4, 0.8);
    check_masses(loose.trim, 0, 8, 0, 0);

    const slab& end = p.slabs[4]; // eight whole cells and the short one, two fifths of a cell
    CHECK(end.kind == slab_kind::end);
    CHECK(detail::snapped(end.end()) == detail::snapped(102_mm));
    check_masses(end.kept, 8.4 * 15.6, 0, 8.4 * 2, 8.4 * 0.4);
    check_masses(end.trim, 0, 8.4 * 4, 0, 0);

    CHECK(p.extent == detail::snapped(102_mm));
    CHECK(p.total == meat.total());
    CHECK(p.specs == specs);
    CHECK(p.rules == rules);
}

TEST_CASE("the kerf takes its share of the cells it lies in") {
    const profile meat = block_table();
    // 1.25 mm is a quarter of a cell, 6.25 mm a cell and a quarter: exact in binary.
    const std::vector<cut_spec> specs{
        {.name = "thin", .thickness = 20_mm, .kerf = 1.25_mm},
        {.name = "thick", .thickness = 20_mm, .trim = {.fat_cover = 5_mm}, .kerf = 6.25_mm}};
    const cutting_plan p =
        lay_out(meat, specs, {},
                {{0, 4, slab_kind::portions, 0}, {4, 8, slab_kind::portions, 1}, {8, 21, slab_kind::portions, 0}});
    REQUIRE(p.slabs.size() == 3);
    CHECK_THAT(p.slabs[0].thickness / 1_mm, WithinRel(18.75, 1e-15));
    CHECK(p.slabs[0].kerf == 1.25_mm);
    check_masses(p.slabs[0].kept, 3.75 * 15.6, 3.75 * 4, 3.75 * 2, 3.75 * 0.4);
    check_masses(p.slabs[0].trim, 0, 0, 0, 0);
    CHECK(p.slabs[0].cutting_loss.count == 5'500'000); // a quarter of 22 g

    check_masses(p.slabs[1].kept, 2.75 * 15.6, 2.75 * 2, 2.75 * 2, 2.75 * 0.4);
    check_masses(p.slabs[1].trim, 0, 2.75 * 2, 0, 0);
    CHECK(p.slabs[1].cutting_loss.count == 27'500'000); // a cell and a quarter

    // Behind the sirloin face there is nothing to cut.
    CHECK(p.slabs[2].kerf == 0_mm);
    CHECK(p.slabs[2].cutting_loss.count == 0);
    CHECK(detail::snapped(p.slabs[2].end()) == detail::snapped(102_mm));
    check_masses(p.slabs[2].kept, 12.4 * 15.6, 12.4 * 4, 12.4 * 2, 12.4 * 0.4);
}

TEST_CASE("the facing goes to the first position at or behind its thickness") {
    const profile meat = block_table();
    const auto behind = [&](length facing) { return detail::position_behind_facing(meat, {.facing = facing}); };
    CHECK(behind(0_mm) == 0);
    CHECK(behind(5_mm) == 1);
    CHECK(behind(5.1_mm) == 2);
    CHECK(behind(9.9_mm) == 2);
    CHECK(behind(101_mm) == 21);
    const std::vector<cut_spec> specs{{.name = "steak", .thickness = 20_mm}};
    CHECK(lay_out(meat, specs, {}, {{0, 21, slab_kind::loose, 0}}).slabs.size() == 1); // no facing asked for
}

TEST_CASE("the second muscle on either face is that of the positions") {
    const profile meat = strip_table();
    const cutting_plan p = lay_out(meat, two_cuts(), two_ways(), every_way());
    for (const slab& s : p.slabs) {
        CHECK(s.gluteus_medius_towards_rib == meat.gluteus_medius_share(meat.nearest(s.start)));
        CHECK(s.gluteus_medius_towards_sirloin == meat.gluteus_medius_share(meat.nearest(s.end())));
    }
    CHECK(p.slabs.front().gluteus_medius_towards_rib == 0.0);
    CHECK(p.slabs.back().gluteus_medius_towards_sirloin > 0.29); // 0.30 on the sirloin face
    // By mass the end has less of it than on its last face and more than on its first.
    CHECK(p.slabs.back().gluteus_medius_share() > p.slabs.back().gluteus_medius_towards_rib);
    CHECK(p.slabs.back().gluteus_medius_share() < p.slabs.back().gluteus_medius_towards_sirloin);
}

TEST_CASE("stretches that do not tile the loin are refused") {
    const profile meat = block_table();
    const std::vector<cut_spec> specs{{.name = "steak", .thickness = 20_mm, .kerf = 5_mm}};
    const auto refusal = [&](const std::vector<grid_slab>& stretches) {
        return message_of([&] { (void)lay_out(meat, specs, {.facing = 10_mm}, stretches); });
    };
    const auto loose = slab_kind::loose, portions = slab_kind::portions;
    CHECK(refusal({{2, 21, loose, 0}}) == "accepted");
    CHECK(refusal({}) == "stretches: got an end at position 2, expected an end at the sirloin face, position 21");
    CHECK(refusal({{2, 20, loose, 0}}) ==
          "stretches: got an end at position 20, expected an end at the sirloin face, position 21");
    CHECK(refusal({{0, 21, loose, 0}}) ==
          "stretch: got 0 to 21, expected one that starts at position 2 and ends on the loin");
    CHECK(refusal({{2, 8, loose, 0}, {9, 21, loose, 0}}) ==
          "stretch: got 9 to 21, expected one that starts at position 8 and ends on the loin");
    CHECK(refusal({{2, 8, loose, 0}, {7, 21, loose, 0}}) ==
          "stretch: got 7 to 21, expected one that starts at position 8 and ends on the loin");
    CHECK(refusal({{2, 2, loose, 0}, {2, 21, loose, 0}}) ==
          "stretch: got 2 to 2, expected one that starts at position 2 and ends on the loin");
    CHECK(refusal({{2, 22, loose, 0}}) ==
          "stretch: got 2 to 22, expected one that starts at position 2 and ends on the loin");
    CHECK(refusal({{2, 21, portions, 1}}) == "stretch.option: got 1, expected the index of a spec or loose cut");
    CHECK(refusal({{2, 21, loose, 1}}) == "stretch.option: got 1, expected the index of a spec or loose cut");
}

TEST_CASE("a slab that is all kerf is refused wherever it lies") {
    prism_loin loin = block();
    loin.length = 400_mm;
    for (const length& step : {5_mm, 0.7_mm, 1.0_in / 16.0}) {
        const profile meat = tabulate(loin, step);
        const std::vector<cut_spec> specs{{.name = "steak", .thickness = 20_mm, .kerf = step}};
        for (std::size_t i = 1; i + 2 < meat.cells(); ++i)
            REQUIRE_THAT(message_of([&] {
                             (void)lay_out(meat, specs, {},
                                           {{0, i, slab_kind::loose, 0},
                                            {i, i + 1, slab_kind::portions, 0},
                                            {i + 1, meat.cells(), slab_kind::loose, 0}});
                         }),
                         StartsWith("stretch: got ") && ContainsSubstring("expected more than the kerf, "));
    }
}

} // namespace lay_out_test
