// What every chart has to be: well-formed, of finite numbers, with labels inside and apart, fetching nothing.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include <tranche/report/pictures/detail/canvas.hpp>

#include "report/xml.hpp"
#include "support/catch.hpp"

namespace chart_checks {

/// The room of each text, by the library's estimate of how wide letters are, which errs to the wide side.
inline std::vector<tranche::detail::picture_box> boxes_of(const std::vector<xml_element>& elements) {
    std::vector<tranche::detail::picture_box> boxes;
    for (const xml_element& e : elements) {
        if (e.name != "text") continue;
        const bool bold = e.attributes.count("font-weight") == 1 && e.attributes.at("font-weight") == "bold";
        const double size = e.number("font-size"), wide = tranche::detail::width_of_text(e.text, size, bold);
        const double x = e.number("x"), y = e.number("y");
        const std::string anchor = e.attributes.at("text-anchor");
        const double from = anchor == "end" ? x - wide : anchor == "middle" ? x - 0.5 * wide : x;
        boxes.push_back({from, from + wide, y - 0.75 * size, y + 0.2 * size});
    }
    return boxes;
}

/// Checks a chart and gives its elements.
inline std::vector<xml_element> checked(const std::string& svg) {
    const std::vector<xml_element> elements = parse_xml(svg);
    CHECK(elements.at(0).name == "svg");
    CHECK(elements.at(0).attributes.at("role") == "img");
    CHECK(fetched(svg).empty());
    std::string odd; // numbers that are none
    for (const xml_element& e : elements)
        for (const auto& [name, value] : e.attributes)
            if (name != "class" && name != "aria-labelledby" && name != "id" && name != "font-family")
                for (const char* letters : {"nan", "inf", "e+", "e-"})
                    if (value.find(letters) != std::string::npos) odd += name + '=' + value + '\n';
    CHECK(odd.empty());
    std::istringstream box(elements.at(0).attributes.at("viewBox"));
    double left = 0.0, top = 0.0, wide = 0.0, tall = 0.0;
    box >> left >> top >> wide >> tall;
    CHECK(wide == 960.0);
    const auto boxes = boxes_of(elements);
    std::vector<std::string> texts;
    for (const xml_element& e : elements)
        if (e.name == "text") texts.push_back(e.text);
    std::string wrong; // what lies outside or over another
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const tranche::detail::picture_box& b = boxes[i];
        if (b.left < 0.0 || b.right > wide || b.top < 0.0 || b.bottom > tall) wrong += "outside: " + texts[i] + '\n';
        for (std::size_t k = i + 1; k < boxes.size(); ++k)
            if (b.meets(boxes[k])) wrong += texts[i] + " over " + texts[k] + '\n';
    }
    CHECK(wrong.empty());
    if (!wrong.empty()) WARN(wrong);
    // Who does not see it is told as much.
    const auto words =
        std::find_if(elements.begin(), elements.end(), [](const xml_element& e) { return e.name == "desc"; });
    REQUIRE(words != elements.end());
    CHECK(words->text.size() > 10);
    return elements;
}

inline std::string description_of(const std::vector<xml_element>& elements) {
    return std::find_if(elements.begin(), elements.end(), [](const xml_element& e) { return e.name == "desc"; })->text;
}

/// The points of a path of straight lines.
inline std::vector<tranche::detail::picture_point> points_of(const xml_element& path) {
    std::string data = path.attributes.at("d");
    std::replace_if(
        data.begin(), data.end(), [](char c) { return c == 'M' || c == 'L' || c == 'Z'; }, ' ');
    std::istringstream in(data);
    std::vector<tranche::detail::picture_point> points;
    for (double x = 0.0, y = 0.0; in >> x >> y;) points.push_back({x, y});
    return points;
}

} // namespace chart_checks
