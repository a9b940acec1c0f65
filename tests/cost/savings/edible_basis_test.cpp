// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/edible_basis.hpp>

#include <limits>
#include <string>
#include <vector>

#include <tranche/tranche.hpp>

#include "cost/samples.hpp"
#include "loin/layer_share.hpp"
#include "support/catch.hpp"

namespace edible_basis_test {

using namespace cost_samples;
using namespace tranche_test;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Two even slabs of a prism: the first cut with 6 mm of fat and 20 mm of tail left on, the second bare.
struct two_kinds {
    prism_loin loin{.length = 20_cm, .face = {.width = 22_cm, .depth = 8_cm, .fat_cover = 12_mm, .tail = 40_mm}};
    profile meat = tabulate(loin, 1_mm);
    cutting_plan cuts = lay_out(meat,
                                {{.name = "steak", .thickness = 10_cm, .trim = {.fat_cover = 6_mm, .tail = 20_mm}},
                                 {.name = "bare", .thickness = 10_cm, .trim = {.fat_cover = 0_mm, .tail = 0_mm}}},
                                {}, {{0, 100, slab_kind::portions, 0}, {100, 200, slab_kind::portions, 1}});
};

} // namespace

TEST_CASE("the edible share counts lean whole, tail half, and fat and silverskin not at all") {
    // Computed: of 10 kg, 6 eye + 1 gluteus medius + 0.8 / 2 tail = 7.4 kg.
    const by_tissue<micrograms> masses{
        {to_micrograms(6_kg), to_micrograms(1_kg), to_micrograms(2_kg), to_micrograms(800_g), to_micrograms(200_g)}};
    const detail::tissue_shares shares = detail::shares_of(masses);
    CHECK_THAT(shares.sum(), WithinULP(1.0, 2));
    CHECK_THAT(edible_share(shares), WithinRel(0.74, 1e-15));
    // Without the second muscle, 6.4 kg; with the fat as well, 9.4 kg.
    CHECK_THAT(edible_share(shares, {.counts = {{1.0, 0.0, 0.0, 0.5, 0.0}}}), WithinRel(0.64, 1e-15));
    CHECK_THAT(edible_share(shares, {.counts = {{1.0, 1.0, 1.0, 0.5, 0.0}}}), WithinRel(0.94, 1e-15));
    CHECK_THAT(edible_share(shares, {.counts = {{1.0, 1.0, 1.0, 1.0, 1.0}}}), WithinULP(1.0, 2));
}

TEST_CASE("ready-cut meat trimmed as the portions are has the tissues of the portions") {
    const two_kinds sample;
    for (const slab& s : sample.cuts.slabs) {
        const cut_spec& spec = sample.cuts.spec_of(s);
        const detail::tissue_shares as_cut = detail::shares_of(s.kept);
        const detail::tissue_shares same =
            shares_of_ready_cut({.trim = spec.trim}, sample.meat, sample.cuts, {spec.name});
        for (const tissue t : all_tissues) CHECK(same[t] == as_cut[t]); // the same cells and the same arithmetic
    }
}

TEST_CASE("ready-cut meat with half of the fat cover has what of the fat lies within it") {
    const two_kinds sample;
    // Computed: 6 of 12 mm leave that share of each cell's fat, but for the rounding: half a microgram in each of 200 cells
    // is 5e-7 of the 2e8 micrograms of fat.
    const detail::tissue_shares half =
        shares_of_ready_cut({.trim = {.fat_cover = 6_mm, .tail = 0_mm, .silverskin = false}}, sample.meat, sample.cuts);
    double fat = 0.0;
    for (std::size_t cell = 0; cell < sample.meat.cells(); ++cell)
        fat += share_by_definition(sample.meat.fat_cover(cell), 6_mm) *
               to_mass(sample.meat.between(cell, cell + 1, tissue::fat_cover)).value();
    const double lean = to_mass(sample.meat.total(tissue::eye)).value();
    CHECK_THAT(half[tissue::fat_cover], WithinRel(fat / (fat + lean), 5e-7));
    CHECK_THAT(half[tissue::eye], WithinRel(lean / (fat + lean), 5e-7));
    CHECK(half[tissue::tail] == 0.0);
    const detail::tissue_shares untrimmed = shares_of_ready_cut({}, sample.meat, sample.cuts);
    for (const tissue t : all_tissues)
        CHECK_THAT(untrimmed[t], WithinRel(to_mass(sample.meat.total(t)) / to_mass(sample.meat.total()), 1e-15));
}

TEST_CASE("a stated second muscle takes its share of the lean and nothing else") {
    const two_kinds sample;
    const detail::tissue_shares plain = shares_of_ready_cut({}, sample.meat, sample.cuts);
    const detail::tissue_shares mixed = shares_of_ready_cut({.gluteus_medius = 0.25}, sample.meat, sample.cuts);
    const double lean = plain[tissue::eye] + plain[tissue::gluteus_medius];
    CHECK_THAT(mixed[tissue::gluteus_medius], WithinRel(0.25 * lean, 1e-15));
    CHECK_THAT(mixed[tissue::eye], WithinRel(0.75 * lean, 1e-15));
    for (const tissue t : {tissue::fat_cover, tissue::tail, tissue::connective}) CHECK(mixed[t] == plain[t]);
    CHECK_THAT(mixed.sum(), WithinRel(1.0, 1e-15));
}

TEST_CASE("more trim never makes less of ready-cut meat edible") {
    for (std::uint32_t seed = 1; seed <= 10; ++seed) {
        const scenario sample = invented(seed);
        double before = 0.0;
        for (const double kept : {20.0, 9.0, 6.0, 3.0, 0.0}) {
            const ready_cut_look look{.trim = {.fat_cover = kept * millimetre, .silverskin = false}};
            const fraction share = edible_share(shares_of_ready_cut(look, sample.meat, sample.cuts.plan));
            CHECK(share >= before);
            before = share;
        }
    }
}

TEST_CASE("a basis and shares that are none are refused by name") {
    const detail::tissue_shares even{{0.2, 0.2, 0.2, 0.2, 0.2}};
    CHECK_THROWS_WITH(edible_share(even, {.counts = {{1.0, 1.5, 0.0, 0.0, 0.0}}}),
                      StartsWith("edible_basis: gluteus medius: got 1.5"));
    CHECK_THROWS_WITH(edible_share(even, {.counts = {{not_a_number, 0.0, 0.0, 0.0, 0.0}}}),
                      StartsWith("edible_basis: eye: got nan"));
    CHECK_THROWS_WITH(edible_share(even, {.counts = {{0.0, 0.0, 0.0, 0.0, 0.0}}}),
                      StartsWith("edible_basis: got no tissue that counts"));
    CHECK_THROWS_WITH(edible_share({{0.5, 0.0, 0.0, 0.0, 0.0}}), StartsWith("shares of the tissues: got 0.5 in all"));
    CHECK_THROWS_WITH(edible_share({{1.5, -0.5, 0.0, 0.0, 0.0}}), StartsWith("share of eye: got 1.5"));
    CHECK_THROWS_WITH(detail::shares_of({}), StartsWith("tissues: got no mass"));
    CHECK_THROWS_WITH(detail::shares_of({{micrograms{-1}, {}, {}, {}, {}}}), StartsWith("mass of eye"));
}

TEST_CASE("a look, a profile and a name that do not fit the plan are refused by name") {
    const two_kinds sample;
    CHECK_THROWS_WITH(shares_of_ready_cut({.trim = {.fat_cover = -1_mm}}, sample.meat, sample.cuts),
                      StartsWith("ready cut: fat_cover"));
    CHECK_THROWS_WITH(shares_of_ready_cut({.gluteus_medius = 1.2}, sample.meat, sample.cuts),
                      StartsWith("ready cut: gluteus_medius: got 1.2"));
    CHECK_THROWS_WITH(shares_of_ready_cut({}, sample.meat, sample.cuts, {"stake"}), StartsWith("tissues: got no mass"));
    const profile longer = tabulate(prism_loin{.length = 21_cm, .face = sample.loin.face}, 1_mm);
    CHECK_THROWS_WITH(shares_of_ready_cut({}, longer, sample.cuts), StartsWith("profile: got 210 mm"));
}

} // namespace edible_basis_test
