// The control chart of yields as a picture: the tests in order of time, their mean, the limits, and what lies outside.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/records/record_summary.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/report/pictures/detail/spread_labels.hpp>
#include <tranche/report/tables/record_tables.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

template <class = when_called>
class control_chart_drawing : canvas<> {
public:
    control_chart_drawing(const yield_chart& data, std::string_view title)
        : canvas<>("control", em), data_(data), title_(printable(title)) {
        if (title_.find_first_not_of(' ') == std::string::npos) title_ = "Yield of cutting tests";
        const std::vector<double>& values = data.chart.values;
        double low = *std::min_element(values.begin(), values.end());
        double high = *std::max_element(values.begin(), values.end());
        if (data.chart.limits) {
            low = std::min(low, data.chart.limits->lower);
            high = std::max(high, data.chart.limits->upper);
        }
        const double pad = std::max(0.18 * (high - low), 0.002); // room for labels; yields alike get some height
        yields_ = {.low = low - pad, .high = high + pad, .from = bottom, .to = top};
        while (point_digits_ < 4 && !outside_as_shown()) ++point_digits_;
    }

    [[nodiscard]] std::string draw() {
        begin(960.0, 440.0, title_, description());
        label(left, 28.0, title_, {.what = "title", .size = 18.0 / em, .bold = true, .room = right - left});
        grid();
        dates();
        lines();
        points();
        constexpr double y = 424.0;
        mark(left + 9.0, y, false);
        text(left + 20.0, y, "inside the limits", {.what = "key"});
        mark(left + 189.0, y, true);
        text(left + 204.0, y, "outside: look for the reason before changing anything", {.what = "key"});
        return end();
    }

private:
    static constexpr double left = 76.0, right = 790.0, top = 66.0, bottom = 378.0, em = 13.0;

    [[nodiscard]] double x_of(std::size_t i) const {
        const auto n = static_cast<double>(data_.chart.values.size());
        return left + (static_cast<double>(i) + 0.5) / n * (right - left);
    }
    /// Its middle at this height, with a white edge, so that letters stay clear of lines.
    void text(double x, double y, const std::string& words, text_style s) {
        s.edged = true;
        label(x, y + 0.35 * em, words, s);
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
    void mark(double x, double y, bool outside);

    const yield_chart& data_;
    std::string title_;
    picture_axis yields_;
    int point_digits_ = 1;
};

template <class T>
void control_chart_drawing<T>::grid() {
    const double step = yields_.step(3.0 * em);
    // The axis spans 0.4 per cent at least, so two decimals of one tell the marks apart.
    const int decimals = step >= 0.01 - 1e-9 ? 0 : step >= 0.001 - 1e-9 ? 1 : 2;
    for (const double yield : yields_.marks(step)) {
        line("grid", left, yields_.at(yield), right, yields_.at(yield), {.width = 0.08, .colour = "#D9D9D9"});
        text(left - 8.0, yields_.at(yield), percent_text(yield, decimals), {.what = "tick", .anchor = "end"});
    }
    rect("frame", left, top, right - left, bottom - top, {.edge = {.width = 0.08}});
    label(left, top - 10.0, "Yield, portions out of what was bought", {.what = "axis"});
}

/// As many dates as have room beside each other.
template <class T>
void control_chart_drawing<T>::dates() {
    const double gap = width_of_text("2026-00-00", em) + em;
    const std::size_t n = data_.records.size();
    const double apart = (right - left) / static_cast<double>(n);
    const auto each = static_cast<std::size_t>(std::max(1.0, std::ceil(gap / apart)));
    for (std::size_t i = 0; i < n; i += each) {
        line("day", x_of(i), bottom, x_of(i), bottom + 5.0, {.width = 0.08});
        label(x_of(i), bottom + 20.0, date_text(data_.records[i].date), {.what = "date", .anchor = "middle"});
    }
}

/// Centre and limits, with their names on the right.
template <class T>
void control_chart_drawing<T>::lines() {
    std::vector<std::string> names;
    std::vector<double> wishes;
    const auto add = [&](std::string_view what, const char* name, double yield, const line_style& s) {
        line(what, left, yields_.at(yield), right, yields_.at(yield), s);
        names.push_back(name + line_text(yield));
        wishes.push_back(yields_.at(yield));
    };
    const line_style limit{.width = 0.15, .colour = palette::vermillion, .dashes = "9 5"};
    if (data_.chart.limits) add("limit", "upper limit ", data_.chart.limits->upper, limit);
    add("centre", "mean ", data_.chart.centre, {.width = 0.15, .colour = palette::bluish_green});
    if (data_.chart.limits) add("limit", "lower limit ", data_.chart.limits->lower, limit);
    const std::vector<double> places = spread_labels(wishes, 1.3 * em, top + 0.65 * em, bottom - 0.35 * em);
    for (std::size_t i = 0; i < names.size(); ++i) text(right + 8.0, places[i], names[i], {.what = "line-name"});
}

/// Inside a disc, outside a larger diamond with a ring: told apart by shape, so in greyscale too.
template <class T>
void control_chart_drawing<T>::mark(double x, double y, bool outside) {
    if (outside)
        path("outside", path_through({{x, y - 9.0}, {x + 9.0, y}, {x, y + 9.0}, {x - 9.0, y}}, true),
             {.colour = palette::orange, .edge = {.width = 0.15}});
    else
        circle("inside", x, y, 4.0, {.colour = palette::blue});
}

template <class T>
void control_chart_drawing<T>::points() {
    const individuals_chart& chart = data_.chart;
    std::vector<picture_point> course;
    std::vector<picture_box> taken;
    for (std::size_t i = 0; i < chart.values.size(); ++i) {
        const double x = x_of(i), y = yields_.at(chart.values[i]);
        course.push_back({x, y});
        taken.push_back({x - 9.0, x + 9.0, y - 9.0, y + 9.0});
    }
    path("course", path_through(course), {.edge = {.width = 0.12, .colour = palette::sky_blue}});
    for (std::size_t i = 0; i < chart.values.size(); ++i)
        mark(course[i].x, course[i].y, std::binary_search(chart.outside.begin(), chart.outside.end(), i));

    // The farther out, the sooner a point gets its label; one that would cover another label or a point gets none.
    std::vector<std::size_t> order = chart.outside;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return std::abs(chart.values[a] - chart.centre) > std::abs(chart.values[b] - chart.centre);
    });
    for (const std::size_t i : order) {
        const std::string words = point_text(i);
        const double half = 0.5 * width_of_text(words, em, true);
        const double x = std::clamp(course[i].x, left + half + 4.0, right - half - 4.0);
        const double y = course[i].y + (chart.values[i] > chart.centre ? -18.5 : 19.0);
        const picture_box here{x - half, x + half, y - 0.5 * em, y + 0.65 * em};
        if (std::any_of(taken.begin(), taken.end(), [&](const picture_box& b) { return b.meets(here); })) continue;
        taken.push_back(here);
        text(x, y, words, {.what = "outside-name", .anchor = "middle", .bold = true});
    }
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
