// Heat maps read back: darker is more, cells without a value are crossed, figures where there is room.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/heat_map.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "report/charts/chart_checks.hpp"
#include "support/catch.hpp"

namespace heat_map_test {

using namespace tranche;
using namespace tranche_test;
using chart_checks::checked;

namespace {

heat_map map_of(std::size_t across, std::size_t up, double size) {
    heat_map map{"A map", {"thickness", "in"}, {"price", "USD/lb"}, {"margin", "USD"}, {}, {}, {}};
    for (std::size_t i = 0; i < across; ++i) map.x.push_back(0.75 + 0.05 * static_cast<double>(i));
    for (std::size_t k = 0; k < up; ++k) map.y.push_back(size * static_cast<double>(k));
    for (std::size_t c = 0; c < across * up; ++c)
        map.cells.emplace_back(size * std::sin(0.37 * static_cast<double>(c)));
    return map;
}

/// How light "#RRGGBB" is, 0 to 255 (Rec. 709, from memory).
double lightness(const std::string& colour) {
    const auto part = [&](std::size_t at) { return static_cast<double>(std::stoi(colour.substr(at, 2), nullptr, 16)); };
    return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
}

} // namespace

TEST_CASE("heat map: more is darker, in greyscale too") {
    double before = 256.0;
    for (int i = 0; i <= 100; ++i) {
        const double light = lightness(detail::shade_of(0.01 * i).fill);
        CHECK(light < before);
        before = light;
    }
    heat_map map = map_of(4, 1, 1.0);
    map.cells = {1.0, 2.0, 3.0, 4.0};
    const auto cells = of_kind(checked(heat_map_svg(map)), "cell");
    REQUIRE(cells.size() == 4);
    for (std::size_t i = 1; i < 4; ++i)
        CHECK(lightness(cells[i].attributes.at("fill")) < lightness(cells[i - 1].attributes.at("fill")));
}

TEST_CASE("heat map: letters stand out from their cells") {
    for (int i = 0; i <= 100; ++i) {
        const detail::cell_shade shade = detail::shade_of(0.01 * i);
        // Contrast of at least 4.5 (WCAG 2.1, 1.4.3), of sRGB without its toe: (L1 + 0.05) / (L2 + 0.05).
        const auto linear = [&](std::size_t at) {
            return std::pow(std::stoi(shade.fill.substr(at, 2), nullptr, 16) / 255.0, 2.2);
        };
        const double light = 0.2126 * linear(1) + 0.7152 * linear(3) + 0.0722 * linear(5);
        CAPTURE(i, shade.fill);
        CHECK((shade.dark ? 1.05 / (light + 0.05) : (light + 0.05) / 0.05) >= 4.5);
    }
}

TEST_CASE("heat map: the first cell stands at the least x and y, and rows go up") {
    heat_map map = map_of(2, 2, 1.0);
    map.cells = {1.0, 2.0, 3.0, std::nullopt};
    const auto elements = checked(heat_map_svg(map));
    const auto figures = of_kind(elements, "cell-figure");
    REQUIRE(figures.size() == 3);
    CHECK(figures[0].text == "1");
    CHECK(figures[1].number("x") > figures[0].number("x"));
    CHECK(figures[2].number("y") < figures[0].number("y"));
    REQUIRE(of_kind(elements, "none").size() == 1);
    CHECK(of_kind(elements, "none")[0].number("x") > figures[0].number("x"));
    CHECK(of_kind(elements, "key").size() == 2); // what a cross means: its swatch and its words
    CHECK(chart_checks::description_of(elements) == "margin, USD over thickness, in and price, USD/lb. From 1 USD at "
                                                    "0.75 in and 0 USD/lb to 3 USD at 0.75 in and 1 USD/lb.");
}

TEST_CASE("heat map: labels lie apart and inside from no cells to ten thousand, of any size") {
    for (const std::size_t across : {0U, 1U, 3U, 12U, 100U})
        for (const std::size_t up : {1U, 9U, 100U})
            for (const double size : {0.0, 1.0, 4e-9, -3e15}) {
                CAPTURE(across, up, size);
                const std::string svg = heat_map_svg(map_of(across, up, size));
                CHECK(svg.size() < 1'500'000);
                CHECK(of_kind(checked(svg), "nothing").size() == (across == 0 ? 1 : 0));
            }
}

TEST_CASE("heat map: cells that all lack a value are a picture of crosses") {
    heat_map map = map_of(3, 3, 1.0);
    for (auto& c : map.cells) c.reset();
    const auto elements = checked(heat_map_svg(map));
    CHECK(of_kind(elements, "cell").empty());
    CHECK(of_kind(elements, "none").size() == 3); // those side by side are one
    CHECK_THAT(chart_checks::description_of(elements), EndsWith("No cell has a value."));
}

TEST_CASE("heat map: what is no number and another number of cells are refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto field_of = [](const heat_map& map) {
        try {
            (void)heat_map_svg(map);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    heat_map map = map_of(3, 2, 1.0);
    map.cells[4] = nan;
    CHECK(field_of(map) == "cells[4]");
    map.cells[4] = 1.0;
    map.x[2] = nan;
    CHECK(field_of(map) == "x[2]");
    map.x[2] = 1.0;
    map.cells.pop_back();
    CHECK(field_of(map) == "cells");
}

} // namespace heat_map_test
