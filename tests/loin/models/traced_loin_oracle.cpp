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

/// The area of `fat` within `depth` of `lean`, by offset and intersection.
double area_near(const region& fat, const region& lean, double depth) {
    namespace strategy = bg::strategy::buffer;
    region grown, near;
    bg::buffer(lean, grown, strategy::distance_symmetric<double>(depth), strategy::side_straight(),
               strategy::join_round(180), strategy::end_flat(), strategy::point_circle(180));
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
    CHECK_THAT(f.fat_cover.thickness / 1_mm, WithinAbs(10.0, 0.05));
    for (const double d : {0.1, 0.25, 0.5, 0.75, 0.9, 0.99})
        // Within d of the lean: pi ((4 + d)² - 16) of 9 pi. Sampled 0.25 mm apart over 10 mm: within half a sample of the
        // depth, 1.25e-2 of a millimetre in a hundred lines, and a sixteenth squared over eight for the straight pieces.
        CHECK_THAT(f.fat_cover.within(d * 1_cm), WithinAbs((8.0 * d + d * d) / 9.0, 2e-3));
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
    for (const double d : {0.2, 0.4, 0.6, 1.0, 1.5, 2.0, 2.5})
        // 400 lines over 21 cm stand half a millimetre apart; a share is off by no more than the edge of the fat times
        // half a sample over its area, 40 cm × 0.026 cm / 60 cm², and mostly much less.
        CHECK_THAT(f.fat_cover.within(d * 1_cm), WithinAbs(area_near(fat, lean, d) / bg::area(fat), 0.01));
}

TEST_CASE("traced_loin: cuts the tail straight across at a length from the eye") {
    const invented_face face_in_cm;
    const traced_loin loin(30_cm, {face_in_cm.traced(10_cm)});
    const layer tail = loin.face_at(10_cm).tail;
    CHECK_THAT(tail.thickness / 1_cm, WithinAbs(20.1 - 9.8, 0.06)); // from the edge of the eye to the last line
    for (const double kept : {4.5, 6.0, 8.0}) {
        region left;
        bg::intersection(flat(face_in_cm.tail), flat({{0, -5}, {9.8 + kept, -5}, {9.8 + kept, 5}, {0, 5}}), left);
        CHECK_THAT(tail.within(kept * 1_cm), WithinAbs(bg::area(left) / bg::area(flat(face_in_cm.tail)), 0.01));
    }
}

TEST_CASE("traced_loin: takes the silverskin out of the fat next to the lean") {
    const std::vector<traced_face> faces{
        {.at = 0_cm, .whole = outline_from(circle(5, 0, 0), 1_cm), .eye = outline_from(circle(4, 0, 0), 1_cm)}};
    const face bare = traced_loin(20_cm, faces).face_at(0_cm), skinned = traced_loin(20_cm, faces, 1_mm).face_at(0_cm);
    CHECK_THAT((skinned.areas[tissue::connective] + skinned.areas[tissue::fat_cover]) / bare.areas[tissue::fat_cover],
               WithinRel(1.0, 1e-12));
    // A ring from 40 to 41 mm: pi (41² - 40²) mm². Around a polygon of n corners in a circle of radius r the band of width s
    // is 2 n r sin(pi / n) s + pi s², but for arcs made of chords; n = 180 has a perimeter of 1 - pi² / (6 n²) of the circle's.
    CHECK_THAT(skinned.areas[tissue::connective] / 1_mm / 1_mm, WithinRel(3.14159265 * 81.0, 1e-4));
    // The fat that is left is 9 mm thick, and within d of the silverskin lies (41 + d)² - 41² of 50² - 41².
    CHECK_THAT(skinned.fat_cover.thickness / 1_mm, WithinAbs(9.0, 0.05));
    for (const double d : {1.0, 3.0, 6.0})
        CHECK_THAT(skinned.fat_cover.within(d * 1_mm),
                   WithinAbs((82.0 * d + d * d) / 819.0, 5e-3)); // samples of 0.25 mm
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
    for (const tissue t : all_tissues) CHECK_THAT(seen[t], WithinAbs(f.areas[t].value(), 1e-12));
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
        // Corners that jut out turn by two circles in all; chords of 15 degrees fall short of their sectors by 1.1 %, and
        // the oracle's are finer.
        const double corners = 2.0 * 3.14159265 * thick * thick / 100.0;
        CHECK_THAT(f.areas[tissue::connective] / 1_cm2,
                   WithinAbs(area_near(fat, lean, thick / 10.0), 0.012 * corners + 1e-6));
        // 4000 lines 0.05 mm apart, wrong next to corners only: some dozen steps of a few mm.
        const by_tissue<double> seen = areas_on_lines(loin.painted_at(10_cm));
        for (const tissue t : all_tissues) CHECK_THAT(seen[t] / 1e-4, WithinAbs(f.areas[t] / 1_cm2, 0.01));
    }
}

TEST_CASE("traced_loin: lines the holes of the lean with silverskin, and fills small ones") {
    const auto with_hole = [](double radius) {
        outline eye = outline_from(circle(4, 0, 0), 1_cm, {circle(radius, 1, 1)});
        return traced_loin(20_cm, {{.at = 0_cm, .whole = outline_from(circle(5, 0, 0), 1_cm), .eye = eye}}, 2_mm)
                   .face_at(0_cm)
                   .areas[tissue::connective] /
               1_mm / 1_mm;
    };
    const double around =
        traced_loin(
            20_cm,
            {{.at = 0_cm, .whole = outline_from(circle(5, 0, 0), 1_cm), .eye = outline_from(circle(4, 0, 0), 1_cm)}},
            2_mm)
            .face_at(0_cm)
            .areas[tissue::connective] /
        1_mm / 1_mm;
    CHECK_THAT(with_hole(1.0) - around, WithinRel(3.14159265 * (100.0 - 64.0), 1e-3)); // from 8 to 10 mm
    CHECK_THAT(with_hole(0.15) - around, WithinRel(3.14159265 * 2.25, 1e-3));          // all of it
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

TEST_CASE("traced_loin: samples a tall face as finely as a broad one") {
    // 5 cm broad and 99 high, with 1 cm of fat all around.
    const numbers whole{{0, 0}, {5, 0}, {5, 99}, {0, 99}}, eye{{1, 1}, {4, 1}, {4, 98}, {1, 98}};
    const traced_loin loin(20_cm, {{.at = 0_cm, .whole = outline_from(whole, 1_cm), .eye = outline_from(eye, 1_cm)}});
    const face f = loin.face_at(0_cm);
    const region lean = flat(eye);
    region fat;
    bg::difference(flat(whole), lean, fat);
    for (const double d : {0.2, 0.5, 0.8, 1.0})
        // Beside the lean lines stand a hundredth of its depth apart; above and below it, on 10 of 204 cm², samples are a
        // quarter of a centimetre high, and half of that off at most.
        CHECK_THAT(f.fat_cover.within(d * 1_cm), WithinAbs(area_near(fat, lean, d) / bg::area(fat), 0.011));
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
