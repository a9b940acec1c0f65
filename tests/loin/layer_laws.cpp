// Laws of layers, of every model: the share within a depth never falls with the depth, and a looser trim never keeps less.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/loin/on_finer_grid.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>

#include "loin/samples.hpp"

namespace layer_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Covers that are spread very differently, so that what lies between them bends. Invented.
traced_loin traced() {
    struct cover {
        length at, thickness;
        double left, wide; // of the eye, shares of the width
    };
    std::vector<traced_face> faces;
    for (const cover& c : {cover{0_cm, 4_mm, 0.06, 0.88}, cover{3_cm, 25_mm, 0.10, 0.55},
                           cover{4_cm, 24_mm, 0.40, 0.50}, cover{10_cm, 5_mm, 0.05, 0.70}}) {
        outline eye = superellipse(c.left * 20_cm, c.wide * 20_cm, 7_cm - c.thickness, 2.0);
        for (outline_point& p : eye.points) p.up += 1_cm;
        faces.push_back({.at = c.at, .whole = superellipse({}, 20_cm, 8_cm, 2.6), .eye = eye});
    }
    return {12_cm, faces};
}

/// Depths that lie close to the entries of a spread, and between them.
std::vector<length> depths_of(length thickness) {
    std::vector<length> depths{0_mm};
    for (int k = 0; k < 32; ++k)
        for (const double into : {1e-15, 0.3, 0.8, 1.0 - 1e-15}) depths.push_back((k + into) / 32.0 * thickness);
    depths.push_back(thickness);
    depths.push_back(2.0 * thickness);
    return depths;
}

template <class Within>
void check_rising(length thickness, const Within& within) {
    double before = 0.0;
    for (const length& depth : depths_of(thickness)) {
        const double share = within(depth);
        REQUIRE(share >= before);
        before = share;
    }
    REQUIRE(before == 1.0);
}

/// Several cells at a time they are what they are one by one, to the last bit and to the microgram.
void check_columns(const profile& meat) {
    std::vector<fraction> shares(meat.cells() - 1);
    std::vector<std::int64_t> kept(meat.cells() - 1);
    for (const length& depth : {0_mm, 0.3_mm, 4_mm, 9.7_mm, 25_mm, 80_mm, unlimited<length>()}) {
        const auto reach = [&](std::size_t cell) { return cell % 5 == 0 ? 0.5 * depth : depth; };
        meat.fat_cover_within(1, shares, reach);
        for (std::size_t i = 0; i < shares.size(); ++i)
            REQUIRE(shares[i] == meat.fat_cover_within(i + 1, reach(i + 1)));
        meat.tail_within(1, shares, reach);
        for (std::size_t i = 0; i < shares.size(); ++i) REQUIRE(shares[i] == meat.tail_within(i + 1, reach(i + 1)));
        for (const trim_spec& trim : {trim_spec{.fat_cover = depth, .tail = depth, .silverskin = false},
                                      trim_spec{.fat_cover = depth, .tail = {depth, 0.5 * depth}},
                                      trim_spec{.fat_cover = depth, .over_cut = 2_mm}})
            for (const tissue t : all_tissues) {
                detail::keep_in_cells(meat, 1, kept, t, trim);
                for (std::size_t i = 0; i < kept.size(); ++i)
                    REQUIRE(kept[i] == detail::kept_in_cell(meat, i + 1, t, trim));
            }
    }
}

void check_table(const std::string& name, const profile& meat) {
    CAPTURE(name);
    check_columns(meat);
    std::size_t uneven = 0;
    for (std::size_t i = 0; i < meat.cells(); i += 3) {
        CAPTURE(i);
        const layer fat = meat.fat_cover(i), tail = meat.tail(i);
        uneven += fat.spread != even_spread ? 1 : 0;
        check_rising(fat.thickness, [&](length reach) { return fat.within(reach); });
        check_rising(fat.thickness, [&](length reach) { return meat.fat_cover_within(i, reach); });
        check_rising(tail.thickness, [&](length reach) { return meat.tail_within(i, reach); });
        for (const length& depth : depths_of(fat.thickness)) { // what the table says is what its layers say
            REQUIRE(meat.fat_cover_within(i, depth) == fat.within(depth));
            REQUIRE(meat.fat_cover_growth(i, depth) == fat.growth(depth));
        }
        for (const length& over_cut : {0_mm, 3.1_mm}) { // around lean that bulges contours get longer with the depth
            std::int64_t kept = 0;
            for (double keep = 0.0; keep < 60.0; keep += keep < 15.0 ? 0.7 : 5.1) {
                std::int64_t now = 0;
                const trim_spec trim{.fat_cover = keep * 1_mm, .tail = keep * 1_mm, .over_cut = over_cut};
                for (const tissue t : all_tissues) now += detail::kept_in_cell(meat, i, t, trim);
                REQUIRE(now >= kept);
                kept = now;
            }
        }
    }
    CHECK(uneven > meat.cells() / 10);
}

} // namespace

TEST_CASE("law: within a greater depth lies no smaller share of a layer, and a looser trim keeps no less") {
    check_table("measured", tabulate(strip_loin(), 4_mm));
    check_table("finer", on_finer_grid(tabulate(strip_loin(), 20_mm), 7));
    check_table("calibrated", calibrated_profile(strip_loin(), 5.2_kg, {.step = 4_mm}));
    check_table("typical", tabulate(typical_loin(4.1_kg, boneless_pork_loin), 6_mm));
    check_table("traced", tabulate(traced(), 1_mm));
    check_table("slanted", tabulate(slanted_loin(strip_loin(), {.about_vertical = 10.0 * degree}), 25_mm));
}

TEST_CASE("a finer grid has the layers of the cells that it divides") {
    const profile meat = tabulate(strip_loin(), 7_mm), fine = on_finer_grid(meat, 5);
    for (std::size_t i = 0; i < fine.cells(); ++i) {
        REQUIRE(fine.fat_cover(i) == meat.fat_cover(i / 5));
        REQUIRE(fine.tail(i) == meat.tail(i / 5));
    }
}

TEST_CASE("a spread that is none is refused under a slanted knife too") {
    struct bad_layers {
        double share;
        [[nodiscard]] length extent() const { return 30_cm; }
        [[nodiscard]] face face_at(length) const {
            face f{.fat_cover = {8_mm}, .width = 20_cm, .depth = 7_cm};
            f.areas[tissue::eye] = 100_cm2;
            f.areas[tissue::fat_cover] = 16_cm2;
            f.fat_cover.spread[7] = share;
            return f;
        }
        [[nodiscard]] painted_face painted_at(length) const {
            return taped_outlines({.width = 20_cm, .depth = 7_cm, .fat_cover = 8_mm}, {}, 0.0);
        }
    };
    for (const double share : {3.0, not_a_number, -0.2})
        CHECK_THAT(message_of([&] {
                       (void)tabulate(slanted_loin(bad_layers{share}, {.about_vertical = 5.0 * degree}), 10_mm);
                   }),
                   StartsWith("spread of the fat cover of the face at "));
}

} // namespace layer_laws
