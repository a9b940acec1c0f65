// Values with their intervals, a row for each thing and up to four values in it (first-order and total indices, say), as SVG.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/charts/chart_axis.hpp>
#include <tranche/report/charts/detail/chart_paper.hpp>
#include <tranche/report/charts/detail/chart_scale.hpp>
#include <tranche/report/charts/line_chart.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// A value and how sure it is.
struct chart_interval {
    double value = 0.0;
    std::optional<chart_band> interval{};

    friend bool operator==(const chart_interval&, const chart_interval&) = default;
};

struct interval_row {
    std::string name{};
    std::vector<chart_interval> values{}; ///< one for each of the chart's names

    friend bool operator==(const interval_row&, const interval_row&) = default;
};

struct interval_chart {
    std::string title{};
    chart_axis value{};
    std::vector<std::string> names{}; ///< what the values of a row are, 1 to 4
    std::vector<interval_row> rows{}; ///< in their order, at most 40

    friend bool operator==(const interval_chart&, const interval_chart&) = default;
};

namespace detail {

template <class = when_called>
class interval_drawing : chart_paper<> {
public:
    interval_drawing(const interval_chart& data, std::string name)
        : chart_paper<>(std::move(name), data.title, "Values with their intervals"), data_(data) {
        if (data.names.empty() || data.names.size() > 4)
            throw invalid_input("names", std::to_string(data.names.size()), "1 to 4, what the values of a row are");
        if (data.rows.size() > 40) throw invalid_input("rows", std::to_string(data.rows.size()), "at most 40");
        std::vector<double> ends;
        if (!data.value.logarithmic) ends.push_back(0.0);
        double names = 0.0;
        for (std::size_t i = 0; i < data.rows.size(); ++i) {
            gather(i, ends);
            names = std::max(names, width_of_text(printable(data.rows[i].name), em_));
        }
        across_ = chart_scale<>(data.value, ends, 0.04);
        left_ = 24.0 + std::clamp(names, 60.0, 330.0) + 12.0;
        right_ = wide - 24.0;
        across_.stand(left_, right_);
        row_ = 12.0 + 13.0 * static_cast<double>(data.names.size());
        foot_ = top - 24.0 + row_ * static_cast<double>(std::max<std::size_t>(data.rows.size(), 2));
    }

    [[nodiscard]] std::string draw() {
        const std::vector<std::pair<double, double>> keys = key_places();
        head(description(), {}, foot_ + 54.0 + 24.0 * (keys.back().second + 1.0));
        for (const scale_mark& m : across_.marks(em_, false)) {
            line("grid", m.at, top - 24.0, m.at, foot_, {.width = 0.08, .colour = grid_colour});
            line("mark", m.at, foot_, m.at, foot_ + 5.0, {.width = 0.08});
            label(m.at, foot_ + 20.0, m.text, {.what = "figure", .anchor = "middle"});
        }
        label(0.5 * (left_ + right_), foot_ + 42.0, across_.title(),
              {.what = "axis", .anchor = "middle", .room = right_ - left_});
        for (std::size_t i = 0; i < data_.rows.size(); ++i) row(i);
        if (across_.holds(0.0)) line("zero", across_.at(0.0), top - 24.0, across_.at(0.0), foot_, {.width = 0.1});
        rect("frame", left_, top - 24.0, right_ - left_, foot_ - top + 24.0, {.edge = {.width = 0.08}});
        if (data_.rows.empty())
            label(0.5 * (left_ + right_), 0.5 * (top - 24.0 + foot_) + 0.35 * em_, "nothing to show: there are no rows",
                  {.what = "nothing", .anchor = "middle", .edged = true});
        for (std::size_t k = 0; k < data_.names.size(); ++k) {
            const double y = foot_ + 66.0 + 24.0 * keys[k].second;
            place(k, keys[k].first + 6.0, y - 0.35 * em_);
            label(keys[k].first + 18.0, y, printable(data_.names[k]),
                  {.what = "key", .size = 0.92, .room = wide - 66.0});
        }
        return end();
    }

private:
    void gather(std::size_t i, std::vector<double>& ends) const {
        const std::string field = element_of("rows", i) + ".values";
        const std::vector<chart_interval>& values = data_.rows[i].values;
        if (values.size() != data_.names.size())
            throw invalid_input(field, std::to_string(values.size()),
                                "one for each name, " + std::to_string(data_.names.size()));
        for (std::size_t k = 0; k < values.size(); ++k) {
            const std::string value = element_of(field, k);
            require_on_axis(values[k].value, data_.value, value + ".value");
            ends.push_back(values[k].value);
            if (!values[k].interval) continue;
            require_on_axis(values[k].interval->low, data_.value, value + ".interval.low");
            require_on_axis(values[k].interval->high, data_.value, value + ".interval.high");
            if (values[k].interval->high < values[k].interval->low)
                throw invalid_input(value + ".interval.high", shown(values[k].interval->high),
                                    "at least its low, " + shown(values[k].interval->low));
            ends.insert(ends.end(), {values[k].interval->low, values[k].interval->high});
        }
    }
    /// Where the keys stand, and in which line of keys.
    [[nodiscard]] std::vector<std::pair<double, double>> key_places() const {
        std::vector<std::pair<double, double>> places;
        double x = 24.0, down = 0.0;
        for (const std::string& name : data_.names) {
            const double across = 18.0 + width_of_text(printable(name), 0.92 * em_);
            if (x > 24.0 && x + across > wide - 24.0) x = 24.0, ++down;
            places.emplace_back(x, down);
            x += across + 24.0;
        }
        return places;
    }
    /// A disc, a square, a triangle or a diamond: told apart by shape.
    void place(std::size_t k, double x, double y) {
        const fill_style look{.colour = chart_colour(k)};
        switch (k) {
        case 0: circle("value", x, y, 4.5, look); break;
        case 1: rect("value", x - 4.0, y - 4.0, 8.0, 8.0, look); break;
        case 2: path("value", path_through({{x, y - 5.0}, {x + 5.0, y + 4.0}, {x - 5.0, y + 4.0}}, true), look); break;
        default: path("value", path_through({{x, y - 5.5}, {x + 5.5, y}, {x, y + 5.5}, {x - 5.5, y}}, true), look);
        }
    }
    void row(std::size_t i) {
        const double from = top - 24.0 + row_ * static_cast<double>(i);
        if (i > 0) line("rule", left_, from, right_, from, {.width = 0.05, .colour = grid_colour});
        label(24.0, from + 0.5 * row_ + 0.35 * em_, printable(data_.rows[i].name),
              {.what = "row", .room = left_ - 36.0});
        for (std::size_t k = 0; k < data_.names.size(); ++k) {
            const chart_interval& v = data_.rows[i].values[k];
            const double y = from + 12.5 + 13.0 * static_cast<double>(k);
            if (v.interval) {
                const double low = across_.at(v.interval->low), high = across_.at(v.interval->high);
                const line_style look{.width = 0.13, .colour = chart_colour(k)};
                line("interval", low, y, high, y, look);
                line("end", low, y - 3.5, low, y + 3.5, look);
                line("end", high, y - 3.5, high, y + 3.5, look);
            }
            place(k, across_.at(v.value), y);
        }
    }
    [[nodiscard]] std::string description() const {
        std::string words = across_.title() + '.';
        if (data_.rows.empty()) words += " There are no rows.";
        for (const interval_row& r : data_.rows) {
            words += ' ' + printable(r.name) + ':';
            for (std::size_t k = 0; k < r.values.size(); ++k) {
                words += (k == 0 ? " " : ", ") + printable(data_.names[k]) + ' ' + across_.in_words(r.values[k].value);
                if (r.values[k].interval)
                    words += " (" + across_.in_words(r.values[k].interval->low) + " to " +
                             across_.in_words(r.values[k].interval->high) + ')';
            }
            words += '.';
        }
        return words;
    }

    const interval_chart& data_;
    double row_ = 0.0, foot_ = 0.0;
};

} // namespace detail

/// A row for each thing, in it a mark for each of its values (told apart by shape) with its interval as a line. 960 pixels wide,
/// self-contained, with a description for who does not see it; `name` begins the ids. No rows give a picture that says so. Throws
/// `invalid_input` naming the value for a number that is not finite and an interval upside down, for a row with another number of values
/// than there are names, for no or more than 4 names and for more than 40 rows. O(rows).
template <class = detail::when_called>
[[nodiscard]] std::string interval_chart_svg(const interval_chart& chart, const std::string& name = "intervals") {
    return detail::interval_drawing<>(chart, name).draw();
}

} // namespace tranche
