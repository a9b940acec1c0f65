// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/loin_pictures.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>

#include "loin/mesh_shapes.hpp"
#include "report/sample.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace loin_pictures_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

/// A model of one's own that knows areas and no outline.
struct unmeasured_loin {
    length long_{};
    [[nodiscard]] length extent() const { return long_; }
    [[nodiscard]] face face_at(length /*at*/) const {
        face f;
        f.areas[tissue::eye] = 80.0_cm2;
        f.areas[tissue::connective] = 1.0_cm2;
        return f;
    }
};

std::vector<double> cut_positions(const cutting_plan& cuts) {
    std::vector<double> at;
    for (std::size_t i = 0; i + 1 < cuts.slabs.size(); ++i)
        at.push_back((cuts.slabs[i].start + cuts.slabs[i].thickness) / millimetre);
    return at;
}

/// Half of the fourth decimal, which is the last that is written, and a little for the way back.
constexpr double written = 0.00005 + 1e-9;

void check_picture(const std::string& picture, const cutting_plan& cuts) {
    const std::vector<xml_element> elements = parse_xml(picture);
    REQUIRE(elements.front().name == "svg");

    const std::vector<double> expected = cut_positions(cuts);
    const std::vector<xml_element> lines = of_kind(elements, "cut");
    REQUIRE(lines.size() == expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        CHECK(std::abs(lines[i].number("x1") - expected[i]) <= written);
        CHECK(lines[i].attributes.at("x1") == lines[i].attributes.at("x2"));
    }

    // Numbers 1 to n, each in a disc that no other touches.
    std::vector<xml_element> discs;
    for (const xml_element& e : elements)
        if (e.name == "circle" && e.attributes.count("stroke") == 1) discs.push_back(e);
    REQUIRE(discs.size() == cuts.slabs.size());
    for (std::size_t i = 0; i < discs.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            CHECK(std::hypot(discs[i].number("cx") - discs[k].number("cx"),
                             discs[i].number("cy") - discs[k].number("cy")) >= 2.0 * discs[i].number("r"));
    for (std::size_t i = 1; i <= cuts.slabs.size(); ++i)
        CHECK(std::count_if(elements.begin(), elements.end(), [&](const xml_element& e) {
                  return e.name == "text" && e.text == std::to_string(i) && e.attributes.count("transform") == 0;
              }) >= 2); // in the disc and in the legend

    // Nothing from elsewhere: the only address is the name space.
    CHECK(fetched(picture).empty());
    CHECK(picture.find("http") == picture.rfind("http"));
    CHECK(picture.find("<script") == std::string::npos);
}

void check_both(const cutting_plan& cuts, const profile& loin) {
    for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
        check_picture(view_from_above_svg(cuts, outline_of(loin), units), cuts);
        check_picture(view_from_side_svg(cuts, outline_of(loin), units), cuts);
    }
}

/// The box around a path of M and L.
struct box {
    double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;

    explicit box(const std::string& path) {
        std::string numbers = path;
        for (char& c : numbers)
            if (c == 'M' || c == 'L' || c == 'Z') c = ' ';
        std::istringstream in(numbers);
        for (double x = 0.0, y = 0.0; in >> x >> y;) {
            left = std::min(left, x), right = std::max(right, x);
            top = std::min(top, y), bottom = std::max(bottom, y);
        }
    }
};

/// Width and height of a path of M and L.
std::pair<double, double> size_of(const std::string& path) {
    const box b(path);
    return {b.right - b.left, b.bottom - b.top};
}

box box_of(const std::string& picture, tissue t) {
    return box(of_kind(parse_xml(picture), std::string(name_of(t))).at(0).attributes.at("d"));
}

} // namespace

TEST_CASE("both pictures draw every cut at its position and number every slab") {
    const profile loin = meat();
    check_both(mixed_plan(loin), loin);
    check_both(least_waste(loin, specs(), rules).plan, loin);
}

TEST_CASE("slabs of any number and thinness keep their labels apart") {
    const profile loin = meat();
    const cut_spec thin{.name = "thin", .thickness = 6.0_mm, .gluteus_medius = any_gluteus_medius, .kerf = 1.0_mm};
    const cutting_plan many = most_portions(loin, thin).plan;
    REQUIRE(many.slabs.size() > 50);
    check_both(many, loin);

    std::vector<grid_slab> pairs;
    for (std::size_t at = 0; at < loin.cells();) {
        for (const std::size_t wide : {4U, 60U}) {
            const std::size_t to = std::min(at + wide, loin.cells());
            if (at < to) pairs.push_back({at, to, wide == 4U ? slab_kind::loose : slab_kind::portions, 0});
            at = to;
        }
    }
    check_both(lay_out(loin, specs(), {}, pairs), loin);

    // A few thin ones, so that all numbers stand in one row.
    std::vector<grid_slab> few{{0, 400, slab_kind::portions, 2}};
    for (std::size_t at = 400; at < 432; at += 8) few.push_back({at, at + 8, slab_kind::portions, 2});
    few.push_back({432, loin.cells(), slab_kind::portions, 2});
    check_both(lay_out(loin, specs(), {}, few), loin);
}

TEST_CASE("a plan of one slab and a plan without portions are drawn") {
    const profile loin = meat();
    check_both(lay_out(loin, specs(), {}, {{0, loin.cells(), slab_kind::portions, 2}}), loin);
    check_both(lay_out(loin, specs(), {}, {{0, loin.cells(), slab_kind::loose, 0}}), loin);
}

TEST_CASE("the outline is drawn in true proportions") {
    const prism_loin prism{.length = 400.0_mm, .face = {.width = 180.0_mm, .depth = 70.0_mm, .fat_cover = 8.0_mm}};
    const profile loin = tabulate(prism);
    const cutting_plan cuts = lay_out(loin, specs(), {}, {{0, loin.cells(), slab_kind::portions, 0}});
    for (const auto& [picture, height] : {std::pair{view_from_above_svg(cuts, outline_of(loin)), 180.0},
                                          std::pair{view_from_side_svg(cuts, outline_of(loin)), 70.0}}) {
        const std::vector<xml_element> elements = parse_xml(picture);
        const auto [wide, high] = size_of(of_kind(elements, "outline").at(0).attributes.at("d"));
        CHECK(wide == Approx(400.0).epsilon(1e-4)); // two decimals are written
        CHECK(high == Approx(height).epsilon(1e-4));
        // The view box is not stretched: 960 wide, and the height is rounded to one.
        std::istringstream box(elements[0].attributes.at("viewBox"));
        double x = 0.0, y = 0.0, w = 0.0, h = 0.0;
        box >> x >> y >> w >> h;
        CHECK(elements[0].number("height") == Approx(elements[0].number("width") * h / w).margin(0.5));
    }
}

TEST_CASE("each view draws the tissues it can show, and only those there are") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const auto count = [](const std::string& picture, tissue t) {
        return of_kind(parse_xml(picture), std::string(name_of(t))).size();
    };
    const std::string above = view_from_above_svg(cuts, outline_of(loin)),
                      side = view_from_side_svg(cuts, outline_of(loin));
    CHECK(count(above, tissue::eye) == 1);
    CHECK(count(above, tissue::gluteus_medius) == 1);
    CHECK(count(above, tissue::tail) == 1);
    CHECK(count(above, tissue::fat_cover) == 0);
    CHECK(count(side, tissue::eye) == 1);
    CHECK(count(side, tissue::gluteus_medius) == 1);
    CHECK(count(side, tissue::fat_cover) == 1);
    CHECK(count(side, tissue::connective) == 0);
    const profile lean = tabulate(prism_loin{.length = 300.0_mm, .face = {.width = 150.0_mm, .depth = 60.0_mm}});
    const cutting_plan whole = lay_out(lean, specs(), {}, {{0, lean.cells(), slab_kind::portions, 0}});
    CHECK(count(view_from_above_svg(whole, outline_of(lean)), tissue::gluteus_medius) == 0);
    CHECK(count(view_from_above_svg(whole, outline_of(lean)), tissue::tail) == 0);
    CHECK(count(view_from_side_svg(whole, outline_of(lean)), tissue::fat_cover) == 0);
}

TEST_CASE("the fat cover is as deep as measured and its trim line as the spec says") {
    const prism_loin prism{.length = 400.0_mm, .face = {.width = 180.0_mm, .depth = 70.0_mm, .fat_cover = 12.0_mm}};
    const profile loin = tabulate(prism);
    std::vector<cut_spec> wanted = specs();
    wanted[0].trim = {.fat_cover = 5.0_mm};
    const cutting_plan cuts =
        lay_out(loin, wanted, {}, {{0, 400, slab_kind::portions, 0}, {400, loin.cells(), slab_kind::loose, 0}});
    const std::vector<xml_element> elements = parse_xml(view_from_side_svg(cuts, outline_of(loin)));
    const auto fat = size_of(of_kind(elements, "fat cover").at(0).attributes.at("d"));
    CHECK(fat.second == Approx(12.0).margin(0.02));
    const std::vector<xml_element> trims = of_kind(elements, "trim");
    REQUIRE(trims.size() == 1);
    std::istringstream first(trims[0].attributes.at("d").substr(1));
    double x = 0.0, y = 0.0;
    first >> x >> y;
    CHECK(y == Approx(12.0 - 5.0).margin(0.02)); // downwards from the top of the fat
}

TEST_CASE("a loin whose outline is not known is drawn and says so") {
    const profile loin = tabulate(unmeasured_loin{500.0_mm});
    REQUIRE_FALSE(outline_of(loin).measured);
    const cutting_plan cuts =
        lay_out(loin, specs(), {}, {{0, 300, slab_kind::portions, 0}, {300, loin.cells(), slab_kind::loose, 0}});
    check_both(cuts, loin);
    CHECK_THAT(view_from_above_svg(cuts, outline_of(loin)), ContainsSubstring("Outline not measured"));
    CHECK_THAT(view_from_side_svg(cuts, outline_of(loin)), ContainsSubstring("connective tissue"));
    const profile known = meat();
    CHECK_THAT(view_from_above_svg(mixed_plan(known), outline_of(known)), !ContainsSubstring("Outline not measured"));
}

TEST_CASE("a scan that runs out to a point at both ends is drawn as it is") {
    const scanned_loin ball(tranche_test::ball(0.1, 40, 20),
                            {.along = mesh_axis::z, .up = mesh_axis::x, .probes = {{.fat_cover = 5.0_mm}}});
    const loin_outline outline = outline_of(tabulate(ball));
    CHECK(outline.measured);
    CHECK(outline.points.front().width == 0.0);
    CHECK(outline.points.back().depth == Approx(0.0).margin(1e-3)); // at the pole but for rounding: below a micrometre
    CHECK(outline.widest == Approx(200.0).margin(0.01));
}

TEST_CASE("an outline that is not known weighs what the loin weighs") {
    // The faces drawn are 0.80 × width × depth at 1050 kg/m3, which is how the outline is documented.
    const profile loin = tabulate(unmeasured_loin{500.0_mm});
    const loin_outline outline = outline_of(loin);
    double cubic_millimetres = 0.0;
    for (std::size_t i = 1; i < outline.points.size(); ++i) {
        const auto &a = outline.points[i - 1], &b = outline.points[i];
        cubic_millimetres += 0.5 * (a.width * a.depth + b.width * b.depth) * (b.at - a.at) * 0.80;
    }
    CHECK(cubic_millimetres * 1e-9 * 1050.0 == Approx(to_mass(loin.total()).value()).epsilon(1e-6));
}

TEST_CASE("an outline read between its points lies between them") {
    const loin_outline outline = outline_of(meat(), 10);
    CHECK(outline.measured);
    CHECK(outline.points.front().at == 0.0);
    CHECK(outline.points.back().at == Approx(419.1));
    for (std::size_t i = 1; i < outline.points.size(); ++i) {
        const auto &a = outline.points[i - 1], &b = outline.points[i];
        CHECK(outline.there(0.5 * (a.at + b.at)).width == Approx(0.5 * (a.width + b.width)));
    }
    CHECK(outline.there(-5.0).width == outline.points.front().width);
    CHECK(outline.there(1e6).depth == outline.points.back().depth);
}

TEST_CASE("a flank on the left is drawn at the top from above, with all that lies on it") {
    // Seen from the rib end, which is on the left of the picture, left is away from whoever looks at it.
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    loin_outline outline = outline_of(loin);
    const std::string right = view_from_above_svg(cuts, outline);
    outline.flank = loin_side::left;
    const std::string left = view_from_above_svg(cuts, outline);
    const double across = outline.widest;
    for (const tissue t : {tissue::eye, tissue::gluteus_medius, tissue::tail}) {
        const box a = box_of(right, t), b = box_of(left, t);
        CAPTURE(name_of(t));
        CHECK(b.left == a.left);
        CHECK(b.right == a.right);
        CHECK(b.top == Approx(across - a.bottom).margin(0.011)); // two roundings
        CHECK(b.bottom == Approx(across - a.top).margin(0.011));
    }
    CHECK(box_of(right, tissue::tail).top > box_of(right, tissue::eye).top);
    CHECK(box_of(left, tissue::tail).top < box_of(left, tissue::eye).top);
    const auto paths = [](const std::string& picture, const std::string& what) {
        std::vector<box> boxes;
        for (const xml_element& e : of_kind(parse_xml(picture), what)) boxes.emplace_back(e.attributes.at("d"));
        return boxes;
    };
    const std::vector<box> a = paths(right, "trim"), b = paths(left, "trim");
    REQUIRE(a.size() == b.size());
    REQUIRE_FALSE(a.empty());
    for (std::size_t i = 0; i < a.size(); ++i) CHECK(b[i].top == Approx(across - a[i].bottom).margin(0.011));
    CHECK_THAT(right, ContainsSubstring("chine edge at the top"));
    CHECK_THAT(left, ContainsSubstring("chine edge at the bottom"));
    check_picture(left, cuts);
    CHECK_THAT(view_from_side_svg(cuts, outline), ContainsSubstring("seen from the chine"));
}

TEST_CASE("from the side the gluteus medius and the silverskin are drawn where the faces have them") {
    const measured_loin loin{.length = 400.0_mm,
                             .stations = {{.width = 180.0_mm, .depth = 70.0_mm, .fat_cover = 10.0_mm}},
                             .gluteus_medius = {.onset = 300.0_mm, .share_at_end = 0.3},
                             .shape = {.silverskin = 2.0_mm}};
    const profile table = tabulate(loin);
    const cutting_plan cuts = lay_out(table, specs(), {}, {{0, table.cells(), slab_kind::loose, 0}});
    const loin_outline outline = outline_of(loin, 160);
    const std::string side = view_from_side_svg(cuts, outline);
    const box muscle = box_of(side, tissue::gluteus_medius), skin = box_of(side, tissue::connective);
    CHECK(muscle.left == Approx(300.0).margin(2.51)); // a place every 2.5 mm
    CHECK(muscle.right == Approx(400.0));
    // The silhouette of the lean beyond an upright, at the sirloin face.
    const painted_face last = loin.painted_at(400.0_mm);
    double low = 1e9, high = -1e9;
    for (const painted_outline& p : last)
        if (p.fill == tissue::gluteus_medius)
            for (const outline_point& corner : p.curve.points)
                low = std::min<double>(low, corner.up / 1.0_mm), high = std::max<double>(high, corner.up / 1.0_mm);
    CHECK(muscle.bottom - muscle.top == Approx(high - low).margin(0.011));
    // A band of 2 mm under 10 mm of fat, read straight down in the middle; the highest corner lies beside it.
    CHECK(skin.bottom - skin.top == Approx(2.0).margin(0.02));
    CHECK(skin.top == Approx(10.0).margin(0.02));
    CHECK_THAT(side, ContainsSubstring("Gluteus medius is drawn as the faces have it"));
}

TEST_CASE("names are escaped in pictures") {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    cuts.specs[1].name = R"(<b>"&'</b>)";
    const std::string picture = view_from_above_svg(cuts, outline_of(loin));
    check_picture(picture, cuts);
    CHECK(picture.find("<b>") == std::string::npos);
    const std::vector<xml_element> elements = parse_xml(picture);
    CHECK(std::any_of(elements.begin(), elements.end(),
                      [&](const xml_element& e) { return e.text.find(cuts.specs[1].name) != std::string::npos; }));
    CHECK(detail::escape_xml("a<b>&\"'\x01") == "a&lt;b&gt;&amp;&quot;&#39; ");
}

TEST_CASE("a picture has a title and a description for those who do not see it") {
    const profile loin = meat();
    const std::vector<xml_element> elements = parse_xml(view_from_side_svg(mixed_plan(loin), outline_of(loin)));
    CHECK(elements[0].attributes.at("role") == "img");
    REQUIRE(elements[1].name == "title");
    REQUIRE(elements[2].name == "desc");
    CHECK(elements[0].attributes.at("aria-labelledby") ==
          elements[1].attributes.at("id") + ' ' + elements[2].attributes.at("id"));
    CHECK_THAT(elements[2].text, ContainsSubstring("fillet") && ContainsSubstring("cut at, from the rib end"));
}

TEST_CASE("a plan of another loin is refused") {
    const profile loin = meat(), other = tabulate(unmeasured_loin{300.0_mm});
    CHECK_THROWS_AS(view_from_above_svg(mixed_plan(loin), outline_of(other)), invalid_input);
    CHECK_THROWS_AS(view_from_side_svg(mixed_plan(loin), outline_of(other)), invalid_input);
}

TEST_CASE("text is fitted by how wide its letters are drawn") {
    CHECK(detail::ems_of("") == 0.0);
    CHECK(detail::ems_of("WWWW") > detail::ems_of("aaaa"));
    CHECK(detail::ems_of("aaaa") > detail::ems_of("iiii"));
    CHECK(detail::fitted("fillet", 10.0) == "fillet");
    for (const std::string& text :
         {std::string(40, 'W'), std::string(40, 'i'), std::string("端のステーキ端のステーキ")}) {
        CHECK(detail::ems_of(detail::fitted(text, 6.0)) <= 6.0);
        CHECK_THAT(detail::fitted(text, 6.0), EndsWith("…"));
        CHECK(detail::fitted(text, detail::ems_of(text)) == text);
    }
}

TEST_CASE("no name inside a slab runs beyond the lean") {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    for (cut_spec& spec : cuts.specs) spec.name += std::string(100, 'W');
    const std::vector<xml_element> elements = parse_xml(view_from_above_svg(cuts, outline_of(loin)));
    const double em = elements[0].number("font-size");
    std::size_t names = 0;
    for (const xml_element& e : elements) {
        if (e.name != "text" || e.attributes.count("transform") == 0 || e.attributes.count("font-weight") == 0 ||
            e.attributes.at("font-weight") != "bold")
            continue;
        ++names;
        // Bold letters are a tenth wider. Here the eye is 6.4 to 6.5 in wide, and a fillet half of it.
        const double share = e.text.find("fillet") == std::string::npos ? 1.0 : 0.5;
        CHECK(e.number("y") + 1.1 * em * detail::ems_of(e.text) <= share * 6.5 * 25.4);
        CHECK_THAT(e.text, EndsWith("…"));
    }
    CHECK(names == 3);
}

TEST_CASE("figures, legend, key and notes stand below the loin, one under the other and inside the picture") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    for (const std::string& picture :
         {view_from_above_svg(cuts, outline_of(loin)), view_from_side_svg(cuts, outline_of(loin), metric_kitchen)}) {
        const std::vector<xml_element> elements = parse_xml(picture);
        const double em = elements[0].number("font-size");
        std::istringstream view(elements[0].attributes.at("viewBox"));
        double x = 0.0, y = 0.0, wide = 0.0, high = 0.0;
        view >> x >> y >> wide >> high;
        const auto group = std::find_if(elements.begin(), elements.end(), [](const auto& e) { return e.name == "g"; });
        std::istringstream moved(group->attributes.at("transform").substr(std::string("translate(").size()));
        double right = 0.0, down = 0.0;
        moved >> right >> down;
        // The group ends with the text about the figures at the cuts.
        const auto about = std::find_if(elements.begin(), elements.end(), [](const auto& e) {
            return e.text.find("figures at the cuts") != std::string::npos;
        });
        REQUIRE(about != elements.end());
        const double scale = down + about->number("y");
        for (auto e = group; e != about; ++e) {
            if (e->name != "text" || e->attributes.count("transform") == 0) continue;
            // Upright, and ends where it is anchored: it hangs down from there, and above the scale.
            CHECK(down + e->number("y") + 0.92 * em * detail::ems_of(e->text) <= scale - 0.5 * em);
        }
        double last = scale;
        std::size_t rows = 0, slabs = 0, notes = 0;
        for (auto e = about + 1; e != elements.end(); ++e) {
            if (e->name != "text") continue;
            const double at = e->number("y"),
                         size = e->attributes.count("font-size") == 1 ? e->number("font-size") : em;
            const bool number = e->attributes.at("text-anchor") == "end";
            slabs += number ? 1U : 0U;
            CHECK(at + 0.25 * size <= high);
            CHECK(e->number("x") <= wide);
            notes += e->text.find("Seen through") == 0 || e->text.find("On the board") == 0 ? 1U : 0U;
            if (at > last) { // a new row
                CHECK(at - last >= size);
                ++rows;
            } else {
                CHECK((at == last || slabs > 1)); // another column begins at the top
            }
            last = at;
        }
        CHECK(slabs == cuts.slabs.size());
        CHECK(rows >= 3);
        CHECK(notes == 1);
    }
}

TEST_CASE("a name is left out where a piece leaves no room for it") {
    // Lean of 180 mm across in pieces, less 1.6 em at both ends together: three em are needed.
    const prism_loin prism{.length = 400.0_mm, .face = {.width = 180.0_mm, .depth = 70.0_mm}};
    const profile loin = tabulate(prism);
    cutting_plan cuts =
        lay_out(loin, specs(), {}, {{0, 200, slab_kind::portions, 1}, {200, loin.cells(), slab_kind::loose, 0}});
    const auto names = [&](int pieces) {
        cuts.specs[1].pieces = pieces;
        const std::string picture = view_from_above_svg(cuts, outline_of(loin));
        std::size_t found = 0;
        for (const xml_element& e : parse_xml(picture))
            found += e.name == "text" && e.attributes.count("transform") == 1 &&
                             e.attributes.count("font-weight") == 1 && e.attributes.at("font-weight") == "bold"
                         ? 1U
                         : 0U;
        return found;
    };
    const double em = parse_xml(view_from_above_svg(cuts, outline_of(loin)))[0].number("font-size");
    const int most = static_cast<int>(180.0 / (4.6 * em));
    REQUIRE(most > 1);
    CHECK(names(1) == 1);
    CHECK(names(most) == 1);
    CHECK(names(most + 1) == 0);
}

TEST_CASE("a line leads from each number down to the middle of its slab") {
    const profile loin = meat();
    for (const cutting_plan& cuts : {mixed_plan(loin), least_waste(loin, specs(), rules).plan}) {
        const std::vector<xml_element> elements = parse_xml(view_from_above_svg(cuts, outline_of(loin)));
        const box meat_drawn(of_kind(elements, "outline").at(0).attributes.at("d"));
        std::vector<xml_element> discs;
        for (const xml_element& e : elements)
            if (e.name == "circle" && e.attributes.count("stroke") == 1) discs.push_back(e);
        const std::vector<xml_element> lines = of_kind(elements, "leader");
        REQUIRE(discs.size() == cuts.slabs.size());
        REQUIRE(lines.size() >= 2 * discs.size());
        for (std::size_t i = 0; i < discs.size(); ++i) {
            const xml_element &down = lines[2 * i], &across = lines[2 * i + 1];
            CHECK(down.number("x1") == discs[i].number("cx"));
            CHECK(down.number("y1") == discs[i].number("cy"));
            CHECK(down.number("x2") == down.number("x1"));
            CHECK(down.number("y2") > down.number("y1"));
            CHECK(down.number("y2") < meat_drawn.top);
            CHECK(across.number("x1") == down.number("x2"));
            CHECK(across.number("y1") == down.number("y2"));
            CHECK(std::abs(across.number("x2") - (cuts.slabs[i].start + 0.5 * cuts.slabs[i].thickness) / millimetre) <=
                  written);
            CHECK(across.number("y2") > meat_drawn.top);
            CHECK(across.number("y2") < meat_drawn.bottom);
        }
    }
}

} // namespace loin_pictures_test
