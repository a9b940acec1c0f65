// That a trim keeps the fat and the tail within reach and leaves the lean alone.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <set>
#include <string_view>

#include <tranche/cut/trim.hpp>

#include "loin/samples.hpp"

namespace trim_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {
/// Cells of 5 mm: eye 15.6 g, fat 4 g (10 mm deep), tail 2 g (20 mm long), connective 0.4 g.
profile block_table() { return tabulate(block(), 5_mm, all_of(1_g_per_cm3)); }

std::int64_t kept_of_all(const profile& meat, std::size_t cell, const trim_spec& trim) {
    std::int64_t sum = 0;
    for (const tissue t : all_tissues) sum += detail::kept_in_cell(meat, cell, t, trim);
    return sum;
}

} // namespace

TEST_CASE("by default everything stays on") {
    const profile meat = block_table();
    CHECK(kept_of_all(meat, 3, trim_spec{}) == 22'000'000);
    for (const tissue t : all_tissues) {
        CHECK(detail::keeps_all_of(t, {}));
        CHECK(detail::kept_in_cell(meat, 3, t, {}) == meat.between(3, 4, t).count);
    }
}

TEST_CASE("fat is kept by its depth, the tail by its length, silverskin whole or not at all") {
    const profile meat = block_table();
    const trim_spec trim{.fat_cover = 2.5_mm, .tail = 15_mm, .silverskin = false};
    CHECK(detail::kept_in_cell(meat, 3, tissue::eye, trim) == 15'600'000);
    CHECK(detail::kept_in_cell(meat, 3, tissue::fat_cover, trim) == 1'000'000); // 2.5 of 10 mm
    CHECK(detail::kept_in_cell(meat, 3, tissue::tail, trim) == 1'500'000);      // 15 of 20 mm
    CHECK(detail::kept_in_cell(meat, 3, tissue::connective, trim) == 0);
    CHECK(kept_of_all(meat, 3, trim) == 18'100'000);
}

TEST_CASE("a trim deeper than the layer takes nothing off") {
    const profile meat = block_table();
    const trim_spec trim{.fat_cover = 10_mm, .tail = 50_mm};
    CHECK(kept_of_all(meat, 0, trim) == 22'000'000);
    CHECK_FALSE(detail::keeps_all_of(tissue::fat_cover, trim)); // it depends on the loin
    CHECK_FALSE(detail::keeps_all_of(tissue::tail, trim));
    CHECK(detail::keeps_all_of(tissue::eye, trim));
    CHECK(detail::keeps_all_of(tissue::gluteus_medius, trim));
    CHECK(detail::keeps_all_of(tissue::connective, trim));
    CHECK_FALSE(detail::keeps_all_of(tissue::connective, {.silverskin = false}));
}

TEST_CASE("a trim to nothing takes all fat and tail off") {
    const profile meat = block_table();
    CHECK(kept_of_all(meat, 0, {.fat_cover = 0_mm, .tail = 0_mm, .silverskin = false}) == 15'600'000);
}

TEST_CASE("the second muscle is lean and is never trimmed") {
    const profile meat = tabulate(strip_loin(), 5_mm);
    const trim_spec bare{.fat_cover = 0_mm, .tail = 0_mm, .silverskin = false};
    for (std::size_t i = 0; i < meat.cells(); ++i)
        REQUIRE(kept_of_all(meat, i, bare) ==
                (meat.between(i, i + 1, tissue::eye) + meat.between(i, i + 1, tissue::gluteus_medius)).count);
}

TEST_CASE("a deeper trim never keeps more") {
    const profile meat = tabulate(strip_loin(), 5_mm);
    for (std::size_t i = 0; i < meat.cells(); i += 7) {
        std::int64_t before = 0;
        for (int quarter_millimetres = 0; quarter_millimetres <= 200; ++quarter_millimetres) {
            const length reach = 0.25 * quarter_millimetres * millimetre;
            const std::int64_t kept = kept_of_all(meat, i, {.fat_cover = reach, .tail = reach});
            REQUIRE(kept >= before);
            REQUIRE(kept <= meat.between(i, i + 1).count);
            before = kept;
        }
        REQUIRE(before == meat.between(i, i + 1).count);
    }
}

TEST_CASE("an over-cut through a layer that is next to nothing thick takes no more than there is") {
    struct thin_loin {
        double thickness = 0.0;
        [[nodiscard]] static length extent() { return 10_cm; }
        [[nodiscard]] face face_at(length) const {
            face f;
            f.areas[tissue::eye] = 80_cm2;
            f.areas[tissue::fat_cover] = 10_cm2;
            f.fat_cover.thickness = length::from_value(thickness);
            return f;
        }
    };
    for (const double thickness : {1e-6, 1e-12, 1e-18, 1e-300, 5e-324}) {
        CAPTURE(thickness);
        const profile meat = tabulate(thin_loin{thickness}, 10_mm);
        for (const length& over : {0.001_mm, 2_mm, 1_m})
            for (const tissue t : {tissue::eye, tissue::fat_cover}) {
                const std::int64_t kept = detail::kept_in_cell(meat, 3, t, {.fat_cover = 0_mm, .over_cut = over});
                CHECK(kept >= 0);
                CHECK(kept <= meat.between(3, 4, t).count);
                if (over > 1_mm) CHECK(kept == 0); // the contour is 10 cm² over less than a micrometre
            }
    }
}

TEST_CASE("what a trim leaves of a cell is its share of the face in the middle") {
    const measured_loin loin = strip_loin();
    const profile meat = tabulate(loin, 7_mm);
    for (const trim_spec& trim :
         {trim_spec{}, trim_spec{.fat_cover = 4_mm, .tail = 18_mm}, trim_spec{.fat_cover = 0_mm, .silverskin = false}})
        for (std::size_t i = 0; i < meat.cells(); ++i) {
            const face middle = loin.face_at(0.5 * (meat.position(i) + meat.position(i + 1)));
            for (const tissue t : all_tissues) {
                const auto all = static_cast<double>(meat.between(i, i + 1, t).count);
                const double share = detail::share_left(t, trim, middle);
                CHECK(detail::kept_in_cell(meat, i, t, trim) == std::llround(all * share));
                if (detail::keeps_all_of(t, trim)) CHECK(share == 1.0);
            }
        }
}

TEST_CASE("a trim that is none is refused by its field") {
    const auto refusal = [](const trim_spec& trim) { return message_of([&] { validate(trim, "steak: trim."); }); };
    CHECK(refusal({}) == "accepted");
    CHECK(refusal({.fat_cover = 0_mm, .tail = 0_mm}) == "accepted");
    CHECK(refusal({.fat_cover = -1_mm}) == "steak: trim.fat_cover: got -1 mm, expected zero or more");
    CHECK(refusal({.tail = -1_mm}) == "steak: trim.tail: got -1 mm, expected zero or more");
    CHECK(refusal({.fat_cover = length::from_value(not_a_number)}) ==
          "steak: trim.fat_cover: got nan mm, expected zero or more");
    CHECK(refusal({.tail = length::from_value(-infinite)}) == "steak: trim.tail: got -inf mm, expected zero or more");
}

TEST_CASE("every destination has a name of its own and an entry of its own") {
    std::set<std::string_view> names;
    by_destination<int> counts;
    for (const destination d : all_destinations) {
        names.insert(name_of(d));
        ++counts[d];
    }
    CHECK(names.size() == detail::destination_count);
    for (const int n : counts.values) CHECK(n == 1);
    CHECK(name_of(destination::discard) == "discard");
}

} // namespace trim_test
