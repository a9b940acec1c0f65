// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/board_card.hpp>
#include <tranche/report/html_report.hpp>
#include <tranche/version.hpp>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <set>
#include <string>
#include <vector>

#include "report/sample.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace html_report_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

std::vector<xml_element> named(const std::vector<xml_element>& elements, const std::string& name) {
    std::vector<xml_element> found;
    std::copy_if(elements.begin(), elements.end(), std::back_inserter(found),
                 [&](const xml_element& e) { return e.name == name; });
    return found;
}

void check_page(const std::string& page) {
    const std::vector<xml_element> elements = parse_xml(page);
    REQUIRE(elements.front().name == "html");
    CHECK(elements.front().attributes.at("lang") == "en");
    CHECK_THAT(page, StartsWith("<!DOCTYPE html>"));
    CHECK_THAT(page, ContainsSubstring("<meta charset=\"utf-8\"/>") && ContainsSubstring("name=\"viewport\""));
    CHECK(named(elements, "script").empty());
    CHECK(named(elements, "link").empty());
    CHECK(fetched(page).empty());
    std::set<std::string> ids;
    std::size_t spaces = 0;
    for (const xml_element& e : elements) {
        const auto id = e.attributes.find("id");
        if (id != e.attributes.end()) CHECK(ids.insert(id->second).second);
        spaces += e.attributes.count("xmlns");
        for (const auto& [name, value] : e.attributes) CHECK(name.compare(0, 2, "on") != 0);
    }
    std::size_t addresses = 0;
    for (std::size_t at = page.find("http"); at != std::string::npos; at = page.find("http", at + 1)) ++addresses;
    CHECK(addresses == spaces);
}

} // namespace

TEST_CASE("the page is well-formed, fetches nothing and uses each id once") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    check_page(html_report("Loin", as_given(cuts), {outline_of(loin)}, settled, {.saved = comparisons(cuts, settled)}));
    check_page(html_report("Loin", as_given(cuts), {outline_of(loin)}, metric_kitchen));
    const bill<bhd> dinars = settle(cuts, bought<bhd>(), prices<bhd>());
    check_page(html_report("Loin", as_given(cuts), {outline_of(loin)}, dinars, {.units = metric_kitchen}));
}

TEST_CASE("the page says what the text report says, cell by cell") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const auto compared = comparisons(cuts, settled);
    const auto elements =
        parse_xml(html_report("Loin", as_given(cuts), {outline_of(loin)}, settled, {.saved = compared}));
    std::vector<std::string> heads, cells, words;
    for (const xml_element& e : elements) {
        if (e.name == "th" && e.attributes.at("scope") == "col") heads.push_back(e.text);
        if (e.name == "td" || (e.name == "th" && e.attributes.at("scope") == "row")) cells.push_back(e.text);
        if ((e.name == "p" || e.name == "li") && !e.text.empty())
            words.push_back(e.text); // contents are links in their points
    }
    std::vector<std::string> expected_heads, expected_cells, expected_words;
    auto sections = report_sections(as_given(cuts), settled, {.saved = compared});
    add_pictures<usd>(sections, settled, compared);
    for (const report_section& s : sections) {
        for (const bool drawn : {false, true}) // what pictures show too comes behind them
            for (const report_table& t : s.tables) {
                if (drawn != (t.drawn && !s.pictures.empty())) continue;
                for (const auto& c : t.columns)
                    if (t.headed()) expected_heads.push_back(c.head);
                for (const auto& r : t.rows)
                    expected_cells.insert(expected_cells.end(), r.cells.begin(), r.cells.end());
            }
        expected_words.insert(expected_words.end(), s.paragraphs.begin(), s.paragraphs.end());
        expected_words.insert(expected_words.end(), s.points.begin(), s.points.end());
    }
    expected_words.push_back("Made with tranche " + std::string(version_text));
    for (auto* const of_both :
         {&heads, &cells, &words, &expected_cells, &expected_words}) // numbers and units stay on one line of a page
        for (std::string& text : *of_both)
            for (std::size_t at = 0; (at = text.find(detail::no_break_space, at)) != std::string::npos;)
                text.replace(at, detail::no_break_space.size(), 1, ' ');
    CHECK(heads == expected_heads);
    CHECK(cells == expected_cells);
    CHECK(words == expected_words);
}

TEST_CASE("a page breaks no line within a fraction, a percentage of a table, or in front of a short unit") {
    CHECK(detail::unbroken_numbers("cut 12 1/2 oz of 3 steaks, 87 % of it") ==
          "cut 12\u00A01/2 oz of 3 steaks, 87 % of it");
    CHECK(detail::unbroken_numbers("87.1 %", true) == "87.1\u00A0%");
    CHECK(detail::unbroken_numbers("2 × 7 3/4 & 1 12 1/16") == "2 × 7\u00A03/4 &amp; 1 12\u00A01/16");
    CHECK(detail::unbroken_numbers(" 1 ") == " 1 ");
    CHECK(detail::head_of_column("From rib end, in") == "From rib end,\u00A0in");
    CHECK(detail::head_of_column("Value, USD/lb") == "Value, USD/lb");
    CHECK(detail::head_of_column("Cut") == "Cut");
}

TEST_CASE("add_pictures: the costs have a waterfall, or each saving one of its own and its grid") {
    const cutting_plan cuts = mixed_plan(meat());
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const auto pictured = [&](const std::vector<savings<usd>>& saved) {
        auto sections = report_sections(as_given(cuts), settled, {.saved = saved});
        add_pictures<usd>(sections, settled, saved);
        std::string pictures;
        for (const report_section& s : sections)
            if (!s.pictures.empty()) pictures += s.title + ": " + std::to_string(s.pictures.size()) + "; ";
        return pictures;
    };
    const auto compared = comparisons(cuts, settled);
    std::size_t expected = compared.size();
    for (const auto& saved : compared) expected += savings_grid_around(saved, us_kitchen) ? 1 : 0;
    REQUIRE(expected > compared.size());
    CHECK(pictured({}) == "Costs: 1; ");
    CHECK(pictured(compared) == "Savings: " + std::to_string(expected) + "; ");
}

TEST_CASE("the page holds both pictures and every strip of the ruler") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const std::string page = html_report("Loin", as_given(cuts), {outline_of(loin)}, metric_kitchen);
    CHECK_THAT(page,
               ContainsSubstring(view_from_above_svg(cuts, outline_of(loin), metric_kitchen, slab_list::left_out)));
    CHECK_THAT(page,
               ContainsSubstring(view_from_side_svg(cuts, outline_of(loin), metric_kitchen, slab_list::left_out)));
    const std::vector<std::string> strips = cut_ruler_pages(cuts, metric_kitchen);
    for (const std::string& strip : strips) CHECK_THAT(page, ContainsSubstring(strip));
    CHECK(named(parse_xml(page), "svg").size() == 2 + strips.size());
    // Printed, the strips keep their size: nothing but the pictures is scaled to the page.
    CHECK_THAT(page, ContainsSubstring(".strip svg { display: block; max-width: none; }"));
    for (const std::string& strip : strips) {
        const double width = parse_xml(strip).front().number("width");
        CHECK(width <= 210.0 - 20.0); // A4 within margins of 10 mm
        CHECK(width <= 215.9 - 20.0); // US Letter
    }
}

TEST_CASE("the page shows the faces it is given, and no others") {
    const measured_loin loin{.length = 16.5_in, .stations = {{.width = 8.0_in, .depth = 3.0_in, .fat_cover = 0.4_in}}};
    const profile meat_of_it = tabulate(loin);
    const cutting_plan cuts = mixed_plan(meat_of_it);
    const std::vector<cut_face> faces = cut_faces(loin, cuts);
    const std::string page = html_report("Loin", as_given(cuts), {outline_of(meat_of_it), faces}, metric_kitchen);
    check_page(page);
    CHECK_THAT(page, ContainsSubstring(faces_svg(faces, cuts, metric_kitchen)));
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    CHECK_THAT(html_report("Loin", as_given(cuts), {outline_of(meat_of_it), faces}, settled),
               ContainsSubstring(faces_svg(faces, cuts)));
    CHECK_THAT(html_report("Loin", as_given(cuts), {outline_of(meat_of_it)}), !ContainsSubstring("faces-title"));
}

TEST_CASE("the title and the names are escaped on the page") {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    cuts.specs[0].name = "<script>alert(1)</script> & co";
    const std::string title = "Tuesday's \"loin\" <b>&";
    const bill<eur> settled = settle(cuts, bought<eur>());
    const std::string page = html_report(title, as_given(cuts), {outline_of(loin)}, settled);
    check_page(page);
    const auto elements = parse_xml(page);
    CHECK(named(elements, "title").front().text == title);
    CHECK(named(elements, "h1").front().text == title);
    CHECK(named(elements, "b").empty());
}

TEST_CASE("a page with a blank title is headed as a cutting plan") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    for (const char* title : {"", "  ", "\x1b\t\n"}) {
        const auto elements = parse_xml(html_report(title, as_given(cuts), {outline_of(loin)}));
        CHECK(named(elements, "title").front().text == "Cutting plan");
        CHECK(named(elements, "h1").front().text == "Cutting plan");
    }
}

TEST_CASE("a page takes a title and names of any length, whole in its tables") {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    cuts.specs[0].name = std::string(100'000, 'M'); // of one slab
    const std::string title(100'000, 'T');
    const std::string page = html_report(title, as_given(cuts), {outline_of(loin)});
    check_page(page);
    const auto elements = parse_xml(page);
    CHECK(named(elements, "h1").front().text == title);
    const auto cells = named(elements, "td");
    CHECK(std::any_of(cells.begin(), cells.end(), [&](const xml_element& e) { return e.text == cuts.specs[0].name; }));
    for (const xml_element& e : named(elements, "text"))
        CHECK(detail::columns_of(e.text) < 300); // in pictures it is shortened
}

TEST_CASE("control characters in a title or a name never reach the page, its pictures or the ruler") {
    const profile loin = meat();
    cutting_plan cuts = mixed_plan(loin);
    for (cut_spec& spec : cuts.specs)
        spec.name = "a\x1b[31m\x07"
                    "b\x7f\xc2\x9b\xe2\x80\xae" +
                    spec.name;
    const std::string page =
        html_report("\x1b]0;Loin\x07 1\r\n\x7f\xc2\x9b\xe2\x80\xae", as_given(cuts), {outline_of(loin)});
    CHECK(named(parse_xml(page), "h1").front().text == " ]0;Loin  1     ");
    CHECK_THAT(page, ContainsSubstring("a [31m b"));
    for (const char* control : {"\x1b", "\x07", "\r", "\x7f", "\xc2\x9b", "\xe2\x80\xae"})
        CHECK_THAT(page, !ContainsSubstring(control));
}

TEST_CASE("warnings and cautions stand on the page") {
    const profile loin = meat();
    const cut_spec heavy{.name = "small", .thickness = {2.0_in, 2.5_in}, .portion = {1.0_oz, 4.0_oz}};
    const tranche::planned planned = most_portions(loin, heavy, rules);
    const std::string page = html_report("Loin", planned, {outline_of(loin)});
    check_page(page);
    CHECK_THAT(page, ContainsSubstring("<section class=\"warnings\"") &&
                         ContainsSubstring("No portion fits the limits.") &&
                         ContainsSubstring(detail::escape_xml(in_units(planned.limits.at(0).says, us_kitchen))));
    for (const std::string& caution : cautions()) CHECK_THAT(page, ContainsSubstring(detail::escape_xml(caution)));
    REQUIRE(warnings_of(as_given(mixed_plan(loin)), us_kitchen).empty());
    CHECK_THAT(html_report("Loin", as_given(mixed_plan(loin)), {outline_of(loin)}),
               !ContainsSubstring("<section class=\"warnings\""));
}

TEST_CASE("the answer and warnings stand in front of the contents, and what lies behind is folded") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const auto saved = comparisons(cuts, settled);
    const std::string page = html_report("Loin", as_given(cuts), {outline_of(loin)}, settled, {.saved = saved});
    const std::size_t answer = page.find("class=\"answer\""), contents = page.find("<nav"),
                      first = page.find("<details>");
    CHECK(answer < contents);
    CHECK(contents < page.find("Cutting order, from the rib end</h2>"));
    CHECK(page.find("Cutting order, from the rib end</h2>") < first);
    const auto elements = parse_xml(page);
    std::set<std::string> ids;
    for (const xml_element& e : elements)
        if (e.attributes.count("id") > 0) ids.insert(e.attributes.at("id"));
    std::size_t links = 0;
    for (const xml_element& e : named(elements, "a")) {
        CHECK(ids.count(e.attributes.at("href").substr(1)) == 1);
        ++links;
    }
    CHECK(links == named(elements, "h2").size() - 1); // all but the answer; this plan has no warnings
    // What scrolls is reached by the keyboard, and says what it is.
    for (const xml_element& e : elements)
        if (e.kind().find("scroll") != std::string::npos) {
            CHECK(e.attributes.at("tabindex") == "0");
            CHECK(e.attributes.at("role") == "region");
            CHECK_FALSE(e.attributes.at("aria-label").empty());
        }
    // Each cell knows the head of its column, for rows that stack.
    for (const xml_element& e : named(elements, "td"))
        if (e.attributes.count("data-head") > 0)
            CHECK(page.find(">" + e.attributes.at("data-head") + "</th>") != std::string::npos);
}

TEST_CASE("the foot says version, date and sheet as they are given") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const auto foot_of = [](const std::string& page) {
        const std::size_t at = page.find("<footer>\n<p>") + 12;
        return page.substr(at, page.find("</p>", at) - at);
    };
    const std::string made = "Made with tranche " + std::string(version_text);
    CHECK(foot_of(html_report("Loin", as_given(cuts), {outline_of(loin)}, us_kitchen,
                              {"2026-03-14", "friday.ini <1>"})) == made + " · 2026-03-14 · friday.ini &lt;1&gt;");
    CHECK(foot_of(html_report("Loin", as_given(cuts), {outline_of(loin)})) == made);
    CHECK(foot_of(html_of("Loin", {}, {.sheet = "a"})) == made + " · a");
}

TEST_CASE("pages for a browser are well-formed: few slabs, many, metric, without prices, and board cards") {
    // tests/page lays them out in one, where it finds them: in the folder that TRANCHE_PAGE_FOLDER names.
    const char* const folder = std::getenv("TRANCHE_PAGE_FOLDER");
    const auto page = [&](const std::string& name, const std::string& html) {
        check_page(html);
        if (folder == nullptr) return;
        std::ofstream file(std::string(folder) + '/' + name);
        file << html;
        CHECK(file.flush());
    };
    const measured_loin shape{
        .length = 16.5_in,
        .stations = {{.at = 0.0_in, .width = 8.25_in, .depth = 3.5_in, .fat_cover = 0.44_in, .tail = 2.0_in},
                     {.at = 16.5_in, .width = 8.0_in, .depth = 2.8_in, .fat_cover = 0.3_in, .tail = 1.0_in}},
        .gluteus_medius = {.onset = 13.2_in, .share_at_end = 0.30},
        .shape = {.silverskin = 1.0_mm}};
    const profile loin = tabulate(shape);
    const loin_outline outline = outline_of(shape);
    const auto sliced = [&](std::size_t slabs) {
        std::vector<grid_slab> all;
        for (std::size_t i = 0; i < slabs; ++i)
            all.push_back({i * loin.cells() / slabs, (i + 1) * loin.cells() / slabs,
                           i % 7 == 6 ? slab_kind::loose : slab_kind::portions, i % 7 == 6 ? 0 : i % 3});
        return lay_out(loin, specs(), {}, all);
    };
    const cutting_plan few = mixed_plan(loin), many = sliced(122), twenty = sliced(20);
    const bill<usd> settled =
        settle<usd>(few, {.weight = to_mass(few.total), .price = per_lb<usd>(8.10)}, prices<usd>());
    const auto saved = comparisons(few, settled);
    page("few.html",
         html_report("Loin of the Harbour Lantern (invented)", as_given(few), {outline, cut_faces(shape, few)}, settled,
                     {.saved = saved, .units = us_kitchen}, {"2026-03-14", "friday.ini"}));
    page("metric.html", html_report("Loin", as_given(twenty), {outline, cut_faces(shape, twenty)}, metric_kitchen));
    page("many.html", html_report("Loin", as_given(many), {outline, cut_faces(shape, many)}, us_kitchen));
    page("card-20-a4.html", board_card("Loin", twenty, outline, {.units = metric_kitchen}));
    page("card-20-letter.html", board_card("Loin", twenty, outline, {.paper = card_paper::us_letter}));
    page("card-122-a4.html", board_card("Loin", many, outline));
}

} // namespace html_report_test
