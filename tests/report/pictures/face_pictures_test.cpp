// The pictures of faces, read back: outlines, places, trim lines and labels against the model and the plan.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/face_pictures.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/calibration/slice_calibrated.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>

#include "report/clipped_area.hpp"
#include "report/sample.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace face_pictures_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

/// Invented.
calibrated_loin<measured_loin> taped() {
    const measured_loin loin{
        .length = 16.5_in,
        .stations = {{.at = 0.0_in, .width = 8.4_in, .depth = 3.1_in, .fat_cover = 0.45_in, .tail = 2.0_in},
                     {.at = 8.0_in, .width = 7.9_in, .depth = 3.0_in, .fat_cover = 0.35_in, .tail = 1.5_in},
                     {.at = 16.5_in, .width = 8.2_in, .depth = 2.8_in, .fat_cover = 0.30_in, .tail = 1.1_in}},
        .gluteus_medius = {.onset = 13.2_in, .share_at_end = 0.30},
        .shape = {.silverskin = 1.0_mm}};
    return calibrate(loin, 11.9_lb);
}

outline ellipse(double left, double bottom, double width, double height) {
    std::vector<std::pair<double, double>> points;
    for (int i = 0; i < 40; ++i) {
        const double turn = 2.0 * 3.14159265358979 * i / 40;
        points.emplace_back(left + 0.5 * width * (1.0 + std::cos(turn)),
                            bottom + 0.5 * height * (1.0 + std::sin(turn)));
    }
    return outline_from(points, 1.0_mm);
}

/// Invented: drawn with the clock and against it, the tail a square.
traced_loin traced() {
    outline tail = outline_from({{150, 25}, {180, 25}, {180, 55}, {150, 55}}, 1.0_mm);
    const traced_face rib{.at = 0.0_mm, .whole = ellipse(0, 0, 200, 90), .eye = ellipse(10, 5, 130, 65), .tail = tail};
    traced_face sirloin{.at = 300.0_mm,
                        .whole = ellipse(0, 0, 195, 80),
                        .eye = ellipse(10, 5, 100, 60),
                        .gluteus_medius = ellipse(113, 15, 30, 50)};
    std::reverse(sirloin.whole.points.begin(), sirloin.whole.points.end());
    return {300.0_mm, {rib, sirloin}};
}

/// One face of a picture: what is drawn of it, in millimetres from its corner.
struct drawn_face {
    double x = 0.0, y = 0.0;
    std::vector<xml_element> elements{};

    [[nodiscard]] std::vector<xml_element> kind(const std::string& name) const { return of_kind(elements, name); }
};

std::vector<drawn_face> faces_in(const std::string& picture) {
    std::vector<drawn_face> faces;
    for (const xml_element& e : parse_xml(picture)) {
        if (e.kind() == "face") {
            std::istringstream numbers(e.attributes.at("transform").substr(std::string("translate(").size()));
            faces.emplace_back();
            numbers >> faces.back().x >> faces.back().y;
        } else if (e.kind() == "scale") {
            break;
        } else if (!faces.empty()) {
            faces.back().elements.push_back(e);
        }
    }
    return faces;
}

/// The points of a path of M, L and Z, upwards again, as an outline.
outline read_back(const std::string& path) {
    std::string numbers = path;
    for (char& c : numbers)
        if (c == 'M' || c == 'L' || c == 'Z') c = ' ';
    std::istringstream in(numbers);
    outline curve;
    for (double x = 0.0, y = 0.0; in >> x >> y;) curve.points.push_back({x * millimetre, -y * millimetre});
    return curve;
}

outline curve_of(const drawn_face& f, tissue t) {
    return read_back(f.kind(std::string(name_of(t))).at(0).attributes.at("d"));
}

/// How much of each tissue is seen, in mm2, the later ones lying on the earlier: 4000 upright lines across 300 mm.
by_tissue<double> seen_areas(const drawn_face& f) {
    std::vector<std::pair<tissue, detail::flat_region>> paint;
    for (const xml_element& e : f.elements)
        for (const tissue t : all_tissues)
            if (e.kind() == name_of(t)) paint.emplace_back(t, detail::flat_region(read_back(e.attributes.at("d"))));
    by_tissue<double> seen;
    for (int i = 0; i < 4000; ++i) {
        detail::chord_list covered;
        for (auto p = paint.rbegin(); p != paint.rend(); ++p) {
            const auto chords = p->second.chords(0.3 * (i + 0.5) / 4000);
            seen[p->first] += detail::total_length(detail::without(chords, covered)) * 0.3 / 4000 * 1e6;
            covered.insert(covered.end(), chords.begin(), chords.end());
        }
    }
    return seen;
}

double in_mm2(area a) { return a.value() * 1e6; }

/// Slabs of a traced loin whose second one and whose end stand on traced faces or between them.
cutting_plan traced_plan(const profile& loin) {
    std::vector<cut_spec> wanted = specs();
    wanted[0].trim = {.fat_cover = 5.0_mm, .tail = 12.0_mm};
    wanted[0].kerf = {};
    wanted[2].trim = {};
    return lay_out(loin, wanted, {},
                   {{0, 60, slab_kind::portions, 0},
                    {60, 200, slab_kind::portions, 1},
                    {200, 400, slab_kind::loose, 0},
                    {400, loin.cells(), slab_kind::portions, 2}});
}

struct box {
    double left, right, top, bottom;
};

/// Boxes around all words and discs, as wide as `ems_of` has them, which errs to the wide side; bold is a tenth wider.
std::vector<box> label_boxes(const std::string& picture) {
    std::vector<box> boxes;
    double x = 0.0, y = 0.0;
    for (const xml_element& e : parse_xml(picture)) {
        if (e.kind() == "face") {
            std::istringstream numbers(e.attributes.at("transform").substr(std::string("translate(").size()));
            numbers >> x >> y;
        }
        if (e.kind() == "scale") x = y = 0.0;
        if (e.name == "circle" && e.attributes.count("stroke") == 1)
            boxes.push_back({x + e.number("cx") - e.number("r"), x + e.number("cx") + e.number("r"),
                             y + e.number("cy") - e.number("r"), y + e.number("cy") + e.number("r")});
        if (e.name != "text" || e.attributes.at("text-anchor") != "start") continue; // the others stand in discs
        const double size = e.number("font-size"), bold = e.attributes.at("font-weight") == "bold" ? 1.1 : 1.0;
        const double left = x + e.number("x"), base = y + e.number("y");
        boxes.push_back({left, left + bold * size * detail::ems_of(e.text), base - 0.75 * size, base + 0.22 * size});
    }
    return boxes;
}

void check_labels(const std::string& picture) {
    const std::vector<box> boxes = label_boxes(picture);
    std::istringstream view(parse_xml(picture).front().attributes.at("viewBox"));
    double left = 0.0, top = 0.0, width = 0.0, height = 0.0;
    view >> left >> top >> width >> height;
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const box& a = boxes[i];
        CHECK((a.left >= 0.0 && a.right <= width && a.top >= 0.0 && a.bottom <= height));
        for (std::size_t k = 0; k < i; ++k) {
            const box& b = boxes[k];
            CHECK((a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top));
        }
    }
    // A caption stands below its own face and above the next row.
    const std::vector<drawn_face> faces = faces_in(picture);
    for (const drawn_face& f : faces)
        for (const xml_element& e : f.elements) {
            if (e.name != "text") continue;
            for (const drawn_face& other : faces)
                if (other.y > f.y) CHECK(f.y + e.number("y") < other.y);
            for (const xml_element& outline_of_it : f.kind("outline")) // none where a slanted cut is beside the meat
                for (const outline_point& p : read_back(outline_of_it.attributes.at("d")).points)
                    CHECK(-(p.up / millimetre) < e.number("y") - 0.75 * e.number("font-size"));
        }
}

} // namespace

static_assert(shaped_loin_model<calibrated_loin<measured_loin>> && shaped_loin_model<typical_loin> &&
              shaped_loin_model<slice_calibrated_loin<calibrated_loin<measured_loin>>>);

TEST_CASE("what is seen of each tissue in the picture is as large as on the face of a taped loin") {
    const auto loin = taped();
    const profile meat = tabulate(loin);
    const cutting_plan cuts = mixed_plan(meat);
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
    REQUIRE(drawn.size() == cuts.slabs.size() + 1);
    for (std::size_t i = 0; i < drawn.size(); ++i) {
        const face expected = loin.face_at(i < cuts.slabs.size() ? cuts.slabs[i].start : cuts.extent);
        const by_tissue<double> seen = seen_areas(drawn[i]);
        for (const tissue t : all_tissues) {
            CAPTURE(i, name_of(t));
            // Polygons of 96 corners lose less than 1 part in 500. Two decimals move each corner by 0.007 mm at most, so
            // an edge all around a face of less than 214 x 79 mm makes up 0.007 x 2 x 293 = 4.1 mm2.
            const double area = in_mm2(expected.areas[t]);
            CHECK(std::abs(seen[t] - area) <= 0.002 * area + 4.2);
        }
    }
}

TEST_CASE("what is seen of each tissue in the picture is as large as on a traced face") {
    const traced_loin loin = traced();
    const profile meat = tabulate(loin);
    const cutting_plan cuts = traced_plan(meat);
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts, metric_kitchen));
    REQUIRE(drawn.size() == 5);
    for (const auto& [f, at] : {std::pair{&drawn.front(), 0.0_mm}, std::pair{&drawn.back(), 300.0_mm}}) {
        const by_tissue<double> seen = seen_areas(*f);
        const face expected = loin.face_at(at);
        // Two decimals: 0.007 mm all around 200 x 90 mm and the lean in it, less than 8 mm2. Fat next to three other
        // tissues; lines 0.075 mm apart are exact for straight sides but where they cross a corner.
        for (const tissue t : all_tissues) {
            CAPTURE(name_of(t), seen[t], in_mm2(expected.areas[t]));
            CHECK(std::abs(seen[t] - in_mm2(expected.areas[t])) <= 8.0);
        }
    }
}

TEST_CASE("faces stand where the plan cuts, and say so") {
    const auto loin = taped();
    const cutting_plan cuts = mixed_plan(tabulate(loin));
    const std::vector<cut_face> faces = cut_faces(loin, cuts);
    REQUIRE(faces.size() == cuts.slabs.size() + 1);
    const std::vector<drawn_face> drawn = faces_in(faces_svg(faces, cuts));
    REQUIRE(drawn.size() == faces.size());
    for (std::size_t i = 0; i < faces.size(); ++i) {
        const bool slab = i < cuts.slabs.size();
        CHECK(faces[i].at == (slab ? cuts.slabs[i].start : cuts.extent));
        CHECK(faces[i].measured.areas == loin.face_at(faces[i].at).areas);
        std::vector<std::string> words;
        for (const xml_element& e : drawn[i].elements)
            if (e.name == "text") words.push_back(e.text);
        const std::string place = "at " + to_text(faces[i].at, us_kitchen.along);
        if (slab)
            CHECK(words == std::vector{std::to_string(i + 1), detail::what_is(cuts.slabs[i], cuts), place});
        else
            CHECK(words == std::vector{std::string("sirloin face"), place});
        if (i > 0) // in the order of reading
            CHECK((drawn[i].y > drawn[i - 1].y || (drawn[i].y == drawn[i - 1].y && drawn[i].x > drawn[i - 1].x)));
        CHECK(drawn[i].kind("loose").size() == (slab && cuts.slabs[i].kind != slab_kind::portions ? 1 : 0));
    }
}

TEST_CASE("the gluteus medius is drawn on the faces beyond its onset and on no other") {
    const auto loin = taped();
    const profile meat = tabulate(loin);
    const cutting_plan cuts = most_portions(meat, specs()[2], rules).plan;
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
    std::size_t with = 0;
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
        const bool there = cuts.slabs[i].start > loin.model.gluteus_medius.onset;
        with += there ? 1 : 0;
        CHECK(drawn[i].kind("gluteus medius").size() == (there ? 1 : 0));
    }
    CHECK(with >= 2);
    CHECK(with + 8 <= cuts.slabs.size());
    CHECK(drawn.back().kind("gluteus medius").size() == 1);
}

TEST_CASE("all faces and the bar have one scale") {
    const auto loin = taped();
    const cutting_plan cuts = mixed_plan(tabulate(loin));
    for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
        const std::string picture = faces_svg(cut_faces(loin, cuts), cuts, units);
        double bar = 0.0;
        for (const xml_element& e : of_kind(parse_xml(picture), "scale")) bar += e.number("width");
        CHECK(bar == Approx(units.along.in == length_division::unit::inches ? 4.0 * 25.4 : 100.0).epsilon(1e-12));
        CHECK_THAT(picture, ContainsSubstring(units.along.in == length_division::unit::inches ? ">4 in<" : ">100 mm<"));
        const std::vector<drawn_face> drawn = faces_in(picture);
        for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
            const auto fat = detail::flat_region(curve_of(drawn[i], tissue::fat_cover));
            const auto [low, high] = fat.extent(&detail::flat_point::y);
            const auto [left, right] = fat.extent(&detail::flat_point::x);
            const face f = loin.face_at(cuts.slabs[i].start);
            // The topmost of 96 corners lies below the top by less than 1 part in 1000, and each is rounded to 0.005 mm.
            CHECK(1000.0 * (high - low) == Approx(f.depth / millimetre).margin(0.002 * 80.0 + 0.01));
            CHECK(1000.0 * (right - left) ==
                  Approx((f.width - f.tail.thickness) / millimetre).margin(0.002 * 170.0 + 0.01));
        }
    }
}

TEST_CASE("the fat of a taped loin is trimmed along a parallel to the silverskin") {
    const auto loin = taped();
    const cutting_plan cuts = mixed_plan(tabulate(loin));
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
    std::size_t checked = 0;
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
        const std::vector<xml_element> lines = drawn[i].kind("trim");
        const trim_spec trim = cuts.trim_of(cuts.slabs[i]);
        const face f = loin.face_at(cuts.slabs[i].start);
        const bool fat = f.fat_cover.thickness > trim.fat_cover, tail = f.tail.thickness > trim.tail.at_rib();
        REQUIRE(lines.size() == (fat ? 1U : 0U) + (tail ? 1U : 0U));
        if (!fat) continue;
        ++checked;
        const detail::flat_region skin(curve_of(drawn[i], tissue::connective)),
            whole(curve_of(drawn[i], tissue::fat_cover));
        const outline line = read_back(lines[0].attributes.at("d"));
        REQUIRE(line.points.size() > 50); // 1 mm apart
        for (const outline_point& p : line.points) {
            const detail::flat_point at{p.across.value(), p.up.value()};
            // A point and an edge, rounded; and a curve of which corners on a straight line are left out. A trim to nothing
            // is drawn a tenth of a millimetre above the edge.
            CHECK(1000.0 * skin.distance_to_edge(at) ==
                  Approx(std::max(0.1, double(trim.fat_cover / millimetre))).margin(0.02));
            CHECK((whole.contains(at) && !skin.contains(at)));
        }
    }
    CHECK(checked == 3); // strip steak, fillet, end steak; the rest is not trimmed
}

TEST_CASE("the tail of a taped loin is trimmed straight down as far from the eye as the tail that stays is long") {
    const auto loin = taped();
    const cutting_plan cuts = mixed_plan(tabulate(loin));
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
    // The strip steak keeps one inch.
    REQUIRE(cuts.spec_of(cuts.slabs[1]).name == "strip steak");
    const outline line = read_back(drawn[1].kind("trim").at(1).attributes.at("d"));
    const detail::flat_region tail(curve_of(drawn[1], tissue::tail)), eye(curve_of(drawn[1], tissue::eye));
    const auto [eye_left, eye_right] = eye.extent(&detail::flat_point::x);
    REQUIRE(line.points.size() == 2);
    for (const outline_point& p : line.points)
        CHECK(1000.0 * (p.across.value() - eye_right) == Approx(25.4).margin(0.011)); // two roundings
    // From one side of the tail to the other.
    const double x = line.points[0].across.value(), low = line.points[0].up.value(), high = line.points[1].up.value();
    CHECK(tail.contains({x, 0.5 * (low + high)}));
    for (const double beyond : {-0.0002, 0.0002})
        CHECK_FALSE(tail.contains({x, (beyond < 0.0 ? std::min(low, high) : std::max(low, high)) + beyond}));
    // What lies in front of it is the share of the tail that the trim leaves: as painted, and as drawn to 0.01 mm.
    const cut_face painted = cut_faces(loin, cuts).at(1);
    const double left = detail::share_left(tissue::tail, {.tail = 1.0_in}, painted.measured);
    const outline& whole = painted.painted.front().curve;
    REQUIRE(painted.painted.front().fill == tissue::tail);
    const double end = (painted.measured.width - painted.measured.tail.thickness).value();
    CHECK(area_left_of(whole, end + 0.0254) / area_left_of(whole, 1.0) == Approx(left).margin(1e-9));
    CHECK(area_left_of(curve_of(drawn[1], tissue::tail), x) / tail.area() ==
          Approx(left).margin(5e-4)); // the line and each corner rounded
}

TEST_CASE("the fat of a traced loin is trimmed along a parallel to the lean") {
    const traced_loin loin = traced();
    const cutting_plan cuts = traced_plan(tabulate(loin));
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
    const detail::flat_region eye(curve_of(drawn[0], tissue::eye)), whole(curve_of(drawn[0], tissue::fat_cover));
    const std::vector<xml_element> lines = drawn[0].kind("trim");
    REQUIRE(lines.size() == 2); // fat, and the tail that begins 10 mm from the eye
    const outline fat = read_back(lines[0].attributes.at("d"));
    REQUIRE(fat.points.size() > 250); // 1 mm apart around most of an eye of 130 x 65 mm
    for (const outline_point& p : fat.points) {
        const detail::flat_point at{p.across.value(), p.up.value()};
        CHECK(1000.0 * eye.distance_to_edge(at) == Approx(5.0).margin(0.015)); // a point and an edge, rounded
        CHECK((whole.contains(at) && !eye.contains(at)));
    }
    // 12 mm beyond the eye, from bottom to top of the tail.
    const outline tail = read_back(lines[1].attributes.at("d"));
    REQUIRE(tail.points.size() == 2);
    for (const outline_point& p : tail.points) CHECK(p.across / millimetre == Approx(140.0 + 12.0).margin(0.01));
    CHECK(std::abs((tail.points[0].up - tail.points[1].up) / millimetre) == Approx(30.0).margin(0.01));
    CHECK(drawn[3].kind("trim").empty());
}

TEST_CASE("a dotted line divides the lean of a fillet into equal areas") {
    const traced_loin loin = traced();
    const cutting_plan cuts = traced_plan(tabulate(loin));
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
    REQUIRE(cuts.spec_of(cuts.slabs[1]).pieces == 2);
    const std::vector<xml_element> lines = drawn[1].kind("divide");
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].attributes.at("x1") == lines[0].attributes.at("x2"));
    const detail::flat_region eye(curve_of(drawn[1], tissue::eye));
    double left = 0.0, right = 0.0;
    for (int i = 0; i < 4000; ++i) {
        const double x = 0.2 * (i + 0.5) / 4000;
        (x < lines[0].number("x1") / 1000.0 ? left : right) += detail::total_length(eye.chords(x)) * 0.2 / 4000;
    }
    // Sampled on 400 lines over 200 mm: off by one of them at most, which is 0.5 x 65 mm2.
    CHECK(1e6 * std::abs(left - right) <= 2.0 * 0.5 * 65.0);
    CHECK(1e6 * (left + right) > 6000.0);
    CHECK(drawn[0].kind("divide").empty());
}

TEST_CASE("no label covers another, however many slabs and however long their names") {
    const auto loin = taped();
    const profile meat = tabulate(loin);
    cutting_plan cuts = mixed_plan(meat);
    check_labels(faces_svg(cut_faces(loin, cuts), cuts));
    for (cut_spec& spec : cuts.specs) spec.name += std::string(100, 'W');
    check_labels(faces_svg(cut_faces(loin, cuts), cuts, metric_kitchen));
    const cutting_plan one = lay_out(meat, specs(), {}, {{0, meat.cells(), slab_kind::portions, 2}});
    check_labels(faces_svg(cut_faces(loin, one), one));
    const cut_spec thin{.name = "thin", .thickness = 6.0_mm, .gluteus_medius = any_gluteus_medius, .kerf = 1.0_mm};
    const cutting_plan many = most_portions(meat, thin).plan;
    REQUIRE(many.slabs.size() > 50);
    check_labels(faces_svg(cut_faces(loin, many), many));
    const traced_loin other = traced();
    const cutting_plan traced_cuts = traced_plan(tabulate(other));
    check_labels(faces_svg(cut_faces(other, traced_cuts), traced_cuts));
}

TEST_CASE("the picture of faces is well-formed, fetches nothing, and has a title and a description") {
    const auto loin = taped();
    cutting_plan cuts = mixed_plan(tabulate(loin));
    cuts.specs[1].name = R"(<b>"&'</b>)";
    const std::string picture = faces_svg(cut_faces(loin, cuts), cuts);
    CHECK(fetched(picture).empty());
    CHECK(picture.find("http") == picture.rfind("http"));
    CHECK(picture.find("<b>") == std::string::npos);
    const std::vector<xml_element> elements = parse_xml(picture);
    CHECK(elements[0].attributes.at("role") == "img");
    REQUIRE(elements[1].name == "title");
    REQUIRE(elements[2].name == "desc");
    CHECK(elements[0].attributes.at("aria-labelledby") ==
          elements[1].attributes.at("id") + ' ' + elements[2].attributes.at("id"));
    CHECK_THAT(elements[2].text,
               ContainsSubstring(cuts.specs[1].name) && ContainsSubstring("sirloin face at 16 1/2 in."));
    CHECK(std::any_of(elements.begin(), elements.end(),
                      [&](const xml_element& e) { return e.name == "text" && e.text == cuts.specs[1].name; }));
}

TEST_CASE("only pictures from tape readings say that their curves are assumed") {
    const auto loin = taped();
    const cutting_plan cuts = mixed_plan(tabulate(loin));
    CHECK_THAT(faces_svg(cut_faces(loin, cuts), cuts), ContainsSubstring("From tape readings"));
    const traced_loin other = traced();
    const cutting_plan traced_cuts = traced_plan(tabulate(other));
    CHECK_THAT(faces_svg(cut_faces(other, traced_cuts), traced_cuts), !ContainsSubstring("From tape readings"));
}

TEST_CASE("the faces of typical and of corrected loins are drawn") {
    const typical_loin loin(5.4_kg, beef_strip_loin);
    const profile meat = tabulate(loin);
    const cutting_plan cuts = most_portions(meat, specs()[2]).plan;
    const std::vector<cut_face> plain = cut_faces(loin, cuts);
    CHECK(faces_in(faces_svg(plain, cuts)).size() == cuts.slabs.size() + 1);
    const slice_calibrated_loin<typical_loin> same{loin, {1.0, 1.0}};
    CHECK(faces_svg(cut_faces(same, cuts), cuts) == faces_svg(plain, cuts));
}

TEST_CASE("faces of a loin with its flank on the left are drawn with the flank on the left") {
    const auto loin = taped();
    const cutting_plan cuts = mixed_plan(tabulate(loin));
    const std::string right = faces_svg(cut_faces(loin, cuts), cuts);
    const std::string left = faces_svg(cut_faces(loin, cuts, loin_side::left), cuts);
    const std::vector<drawn_face> a = faces_in(right), b = faces_in(left);
    REQUIRE(a.size() == b.size());
    for (std::size_t i = 0; i < a.size(); ++i) {
        const outline all = read_back(a[i].kind("outline").at(0).attributes.at("d"));
        double across = 0.0;
        for (const outline_point& p : all.points) across = std::max(across, p.across.value());
        for (const tissue t : {tissue::eye, tissue::tail}) {
            const auto [from, to] = detail::flat_region(curve_of(a[i], t)).extent(&detail::flat_point::x);
            const auto [left_from, left_to] = detail::flat_region(curve_of(b[i], t)).extent(&detail::flat_point::x);
            CHECK(1e3 * left_from == Approx(1e3 * (across - to)).margin(0.021)); // up to four roundings
            CHECK(1e3 * left_to == Approx(1e3 * (across - from)).margin(0.021));
        }
        CHECK(a[i].kind("trim").size() == b[i].kind("trim").size());
    }
    CHECK_THAT(right, ContainsSubstring("chine edge on the left"));
    CHECK_THAT(left, ContainsSubstring("chine edge on the right"));
    CHECK_THAT(right + left, !ContainsSubstring("mirror"));
}

TEST_CASE("the picture of slanted faces shows what the model paints, each in its own room") {
    const auto loin = taped();
    const slanted_loin<calibrated_loin<measured_loin>> slanted(loin, {.about_vertical = 25.0 * degree});
    const profile meat = tabulate(slanted, 1.0_mm);
    const cutting_plan cuts = lay_out(meat, specs(), {},
                                      {{0, 150, slab_kind::loose, 0},
                                       {150, 190, slab_kind::portions, 0},
                                       {190, 300, slab_kind::portions, 2},
                                       {300, meat.cells(), slab_kind::loose, 0}});
    const std::string picture = faces_svg(cut_faces(slanted, cuts), cuts);
    const std::vector<drawn_face> drawn = faces_in(picture);
    REQUIRE(drawn.size() == 5);
    double widest = 0.0;
    for (std::size_t i = 1; i < 4; ++i) {
        const face expected = slanted.face_at(cuts.slabs[i].start);
        const by_tissue<double> seen = seen_areas(drawn[i]);
        for (const tissue t : all_tissues) {
            CAPTURE(i, name_of(t));
            // As straight faces, and strips and lines of the slanted loin: half a per cent of the face.
            CHECK(std::abs(seen[t] - in_mm2(expected.areas[t])) <= 0.006 * in_mm2(expected.areas.sum()) + 4.2);
        }
        const auto [from, to] = detail::flat_region(read_back(drawn[i].kind("outline").at(0).attributes.at("d")))
                                    .extent(&detail::flat_point::x);
        widest = std::max(widest, to);
        CHECK_FALSE(drawn[i].kind("eye").empty());
    }
    CHECK(1e3 * widest <
          8.4 * 25.4 / std::cos(25.0 * 3.14159265 / 180.0) + 1.0); // no room for what the faces move across
    check_labels(picture);
}

TEST_CASE("a traced silverskin is drawn as a band under the fat, and the fat trimmed along it") {
    const traced_loin bare = traced();
    const traced_loin loin(300.0_mm, bare.faces(), 2.0_mm);
    const cutting_plan cuts = traced_plan(tabulate(loin));
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
    const by_tissue<double> seen = seen_areas(drawn.front());
    const face expected = loin.face_at(0.0_mm);
    for (const tissue t : all_tissues) {
        CAPTURE(name_of(t));
        CHECK(std::abs(seen[t] - in_mm2(expected.areas[t])) <= 8.0); // two decimals, as of bare faces
    }
    const detail::flat_region skin(curve_of(drawn[0], tissue::connective)), eye(curve_of(drawn[0], tissue::eye));
    const outline line = read_back(drawn[0].kind("trim").at(0).attributes.at("d"));
    REQUIRE(line.points.size() > 200);
    for (const outline_point& p : line.points) {
        const detail::flat_point at{p.across.value(), p.up.value()};
        CHECK(1e3 * skin.distance_to_edge(at) == Approx(5.0).margin(0.015));
        CHECK(1e3 * eye.distance_to_edge(at) == Approx(7.0).margin(0.025)); // 2 mm of arcs of 15 degrees
    }
}

TEST_CASE("faces of another loin or plan, or without outlines, are refused") {
    const auto loin = taped();
    const cutting_plan cuts = mixed_plan(tabulate(loin));
    CHECK_THROWS_WITH(cut_faces(traced(), cuts), StartsWith("plan.extent: got 419.1 mm, expected"));
    std::vector<cut_face> faces = cut_faces(loin, cuts);
    for (cut_face& f : faces) f.painted.clear();
    CHECK_THROWS_WITH(faces_svg(faces, cuts), StartsWith("faces: got no outlines"));
    faces.pop_back();
    CHECK_THROWS_WITH(faces_svg(faces, cuts), StartsWith("faces: got 6, expected"));
}

/// A lean of straight edges in fat all around, 8 mm of it above. Invented.
traced_loin square_cornered() {
    const traced_face f{.at = 0.0_mm,
                        .whole = outline_from({{0, 0}, {180, 0}, {180, 78}, {0, 78}}, 1.0_mm),
                        .eye = outline_from({{20, 10}, {160, 10}, {160, 70}, {20, 70}}, 1.0_mm)};
    return {300.0_mm, {f}};
}

/// A slab that keeps so much fat, and loose meat behind it.
cutting_plan one_slab(const profile& loin, length keep, int pieces = 1) {
    std::vector<cut_spec> wanted{{.name = "slab", .thickness = {1.0_cm, 20.0_cm}, .pieces = pieces}};
    wanted[0].trim.fat_cover = keep;
    return lay_out(loin, wanted, {}, {{0, 200, slab_kind::portions, 0}, {200, loin.cells(), slab_kind::loose, 0}});
}

TEST_CASE("around a corner that juts out the trim line is an arc") {
    const traced_loin loin = square_cornered();
    const cutting_plan cuts = one_slab(tabulate(loin), 6.0_mm);
    const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
    const std::vector<xml_element> trims = drawn[0].kind("trim");
    REQUIRE(trims.size() == 1);
    const outline line = read_back(trims[0].attributes.at("d"));
    // Points a millimetre apart at most, each 6 mm from the lean; the middle of a chord of an arc of 90/8 degrees is nearer
    // by a part in 200.
    const detail::flat_region eye(curve_of(drawn[0], tissue::eye));
    for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
        const outline_point a = line.points[i], b = line.points[i + 1];
        CHECK(std::hypot((b.across - a.across) / millimetre, (b.up - a.up) / millimetre) <= 6.0 * 0.1965 + 0.01);
        const auto from_lean = [&](outline_point p) {
            return 1000.0 * eye.distance_to_edge({p.across.value(), p.up.value()});
        };
        CHECK(from_lean(a) == Approx(6.0).margin(0.01));
        CHECK(from_lean({0.5 * (a.across + b.across), 0.5 * (a.up + b.up)}) == Approx(6.0).margin(0.04));
    }
    REQUIRE(line.points.size() > 300);
}

TEST_CASE("a trim line is drawn where more than a twentieth of a millimetre comes off") {
    const prism_loin loin{.length = 300.0_mm, .face = {.width = 180.0_mm, .depth = 70.0_mm, .fat_cover = 10.0_mm}};
    const profile table = tabulate(loin);
    const auto lines = [&](double keep) {
        const cutting_plan cuts = one_slab(table, keep * millimetre);
        return faces_in(faces_svg(cut_faces(loin, cuts), cuts))[0].kind("trim").size();
    };
    CHECK(lines(9.94) == 1);
    CHECK(lines(9.96) == 0);
    CHECK(lines(10.0) == 0);
    CHECK(lines(10.04) == 0);
}

TEST_CASE("n pieces have n - 1 dotted lines, with as much lean between any two") {
    const traced_loin loin = square_cornered();
    const profile table = tabulate(loin);
    for (const int pieces : {1, 2, 3, 5}) {
        const cutting_plan cuts = one_slab(table, 0.0_mm, pieces);
        const std::vector<drawn_face> drawn = faces_in(faces_svg(cut_faces(loin, cuts), cuts));
        const std::vector<xml_element> lines = drawn[0].kind("divide");
        REQUIRE(lines.size() == static_cast<std::size_t>(pieces - 1));
        // All that stays is the eye, a box from 20 to 160 mm; sampled on 400 lines over 180 mm.
        for (std::size_t k = 0; k < lines.size(); ++k) {
            CHECK(lines[k].number("x1") == Approx(20.0 + 140.0 * static_cast<double>(k + 1) / pieces).margin(0.45));
            CHECK(lines[k].attributes.at("x1") == lines[k].attributes.at("x2"));
            CHECK(std::abs(lines[k].number("y2") - lines[k].number("y1")) == Approx(60.0).margin(0.01));
        }
    }
}

TEST_CASE("dashed and dotted lines are explained where there are any") {
    const traced_loin loin = square_cornered();
    const profile table = tabulate(loin);
    for (const bool trimmed : {false, true})
        for (const int pieces : {1, 2}) {
            const cutting_plan cuts = one_slab(table, trimmed ? 3.0_mm : 30.0_mm, pieces);
            const std::string picture = faces_svg(cut_faces(loin, cuts), cuts);
            const std::vector<xml_element> elements = parse_xml(picture);
            CHECK(of_kind(elements, "trim").empty() == !trimmed);
            CHECK(of_kind(elements, "divide").empty() == (pieces == 1));
            CHECK((picture.find("Dashed: trim to here.") != std::string::npos) == trimmed);
            CHECK((picture.find("Dotted: divide into equal weights.") != std::string::npos) == (pieces == 2));
        }
}

} // namespace face_pictures_test
