// How often which values came: a histogram with its quantiles marked, as SVG.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/charts/chart_axis.hpp>
#include <tranche/report/charts/detail/chart_paper.hpp>
#include <tranche/report/charts/detail/chart_scale.hpp>
#include <tranche/report/formats/detail/round_step.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/report/pictures/detail/spread_labels.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A value with a name: a quantile, a mean, a limit.
struct chart_mark {
    std::string name{};
    double value = 0.0;

    friend bool operator==(const chart_mark&, const chart_mark&) = default;
};

/// Counts in bins of one width: bin i holds the values from first + i × width up to the next.
struct distribution_chart {
    std::string title{};
    chart_axis values{}; ///< not logarithmic
    double first = 0.0, width = 1.0;
    std::vector<double> counts{};    ///< zero or more each; weights will do
    std::vector<chart_mark> marks{}; ///< at most 9

    friend bool operator==(const distribution_chart&, const distribution_chart&) = default;
};

/// The chart of values themselves: round bins of about 2 × interquartile range / n^(1/3) (Freedman and Diaconis 1981, Z.
/// Wahrscheinlichkeitstheorie verw. Gebiete 57:453), 100 at most, or a bin a whole number where all are whole and span 60 at most; and
/// the quantiles at `shares`, each the least value that so many are at or below. Throws `invalid_input` for a value that is not
/// finite and a share that is none. O(n log n).
template <class = detail::when_called>
[[nodiscard]] distribution_chart distribution_of(std::string title, chart_axis axis, std::vector<double> values,
                                                 const std::vector<double>& shares = {0.05, 0.5, 0.95}) {
    for (std::size_t i = 0; i < values.size(); ++i)
        if (!std::isfinite(values[i]))
            throw invalid_input(detail::element_of("values", i), detail::shown(values[i]), "a finite number");
    for (std::size_t i = 0; i < shares.size(); ++i) detail::require_share(shares[i], detail::element_of("shares", i));
    distribution_chart made{.title = std::move(title), .values = std::move(axis)};
    if (values.empty()) return made;
    std::sort(values.begin(), values.end());
    const auto n = static_cast<double>(values.size());
    const auto quantile = [&](double share) {
        const double rank = std::ceil(share * n * (1.0 - 1e-15));
        return values[static_cast<std::size_t>(std::clamp(rank, 1.0, n)) - 1];
    };
    const double span =
        0.5 * values.back() - 0.5 * values.front(); // half, since the whole may be beyond the largest double
    const bool whole = std::all_of(values.begin(), values.end(), [](double v) { return v == std::floor(v); });
    if (whole && span <= 30.0) {
        made.first = values.front() - 0.5;
    } else if (span > 1e-9 * std::max(std::abs(values.front()), std::abs(values.back()))) {
        const double apart = 2.0 * (quantile(0.75) - quantile(0.25)) / std::cbrt(n);
        made.width =
            detail::round_step(std::max(apart > 0.0 && std::isfinite(apart) ? apart : span / 10.0, span / 50.0));
        made.first = std::floor(values.front() / made.width) * made.width;
    } else {
        made.width = values.front() == 0.0 ? 1.0 : 0.01 * std::abs(values.front());
        made.first = values.front() - 0.5 * made.width;
    }
    for (const double v : values) {
        const auto bin = static_cast<std::size_t>(std::max(0.0, std::floor((v - made.first) / made.width)));
        if (made.counts.size() <= bin) made.counts.resize(bin + 1, 0.0);
        ++made.counts[bin];
    }
    for (const double share : shares)
        made.marks.push_back({share == 0.5 ? "median" : detail::shown(100.0 * share, 3) + " %", quantile(share)});
    return made;
}

namespace detail {

template <class = when_called>
class distribution_drawing : chart_paper<> {
public:
    distribution_drawing(const distribution_chart& data, std::string name)
        : chart_paper<>(std::move(name), data.title, "Distribution"), data_(data) {
        check();
        bars();
        std::vector<double> ends, heights{0.0};
        for (const chart_mark& m : data_.marks) ends.push_back(m.value);
        for (const bar& b : bars_) {
            ends.push_back(b.from);
            ends.push_back(b.to);
            heights.push_back(b.height);
        }
        chart_axis across = data_.values, up{.title = "share in each bar", .unit = "%"};
        across.logarithmic = false;
        if (bars_.empty()) heights.push_back(100.0);
        // One bar alone gets some room beside it.
        if (bars_.size() == 1)
            ends.insert(ends.end(), {bars_[0].from - 2.0 * data_.width, bars_[0].to + 2.0 * data_.width});
        lay_out(chart_scale<>(across, ends, 0.02), chart_scale<>(up, heights, 0.02), wide - 24.0);
        up_.stand(bottom, plot_top);
    }

    [[nodiscard]] std::string draw() {
        head(description(), {}, 426.0);
        label(24.0, top - 16.0, up_.title(), {.what = "axis", .room = right_ - 24.0});
        for (const scale_mark& m : up_.marks(em_, true)) {
            line("grid", left_, m.at, right_, m.at, {.width = 0.08, .colour = grid_colour});
            label(left_ - 8.0, m.at + 0.35 * em_, m.text, {.what = "tick", .anchor = "end"});
        }
        for (const bar& b : bars_) {
            const double x = across_.at(b.from), y = up_.at(b.height), beyond = across_.at(b.to);
            if (b.height > 0.0)
                rect("bar", x, y, std::max(beyond - x, 0.75), bottom - y,
                     {.colour = palette::sky_blue, .edge = {.width = 0.05, .colour = palette::blue}});
        }
        level_axis();
        rect("frame", left_, plot_top, right_ - left_, bottom - plot_top, {.edge = {.width = 0.08}});
        if (bars_.empty()) nothing("nothing to show: there are no values");
        marks();
        return end();
    }

private:
    static constexpr double plot_top = 100.0;
    struct bar {
        double from, to, height;
    };

    void check() const {
        if (data_.values.logarithmic)
            throw invalid_input("values.logarithmic", "true", "bins of one width, on an even axis");
        require_on_axis(data_.first, data_.values, "first");
        require_positive(data_.width, "width");
        for (std::size_t i = 0; i < data_.counts.size(); ++i)
            require_not_negative(data_.counts[i], element_of("counts", i));
        if (data_.marks.size() > 9) throw invalid_input("marks", std::to_string(data_.marks.size()), "at most 9");
        for (std::size_t i = 0; i < data_.marks.size(); ++i)
            require_on_axis(data_.marks[i].value, data_.values, element_of("marks", i) + ".value");
    }
    /// From the first bin that holds something to the last, several to a bar where there are more than bars can be told apart.
    void bars() {
        const std::vector<double>& counts = data_.counts;
        const auto holds = [](double c) { return c > 0.0; };
        const auto begin = std::find_if(counts.begin(), counts.end(), holds);
        const auto end = std::find_if(counts.rbegin(), counts.rend(), holds).base();
        if (begin >= end) return;
        double all = 0.0;
        for (const double c : counts) all += c;
        const auto bins = static_cast<std::size_t>(end - begin), each = (bins + 119) / 120;
        const auto offset = static_cast<std::size_t>(begin - counts.begin());
        for (std::size_t i = 0; i < bins; i += each) {
            const std::size_t to = std::min(bins, i + each);
            double sum = 0.0;
            for (std::size_t k = i; k < to; ++k) sum += counts[offset + k] / all;
            bars_.push_back({data_.first + static_cast<double>(offset + i) * data_.width,
                             data_.first + static_cast<double>(offset + i + each) * data_.width, 100.0 * sum});
        }
    }
    /// A line for each, its name and value above the frame, moved apart.
    void marks() {
        std::vector<chart_mark> order = data_.marks;
        std::stable_sort(order.begin(), order.end(),
                         [](const chart_mark& a, const chart_mark& b) { return a.value < b.value; });
        std::vector<double> wishes;
        double gap = 0.0;
        for (const chart_mark& m : order) {
            wishes.push_back(across_.at(m.value));
            gap = std::max(
                {gap, width_of_text(printable(m.name), em_), width_of_text(across_.figure(m.value), em_, true)});
        }
        const double from = left_ + width_of_text(up_.title(), em_);
        if (order.size() > 1) gap = std::min(gap, (right_ - from - gap) / static_cast<double>(order.size() - 1) - em_);
        const std::vector<double> places = spread_labels(wishes, gap + em_, from + 0.5 * gap, right_ - 0.5 * gap);
        for (std::size_t i = 0; i < order.size(); ++i) {
            const line_style look{.width = 0.13, .colour = palette::vermillion, .dashes = i % 2 == 0 ? "" : "8 4"};
            line("quantile", wishes[i], plot_top, wishes[i], bottom, look);
            path("leader", path_through({{places[i], plot_top - 13.0}, {wishes[i], plot_top}}),
                 {.edge = {.width = 0.08, .colour = palette::vermillion}});
            label(places[i], plot_top - 33.0, printable(order[i].name),
                  {.what = "mark-name", .anchor = "middle", .room = gap});
            label(places[i], plot_top - 17.0, across_.figure(order[i].value),
                  {.what = "mark-value", .anchor = "middle", .bold = true, .room = gap});
        }
    }
    [[nodiscard]] std::string description() const {
        std::string words = "How often which values of " + across_.title() + " came. ";
        if (bars_.empty()) return words + "There are none.";
        const auto tallest = std::max_element(bars_.begin(), bars_.end(),
                                              [](const bar& a, const bar& b) { return a.height < b.height; });
        words += "From " + across_.in_words(bars_.front().from) + " to " + across_.in_words(bars_.back().to) +
                 ", most often from " + across_.in_words(tallest->from) + " to " + across_.in_words(tallest->to) +
                 ", " + shown(tallest->height, 1) + " %.";
        for (const chart_mark& m : data_.marks)
            words += ' ' + printable(m.name) + ": " + across_.in_words(m.value) + '.';
        return words;
    }

    const distribution_chart& data_;
    std::vector<bar> bars_;
};

} // namespace detail

/// Bars of the share that each bin has, and a line with its name and value for each mark. Bins beyond the outermost that hold anything
/// are left out; where there are more than 120, several go to a bar. 960 by 426 pixels, self-contained, with a description for who does
/// not see it; `name` begins the ids. No counts give a picture that says so. Throws `invalid_input` naming what is wrong for a number
/// that is not finite, counts below zero, a width that is not above it, a logarithmic axis and more than 9 marks. O(bins).
template <class = detail::when_called>
[[nodiscard]] std::string distribution_svg(const distribution_chart& chart, const std::string& name = "distribution") {
    return detail::distribution_drawing<>(chart, name).draw();
}

} // namespace tranche
