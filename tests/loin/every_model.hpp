// One loin of every model, for laws that hold whatever the model: written in metric units or in inches and pounds, enlarged, and
// moved. All invented.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/weighed_slices.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/mesh/triangle_mesh.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/quantity.hpp>

#include "loin/mesh_shapes.hpp"

namespace tranche_test {

/// How the same loin is put down.
struct writing {
    double times = 1.0;     ///< all lengths; weights by its cube
    bool customary = false; ///< in inches and pounds
    bool mirrored = false;  ///< tracings from the other side of the paper, elsewhere on it and from another corner on
    bool turned = false;    ///< a scan along another axis, with its origin elsewhere

    /// Whole tenths of a millimetre in the end, so that no rounding of lengths tells units apart.
    [[nodiscard]] tranche::length mm(double millimetres) const {
        const double x = times * millimetres;
        return customary ? x / 25.4 * tranche::inch : x * tranche::millimetre;
    }
    [[nodiscard]] tranche::mass kg(double kilograms) const {
        const double x = times * times * times * kilograms;
        return customary ? x / 0.45359237 * tranche::pound : x * tranche::kilogram;
    }
};

template <class Model>
struct named {
    std::string name;
    Model loin;
};

/// Rib to sirloin: a tail that gets shorter, and a second muscle on the last fifth.
[[nodiscard]] inline tranche::measured_loin taped(const writing& in) {
    const auto station = [&](double at, double width, double depth, double cover, double tail) {
        return tranche::station{.at = in.mm(at),
                                .width = in.mm(width),
                                .depth = in.mm(depth),
                                .fat_cover = in.mm(cover),
                                .tail = in.mm(tail)};
    };
    return {.length = in.mm(420),
            .stations = {station(0, 210, 74, 10, 40), station(200, 197, 69, 9, 25), station(420, 204, 66, 7, 20)},
            .gluteus_medius = {.onset = in.mm(336), .share_at_end = 0.30},
            .shape = {.silverskin = in.mm(1)}};
}

/// Four faces, the second muscle on the last two.
[[nodiscard]] inline tranche::traced_loin traced(const writing& in) {
    const auto placed = [&](tranche::outline curve, tranche::length up) {
        for (tranche::outline_point& p : curve.points) p.up += up;
        if (!in.mirrored) return curve;
        for (tranche::outline_point& p : curve.points) p = {in.mm(331) - p.across, p.up - in.mm(53)};
        std::rotate(curve.points.begin(), curve.points.begin() + 17, curve.points.end());
        return curve;
    };
    std::vector<tranche::traced_face> faces;
    for (const double at : {0.0, 130.0, 270.0, 420.0}) {
        const tranche::length width = in.mm(210.0 - 0.05 * at), depth = in.mm(80.0 - 0.03 * at);
        const auto inside = [&](double left, double share, tranche::length height, double up) {
            return placed(tranche::superellipse(left * width, share * width, height, 2.2), in.mm(up));
        };
        faces.push_back({.at = in.mm(at),
                         .whole = placed(tranche::superellipse({}, width, depth, 2.2), {}),
                         .eye = inside(0.10, 0.50, 0.72 * depth, 8.0),
                         .tail = inside(0.80, 0.15, 0.3 * depth, 24.0)});
        if (at > 200.0) faces.back().gluteus_medius = inside(0.63, 0.08 + 0.0001 * at, in.mm(40), 8.0);
    }
    return {in.mm(420), faces, in.mm(1)};
}

[[nodiscard]] inline tranche::scanned_loin scanned(const writing& in, const tranche::cut_tilt& tilt = {}) {
    triangle_mesh mesh = bumpy_loin(24, 30); // along x, up z
    tranche::scan_readings readings{
        .tilt = tilt,
        .probes = {{.at = in.mm(20), .fat_cover = in.mm(9), .silverskin = in.mm(1), .tail = in.mm(30)},
                   {.at = in.mm(380), .fat_cover = in.mm(6), .silverskin = in.mm(1), .tail = in.mm(20)}},
        .gluteus_medius = {.onset = in.mm(300), .share_at_end = 0.3}};
    for (mesh_point& p : mesh.vertices) {
        const auto scaled = [&](double metres) { return in.mm(1000.0 * metres).value(); };
        p = {scaled(p.x), scaled(p.y), scaled(p.z)};
        // A third of a turn about the diagonal, x to y, y to z, z to x; then half a turn about the new up.
        if (in.turned) p = mesh_point{p.z, -p.x, -p.y} + mesh_point{0.7, -0.2, 0.4};
    }
    if (in.turned) readings.along = tranche::mesh_axis::minus_y, readings.up = tranche::mesh_axis::x;
    return {mesh, readings};
}

[[nodiscard]] inline tranche::typical_loin typical(const writing& in) {
    tranche::loin_proportions kind = tranche::beef_strip_loin;
    const auto larger = [&](tranche::length& size) { size = in.mm(size / tranche::millimetre); };
    kind.weight.value = in.kg(kind.weight.value / tranche::kilogram);
    larger(kind.length.value);
    for (tranche::detail::typical_course* course : {&kind.width, &kind.depth, &kind.fat_cover, &kind.tail}) {
        larger(course->rib);
        larger(course->middle);
        larger(course->sirloin);
    }
    return {in.kg(5.1), kind};
}

/// One loin of every model that the library has, with its name.
[[nodiscard]] inline auto every_model(const writing& in = {}) {
    using namespace tranche;
    const auto readings = [&](double width, double depth, double cover, double tail) {
        return taped_readings{
            .width = in.mm(width), .depth = in.mm(depth), .fat_cover = in.mm(cover), .tail = in.mm(tail)};
    };
    const face_shape shape{.silverskin = in.mm(1)};
    const measured_loin measured = taped(in);
    const traced_loin from_tracings = traced(in);
    const scanned_loin from_scan = scanned(in);
    const mass from_scan_weighs = tabulate(from_scan, in.mm(5)).unrounded_total();
    std::vector<weighed_slice> slices;
    for (const auto& [from, to, kilograms] : {std::tuple{10.0, 40.0, 0.42}, std::tuple{200.0, 230.0, 0.37}})
        slices.push_back(
            {.from = in.mm(from), .to = in.mm(to), .weight = in.kg(kilograms), .standard_deviation = in.kg(0.005)});
    return std::tuple{
        named<prism_loin>{"prism_loin", {.length = in.mm(420), .face = readings(210, 74, 10, 40), .shape = shape}},
        named<tapered_loin>{"tapered_loin",
                            {.length = in.mm(420),
                             .rib = readings(210, 74, 10, 40),
                             .sirloin = readings(200, 66, 7, 20),
                             .shape = shape}},
        named<measured_loin>{"measured_loin", measured}, named<typical_loin>{"typical_loin", typical(in)},
        named<traced_loin>{"traced_loin", from_tracings}, named<scanned_loin>{"scanned_loin", from_scan},
        named<scanned_loin>{"scanned_loin at a slant",
                            scanned(in, {.about_vertical = 8.0 * degree, .about_transverse = 5.0 * degree})},
        named<slanted_loin<measured_loin>>{
            "slanted_loin", {measured, {.about_vertical = 12.0 * degree, .about_transverse = -5.0 * degree}}},
        // A knife that leans towards the flank leans the other way on the other side of the paper.
        named<slanted_loin<traced_loin>>{
            "slanted_loin of tracings",
            {from_tracings, {.about_vertical = (in.mirrored ? -8.0 : 8.0) * degree, .about_transverse = 5.0 * degree}}},
        named<calibrated_loin<measured_loin>>{"calibrated_loin", calibrate(measured, in.kg(5.4), in.mm(5))},
        named<calibrated_loin<traced_loin>>{"calibrated_loin of tracings",
                                            calibrate(from_tracings, in.kg(5.1), in.mm(5))},
        named<calibrated_loin<scanned_loin>>{"calibrated_loin of a scan",
                                             calibrate(from_scan, 0.97 * from_scan_weighs, in.mm(5))},
        named<slice_calibrated_loin<measured_loin>>{
            "slice_calibrated_loin", calibrate_by_slices(measured, in.kg(5.4), slices, {}, {.step = in.mm(5)}).loin}};
}

/// The same, made once.
[[nodiscard]] inline const auto& models_as_they_are() {
    static const auto models = every_model();
    return models;
}

/// Calls f(name, model) for each.
template <class Models, class F>
void for_each_model(const Models& models, F&& f) {
    std::apply([&](const auto&... m) { (f(m.name, m.loin), ...); }, models);
}

} // namespace tranche_test
