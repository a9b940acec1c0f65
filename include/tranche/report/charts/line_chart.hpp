// Lines over an axis, with bands around them where there are any: a sweep of anybody's, in the look of the other pictures, as SVG.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/charts/chart_axis.hpp>
#include <tranche/report/charts/detail/chart_paper.hpp>
#include <tranche/report/charts/detail/chart_scale.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/report/pictures/detail/spread_labels.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// A band at a point of a line: an interval, or two quantiles.
struct chart_band {
    double low = 0.0, high = 0.0; ///< low is at most high

    friend bool operator==(const chart_band&, const chart_band&) = default;
};

/// A point of a line. Without a y the line has a gap: nothing is possible there, say.
struct chart_point {
    double x = 0.0;
    std::optional<double> y{};
    std::optional<chart_band> band{};

    friend bool operator==(const chart_point&, const chart_point&) = default;
};

/// A line through points in the order of their x.
struct chart_line {
    std::string name{}; ///< stands beside its end
    std::vector<chart_point> points{};
    bool guide = false; ///< thin and grey: a limit, or what something is compared with

    friend bool operator==(const chart_line&, const chart_line&) = default;
};

/// A line through x[i], y[i], without bands. Throws `invalid_input` unless there are as many of one as of the other. O(points).
template <class = detail::when_called>
[[nodiscard]] chart_line line_through(std::string name, const std::vector<double>& x, const std::vector<double>& y) {
    if (x.size() != y.size())
        throw invalid_input("y", std::to_string(y.size()) + " numbers", "one for each x, " + std::to_string(x.size()));
    chart_line made{.name = std::move(name)};
    for (std::size_t i = 0; i < x.size(); ++i) made.points.push_back({.x = x[i], .y = y[i]});
    return made;
}

struct line_chart {
    std::string title{};
    chart_axis x{}, y{};
    std::vector<chart_line> lines{}; ///< at most 16, which is what can be told apart

    friend bool operator==(const line_chart&, const line_chart&) = default;
};

namespace detail {

template <class = when_called>
class line_chart_drawing : chart_paper<> {
public:
    line_chart_drawing(const line_chart& data, std::string name)
        : chart_paper<>(std::move(name), data.title, "Lines"), data_(data) {
        if (data.lines.size() > most_lines)
            throw invalid_input("lines", std::to_string(data.lines.size()),
                                "at most 16, which is what can be told apart");
        std::vector<double> xs, ys;
        double names = 0.0;
        for (std::size_t i = 0; i < data.lines.size(); ++i) {
            gather(i, xs, ys);
            names = std::max(names, width_of_text(printable(data.lines[i].name), em_));
        }
        lay_out(chart_scale<>(data.x, xs, 0.02), chart_scale<>(data.y, ys, 0.05),
                names > 0.0 ? wide - 24.0 - sample - std::min(names, longest_name) : wide - 24.0);
    }

    [[nodiscard]] std::string draw() {
        head(description(), {}, 426.0);
        upright_axis();
        level_axis();
        frame();
        std::size_t drawn = 0;
        for (std::size_t i = 0; i < data_.lines.size(); ++i) bands(i);
        for (std::size_t i = 0; i < data_.lines.size(); ++i) drawn += course(i);
        if (drawn == 0) nothing("nothing to show: there are no points");
        names();
        return end();
    }

private:
    static constexpr double sample = 38.0, longest_name = 250.0;

    /// How line i is drawn.
    [[nodiscard]] line_style look_of(std::size_t i) const {
        if (data_.lines[i].guide) return {.width = 0.1, .colour = "#767676", .dashes = chart_dashes(i)};
        return {.width = 0.16, .colour = chart_colour(i), .dashes = chart_dashes(i)};
    }
    void gather(std::size_t i, std::vector<double>& xs, std::vector<double>& ys) const {
        const std::string field = element_of("lines", i) + ".";
        const std::vector<chart_point>& points = data_.lines[i].points;
        for (std::size_t k = 0; k < points.size(); ++k) {
            const chart_point& p = points[k];
            const std::string point = field + element_of("points", k);
            require_on_axis(p.x, data_.x, point + ".x");
            if (k > 0 && !(p.x >= points[k - 1].x))
                throw invalid_input(point + ".x", shown(p.x),
                                    "at least that of the point before, " + shown(points[k - 1].x));
            xs.push_back(p.x);
            if (p.y) require_on_axis(*p.y, data_.y, point + ".y"), ys.push_back(*p.y);
            if (!p.band) continue;
            require_on_axis(p.band->low, data_.y, point + ".band.low");
            require_on_axis(p.band->high, data_.y, point + ".band.high");
            if (p.band->high < p.band->low)
                throw invalid_input(point + ".band.high", shown(p.band->high),
                                    "at least its low, " + shown(p.band->low));
            ys.push_back(p.band->low);
            ys.push_back(p.band->high);
        }
    }
    /// Areas of the runs of points that have a band; a bar where there is only one.
    void bands(std::size_t i) {
        const std::vector<chart_point>& points = data_.lines[i].points;
        const fill_style look{.colour = chart_colour(i), .opacity = 0.22};
        for (std::size_t from = 0; from < points.size();) {
            std::size_t past = from;
            std::vector<picture_point> lower, upper;
            for (; past < points.size() && points[past].band; ++past) {
                lower.push_back({across_.at(points[past].x), up_.at(points[past].band->low)});
                upper.push_back({across_.at(points[past].x), up_.at(points[past].band->high)});
            }
            if (upper.size() == 1) {
                line("band", upper[0].x, lower[0].y, upper[0].x, upper[0].y, {.width = 0.4, .colour = grid_colour});
            } else if (upper.size() > 1) {
                std::vector<picture_point> outline = thinned(upper);
                const std::vector<picture_point> back = thinned(lower);
                outline.insert(outline.end(), back.rbegin(), back.rend());
                path("band", path_through(outline, true), look);
            }
            from = std::max(past, from + 1);
        }
    }
    /// The line in its runs, and discs where they are few or stand alone; how many points there are.
    std::size_t course(std::size_t i) {
        const std::vector<chart_point>& points = data_.lines[i].points;
        std::size_t drawn = 0;
        for (std::size_t from = 0; from < points.size();) {
            std::vector<picture_point> run;
            std::size_t past = from;
            for (; past < points.size() && points[past].y; ++past)
                run.push_back({across_.at(points[past].x), up_.at(*points[past].y)});
            if (run.size() > 1)
                path(data_.lines[i].guide ? "guide" : "line", path_through(thinned(run)), {.edge = look_of(i)});
            if ((points.size() <= 40 || run.size() == 1) && !data_.lines[i].guide)
                for (const picture_point& p : run) circle("point", p.x, p.y, 3.0, {.colour = chart_colour(i)});
            drawn += run.size();
            from = std::max(past, from + 1);
        }
        return drawn;
    }
    /// Beside the ends of the lines, with a sample of each, from the highest to the lowest.
    void names() {
        struct named {
            double wish;
            std::size_t i;
        };
        std::vector<named> order;
        for (std::size_t i = 0; i < data_.lines.size(); ++i) {
            if (printable(data_.lines[i].name).empty()) continue;
            double y = bottom;
            for (const chart_point& p : data_.lines[i].points)
                if (p.y) y = up_.at(*p.y);
            order.push_back({y, i});
        }
        std::stable_sort(order.begin(), order.end(), [](const named& a, const named& b) { return a.wish < b.wish; });
        std::vector<double> wishes;
        for (const named& n : order) wishes.push_back(n.wish);
        const std::vector<double> places = spread_labels(wishes, 1.35 * em_, top + 0.65 * em_, bottom - 0.35 * em_);
        for (std::size_t k = 0; k < order.size(); ++k) {
            const std::size_t i = order[k].i;
            line("sample", right_ + 6.0, places[k], right_ + sample - 6.0, places[k], look_of(i));
            label(right_ + sample, places[k] + 0.35 * em_, printable(data_.lines[i].name),
                  {.what = "line-name", .room = wide - 12.0 - right_ - sample});
        }
    }
    [[nodiscard]] std::string description() const {
        std::string words = up_.title() + " over " + across_.title() + '.';
        if (data_.lines.empty()) words += " There are no lines.";
        for (const chart_line& l : data_.lines) {
            const chart_point *least = nullptr, *most = nullptr;
            std::size_t gaps = 0;
            for (const chart_point& p : l.points) {
                if (!p.y) {
                    ++gaps;
                    continue;
                }
                if (least == nullptr || *p.y < *least->y) least = &p;
                if (most == nullptr || *p.y > *most->y) most = &p;
            }
            words += ' ' + (l.name.empty() ? std::string("A line") : printable(l.name)) + ": ";
            if (most == nullptr) {
                words += "no points.";
                continue;
            }
            words += std::to_string(l.points.size() - gaps) + " points, from " + up_.in_words(*least->y) + " at " +
                     across_.in_words(least->x) + " to " + up_.in_words(*most->y) + " at " + across_.in_words(most->x);
            words += gaps == 0 ? "." : "; gaps at " + std::to_string(gaps) + '.';
        }
        return words;
    }

    const line_chart& data_;
};

} // namespace detail

/// Lines with their names beside their ends, told apart by colour and dashes, and around them bands where points have any. An axis is
/// in powers of ten where its numbers are huge or tiny. 960 by 426 pixels, self-contained, with a description for who does not see it;
/// `name` begins the ids, for pages with several pictures. No lines or no points give a picture that says so; of very many points
/// those are kept that show. Throws `invalid_input` naming the point for a number that is not finite, one not above zero on a
/// logarithmic axis, an x below that of the point before and a band upside down, and for more than 16 lines. O(points).
template <class = detail::when_called>
[[nodiscard]] std::string line_chart_svg(const line_chart& chart, const std::string& name = "lines") {
    return detail::line_chart_drawing<>(chart, name).draw();
}

} // namespace tranche
