// The control chart of yields as a picture: the tests in order of time, their mean, the limits, and what lies outside.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/records/record_summary.hpp>
#include <tranche/report/pictures/detail/spread_labels.hpp>
#include <tranche/report/pictures/detail/svg.hpp>
#include <tranche/report/tables/record_tables.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// A step of 1, 2 or 5 times a power of ten that divides `size`, above zero, into four to ten parts.
template <class = when_called>
[[nodiscard]] double axis_step(double size) {
    const double power = std::pow(10.0, std::floor(std::log10(size / 4.0)));
    const double wanted = size / 4.0 / power; // 1 to 10
    return power * (wanted >= 5.0 ? 5.0 : wanted >= 2.0 ? 2.0 : 1.0);
}

class control_chart_drawing {
public:
    control_chart_drawing(const yield_chart& data, std::string_view title) : data_(data), title_(printable(title)) {
        if (title_.find_first_not_of(' ') == std::string::npos) title_ = "Yield of cutting tests";
        const std::vector<double>& values = data.chart.values;
        low_ = *std::min_element(values.begin(), values.end());
        high_ = *std::max_element(values.begin(), values.end());
        if (data.chart.limits) {
            low_ = std::min(low_, data.chart.limits->lower);
            high_ = std::max(high_, data.chart.limits->upper);
        }
        const double pad = std::max(0.18 * (high_ - low_), 0.002); // room for labels; yields alike get some height
        low_ -= pad;
        high_ += pad;
        // With steps this wide two decimals of a per cent tell the ticks apart.
        step_ = axis_step(high_ - low_);
        decimals_ = step_ >= 0.01 - 1e-9 ? 0 : step_ >= 0.001 - 1e-9 ? 1 : 2;
        while (point_digits_ < 4 && !outside_as_shown()) ++point_digits_;
    }

    [[nodiscard]] std::string draw() {
        svg_.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                          {"viewBox", "0 0 960 440"},
                          {"width", 960.0},
                          {"height", 440.0},
                          {"font-family", "sans-serif"},
                          {"role", "img"},
                          {"aria-labelledby", "control-title control-desc"}});
        svg_.add("title", {{"id", "control-title"}}, title_);
        svg_.add("desc", {{"id", "control-desc"}}, description());
        svg_.add("rect", {{"width", 960.0}, {"height", 440.0}, {"fill", "#FFFFFF"}});
        text(left, 28.0, "start", fitted(title_, (right - left) / 18.0), "title", 18.0, true);
        grid();
        dates();
        lines();
        points();
        key();
        svg_.close("svg");
        return svg_.text();
    }

private:
    static constexpr double left = 76.0, right = 790.0, top = 66.0, bottom = 378.0, letters = 13.0;

    [[nodiscard]] double x_of(std::size_t i) const {
        const auto n = static_cast<double>(data_.chart.values.size());
        return left + (static_cast<double>(i) + 0.5) / n * (right - left);
    }
    [[nodiscard]] double y_of(double yield) const { return bottom - (yield - low_) / (high_ - low_) * (bottom - top); }

    /// With a white edge, so that letters stay clear of lines.
    void text(double x, double y, std::string_view anchor, const std::string& words, std::string_view what,
              double size = letters, bool bold = false) {
        svg_.add("text",
                 {{"class", what},
                  {"x", x},
                  {"y", y},
                  {"text-anchor", anchor},
                  {"font-size", size},
                  {"font-weight", bold ? "bold" : "normal"},
                  {"stroke", "#FFFFFF"},
                  {"stroke-width", 3.0},
                  {"paint-order", "stroke"}},
                 words);
    }
    void rule(std::string_view what, double y, std::string_view colour, double width, std::string_view dashes) {
        svg_.add("line", {{"class", what},
                          {"x1", left},
                          {"y1", y},
                          {"x2", right},
                          {"y2", y},
                          {"stroke", colour},
                          {"stroke-width", width},
                          {"stroke-dasharray", dashes}});
    }
    [[nodiscard]] std::string description() const {
        const std::vector<cutting_record>& records = data_.records;
        std::string words = std::to_string(records.size()) +
                            (records.size() == 1 ? " cutting test of " : " cutting tests, ") +
                            date_text(records.front().date);
        if (records.size() > 1) words += " to " + date_text(records.back().date);
        words += ". Mean yield " + line_text(data_.chart.centre);
        if (data_.chart.limits)
            words += ", control limits " + line_text(data_.chart.limits->lower) + " and " +
                     line_text(data_.chart.limits->upper);
        words += ". ";
        if (!data_.chart.limits) return words + "One test has no limits.";
        if (data_.chart.outside.empty()) return words + "No test lies outside.";
        words += "Outside: ";
        for (std::size_t k = 0; k < data_.chart.outside.size(); ++k)
            words += (k == 0 ? "" : "; ") + point_text(data_.chart.outside[k]);
        return words + '.';
    }
    [[nodiscard]] std::string point_text(std::size_t i) const {
        return date_text(data_.records[i].date) + ", " + percent_text(data_.chart.values[i], point_digits_);
    }
    [[nodiscard]] std::string line_text(double yield) const { return percent_text(yield, line_digits()); }
    [[nodiscard]] int line_digits() const { return std::max(2, point_digits_); }
    /// Whether each point outside is beyond its limit as the two are written.
    [[nodiscard]] bool outside_as_shown() const {
        const auto written = [](double yield, int digits) {
            const double parts = std::pow(10.0, digits + 2);
            return std::round(yield * parts) / parts;
        };
        return std::all_of(data_.chart.outside.begin(), data_.chart.outside.end(), [&](std::size_t i) {
            const double yield = data_.chart.values[i], point = written(yield, point_digits_);
            return yield > data_.chart.limits->upper ? point > written(data_.chart.limits->upper, line_digits())
                                                     : point < written(data_.chart.limits->lower, line_digits());
        });
    }

    void grid();
    void dates();
    void lines();
    void points();
    void key();
    void mark(double x, double y, bool outside);

    const yield_chart& data_;
    std::string title_;
    double low_ = 0.0, high_ = 1.0, step_ = 1.0;
    int decimals_ = 0, point_digits_ = 1;
    svg_writer svg_;
};

inline void control_chart_drawing::grid() {
    for (double k = std::ceil(low_ / step_); k * step_ <= high_; ++k) {
        rule("grid", y_of(k * step_), "#D9D9D9", 1.0, "none");
        text(left - 8.0, y_of(k * step_) + 0.35 * letters, "end", percent_text(k * step_, decimals_), "tick");
    }
    svg_.add("rect", {{"class", "frame"},
                      {"x", left},
                      {"y", top},
                      {"width", right - left},
                      {"height", bottom - top},
                      {"fill", "none"},
                      {"stroke", palette::black}});
    text(left, top - 10.0, "start", "Yield, portions out of what was bought", "axis");
}

/// As many dates as have room beside each other.
inline void control_chart_drawing::dates() {
    const double gap = (ems_of("2026-00-00") + 1.0) * letters;
    const std::size_t n = data_.records.size();
    const double apart = (right - left) / static_cast<double>(n);
    const auto each = static_cast<std::size_t>(std::max(1.0, std::ceil(gap / apart)));
    for (std::size_t i = 0; i < n; i += each) {
        svg_.add("line", {{"class", "day"},
                          {"x1", x_of(i)},
                          {"y1", bottom},
                          {"x2", x_of(i)},
                          {"y2", bottom + 5.0},
                          {"stroke", palette::black}});
        text(x_of(i), bottom + 20.0, "middle", date_text(data_.records[i].date), "date");
    }
}

/// Centre and limits, with their names on the right.
inline void control_chart_drawing::lines() {
    std::vector<std::pair<double, std::string>> names;
    const auto add = [&](const char* name, double at, std::string_view colour, double width, const char* dashes) {
        rule(dashes[0] == 'n' ? "centre" : "limit", y_of(at), colour, width, dashes);
        names.emplace_back(y_of(at), std::string(name) + line_text(at));
    };
    if (data_.chart.limits) add("upper limit ", data_.chart.limits->upper, palette::vermillion, 2.0, "9 5");
    add("mean ", data_.chart.centre, palette::bluish_green, 2.0, "none");
    if (data_.chart.limits) add("lower limit ", data_.chart.limits->lower, palette::vermillion, 2.0, "9 5");
    std::vector<double> wishes;
    for (const auto& [y, name] : names) wishes.push_back(y + 0.35 * letters);
    const std::vector<double> places = spread_labels(wishes, 1.3 * letters, top + letters, bottom);
    for (std::size_t i = 0; i < names.size(); ++i) text(right + 8.0, places[i], "start", names[i].second, "line-name");
}

/// Inside a disc, outside a larger diamond with a ring: told apart by shape, so in greyscale too.
inline void control_chart_drawing::mark(double x, double y, bool outside) {
    if (!outside) {
        svg_.add("circle", {{"class", "inside"}, {"cx", x}, {"cy", y}, {"r", 4.0}, {"fill", palette::blue}});
        return;
    }
    std::string path;
    for (const auto& [dx, dy] : {std::pair{0.0, -9.0}, std::pair{9.0, 0.0}, std::pair{0.0, 9.0}, std::pair{-9.0, 0.0}})
        path += (path.empty() ? "M" : "L") + detail::shown(x + dx, 2) + ' ' + detail::shown(y + dy, 2);
    svg_.add("path", {{"class", "outside"},
                      {"d", path + 'Z'},
                      {"fill", palette::orange},
                      {"stroke", palette::black},
                      {"stroke-width", 2.0}});
}

inline void control_chart_drawing::points() {
    const individuals_chart& chart = data_.chart;
    std::string path;
    for (std::size_t i = 0; i < chart.values.size(); ++i)
        path += (i == 0 ? "M" : "L") + detail::shown(x_of(i), 2) + ' ' + detail::shown(y_of(chart.values[i]), 2);
    svg_.add(
        "path",
        {{"class", "course"}, {"d", path}, {"fill", "none"}, {"stroke", palette::sky_blue}, {"stroke-width", 1.5}});
    for (std::size_t i = 0; i < chart.values.size(); ++i)
        mark(x_of(i), y_of(chart.values[i]), std::binary_search(chart.outside.begin(), chart.outside.end(), i));

    // The farther out, the sooner a point gets its label; one that would cover another label or a point gets none.
    struct box {
        double x1, x2, y1, y2;
        [[nodiscard]] bool meets(const box& o) const { return x1 < o.x2 && o.x1 < x2 && y1 < o.y2 && o.y1 < y2; }
    };
    std::vector<box> taken;
    for (std::size_t i = 0; i < chart.values.size(); ++i) {
        const double x = x_of(i), y = y_of(chart.values[i]);
        taken.push_back({x - 9.0, x + 9.0, y - 9.0, y + 9.0});
    }
    std::vector<std::size_t> order = chart.outside;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return std::abs(chart.values[a] - chart.centre) > std::abs(chart.values[b] - chart.centre);
    });
    for (const std::size_t i : order) {
        const std::string words = point_text(i);
        const double half = 0.5 * ems_of(words) * letters;
        const double x = std::clamp(x_of(i), left + half + 4.0, right - half - 4.0);
        const bool above = chart.values[i] > chart.centre;
        const double y = y_of(chart.values[i]) + (above ? -14.0 : 14.0 + 0.75 * letters);
        const box here{x - half, x + half, y - 0.85 * letters, y + 0.3 * letters};
        if (std::any_of(taken.begin(), taken.end(), [&](const box& b) { return b.meets(here); })) continue;
        taken.push_back(here);
        text(x, y, "middle", words, "outside-name", letters, true);
    }
}

inline void control_chart_drawing::key() {
    constexpr double y = 424.0;
    mark(left + 9.0, y, false);
    text(left + 20.0, y + 0.35 * letters, "start", "inside the limits", "key");
    mark(left + 189.0, y, true);
    text(left + 204.0, y + 0.35 * letters, "start", "outside: look for the reason before changing anything", "key");
}

} // namespace detail

/// The chart of a record (`chart_yields`) as SVG, 960 by 440 pixels: tests at even distances in order of time, the mean, and
/// the limits of the moving range, named with their values; what lies outside has another shape and, where there is room,
/// its date. Yields have as many digits as it takes to see that they are outside. Self-contained, with a title and a description for who does not see it. `title` heads it; a blank one becomes
/// "Yield of cutting tests". O(tests × outside). Yields are in per cent. Throws as `to_text` for a number that cannot
/// be written. The source of the limits: `chart_individuals`.
template <class = detail::when_called>
[[nodiscard]] std::string control_chart_svg(const yield_chart& chart, std::string_view title = "") {
    return detail::control_chart_drawing(chart, title).draw();
}

} // namespace tranche
