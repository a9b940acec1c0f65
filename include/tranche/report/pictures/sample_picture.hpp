// A few values beside each other, with their mean and the interval of it: the yields of several teams, say.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/formats/plain_text.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/statistics/sample_summary.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A value of a picture, and whose it is.
struct named_value {
    std::string name{};
    double value = 0.0; ///< finite

    friend bool operator==(const named_value&, const named_value&) = default;
};

namespace detail {

template <class = when_called>
class sample_chart : canvas<> {
public:
    sample_chart(const std::vector<named_value>& values, const sample_summary& summary,
                 std::function<std::string(double)> shown, const std::string& name)
        : canvas<>(name, em), values_(values), summary_(summary), shown_(std::move(shown)) {
        axis_.low = axis_.high = summary.mean;
        const auto reach = [&](double value) {
            axis_.low = std::min(axis_.low, value);
            axis_.high = std::max(axis_.high, value);
        };
        for (const named_value& v : values) reach(v.value);
        if (summary.interval) reach(summary.interval->low), reach(summary.interval->high);
        const double gap =
            axis_.high > axis_.low ? 0.05 * (axis_.high - axis_.low) : std::max(0.01 * std::abs(axis_.low), 1e-3);
        axis_.low -= gap;
        axis_.high += gap;
    }

    [[nodiscard]] std::string draw(const std::string& title) {
        const double foot = top + row * static_cast<double>(values_.size());
        begin(width, foot + 3.0 * em, title, description());
        label(edge, 1.4 * em, title, {.what = "title", .bold = true, .room = width - 2.0 * edge});
        if (summary_.interval) {
            const double low = axis_.at(summary_.interval->low), high = axis_.at(summary_.interval->high);
            rect("interval", low, top, high - low, foot - top, {.colour = "#DCEBF5", .edge = {}});
        }
        const double step = axis_.step(6.0 * em);
        for (const double value : axis_.marks(step)) {
            const double x = axis_.at(value);
            line("mark", x, top - 0.3 * em, x, foot, {.colour = "#BBBBBB"});
            label(x, top - 0.6 * em, shown_(value),
                  {.what = "mark", .anchor = "middle", .room = axis_.at(step) - axis_.at(0.0)});
        }
        line("mean", axis_.at(summary_.mean), top - 0.3 * em, axis_.at(summary_.mean), foot,
             {.width = 0.12, .dashes = dashes(0.5, 0.3)});
        for (std::size_t i = 0; i < values_.size(); ++i) {
            const double y = top + row * (static_cast<double>(i) + 0.5), x = axis_.at(values_[i].value);
            label(edge, y + 0.35 * em, printable(values_[i].name), {.what = "name", .room = left - edge - em});
            rect("value", x - 0.3 * em, y - 0.3 * em, 0.6 * em, 0.6 * em, {.colour = palette::black, .edge = {}});
            label(width - edge, y + 0.35 * em, shown_(values_[i].value),
                  {.what = "figure", .anchor = "end", .room = width - edge - right - 0.5 * em});
        }
        label(edge, foot + 1.8 * em,
              "dashed: the mean, " + shown_(summary_.mean) +
                  (summary_.interval ? "; shaded: where the mean of many such tests lies, with 95 % confidence" : ""),
              {.what = "key", .room = width - 2.0 * edge});
        return end();
    }

private:
    static constexpr double width = 960.0, em = 15.0, edge = 12.0, left = 300.0, right = 850.0, top = 4.2 * em,
                            row = 1.8 * em;

    [[nodiscard]] std::string description() const {
        std::string text;
        for (const named_value& v : values_) text += printable(v.name) + ' ' + shown_(v.value) + ", ";
        return text + "mean " + shown_(summary_.mean) +
               (summary_.interval ? ", 95 % interval of the mean " + shown_(summary_.interval->low) + " to " +
                                        shown_(summary_.interval->high)
                                  : "");
    }

    const std::vector<named_value>& values_;
    const sample_summary& summary_;
    std::function<std::string(double)> shown_;
    picture_axis axis_{.from = left, .to = right};
};

} // namespace detail

/// Values as marks, one a row under each other, on a common axis, with the mean and its 95 % interval by Student's
/// distribution (`summarise`; of one value there is none). `shown` writes a value. Self-contained SVG that reads in
/// greyscale; `name` begins the ids. Throws `invalid_input` for no values and for one that is not finite. O(values).
/// Values are in any one unit. Throws also what `shown` throws.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string sample_svg(const std::vector<named_value>& values, const std::string& title,
                                                  const std::function<std::string(double)>& shown,
                                                  const std::string& name = "sample") {
    if (values.empty()) throw invalid_input("values", "none", "at least one");
    std::vector<double> numbers;
    for (const named_value& v : values) {
        if (!std::isfinite(v.value)) throw invalid_input("values", detail::shown(v.value), "a finite number");
        numbers.push_back(v.value);
    }
    const sample_summary summary = summarise(numbers);
    return detail::sample_chart<>(values, summary, shown, name).draw(detail::printable(title));
}

} // namespace tranche
