// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/cut_ruler.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

#include "report/sample.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace cut_ruler_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

/// Half of the fourth decimal, which is the last that is written, for two numbers that are added.
constexpr double written = 2 * 0.00005 + 1e-9;

struct strip {
    std::vector<xml_element> elements;
    double loin_at_left = 0.0; ///< mm of loin at x = 0 of the paper

    explicit strip(const std::string& svg) : elements(parse_xml(svg)) {
        const auto group = std::find_if(elements.begin(), elements.end(), [](const auto& e) { return e.name == "g"; });
        loin_at_left = -std::stod(group->attributes.at("transform").substr(std::string("translate(").size()));
    }
    [[nodiscard]] std::vector<double> cuts() const {
        std::vector<double> at;
        for (const xml_element& e : of_kind(elements, "cut")) {
            CHECK(e.attributes.at("x1") == e.attributes.at("x2"));
            CHECK(e.number("y1") == 0.0); // from the edge that lies along the loin
            at.push_back(e.number("x1"));
        }
        return at;
    }
    [[nodiscard]] xml_element edge() const { return of_kind(elements, "edge").at(0); }
    [[nodiscard]] std::vector<double> ticks() const {
        std::vector<double> at;
        const std::string path = of_kind(elements, "ticks").at(0).attributes.at("d");
        for (std::size_t m = path.find('M'); m != std::string::npos; m = path.find('M', m + 1))
            at.push_back(std::stod(path.substr(m + 1)));
        return at;
    }
};

void check_scale(const strip& s) {
    const xml_element& svg = s.elements.front();
    std::istringstream box(svg.attributes.at("viewBox"));
    double x = 1.0, y = 1.0, w = 0.0, h = 0.0;
    box >> x >> y >> w >> h;
    CHECK(x == 0.0);
    CHECK(y == 0.0);
    for (const auto& [name, size] : {std::pair{"width", w}, std::pair{"height", h}}) {
        const std::string text = svg.attributes.at(name);
        CHECK(text.substr(text.size() - 2) == "mm");
        CHECK(svg.number(name) == size); // one unit is one millimetre, both ways
    }
    const xml_element bar = of_kind(s.elements, "check").at(0);
    const bool inches = std::any_of(s.elements.begin(), s.elements.end(), [](const xml_element& e) {
        return e.name == "text" && e.text.find("must be 4 in") != std::string::npos;
    });
    CHECK(bar.number("x2") - bar.number("x1") == (inches ? 101.6 : 100.0)); // 4 in is 101.6 mm, exactly
    // No group scales what is in it.
    for (const xml_element& e : s.elements)
        if (e.name == "g")
            CHECK_THAT(e.attributes.at("transform"), StartsWith("translate(") && !ContainsSubstring("scale"));
    CHECK(s.edge().number("x2") - s.loin_at_left <= w);
    CHECK(s.edge().number("x1") - s.loin_at_left >= 0.0);
}

void check_labels_apart(const strip& s) {
    std::vector<double> at;
    double size = 0.0;
    for (const xml_element& e : s.elements)
        if (e.name == "text" && e.attributes.count("transform") == 1) {
            at.push_back(e.number("x"));
            size = e.number("font-size");
        }
    std::sort(at.begin(), at.end());
    for (std::size_t i = 1; i < at.size(); ++i) CHECK(at[i] - at[i - 1] >= size);
    const std::vector<xml_element>& all = s.elements;
    std::vector<xml_element> discs;
    std::copy_if(all.begin(), all.end(), std::back_inserter(discs), [](const auto& e) { return e.name == "circle"; });
    for (std::size_t i = 1; i < discs.size(); ++i)
        CHECK(discs[i].number("cx") - discs[i - 1].number("cx") >= 2.0 * discs[i].number("r"));
}

} // namespace

TEST_CASE("the ruler is at true scale and marks every cut at its distance") {
    const cutting_plan cuts = mixed_plan(meat());
    for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
        const strip s(cut_ruler_svg(cuts, units));
        check_scale(s);
        check_labels_apart(s);
        CHECK(s.edge().number("x1") == 0.0);
        CHECK(std::abs(s.edge().number("x2") - cuts.extent / millimetre) <= written);
        const std::vector<double> marks = s.cuts();
        REQUIRE(marks.size() == cuts.slabs.size() - 1);
        for (std::size_t i = 0; i < marks.size(); ++i)
            CHECK(std::abs(marks[i] - (cuts.slabs[i].start + cuts.slabs[i].thickness) / millimetre) <= written);
    }
}

TEST_CASE("strips tile the loin and mark every cut exactly once") {
    const profile loin = meat();
    for (const cutting_plan& cuts : {mixed_plan(loin), most_portions(loin, specs(), rules).plan})
        for (const kitchen_units& units : {us_kitchen, metric_kitchen})
            for (const length& page : {100.0 * millimetre, 180.0 * millimetre, 277.0 * millimetre, 2.0 * metre}) {
                double at = 0.0;
                std::vector<double> marks;
                for (const std::string& svg : cut_ruler_pages(cuts, units, page)) {
                    const strip s(svg);
                    check_scale(s);
                    check_labels_apart(s);
                    CHECK(std::abs(s.edge().number("x1") - at) <= written);
                    at = s.edge().number("x2");
                    CHECK(at - s.edge().number("x1") <= page / millimetre + written);
                    for (const double mark : s.cuts()) {
                        CHECK(mark >= s.edge().number("x1") - written);
                        CHECK(mark <= at + written);
                        marks.push_back(mark);
                    }
                }
                CHECK(std::abs(at - cuts.extent / millimetre) <= written);
                REQUIRE(marks.size() == cuts.slabs.size() - 1);
                for (std::size_t i = 0; i < marks.size(); ++i)
                    CHECK(std::abs(marks[i] - (cuts.slabs[i].start + cuts.slabs[i].thickness) / millimetre) <= written);
            }
}

TEST_CASE("a cut where two strips join is marked once") {
    const profile loin = meat(); // 419.1 mm: strips of 140 mm in a metric kitchen
    const cutting_plan cuts =
        lay_out(loin, specs(), {}, {{0, 280, slab_kind::loose, 0}, {280, loin.cells(), slab_kind::portions, 0}});
    const std::vector<std::string> strips = cut_ruler_pages(cuts, metric_kitchen);
    REQUIRE(strips.size() == 3);
    CHECK(strip(strips[0]).edge().number("x2") == 140.0);
    CHECK(strip(strips[0]).cuts().empty());
    CHECK(strip(strips[1]).cuts() == std::vector<double>{140.0});
}

TEST_CASE("strips of a loin of any length are about equal and hold only numbers") {
    // 4 to 130 in by 1/64 in with TRANCHE_LONG_TESTS, by 53/64 in without. Slabs of 1 1/2 in, of which some end at a join.
    const int step = std::getenv("TRANCHE_LONG_TESTS") == nullptr ? 53 : 1;
    cutting_plan cuts = lay_out(meat(), specs(), {}, {{0, meat().cells(), slab_kind::portions, 0}});
    slab one = cuts.slabs.at(0);
    one.thickness = 1.5 * inch;
    std::vector<std::string> bad;
    for (int size = 4 * 64; size <= 130 * 64; size += step) {
        cuts.extent = size / 64.0 * inch;
        cuts.slabs.clear();
        for (one.start = 0.0 * inch; one.start + one.thickness < cuts.extent; one.start += one.thickness)
            cuts.slabs.push_back(one);
        cuts.slabs.back().thickness = cuts.extent - cuts.slabs.back().start;
        for (const bool inches : {true, false}) {
            const std::vector<std::string> strips = cut_ruler_pages(cuts, inches ? us_kitchen : metric_kitchen);
            const double figure = inches ? 25.4 : 10.0, most = inches ? 7 * 25.4 : 180.0;
            const double extent = cuts.extent / millimetre, equal = extent / static_cast<double>(strips.size());
            double at = 0.0;
            bool good = strips.size() == static_cast<std::size_t>(std::ceil(extent / most - 1e-9)); // as few as will do
            for (const std::string& svg : strips) {
                const std::size_t edge = svg.find("class=\"edge\"");
                const double from = std::stod(svg.substr(svg.find("x1=", edge) + 4, 12));
                const double to = std::stod(svg.substr(svg.find("x2=", edge) + 4, 12));
                good = good && svg.find("nan") == std::string::npos && svg.find("inf") == std::string::npos;
                good = good && from == at && to - from <= most + written && std::abs(to - from - equal) < figure;
                at = to;
            }
            if (!(good && std::abs(at - extent) <= written))
                bad.push_back(std::to_string(size) + "/64 in, figures in " + (inches ? "in" : "mm"));
        }
    }
    CHECK(bad == std::vector<std::string>{});
}

TEST_CASE("a loin narrower than its figures has a ruler of numbers") {
    cutting_plan cuts = mixed_plan(meat());
    cuts.slabs.resize(1);
    for (const double mm : {0.01, 0.254, 1.0, 1.9}) { // a label keeps a millimetre from each end where it can
        cuts.slabs[0].thickness = cuts.extent = mm * millimetre;
        for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
            const std::string svg = cut_ruler_svg(cuts, units);
            CHECK_THAT(svg, !ContainsSubstring("nan") && !ContainsSubstring("inf"));
            check_scale(strip(svg));
            const std::vector<xml_element> elements = parse_xml(svg);
            for (const xml_element& e : elements)
                if (e.name == "circle") CHECK(std::abs(e.number("cx") - 0.5 * mm) <= written);
        }
    }
}

TEST_CASE("ticks stand at every millimetre or every sixteenth of an inch") {
    const cutting_plan cuts = mixed_plan(meat());
    const std::vector<double> metric = strip(cut_ruler_svg(cuts, metric_kitchen)).ticks();
    REQUIRE(metric.size() == 420); // 0 to 419
    for (std::size_t k = 0; k < metric.size(); ++k) CHECK(std::abs(metric[k] - static_cast<double>(k)) <= written);
    const std::vector<double> inches = strip(cut_ruler_svg(cuts, us_kitchen)).ticks();
    REQUIRE(inches.size() == 16 * 16 + 8 + 1); // 0 to 16 1/2 in
    for (std::size_t k = 0; k < inches.size(); ++k)
        CHECK(std::abs(inches[k] - 25.4 * static_cast<double>(k) / 16.0) <= written);
}

TEST_CASE("each cut is labelled in inches and in millimetres to the nearest half") {
    const profile loin = meat();
    const cutting_plan cuts =
        lay_out(loin, specs(), {}, {{0, 127, slab_kind::portions, 1}, {127, loin.cells(), slab_kind::loose, 0}});
    CHECK_THAT(cut_ruler_svg(cuts, us_kitchen), ContainsSubstring(">2 1/2 in · 63.5 mm<"));
    CHECK_THAT(cut_ruler_svg(cuts, metric_kitchen), ContainsSubstring(">63.5 mm · 2 1/2 in<"));
}

TEST_CASE("both ends and the check bar are named") {
    const cutting_plan cuts = mixed_plan(meat());
    const std::string whole = cut_ruler_svg(cuts);
    CHECK_THAT(whole, ContainsSubstring("◀ rib end") && ContainsSubstring("sirloin end ▶") &&
                          ContainsSubstring("it must be 4 in") && ContainsSubstring("lost to the knife"));
    CHECK_THAT(cut_ruler_svg(cuts, metric_kitchen), ContainsSubstring("it must be 100 mm"));
    const std::vector<std::string> strips = cut_ruler_pages(cuts);
    REQUIRE(strips.size() == 3);
    CHECK_THAT(strips[0], ContainsSubstring("◀ rib end") && ContainsSubstring("joins strip 2 of 3") &&
                              !ContainsSubstring("sirloin end"));
    CHECK_THAT(strips[1], ContainsSubstring("joins strip 1 of 3") && ContainsSubstring("joins strip 3 of 3"));
    CHECK_THAT(strips[2], ContainsSubstring("sirloin end ▶") && !ContainsSubstring("rib end<"));
    CHECK(of_kind(parse_xml(strips[1]), "join").size() == 2);
    CHECK(of_kind(parse_xml(whole), "join").empty());
}

TEST_CASE("a ruler fetches nothing and escapes names") {
    cutting_plan cuts = mixed_plan(meat());
    for (cut_spec& spec : cuts.specs) spec.name = "<&\"" + spec.name;
    const std::string svg = cut_ruler_svg(cuts);
    check_scale(strip(svg));
    CHECK(fetched(svg).empty());
    CHECK(svg.find("http") == svg.rfind("http"));
    CHECK_THAT(svg, ContainsSubstring("&lt;&amp;&quot;"));
}

TEST_CASE("numbers in a picture have four decimals at most and no exponent") {
    CHECK(detail::svg_attribute("x", 1e-15).value == "0");
    CHECK(detail::svg_attribute("x", -6.4e-15).value == "0");
    CHECK(detail::svg_attribute("x", 0.00006).value == "0.0001");
    CHECK(detail::svg_attribute("x", -1.23456).value == "-1.2346");
}

TEST_CASE("thin slabs keep their numbers and distances apart on the ruler") {
    const profile loin = meat();
    std::vector<grid_slab> pairs;
    for (std::size_t at = 0; at < loin.cells();)
        for (const std::size_t wide : {2U, 60U}) {
            const std::size_t to = std::min(at + wide, loin.cells());
            if (at < to) pairs.push_back({at, to, wide == 2U ? slab_kind::loose : slab_kind::portions, 0});
            at = to;
        }
    const cutting_plan cuts = lay_out(loin, specs(), {}, pairs);
    check_labels_apart(strip(cut_ruler_svg(cuts)));
    for (const std::string& svg : cut_ruler_pages(cuts)) check_labels_apart(strip(svg));
}

TEST_CASE("a loin shorter than the check bar has room for both") {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    cuts.slabs.resize(1);
    cuts.extent = cuts.slabs[0].thickness;
    const strip s(cut_ruler_svg(cuts));
    check_scale(s);
    CHECK(s.cuts().empty());
    CHECK(s.elements.front().number("width") >= 100.0);
}

TEST_CASE("a page that is too short or no number is refused") {
    const cutting_plan cuts = mixed_plan(meat());
    for (const double mm :
         {99.0, 0.0, -1.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()})
        CHECK_THROWS_AS(cut_ruler_pages(cuts, us_kitchen, mm * millimetre), invalid_input);
}

TEST_CASE("a tick is the longer the rounder the figure it stands for") {
    const cutting_plan cuts = mixed_plan(meat());
    const auto lengths = [&](const kitchen_units& units) {
        std::vector<double> found;
        const std::string path = of_kind(strip(cut_ruler_svg(cuts, units)).elements, "ticks").at(0).attributes.at("d");
        for (std::size_t v = path.find('V'); v != std::string::npos; v = path.find('V', v + 1))
            found.push_back(std::stod(path.substr(v + 1)));
        return found;
    };
    const std::vector<double> metric = lengths(metric_kitchen), inches = lengths(us_kitchen);
    REQUIRE(metric.size() == 420);
    for (std::size_t k = 0; k < metric.size(); ++k) CHECK(metric[k] == (k % 10 == 0 ? 5.0 : k % 5 == 0 ? 3.4 : 2.0));
    REQUIRE(inches.size() == 265);
    for (std::size_t k = 0; k < inches.size(); ++k) {
        std::size_t parts = 16; // of the inch, in lowest terms
        for (std::size_t n = k; parts > 1 && n % 2 == 0; n /= 2) parts /= 2;
        const double expected[] = {5.6, 4.4, 3.4, 2.6, 1.8}; // whole, halves, quarters, eighths, sixteenths
        CHECK(inches[k] == expected[static_cast<std::size_t>(std::log2(parts))]);
    }
}

TEST_CASE("a name is written inside its slab where there is room, and shortened or left out where there is not") {
    const profile loin = meat();
    // Rooms of 5, 14 and 40 mm less one, in letters of 2.6 mm: less than 5 of them only in the first.
    cutting_plan cuts = lay_out(loin, specs(), {},
                                {{0, 12, slab_kind::portions, 0},
                                 {12, 42, slab_kind::portions, 1},
                                 {42, 122, slab_kind::portions, 2},
                                 {122, loin.cells(), slab_kind::loose, 0}});
    const auto names = [&](const std::string& name) {
        for (cut_spec& spec : cuts.specs) spec.name = name;
        std::vector<xml_element> found;
        for (const xml_element& e : strip(cut_ruler_svg(cuts)).elements)
            if (e.name == "text" && e.attributes.at("font-size") == "2.6" && e.attributes.at("y") == "20.6")
                found.push_back(e);
        return found;
    };
    const auto check_inside = [&](const xml_element& e, std::size_t i) {
        const double half = 0.5 * 2.6 * detail::ems_of(e.text), from = cuts.slabs[i].start / millimetre;
        CHECK(e.number("x") - half >= from);
        CHECK(e.number("x") + half <= from + cuts.slabs[i].thickness / millimetre);
    };
    const std::vector<xml_element> brief = names("ii");
    REQUIRE(brief.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) check_inside(brief[i], i);
    const std::vector<xml_element> wordy = names("twice as long as that");
    REQUIRE(wordy.size() == 3); // the first slab is too thin even for a part of it
    CHECK_THAT(wordy[0].text, EndsWith("…"));
    CHECK(wordy[1].text == "twice as long as that");
    for (std::size_t i = 0; i < 3; ++i) check_inside(wordy[i], i + 1);
}

TEST_CASE("strips are cut at dashed lines that stand where two of them meet, down to their names") {
    const std::vector<std::string> pages = cut_ruler_pages(mixed_plan(meat()));
    REQUIRE(pages.size() == 3);
    for (std::size_t page = 0; page < pages.size(); ++page) {
        const strip s(pages[page]);
        std::vector<double> expected;
        if (page > 0) expected.push_back(s.edge().number("x1"));
        if (page < 2) expected.push_back(s.edge().number("x2"));
        const std::vector<xml_element> joins = of_kind(s.elements, "join");
        REQUIRE(joins.size() == expected.size());
        double names = 0.0;
        for (const xml_element& e : s.elements)
            if (e.text.find("joins strip") != std::string::npos) names = e.number("y");
        for (std::size_t k = 0; k < joins.size(); ++k) {
            CHECK(joins[k].number("x1") == expected[k]);
            CHECK(joins[k].number("x2") == expected[k]);
            CHECK(joins[k].number("y1") == 0.0);
            CHECK(joins[k].number("y2") >= names);
            CHECK(joins[k].attributes.count("stroke-dasharray") == 1);
        }
    }
}

TEST_CASE("the check bar has an upright at either end, and blue is explained where there is any") {
    cutting_plan cuts = mixed_plan(meat());
    const auto check_ends = [](const strip& s) {
        const xml_element bar = of_kind(s.elements, "check").at(0);
        CHECK(bar.number("x1") == 0.0);
        CHECK(bar.attributes.at("y1") == bar.attributes.at("y2"));
        const std::vector<xml_element> ends = of_kind(s.elements, "check-end");
        REQUIRE(ends.size() == 2);
        for (std::size_t k = 0; k < 2; ++k) {
            CHECK(ends[k].number("x1") == bar.number(k == 0 ? "x1" : "x2"));
            CHECK(ends[k].number("x2") == ends[k].number("x1"));
            CHECK(ends[k].number("y1") < bar.number("y1"));
            CHECK(ends[k].number("y2") > bar.number("y1"));
        }
    };
    const std::string with = cut_ruler_svg(cuts);
    check_ends(strip(with));
    const std::vector<xml_element> lost = of_kind(strip(with).elements, "kerf");
    REQUIRE(lost.size() == 1);
    for (const slab& s : cuts.slabs)
        if (s.kerf > length{}) {
            CHECK(std::abs(lost[0].number("x") - (s.start + s.thickness) / millimetre) <= written);
            CHECK(std::abs(lost[0].number("width") - s.kerf / millimetre) <= written);
        }
    CHECK_THAT(with, ContainsSubstring("Blue: lost to the knife"));
    for (slab& s : cuts.slabs) s.kerf = {};
    const std::string without = cut_ruler_svg(cuts);
    check_ends(strip(without));
    CHECK(of_kind(strip(without).elements, "kerf").empty());
    CHECK_THAT(without, !ContainsSubstring("Blue"));
}

TEST_CASE("all words of a strip lie on its paper and apart from each other, however short it is") {
    cutting_plan cuts = mixed_plan(meat());
    for (const double extent : {40.0, 105.0, 181.0, 201.0, 300.0, 419.1}) {
        cuts.extent = extent * millimetre;
        cuts.slabs.resize(1);
        cuts.slabs[0].thickness = cuts.extent;
        cuts.slabs[0].kerf = 1_mm;
        for (const kitchen_units& units : {us_kitchen, metric_kitchen})
            for (const std::string& svg : cut_ruler_pages(cuts, units, 100.0 * millimetre)) {
                const strip s(svg);
                const double paper = s.elements.front().number("width"), high = s.elements.front().number("height");
                double left = -s.loin_at_left, below = 2.0; // of the group that an element is in
                std::vector<detail::picture_box> boxes;
                std::vector<std::string> words;
                std::size_t groups = 0;
                for (const xml_element& e : s.elements) {
                    if (e.name == "g" && ++groups == 2) {
                        std::istringstream moved(e.attributes.at("transform").substr(std::string("translate(").size()));
                        moved >> left >> below;
                    }
                    if (e.name != "text" || e.attributes.count("transform") == 1) continue;
                    const double size = e.number("font-size"), x = left + e.number("x"), y = below + e.number("y");
                    const double w = detail::width_of_text(e.text, size, e.attributes.at("font-weight") == "bold");
                    const std::string anchor = e.attributes.at("text-anchor");
                    const double from = anchor == "start" ? x : anchor == "end" ? x - w : x - 0.5 * w;
                    boxes.push_back({from, from + w, y - 0.75 * size, y + 0.22 * size});
                    words.push_back(e.text);
                }
                for (std::size_t i = 0; i < boxes.size(); ++i) {
                    CAPTURE(extent, words[i]);
                    CHECK((boxes[i].left >= 0.0 && boxes[i].right <= paper && boxes[i].bottom <= high));
                    for (std::size_t k = 0; k < i; ++k) {
                        CAPTURE(words[k]);
                        CHECK_FALSE(boxes[i].meets(boxes[k]));
                    }
                }
            }
    }
}

} // namespace cut_ruler_test
