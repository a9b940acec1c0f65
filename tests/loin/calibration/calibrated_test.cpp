// That a calibrated loin weighs what the scale says, and that an impossible weight is refused with a reading to check.
// SPDX-License-Identifier: BSL-1.0
#include <optional>

#include "support/catch.hpp"

#include <algorithm>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>

#include "loin/samples.hpp"

namespace calibrated_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A model whose areas are known, so that only the density is open. Invented.
struct traced {
    [[nodiscard]] static length extent() { return 40_cm; }
    [[nodiscard]] static face face_at(length) {
        face f;
        f.areas[tissue::eye] = 100_cm2;
        return f;
    }
};

} // namespace

TEST_CASE("a calibrated loin weighs what the scale says") {
    const auto loin = calibrate(strip_loin(), 11.9_lb);
    CHECK(tabulate(loin).total() == to_micrograms(11.9_lb));
    CHECK(loin.factor == 1.0);
    // The fill gives way. The tail does not depend on it, all else is in proportion to it.
    const double filled = loin.model.shape.fill;
    CHECK(filled == loin.fill());
    CHECK(filled != strip_loin().shape.fill);
    const face before = strip_loin().face_at(37_cm), after = loin.face_at(37_cm);
    for (const tissue t : all_tissues)
        CHECK_THAT(double(after.areas[t] / before.areas[t]),
                   WithinRel(t == tissue::tail ? 1.0 : filled / strip_loin().shape.fill, 1e-15));
    CHECK(after.fat_cover.thickness == before.fat_cover.thickness);
    CHECK(after.fat_cover.spread != before.fat_cover.spread);
    CHECK(after.width == before.width);
    CHECK(loin.extent() == 42_cm);
}

TEST_CASE("calibrating and tabulating in one call gives what the two give in turn") {
    const tissue_densities dense = all_of(1_g_per_cm3);
    const profile one = calibrated_profile(strip_loin(), 5.1_kg, {.step = 2_mm, .densities = dense});
    const profile two = tabulate(calibrate(strip_loin(), 5.1_kg, 2_mm, dense), 2_mm, dense);
    CHECK(one.total() == to_micrograms(5.1_kg));
    CHECK(one.step() == 2_mm);
    REQUIRE(one.cells() == two.cells());
    for (std::size_t i = 0; i <= one.cells(); ++i) // one rounding each, and closing
        for (const tissue t : all_tissues) REQUIRE(std::abs(one.cumulative(t)[i] - two.cumulative(t)[i]) <= 3);
    for (std::size_t i = 0; i < one.cells(); ++i) REQUIRE(one.fat_cover(i) == two.fat_cover(i));
    CHECK(calibrated_profile(strip_loin(), 5.2_kg).step() == default_step);
}

TEST_CASE("a factor of one's own leaves the mass to the densities") {
    const mass light = tabulate(calibrated_loin<prism_loin>{block(), 0.5}, 1_mm, all_of(1_g_per_cm3)).unrounded_total();
    CHECK_THAT(light / 1_g, WithinRel(220.0, 1e-14)); // half of the block by hand
}

TEST_CASE("a scale weight that is none is refused when the loin is tabulated") {
    const calibrated_loin<prism_loin> bad{block(), 1.0, 0_g};
    CHECK_THAT(message_of([&] { (void)tabulate(bad); }), StartsWith("scale weight: got 0 g"));
}

TEST_CASE("a loin that weighs what its readings say keeps its faces") {
    const mass modelled = tabulate(block(), default_step, all_of(1_g_per_cm3)).unrounded_total();
    const prism_loin loin = [] {
        prism_loin l = block();
        l.shape.fill = 0.9;
        return l;
    }();
    CHECK(modelled / 1_g == Approx(440.0).epsilon(1e-14)); // the block by hand, and sums of 200 cells
    const auto fill_of = [](const prism_loin& model, mass weight) {
        return calibrate(model, weight, default_step, all_of(1_g_per_cm3)).fill();
    };
    CHECK_THAT(fill_of(block(), modelled), WithinRel(1.0, 1e-14));
    CHECK_THAT(fill_of(loin, 400_g), WithinRel(0.9, 1e-14)); // 40 g of tail, and 400 g of the rest if it filled its box
    CHECK_THAT(fill_of(loin, 420_g), WithinRel(0.95, 1e-14));
}

TEST_CASE("a weight that no face could have is refused with the range and the readings to check") {
    // At 1 g/cm³ the block has 40 cm² of face at a fill of 1 and 4 of tail: 440 g. At 0.60 of it, which leaves
    // the tail as it is, 280 g.
    const auto refusal = [](const mass& weight) {
        return message_of([&] { (void)calibrate(block(), weight, default_step, all_of(1_g_per_cm3)); });
    };
    const std::string range = "expected 280 g to 440 g for these measurements (faces that fill 0.60 to 1.00 of width x "
                              "depth); check the scale, then length, widths and depths";
    CHECK(refusal(440_g) == "accepted");
    CHECK(refusal(280.001_g) == "accepted");
    CHECK(refusal(441_g) == "scale weight: got 441 g, " + range);
    CHECK(refusal(279_g) == "scale weight: got 279 g, " + range);
}

TEST_CASE("a weight read in the other unit is recognised") {
    const auto refusal = [](const mass& weight) {
        return message_of([&] { (void)calibrate(block(), weight, default_step, all_of(1_g_per_cm3)); });
    };
    // 400 g is 0.88 lb: entered as 0.88 kg it is too heavy. 400 g entered as 0.4 lb is 181 g, too light.
    CHECK_THAT(refusal(0.88_kg), EndsWith("; was it read in pounds, or a length in inches?"));
    CHECK_THAT(refusal(0.62_kg), EndsWith("; was it read in pounds?"));   // 620 / 2.54 g are too little
    CHECK_THAT(refusal(0.4_lb), EndsWith("; was it read in kilograms?")); // 2.54 times 181.4 g are too much
    CHECK_THAT(refusal(0.37_lb), EndsWith("; was it read in kilograms, or a length in centimetres?"));
    CHECK_THAT(refusal(50_kg), EndsWith("widths and depths"));
    CHECK_THAT(refusal(5_g), EndsWith("widths and depths"));
}

TEST_CASE("a weight is asked about in the other unit only where its digits fit the one it is in") {
    const auto refusal = [](const mass& weight) {
        return message_of([&] { (void)calibrate(block(), weight, default_step, all_of(1_g_per_cm3)); });
    };
    // 1.94 lb are 880 g: too heavy, but in pounds already. 170 g are too light, but in kilograms already.
    CHECK_THAT(refusal(1.94_lb), EndsWith("widths and depths; was a length read in inches?"));
    CHECK_THAT(refusal(31.25_oz), EndsWith("widths and depths; was a length read in inches?"));
    CHECK_THAT(refusal(170_g), EndsWith("widths and depths; was a length read in centimetres?"));
    // A weight that was computed may have been in either.
    CHECK_THAT(refusal(879.987654_g), EndsWith("; was it read in pounds, or a length in inches?"));
    // 2.54 cubed is 16.4.
    CHECK_THAT(refusal(6_kg), EndsWith("; were the lengths read in inches?"));
    CHECK_THAT(refusal(25_g), EndsWith("; were the lengths read in centimetres?"));
}

TEST_CASE("a model without mass is refused") {
    struct nothing {
        [[nodiscard]] static length extent() { return 40_cm; }
        [[nodiscard]] static face face_at(length) { return {}; }
    };
    CHECK(message_of([] { (void)calibrate(nothing{}, 5_kg); }) ==
          "mass of the model: got 0 g, expected a finite value above zero");
    CHECK(message_of([] {
              (void)tabulate(calibrated_loin<nothing>{{}, 1.0, 5_kg});
          }) == "mass of the model: got 0 g, expected a finite value above zero");
}

TEST_CASE("a length read in the other unit is recognised") {
    // 16.5 in of a strip loin written as 16.5 cm, and centimetres written as inches; then every reading.
    const measured_loin right = strip_loin();
    const mass weight = tabulate(right).unrounded_total();
    const auto refusal = [&](const measured_loin& loin) { return message_of([&] { (void)calibrate(loin, weight); }); };
    const auto scaled = [&](double by, bool all) {
        measured_loin loin = right;
        loin.length *= by;
        loin.gluteus_medius.onset *= by;
        for (station& s : loin.stations) {
            s.at *= by;
            if (all) s.width *= by, s.depth *= by, s.fat_cover *= by, s.tail *= by;
        }
        return loin;
    };
    CHECK_THAT(refusal(scaled(1 / 2.54, false)),
               EndsWith("a length in inches?") || EndsWith("was a length read in inches?"));
    CHECK_THAT(refusal(scaled(2.54, false)),
               EndsWith("a length in centimetres?") || EndsWith("was a length read in centimetres?"));
    CHECK_THAT(refusal(scaled(1 / 2.54, true)), EndsWith("; were the lengths read in inches?"));
    CHECK_THAT(refusal(scaled(2.54, true)), EndsWith("; were the lengths read in centimetres?"));
}

TEST_CASE("a refused weight and the limit that it misses never read alike") {
    const auto refused = [](mass weight) -> std::optional<invalid_input> {
        try {
            (void)calibrate(block(), weight, default_step, all_of(1_g_per_cm3));
        } catch (const invalid_input& error) {
            return error;
        }
        return std::nullopt;
    };
    int seen = 0;
    for (const mass& limit : {280_g, 440_g})
        for (double off = 1e-7; off < 1.0; off *= 3.0) {
            const auto error = refused(limit + (limit < 300_g ? -off : off) * 1_g);
            if (!error) continue;
            ++seen;
            INFO(error->what());
            CHECK_FALSE(error->expected().starts_with(error->value() + " to "));
            CHECK_THAT(error->expected(), !ContainsSubstring(" to " + error->value() + " for"));
        }
    CHECK(seen > 20);
}

TEST_CASE("a model of known areas leaves only the density open") {
    // 40 cm × 100 cm² at 1 g/cm³ are 4 kg: 0.90 to 1.15 of that.
    const auto refusal = [](const mass& weight) {
        return message_of([&] { (void)calibrate(traced{}, weight, default_step, all_of(1_g_per_cm3)); });
    };
    CHECK(refusal(3.601_kg) == "accepted");
    CHECK(refusal(4.6_kg) == "accepted");
    CHECK(refusal(3.599_kg) == "scale weight: got 3599 g, expected 3600 g to 4600 g for these measurements (a density "
                               "0.90 to 1.15 times that of the tissues); check the scale, then length and faces");
    CHECK_THAT(refusal(4.601_kg), StartsWith("scale weight: got 4601 g, expected 3600 g to 4600 g"));
}

TEST_CASE("a scale weight that is none is refused") {
    for (const mass& bad : {0_g, -1_kg, mass::from_value(not_a_number), mass::from_value(infinite)})
        CHECK_THAT(message_of([&] { (void)calibrate(strip_loin(), bad); }),
                   StartsWith("scale weight: got ") && EndsWith("expected a finite value above zero"));
}

TEST_CASE("a bad reading is refused before the scale is") {
    measured_loin loin = strip_loin();
    loin.stations[1].width = 0_mm;
    CHECK_THAT(message_of([&] { (void)calibrate(loin, 5_kg); }), StartsWith("stations[1].width: got 0 mm"));
    CHECK_THAT(message_of([&] { (void)calibrate(strip_loin(), 5_kg, 0_mm); }), StartsWith("step: got 0 mm"));
}

TEST_CASE("a factor that is none is refused when the loin is tabulated") {
    for (const double bad : {0.0, -1.0, not_a_number, infinite})
        CHECK_THAT(message_of([&] {
                       (void)tabulate(calibrated_loin<prism_loin>{block(), bad});
                   }),
                   StartsWith("factor: got "));
}

} // namespace calibrated_test
