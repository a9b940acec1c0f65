// That a table stands on its grid, and that what cannot be tabulated is refused.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <functional>

#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace profile_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A user's own model. Invented.
struct own_loin {
    tranche::length length = 10_cm;
    std::function<face(tranche::length)> at = [](tranche::length) {
        face f;
        f.areas[tissue::eye] = 90_cm2;
        return f;
    };
    [[nodiscard]] tranche::length extent() const { return length; }
    [[nodiscard]] face face_at(tranche::length where) const { return at(where); }
};

} // namespace

TEST_CASE("positions stand a step apart and the last cell may be shorter") {
    prism_loin loin = block();
    loin.length = 102_mm;
    const profile meat = tabulate(loin, 5_mm, all_of(1_g_per_cm3));
    CHECK(meat.cells() == 21);
    CHECK(meat.extent() == detail::snapped(102_mm));
    CHECK(meat.step() == 5_mm);
    CHECK(meat.position(0) == 0_mm);
    CHECK_THAT(meat.position(20) / 1_mm, WithinRel(100.0, 1e-15));
    CHECK(meat.position(21) == detail::snapped(102_mm));
    // 44 g/cm: 22 g a cell, 8.8 g in the last.
    CHECK(meat.between(0, 1).count == 22'000'000);
    CHECK(meat.between(19, 20).count == 22'000'000);
    CHECK(meat.between(20, 21).count == 8'800'000);
    CHECK(meat.cumulative().size() == 22);
}

TEST_CASE("a loin of a whole number of steps gets no sliver of a cell") {
    for (const double steps : {10.0, 762.0, 838.2, 16.5}) {
        own_loin loin;
        loin.length = steps * inch;
        CHECK(tabulate(loin, inch).cells() == static_cast<std::size_t>(std::ceil(steps)));
        loin.length = steps * 2.54 * centimetre; // with other last bits
        CHECK(tabulate(loin, inch).cells() == static_cast<std::size_t>(std::ceil(steps)));
    }
}

TEST_CASE("a step longer than the loin gives one cell") {
    const length step = GENERATE(10_cm, 11_cm, 1_m, 1e12_m);
    const profile meat = tabulate(block(), step, all_of(1_g_per_cm3));
    CHECK(meat.cells() == 1);
    CHECK(meat.position(1) == 10_cm);
    CHECK(meat.total().count == 440'000'000);
    CHECK(meat.nearest(2_cm) == 0);
    CHECK(meat.nearest(8_cm) == 1);
}

TEST_CASE("the nearest position is the nearest on the loin") {
    own_loin loin;
    loin.length = 102_mm;
    const profile meat = tabulate(loin, 5_mm);
    CHECK(meat.nearest(-1_m) == 0);
    CHECK(meat.nearest(2.4_mm) == 0);
    CHECK(meat.nearest(2.6_mm) == 1);
    CHECK(meat.nearest(100.9_mm) == 20);
    CHECK(meat.nearest(101.1_mm) == 21);
    CHECK(meat.nearest(1_m) == 21);
    for (std::size_t i = 0; i <= meat.cells(); ++i) CHECK(meat.nearest(meat.position(i)) == i);
    CHECK(meat.nearest(length::from_value(infinite)) == 21);
    CHECK(meat.nearest(length::from_value(-infinite)) == 0);
    CHECK(message_of([&] { (void)meat.nearest(length::from_value(not_a_number)); }) ==
          "position: got nan mm, expected a place along the loin");
}

TEST_CASE("a step that is none or gives too many cells is refused") {
    const auto refusal = [](length step) { return message_of([&] { (void)tabulate(block(), step); }); };
    CHECK(refusal(0_mm) == "step: got 0 mm, expected a finite value above zero");
    CHECK(refusal(-1_mm) == "step: got -1 mm, expected a finite value above zero");
    CHECK(refusal(length::from_value(not_a_number)) == "step: got nan mm, expected a finite value above zero");
    CHECK(refusal(length::from_value(infinite)) == "step: got inf mm, expected a finite value above zero");
    CHECK_THAT(refusal(10_mm / 1e6), StartsWith("step: got ") && EndsWith("for a loin of 100 mm"));
    CHECK_THAT(refusal(length::from_value(5e-324)), StartsWith("step: got "));
}

TEST_CASE("a density that is none is refused by its tissue") {
    for (const density& bad :
         {0_kg_per_m3, -1000_kg_per_m3, density::from_value(not_a_number), density::from_value(infinite)}) {
        tissue_densities densities = densities_at_4_celsius();
        densities[tissue::fat_cover] = bad;
        CHECK_THAT(message_of([&] { (void)tabulate(block(), default_step, densities); }),
                   StartsWith("density of fat cover: got ") && EndsWith("expected a finite value above zero"));
    }
}

TEST_CASE("a model whose faces are no faces is refused where it goes wrong") {
    const auto refusal = [](double bad_area) {
        own_loin loin;
        loin.at = [=](length where) {
            face f;
            f.areas[tissue::tail] = area::from_value(where > 49.9_mm ? bad_area : 0.0);
            return f;
        };
        return message_of([&] { (void)tabulate(loin, 1_mm); });
    };
    CHECK(refusal(0.001) == "accepted");
    CHECK(refusal(not_a_number) ==
          "area of tail on the face at 50 mm: got nan cm2, expected a finite area, zero or more");
    CHECK(refusal(-0.001) == "area of tail on the face at 50 mm: got -10 cm2, expected a finite area, zero or more");
    CHECK(refusal(infinite) == "area of tail on the face at 50 mm: got inf cm2, expected a finite area, zero or more");
    CHECK_THAT(refusal(1e12), StartsWith("mass of the loin: got ")); // a finite area, and more than 64 bits can weigh
}

TEST_CASE("tissues that fit 64 bits only one by one are refused before they are added up") {
    // 6 million tonnes of lean and of fat: each fits, both together do not.
    own_loin loin;
    loin.at = [](length) {
        face f;
        f.areas[tissue::eye] = f.areas[tissue::fat_cover] = area::from_value(6e10);
        return f;
    };
    CHECK_THAT(message_of([&] { (void)tabulate(loin, 1_mm, all_of(1_g_per_cm3)); }),
               StartsWith("mass of the loin: got ") && EndsWith("expected a finite mass"));
}

TEST_CASE("a model whose layers or sizes are none is refused where it goes wrong") {
    const auto refusal = [](auto&& change) {
        own_loin loin;
        loin.at = [&](length where) {
            face f;
            f.areas[tissue::eye] = f.areas[tissue::fat_cover] = f.areas[tissue::tail] = 10_cm2;
            f.fat_cover.thickness = f.tail.thickness = 10_mm;
            if (where > 49.9_mm) change(f);
            return f;
        };
        return message_of([&] { (void)tabulate(loin, 1_mm); });
    };
    const std::string rule = "expected shares that never fall and end at 1";
    CHECK(refusal([](face&) {}) == "accepted");
    for (const double bad : {not_a_number, infinite, -0.001}) {
        CAPTURE(bad);
        const length none = length::from_value(bad);
        CHECK_THAT(refusal([&](face& f) { f.fat_cover.thickness = none; }),
                   StartsWith("fat cover of the face at 50.5 mm: got ") && EndsWith("zero or more"));
        CHECK_THAT(refusal([&](face& f) { f.tail.thickness = none; }), StartsWith("tail of the face at 50.5 mm: got "));
        CHECK_THAT(refusal([&](face& f) { f.width = none; }), StartsWith("width of the face at 50 mm: got "));
        CHECK_THAT(refusal([&](face& f) { f.depth = none; }), StartsWith("depth of the face at 50 mm: got "));
        CHECK_THAT(refusal([&](face& f) { f.tail.spread[7] = bad; }),
                   StartsWith("spread of the tail of the face at 50.5 mm: got ") && EndsWith(rule));
    }
    CHECK(refusal([](face& f) { f.width = 120_m; }) ==
          "width of the face at 50 mm: got 120000 mm, expected less than 100000 mm");
    CHECK_THAT(refusal([](face& f) { f.tail.thickness = 100_m; }),
               EndsWith("got 100000 mm, expected less than 100000 mm"));
    CHECK_THAT(refusal([](face& f) { f.fat_cover.spread.fill(3.0); }),
               StartsWith("spread of the fat cover of the face at 50.5 mm: got 3 after 0, ") && EndsWith(rule));
    CHECK_THAT(refusal([](face& f) { f.fat_cover.spread[9] = 0.2; }), EndsWith("got 0.2 after 0.28125, " + rule));
    CHECK_THAT(refusal([](face& f) { f.fat_cover.spread.back() = 0.99; }), EndsWith("got 0.99 at the end, " + rule));
}

TEST_CASE("a model without a length is refused") {
    own_loin loin;
    for (const length& bad : {0_mm, -1_mm, length::from_value(not_a_number), length::from_value(infinite)}) {
        loin.length = bad;
        CHECK_THAT(message_of([&] { (void)tabulate(loin); }),
                   StartsWith("extent: got ") && EndsWith("expected a finite value above zero"));
    }
}

TEST_CASE("a model longer than any loin is refused, however coarse its grid") {
    own_loin loin;
    loin.length = 100_m;
    CHECK(message_of([&] { (void)tabulate(loin, 1_m); }) == "extent: got 100000 mm, expected less than 100000 mm");
    loin.length = 99_m;
    CHECK(message_of([&] { (void)tabulate(loin, 1_m); }) == "accepted");
}

TEST_CASE("the second muscle counts as present once it has entered") {
    own_loin loin;
    loin.at = [](length where) { // comes, goes and comes again
        const double x = where / 1_cm, share = x < 2 ? 0.0 : x < 4 ? 0.2 : x < 6 ? 0.1 : 0.4;
        face f;
        f.areas[tissue::eye] = (1.0 - share) * 90_cm2;
        f.areas[tissue::gluteus_medius] = share * 90_cm2;
        return f;
    };
    const profile meat = tabulate(loin, 10_mm);
    const std::vector<double> here{0, 0, .2, .2, .1, .1, .4, .4, .4, .4, .4};
    const std::vector<double> entered{0, 0, .2, .2, .2, .2, .4, .4, .4, .4, .4};
    REQUIRE(meat.cells() == 10);
    for (std::size_t i = 0; i <= 10; ++i) {
        CHECK_THAT(meat.gluteus_medius_share(i), WithinAbs(here[i], 1e-15));
        CHECK_THAT(meat.gluteus_medius_entered()[i], WithinAbs(entered[i], 1e-15));
    }
}

TEST_CASE("layers are read in the middle of a cell and outlines at positions") {
    const measured_loin loin = strip_loin().snapped(); // as it is tabulated
    const profile meat = tabulate(loin, 10_mm);
    for (std::size_t i = 0; i < meat.cells(); ++i) {
        const face middle = loin.face_at(0.5 * (meat.position(i) + meat.position(i + 1)));
        CHECK(meat.fat_cover(i).thickness == middle.fat_cover.thickness);
        CHECK(meat.tail(i).thickness == middle.tail.thickness);
    }
    for (std::size_t i = 0; i <= meat.cells(); ++i) {
        const face f = loin.face_at(meat.position(i));
        CHECK(meat.width(i) == f.width);
        CHECK(meat.depth(i) == f.depth);
        CHECK(meat.gluteus_medius_share(i) == detail::snapped_share(gluteus_medius_share(f.areas)));
    }
}

TEST_CASE("a layer that ends short of the middle of a cell is there as in the cell beside it") {
    // Fat up to 44 mm and from 86 mm on, short of the middles of two cells.
    own_loin loin;
    loin.at = [](const length& at) {
        face f;
        f.areas[tissue::eye] = 90_cm2;
        if (at <= 44_mm || at >= 86_mm) {
            f.areas[tissue::fat_cover] = 8_cm2;
            f.fat_cover = {at < 60_mm ? 9_mm : 7_mm};
            f.fat_cover.spread.fill(at < 60_mm ? 0.5 : 0.25);
            f.fat_cover.spread.back() = 1.0;
        }
        return f;
    };
    const profile meat = tabulate(loin, 10_mm);
    for (std::size_t cell = 0; cell < meat.cells(); ++cell) {
        CAPTURE(cell);
        const bool fat = meat.between(cell, cell + 1, tissue::fat_cover) > micrograms{};
        CHECK(fat == (cell <= 4 || cell >= 8));
        const layer expected = loin.at(cell <= 4 ? 0_mm : 100_mm).fat_cover;
        CHECK(meat.fat_cover(cell) == (fat ? expected : layer{}));
        CHECK(meat.tail(cell) == layer{});
    }
}

TEST_CASE("a loin of a few micrograms closes without a mass that falls") {
    // Five tissues of half a microgram each and less: the rounding of each is as large as the loin.
    for (int halves = 0; halves < 40; ++halves) {
        own_loin loin;
        loin.at = [=](length) {
            face f;
            for (const tissue t : all_tissues)
                f.areas[t] = area::from_value((halves + 1) * 0.5e-9 / (0.1 * 1000.0)); // kg over 10 cm at 1 g/cm³
            return f;
        };
        const profile meat = tabulate(loin, 10_mm, all_of(1_g_per_cm3));
        CHECK(meat.total() == to_micrograms(meat.unrounded_total()));
        for (const tissue t : all_tissues) {
            CAPTURE(halves, name_of(t));
            CHECK(std::is_sorted(meat.cumulative(t).begin(), meat.cumulative(t).end()));
        }
    }
}

TEST_CASE("uneven layers are kept cell by cell among even ones") {
    const std::size_t first_uneven = GENERATE(as<std::size_t>{}, 0, 1, 5, 9);
    layer_spread thin_at_the_edge = even_spread;
    for (double& s : thin_at_the_edge) s = 1.0 - (1.0 - s) * (1.0 - s);
    own_loin loin;
    loin.at = [=](length where) {
        face f;
        f.areas[tissue::fat_cover] = 10_cm2;
        f.fat_cover.thickness = f.tail.thickness = where;
        const bool uneven = static_cast<std::size_t>(where / 10_mm) == first_uneven;
        if (uneven) f.fat_cover.spread = thin_at_the_edge;
        return f;
    };
    const profile meat = tabulate(loin, 10_mm);
    CHECK_FALSE(meat.layers_are_even());
    for (std::size_t i = 0; i < meat.cells(); ++i) {
        const layer expected{0.5 * (meat.position(i) + meat.position(i + 1)),
                             i == first_uneven ? thin_at_the_edge : even_spread};
        CHECK(meat.fat_cover(i).thickness == expected.thickness);
        CHECK(meat.fat_cover(i).spread == expected.spread);
        CHECK(meat.tail(i).spread == even_spread);
        for (const length& reach : {0_mm, 3_mm, 40_mm, 200_mm}) {
            CHECK(meat.fat_cover_within(i, reach) == expected.within(reach));
            CHECK(meat.tail_within(i, reach) == layer{expected.thickness}.within(reach));
        }
    }
    CHECK(tabulate(block()).layers_are_even());
}

namespace {

/// A model that knows its volume better than its faces: 5 % more of it in the second half. Invented.
struct exact_loin {
    area bare = 0_cm2; ///< of the faces in front; nothing is seen there
    [[nodiscard]] static tranche::length extent() { return 10_cm; }
    [[nodiscard]] face face_at(tranche::length where) const {
        face f;
        f.areas[tissue::eye] = where < 5_cm ? bare : 60_cm2;
        f.areas[tissue::fat_cover] = where < 5_cm ? area{} : 40_cm2;
        return f;
    }
    [[nodiscard]] static volume volume_before(tranche::length where) {
        return where < 5_cm ? 80_cm2 * where : 80_cm2 * 5_cm + 105_cm2 * (where - 5_cm);
    }
};

} // namespace

TEST_CASE("a model that knows its volume is taken at its word and its tissues share it") {
    const profile meat = tabulate(exact_loin{.bare = 90_cm2}, 10_mm, all_of(1_g_per_cm3));
    // Five cells of 80 g and five of 105 g, shared 60 to 40. Products of doubles are rounded to whole micrograms.
    CHECK(meat.total().count == 925'000'000);
    CHECK(meat.between(0, 5).count == 400'000'000);
    CHECK(meat.between(5, 10, tissue::eye).count == 315'000'000);
    CHECK(meat.between(5, 10, tissue::fat_cover).count == 210'000'000);
}

TEST_CASE("a volume that is no number is refused") {
    struct no_volume : exact_loin {
        double beyond = 0.0;
        [[nodiscard]] volume volume_before(tranche::length where) const {
            return where < 5_cm ? exact_loin::volume_before(where) : volume::from_value(beyond);
        }
    };
    for (const double bad : {not_a_number, infinite}) {
        no_volume loin;
        loin.beyond = bad;
        CHECK_THAT(message_of([&] { (void)tabulate(loin, 10_mm); }),
                   StartsWith("volume of a cell: got ") && EndsWith("expected a finite volume"));
    }
}

TEST_CASE("volume where no face shows any meat is taken for lean") {
    const profile meat = tabulate(exact_loin{}, 10_mm, all_of(1_g_per_cm3));
    CHECK(meat.between(0, 4, tissue::eye).count == 320'000'000);
    CHECK(meat.total().count == 925'000'000);
}

} // namespace profile_test
