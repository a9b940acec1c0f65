// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/board_card.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include <tranche/text/from_text.hpp>

#include "report/sample.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace board_card_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

cutting_plan sliced(const profile& loin, std::size_t slabs) {
    std::vector<grid_slab> all;
    for (std::size_t i = 0; i < slabs; ++i)
        all.push_back({i * loin.cells() / slabs, (i + 1) * loin.cells() / slabs, slab_kind::portions, i % 3});
    std::vector<cut_spec> cuts = specs();
    for (cut_spec& cut : cuts) cut.kerf = {};
    return lay_out(loin, cuts, {}, all);
}

/// Sixteenths or millimetres in the cells of one kind.
std::vector<std::int64_t> steps_in(const std::vector<xml_element>& card, const std::string& kind, length_division how) {
    std::vector<std::int64_t> steps;
    for (const xml_element& e : of_kind(card, kind))
        steps.push_back(detail::steps_of(
            from_text<length>(e.text.substr(0, e.text.find(" end")) + ' ' + detail::unit_name(how)), how));
    return steps;
}

} // namespace

TEST_CASE("law: shown distances rise and differ by the shown thicknesses, to the end of the loin") {
    const profile loin = meat();
    for (const std::size_t slabs : {1U, 2U, 7U, 20U, 33U, 122U})
        for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
            const cutting_plan cuts = sliced(loin, slabs);
            const auto card = parse_xml(board_card("Loin", cuts, outline_of(loin), {.units = units}));
            const length_division along = readable_units(units, cuts).along; // finer for slabs of 3 mm
            const auto at = steps_in(card, "number at", along), thick = steps_in(card, "number thick", along);
            REQUIRE(at.size() == slabs);
            REQUIRE(thick.size() == slabs);
            for (std::size_t i = 0; i < slabs; ++i) CHECK(at[i] - (i > 0 ? at[i - 1] : 0) == thick[i]);
            CHECK(std::is_sorted(at.begin(), at.end()));
            CHECK(at.back() == detail::steps_of(cuts.extent, along));
            CHECK(of_kind(card, "box").size() == slabs);
        }
}

TEST_CASE("the knife's width lies between slabs, and both distances are written in the finer division") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin); // strip steaks have a kerf of 1 mm
    kitchen_units units = metric_kitchen;
    units.along = {length_division::unit::centimetres, 1};
    const auto card = parse_xml(board_card("Loin", cuts, outline_of(loin), {.units = units}));
    const auto at = steps_in(card, "number at", whole_millimetres),
               thick = steps_in(card, "number thick", whole_millimetres);
    REQUIRE(at.size() == cuts.slabs.size());
    for (std::size_t i = 0; i < at.size(); ++i) {
        const std::int64_t kerf = i > 0 ? detail::steps_of(cuts.slabs[i - 1].kerf, whole_millimetres) : 0;
        const std::int64_t between = at[i] - (i > 0 ? at[i - 1] : 0) - thick[i];
        CHECK(between >= (kerf > 0 ? kerf - 1 : 0));
        CHECK(between <= (kerf > 0 ? kerf + 1 : 0));
    }
    CHECK_THAT(board_card("Loin", cuts, outline_of(loin)), ContainsSubstring("The knife takes up to 1 mm"));
}

TEST_CASE("a card says how each slab is trimmed and where it goes") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const std::string card = board_card("Loin", cuts, outline_of(loin));
    const auto elements = parse_xml(card);
    const auto trims = of_kind(elements, "number trim"), goes = of_kind(elements, "goes");
    REQUIRE(trims.size() == cuts.slabs.size());
    // Facing, strip steak, loose, fillet, end steak, end: the facing and loose meat are not trimmed, both steaks alike.
    const auto letters = [&] {
        std::string all;
        for (const xml_element& e : trims) all += e.text;
        return all;
    }();
    CHECK(letters == "ABACBA");
    CHECK(goes[0].text == "grind");
    CHECK(goes[1].text == "portion");
    CHECK(goes[3].text == "2 portions");
    CHECK_THAT(card, ContainsSubstring("Trim A: nothing.") &&
                         ContainsSubstring("Trim B: fat cover to 1/4 in (rendering), tail to 1 in (grind).") &&
                         ContainsSubstring("Trim C: fat cover off (rendering), tail off (grind)."));
    CHECK(detail::letter_of(25) == "Z");
    CHECK(detail::letter_of(26) == "A2");
}

TEST_CASE(
    "a card has its paper, the loin with its numbers, and a ruler at true scale with a bar that people can measure") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const std::string a4 = board_card("Loin", cuts, outline_of(loin), {.units = metric_kitchen}),
                      letter = board_card("Loin", cuts, outline_of(loin), {.paper = card_paper::us_letter});
    CHECK_THAT(a4, ContainsSubstring("size: 210mm 297mm") && ContainsSubstring("100 mm"));
    CHECK_THAT(letter, ContainsSubstring("size: 8.5in 11in") && ContainsSubstring("4 in"));
    for (const bool metric : {true, false}) {
        const std::string& card = metric ? a4 : letter;
        const auto elements = parse_xml(card);
        CHECK(fetched(card).empty());
        const xml_element bar = of_kind(elements, "check").at(0);
        CHECK(bar.number("x2") - bar.number("x1") == (metric ? 100.0 : 101.6)); // 4 in, exactly
        std::size_t cut_lines = 0;
        for (const std::string& strip : board_ruler_strips(cuts, metric ? metric_kitchen : us_kitchen)) {
            CHECK_THAT(card, ContainsSubstring(strip));
            const xml_element svg = parse_xml(strip).front();
            CHECK(svg.attributes.at("viewBox") ==
                  "0 0 " + detail::svg_number(svg.number("width")) + ' ' + detail::svg_number(svg.number("height")));
            CHECK(svg.number("width") <= 190.0); // A4 within margins of 10 mm
            cut_lines += of_kind(parse_xml(strip), "cut").size();
        }
        CHECK(cut_lines == cuts.slabs.size() - 1);
    }
    // Each slab has its number on the picture from above.
    std::string discs;
    for (const xml_element& e : parse_xml(board_view_svg(cuts, outline_of(loin))))
        if (e.name == "text" && e.text.find_first_not_of("0123456789") == std::string::npos) discs += e.text;
    CHECK(discs == "123456");
}

TEST_CASE("a card of twenty slabs is planned for one page, one of 122 for more, with its heading on each") {
    for (const card_paper paper : {card_paper::a4, card_paper::us_letter}) {
        const detail::card_room twenty(paper, 20, 3), many(paper, 122, 3);
        CHECK(twenty.one_page);
        CHECK(twenty.ruler_beside);
        CHECK_FALSE(many.one_page);
        CHECK(twenty.row >= 5.2); // room to write in
        CHECK(many.row >= 5.2);
    }
    const profile loin = meat();
    const std::string card = board_card("Friday", sliced(loin, 122), outline_of(loin));
    CHECK_THAT(card, ContainsSubstring("<th class=\"name\" colspan=\"8\">Friday</th>"));
    CHECK_THAT(board_card("Friday", sliced(loin, 20), outline_of(loin)), !ContainsSubstring("<th class=\"name\""));
}

TEST_CASE("a card escapes names, has a title of its own where none is given, and refuses another loin") {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    cuts.specs[0].name = "<b>&\x1b";
    const std::string card = board_card(" ", cuts, outline_of(loin), {.made = {.date = "2026-03-14"}});
    CHECK_THAT(card, ContainsSubstring("<h1>Board card</h1>") && ContainsSubstring("&lt;b&gt;&amp;") &&
                         ContainsSubstring("2026-03-14") && !ContainsSubstring("\x1b"));
    (void)parse_xml(card);
    cuts.extent += 1.0_mm;
    CHECK_THROWS_AS(board_card("", cuts, outline_of(loin)), invalid_input);
}

} // namespace board_card_test
