// Traced faces against closed forms and against the offsets of Boost.Geometry.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized" // g++ 12 raises it from inside Boost.Geometry 1.74
#endif
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/literals.hpp>

#include "loin/seen_areas.hpp"
#include "support/catch.hpp"

namespace traced_loin_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

namespace bg = boost::geometry;
using point = bg::model::d2::point_xy<double>;
using polygon = bg::model::polygon<point>;
using region = bg::model::multi_polygon<polygon>;

using numbers = std::vector<std::pair<double, double>>;

numbers circle(double radius, double x, double y, int corners = 180) {
    numbers points;
    for (int i = 0; i < corners; ++i) {
        const double angle = 6.283185307179586 * i / corners;
        points.emplace_back(x + radius * std::cos(angle), y + radius * std::sin(angle));
    }
    return points;
}

region flat(const numbers& points) {
    polygon p;
    for (const auto& [x, y] : points) bg::append(p.outer(), point(x, y));
    bg::correct(p);
    return {p};
}

/// The area of `fat` within `depth` of `lean`, by offset and intersection. Of chords, 720 a circle, whose polygon has
/// (2 pi / 720)² / 6 = 1.3e-5 of a circle less than it. The oracle rounds corners that it makes to 1e-7 of the face: over sides
/// of some 10 cm, `on_grid` square centimetres.
constexpr double on_grid = 2e-5;
double area_near(const region& fat, const region& lean, double depth) {
    namespace strategy = bg::strategy::buffer;
    region grown, near;
    bg::buffer(lean, grown, strategy::distance_symmetric<double>(depth), strategy::side_straight(),
               strategy::join_round(720), strategy::end_flat(), strategy::point_circle(720));
    bg::intersection(grown, fat, near);
    return bg::area(near);
}

/// An invented face, in centimetres: a lumpy eye under a wedge of fat, a other_muscle muscle at its side and a tail.
struct invented_face {
    numbers whole{{0, 0},      {9, -0.2}, {14, 0.3}, {20, 0.8},   {20.3, 2.4}, {15, 3.1},
                  {13.5, 6.4}, {9, 8.1},  {4, 8.4},  {-0.8, 7.2}, {-1, 2}};
    numbers eye{{0.2, 0.2}, {7.5, 0.1}, {9.5, 1}, {9.8, 4}, {8, 6.2}, {5, 5.8}, {3, 6.5}, {0, 6}, {-0.6, 2.5}};
    numbers other_muscle{{9.7, 0.3}, {13.2, 0.6}, {13.4, 2.2}, {12.6, 5.2}, {10.1, 4.6}, {9.9, 2}};
    numbers tail{{13.6, 0.5}, {19.9, 0.95}, {20.1, 2.3}, {14.9, 2.9}, {13.7, 2.6}};

    [[nodiscard]] traced_face traced(length at) const {
        return {.at = at,
                .whole = outline_from(whole, 1_cm),
                .eye = outline_from(eye, 1_cm),
                .gluteus_medius = outline_from(other_muscle, 1_cm),
                .tail = outline_from(tail, 1_cm)};
    }
};

} // namespace

TEST_CASE("traced_loin: gives the spread of a ring of fat by its closed form") {
    const traced_loin loin(
        20_cm,
        {{.at = 0_cm, .whole = outline_from(circle(5, 0, 0), 1_cm), .eye = outline_from(circle(4, 0, 0), 1_cm)}});
    const face f = loin.face_at(7_cm);
    // Polygons of 180 corners instead of circles: areas are smaller by 2 pi²/(3 180²) = 2e-4 of themselves.
    CHECK_THAT(f.areas[tissue::fat_cover] / 1_cm2, WithinRel(9.0 * 3.14159265358979, 3e-4));
    CHECK_THAT(f.fat_cover.thickness / 1_mm,
               WithinAbs(10.0, 2e-4)); // from corner to corner, to a tenth of a micrometre
    for (std::size_t k = 0; k < 32; k += 5) {
        const double d = even_spread[k]; // within d of the lean: pi ((4 + d)² - 16) of 9 pi
        CHECK_THAT(f.fat_cover.spread[k], WithinAbs((8.0 * d + d * d) / 9.0, 3e-4));
    }
}

TEST_CASE("traced_loin: agrees with offsets of the lean on an uneven cap") {
    const invented_face face_in_cm;
    const traced_loin loin(30_cm, {face_in_cm.traced(10_cm)});
    const face f = loin.face_at(10_cm);
    const region eye = flat(face_in_cm.eye), other_muscle = flat(face_in_cm.other_muscle), tail = flat(face_in_cm.tail);
    region lean, rest, fat;
    bg::union_(eye, other_muscle, lean);
    bg::difference(flat(face_in_cm.whole), lean, rest);
    bg::difference(rest, tail, fat);
    // The pieces neither overlap nor leave the whole, so areas are exact but for rounding.
    CHECK_THAT(f.areas[tissue::eye] / 1_cm2, WithinRel(bg::area(eye), 1e-12));
    CHECK_THAT(f.areas[tissue::gluteus_medius] / 1_cm2, WithinRel(bg::area(other_muscle), 1e-12));
    CHECK_THAT(f.areas[tissue::tail] / 1_cm2, WithinRel(bg::area(tail), 1e-12));
    CHECK_THAT(f.areas[tissue::fat_cover] / 1_cm2, WithinRel(bg::area(fat), 1e-10));
    // Beside the tail, at a corner of the fat: no place of a grid lies deeper.
    double deepest = 0.0;
    for (const polygon& p : fat)
        for (const point& corner : p.outer()) deepest = std::max(deepest, bg::distance(corner, lean));
    for (double x = -1.0; x < 20.3; x += 0.25)
        for (double y = -0.2; y < 8.4; y += 0.25)
            if (bg::within(point(x, y), fat)) CHECK(bg::distance(point(x, y), lean) <= deepest);
    CHECK_THAT(f.fat_cover.thickness / 1_cm, WithinAbs(deepest, on_grid));
    for (std::size_t k = 0; k < 32; ++k) {
        const double d = even_spread[k] * (f.fat_cover.thickness / 1_cm);
        // Corners that jut out turn by two circles in all, and the oracle's circles are too small.
        CHECK_THAT(f.fat_cover.spread[k] * bg::area(fat),
                   WithinAbs(area_near(fat, lean, d), 1.3e-5 * 2.0 * 3.1416 * d * d + on_grid));
    }
}

TEST_CASE("traced_loin: cuts the tail straight across at a length from the eye") {
    const invented_face face_in_cm;
    const traced_loin loin(30_cm, {face_in_cm.traced(10_cm)});
    const layer tail = loin.face_at(10_cm).tail;
    CHECK_THAT(tail.thickness / 1_cm, WithinRel(20.1 - 9.8, 1e-12));
    // Seen from the other side of the paper, the chine lies where the flank was.
    invented_face turned = face_in_cm;
    for (numbers* curve : {&turned.whole, &turned.eye, &turned.other_muscle, &turned.tail})
        for (auto& [x, y] : *curve) x = -x;
    const layer other_side = traced_loin(30_cm, {turned.traced(10_cm)}).face_at(10_cm).tail;
    for (std::size_t k = 0; k < 32; ++k) {
        const double end = 9.8 + even_spread[k] * (20.1 - 9.8);
        region left;
        bg::intersection(flat(face_in_cm.tail), flat({{0, -5}, {end, -5}, {end, 5}, {0, 5}}), left);
        CHECK_THAT(tail.spread[k],
                   WithinAbs(bg::area(left) / bg::area(flat(face_in_cm.tail)), on_grid / 11.0)); // cm2 of tail
        CHECK_THAT(other_side.spread[k], WithinAbs(tail.spread[k], 1e-12));
    }
}

TEST_CASE("traced_loin: takes the silverskin out of the fat next to the lean") {
    const std::vector<traced_face> faces{
        {.at = 0_cm, .whole = outline_from(circle(5, 0, 0), 1_cm), .eye = outline_from(circle(4, 0, 0), 1_cm)}};
    const face bare = traced_loin(20_cm, faces).face_at(0_cm), skinned = traced_loin(20_cm, faces, 1_mm).face_at(0_cm);
    CHECK_THAT((skinned.areas[tissue::connective] + skinned.areas[tissue::fat_cover]) / bare.areas[tissue::fat_cover],
               WithinRel(1.0, 1e-12));
    // A ring from 40 to 41 mm: pi (41² - 40²) mm². Around a polygon of n corners in a circle of radius r the band of width s
    // is 2 n r sin(pi / n) s + pi s². Corners are read to 1/65536 um, so 8 pm off: a part in 10^8 of the band's millimetre at
    // most.
    const double pi = 3.14159265358979;
    CHECK_THAT(skinned.areas[tissue::connective] / 1_mm / 1_mm,
               WithinRel(360.0 * 40.0 * std::sin(pi / 180.0) + pi, 1e-8));
    // The fat that is left is 9 mm thick, and within d of the silverskin lies (41 + d)² - 41² of 50² - 41², but for corners.
    CHECK_THAT(skinned.fat_cover.thickness / 1_mm, WithinAbs(9.0, 2e-4));
    for (std::size_t k = 0; k < 32; k += 5) {
        const double d = 9.0 * even_spread[k];
        CHECK_THAT(skinned.fat_cover.spread[k], WithinAbs((82.0 * d + d * d) / 819.0, 3e-4));
    }
    CHECK(skinned.fat_cover.within(9.1_mm) == 1.0);
}

TEST_CASE("traced_loin: paints the silverskin as a band of its thickness around the lean") {
    const traced_loin loin(
        20_cm, {{.at = 0_cm, .whole = outline_from(circle(5, 0, 0), 1_cm), .eye = outline_from(circle(4, 0, 0), 1_cm)}},
        2_mm);
    const painted_face painted = loin.painted_at(7_cm);
    const auto band = std::find_if(painted.begin(), painted.end(),
                                   [](const painted_outline& p) { return p.fill == tissue::connective; });
    REQUIRE(band != painted.end());
    REQUIRE(painted.size() == 3); // fat, one band, eye
    const detail::flat_region edge(band->curve), eye(painted.back().curve);
    // Every corner lies on the curve: those of sides that are moved, and those of arcs.
    for (const outline_point& p : band->curve.points)
        CHECK_THAT(1e3 * eye.distance_to_edge({p.across.value(), p.up.value()}), WithinAbs(2.0, 1e-6));
    CHECK_THAT(area_of(band->curve) / 1_mm / 1_mm, WithinRel(3.14159265 * 42.0 * 42.0, 3e-4)); // 2 pi² / (3 180²)
    const by_tissue<double> seen = seen_areas(painted);
    const face f = loin.face_at(7_cm);
    // Arcs of 2 degrees are painted as chords: 180 times 2² (pi / 90 - sin(pi / 90)) / 2 mm² less.
    for (const tissue t : all_tissues)
        CHECK_THAT(seen[t], WithinAbs(f.areas[t].value(), 360e-6 * (0.034906585 - std::sin(0.034906585)) + 1e-12));
}

TEST_CASE("traced_loin: of a tight face the silverskin is what offsets of the lean have of the fat") {
    // The eye comes within 1 mm of the edge of the face, and eye, second muscle and tail within 1 to 2 mm of each other.
    const invented_face face_in_cm;
    const region eye = flat(face_in_cm.eye), other_muscle = flat(face_in_cm.other_muscle), tail = flat(face_in_cm.tail);
    region lean, rest, fat;
    bg::union_(eye, other_muscle, lean);
    bg::difference(flat(face_in_cm.whole), lean, rest);
    bg::difference(rest, tail, fat);
    for (const double thick : {0.5, 1.0, 2.5, 4.0}) {
        const traced_loin loin(30_cm, {face_in_cm.traced(10_cm)}, thick * 1_mm);
        const face f = loin.face_at(10_cm);
        CAPTURE(thick);
        // Corners that jut out turn by two circles in all, and the oracle's circles are too small.
        const double corners = 2.0 * 3.14159265 * thick * thick / 100.0;
        CHECK_THAT(f.areas[tissue::connective] / 1_cm2,
                   WithinAbs(area_near(fat, lean, thick / 10.0), 1.3e-5 * corners + on_grid));
        // 4000 lines 0.05 mm apart, wrong next to corners only: some dozen steps of a few mm.
        const by_tissue<double> seen = areas_on_lines(loin.painted_at(10_cm));
        for (const tissue t : all_tissues) CHECK_THAT(seen[t] / 1e-4, WithinAbs(f.areas[t] / 1_cm2, 0.01));
    }
}

TEST_CASE("traced_loin: lines the holes of the lean with silverskin, and fills small ones") {
    const auto with_hole = [](double radius) {
        outline eye = outline_from(circle(4, 0, 0, 60), 1_cm, {circle(radius, 1, 1, 60)});
        return traced_loin(20_cm, {{.at = 0_cm, .whole = outline_from(circle(5, 0, 0, 60), 1_cm), .eye = eye}}, 2_mm)
                   .face_at(0_cm)
                   .areas[tissue::connective] /
               1_mm / 1_mm;
    };
    const double around = traced_loin(20_cm,
                                      {{.at = 0_cm,
                                        .whole = outline_from(circle(5, 0, 0, 60), 1_cm),
                                        .eye = outline_from(circle(4, 0, 0, 60), 1_cm)}},
                                      2_mm)
                              .face_at(0_cm)
                              .areas[tissue::connective] /
                          1_mm / 1_mm;
    // From 8 to 10 mm around the middle of the hole, a polygon whose sides lie 10 cos(pi / 60) mm from there; and all of it.
    const auto polygon_of = [](double radius) { return 30.0 * std::sin(3.14159265358979 / 30.0) * radius * radius; };
    const double inner = 10.0 - 2.0 / std::cos(3.14159265358979 / 60.0);
    CHECK_THAT(with_hole(1.0) - around, WithinRel(polygon_of(10.0) - polygon_of(inner), 1e-9));
    CHECK_THAT(with_hole(0.15) - around, WithinRel(polygon_of(1.5), 1e-9));
}

TEST_CASE("traced_loin: is exact at traced faces and never overshoots between them") {
    invented_face rib;
    invented_face middle = rib;
    for (auto* curve : {&middle.whole, &middle.eye, &middle.other_muscle, &middle.tail})
        for (auto& [x, y] : *curve) y *= 0.9;
    const traced_face plain{.at = 0_cm,
                            .whole = outline_from(rib.whole, 1_cm),
                            .eye = outline_from(rib.eye, 1_cm),
                            .tail = outline_from(rib.tail, 1_cm)};
    const traced_loin loin(40_cm, {plain, middle.traced(25_cm), rib.traced(38_cm)});
    for (const tissue t : {tissue::eye, tissue::gluteus_medius, tissue::tail}) {
        const auto at = [&](double x) { return loin.face_at(x * 1_cm).areas[t] / 1_cm2; };
        CHECK_THAT(at(25), WithinRel(area_of(outline_from(t == tissue::eye    ? middle.eye
                                                          : t == tissue::tail ? middle.tail
                                                                              : middle.other_muscle,
                                                          1_cm)) /
                                         1_cm2,
                                     1e-12));
        for (double x = 0.0; x < 40.0; x += 0.37) {
            const double low = std::min({at(0), at(25), at(38)}), high = std::max({at(0), at(25), at(38)});
            CHECK(at(x) >= low * (1 - 1e-12));
            CHECK(at(x) <= high * (1 + 1e-12));
        }
    }
    const profile meat = tabulate(loin, 1_mm);
    CHECK_FALSE(meat.layers_are_even());
    CHECK(meat.gluteus_medius_share(0) == 0.0);
    CHECK(meat.total() > micrograms{});
    CHECK(loin.face_at(39_cm).areas[tissue::eye] == loin.face_at(38_cm).areas[tissue::eye]);
}

TEST_CASE("traced_loin: has the size of its traced faces, and sizes in between them") {
    const invented_face one; // from -1 to 20.3 across and -0.2 to 8.4 up
    invented_face other = one;
    for (numbers* curve : {&other.whole, &other.eye, &other.other_muscle, &other.tail})
        for (auto& [x, y] : *curve) x *= 0.8, y *= 0.5;
    const traced_loin loin(30_cm, {one.traced(0_cm), other.traced(30_cm)});
    const auto size = [&](length at, double width, double depth) {
        const face f = loin.face_at(at);
        CHECK_THAT(f.width / 1_cm, WithinRel(width, 1e-14)); // sums and products of a few digits
        CHECK_THAT(f.depth / 1_cm, WithinRel(depth, 1e-14));
    };
    size(0_cm, 21.3, 8.6);
    size(30_cm, 17.04, 4.3);
    size(15_cm, 19.17, 6.45); // two faces: a straight line
}

TEST_CASE("traced_loin: is as exact on a tall face as on a broad one, and where all of the fat is as deep") {
    // 5 cm broad and 99 high, with 1 cm of fat all around: the deepest places are its corners.
    const numbers whole{{0, 0}, {5, 0}, {5, 99}, {0, 99}}, eye{{1, 1}, {4, 1}, {4, 98}, {1, 98}};
    const auto read = [](const numbers& all, const numbers& lean) {
        return traced_loin(20_cm, {{.at = 0_cm, .whole = outline_from(all, 1_cm), .eye = outline_from(lean, 1_cm)}})
            .face_at(0_cm)
            .fat_cover;
    };
    const layer tall = read(whole, eye);
    CHECK_THAT(tall.thickness / 1_cm, WithinRel(std::sqrt(2.0), 1e-7));
    region fat;
    bg::difference(flat(whole), flat(eye), fat);
    for (std::size_t k = 0; k < 32; ++k) {
        const double d = even_spread[k] * (tall.thickness / 1_cm);
        CHECK_THAT(tall.spread[k] * bg::area(fat),
                   WithinAbs(area_near(fat, flat(eye), d), 1.3e-5 * 3.1416 * d * d + on_grid));
    }
    // A cap of 1 cm on top of the eye has no deepest place, and is even.
    const layer cap = read({{0, 0}, {20, 0}, {20, 8}, {0, 8}}, {{0, 0}, {20, 0}, {20, 7}, {0, 7}});
    CHECK_THAT(cap.thickness / 1_cm, WithinRel(1.0, 1e-12));
    for (std::size_t k = 0; k < 32; ++k) CHECK_THAT(cap.spread[k], WithinAbs(even_spread[k], 1e-12));
}

TEST_CASE("traced_loin: finds the deepest fat on a ridge between two parts of the lean") {
    // All of the fat is a seam of 6 mm between two muscles, flush with the face around them: no place lies further than 3 mm.
    const auto box = [](double left, double right) {
        return outline_from({{left, 0}, {right, 0}, {right, 60}, {left, 60}}, 1_mm);
    };
    const traced_loin loin(20_cm,
                           {{.at = 0_cm, .whole = box(0, 126), .eye = box(0, 90), .gluteus_medius = box(96, 126)}});
    const layer seam = loin.face_at(0_cm).fat_cover;
    CHECK(seam.thickness / 1_mm >= 3.0 - 1e-9);
    CHECK(seam.thickness / 1_mm <= 3.05); // cut into at most 2000 columns
    CHECK_THAT(seam.within(1.5_mm), WithinAbs(0.5, 0.01));
}

TEST_CASE("traced_loin: spreads rise between faces whatever was traced") {
    // Invented: thin, then thick caps, in steps and flush with one side, with a tail on some.
    const auto box = [](double left, double bottom, double right, double top) {
        return outline_from({{left, bottom}, {right, bottom}, {right, top}, {left, top}}, 1_mm);
    };
    const auto traced = [&](length at, double cap, bool tail) {
        traced_face f{.at = at, .whole = box(0, 0, 200, 80), .eye = box(0, 0, 150, 80 - cap)};
        if (tail) f.tail = box(150.01, 0, 190, 80);
        return f;
    };
    const traced_loin loin(40_cm, {traced(0_cm, 4, true), traced(20_cm, 12, true), traced(40_cm, 30, false)});
    for (int i = 0; i <= 80; ++i) {
        const face f = loin.face_at(5.0 * i * 1_mm);
        for (const layer& l : {f.fat_cover, f.tail}) {
            REQUIRE(std::is_sorted(l.spread.begin(), l.spread.end()));
            REQUIRE(l.spread.back() == 1.0);
        }
    }
}

TEST_CASE("traced_loin: names face and outline of a bad input") {
    const invented_face good;
    CHECK_THROWS_WITH(traced_loin(30_cm, {}), StartsWith("faces: got none"));
    CHECK_THROWS_WITH(traced_loin(0_cm, {good.traced(0_cm)}), StartsWith("length: got 0 mm"));
    CHECK_THROWS_WITH(traced_loin(30_cm, {good.traced(31_cm)}), StartsWith("faces[0].at: got 310 mm"));
    CHECK_THROWS_WITH(traced_loin(30_cm, {good.traced(5_cm), good.traced(5_cm)}), StartsWith("faces[1].at: got 50 mm"));
    CHECK_THROWS_WITH(traced_loin(30_cm, {good.traced(0_cm)}, 51_mm),
                      Equals("silverskin: got 51 mm, expected at most 50 mm"));
    CHECK_NOTHROW(traced_loin(12_in, {good.traced(1_ft)})); // 12 in is less than 1 ft in the last bit
    invented_face bad = good;
    bad.eye[0] = {30, 30};
    CHECK_THROWS_WITH(traced_loin(30_cm, {good.traced(0_cm), bad.traced(9_cm)}), StartsWith("faces[1].eye: got"));
    bad = good;
    for (auto& [x, y] : bad.other_muscle) x -= 3;
    CHECK_THROWS_WITH(traced_loin(30_cm, {bad.traced(0_cm)}),
                      StartsWith("faces[0].gluteus_medius: got an outline with") &&
                          ContainsSubstring("clear of the other tissues"));
    bad = good;
    for (auto& [x, y] : bad.tail) x += 1;
    CHECK_THROWS_WITH(traced_loin(30_cm, {bad.traced(0_cm)}), StartsWith("faces[0].tail: got an outline with"));
}

} // namespace traced_loin_oracle
