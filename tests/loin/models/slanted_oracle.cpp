// Slanted cuts against closed forms, and against scans of the same bodies, whose sections are exact.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/units/literals.hpp>

#include "loin/mesh_shapes.hpp"
#include "loin/samples.hpp"
#include "loin/seen_areas.hpp"
#include "support/catch.hpp"

namespace slanted_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr double pi = std::numbers::pi;

cut_tilt tilted(double about_vertical, double about_transverse) {
    return {.about_vertical = about_vertical * degree, .about_transverse = about_transverse * degree};
}
double cosine(const cut_tilt& tilt) {
    return std::cos(tilt.about_vertical.value()) * std::cos(tilt.about_transverse.value());
}

/// A rod of this radius, drawn as the circle that it is: an ellipse has fill pi / 4.
struct round_rod {
    length radius{};

    [[nodiscard]] static length extent() { return 40_cm; }
    [[nodiscard]] face face_at(length /*at*/) const {
        return taped_face({.width = 2.0 * radius, .depth = 2.0 * radius}, {.fill = pi / 4.0}, 0.0);
    }
    [[nodiscard]] painted_face painted_at(length /*at*/) const {
        return {{tissue::eye, superellipse({}, 2.0 * radius, 2.0 * radius, 2.0)}};
    }
};
round_rod rod(length radius) { return {radius}; }

/// Area, and the semi-axes of the ellipse that has the polygon's second moments of area (Green's theorem), in metres.
struct as_ellipse {
    double area = 0.0, longer = 0.0, shorter = 0.0;

    explicit as_ellipse(const outline& curve) {
        const std::vector<outline_point>& p = curve.points;
        double x1 = 0, y1 = 0, xx = 0, yy = 0, xy = 0;
        for (std::size_t i = 0; i < p.size(); ++i) {
            const double x = p[i].across.value(), y = p[i].up.value();
            const double u = p[(i + 1) % p.size()].across.value(), v = p[(i + 1) % p.size()].up.value();
            const double cross = x * v - u * y;
            area += cross / 2;
            x1 += cross * (x + u) / 6;
            y1 += cross * (y + v) / 6;
            xx += cross * (x * x + x * u + u * u) / 12;
            yy += cross * (y * y + y * v + v * v) / 12;
            xy += cross * (x * v + 2 * x * y + 2 * u * v + u * y) / 24;
        }
        xx = xx / area - x1 * x1 / area / area, yy = yy / area - y1 * y1 / area / area;
        xy = xy / area - x1 * y1 / area / area;
        const double mean = (xx + yy) / 2, off = std::hypot((xx - yy) / 2, xy);
        longer = 2.0 * std::sqrt(mean + off), shorter = 2.0 * std::sqrt(mean - off);
    }
};

struct box {
    double left = std::numeric_limits<double>::infinity(), right = -left, low = left, high = right;

    explicit box(const painted_face& painted) {
        for (const painted_outline& o : painted)
            for (const outline_point& p : o.curve.points) {
                left = std::min(left, p.across.value()), right = std::max(right, p.across.value());
                low = std::min(low, p.up.value()), high = std::max(high, p.up.value());
            }
    }
};

/// A cigar on its side whose middle runs 20 mm across and 10 mm down and whose area falls in a straight line from one end to
/// the other, as that of tracings does: as tracings of 128 corners and as a mesh with them.
constexpr std::size_t corners = 128;
traced_loin traced_cone() {
    const auto circle = [](double radius, double x, double y) {
        std::vector<std::pair<double, double>> points;
        for (std::size_t i = 0; i < corners; ++i) {
            const double turn = 2.0 * pi * static_cast<double>(i) / corners;
            points.emplace_back(x + radius * std::cos(turn), y + radius * std::sin(turn));
        }
        return outline_from(points, 1_mm);
    };
    const outline rib = circle(50, 60, 60), sirloin = circle(30, 80, 50);
    return {400_mm, {{.at = 0_mm, .whole = rib, .eye = rib}, {.at = 400_mm, .whole = sirloin, .eye = sirloin}}};
}
triangle_mesh scanned_cone(loin_side flank) {
    const auto circle = [](double x, double radius, double y, double z) {
        auto points = ring(corners, x, [&](double) { return radius; });
        for (mesh_point& p : points) p = {p.z, p.x + y, p.y + z};
        return points;
    };
    std::vector<std::vector<mesh_point>> rings;
    for (int i = 0; i <= 32; ++i) {
        const double t = i / 32.0, square = (1.0 - t) * 0.050 * 0.050 + t * 0.030 * 0.030;
        rings.push_back(circle(0.400 * t, std::sqrt(square), 0.060 + 0.020 * t, 0.060 - 0.010 * t));
    }
    triangle_mesh mesh = tube(rings, {0.0, 0.060, 0.060}, {0.400, 0.080, 0.050});
    if (flank == loin_side::right) {
        for (mesh_point& p : mesh.vertices) p.y = -p.y;
        for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
    }
    return mesh;
}

} // namespace

static_assert(shaped_loin_model<slanted_loin<measured_loin>> && shaped_loin_model<slanted_loin<traced_loin>>);

// Closed form: a plane at an angle cuts a round cylinder in an ellipse of semi-axes r and r / cos θ.
TEST_CASE("slanted_loin: cuts a rod in an ellipse as wide as the rod and longer by one over the cosine") {
    for (const cut_tilt& tilt : {tilted(20, 0), tilted(0, -30), tilted(30, 30), tilted(-12, 25)}) {
        const slanted_loin<round_rod> loin(rod(5_cm), tilt);
        const painted_face painted = loin.painted_at(0.5 * loin.extent());
        REQUIRE(painted.size() == 1);
        CHECK(painted[0].fill == tissue::eye);
        const as_ellipse seen(painted[0].curve);
        // The polygon of 96 corners has 1 - 2 pi² / (3 96²) = 1 - 7.1e-4 of the circle's area, and its moments less by as
        // much again; lines across leave 1e-4.
        CHECK_THAT(seen.area, WithinRel(pi * 0.05 * 0.05 / cosine(tilt), 9e-4));
        CHECK_THAT(seen.shorter, WithinRel(0.05, 9e-4));
        CHECK_THAT(seen.longer, WithinRel(0.05 / cosine(tilt), 9e-4));
    }
}

TEST_CASE("slanted_loin: draws where the knife leaves the rod through its ends") {
    // About the vertical by 30°: half way into the end, u = r sin 30°, the plane meets the end at the middle of the circle,
    // and the face is half the ellipse, cut off upright.
    const slanted_loin<round_rod> loin(rod(5_cm), tilted(30, 0));
    for (const length& at : {0.5 * 5_cm, loin.extent() - 0.5 * 5_cm}) {
        const painted_face painted = loin.painted_at(at);
        REQUIRE(painted.size() == 1);
        const box b(painted);
        CHECK_THAT(as_ellipse(painted[0].curve).area, WithinRel(0.5 * pi * 0.05 * 0.05 / std::cos(pi / 6), 2e-3));
        CHECK_THAT(b.high - b.low, WithinRel(0.10, 1e-3));
        CHECK_THAT(b.right - b.left, WithinRel(0.05 / std::cos(pi / 6), 2e-3));
    }
    CHECK(loin.painted_at(0_mm).empty());
    CHECK(loin.painted_at(loin.extent()).empty());
}

TEST_CASE("slanted_loin: paints what a scan of the same body has on the same plane") {
    for (const loin_side flank : {loin_side::left, loin_side::right})
        for (const cut_tilt& tilt : {tilted(25, 0), tilted(0, 25), tilted(-25, 10), tilted(20, -30)}) {
            const slanted_loin<traced_loin> slanted(traced_cone(), tilt, flank);
            const scanned_loin scanned(scanned_cone(flank), {.flank = flank, .tilt = tilt, .probes = {{}}});
            CAPTURE(tilt.about_vertical / degree, tilt.about_transverse / degree, flank == loin_side::left);
            CHECK_THAT(slanted.extent() / scanned.extent(), WithinRel(1.0, 1e-6));
            const box origin(slanted.painted_at(0.5 * slanted.extent())),
                expected_origin(scanned.painted_at(0.5 * scanned.extent()));
            const double right = expected_origin.left - origin.left, up = expected_origin.low - origin.low;
            for (const double part : {0.02, 0.05, 0.1, 0.3, 0.5, 0.8, 0.95, 0.98}) {
                CAPTURE(part);
                const painted_face painted = slanted.painted_at(part * slanted.extent());
                const painted_face expected = scanned.painted_at(part * scanned.extent());
                REQUIRE(painted.size() == 1);
                REQUIRE(expected.size() == 1);
                // Chords between 257 faces are read along straight lines, as the mesh runs between its rings: they bulge by
                // hundredths of a mm at most.
                const box b(painted), e(expected);
                CHECK_THAT(b.left + right, WithinAbs(e.left, 1e-4));
                CHECK_THAT(b.right + right, WithinAbs(e.right, 1e-4));
                CHECK_THAT(b.low + up, WithinAbs(e.low, 1e-4));
                CHECK_THAT(b.high + up, WithinAbs(e.high, 1e-4));
                const double area = area_of(expected[0].curve).value();
                CHECK_THAT(area_of(painted[0].curve).value(), WithinAbs(area, 5e-4 * area + 1e-6));
            }
        }
}

TEST_CASE("slanted_loin: what is painted of each tissue has its area on the face") {
    const measured_loin taped = strip_loin(); // with silverskin, tail and a second muscle
    for (const cut_tilt& tilt : {tilted(15, 0), tilted(-30, 0), tilted(0, 20), tilted(0, -20), tilted(20, 25)}) {
        const slanted_loin<measured_loin> loin(taped, tilt);
        CAPTURE(tilt.about_vertical / degree, tilt.about_transverse / degree);
        for (int k = 0; k <= 12; k += 3) {
            const length at = (k / 12.0) * loin.extent();
            const face f = loin.face_at(at);
            const by_tissue<double> seen = areas_on_lines(loin.painted_at(at), 500);
            for (const tissue t : all_tissues) {
                CAPTURE(k, name_of(t));
                // Polygons of 96 corners miss 1 part in 500 and lines 0.4 mm apart less; strips of 3 mm over a face that
                // changes by a tenth along the loin, and an edge between two muscles that moves by 0.9 mm from one of 257
                // places to the next, over 60 mm of depth.
                CHECK_THAT(seen[t], WithinAbs(f.areas[t].value(), 0.006 * f.areas.sum().value() + 2e-5));
            }
        }
    }
}

TEST_CASE("slanted_loin: what is painted of a tracing has its area on the face, silverskin and holes too") {
    const auto ellipse = [](double left, double bottom, double width, double height) {
        std::vector<std::pair<double, double>> points;
        for (int i = 0; i < 60; ++i) {
            const double turn = 2.0 * pi * i / 60.0;
            points.emplace_back(left + 0.5 * width * (1.0 + std::cos(turn)),
                                bottom + 0.5 * height * (1.0 + std::sin(turn)));
        }
        return points;
    };
    // Invented. From one face to the other all sizes change by a few per cent, so that blended outlines, whose sizes run in
    // straight lines, have the areas that do so to a part in a thousand.
    const auto traced = [&](length at, double size) {
        return traced_face{.at = at,
                           .whole = outline_from(ellipse(0, 0, 200, 90), size * 1_mm),
                           .eye = outline_from(ellipse(10, 5, 100, 65), size * 1_mm, {ellipse(40, 30, 20, 15)}),
                           .gluteus_medius = outline_from(ellipse(111.5, 15, 30, 50), size * 1_mm),
                           .tail = outline_from(ellipse(145, 25, 40, 30), size * 1_mm)};
    };
    const traced_loin loin(300_mm, {traced(0_mm, 1.0), traced(300_mm, 0.93)}, 2_mm);
    for (const cut_tilt& tilt : {tilted(-15, 25)}) {
        const slanted_loin<traced_loin> slanted(loin, tilt);
        CAPTURE(tilt.about_vertical / degree, tilt.about_transverse / degree);
        for (int k = 1; k <= 9; k += 4) {
            const length at = (k / 10.0) * slanted.extent();
            const face f = slanted.face_at(at);
            const painted_face painted = slanted.painted_at(at);
            const by_tissue<double> seen = areas_on_lines(painted, 500);
            for (const tissue t : all_tissues) {
                CAPTURE(k, name_of(t));
                // Strips of 3 mm, of which the end of the loin cuts through one, and 500 lines.
                CHECK_THAT(seen[t], WithinAbs(f.areas[t].value(), 0.004 * f.areas.sum().value() + 2e-5));
            }
            const auto outlines = [&](tissue t) {
                return std::count_if(painted.begin(), painted.end(),
                                     [t](const painted_outline& p) { return p.fill == t; });
            };
            if (k != 5) continue;
            for (const tissue t : {tissue::fat_cover, tissue::connective, tissue::tail}) CHECK(outlines(t) == 1);
            const auto eye = std::find_if(painted.begin(), painted.end(),
                                          [](const painted_outline& p) { return p.fill == tissue::eye; });
            REQUIRE(eye != painted.end());
            CHECK(eye->curve.holes.size() == 1);
        }
    }
}

TEST_CASE("slanted_loin: keeps of an uneven layer what the knife keeps at each place of the cut") {
    // A box whose fat grows from 2 to 26 mm over 30 cm, cut at 30° about the vertical: across its 20 cm the plane runs over
    // 20 cm × tan 30° of its length. Fat c(x) thick trimmed to d keeps the smaller of both: both are integrals of straight
    // lines.
    const tapered_loin loin{.length = 30_cm,
                            .rib = {.width = 20_cm, .depth = 8_cm, .fat_cover = 2_mm},
                            .sirloin = {.width = 20_cm, .depth = 8_cm, .fat_cover = 26_mm},
                            .shape = {.fill = 1.0}};
    const slanted_loin<tapered_loin> slanted(loin, tilted(30, 0));
    const face f = slanted.face_at(0.5 * slanted.extent());
    const double half = 0.5 * 200.0 * std::tan(pi / 6) * 24.0 / 300.0, thinnest = 14.0 - half, thickest = 14.0 + half;
    CHECK_THAT(f.fat_cover.thickness / 1_mm,
               WithinAbs(thickest, 24.0 / 300.0 * 3.2)); // the middle of the outermost strip
    for (const double kept : {4.0, 10.0, 12.0, 14.0, 16.0, 18.0}) {
        double expected = kept * 2.0 * half;
        if (kept > thinnest) expected -= (kept - thinnest) * (kept - thinnest) / 2.0;
        CAPTURE(kept);
        // A 32nd of the thickness apart, the share runs straight: (19 / 32)² / 8 / 9.2 mm of 14 mm.
        CHECK_THAT(f.fat_cover.within(kept * 1_mm), WithinAbs(expected / (14.0 * 2.0 * half), 2e-3));
    }
    // A straight cut in the same middle has fat of 14 mm all over.
    CHECK_THAT(loin.face_at(15_cm).fat_cover.within(14_mm), WithinRel(1.0, 1e-12));
    CHECK(f.fat_cover.within(14_mm) < 0.93);
}

TEST_CASE("slanted_loin: has the layers of a prism") {
    const slanted_loin<prism_loin> slanted(block(), tilted(20, 10));
    const face f = slanted.face_at(0.5 * slanted.extent()), straight = block().face_at(5_cm);
    CHECK(f.fat_cover.thickness == straight.fat_cover.thickness);
    CHECK(f.fat_cover.spread == straight.fat_cover.spread);
    CHECK(f.tail.thickness == straight.tail.thickness);
}

TEST_CASE("slanted_loin: passes over outlines without corners, and refuses a model that paints nothing") {
    struct sparing_loin {
        bool nothing = false;
        [[nodiscard]] static length extent() { return 40_cm; }
        [[nodiscard]] static face face_at(length at) { return rod(5_cm).face_at(at); }
        [[nodiscard]] painted_face painted_at(length at) const {
            painted_face painted{{tissue::fat_cover, {}}};
            if (nothing) return painted;
            painted.push_back(rod(5_cm).painted_at(at).front());
            return painted;
        }
    };
    const slanted_loin<sparing_loin> loin({}, tilted(10, 0));
    const slanted_loin<round_rod> expected(rod(5_cm), tilted(10, 0));
    CHECK(loin.extent() == expected.extent());
    CHECK(loin.face_at(20_cm).areas == expected.face_at(20_cm).areas);
    CHECK(loin.painted_at(20_cm).size() == 1);
    CHECK_THROWS_WITH((slanted_loin<sparing_loin>({.nothing = true}, tilted(10, 0))), StartsWith("outlines: got none"));
}

} // namespace slanted_oracle
