// That a model which is read in columns gives the table that its faces give one by one.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/loin/profile.hpp>

#include "loin/samples.hpp"

namespace face_columns_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A model of which nothing is known but its faces.
template <loin_model Model>
struct by_faces {
    Model model;

    [[nodiscard]] length extent() const { return model.extent(); }
    [[nodiscard]] face face_at(length at) const { return model.face_at(at); }
    [[nodiscard]] by_faces snapped() const requires detail::can_be_snapped<Model> { return {model.snapped()}; }
};
static_assert(detail::reads_columns<traced_loin>);
static_assert(detail::reads_columns<measured_loin> && !detail::reads_columns<by_faces<measured_loin>>);

class dice {
public:
    [[nodiscard]] double between(double low, double high) {
        return low + (high - low) * static_cast<double>(random_()) / 4294967295.0;
    }
    [[nodiscard]] std::size_t up_to(std::size_t most) { return random_() % (most + 1); }

private:
    std::mt19937 random_{91};
};

taped_readings random_readings(dice& d) {
    return {.width = d.between(18.0, 24.0) * 1_cm,
            .depth = d.between(6.0, 9.0) * 1_cm,
            .fat_cover = d.up_to(3) == 0 ? 0_mm : d.between(2.0, 30.0) * 1_mm,
            .tail = d.up_to(3) == 0 ? 0_mm : d.between(0.0, 50.0) * 1_mm};
}
face_shape random_shape(dice& d) {
    return {.fill = d.up_to(4) == 0 ? 1.0 : d.between(0.45, 1.0), .silverskin = d.between(0.0, 2.0) * 1_mm};
}
measured_loin random_measured(dice& d) {
    measured_loin loin{.length = d.between(12.0, 30.0) * 1_cm, .shape = random_shape(d)};
    // Some readings closer together than a block of cells is long, some at the ends, some on positions.
    const std::size_t stations = 1 + d.up_to(5);
    for (std::size_t i = 0; i < stations; ++i) {
        const taped_readings r = random_readings(d);
        const length at = static_cast<double>(i) * 2_cm + static_cast<double>(d.up_to(40)) * 0.25_mm;
        loin.stations.push_back({at, r.width, r.depth, r.fat_cover, r.tail});
    }
    if (d.up_to(2) > 0) loin.gluteus_medius = {.onset = d.between(0.0, 11.0) * 1_cm, .share_at_end = 0.4};
    return loin;
}

/// One to four faces somewhere along the loin, some with a tail, some without fat over the eye.
traced_loin random_traced(dice& d) {
    std::vector<traced_face> faces;
    for (std::size_t i = 0, count = 1 + d.up_to(3); i < count; ++i) {
        const length width = d.between(15.0, 20.0) * 1_cm, depth = d.between(6.0, 8.0) * 1_cm;
        const length right = 0.8 * width;
        traced_face face{.at = d.between(0.0, 5.0) * 1_cm + 6_cm * static_cast<double>(i),
                         .whole = {{{0_cm, 0_cm}, {width, 0_cm}, {width, 0.5 * depth}, {right, depth}, {0_cm, depth}}}};
        const length top = d.up_to(3) == 0 ? depth : d.between(0.7, 0.95) * depth;
        face.eye = {{{0_cm, 0_cm}, {right, 0_cm}, {right, 0.9 * top}, {0_cm, top}}};
        if (d.up_to(1) == 0) face.tail = outline{{{right, 0_cm}, {width, 0_cm}, {width, 2_cm}, {right, 3_cm}}};
        faces.push_back(face);
    }
    return {d.between(24.0, 30.0) * 1_cm, faces};
}

template <loin_model Model>
void check_columns(const Model& model, length step) {
    // Faces of what tables read: the readings on their grain.
    const profile at_once = tabulate(model, step),
                  one_by_one = tabulate(by_faces<Model>{detail::as_tabulated(model)}, step);
    REQUIRE(at_once == one_by_one);
    REQUIRE(detail::modelled_mass(model, step, densities_at_4_celsius()) == one_by_one.unrounded_total());
}

} // namespace

TEST_CASE("law: a model read in columns is to the last bit what its faces are one by one") {
    dice d;
    for (int round = 0; round < 30; ++round) {
        const length step = d.between(0.4, 3.0) * 1_mm;
        check_columns(
            prism_loin{.length = d.between(5.0, 30.0) * 1_cm, .face = random_readings(d), .shape = random_shape(d)},
            step);
        check_columns(tapered_loin{.length = d.between(5.0, 30.0) * 1_cm,
                                   .rib = random_readings(d),
                                   .sirloin = random_readings(d),
                                   .shape = random_shape(d)},
                      step);
        check_columns(random_measured(d), step);
        if (round % 3 == 0) check_columns(random_traced(d), step);
        check_columns(calibrated_loin<measured_loin>{random_measured(d), d.between(0.9, 1.1)}, step);
        check_columns(
            calibrated_loin<by_faces<tapered_loin>>{
                {{.length = 21_cm, .rib = random_readings(d), .sirloin = random_readings(d), .shape = random_shape(d)}},
                d.between(0.9, 1.1)},
            step);
    }
    check_columns(typical_loin(5.4_kg, beef_strip_loin), 1_mm);
}

TEST_CASE("an area that is none is found wherever it lies in a block of cells") {
    struct fault {
        length at;
        double area;
        [[nodiscard]] length extent() const { return 40_cm; }
        [[nodiscard]] face face_at(length x) const {
            face f;
            f.areas[tissue::eye] = 100_cm2;
            f.areas[tissue::tail] = (x == at ? area : -0.0) * 1_cm2; // a zero with a sign is an area
            return f;
        }
    };
    const profile good = tabulate(fault{-1_m, 0.0}, 1_mm);
    CHECK(good.total(tissue::tail) == micrograms{});
    for (const std::size_t place : std::vector<std::size_t>{0, 1, 255, 256, 257, 512, 799, 800})
        for (const double bad : {-1e-9, not_a_number, infinite}) {
            const length at = place == 800 ? 40_cm : static_cast<double>(place) * 0.5_mm;
            // Middles are half way between two positions, to the last bit.
            const length below = good.position(place / 2);
            const length there = place % 2 == 0 ? below : 0.5 * (below + good.position(place / 2 + 1));
            CAPTURE(place, bad);
            CHECK(std::abs((at - there).value()) < 1e-12);
            CHECK_THAT(message_of([&] {
                           (void)tabulate(fault{there, bad}, 1_mm);
                       }),
                       StartsWith("area of tail on the face at "));
        }
}

} // namespace face_columns_laws
