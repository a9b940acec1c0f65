// What a scan's readings divide its sections into, against Boost.Geometry, its own outlines, and slanted cuts by quadrature.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <vector>

#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized" // g++ 12 raises it from inside Boost.Geometry 1.74
#endif
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/literals.hpp>

#include "loin/mesh_shapes.hpp"
#include "loin/seen_areas.hpp"
#include "support/catch.hpp"

namespace scanned_loin_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

namespace bg = boost::geometry;
using point = bg::model::d2::point_xy<double>;
using region = bg::model::multi_polygon<bg::model::polygon<point, false>>;

/// In centimetres.
region flat(const std::vector<outline>& outlines) {
    region result;
    for (const outline& curve : outlines) {
        result.emplace_back();
        for (const auto& p : curve.points) bg::append(result.back().outer(), point(p.across / 1_cm, p.up / 1_cm));
        result.back().inners().resize(curve.holes.size());
        for (std::size_t h = 0; h < curve.holes.size(); ++h)
            for (const auto& p : curve.holes[h])
                bg::append(result.back().inners()[h], point(p.across / 1_cm, p.up / 1_cm));
    }
    bg::correct(result);
    return result;
}

/// A loin that tapers and is round all about, so that a place has its surface straight above just once. Invented.
triangle_mesh round_loin(dice& d) {
    triangle_mesh mesh = frustum(8 + d.below(40), 1.0, d.between(0.6, 1.2), 0.4);
    const double width = d.between(0.06, 0.10), depth = d.between(0.025, 0.045), turned = d.between(0.0, 1.0);
    for (mesh_point& p : mesh.vertices)
        p = {p.z, width * (std::cos(turned) * p.x - std::sin(turned) * p.y),
             depth * (std::sin(turned) * p.x + std::cos(turned) * p.y)};
    return mesh;
}

cut_tilt some_tilt(dice& d, int trial) {
    return trial % 3 == 0 ? cut_tilt{}
                          : cut_tilt{.about_vertical = d.between(-25, 25) * degree,
                                     .about_transverse = (trial % 3 == 1 ? 0.0 : d.between(-25, 25)) * degree};
}

} // namespace

TEST_CASE("scanned_loin: what lies deep enough is the body common to the loin and the loin lowered") {
    dice d(20240701);
    for (int trial = 0; trial < 24; ++trial) {
        const triangle_mesh mesh = round_loin(d);
        const cut_tilt tilt = some_tilt(d, trial);
        // On the grain of 1/16 um that readings are read to.
        const auto grained = [&](double from, double to) {
            return detail::snapped(length::from_value(d.between(from, to))).value();
        };
        const double cover = grained(0.002, 0.012), skin = grained(0.001, 0.003);
        const scanned_loin loin(
            mesh, {.tilt = tilt,
                   .probes = {{.fat_cover = length::from_value(cover), .silverskin = length::from_value(skin)}}});
        // The same loin lowered, not merely the section: with a vertex that counts for the origin of both.
        const detail::cut_frame frame = detail::frame_of(mesh_axis::x, mesh_axis::z, tilt);
        const auto lowered = [&](double by, length at) {
            const mesh_point down{0, 0, -by};
            const mesh_sections sections(moved(mesh, down), frame);
            region cut = flat(sections.outlines_at(at + length::from_value(by * frame.along.z)));
            region shifted;
            bg::transform(cut, shifted,
                          bg::strategy::transform::translate_transformer<double, 2, 2>(
                              100.0 * detail::dot(down, frame.across), 100.0 * detail::dot(down, frame.up)));
            return shifted;
        };
        const mesh_sections sections(mesh, frame);
        for (const double part : {0.3, 0.5, 0.72}) {
            const length at = part * loin.extent();
            const region whole = flat(sections.outlines_at(at));
            region below_fat, lean;
            bg::intersection(whole, lowered(cover, at), below_fat);
            bg::intersection(whole, lowered(cover + skin, at), lean);
            const face f = loin.face_at(at);
            CAPTURE(trial, part);
            // Boost.Geometry rounds what it cuts to some 1e-7 of the size; areas of about 100 cm².
            CHECK_THAT(f.areas[tissue::eye] / 1_cm2, WithinRel(bg::area(lean), 1e-6));
            CHECK_THAT(f.areas[tissue::connective] / 1_cm2, WithinAbs(bg::area(below_fat) - bg::area(lean), 1e-5));
            CHECK_THAT(f.areas[tissue::fat_cover] / 1_cm2, WithinAbs(bg::area(whole) - bg::area(below_fat), 1e-5));
        }
    }
}

TEST_CASE("scanned_loin: a trim leaves what lies within its thickness of the lean, at right angles to it") {
    namespace strategy = bg::strategy::buffer;
    dice d(20240703);
    for (int trial = 0; trial < 12; ++trial) {
        const triangle_mesh mesh = round_loin(d);
        const double cover = d.between(0.4, 1.2);
        const scanned_loin loin(mesh, {.probes = {{.fat_cover = cover * 1_cm}}});
        const length at = d.between(0.2, 0.8) * loin.extent();
        const painted_face painted = loin.painted_at(at);
        REQUIRE(painted.size() == 2);
        const region whole = flat({painted[0].curve}), lean = flat({painted[1].curve});
        // The lean lies in the whole, and on its edge below: differences of areas are safer than areas of differences.
        const double fat = bg::area(whole) - bg::area(lean);
        for (const double part : {0.25, 0.5, 0.75}) {
            region grown, near;
            bg::buffer(lean, grown, strategy::distance_symmetric<double>(part * cover), strategy::side_straight(),
                       strategy::join_round(90), strategy::end_flat(), strategy::point_circle(90));
            bg::intersection(grown, whole, near);
            CAPTURE(trial, part, cover);
            // By the slope alone, without the bends of the lean and the fat beside it: a fiftieth of the fat.
            CHECK_THAT(loin.face_at(at).fat_cover.within(part * cover * 1_cm),
                       WithinAbs((bg::area(near) - bg::area(lean)) / fat, 0.02));
        }
    }
}

TEST_CASE("scanned_loin: what is painted of each tissue has its area on the face") {
    dice d(20240702);
    for (int trial = 0; trial < 24; ++trial) {
        triangle_mesh mesh = bumpy_loin(20 + d.below(60), 20 + d.below(60));
        if (trial % 2 == 1) mesh = together(mesh, moved(ball(0.015, 12, 8), {0.2, 0.01, 0.005}), true); // a hollow
        scan_readings readings{.flank = trial % 4 < 2 ? loin_side::left : loin_side::right,
                               .tilt = some_tilt(d, trial),
                               .probes = {{.at = 50_mm, .fat_cover = 9_mm, .silverskin = 1_mm, .tail = 20_mm},
                                          {.at = 350_mm, .fat_cover = 6_mm, .silverskin = 0.5_mm, .tail = 12_mm}},
                               .gluteus_medius = {.onset = 200_mm, .share_at_end = 0.5}};
        if (trial % 5 == 0) readings.probes = {{}};
        const scanned_loin loin(mesh, readings);
        for (int k = 0; k <= 20; ++k) {
            const length at = loin.extent() * (k / 20.0);
            const face f = loin.face_at(at);
            const by_tissue<double> seen = seen_areas(loin.painted_at(at));
            CAPTURE(trial, k);
            // Rounding of a hundred columns, and of the section's area at a slope of some 1 / sin 25°: 1.4e-14 at most.
            for (const tissue t : all_tissues) CHECK_THAT(seen[t], WithinAbs(f.areas[t].value(), 2e-14));
        }
    }
}

TEST_CASE("scanned_loin: a leaned knife divides the same meat into the same tissues") {
    const triangle_mesh mesh = bumpy_loin(40, 40);
    scan_readings readings{.probes = {{.fat_cover = 8_mm, .silverskin = 1_mm}}};
    const profile straight = tabulate(scanned_loin(mesh, readings), 1_mm);
    readings.tilt = {.about_transverse = 20.0 * degree};
    const profile leaned = tabulate(scanned_loin(mesh, readings), 1_mm);
    for (const tissue t : {tissue::fat_cover, tissue::connective, tissue::eye})
        // By Simpson's rule over kinks at 40 rings of vertices and both ends: second order in a millimetre over a ring of
        // 10 mm, a part in a thousand at most.
        CHECK_THAT(to_mass(leaned.total(t)) / to_mass(straight.total(t)), WithinRel(1.0, 2e-3));
}

TEST_CASE("scanned_loin: a slanted cut by quadrature of its outlines is the section of the mesh") {
    const triangle_mesh mesh = bumpy_loin(40, 30);
    scan_readings readings{.probes = {{.fat_cover = 8_mm}}};
    const cut_tilt tilt{.about_vertical = 20.0 * degree, .about_transverse = -10.0 * degree};
    const slanted_loin<scanned_loin> by_quadrature(scanned_loin(mesh, readings), tilt);
    readings.tilt = tilt;
    const scanned_loin exact(mesh, readings);
    // Where the first and the last face lie is read off 65 faces, which has an error of second order in 7 mm.
    CHECK_THAT(by_quadrature.extent() / exact.extent(), WithinAbs(1.0, 1e-3));
    for (const double part : {0.35, 0.5, 0.65})
        for (const tissue t : {tissue::eye, tissue::fat_cover}) {
            const double slanted = by_quadrature.face_at(part * by_quadrature.extent()).areas[t] / 1_cm2;
            // 64 strips of 3 mm over bumps of a few per cent: half a per cent, twice that for a layer of fat.
            CHECK_THAT(slanted, WithinRel(exact.face_at(part * exact.extent()).areas[t] / 1_cm2, 0.01));
        }
    for (const double part : {0.1, 0.35, 0.5, 0.65, 0.9}) {
        const by_tissue<double> painted = areas_on_lines(by_quadrature.painted_at(part * by_quadrature.extent()), 1000);
        const face expected = exact.face_at(part * exact.extent());
        for (const tissue t : {tissue::eye, tissue::fat_cover})
            // Outlines at places 1.6 mm apart; half a per cent of the face is a fifth of a millimetre of fat.
            CHECK_THAT(painted[t], WithinAbs(expected.areas[t].value(), 0.005 * expected.areas.sum().value()));
    }
}

} // namespace scanned_loin_oracle
