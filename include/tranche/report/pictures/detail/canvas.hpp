// What every picture is drawn on: axes, letters that fit, lines, shapes with patterns, numbers in discs and keys, as SVG.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
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

/// Where values from `low` to `high` stand on the line of a picture that runs from `from` to `to`.
struct picture_axis {
    double low = 0.0, high = 1.0, from = 0.0, to = 1.0;

    [[nodiscard]] double at(double value) const { return from + (value - low) / (high - low) * (to - from); }
    /// The least round step whose marks stand at least `gap` apart.
    [[nodiscard]] double step(double gap) const { return round_step((high - low) * gap / std::abs(to - from)); }
    /// The multiples of `step` between the ends.
    [[nodiscard]] std::vector<double> marks(double step) const {
        std::vector<double> all;
        for (double k = std::ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; ++k) all.push_back(k * step);
        return all;
    }
};

struct picture_point {
    double x = 0.0, y = 0.0;
};

/// The path through these points, to a hundredth.
template <class = when_called>
[[nodiscard]] std::string path_through(const std::vector<picture_point>& points, bool closed = false) {
    std::string path;
    path.reserve(14 * points.size() + 1);
    for (const picture_point& p : points) {
        const char letter = path.empty() ? 'M' : 'L';
        if (!is_drawable(p.x) || !is_drawable(p.y)) {
            path += letter + svg_number(p.x, 2) + ' ' + svg_number(p.y, 2);
            continue;
        }
        std::array<char, 64> step{letter}; // appended at once
        char* end = write_number(step.data() + 1, p.x, 2);
        *end++ = ' ';
        end = write_number(end, p.y, 2);
        path.append(step.data(), static_cast<std::size_t>(end - step.data()));
    }
    if (closed) path += 'Z';
    return path;
}

/// The room that something takes.
struct picture_box {
    double left, right, top, bottom;

    [[nodiscard]] bool meets(const picture_box& o) const {
        return left < o.right && o.left < right && top < o.bottom && o.top < bottom;
    }
};

// How things are drawn. Sizes of letters and widths of lines are in `em`, everything else in the units of the picture.

struct text_style {
    std::string_view what{}, anchor = "start";
    double size = 1.0;
    bool bold = false;
    double room = 0.0;         ///< no wider than this, if above zero
    bool upwards = false;      ///< read upwards, beside an upright line
    bool edged = false;        ///< with a white edge, clear of lines
    std::string_view colour{}; ///< black if empty
};

struct line_style {
    double width = 0.05;
    std::string_view colour = palette::black;
    std::string dashes{};
};

/// A colour (or "none"), over it a pattern of the picture, around it a line.
struct fill_style {
    std::string_view colour = "none", pattern{};
    double opacity = 1.0;
    line_style edge{.width = 0.0};
};

struct fill_pattern {
    enum class of { strokes, crossed_strokes, dots };
    std::string_view name;
    of what = of::strokes;
    double turn = 0.0, apart = 1.0, width = 0.1, opacity = 1.0; ///< degrees; em
};

/// Stripes for what is lost, and a cross for what is lost twice, on bars of charts.
template <class = when_called>
[[nodiscard]] std::vector<fill_pattern> chart_patterns() {
    const double apart = 7.0 / 15.0, width = 2.0 / 15.0;
    return {{.name = "stripes", .turn = 45.0, .apart = apart, .width = width, .opacity = 0.6},
            {.name = "cross",
             .what = fill_pattern::of::crossed_strokes,
             .turn = -45.0,
             .apart = apart,
             .width = width,
             .opacity = 0.6}};
}

/// A picture being drawn. `em` is the size of its letters; its ids begin with its name. Letters with too little room shrink to
/// `least` of their size before their text is shortened.
template <class = when_called>
class canvas {
protected:
    canvas(std::string name, double em, double least = 1.0) : em_(em), name_(std::move(name)), least_(least) {}

    /// The beginning of the picture up to its background: 960 pixels wide, or `unit` for each unit of the picture.
    void begin(double width, double height, const std::string& title, const std::string& description,
               const std::vector<fill_pattern>& patterns = {}, const std::string& unit = {});
    [[nodiscard]] std::string end() {
        svg_.close("svg");
        return svg_.take();
    }
    /// What is drawn up to the end of the group is measured from x, y.
    void begin_group(double x, double y, std::string_view what = {}) {
        svg_.open("g", {{"class", what}, {"transform", "translate(" + svg_number(x) + ' ' + svg_number(y) + ')'}});
    }
    void end_group() { svg_.close("g"); }

    void label(double x, double y, const std::string& text, const text_style& s = {});
    void line(std::string_view what, double x1, double y1, double x2, double y2, const line_style& s = {}) {
        svg_.add("line", {{"class", what},
                          {"x1", x1},
                          {"y1", y1},
                          {"x2", x2},
                          {"y2", y2},
                          {"stroke", s.colour},
                          {"stroke-width", s.width * em_},
                          {"stroke-dasharray", s.dashes}});
    }
    /// Strokes and gaps of these lengths, in em.
    [[nodiscard]] std::string dashes(double stroke, double gap) const {
        return svg_number(stroke * em_, 2) + ' ' + svg_number(gap * em_, 2);
    }
    void rect(std::string_view what, double x, double y, double width, double height, const fill_style& s) {
        shape("rect", what, {{"x", x}, {"y", y}, {"width", width}, {"height", height}}, s);
    }
    void path(std::string_view what, const std::string& data, const fill_style& s) {
        if (!data.empty()) shape("path", what, {{"d", svg_data{data}}}, s);
    }
    void circle(std::string_view what, double x, double y, double radius, const fill_style& s) {
        shape("circle", what, {{"cx", x}, {"cy", y}, {"r", radius}}, s);
    }
    /// A number in a disc of radius 0.95 em.
    void disc(double x, double y, std::size_t number) {
        circle({}, x, y, 0.95 * em_, {.colour = "#FFFFFF", .edge = {.width = 0.1}});
        label(x, y + 0.34 * em_, std::to_string(number),
              {.anchor = "middle", .size = number <= 99 ? 0.95 : 0.7, .bold = true});
    }
    /// A swatch and its text; gives where the next one may stand.
    [[nodiscard]] double swatch(double x, double y, const std::string& text, fill_style s) {
        s.edge.width = 0.08;
        rect("key", x, y - 0.85 * em_, 1.8 * em_, 1.1 * em_, s);
        label(x + 2.2 * em_, y, text, {.what = "key", .size = 0.92});
        return x + 3.6 * em_ + width_of_text(text, 0.92 * em_);
    }

    double em_;

private:
    void pattern(const fill_pattern& p);
    void shape(std::string_view element, std::string_view what, const svg_writer::attributes& where,
               const fill_style& s);
    [[nodiscard]] std::string id(std::string_view what) const { return name_ + '-' + std::string(what); }

    std::string name_;
    double least_;
    svg_writer svg_;
};

template <class T>
void canvas<T>::begin(double width, double height, const std::string& title, const std::string& description,
                      const std::vector<fill_pattern>& patterns, const std::string& unit) {
    const auto size = [&](double value) {
        return unit.empty() ? svg_number(std::round(960.0 * value / width)) : svg_number(value) + unit;
    };
    svg_.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                      {"viewBox", "0 0 " + svg_number(width) + ' ' + svg_number(height)},
                      {"width", size(width)},
                      {"height", size(height)},
                      {"role", "img"},
                      {"aria-labelledby", id("title") + ' ' + id("desc")},
                      {"font-family", "sans-serif"},
                      {"font-size", em_}});
    svg_.add("title", {{"id", id("title")}}, title);
    svg_.add("desc", {{"id", id("desc")}}, description);
    if (!patterns.empty()) svg_.open("defs", {});
    for (const fill_pattern& p : patterns) pattern(p);
    if (!patterns.empty()) svg_.close("defs");
    rect({}, 0.0, 0.0, width, height, {.colour = "#FFFFFF"});
}

template <class T>
void canvas<T>::pattern(const fill_pattern& p) {
    const double apart = p.apart * em_, wide = p.width * em_;
    svg_.open("pattern", {{"id", id(p.name)},
                          {"patternUnits", "userSpaceOnUse"},
                          {"width", apart},
                          {"height", apart},
                          {"patternTransform", p.turn == 0.0 ? "" : "rotate(" + svg_number(p.turn) + ')'}});
    const fill_style ink{.colour = palette::black, .opacity = p.opacity};
    if (p.what == fill_pattern::of::dots) {
        circle({}, 0.5 * apart, 0.5 * apart, wide, ink);
    } else {
        rect({}, 0.0, 0.0, wide, apart, ink);
        if (p.what == fill_pattern::of::crossed_strokes) rect({}, 0.0, 0.0, apart, wide, ink);
    }
    svg_.close("pattern");
}

template <class T>
void canvas<T>::shape(std::string_view element, std::string_view what, const svg_writer::attributes& where,
                      const fill_style& s) {
    const bool edged = s.edge.width > 0.0;
    svg_writer::attributes all{{"class", what}};
    all.insert(all.end(), where.begin(), where.end());
    all.insert(all.end(), {{"fill", s.colour},
                           {"fill-opacity", s.opacity < 1.0 ? svg_number(s.opacity) : ""},
                           {"stroke", edged ? s.edge.colour : ""},
                           {"stroke-width", edged ? svg_number(s.edge.width * em_) : ""},
                           {"stroke-dasharray", s.edge.dashes},
                           {"stroke-linejoin", edged && element == "path" ? "round" : ""}});
    svg_.add(element, all);
    if (s.pattern.empty()) return;
    all = where;
    all.push_back({"fill", "url(#" + id(s.pattern) + ')'});
    svg_.add(element, all);
}

template <class T>
void canvas<T>::label(double x, double y, const std::string& text, const text_style& s) {
    double size = s.size * em_;
    std::string words = text;
    if (const double wide = width_of_text(text, size, s.bold); s.room > 0.0 && wide > s.room) {
        size *= std::max(least_, s.room / wide);
        if (const double share = s.room / width_of_text(text, size, s.bold); share < 1.0 - 1e-9)
            words = fitted(text, share * ems_of(text));
    }
    if (s.upwards) x += 0.35 * size; // its middle on the line
    svg_.add("text",
             {{"class", s.what},
              {"x", x},
              {"y", y},
              {"text-anchor", s.anchor},
              {"font-size", size},
              {"font-weight", s.bold ? "bold" : "normal"},
              {"fill", s.colour},
              {"stroke", s.edged ? "#FFFFFF" : ""},
              {"stroke-width", s.edged ? svg_number(0.23 * em_) : ""},
              {"paint-order", s.edged ? "stroke" : ""},
              {"transform", s.upwards ? "rotate(-90 " + svg_number(x) + ' ' + svg_number(y) + ')' : ""}},
             words);
}

} // namespace tranche::detail
