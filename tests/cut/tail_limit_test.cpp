// The tail that stays where its limit tapers along the loin, worked out by hand and as a specification has it.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <sstream>
#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/tail_limit.hpp>
#include <tranche/cut/verify.hpp>
#include <tranche/cut/yield_table.hpp>

#include "loin/samples.hpp"

namespace tail_limit_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// USDA IMPS, Fresh Beef, Series 100, November 2014, item 180 (strip loin, boneless): the tail is at most 3.0 in from the eye
/// at the rib end, tapering to at most 2.0 in at the sirloin end; the purchaser's second option is 1.0 in by none.
const tail_limit item_180{3.0_in, 2.0_in}, option_2{1.0_in, 0.0_in};

/// Cells of 5 mm with 2 g of tail, 20 mm long.
profile block_table() { return tabulate(block(), 5_mm, all_of(1_g_per_cm3)); }

/// 16 in long, with a tail of 4 in all along, as thick at its tip as where it begins: 32 cells of half an inch.
profile long_tail() {
    return tabulate(
        prism_loin{.length = 16_in, .face = {.width = 10_in, .depth = 3_in, .tail = 4_in}, .shape = {.fill = 1.0}},
        0.5_in);
}

std::string text_of(const tail_limit& limit) {
    std::ostringstream out;
    out << limit;
    return out.str();
}

std::string refusal(const tail_limit& limit) {
    return message_of([&] { validate(trim_spec{.tail = limit}, "trim."); });
}

} // namespace

TEST_CASE("a limit that tapers runs in a straight line from the rib face to the sirloin face") {
    CHECK(item_180.at(0.0) == detail::snapped(3_in));
    CHECK(item_180.at(0.25) == detail::snapped(2.75_in));
    CHECK(item_180.at(0.5) == detail::snapped(2.5_in));
    CHECK(item_180.at(1.0) == detail::snapped(2_in));
    CHECK(option_2.at(0.5) == detail::snapped(0.5_in));
    CHECK(option_2.at(1.0) == 0_in);
    CHECK(tail_limit{1_in, 3_in}.at(0.75) == detail::snapped(2.5_in)); // or the other way
    CHECK(item_180.tapers());
}

TEST_CASE("one length is the same everywhere and none leaves all of the tail") {
    const trim_spec constant{.tail = 25_mm};
    CHECK_FALSE(constant.tail.tapers());
    for (const double along : {0.0, 0.3, 1.0}) {
        CHECK(constant.tail.at(along) == 25_mm);
        CHECK(trim_spec{}.tail.at(along) == unlimited<length>());
    }
    CHECK(tail_limit{25_mm, 25_mm} == constant.tail);
    CHECK(tail_limit{1_in} == tail_limit{25.4_mm}); // in any unit
    CHECK(detail::keeps_all_of(tissue::tail, {}));
    CHECK_FALSE(detail::keeps_all_of(tissue::tail, {.tail = item_180}));
}

TEST_CASE("a tail of 20 mm that may be 20 mm at the rib and none at the sirloin loses half") {
    // In the middle of cell i, (i + 1/2) / 20 of the way along, 19.5 - i mm of 20 stay: 1.95 - 0.1 i of 2 g.
    const profile meat = block_table();
    const trim_spec trim{.tail = {20_mm, 0_mm}};
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < 20; ++i) {
        const std::int64_t kept = detail::kept_in_cell(meat, i, tissue::tail, trim);
        CHECK(kept == 1'950'000 - 100'000 * static_cast<std::int64_t>(i));
        sum += kept;
    }
    CHECK(sum == 20'000'000); // half of 40 g
    CHECK(yield_table(meat, trim).kept().back() == meat.total().count - 20'000'000);
}

TEST_CASE("item 180 leaves five eighths of a tail of four inches") {
    // On average 2.5 in of 4. In cell i of 32: (3 - (i + 1/2) / 32) / 4.
    const profile meat = long_tail();
    const yield_table table(meat, {.tail = item_180});
    const auto tail = static_cast<double>(meat.total(tissue::tail).count);
    const auto off = static_cast<double>(meat.total().count - table.kept().back());
    CHECK(std::abs(off / tail - 0.375) <= 32.0 / tail); // half a microgram a cell, and of the cells' own
    const auto kept = [&](std::size_t from, std::size_t to) {
        return table.kept_between(tissue::tail, from, {to - 1, 1.0});
    };
    const auto share = [&](std::size_t from, std::size_t to) {
        return static_cast<double>(kept(from, to)) / static_cast<double>(meat.between(from, to, tissue::tail).count);
    };
    // A steak of an inch at the rib end: 3 - 1/32 in of 4 in; at the sirloin end 2 + 1/32 in.
    CHECK_THAT(share(0, 2), WithinAbs(0.7421875, 1e-7));
    CHECK_THAT(share(30, 32), WithinAbs(0.5078125, 1e-7));
    // Option 2 leaves half an inch on average.
    const auto off_2 = static_cast<double>(meat.total().count - yield_table(meat, {.tail = option_2}).kept().back());
    CHECK(std::abs(off_2 / tail - 0.875) <= 32.0 / tail);
}

TEST_CASE("a plan under a limit that tapers weighs what was worked out by hand and holds") {
    const profile meat = block_table();
    const cut_list specs{{.name = "steak", .thickness = 20_mm, .trim = {.tail = {20_mm, 0_mm}}}};
    const cutting_plan p = lay_out(meat, specs, {.facing = 10_mm},
                                   {{2, 6, slab_kind::portions, 0},
                                    {6, 10, slab_kind::portions, 0},
                                    {10, 14, slab_kind::portions, 0},
                                    {14, 20, slab_kind::loose, 0}});
    REQUIRE(p.slabs.size() == 5);
    // Cells 2 to 5 keep 1.75, 1.65, 1.55 and 1.45 g of 2; each four cells on, 1.6 g less.
    CHECK(p.slabs[1].kept[tissue::tail].count == 6'400'000);
    CHECK(p.slabs[1].trim[tissue::tail].count == 1'600'000);
    CHECK(p.slabs[2].kept[tissue::tail].count == 4'800'000);
    CHECK(p.slabs[3].kept[tissue::tail].count == 3'200'000);
    CHECK(p.slabs[4].kept[tissue::tail].count == 12'000'000); // loose meat is not trimmed
    CHECK(verify(p, meat, specs, {.facing = 10_mm}) == std::vector<std::string>{});
    // The same weights under another limit do not.
    const cut_list other{{.name = "steak", .thickness = 20_mm, .trim = {.tail = {20_mm, 1_mm}}}};
    cutting_plan wrong = p;
    wrong.specs = other;
    const std::vector<std::string> faults = verify(wrong, meat, other, {.facing = 10_mm});
    REQUIRE(faults.size() == 3);
    CHECK_THAT(faults[0], StartsWith("slab 2: wrong mass of tail"));
}

TEST_CASE("where the limits of the whole loin and of a slab cross the shorter one counts") {
    const tail_limit falling{30_mm, 10_mm}, rising{10_mm, 30_mm}, constant{20_mm};
    for (const tail_limit& both : {shorter(falling, rising), shorter(rising, falling)}) {
        CHECK(both.at_rib() == 10_mm);
        CHECK(both.at_sirloin() == 10_mm);
        CHECK(both.at(0.5) == 20_mm);
        CHECK(both.at(0.25) == 15_mm);
        CHECK(both.at(0.75) == 15_mm);
        CHECK(both.tapers());
        CHECK(refusal(both) == "trim.tail: got the shorter of two limits that cross, expected one straight line");
    }
    CHECK(shorter(falling, constant).at(0.25) == 20_mm);
    CHECK(shorter(falling, constant).at(0.75) == 15_mm);
    CHECK(shorter(falling, tail_limit{10_mm}) == tail_limit{10_mm});
    CHECK(shorter(tail_limit{}, falling) == falling);

    const profile meat = block_table(); // a tail of 20 mm
    const cut_list specs{{.name = "steak", .thickness = 20_mm, .trim = {.tail = {0_mm, 20_mm}}}};
    const cutting_rules rules{.trim_whole = {.tail = {20_mm, 0_mm}}};
    const cutting_plan p =
        lay_out(meat, specs, rules,
                {{0, 4, slab_kind::portions, 0}, {4, 16, slab_kind::loose, 0}, {16, 20, slab_kind::portions, 0}});
    // Cells 0 to 3 may keep 0.05, 0.15, 0.25 and 0.35 g of 2, and so may cells 19 to 16.
    CHECK(p.slabs[0].kept[tissue::tail].count == 800'000);
    CHECK(p.slabs[2].kept[tissue::tail].count == 800'000);
    CHECK(verify(p, meat, specs, rules) == std::vector<std::string>{});
}

TEST_CASE("a limit prints as its length or as both ends") {
    CHECK(text_of(25_mm) == "25 mm");
    CHECK(text_of(item_180) == "76.2 mm to 50.8 mm");
}

TEST_CASE("a limit below zero, that is no number or that one end has alone is refused") {
    for (const tail_limit& good : {item_180, option_2, tail_limit{}, tail_limit{0_mm}})
        CHECK_NOTHROW(validate(trim_spec{.tail = good}, "trim."));
    CHECK(refusal({-1_mm, 2_mm}) == "trim.tail: got -1 mm, expected zero or more");
    CHECK(refusal({1_mm, -2_mm}) == "trim.tail: got -2 mm, expected zero or more, at the sirloin end too");
    CHECK(refusal({1_mm, std::nan("") * metre}) ==
          "trim.tail: got nan mm, expected zero or more, at the sirloin end too");
    CHECK(refusal({unlimited<length>(), 50_mm}) ==
          "trim.tail: got no limit at the rib end, expected one, as there is at the other end");
    CHECK(refusal({50_mm, unlimited<length>()}) ==
          "trim.tail: got no limit at the sirloin end, expected one, as there is at the other end");
}

} // namespace tail_limit_test
