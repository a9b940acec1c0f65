// What charts of money share: the sheet with its title and patterns, letters and bars.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/report/formats/detail/round_step.hpp>
#include <tranche/report/pictures/detail/svg.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// A chart being drawn, 960 wide; its ids begin with its name.
template <class = when_called>
class chart {
protected:
    static constexpr double width = 960.0, em = 15.0;

    explicit chart(std::string name) : name_(std::move(name)) {}

    [[nodiscard]] std::string id(std::string_view what) const { return name_ + '-' + std::string(what); }

    void begin(double height, const std::string& title, const std::string& description) {
        svg_.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                          {"viewBox", "0 0 " + shown(width) + ' ' + shown(height, 2)},
                          {"width", width},
                          {"height", height},
                          {"role", "img"},
                          {"aria-labelledby", id("title") + ' ' + id("desc")},
                          {"font-family", "sans-serif"},
                          {"font-size", em}});
        svg_.add("title", {{"id", id("title")}}, title);
        svg_.add("desc", {{"id", id("desc")}}, description);
        svg_.open("defs", {});
        pattern("stripes", 45.0);
        pattern("cross", -45.0);
        svg_.close("defs");
        svg_.add("rect", {{"width", width}, {"height", height}, {"fill", "#FFFFFF"}});
    }
    [[nodiscard]] std::string end() {
        svg_.close("svg");
        return svg_.text();
    }

    /// Text no wider than `room`: smaller letters where it must, down to two thirds, then shortened.
    void label(std::string_view what, double x, double y, const std::string& text, std::string_view anchor, double room,
               bool bold = false) {
        const double ems = ems_of(text) * (bold ? 1.1 : 1.0), least = em * 2.0 / 3.0;
        const double size = std::clamp(room / std::max(ems, 1e-9), least, em);
        svg_.add("text",
                 {{"class", what},
                  {"x", x},
                  {"y", y},
                  {"text-anchor", anchor},
                  {"font-size", size},
                  {"font-weight", bold ? "bold" : "normal"}},
                 ems * size > room ? fitted(text, room / size / (bold ? 1.1 : 1.0)) : text);
    }
    void line(std::string_view what, double x1, double y1, double x2, double y2, double thickness,
              std::string_view colour = palette::black) {
        svg_.add("line", {{"class", what},
                          {"x1", x1},
                          {"y1", y1},
                          {"x2", x2},
                          {"y2", y2},
                          {"stroke", colour},
                          {"stroke-width", thickness}});
    }
    /// A bar of a colour, and a pattern over it unless that is empty.
    void bar(std::string_view what, double x, double y, double wide, double high, std::string_view colour,
             std::string_view over = {}, double opacity = 1.0) {
        svg_.add("rect", {{"class", what},
                          {"x", x},
                          {"y", y},
                          {"width", wide},
                          {"height", high},
                          {"fill", colour},
                          {"fill-opacity", opacity},
                          {"stroke", palette::black},
                          {"stroke-width", 0.75}});
        if (!over.empty())
            svg_.add("rect",
                     {{"x", x}, {"y", y}, {"width", wide}, {"height", high}, {"fill", "url(#" + id(over) + ')'}});
    }
    /// A swatch and its text from x on; gives where the next one may stand.
    [[nodiscard]] double swatch(double x, double y, std::string_view colour, std::string_view over,
                                const std::string& text, double opacity = 1.0) {
        bar("key", x, y - 0.8 * em, 1.6 * em, em, colour, over, opacity);
        label("key", x + 2.0 * em, y, text, "start", width);
        return x + (3.2 + ems_of(text)) * em;
    }

    std::string name_;
    svg_writer svg_;

private:
    void pattern(std::string_view what, double turn) {
        svg_.open("pattern", {{"id", id(what)},
                              {"patternUnits", "userSpaceOnUse"},
                              {"width", 7.0},
                              {"height", 7.0},
                              {"patternTransform", "rotate(" + shown(turn, 0) + ')'}});
        svg_.add("rect", {{"width", 2.0}, {"height", 7.0}, {"fill", palette::black}, {"fill-opacity", 0.6}});
        if (turn < 0.0)
            svg_.add("rect", {{"width", 7.0}, {"height", 2.0}, {"fill", palette::black}, {"fill-opacity", 0.6}});
        svg_.close("pattern");
    }
};

} // namespace tranche::detail
