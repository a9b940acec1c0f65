// What pictures are drawn on: marks of axes, letters in their room, shapes with patterns.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/detail/canvas.hpp>

#include <cmath>
#include <string>
#include <vector>

#include "report/xml.hpp"
#include "support/catch.hpp"

namespace canvas_test {

using namespace tranche;
using namespace tranche_test;

namespace {

/// An empty picture of 100 by 50, to draw on.
struct paper : detail::canvas<> {
    explicit paper(double least = 1.0, const std::string& unit = {}) : canvas<>("paper", 10.0, least) {
        begin(100.0, 50.0, "title", "description", detail::chart_patterns(), unit);
    }
    using canvas<>::disc;
    using canvas<>::end;
    using canvas<>::label;
    using canvas<>::line;
    using canvas<>::rect;
    using canvas<>::swatch;
};

xml_element only(paper& p, const std::string& what) {
    const auto found = of_kind(parse_xml(p.end()), what);
    REQUIRE(found.size() == 1);
    return found[0];
}

} // namespace

TEST_CASE("picture_axis: marks are round, stand a gap apart and no more than two and a half") {
    for (double size = 1e-4; size < 1e7; size *= 1.37)
        for (const double low : {0.0, 0.31 * size, -0.77 * size, -3.0 * size})
            for (const double gap : {20.0, 31.2, 46.4}) {
                const detail::picture_axis axis{.low = low, .high = low + size, .from = 378.0, .to = 66.0};
                const double step = axis.step(gap), apart = std::abs(axis.at(step) - axis.at(0.0));
                CAPTURE(size, low, gap, step);
                CHECK(apart >= gap * (1.0 - 1e-6));
                CHECK(apart <= 2.5 * gap * (1.0 + 1e-6));
                const double digit = step / std::pow(10.0, std::floor(std::log10(step) + 1e-9));
                CHECK((std::abs(digit - 1) < 1e-9 || std::abs(digit - 2) < 1e-9 || std::abs(digit - 5) < 1e-9));
                const std::vector<double> marks = axis.marks(step);
                CHECK(std::abs(static_cast<double>(marks.size()) - size / step) <= 1.0 + 1e-6);
                for (const double mark : marks) {
                    CHECK(std::abs(mark / step - std::round(mark / step)) <= 1e-6);
                    CHECK(axis.at(mark) >= 66.0 - 1e-6);
                    CHECK(axis.at(mark) <= 378.0 + 1e-6);
                }
            }
    CHECK(detail::picture_axis{.low = 0.0, .high = 3.0}.marks(1.0) == std::vector<double>{0.0, 1.0, 2.0, 3.0});
}

TEST_CASE("canvas: text with too little room shrinks as far as it may and is shortened then, by one rule for all") {
    for (const double least : {1.0, 2.0 / 3.0})
        for (const bool bold : {false, true})
            for (const double room : {10.0, 25.0, 40.0, 44.0, 64.0, 70.0, 200.0}) {
                paper p(least);
                const std::string text = "ten em o w";
                p.label(0.0, 20.0, text, {.what = "it", .bold = bold, .room = room});
                const xml_element e = only(p, "it");
                const double size = e.number("font-size"), whole = detail::width_of_text(text, 10.0, bold);
                CAPTURE(least, bold, room, e.text);
                CHECK((detail::width_of_text(e.text, size, bold) <= room + 1e-3 || e.text == "…"));
                CHECK(size >= 10.0 * least - 1e-3);
                CHECK((e.text == text) == (whole * least <= room * (1.0 + 1e-9)));
                if (whole <= room) CHECK(size == 10.0);
                if (size > 10.0 * least + 1e-3 && size < 10.0) CHECK(e.text == text); // shrunk only
            }
}

TEST_CASE("canvas: what reads upwards stands with its middle on the line it belongs to") {
    paper p;
    p.label(40.0, 30.0, "up", {.what = "it", .size = 0.8, .upwards = true});
    const xml_element e = only(p, "it");
    CHECK(e.number("x") == 40.0 + 0.35 * 8.0);
    CHECK(e.attributes.at("transform") == "rotate(-90 42.8 30)");
}

TEST_CASE("canvas: a pattern lies on a shape of its own, without what the shape is called") {
    paper p;
    p.rect("bar", 1.0, 2.0, 30.0, 4.0, {.colour = "#D55E00", .pattern = "stripes", .opacity = 0.5, .edge = {}});
    p.rect("frame", 5.0, 5.0, 6.0, 7.0, {.edge = {.width = 0.1}});
    const auto elements = parse_xml(p.end());
    const auto bar = of_kind(elements, "bar"), frame = of_kind(elements, "frame");
    REQUIRE(bar.size() == 1);
    CHECK(bar[0].attributes.at("fill") == "#D55E00");
    CHECK(bar[0].number("fill-opacity") == 0.5);
    CHECK(bar[0].number("stroke-width") == 0.5);
    std::vector<xml_element> over;
    for (const xml_element& e : elements)
        if (e.name == "rect" && e.attributes.at("fill") == "url(#paper-stripes)") over.push_back(e);
    REQUIRE(over.size() == 1);
    for (const char* side : {"x", "y", "width", "height"}) CHECK(over[0].number(side) == bar[0].number(side));
    CHECK(over[0].attributes.count("class") == 0);
    REQUIRE(frame.size() == 1);
    CHECK(frame[0].attributes.at("fill") == "none");
    CHECK(frame[0].attributes.count("fill-opacity") == 0);
    CHECK(frame[0].number("stroke-width") == 1.0);
}

TEST_CASE("canvas: swatches of a key leave room for the text between them") {
    paper p;
    const double next = p.swatch(3.0, 40.0, "WWWW", {.colour = "#56B4E9"});
    const auto elements = parse_xml(p.end());
    const auto key = of_kind(elements, "key");
    REQUIRE(key.size() == 2);
    CHECK(key[1].number("x") >= key[0].number("x") + key[0].number("width"));
    CHECK(next >= key[1].number("x") + detail::width_of_text("WWWW", key[1].number("font-size")));
}

TEST_CASE("canvas: a picture is 960 pixels wide in its proportions, or at the scale of a unit") {
    const xml_element pixels = parse_xml(paper().end())[0], true_scale = parse_xml(paper(1.0, "mm").end())[0];
    CHECK(pixels.attributes.at("viewBox") == "0 0 100 50");
    CHECK(pixels.attributes.at("width") == "960");
    CHECK(pixels.attributes.at("height") == "480");
    CHECK(true_scale.attributes.at("width") == "100mm");
    CHECK(true_scale.attributes.at("height") == "50mm");
    CHECK(pixels.attributes.at("aria-labelledby") == "paper-title paper-desc");
}

} // namespace canvas_test
