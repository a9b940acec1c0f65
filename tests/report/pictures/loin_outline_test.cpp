// Silhouettes of a model's own faces, against solids that can be worked out by hand and against the profile's measures.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/loin_outline.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/report/pictures/loin_pictures.hpp>

#include "loin/mesh_shapes.hpp"
#include "report/sample.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace loin_outline_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

/// A pyramid without its tip, on its side: sections are squares on a corner, 20 cm from corner to corner in front and 10 cm
/// behind, 40 cm apart. So both edges run in by 1/8 of the way along, and the underside rises as fast.
const scanned_loin pyramid(frustum(4, 0.10, 0.05, 0.40),
                           {.along = mesh_axis::z,
                            .up = mesh_axis::x,
                            .probes = {{.fat_cover = 5.0_mm, .tail = 20.0_mm}},
                            .gluteus_medius = {.onset = 0.2 * metre, .share_at_end = 0.3}});

measured_loin taped() {
    return {.length = 42.0_cm,
            .stations = {{.at = 0.0_cm, .width = 21.0_cm, .depth = 8.0_cm, .fat_cover = 11.0_mm, .tail = 5.0_cm},
                         {.at = 42.0_cm, .width = 20.0_cm, .depth = 7.0_cm, .fat_cover = 7.0_mm, .tail = 3.0_cm}},
            .gluteus_medius = {.onset = 33.0_cm, .share_at_end = 0.30}};
}

/// Knows its areas and paints nothing.
struct unpainted_loin {
    [[nodiscard]] static length extent() { return 0.4 * metre; }
    [[nodiscard]] static face face_at(length /*at*/) {
        face f;
        f.areas[tissue::eye] = 90.0_cm2;
        return f;
    }
    [[nodiscard]] static painted_face painted_at(length /*at*/) { return {}; }
};

} // namespace

TEST_CASE("loin_outline: both edges and the underside are where the sections of a scan have them") {
    const loin_outline outline = outline_of(pyramid);
    CHECK(outline.measured);
    CHECK(outline.extent == Approx(400.0));
    CHECK(outline.widest == Approx(200.0));
    CHECK(outline.deepest == Approx(200.0));
    for (const loin_outline::point& p : outline.points) {
        CAPTURE(p.at);
        const double in = p.at / 8.0; // mm; what a section loses to rounding is below a nanometre
        CHECK(p.chine == Approx(in).margin(1e-6));
        CHECK(p.chine + p.width == Approx(200.0 - in).margin(1e-6));
        CHECK(p.board == Approx(in).margin(1e-6));
        CHECK(p.board + p.depth == Approx(200.0 - in).margin(1e-6));
        CHECK(p.fat == Approx(5.0).margin(1e-6)); // straight below the corner at the top
        CHECK(p.tail == Approx(20.0).margin(1e-6));
    }
}

TEST_CASE("loin_outline: the second muscle lies where the faces have it") {
    // On the flank side of an upright, with 0.3 of the lean behind it on the last face and none up to the middle.
    const loin_outline outline = outline_of(pyramid);
    CHECK(outline.muscle_placed);
    for (const loin_outline::point& p : outline.points) {
        const double lean_to = p.chine + p.width - p.tail;
        CHECK(p.gluteus_medius_to == Approx(lean_to).margin(1e-6));
        if (p.at <= 200.0) CHECK(p.gluteus_medius_from == p.gluteus_medius_to);
        if (p.at > 201.0) CHECK(p.gluteus_medius_from < p.gluteus_medius_to);
    }
    // The last face: a square on a corner, 100 mm across, less fat and tail. Areas of what lies behind an upright by steps
    // of 0.01 mm, which is good to 0.02 mm of place.
    const loin_outline::point& last = outline.points.back();
    const double tail_at = last.chine + last.width - last.tail, middle = last.chine + 50.0;
    const auto height = [&](double across) {
        const double half = 50.0 - std::abs(across - middle);
        return std::max(0.0, 2.0 * half - 5.0);
    };
    double lean = 0.0, behind = 0.0;
    for (double x = last.chine + 0.005; x < tail_at; x += 0.01) lean += height(x);
    double upright = tail_at - 0.005;
    while (behind < 0.3 * lean) behind += height(upright), upright -= 0.01;
    CHECK(last.gluteus_medius_from == Approx(upright).margin(0.02));
    // Behind the upright the square is highest at it, below the fat, and lowest there too.
    REQUIRE(upright > middle);
    const double half = 50.0 - (upright - middle), centre = last.board + 50.0;
    CHECK(last.gluteus_medius_low == Approx(centre - half).margin(0.02));
    CHECK(last.gluteus_medius_high == Approx(centre + half - 5.0).margin(0.02));
    // Where it begins it has no height, in the middle of what comes next.
    const auto begins = std::find_if(outline.points.begin(), outline.points.end(),
                                     [](const loin_outline::point& p) { return p.has_gluteus_medius(); });
    REQUIRE(begins != outline.points.end());
    CHECK((begins - 1)->gluteus_medius_low == (begins - 1)->gluteus_medius_high);
    CHECK((begins - 1)->gluteus_medius_low > begins->gluteus_medius_low);
    CHECK((begins - 1)->gluteus_medius_low < begins->gluteus_medius_high);
}

TEST_CASE("loin_outline: of a bare profile the second muscle takes its share of the lean under the fat") {
    const profile meat_of_it = tabulate(taped());
    const loin_outline outline = outline_of(meat_of_it);
    CHECK_FALSE(outline.muscle_placed);
    const loin_outline::point& last = outline.points.back();
    CHECK(last.gluteus_medius_high == Approx(last.depth - last.fat));
    CHECK(last.gluteus_medius_low == Approx(0.7 * (last.depth - last.fat)));
    CHECK(last.gluteus_medius_from == Approx(0.7 * (last.width - last.tail)));
    CHECK_FALSE(outline.points.front().has_gluteus_medius());
}

TEST_CASE("loin_outline: the silverskin is as thick as a probe found it") {
    const scanned_loin loin(bumpy_loin(48, 20), {.probes = {{.fat_cover = 8.0_mm, .silverskin = 1.5_mm}}});
    const loin_outline outline = outline_of(loin, 20);
    CHECK(outline.silverskin);
    // Straight down below the highest place, where surface, fat and lean are all highest.
    for (const loin_outline::point& p : outline.points) CHECK(p.silverskin == Approx(1.5).margin(1e-6));
    for (const loin_outline::point& p : outline_of(tabulate(loin), 20).points) CHECK(p.silverskin == 0.0);
}

TEST_CASE("loin_outline: under a slanted knife a rod stands askew") {
    // A rod of radius 50 mm, cut at 30° about the vertical: its silhouette is 2 r / cos 30° wide across, and its edges run away
    // from the normal of the cut by tan 30°.
    struct round_rod {
        [[nodiscard]] static length extent() { return 40.0_cm; }
        [[nodiscard]] static face face_at(length /*at*/) {
            return taped_face({.width = 10.0_cm, .depth = 10.0_cm}, {.fill = std::numbers::pi / 4.0}, 0.0);
        }
        [[nodiscard]] static painted_face painted_at(length /*at*/) {
            return {{tissue::eye, superellipse({}, 10.0_cm, 10.0_cm, 2.0)}};
        }
    };
    const round_rod rod;
    for (const double degrees : {30.0, -30.0}) {
        const slanted_loin<round_rod> slanted(rod, {.about_vertical = degrees * degree});
        const loin_outline outline = outline_of(slanted, 40);
        CHECK(outline.extent == Approx(400.0 * std::cos(std::numbers::pi / 6) + 100.0 * 0.5).margin(0.1));
        const loin_outline::point &front = outline.points[12], &behind = outline.points[28];
        for (const loin_outline::point& p : {front, behind}) {
            CHECK(p.width == Approx(100.0 / std::cos(std::numbers::pi / 6)).margin(0.15)); // a polygon of 96 corners
            CHECK(p.depth == Approx(100.0).margin(0.15));
        }
        // Swung to the left, the face looks to the left, and the rod runs away from its normal to the right, to the flank.
        CHECK(behind.chine - front.chine ==
              Approx((degrees > 0.0 ? 1.0 : -1.0) * (behind.at - front.at) * std::tan(std::numbers::pi / 6))
                  .margin(0.05));
        CHECK(outline.points.front().width == Approx(0.0).margin(0.01));
    }
}

TEST_CASE("loin_outline: of a taped loin the model's faces and the profile agree") {
    const measured_loin loin = taped();
    const loin_outline painted = outline_of(loin), measured = outline_of(tabulate(loin));
    CHECK(painted.tail == measured.tail);
    CHECK(painted.fat == measured.fat);
    CHECK(painted.gluteus_medius == measured.gluteus_medius);
    for (const loin_outline::point& p : measured.points) {
        const loin_outline::point q = painted.there(p.at);
        CAPTURE(p.at);
        // Readings bend between points 2.6 mm apart, layers are read in the middle of cells of 0.5 mm, and the polygon of
        // 96 corners stops short of the curve by 0.05 mm.
        CHECK(q.depth == Approx(p.depth).margin(0.1));
        CHECK(q.fat == Approx(p.fat).margin(0.1));
        CHECK(q.chine == Approx(0.0).margin(0.1));
        CHECK(q.width - q.tail == Approx(p.width - p.tail).margin(0.1));
        // The tail hangs on the lower part of the side, where the curve has begun to bend in: a few per cent of its length.
        CHECK(q.tail <= p.tail + 0.1);
        CHECK(q.tail >= 0.92 * p.tail);
    }
}

TEST_CASE("loin_outline: a loin that runs out to a point is drawn to the middle of what is next to it") {
    const scanned_loin round(ball(0.1, 40, 20),
                             {.along = mesh_axis::z, .up = mesh_axis::x, .probes = {{.fat_cover = 5.0_mm}}});
    const loin_outline outline = outline_of(round);
    CHECK(outline.points.front().width == Approx(0.0).margin(1e-3));
    CHECK(outline.points.front().chine == Approx(100.0).margin(0.01));
    CHECK(outline.points.front().board == Approx(100.0).margin(0.01));
    CHECK(outline.widest == Approx(200.0).margin(0.01));
}

TEST_CASE("loin_outline: of faces with their tail on the other side the flank lies there") {
    struct mirrored_loin {
        measured_loin loin;
        [[nodiscard]] length extent() const { return loin.extent(); }
        [[nodiscard]] face face_at(length at) const { return loin.face_at(at); }
        [[nodiscard]] painted_face painted_at(length at) const {
            painted_face painted = loin.painted_at(at);
            for (painted_outline& o : painted)
                for (outline_point& p : o.curve.points) p.across = 0.1 * metre - p.across;
            return painted;
        }
    };
    const loin_outline as_it_is = outline_of(taped(), 20), mirrored = outline_of(mirrored_loin{taped()}, 20);
    for (std::size_t i = 0; i < as_it_is.points.size(); ++i) {
        const loin_outline::point &p = as_it_is.points[i], &q = mirrored.points[i];
        CHECK(q.chine == Approx(p.chine).margin(1e-9));
        CHECK(q.width == Approx(p.width));
        CHECK(q.tail == Approx(p.tail));
        CHECK(q.gluteus_medius_from == Approx(p.gluteus_medius_from));
        CHECK(q.gluteus_medius_low == Approx(p.gluteus_medius_low));
        CHECK(q.gluteus_medius_high == Approx(p.gluteus_medius_high));
    }
    CHECK(as_it_is.flank == loin_side::right);
    CHECK(mirrored.flank == loin_side::left); // drawn as seen from the rib end
}

TEST_CASE("loin_outline: a model that paints nothing is refused") {
    CHECK_THROWS_WITH(outline_of(unpainted_loin{}), ContainsSubstring("a model that paints its faces"));
}

TEST_CASE("loin_outline: the picture from above runs along both edges of a scan") {
    const profile meat_of_it = tabulate(pyramid);
    const cutting_plan cuts = lay_out(meat_of_it, specs(), {}, {{0, meat_of_it.cells(), slab_kind::loose, 0}});
    const loin_outline outline = outline_of(pyramid);
    const auto corners = [](const std::string& picture) { return of_kind(parse_xml(picture), "outline").at(0); };
    // Starts at the corner at the chine in front, and ends at that of the flank: 0, 50 and 150, 200 mm across.
    const std::string above = corners(view_from_above_svg(cuts, outline)).attributes.at("d");
    CHECK_THAT(above, StartsWith("M0 0L"));
    CHECK_THAT(above, ContainsSubstring("L400 50L400 150L"));
    CHECK_THAT(above, EndsWith("L0 200Z"));
    // Downwards from the highest: the top falls from 0 to 50, the underside rises from 200 to 150.
    const std::string side = corners(view_from_side_svg(cuts, outline)).attributes.at("d");
    CHECK_THAT(side, ContainsSubstring("L400 50L400 150L"));
    CHECK_THAT(view_from_above_svg(cuts, outline), !ContainsSubstring("not in its exact place"));
    CHECK_THAT(view_from_side_svg(cuts, outline), !ContainsSubstring("not in its exact place"));
    CHECK_THAT(view_from_side_svg(cuts, outline_of(meat_of_it)), ContainsSubstring("not in its exact place"));
}

TEST_CASE("loin_outline: the flank of a scan lies where its readings have it") {
    scan_readings readings{.probes = {{.fat_cover = 8.0_mm, .tail = 30.0_mm}}};
    for (const loin_side side : {loin_side::left, loin_side::right}) {
        readings.flank = side;
        const scanned_loin loin(bumpy_loin(24, 10), readings);
        CHECK(outline_of(loin, 10).flank == side);
        CHECK(outline_of(calibrate(loin, 4.0_kg), 10).flank == side);
        CHECK(outline_of(slanted_loin<scanned_loin>(loin, {}), 10).flank == side);
    }
}

TEST_CASE("loin_outline: of a bare profile the chine edge is straight and the underside lies on the board") {
    const loin_outline outline = outline_of(meat(), 20);
    REQUIRE(outline.points.size() > 10);
    for (const loin_outline::point& p : outline.points) {
        CHECK(p.chine == 0.0);
        CHECK(p.board == 0.0);
        CHECK(p.silverskin == 0.0); // not known
    }
    CHECK_FALSE(outline.points.front().has_gluteus_medius());
    CHECK(outline.points.back().has_gluteus_medius());
    CHECK_FALSE(loin_outline::point{}.has_gluteus_medius());
}

/// A box whose width and depth are known from one place to another only.
struct known_between {
    double from = 0.0, to = 1.0; ///< as shares of the length
    [[nodiscard]] static length extent() { return 0.4 * metre; }
    [[nodiscard]] face face_at(length at) const {
        face f = unpainted_loin::face_at(at);
        const double share = at / extent();
        if (share >= from && share <= to) f.width = 18.0_cm, f.depth = 5.0_cm;
        return f;
    }
};

TEST_CASE("loin_outline: an outline is measured where it is known between the ends, or on both ends of a single cell") {
    const auto measured = [](double from, double to, length step) {
        return outline_of(tabulate(known_between{from, to}, step)).measured;
    };
    CHECK(measured(0.0, 1.0, 1.0_cm));
    CHECK(measured(0.01, 0.99, 1.0_cm));      // it may run out to a point at the ends
    CHECK_FALSE(measured(0.04, 1.0, 1.0_cm)); // the first position between them
    CHECK_FALSE(measured(0.0, 0.96, 1.0_cm)); // the last
    CHECK(measured(0.0, 1.0, 1.0 * metre));
    CHECK_FALSE(measured(0.01, 1.0, 1.0 * metre));
    CHECK_FALSE(measured(0.0, 0.99, 1.0 * metre));
    CHECK(measured(0.01, 0.99, 20.0_cm));
}

} // namespace loin_outline_test
