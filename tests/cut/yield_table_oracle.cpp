// The table of what a trim leaves on against sums over cells by its definition.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>

#include <tranche/cut/yield_table.hpp>

#include "cut/random_trim.hpp"
#include "cut/tail_by_definition.hpp"
#include "loin/layer_share.hpp"
#include "loin/samples.hpp"

namespace yield_table_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// By definition: all of the lean, the nearest microgram of a layer's share.
std::int64_t kept_by_definition(const profile& meat, std::size_t cell, tissue t, const trim_spec& trim) {
    const auto all = static_cast<double>(meat.between(cell, cell + 1, t).count);
    const auto part = [&](const layer& l, length reach) { return std::llround(all * share_by_definition(l, reach)); };
    if (t == tissue::fat_cover) return part(meat.fat_cover(cell), trim.fat_cover);
    if (t == tissue::tail) return part(meat.tail(cell), tail_by_definition(meat, cell, trim.tail));
    if (t == tissue::connective && !trim.silverskin) return 0;
    return std::llround(all);
}

} // namespace

TEST_CASE("what is kept in front of every position is the sum over the cells in front of it") {
    std::mt19937 random(180);
    const profile meat = tabulate(strip_loin(), 3.3_mm);
    for (int round = 0; round < 50; ++round) {
        const trim_spec trim = some_trim(random);
        const yield_table table(meat, trim);
        REQUIRE(table.kept().size() == meat.cells() + 1);
        std::int64_t sum = 0;
        for (std::size_t i = 0; i < meat.cells(); ++i) {
            REQUIRE(table.kept()[i] == sum);
            for (const tissue t : all_tissues) sum += kept_by_definition(meat, i, t, trim);
        }
        REQUIRE(table.kept()[meat.cells()] == sum);
        REQUIRE(&table.meat() == &meat);
    }
}

TEST_CASE("a trim that takes nothing off is the profile's own column") {
    const profile meat = tabulate(strip_loin(), 3.3_mm);
    const yield_table table(meat, {});
    CHECK(table.kept().data() == meat.cumulative().data());
}

TEST_CASE("masses at a place inside a cell are its share of the cell, rounded down tissue by tissue") {
    std::mt19937 random(181);
    const profile meat = tabulate(strip_loin(), 3.3_mm);
    for (int round = 0; round < 300; ++round) {
        const trim_spec trim = some_trim(random);
        const yield_table table(meat, trim);
        const length at = meat.extent() * random_share(random);
        const detail::profile_place where = detail::profile_place::of(meat, at);
        REQUIRE(where.cell < meat.cells());
        // A place is known to half of 2^-20 of a cell.
        const length found =
            meat.position(where.cell) + where.into * (meat.position(where.cell + 1) - meat.position(where.cell));
        REQUIRE(std::abs((found - at).value()) <= 3.3e-3 * 0x1p-21 + 1e-15);
        std::int64_t sum = 0;
        for (const tissue t : all_tissues) {
            std::int64_t of_tissue = 0;
            for (std::size_t i = 0; i < where.cell; ++i) of_tissue += kept_by_definition(meat, i, t, trim);
            of_tissue += static_cast<std::int64_t>(
                std::floor(static_cast<double>(kept_by_definition(meat, where.cell, t, trim)) * where.into));
            REQUIRE(table.kept_between(t, 0, where) == of_tissue);
            sum += of_tissue;
        }
        REQUIRE(table.kept_before(where) == sum);
    }
}

TEST_CASE("places at positions and beyond the loin are the ends of cells") {
    const profile meat = tabulate(strip_loin(), 3.3_mm);
    const yield_table table(meat, {.fat_cover = 5_mm});
    for (std::size_t i = 0; i <= meat.cells(); ++i)
        CHECK(table.kept_before(detail::profile_place::of(meat, meat.position(i))) == table.kept()[i]);
    CHECK(table.kept_before(detail::profile_place::of(meat, -1_mm)) == 0);
    CHECK(table.kept_before(detail::profile_place::of(meat, 1_m)) == table.kept()[meat.cells()]);
    CHECK(detail::profile_place::of(meat, 0_mm).into == 0.0);
    CHECK(detail::profile_place::of(meat, 1_m).into == 1.0);
}

TEST_CASE("what a trim leaves between two places is what it leaves in front of one less the other") {
    const profile meat = tabulate(strip_loin(), 3.3_mm);
    const yield_table trimmed(meat, {.fat_cover = 5_mm}), whole(meat, {});
    for (int i = 0; i < 40; ++i) {
        const length from = 9.7 * i * millimetre, to = from + 23.1_mm;
        const auto before = [&](length at) { return trimmed.kept_before(detail::profile_place::of(meat, at)); };
        CHECK(trimmed.kept_between(from, to).count == before(to) - before(from));
        CHECK(whole.kept_between(from, to) == meat.mass_between(from, to));
        CHECK(trimmed.kept_between(from, to) <= whole.kept_between(from, to));
    }
}

TEST_CASE("masses never fall from place to place") {
    const profile meat = tabulate(strip_loin(), 20_mm);
    const yield_table table(meat, {.fat_cover = 5_mm, .tail = 10_mm, .silverskin = false});
    std::int64_t before = 0;
    for (int i = 0; i <= 4200; ++i) {
        const std::int64_t kept = table.kept_before(detail::profile_place::of(meat, 0.1 * i * millimetre));
        REQUIRE(kept >= before);
        before = kept;
    }
}

} // namespace yield_table_oracle
