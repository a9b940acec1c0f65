// Trimming the whole loin or each slab, and what a knife that goes too deep takes along.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <limits>

#include <tranche/tranche.hpp>

#include "support/catch.hpp"

namespace over_cut_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A box, on which the cover is even.
const prism_loin prism{
    .length = 30_cm, .face = {.width = 20_cm, .depth = 8_cm, .fat_cover = 10_mm}, .shape = {.fill = 1.0}};
constexpr length everything = unlimited<length>();

cutting_plan slices(const profile& meat, const trim_spec& each, const trim_spec& whole = {}) {
    return most_portions(meat, {{.name = "steak", .thickness = 30_mm, .trim = each}},
                         {.trim_whole = whole, .facing = 30_mm})
        .plan;
}

micrograms kept(const cutting_plan& cuts, tissue t) {
    micrograms sum;
    for (const slab& s : cuts.slabs)
        if (s.kind == slab_kind::portions) sum += s.kept[t];
    return sum;
}

/// A tenth of the loin faces it, the rest is portions: their part of a column.
double portions_of(const profile& meat, tissue t) { return 0.9 * static_cast<double>(meat.total(t).count); }

} // namespace

TEST_CASE("over_cut: takes fat that should stay, in proportion on an even cover") {
    const profile meat = tabulate(prism);
    for (const double over : {0.0, 1.0, 3.0, 6.0}) {
        const cutting_plan cuts = slices(meat, {.fat_cover = 6_mm, .over_cut = over * 1_mm});
        // (keep - over) / cover of the fat; each of 540 cells is rounded twice.
        CHECK_THAT(static_cast<double>(kept(cuts, tissue::fat_cover).count),
                   WithinAbs((6.0 - over) / 10.0 * portions_of(meat, tissue::fat_cover), 1100));
        CHECK(static_cast<double>(kept(cuts, tissue::eye).count) > portions_of(meat, tissue::eye) - 2.0);
        CHECK(verify(cuts, meat, cuts.specs, cuts.rules).empty());
    }
}

TEST_CASE("over_cut: takes lean below fat that all comes off") {
    const profile meat = tabulate(prism);
    const cutting_plan cuts = slices(meat, {.fat_cover = 1_mm, .over_cut = 3_mm});
    CHECK(std::abs(kept(cuts, tissue::fat_cover).count) <= 540);
    // 2 mm of lean below the whole cover: width × 2 mm of the width × 70 mm of lean.
    CHECK_THAT(static_cast<double>(kept(cuts, tissue::eye).count),
               WithinAbs((1.0 - 2.0 / 70.0) * portions_of(meat, tissue::eye), 1100));
    CHECK(balance_of(cuts).total() == meat.total());
    CHECK(verify(cuts, meat, cuts.specs, cuts.rules).empty());
}

TEST_CASE("over_cut: does nothing where there is nothing to trim") {
    const profile meat = tabulate(prism);
    const auto same = [&](const trim_spec& a, const trim_spec& b) {
        const cutting_plan one = slices(meat, a), other = slices(meat, b);
        for (const tissue t : all_tissues) CHECK(kept(one, t) == kept(other, t));
    };
    same({.fat_cover = 10_mm, .over_cut = 5_mm}, {}); // the cover is no thicker than what stays
    same({.fat_cover = everything, .over_cut = 5_mm}, {});
}

TEST_CASE("trim_whole: leaves the same portions as trimming each slab, and trims the facing too") {
    const profile meat = tabulate(prism);
    const trim_spec trim{.fat_cover = 4_mm, .over_cut = 2_mm};
    const cutting_plan each = slices(meat, trim), whole = slices(meat, {}, trim),
                       both = slices(meat, {.fat_cover = 8_mm}, trim);
    for (const tissue t : all_tissues) {
        CHECK(kept(each, t) == kept(whole, t));
        CHECK(kept(each, t) == kept(both, t));
    }
    CHECK(each.slabs.front().trim.sum() == micrograms{});
    CHECK(whole.slabs.front().trim[tissue::fat_cover] > micrograms{});
    for (const cutting_plan* cuts : {&each, &whole, &both}) {
        CHECK(verify(*cuts, meat, cuts->specs, cuts->rules).empty());
        CHECK(balance_of(*cuts).total() == meat.total());
    }
}

TEST_CASE("trimmed_twice: keeps what both leave, with the over-cut of the deeper cut") {
    const trim_spec shallow{.fat_cover = 8_mm, .tail = 10_mm, .over_cut = 3_mm},
        deep{.fat_cover = 2_mm, .silverskin = false, .over_cut = 1_mm};
    const trim_spec both = detail::trimmed_twice(shallow, deep);
    CHECK(both == trim_spec{.fat_cover = 2_mm, .tail = 10_mm, .silverskin = false, .over_cut = 1_mm});
    CHECK(both == detail::trimmed_twice(deep, shallow));
    CHECK(detail::trimmed_twice(deep, {}) == deep);
    CHECK(
        detail::trimmed_twice({.fat_cover = 2_mm, .over_cut = 1_mm}, {.fat_cover = 2_mm, .over_cut = 2_mm}).over_cut ==
        2_mm);
}

TEST_CASE("trimmed_twice: no fat comes back that a first trim has cut away") {
    // 8 mm less 5 leaves 3, and a knife that aims at 6 finds nothing to cut there.
    const trim_spec both = detail::trimmed_twice({.fat_cover = 8_mm, .over_cut = 5_mm}, {.fat_cover = 6_mm});
    CHECK(both.fat_cover == 6_mm);
    CHECK(both.over_cut / 1_mm == Approx(3.0));
    // The other way about the second trim never touches the loin, however deep it would go.
    CHECK(detail::trimmed_twice({.fat_cover = 6_mm}, {.fat_cover = 8_mm, .over_cut = 5_mm}) ==
          trim_spec{.fat_cover = 6_mm});
    // What is kept of a cap 10 mm thick all over is what the deeper of the two leaves.
    const profile meat = tabulate(prism);
    const auto kept = [&](const trim_spec& trim) { return detail::kept_in_cell(meat, 3, tissue::fat_cover, trim); };
    CHECK(std::abs(kept(both) - kept({.fat_cover = 3_mm})) <= 1); // a microgram of rounding
}

TEST_CASE("layer: grows as fast as its share does") {
    layer uneven{.thickness = 12_mm};
    for (std::size_t k = 0; k < uneven.spread.size(); ++k) uneven.spread[k] = std::sqrt(even_spread[k]);
    for (const layer& l : {layer{.thickness = 12_mm}, uneven})
        for (double depth = 0.05; depth < 12.0; depth += 0.31) {
            // The share is a line between entries 0.375 mm apart; none of these depths is within 1e-6 of one.
            const double rise = (l.within((depth + 1e-7) * 1_mm) - l.within((depth - 1e-7) * 1_mm)) / 2e-10;
            CHECK_THAT(l.growth(depth * 1_mm), WithinRel(rise, 1e-5)); // differences of 1e-7 mm keep five digits
        }
    CHECK(uneven.growth(12_mm) == 0.0);
    CHECK(layer{}.growth(0_mm) == 0.0);
}

// Computed: the ends of rays from the lean outwards, each cut to what it should keep less the over-cut where it is longer.
TEST_CASE("over_cut: leaves of a wedge what its columns keep, and of a fan what its rays keep") {
    layer wedge{.thickness = 32_mm}, fan{.thickness = 32_mm};
    for (std::size_t k = 0; k < wedge.spread.size(); ++k) {
        const double depth = even_spread[k];
        wedge.spread[k] = depth * (2.0 - depth); // columns of all heights
        fan.spread[k] = depth * depth;           // rays from a corner, all as long
    }
    const auto left = [](const layer& l, double keep, double over) {
        return detail::share_left_deeper([&l](std::size_t k) { return l.spread[k]; }, keep * 1_mm, over * 1_mm,
                                         l.thickness);
    };
    for (const double keep : {4.0, 9.0, 17.0, 31.0})
        for (const double over : {0.0, 1.0, 4.0}) {
            CAPTURE(keep, over);
            const double aim = keep / 32.0, off = over / 32.0;
            // Straight lines between 32 entries: slopes are those half an entry in front.
            CHECK_THAT(left(wedge, keep, over),
                       WithinAbs(aim * (2.0 - aim) - 2.0 * off * (1.0 - aim), 2.0 * off / 32.0));
            CHECK_THAT(left(fan, keep, over), WithinAbs((aim - off) * (aim - off), 1e-12));
        }
    const auto contour = [](const layer& l, length keep) {
        return detail::least_growth_of([&l](std::size_t k) { return l.spread[k]; }, keep, l.thickness);
    };
    CHECK_THAT(contour(wedge, 16_mm) * 0.032, WithinAbs(2.0 * (1.0 - 0.5), 2.0 / 32.0));
    CHECK_THAT(contour(fan, 16_mm) * 0.032, WithinAbs(0.0, 1.01 / 32.0)); // all rays from one corner
    CHECK(contour(fan, 32_mm) == 0.0);
}

TEST_CASE("over_cut: is refused when it is negative or endless") {
    const profile meat = tabulate(prism);
    CHECK_THROWS_WITH(slices(meat, {.over_cut = -1_mm}), StartsWith("steak: trim.over_cut: got -1 mm"));
    CHECK_THROWS_WITH(slices(meat, {}, {.over_cut = everything}), StartsWith("trim_whole.over_cut: got inf mm"));
}

} // namespace over_cut_test
