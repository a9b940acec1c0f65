// What the pictures of a loin share: colours and patterns of the tissues, letters, lines, a scale bar and a key.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

#include <tranche/loin/tissue.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/detail/svg.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The colour of a tissue in every picture. Eye and tail are vermillion and orange mixed with white, 65 and 45 parts in 100:
/// lighter lean leaves the lines to be seen, and a lighter tail differs from it in greyscale.
[[nodiscard]] constexpr std::string_view colour_of(tissue t) {
    switch (t) {
    case tissue::eye: return "#E49659";
    case tissue::gluteus_medius: return palette::reddish_purple;
    case tissue::fat_cover: return palette::yellow;
    case tissue::tail: return "#F4D48C";
    case tissue::connective: break;
    }
    return palette::blue;
}

/// The pattern that lies on the colour of a tissue; empty for none.
[[nodiscard]] constexpr std::string_view pattern_of(tissue t) {
    return t == tissue::gluteus_medius ? "stripes" : t == tissue::tail ? "dots" : "";
}

/// A picture being drawn. Its sizes are in `em`, the size of its letters; its ids begin with its name.
template <class = when_called>
class loin_canvas {
protected:
    loin_canvas(std::string name, double em) : name_(std::move(name)), em_(em) {}

    [[nodiscard]] std::string id(std::string_view what) const { return name_ + '-' + std::string(what); }
    [[nodiscard]] std::string fill(std::string_view pattern) const { return "url(#" + id(pattern) + ')'; }

    /// The beginning of the picture, 960 pixels wide, up to its background.
    void begin(double width, double height, const std::string& title, const std::string& description);

    void label(double x, double y, const std::string& text, std::string_view anchor, double size, bool bold = false) {
        svg_.add("text",
                 {{"x", shown(x, 2)},
                  {"y", shown(y, 2)},
                  {"text-anchor", anchor},
                  {"font-size", shown(size * em_, 3)},
                  {"font-weight", bold ? "bold" : "normal"}},
                 text);
    }
    void line(std::string_view what, double x1, double y1, double x2, double y2, double width,
              std::string_view dashes = "none") {
        svg_.add("line", {{"class", what},
                          {"x1", x1},
                          {"y1", shown(y1, 2)},
                          {"x2", x2},
                          {"y2", shown(y2, 2)},
                          {"stroke", palette::black},
                          {"stroke-width", shown(width * em_, 3)},
                          {"stroke-dasharray", dashes}});
    }
    /// Strokes and gaps of these lengths.
    [[nodiscard]] std::string dashes(double stroke, double gap) const {
        return shown(stroke * em_, 2) + ' ' + shown(gap * em_, 2);
    }
    /// Where to trim.
    void trim_line(const std::string& path) {
        svg_.add("path", {{"class", "trim"},
                          {"d", path},
                          {"fill", "none"},
                          {"stroke", palette::black},
                          {"stroke-width", shown(0.14 * em_, 3)},
                          {"stroke-dasharray", dashes(0.5, 0.3)}});
    }
    /// Where to divide.
    void division(double x1, double y1, double x2, double y2) {
        line("divide", x1, y1, x2, y2, 0.22, dashes(0.22, 0.4));
    }
    /// Meat that is no portion: paler and hatched.
    void mark_as_loose(const std::string& shape) {
        svg_.add("path", {{"d", shape}, {"fill", "#FFFFFF"}, {"fill-opacity", 0.5}});
        svg_.add("path", {{"class", "loose"}, {"d", shape}, {"fill", fill("loose")}});
    }
    /// The number of a slab in a disc of radius 0.95 em.
    void disc(double x, double y, std::size_t number) {
        svg_.add("circle", {{"cx", x},
                            {"cy", shown(y, 2)},
                            {"r", shown(0.95 * em_, 3)},
                            {"fill", "#FFFFFF"},
                            {"stroke", palette::black},
                            {"stroke-width", shown(0.1 * em_, 3)}});
        label(x, y + 0.34 * em_, std::to_string(number), "middle", number <= 99 ? 0.95 : 0.7, true);
    }

    /// From x, y on, no longer than `room`.
    void scale_bar(double x, double y, double room, const kitchen_units& units);
    /// A swatch and its text; gives where the next one may stand.
    [[nodiscard]] double swatch(double x, double y, std::string_view colour, std::string_view pattern,
                                const std::string& text);
    [[nodiscard]] double swatch(double x, double y, tissue t) {
        return swatch(x, y, colour_of(t), pattern_of(t), std::string(name_of(t)));
    }

    std::string name_;
    double em_;
    svg_writer svg_;

private:
    void patterns();
};

template <class T>
void loin_canvas<T>::begin(double width, double height, const std::string& title, const std::string& description) {
    svg_.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                      {"viewBox", "0 0 " + shown(width, 2) + ' ' + shown(height, 2)},
                      {"width", 960.0},
                      {"height", std::round(960.0 * height / width)},
                      {"role", "img"},
                      {"aria-labelledby", id("title") + ' ' + id("desc")},
                      {"font-family", "sans-serif"},
                      {"font-size", shown(em_, 3)}});
    svg_.add("title", {{"id", id("title")}}, title);
    svg_.add("desc", {{"id", id("desc")}}, description);
    patterns();
    svg_.add("rect", {{"width", shown(width, 2)}, {"height", shown(height, 2)}, {"fill", "#FFFFFF"}});
}

template <class T>
void loin_canvas<T>::patterns() {
    const auto strokes = [&](std::string_view name, double turn, double apart, double width, double opacity) {
        svg_.open("pattern", {{"id", id(name)},
                              {"patternUnits", "userSpaceOnUse"},
                              {"width", shown(apart * em_, 3)},
                              {"height", shown(apart * em_, 3)},
                              {"patternTransform", "rotate(" + shown(turn, 0) + ')'}});
        svg_.add("rect", {{"width", shown(width * em_, 3)},
                          {"height", shown(apart * em_, 3)},
                          {"fill", palette::black},
                          {"fill-opacity", opacity}});
        svg_.close("pattern");
    };
    svg_.open("defs", {});
    strokes("stripes", 45.0, 0.7, 0.16, 0.65);
    strokes("loose", -45.0, 0.9, 0.12, 0.75);
    svg_.open("pattern", {{"id", id("dots")},
                          {"patternUnits", "userSpaceOnUse"},
                          {"width", shown(0.9 * em_, 3)},
                          {"height", shown(0.9 * em_, 3)}});
    const std::string middle = shown(0.45 * em_, 3);
    svg_.add("circle", {{"cx", middle}, {"cy", middle}, {"r", shown(0.13 * em_, 3)}, {"fill", palette::black}});
    svg_.close("pattern");
    svg_.close("defs");
}

template <class T>
void loin_canvas<T>::scale_bar(double x, double y, double room, const kitchen_units& units) {
    const bool inches = units.along.in == length_division::unit::inches;
    const double one = inches ? 25.4 : 10.0;
    const int steps = std::max(1, static_cast<int>(std::min(inches ? 4.0 : 10.0, std::floor(room / one))));
    for (int k = 0; k < steps; ++k)
        svg_.add("rect", {{"class", "scale"},
                          {"x", x + k * one},
                          {"y", shown(y - 0.5 * em_, 2)},
                          {"width", one},
                          {"height", shown(0.4 * em_, 2)},
                          {"fill", k % 2 == 0 ? palette::black : std::string_view("#FFFFFF")},
                          {"stroke", palette::black},
                          {"stroke-width", shown(0.08 * em_, 3)}});
    label(x + steps * one + 0.6 * em_, y, std::to_string(inches ? steps : steps * 10) + (inches ? " in" : " mm"),
          "start", 0.9);
}

template <class T>
double loin_canvas<T>::swatch(double x, double y, std::string_view colour, std::string_view pattern,
                              const std::string& text) {
    for (const std::string& paint : {std::string(colour), pattern.empty() ? std::string("none") : fill(pattern)})
        svg_.add("rect", {{"x", shown(x, 2)},
                          {"y", shown(y - 0.85 * em_, 2)},
                          {"width", shown(1.8 * em_, 2)},
                          {"height", shown(1.1 * em_, 2)},
                          {"fill", paint},
                          {"stroke", palette::black},
                          {"stroke-width", shown(0.08 * em_, 3)}});
    label(x + 2.2 * em_, y, text, "start", 0.92);
    return x + (3.6 + 0.52 * static_cast<double>(columns_of(text))) * em_;
}

} // namespace tranche::detail
