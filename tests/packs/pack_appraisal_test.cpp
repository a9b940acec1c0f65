// Packs with sums that can be done by hand, and what is refused.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/packs/pack_appraisal.hpp>
#include <tranche/units/literals.hpp>

#include <limits>
#include <vector>

#include "loin/layer_share.hpp"
#include "support/catch.hpp"

namespace pack_appraisal_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// One density for all, so that areas are shares.
tissue_densities even() {
    tissue_densities d;
    for (density& one : d.values) one = 1000_kg_per_m3;
    return d;
}

/// Invented: 60 % eye, 15 % gluteus medius, 15 % fat of 12 mm, 10 % tail of 40 mm.
face section() {
    face f;
    f.areas[tissue::eye] = 60_cm2;
    f.areas[tissue::gluteus_medius] = 15_cm2;
    f.areas[tissue::fat_cover] = 15_cm2;
    f.areas[tissue::tail] = 10_cm2;
    f.fat_cover.thickness = 12_mm;
    f.tail.thickness = 40_mm;
    return f;
}

steak_pack<usd> four_steaks() {
    return {.name = "four steaks",
            .weight = 1_kg,
            .price = 20_usd / 1_kg,
            .pieces = 4,
            .steak = {.thickness = 25_mm},
            .section = section()};
}

pack_appraisal<usd> by_hand(const steak_pack<usd>& pack, const pack_wishes<usd>& wishes = {}) {
    return appraise<usd>(pack, wishes, rounding::half_even, shape_of_steaks(beef_strip_loin), even());
}

std::vector<std::string> names(const std::vector<pack_appraisal<usd>>& packs) {
    std::vector<std::string> result;
    for (const auto& p : packs) result.push_back(p.pack.name);
    return result;
}

} // namespace

TEST_CASE("a pack of known section costs its price over the share of the wanted muscle") {
    const auto a = by_hand(four_steaks());
    CHECK(a.paid == amount<usd>{2000});
    CHECK(a.wanted == to_micrograms(600_g));
    CHECK(a.contents.masses[tissue::fat_cover] == to_micrograms(150_g));
    CHECK_THAT(a.per_wanted->value(), WithinRel(20.0 / 0.6, 1e-14));
    CHECK(a.per_wanted_credited == a.per_wanted); // nothing else is worth anything yet
    CHECK(a.gluteus_medius_share() == Approx(0.15));
    CHECK(a.fat_share() == Approx(0.15));
    // 4 pieces of 25 mm and 100 cm2 at 1000 kg/m3 are 1 kg.
    CHECK_THAT(a.contents.weight_over_size, WithinRel(1.0, 1e-14));

    const auto both = by_hand(four_steaks(), {.gluteus_medius = true});
    CHECK(both.wanted == to_micrograms(750_g));
    CHECK_THAT(both.per_wanted->value(), WithinRel(20.0 / 0.75, 1e-14));
}

TEST_CASE("the rest of a pack is credited at the values that the caller names") {
    pack_wishes<usd> wishes;
    wishes.values[tissue::eye] = 100_usd / 1_kg; // wanted, so never a credit
    wishes.values[tissue::gluteus_medius] = 8_usd / 1_kg;
    wishes.values[tissue::fat_cover] = -0.4_usd / 1_kg; // carried away at a cost
    wishes.values[tissue::tail] = 3_usd / 1_kg;
    const auto a = by_hand(four_steaks(), wishes);
    // By hand: 20 - 0.15 x 8 + 0.15 x 0.4 - 0.10 x 3 = 18.56 on 0.6 kg.
    CHECK_THAT(a.per_wanted_credited->value(), WithinRel(18.56 / 0.6, 1e-14));
    wishes.gluteus_medius = true;
    // 20 + 0.06 - 0.3 = 19.76 on 0.75 kg.
    CHECK_THAT(by_hand(four_steaks(), wishes).per_wanted_credited->value(), WithinRel(19.76 / 0.75, 1e-14));
}

TEST_CASE("fat and tail beyond the wishes are excess, paid for at the price of the pack") {
    const auto a = by_hand(four_steaks(), {.fat_cover = 3_mm, .tail = 10_mm});
    CHECK(a.excess_fat == to_micrograms(112.5_g)); // three quarters of 150 g
    CHECK(a.paid_for_excess_fat == amount<usd>{225});
    CHECK(a.excess_tail == to_micrograms(75_g));
    CHECK(a.paid_for_excess_tail == amount<usd>{150});
    CHECK(by_hand(four_steaks(), {.fat_cover = 12_mm}).excess_fat.count == 0);
    const auto none = by_hand(four_steaks(), {.fat_cover = unlimited<length>(), .tail = unlimited<length>()});
    CHECK(none.excess_fat.count == 0);
    CHECK(none.excess_tail.count == 0);
    CHECK(by_hand(four_steaks()).excess_fat == to_micrograms(150_g)); // none is wished for unless said
}

TEST_CASE("a pack of which only the label, thickness and rim are known gets a face that fits") {
    // Invented pack. 12 oz at 1 1/4 in: face 12 oz / (1 1/4 in x density).
    const steak_pack<usd> pack{.name = "centre cut",
                               .weight = 24_oz,
                               .price = 16.49_usd / 1_lb,
                               .pieces = 2,
                               .steak = {.thickness = 1.25_in, .fat_cover = 0.25_in, .tail = 1_in}};
    const auto a = appraise<usd>(pack, {.fat_cover = 0.125_in});
    micrograms sum;
    for (const micrograms m : a.contents.masses.values) sum += m;
    CHECK(sum == to_micrograms(24_oz));
    CHECK(a.contents.weight_over_size == 1.0);
    CHECK(a.paid == amount<usd>{2474}); // 1.5 lb at 16.49, a half cent, to the even one
    // What of the layer lies beyond half of its depth, to the microgram that it is rounded to.
    const layer cover = steak_face(12_oz, pack.steak).fat_cover;
    CHECK_THAT(static_cast<double>(a.excess_fat.count),
               WithinAbs((1.0 - share_by_definition(cover, 0.125_in)) *
                             static_cast<double>(a.contents.masses[tissue::fat_cover].count),
                         1.0));
    CHECK(*a.per_wanted > pack.price);
}

TEST_CASE("a label that does not go with the size is seen in the ratio of both") {
    steak_pack<usd> pack = four_steaks();
    pack.pieces = 3; // one was overlooked
    CHECK_THAT(by_hand(pack).contents.weight_over_size, WithinRel(4.0 / 3.0, 1e-14));
}

TEST_CASE("a section out of a loin model says what cover, tail and second muscle are") {
    const measured_loin loin{.length = 42_cm,
                             .stations = {{.at = 0_cm, .width = 22_cm, .depth = 8_cm, .fat_cover = 9_mm, .tail = 4_cm}},
                             .gluteus_medius = {.onset = 34_cm, .share_at_end = 0.4},
                             .shape = {.fill = 1.0}}; // a box, on which the cover is even
    steak_pack<usd> pack{.name = "end", .weight = 500_g, .price = 15_usd / 1_kg, .steak = {.thickness = 30_mm}};
    pack.section = loin.face_at(42_cm);
    const auto a = appraise<usd>(pack);
    const auto lean = a.contents.masses[tissue::eye] + a.contents.masses[tissue::gluteus_medius];
    CHECK_THAT(to_mass(a.contents.masses[tissue::gluteus_medius]) / to_mass(lean), WithinAbs(0.4, 1e-8)); // micrograms
    CHECK_THAT(detail::fat_readings_of(*pack.section).mean / 1_mm, WithinRel(9.0, 1e-12));
}

TEST_CASE("the mean of an uneven fat is its area over the contour it lies on") {
    // A wedge from 0 to T has the mean T / 2; within depth d lies 1 - (1 - d/T)^2 of it. The spread has 32 entries, so
    // the first step is a chord: its slope is 2 - 1/32 over T.
    face f;
    f.fat_cover.thickness = 16_mm;
    for (std::size_t k = 0; k < f.fat_cover.spread.size(); ++k) {
        const double d = static_cast<double>(k + 1) / 32.0;
        f.fat_cover.spread[k] = 1.0 - (1.0 - d) * (1.0 - d);
    }
    CHECK_THAT(detail::fat_readings_of(f).mean / 1_mm, WithinRel(16.0 / (2.0 - 1.0 / 32.0), 1e-12));
    CHECK(detail::fat_readings_of(f).thickest == 16_mm);
    CHECK(detail::fat_readings_of(face{}).mean == 0_mm);
}

TEST_CASE("packs are ranked by what the wanted lean costs and not by the label") {
    // Invented: the cheaper label has more fat and second muscle.
    const steak_pack<usd> lean{.name = "lean",
                               .weight = 700_g,
                               .price = 24_usd / 1_kg,
                               .pieces = 2,
                               .steak = {.thickness = 28_mm, .fat_cover = 4_mm}};
    const steak_pack<usd> fat{.name = "fat",
                              .weight = 700_g,
                              .price = 21_usd / 1_kg,
                              .pieces = 2,
                              .steak = {.thickness = 28_mm, .fat_cover = 14_mm, .tail = 25_mm, .gluteus_medius = 0.2}};
    CHECK(names(rank_packs<usd>({fat, lean})) == std::vector<std::string>{"lean", "fat"});
    // Where everything is wanted or sold at a good price, the label decides.
    pack_wishes<usd> wishes{.gluteus_medius = true};
    wishes.values[tissue::fat_cover] = wishes.values[tissue::tail] = 20_usd / 1_kg;
    CHECK(names(rank_packs<usd>({lean, fat}, wishes)) == std::vector<std::string>{"fat", "lean"});
}

TEST_CASE("ties among packs go to less excess fat, then the name, then the place in the list") {
    steak_pack<usd> a = four_steaks(), b = four_steaks(), c = four_steaks(), no_lean = four_steaks();
    a.name = "b";
    b.name = "a";
    c.name = "c";
    c.section->areas[tissue::tail] += 2_cm2; // fat that became tail
    c.section->areas[tissue::fat_cover] -= 2_cm2;
    no_lean.name = "0";
    no_lean.section->areas[tissue::eye] = area{};
    no_lean.price = 0.01_usd / 1_kg;
    const auto ranked = rank_packs<usd>({no_lean, a, b, c}, {}, rounding::half_even, shape_of_steaks(beef_strip_loin),
                                        even()); // one density: equal prices
    CHECK(names(ranked) == std::vector<std::string>{"c", "a", "b", "0"});
    CHECK_FALSE(by_hand(no_lean).per_wanted);
    CHECK_FALSE(by_hand(no_lean).per_wanted_credited);
    CHECK(by_hand(no_lean).fat_share() == Approx(0.15 / 0.4));

    steak_pack<usd> pounds = four_steaks();
    pounds.name = "a pound price";
    pounds.weight = 1_kg / 0.45359237_kg * 1_lb;
    pounds.price = 20 * 0.45359237 * 1_usd / 1_lb; // the same but for rounding
    steak_pack<usd> kilograms = four_steaks();
    kilograms.name = "b kilogram price";
    for (const auto& list : {std::vector{pounds, kilograms}, std::vector{kilograms, pounds}})
        CHECK(names(rank_packs<usd>(list)) == std::vector<std::string>{"a pound price", "b kilogram price"});
    CHECK(rank_packs<usd>({}).empty());
}

TEST_CASE("a pack that cannot be is refused by its name and field") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto refused = [](auto change) {
        steak_pack<usd> bad{.name = "bad",
                            .weight = 700_g,
                            .price = 24_usd / 1_kg,
                            .pieces = 2,
                            .steak = {.thickness = 28_mm, .fat_cover = 4_mm}};
        change(bad);
        try {
            (void)appraise<usd>(bad);
        } catch (const invalid_input& error) {
            return std::string(error.what());
        }
        return std::string("no error");
    };
    CHECK(refused([](auto&) {}) == "no error");
    CHECK_THAT(refused([](auto& p) { p.weight = 0_g; }), StartsWith("bad: purchase.weight: got 0 g"));
    CHECK_THAT(refused([](auto& p) { p.weight = -1_kg; }), StartsWith("bad: purchase.weight"));
    CHECK_THAT(refused([](auto& p) { p.price = -1_usd / 1_kg; }), StartsWith("bad: purchase.price"));
    CHECK_THAT(refused([](auto& p) { p.price = 1e30_usd / 1_kg; }), StartsWith("price of the pack"));
    CHECK_THAT(refused([](auto& p) { p.pieces = 0; }), StartsWith("bad: pieces: got 0"));
    CHECK_THAT(refused([](auto& p) { p.steak.thickness = 0_mm; }), StartsWith("bad: thickness"));
    CHECK_THAT(refused([&](auto& p) { p.steak.fat_cover = nan * 1_mm; }), StartsWith("bad: fat_cover: got nan"));
    CHECK_THAT(refused([](auto& p) { p.steak.tail = -1_mm; }), StartsWith("bad: tail"));
    CHECK_THAT(refused([](auto& p) { p.steak.gluteus_medius = 2.0; }), StartsWith("bad: gluteus_medius"));
    CHECK_THAT(refused([](auto& p) { p.thickest_fat = 3_mm; }), StartsWith("bad: thickest_fat: got 3 mm"));
    CHECK_THAT(refused([&](auto& p) { p.thickest_fat = nan * 1_mm; }), StartsWith("bad: thickest_fat: got nan"));
    CHECK_THAT(refused([](auto& p) { p.section = section(); }), StartsWith("bad: section"));
    CHECK_THAT(refused([](auto& p) {
                   p.steak.fat_cover = 0_mm;
                   p.section = face{};
               }),
               StartsWith("bad: area of the section: got 0"));
    CHECK_THAT(refused([](auto& p) {
                   p.steak.fat_cover = 0_mm;
                   p.section = section();
                   p.section->areas[tissue::tail] = -1_cm2;
               }),
               StartsWith("bad: section: got"));
    steak_pack<usd> good = four_steaks();
    CHECK_THROWS_WITH(appraise<usd>(good, {.fat_cover = -1_mm}), StartsWith("wishes.fat_cover"));
    CHECK_THROWS_WITH(appraise<usd>(good, {.tail = nan * 1_mm}), StartsWith("wishes.tail"));
    pack_wishes<usd> wishes;
    wishes.values[tissue::tail] = nan * 1_usd / 1_kg;
    CHECK_THROWS_WITH(appraise<usd>(good, wishes), StartsWith("wishes.values: tail: got nan"));
}

} // namespace pack_appraisal_test
