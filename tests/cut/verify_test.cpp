// That a second opinion finds nothing in a plan that holds and every fault in one that was tampered with.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/verify.hpp>

#include "cut/samples.hpp"

namespace verify_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Slabs of the plan: facing, steak, steak, loose, fillet, steak, steak, fillet, fillet, steak, end.
constexpr std::size_t facing = 0, first_steak = 1, loose = 3, fillet = 4, last_steak = 9, end = 10;

cutting_plan good_plan() { return lay_out(strip_table(), two_cuts(), two_ways(), every_way()); }

std::vector<std::string> faults_of(const cutting_plan& p) { return verify(p, strip_table(), two_cuts(), two_ways()); }

/// The faults of the good plan after a change, one a line.
template <class Change>
std::string faults_after(Change change) {
    cutting_plan p = good_plan();
    change(p);
    std::string lines;
    for (const std::string& fault : faults_of(p)) lines += fault + '\n';
    return lines;
}

} // namespace

TEST_CASE("a plan that was laid out within limits has no fault") {
    CHECK(faults_of(good_plan()) == std::vector<std::string>{});
}

TEST_CASE("a slab that is moved, resized, missing or out of order is found") {
    for (const std::size_t i : {facing, first_steak, loose, fillet, last_steak, end}) {
        CAPTURE(i);
        CHECK_THAT(faults_after([=](cutting_plan& p) { p.slabs[i].start += 1_mm; }),
                   ContainsSubstring("plan: a slab starts at "));
        CHECK_THAT(faults_after([=](cutting_plan& p) { p.slabs[i].thickness += 1_mm; }),
                   ContainsSubstring(i == end ? "plan: the slabs end at 421 mm, the loin at 420 mm"
                                              : "plan: a slab starts at "));
        CHECK_THAT(faults_after([=](cutting_plan& p) { p.slabs[i].kerf += 1_mm; }), ContainsSubstring("a kerf of "));
        CHECK_THAT(
            faults_after([=](cutting_plan& p) { p.slabs.erase(p.slabs.begin() + static_cast<std::ptrdiff_t>(i)); }),
            ContainsSubstring("masses add up to ") && ContainsSubstring(", the loin weighs "));
    }
    CHECK_THAT(faults_after([](cutting_plan& p) { std::swap(p.slabs[loose], p.slabs[fillet]); }),
               ContainsSubstring("plan: a slab starts at "));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs.push_back(p.slabs.back()); }),
               ContainsSubstring("plan: a slab starts at "));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs.clear(); }),
               ContainsSubstring("plan: the slabs end at 0 mm"));
}

TEST_CASE("a slab turned inside out or without a place is found") {
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[first_steak].thickness = -1_mm; }),
               ContainsSubstring("slab 2: no thicker than -1 mm"));
    for (const double bad : {not_a_number, infinite, -infinite}) {
        const auto nowhere = length::from_value(bad);
        CHECK(faults_after([&](cutting_plan& p) { p.slabs[fillet].start = nowhere; }) == "plan: a slab has no place\n");
        CHECK(faults_after([&](cutting_plan& p) { p.slabs[fillet].thickness = nowhere; }) ==
              "plan: a slab has no place\n");
        CHECK(faults_after([&](cutting_plan& p) { p.slabs[fillet].kerf = nowhere; }) == "plan: a slab has no place\n");
    }
}

TEST_CASE("a first slab of loose meat that does not start at the rib face is found") {
    const profile meat = strip_table();
    const cutting_rules rules{};
    cutting_plan p = lay_out(meat, two_cuts(), rules, {{0, 20, slab_kind::loose, 0}, {20, 84, slab_kind::loose, 0}});
    CHECK(verify(p, meat, two_cuts(), rules).empty());
    p.slabs.front().start = 1_mm;
    CHECK_FALSE(verify(p, meat, two_cuts(), rules).empty());
}

TEST_CASE("one microgram too many or too few is found in its slab and tissue") {
    for (const std::size_t i : {facing, first_steak, loose, fillet, end})
        for (const tissue t : all_tissues)
            for (const int one : {1, -1}) {
                CAPTURE(i, name_of(t), one);
                const std::string where =
                    "slab " + std::to_string(i + 1) + ": wrong mass of " + std::string(name_of(t));
                CHECK_THAT(faults_after([=](cutting_plan& p) { p.slabs[i].kept[t].count += one; }),
                           ContainsSubstring(where) && ContainsSubstring("plan: masses add up to "));
                CHECK_THAT(faults_after([=](cutting_plan& p) { p.slabs[i].trim[t].count += one; }),
                           ContainsSubstring(where) && ContainsSubstring("plan: masses add up to "));
                // Moved from what is kept to the trim the total still closes.
                CHECK_THAT(faults_after([=](cutting_plan& p) {
                               p.slabs[i].kept[t].count -= one;
                               p.slabs[i].trim[t].count += one;
                           }),
                           ContainsSubstring(where) && !ContainsSubstring("masses add up"));
            }
    CHECK_THAT(faults_after([](cutting_plan& p) { ++p.slabs[first_steak].cutting_loss.count; }),
               ContainsSubstring("slab 2: wrong cutting loss"));
    CHECK_THAT(faults_after([](cutting_plan& p) { ++p.slabs[fillet].cutting_loss.count; }),
               ContainsSubstring("slab 5: wrong cutting loss"));
}

TEST_CASE("a total or an extent that is not the loin's is found") {
    CHECK_THAT(faults_after([](cutting_plan& p) { ++p.total.count; }), StartsWith("plan: masses add up to "));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.extent += 1_mm; }), StartsWith("plan: made for a loin of 421 mm"));
}

TEST_CASE("a slab of the wrong kind or option is found") {
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[facing].kind = slab_kind::loose; }),
               ContainsSubstring("plan: a facing of 0 mm, not 10 mm"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[loose].kind = slab_kind::facing; }),
               ContainsSubstring("slab 4: a facing that is not in front"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[loose].kind = slab_kind::end; }),
               ContainsSubstring("slab 4: an end that does not reach the sirloin face"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[end].kind = slab_kind::loose; }),
               ContainsSubstring("slab 11: loose meat at the sirloin face that is not called the end"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[first_steak].kind = slab_kind::loose; }),
               ContainsSubstring("slab 2: a kerf of 1 mm, not 0 mm"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[end].kind = slab_kind::portions; }),
               ContainsSubstring("slab 11: steak is 80 mm thick, outside its limits"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[first_steak].option = 1; }),
               ContainsSubstring("slab 2: fillet is 29 mm thick, outside its limits") &&
                   ContainsSubstring("slab 2: wrong mass of fat cover"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[loose].option = 0; }),
               ContainsSubstring("slab 4: wrong mass of fat cover"));
    CHECK(faults_after([](cutting_plan& p) { p.slabs[first_steak].option = 2; }) ==
          "plan: a slab names a cut that does not exist\n");
    CHECK(faults_after([](cutting_plan& p) { p.slabs[loose].option = 2; }) ==
          "plan: a slab names a cut that does not exist\n");
}

TEST_CASE("a wrong share of the second muscle on a face is found") {
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[end].gluteus_medius_towards_rib += 0.01; }),
               StartsWith("slab 11: wrong share of gluteus medius towards the rib"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[last_steak].gluteus_medius_towards_sirloin = 0.0; }),
               StartsWith("slab 10: wrong share of gluteus medius towards the sirloin"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.slabs[fillet].gluteus_medius_towards_rib = not_a_number; }),
               StartsWith("slab 5: wrong share of gluteus medius towards the rib"));
}

TEST_CASE("a plan for other specs or rules is found") {
    CHECK_THAT(faults_after([](cutting_plan& p) { p.specs[0].portion.max += 1_g; }),
               StartsWith("plan: made for other specs"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.specs[1].name = "filet"; }),
               StartsWith("plan: made for other specs"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.specs.pop_back(); }), StartsWith("plan: made for other specs"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.rules.facing_goes_to = destination::discard; }),
               StartsWith("plan: made under other rules"));
    CHECK_THAT(faults_after([](cutting_plan& p) { p.rules.trim_goes_to[tissue::tail] = destination::discard; }),
               StartsWith("plan: made under other rules"));
}

TEST_CASE("a portion outside its limits is found") {
    const profile meat = strip_table();
    const auto faults_under = [&](auto change) {
        std::vector<cut_spec> specs = two_cuts();
        change(specs);
        const cutting_plan p = lay_out(meat, specs, two_ways(), every_way()); // lays out what limits forbid
        std::string lines;
        for (const std::string& fault : verify(p, meat, specs, two_ways())) lines += fault + '\n';
        return lines;
    };
    using specs = std::vector<cut_spec>;
    CHECK(faults_under([](specs&) {}).empty());
    CHECK_THAT(faults_under([](specs& s) { s[0].thickness.max = 28.9_mm; }),
               StartsWith("slab 2: steak is 29 mm thick, outside its limits"));
    CHECK_THAT(faults_under([](specs& s) { s[0].thickness.min = 29.1_mm; }),
               StartsWith("slab 2: steak is 29 mm thick, outside its limits"));
    CHECK(faults_under([](specs& s) { s[0].thickness = 29_mm; }).empty());
    // A window narrower than the grid is met by the nearest position: half a step either way.
    CHECK(faults_under([](specs& s) { s[0].thickness = 31.4_mm; }).empty());
    CHECK_THAT(faults_under([](specs& s) { s[0].thickness = 31.6_mm; }), ContainsSubstring("outside its limits"));

    const mass lightest = [&] {
        const cutting_plan p = good_plan();
        mass least = 1_kg;
        for (const slab& s : p.slabs)
            if (s.kind == slab_kind::portions && s.option == 0) least = std::min(least, to_mass(s.weight()));
        return least;
    }();
    CHECK(faults_under([&](specs& s) { s[0].portion.min = lightest - 0.001_g; }).empty());
    CHECK_THAT(faults_under([&](specs& s) { s[0].portion.min = lightest + 0.001_g; }),
               ContainsSubstring("steak weighs " + detail::shown(lightest) + ", outside its limits"));
    CHECK_THAT(faults_under([&](specs& s) {
                   s[0].portion = {10_g, lightest - 1_g};
               }),
               ContainsSubstring("slab 2: steak weighs ") && ContainsSubstring("slab 10: steak weighs "));
    // Two pieces weigh half each: what is right for the slab is too much to ask of the piece.
    CHECK_THAT(faults_under([](specs& s) {
                   s[1].portion = {400_g, 800_g};
               }),
               ContainsSubstring("slab 5: fillet weighs "));
}

TEST_CASE("the second muscle where a spec does not tolerate it is found") {
    const profile meat = strip_table();
    const auto faults_for = [&](gluteus_medius_rule rule, std::size_t from, std::size_t to) {
        std::vector<cut_spec> specs{{.name = "steak", .thickness = {10_mm, 100_mm}, .gluteus_medius = rule}};
        std::vector<grid_slab> stretches{{0, from, slab_kind::loose, 0}, {from, to, slab_kind::portions, 0}};
        if (to < meat.cells()) stretches.push_back({to, meat.cells(), slab_kind::loose, 0});
        std::string lines;
        for (const std::string& fault : verify(lay_out(meat, specs, {}, stretches), meat, specs, {})) lines += fault;
        return lines;
    };
    const std::string rib = "slab 2: steak shows too much gluteus medius towards the rib",
                      sirloin = "slab 2: steak shows too much gluteus medius towards the sirloin";
    // It enters at 336 mm, between positions 67 and 68; at 84 it is 0.30 of the lean, at 76 0.30 × 44 / 84 = 0.157.
    CHECK(faults_for(on_one_face, 60, 67).empty()); // in front of it
    CHECK(faults_for(on_one_face, 62, 70).empty()); // on one face
    CHECK(faults_for(on_one_face, 67, 76).empty()); // the rib face is the last without it
    CHECK(faults_for(on_one_face, 68, 76) == rib);  // on both
    CHECK(faults_for(no_gluteus_medius, 60, 67).empty());
    CHECK(faults_for(no_gluteus_medius, 62, 68) == sirloin);
    CHECK(faults_for(no_gluteus_medius, 68, 76) == rib + sirloin);
    CHECK(faults_for(gluteus_medius_up_to(0.16), 68, 76).empty());
    CHECK(faults_for(gluteus_medius_up_to(0.15), 68, 76) == sirloin);
    CHECK(faults_for(any_gluteus_medius, 68, 84).empty());
}

TEST_CASE("loose meat between portions that is thinner than allowed is found") {
    const profile meat = strip_table();
    const std::vector<cut_spec> specs{
        {.name = "steak", .thickness = {10_mm, 420_mm}, .gluteus_medius = any_gluteus_medius}};
    const auto faults = [&](length least, const std::vector<grid_slab>& stretches, length facing_cut) {
        const cutting_rules rules{.facing = facing_cut, .loose = {{.least_thickness = least}}};
        std::string lines;
        for (const std::string& fault : verify(lay_out(meat, specs, rules, stretches), meat, specs, rules))
            lines += fault;
        return lines;
    };
    const std::vector<grid_slab> between{
        {0, 20, slab_kind::portions, 0}, {20, 22, slab_kind::loose, 0}, {22, 84, slab_kind::portions, 0}};
    CHECK(faults(10_mm, between, 0_mm).empty());
    CHECK(faults(11_mm, between, 0_mm) == "slab 2: loose meat of 10 mm between portions, thinner than allowed");
    // At either end it may be as thin as it comes.
    CHECK(faults(50_mm, {{0, 2, slab_kind::loose, 0}, {2, 84, slab_kind::portions, 0}}, 0_mm).empty());
    CHECK(faults(50_mm, {{2, 4, slab_kind::loose, 0}, {4, 84, slab_kind::portions, 0}}, 10_mm).empty());
    CHECK(faults(50_mm, {{0, 82, slab_kind::portions, 0}, {82, 84, slab_kind::loose, 0}}, 0_mm).empty());
}

TEST_CASE("a facing thinner than asked for is found") {
    const profile meat = strip_table();
    cutting_plan p = lay_out(meat, two_cuts(), {.facing = 5_mm}, {{1, 84, slab_kind::loose, 0}});
    CHECK(verify(p, meat, two_cuts(), {.facing = 5_mm}).empty());
    p.rules.facing = 10_mm;
    const auto faults = verify(p, meat, two_cuts(), {.facing = 10_mm});
    CHECK(faults == std::vector<std::string>{"plan: a facing of 5 mm, not 10 mm"});
}

TEST_CASE("a facing thicker than asked for is found") {
    const profile meat = tabulate(prism_loin{.length = 300_mm, .face = {.width = 20_cm, .depth = 7_cm}}, 1_mm);
    const std::vector<cut_spec> specs{{.name = "steak", .thickness = 30_mm}};
    cutting_plan cuts =
        lay_out(meat, specs, {.facing = 20_mm}, {{20, 50, slab_kind::portions, 0}, {50, 300, slab_kind::loose, 0}});
    CHECK(verify(cuts, meat, specs, cuts.rules).empty());
    for (const length& asked : {6_mm, 0_mm}) {
        cuts.rules.facing = asked;
        const auto faults = verify(cuts, meat, specs, cuts.rules);
        REQUIRE(faults.size() == 1);
        CHECK_THAT(faults[0], StartsWith("plan: a facing of 20 mm, not"));
    }
}

TEST_CASE("a thickness outside a narrow window is found when the grid has one inside") {
    const profile meat = tabulate(prism_loin{.length = 295_mm, .face = {.width = 20_cm, .depth = 7_cm}}, 10_mm);
    const auto faults_of = [&](quantity_range<length> window, std::size_t from, std::size_t to,
                               length kerf = length{}) {
        const std::vector<cut_spec> specs{{.name = "steak", .thickness = window, .kerf = kerf}};
        std::vector<grid_slab> stretches;
        if (from > 0) stretches.push_back({0, from, slab_kind::loose, 0});
        stretches.push_back({from, to, slab_kind::portions, 0});
        if (to < meat.cells()) stretches.push_back({to, meat.cells(), slab_kind::loose, 0});
        const cutting_plan cuts = lay_out(meat, specs, {}, stretches);
        return verify(cuts, meat, specs, cuts.rules).size();
    };
    CHECK(faults_of({29_mm, 36_mm}, 0, 3) == 0); // 30 mm
    CHECK(faults_of({29_mm, 36_mm}, 0, 4) == 1); // 40 mm, though within half a step of 36 mm
    CHECK(faults_of({33_mm, 34_mm}, 0, 3) == 0); // nothing inside: the nearest, 30 mm, is half a step away at most
    CHECK(faults_of({33_mm, 34_mm}, 0, 4) == 1);
    CHECK(faults_of({26_mm, 29_mm}, 0, 3, 2_mm) == 0); // 28 mm in front of the kerf
    CHECK(faults_of({24_mm, 27_mm}, 27, 30) == 0);     // 25 mm at the sirloin face
    CHECK(faults_of({26_mm, 34_mm}, 27, 30) == 0);     // nothing inside there: 25 mm is the nearest
    CHECK(faults_of({26_mm, 36_mm}, 27, 30) == 1);     // 35 mm would have been inside
}

TEST_CASE("a plan whose own specs are impossible is a fault and no accident") {
    const profile meat = tabulate(prism_loin{.length = 300_mm, .face = {.width = 20_cm, .depth = 7_cm}}, 1_mm);
    const std::vector<cut_spec> specs{{.name = "steak", .thickness = 30_mm}};
    cutting_plan cuts = lay_out(meat, specs, {}, {{0, 30, slab_kind::portions, 0}, {30, 300, slab_kind::loose, 0}});
    cuts.specs[0].pieces = -1;
    const auto faults = verify(cuts, meat, specs, cuts.rules);
    REQUIRE(faults.size() == 2);
    CHECK(faults[0] == "plan: made for other specs");
    CHECK_THAT(faults[1], ContainsSubstring("pieces: got -1"));
    CHECK_THROWS_WITH(lay_out(meat, cuts.specs, {}, {}), StartsWith("steak: pieces: got -1"));
    CHECK_THROWS_WITH(lay_out(meat, specs, {.facing = -1_mm}, {}), StartsWith("facing: got -1 mm"));
}

namespace {

/// The faults of the good plan once its request asks for more, one a line.
template <class Change>
std::string faults_if(Change change) {
    cutting_plan p = good_plan();
    change(p.specs[0], p.rules);
    std::string lines;
    for (const std::string& fault : verify(p, strip_table(), p.specs, p.rules)) lines += fault + '\n';
    return lines;
}

} // namespace

TEST_CASE("a slab outside its zone is found") {
    // The steaks lie from 10 mm to 70 mm, 140 mm to 200 mm and 310 mm to 340 mm, the last millimetre of each is kerf.
    CHECK(faults_if([](cut_spec& s, cutting_rules&) { s.zone = {10_mm, 339_mm}; }).empty());
    CHECK(faults_if([](cut_spec& s, cutting_rules&) {
              s.zone = {11_mm, 339_mm};
          }) == "slab 2: steak lies outside its zone\n");
    CHECK(faults_if([](cut_spec& s, cutting_rules&) {
              s.zone = {10_mm, 338_mm};
          }) == "slab 10: steak lies outside its zone\n");
}

TEST_CASE("a thickness between two notches is found") {
    // All steaks are 29 mm thick: on the grid of 5 mm, less 1 mm of kerf.
    const auto with = [](length thinnest, length notch) {
        return faults_if([=](cut_spec& s, cutting_rules&) {
            s.thickness.min = thinnest;
            s.thickness_step = notch;
        });
    };
    CHECK(with(19_mm, 5_mm).empty());
    CHECK(with(19_mm, 10_mm).empty());
    CHECK_THAT(with(24_mm, 10_mm), ContainsSubstring("slab 2: steak is 29 mm thick, which is no notch"));
    // Notches that the grid cannot meet are met by the nearest position, half a step away at most.
    CHECK(with(21_mm, 10_mm).empty());
    CHECK_THAT(with(23_mm, 10_mm), ContainsSubstring("which is no notch"));
}

TEST_CASE("a remnant that is too thin or too light is found") {
    // The end is 80 mm thick.
    CHECK(faults_if([](cut_spec&, cutting_rules& r) { r.remnant.thickness = 80_mm; }).empty());
    CHECK_THAT(faults_if([](cut_spec&, cutting_rules& r) { r.remnant.thickness = 81_mm; }),
               ContainsSubstring("slab 11: a remnant of 80 mm and "));
    const mass weight = to_mass(good_plan().slabs[end].weight());
    CHECK(faults_if([&](cut_spec&, cutting_rules& r) { r.remnant.weight = weight; }).empty());
    CHECK_THAT(faults_if([&](cut_spec&, cutting_rules& r) { r.remnant.weight = weight + 1_g; }),
               ContainsSubstring("less than allowed"));
}

TEST_CASE("cuts out of order, and slabs that differ where they should not, are found") {
    CHECK_THAT(faults_if([](cut_spec&, cutting_rules& r) {
                   r.order = {{"steak", "fillet"}};
               }),
               ContainsSubstring("plan: steak at 140 mm lies behind fillet"));
    CHECK_THAT(faults_if([](cut_spec&, cutting_rules& r) {
                   r.order = {{"steak", "roast"}};
               }),
               ContainsSubstring("order: got \"roast\""));
    CHECK(faults_if([](cut_spec& s, cutting_rules&) { s.one_thickness = true; }).empty());
    std::vector<cut_spec> specs = two_cuts();
    specs[0].one_thickness = true;
    std::vector<grid_slab> uneven = every_way();
    uneven[0].to = uneven[1].from = 7;
    const cutting_plan p = lay_out(strip_table(), specs, two_ways(), uneven);
    CHECK(verify(p, strip_table(), specs, two_ways()) ==
          std::vector<std::string>{"plan: steak is 24 mm thick and 34 mm, and should have one thickness",
                                   "plan: steak is 34 mm thick and 29 mm, and should have one thickness"});
}

} // namespace verify_test
