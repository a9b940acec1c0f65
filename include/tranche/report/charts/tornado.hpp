// What moves a result most: a bar for each input, from the result with it low to the result with it high, longest on top, as SVG.
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
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// One input: the result with it at its low and at its high, and what these are, for people ("0.2 in").
struct tornado_bar {
    std::string name{};
    double at_low = 0.0, at_high = 0.0;
    std::string low{}, high{};

    friend bool operator==(const tornado_bar&, const tornado_bar&) = default;
};

struct tornado_chart {
    std::string title{};
    chart_axis result{};
    double base = 0.0; ///< the result with every input as it is expected to be
    std::vector<tornado_bar> bars{};

    friend bool operator==(const tornado_chart&, const tornado_chart&) = default;
};

namespace detail {

template <class = when_called>
class tornado_drawing : chart_paper<> {
public:
    tornado_drawing(const tornado_chart& data, std::string name)
        : chart_paper<>(std::move(name), data.title, "What moves the result most"), data_(data) {
        require_on_axis(data.base, data.result, "base");
        std::vector<double> ends{data.base};
        for (std::size_t i = 0; i < data.bars.size(); ++i) {
            const std::string field = element_of("bars", i);
            require_on_axis(data.bars[i].at_low, data.result, field + ".at_low");
            require_on_axis(data.bars[i].at_high, data.result, field + ".at_high");
            order_.push_back(i);
        }
        std::stable_sort(order_.begin(), order_.end(),
                         [&](std::size_t a, std::size_t b) { return reach(a) > reach(b); });
        left_out_ = order_.size() > most_bars ? order_.size() - most_bars : 0;
        order_.resize(order_.size() - left_out_);
        double names = 0.0, lows = 0.0;
        for (const std::size_t i : order_) {
            const tornado_bar& b = data.bars[i];
            ends.insert(ends.end(), {b.at_low, b.at_high});
            names = std::max(names, width_of_text(printable(b.name), em_));
            lows = std::max({lows, width_of_text(printable(b.low), small), width_of_text(printable(b.high), small)});
        }
        lows_ = std::min(lows, 90.0);
        across_ = chart_scale<>(data.result, ends, 0.02);
        left_ = 24.0 + std::clamp(names, 60.0, 330.0) + 12.0;
        right_ = wide - 24.0;
        across_.stand(left_ + lows_ + 10.0, right_ - lows_ - 10.0);
        foot_ = top + row * static_cast<double>(std::max<std::size_t>(order_.size(), 2));
    }

    [[nodiscard]] std::string draw() {
        const double below = left_out_ > 0 ? 24.0 : 0.0;
        head(description(), chart_patterns(), foot_ + 80.0 + below);
        for (const scale_mark& m : across_.marks(em_, false)) {
            line("grid", m.at, top, m.at, foot_, {.width = 0.08, .colour = grid_colour});
            line("mark", m.at, foot_, m.at, foot_ + 5.0, {.width = 0.08});
            label(m.at, foot_ + 20.0, m.text, {.what = "figure", .anchor = "middle"});
        }
        label(0.5 * (left_ + right_), foot_ + 42.0, across_.title(),
              {.what = "axis", .anchor = "middle", .room = right_ - left_});
        for (std::size_t r = 0; r < order_.size(); ++r) bar(r);
        rect("frame", left_, top, right_ - left_, foot_ - top, {.edge = {.width = 0.08}});
        if (!order_.empty())
            line("base", across_.at(data_.base), top - 5.0, across_.at(data_.base), foot_, {.width = 0.12});
        const std::string base = "as expected: " + across_.figure(data_.base);
        const double half = 0.5 * width_of_text(base, em_) + 4.0;
        label(std::clamp(across_.at(data_.base), 24.0 + half, wide - 24.0 - half), top - 12.0, base,
              {.what = "base-name", .anchor = "middle"});
        if (order_.empty())
            label(0.5 * (left_ + right_), 0.5 * (top + foot_) + 0.35 * em_, "nothing to show: there are no inputs",
                  {.what = "nothing", .anchor = "middle", .edged = true});
        const double x = swatch(24.0, foot_ + 66.0, "input at its low", look(false));
        (void)swatch(x, foot_ + 66.0, "input at its high", look(true));
        if (left_out_ > 0)
            label(24.0, foot_ + 90.0, "and " + std::to_string(left_out_) + " more, which move it less",
                  {.what = "rest", .size = 0.92});
        return end();
    }

private:
    static constexpr double row = 26.0, small = 0.92 * 13.0;
    static constexpr std::size_t most_bars = 20;

    /// How far the result moves; huge results may be as far apart as a double can say.
    [[nodiscard]] double reach(std::size_t i) const {
        const tornado_bar& b = data_.bars[i];
        const auto [low, high] = std::minmax({0.5 * b.at_low, 0.5 * b.at_high, 0.5 * data_.base});
        return high - low;
    }
    [[nodiscard]] static fill_style look(bool high) {
        if (high) return {.colour = palette::orange, .pattern = "stripes", .edge = {.width = 0.06}};
        return {.colour = palette::sky_blue, .edge = {.width = 0.06}};
    }
    void bar(std::size_t r) {
        const tornado_bar& b = data_.bars[order_[r]];
        const double y = top + row * static_cast<double>(r) + 4.0, tall_bar = row - 8.0, from = across_.at(data_.base);
        const double low = across_.at(b.at_low), high = across_.at(b.at_high);
        // Where both lie on one side of what is expected, the shorter is drawn over the longer.
        const bool low_first = std::abs(low - from) >= std::abs(high - from);
        for (const bool is_high : {!low_first, low_first}) {
            const double to = is_high ? high : low;
            rect(is_high ? "at-high" : "at-low", std::min(from, to), y, std::max(std::abs(to - from), 0.75), tall_bar,
                 look(is_high));
        }
        const double base = y + 0.5 * tall_bar + 0.35 * em_;
        label(24.0, base, printable(b.name), {.what = "input", .room = left_ - 36.0});
        // What the input is stands beyond the end of the bar that it belongs to; with both on one side, low left and high right.
        const bool low_left = low <= high;
        const std::string leftmost = printable(low_left ? b.low : b.high),
                          rightmost = printable(low_left ? b.high : b.low);
        const double begin = std::min({low, high, from}), beyond = std::max({low, high, from});
        label(begin - 5.0, base, leftmost,
              {.what = "end", .anchor = "end", .size = 0.92, .room = lows_, .edged = true});
        label(beyond + 5.0, base, rightmost, {.what = "end", .size = 0.92, .room = lows_, .edged = true});
    }
    [[nodiscard]] std::string description() const {
        std::string words = across_.title() + ": " + across_.in_words(data_.base) + " as expected.";
        for (const std::size_t i : order_) {
            const tornado_bar& b = data_.bars[i];
            const auto with = [&](const std::string& what, double result) {
                return across_.in_words(result) + " with " + (what.empty() ? std::string("it") : printable(what));
            };
            words += ' ' + printable(b.name) + ": " + with(b.low.empty() ? "it low" : b.low, b.at_low) + ", " +
                     with(b.high.empty() ? "it high" : b.high, b.at_high) + '.';
        }
        if (left_out_ > 0) words += " And " + std::to_string(left_out_) + " more, which move it less.";
        return words;
    }

    const tornado_chart& data_;
    std::vector<std::size_t> order_;
    std::size_t left_out_ = 0;
    double lows_ = 0.0, foot_ = 0.0;
};

} // namespace detail

/// A row for each input, the one that moves the result most on top, at most 20 (the others are counted): bars from the result as
/// expected to that with the input low (plain) and high (striped), and beside their ends what the input is there. 960 pixels wide,
/// self-contained, with a description for who does not see it; `name` begins the ids. No inputs give a picture that says so. Throws
/// `invalid_input` naming the bar for a number that is not finite. O(n log n).
template <class = detail::when_called>
[[nodiscard]] std::string tornado_svg(const tornado_chart& chart, const std::string& name = "tornado") {
    return detail::tornado_drawing<>(chart, name).draw();
}

} // namespace tranche
