// Noise in the last digits of any reading of any model changes no table.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/slice_calibrated.hpp>
#include <tranche/loin/calibration/weighed_slices.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/literals.hpp>

#include "loin/mesh_shapes.hpp"

namespace noise_laws {

using namespace tranche;
using namespace tranche::literals;
using tranche_test::bumpy_loin;
using tranche_test::dice;

namespace {

/// Goes through the readings of a loin as they are made, and makes noise in one of them, in all, or in none.
class noise {
public:
    static constexpr std::size_t all = static_cast<std::size_t>(-1), none = all - 1;

    noise(std::size_t which, std::uint64_t seed) : which_(which), dice_(seed) {}

    /// Up to so many parts in 10^15, four or five units in the last place.
    template <class Number>
    Number operator()(Number reading, const char* name) {
        const double part = 1e-15 * dice_.between(-1.0, 1.0);
        const std::size_t number = count_++;
        if (number == which_) field_ = name;
        return which_ == all || which_ == number ? reading * (1.0 + part) : reading;
    }
    [[nodiscard]] std::size_t count() const { return count_; }
    [[nodiscard]] const std::string& field() const { return field_; }

private:
    std::size_t which_, count_ = 0;
    dice dice_;
    std::string field_{};
};

/// The table of make(noise), whatever the noise: in all readings at once, or where there are few, in one after the other.
template <class Make>
void no_noise_is_heard(const Make& make) {
    noise quiet(noise::none, 1);
    const profile meat = make(quiet);
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        noise loud(noise::all, seed);
        CHECK(make(loud) == meat);
    }
    for (std::size_t i = 0; i < quiet.count() && quiet.count() < 60; ++i) {
        noise one(i, 10 + i);
        const profile other = make(one);
        CAPTURE(i, one.field());
        CHECK(other == meat);
    }
}

constexpr length coarse = 8_mm;

face_shape shape(noise& heard, double fill = 0.8) {
    return {
        .fill = heard(fill, "fill"), .tail_depth = heard(0.4, "tail depth"), .silverskin = heard(1_mm, "silverskin")};
}
taped_readings readings(noise& heard, double size = 1.0) {
    return {.width = heard(size * 201_mm, "width"),
            .depth = heard(size * 73_mm, "depth"),
            .fat_cover = heard(size * 9_mm, "fat cover"),
            .tail = heard(size * 37_mm, "tail")};
}
measured_loin measured(noise& heard) {
    measured_loin loin{.length = heard(413_mm, "length")};
    for (const double part : {0.0, 0.4, 1.0}) {
        const taped_readings r = readings(heard, 1.0 - 0.1 * part);
        loin.stations.push_back({.at = heard(part * 413_mm, "station"),
                                 .width = r.width,
                                 .depth = r.depth,
                                 .fat_cover = r.fat_cover,
                                 .tail = r.tail});
    }
    loin.gluteus_medius = {heard(307_mm, "onset"), heard(0.3, "share at end")};
    loin.shape = shape(heard);
    return loin;
}
outline oval(noise& heard, length left, length wide, length low, length high) {
    outline curve = superellipse(left, wide, high - low, 2.3);
    for (outline_point& p : curve.points) p = {heard(p.across, "corner, across"), heard(low + p.up, "corner, up")};
    return curve;
}
traced_loin traced(noise& heard) {
    std::vector<traced_face> faces;
    for (const double part : {0.0, 0.7}) {
        const double size = 1.0 - 0.1 * part;
        faces.push_back({.at = heard(part * 413_mm, "face"),
                         .whole = oval(heard, {}, size * 201_mm, {}, size * 73_mm),
                         .eye = oval(heard, size * 20_mm, size * 110_mm, 5_mm, size * 60_mm),
                         .tail = oval(heard, size * 160_mm, size * 38_mm, size * 26_mm, size * 45_mm)});
    }
    const length silverskin = heard(1_mm, "silverskin");
    return {heard(413_mm, "length"), faces, silverskin};
}
cut_tilt tilt(noise& heard) {
    return {.about_vertical = heard(7.3 * degree, "tilt about vertical"),
            .about_transverse = heard(-4.1 * degree, "tilt about transverse")};
}
scanned_loin scanned(noise& heard, const cut_tilt& knife) {
    triangle_mesh mesh = bumpy_loin(10, 12);
    for (mesh_point& p : mesh.vertices) p = {heard(p.x, "vertex"), heard(p.y, "vertex"), heard(p.z, "vertex")};
    scan_readings read{.tilt = knife};
    for (const length& at : {20_mm, 350_mm})
        read.probes.push_back({.at = heard(at, "probe"),
                               .fat_cover = heard(8_mm, "fat cover"),
                               .silverskin = heard(1_mm, "silverskin"),
                               .tail = heard(25_mm, "tail")});
    read.gluteus_medius = {heard(300_mm, "onset"), heard(0.3, "share at end")};
    return {mesh, read};
}

} // namespace

TEST_CASE("noise in the readings of a prism or a frustum changes no table") {
    no_noise_is_heard([](noise& heard) {
        const length extent = heard(413_mm, "length");
        const taped_readings face = readings(heard);
        return tabulate(prism_loin{.length = extent, .face = face, .shape = shape(heard)}, coarse);
    });
    no_noise_is_heard([](noise& heard) {
        const length extent = heard(413_mm, "length");
        const taped_readings rib = readings(heard), sirloin = readings(heard, 0.9);
        return tabulate(tapered_loin{.length = extent, .rib = rib, .sirloin = sirloin, .shape = shape(heard)}, coarse);
    });
}

TEST_CASE("noise in the readings of a taped loin changes no table") {
    no_noise_is_heard([](noise& heard) { return tabulate(measured(heard), coarse); });
}

TEST_CASE("noise in the step or a density changes no table") {
    no_noise_is_heard([](noise& heard) {
        noise quiet(noise::none, 1);
        const length step = heard(coarse, "step");
        tissue_densities dense = densities_at_4_celsius();
        for (density& d : dense.values) d = heard(d, "density");
        return tabulate(measured(quiet), step, dense);
    });
}

TEST_CASE("noise in what a typical loin is made of changes no table") {
    no_noise_is_heard([](noise& heard) {
        loin_proportions kind = beef_strip_loin;
        const mass weight = heard(5.3_kg, "weight");
        kind.weight.value = heard(kind.weight.value, "weight of the kind");
        kind.length_exponent.value = heard(kind.length_exponent.value, "length exponent");
        kind.length.value = heard(kind.length.value, "length");
        for (detail::typical_course* course : {&kind.width, &kind.depth, &kind.fat_cover, &kind.tail})
            for (length detail::typical_course::*place :
                 {&detail::typical_course::rib, &detail::typical_course::middle, &detail::typical_course::sirloin})
                course->*place = heard(course->*place, "a reading");
        kind.gluteus_medius_onset.value = heard(kind.gluteus_medius_onset.value, "onset");
        kind.gluteus_medius_share_at_end.value = heard(kind.gluteus_medius_share_at_end.value, "share at end");
        kind.fill.value = heard(kind.fill.value, "fill");
        return tabulate(typical_loin(weight, kind), coarse);
    });
}

TEST_CASE("noise in tracings changes no table") {
    no_noise_is_heard([](noise& heard) { return tabulate(traced(heard), coarse); });
}

TEST_CASE("noise in a scan changes no table, under a straight knife or a tilted one") {
    no_noise_is_heard([](noise& heard) { return tabulate(scanned(heard, {}), coarse); });
    no_noise_is_heard([](noise& heard) {
        const cut_tilt knife = tilt(heard);
        return tabulate(scanned(heard, knife), coarse);
    });
}

TEST_CASE("noise in the tilt of a knife changes no table") {
    no_noise_is_heard([](noise& heard) {
        noise quiet(noise::none, 1);
        const cut_tilt knife = tilt(heard);
        return tabulate(slanted_loin(measured(quiet), knife, loin_side::left), coarse);
    });
}

TEST_CASE("noise in the scale or in what is calibrated changes no table") {
    no_noise_is_heard([](noise& heard) {
        const measured_loin loin = measured(heard);
        return tabulate(calibrate(loin, heard(4.7_kg, "scale weight"), coarse), coarse);
    });
    no_noise_is_heard([](noise& heard) {
        const measured_loin loin = measured(heard);
        return calibrated_profile(loin, heard(4.7_kg, "scale weight"), {.step = coarse});
    });
    no_noise_is_heard([](noise& heard) {
        const traced_loin loin = traced(heard);
        return tabulate(calibrate(loin, heard(4.7_kg, "scale weight"), coarse), coarse);
    });
}

TEST_CASE("noise in a factor of one's own, or in a weight, changes no table") {
    noise quiet(noise::none, 1);
    const measured_loin taped = measured(quiet);
    const traced_loin drawn = traced(quiet);
    no_noise_is_heard([&](noise& heard) {
        return tabulate(calibrated_loin<traced_loin>{drawn, heard(1.037, "factor")}, coarse);
    });
    no_noise_is_heard([&](noise& heard) {
        return tabulate(calibrated_loin<measured_loin>{taped, heard(0.96, "factor"), heard(4.7_kg, "scale weight")},
                        coarse);
    });
    const auto factors = [](noise& heard) {
        std::vector<double> along;
        for (const double f : {1.03, 0.98, 1.01}) along.push_back(heard(f, "factor"));
        return along;
    };
    no_noise_is_heard([&](noise& heard) {
        return tabulate(slice_calibrated_loin<measured_loin>{taped, factors(heard)}, coarse);
    });
    no_noise_is_heard([&](noise& heard) {
        const std::vector<double> along = factors(heard);
        return tabulate(slice_calibrated_loin<traced_loin>{drawn, along, heard(4.7_kg, "weight")}, coarse);
    });
}

TEST_CASE("noise in a slice that was weighed changes no table") {
    no_noise_is_heard([](noise& heard) {
        noise quiet(noise::none, 1);
        std::vector<weighed_slice> slices;
        for (const length& from : {20_mm, 210_mm})
            slices.push_back({.from = heard(from, "from"),
                              .to = heard(from + 26_mm, "to"),
                              .weight = heard(290_g, "weight of the slice"),
                              .standard_deviation = heard(5_g, "standard deviation")});
        const mass weight = heard(4.7_kg, "weight of the loin");
        const slice_prior prior{.spread = heard(0.08, "spread"), .reach = heard(0.33, "reach")};
        return tabulate(calibrate_by_slices(measured(quiet), weight, slices, prior, {.step = coarse}).loin, coarse);
    });
}

} // namespace noise_laws
