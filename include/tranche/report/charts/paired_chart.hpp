// Differences of pairs from the least to the greatest: how often one is better than the other, and by how much, as SVG.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
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

/// What `first` has more than `second` in each pair: the same loin, say, cut in two ways.
struct paired_chart {
    std::string title{};
    chart_axis difference{};
    std::string first = "the first", second = "the second";
    std::vector<double> differences{};         ///< in any order
    std::optional<chart_band> mean_interval{}; ///< of the mean difference

    friend bool operator==(const paired_chart&, const paired_chart&) = default;
};

namespace detail {

template <class = when_called>
class paired_drawing : chart_paper<> {
public:
    paired_drawing(const paired_chart& data, std::string name)
        : chart_paper<>(std::move(name), data.title, "Differences of pairs"), data_(data), sorted_(data.differences) {
        if (data.difference.logarithmic) throw invalid_input("difference.logarithmic", "true", "an even axis");
        std::vector<double> ends{0.0};
        for (std::size_t i = 0; i < sorted_.size(); ++i) {
            require_on_axis(sorted_[i], data.difference, element_of("differences", i));
            ends.push_back(sorted_[i]);
        }
        if (data.mean_interval) {
            require_on_axis(data.mean_interval->low, data.difference, "mean_interval.low");
            require_on_axis(data.mean_interval->high, data.difference, "mean_interval.high");
            if (data.mean_interval->high < data.mean_interval->low)
                throw invalid_input("mean_interval.high", shown(data.mean_interval->high),
                                    "at least its low, " + shown(data.mean_interval->low));
            ends.insert(ends.end(), {data.mean_interval->low, data.mean_interval->high});
        }
        std::sort(sorted_.begin(), sorted_.end());
        const auto n = static_cast<double>(sorted_.size());
        for (const double d : sorted_) mean_ += d / n;
        const auto zero = std::equal_range(sorted_.begin(), sorted_.end(), 0.0);
        less_ = static_cast<std::size_t>(zero.first - sorted_.begin());
        more_ = static_cast<std::size_t>(sorted_.end() - zero.second);
        const std::vector<double> shares{0.0, 100.0};
        lay_out(chart_scale<>({.title = "pairs, from the least difference to the greatest", .unit = "%"}, shares, 0.0),
                chart_scale<>(data.difference, ends, 0.05), wide - 24.0);
        // The name of the mean stands beside the frame.
        right_ = wide - 30.0 - std::max(width_of_text("mean", em_), width_of_text(up_.figure(mean_), em_, true));
        across_.stand(left_, right_);
    }

    [[nodiscard]] std::string draw() {
        head(description(), chart_patterns());
        upright_axis();
        area(true);
        area(false);
        if (data_.mean_interval) {
            const double low = up_.at(data_.mean_interval->low), high = up_.at(data_.mean_interval->high);
            rect("mean-interval", left_, high, right_ - left_, std::max(low - high, 0.75),
                 {.colour = palette::bluish_green, .opacity = 0.45});
        }
        level_axis();
        frame();
        if (sorted_.empty()) {
            nothing("nothing to show: there are no pairs");
            return end();
        }
        line("zero", left_, up_.at(0.0), right_, up_.at(0.0), {.width = 0.12});
        line("mean", left_, up_.at(mean_), right_ + 4.0, up_.at(mean_),
             {.width = 0.15, .colour = palette::bluish_green, .dashes = "9 5"});
        const double y = std::clamp(up_.at(mean_), top + em_, bottom - em_);
        label(right_ + 8.0, y - 0.25 * em_, "mean", {.what = "mean-name"});
        label(right_ + 8.0, y + 0.95 * em_, up_.figure(mean_), {.what = "mean-figure", .bold = true});
        const double room = 0.5 * (right_ - left_) - 4.0 * em_;
        const std::string first = printable(data_.first), second = printable(data_.second);
        const auto key = [&](double x, const std::string& words, const fill_style& s) {
            const double past = x + 3.6 * em_ + std::min(room, width_of_text(words, 0.92 * em_));
            (void)swatch(x, bottom + 64.0, fitted(words, room / (0.92 * em_)), s);
            return past;
        };
        const double x = key(left_, first + " has more: " + percent(more_), look(true));
        (void)key(x, second + " has more: " + percent(less_), look(false));
        return end();
    }

private:
    [[nodiscard]] static fill_style look(bool more) {
        if (more) return {.colour = palette::sky_blue, .edge = {.width = 0.05, .colour = palette::blue}};
        return {
            .colour = palette::orange, .pattern = "stripes", .edge = {.width = 0.05, .colour = palette::vermillion}};
    }
    [[nodiscard]] std::string percent(std::size_t of) const {
        return shown(100.0 * static_cast<double>(of) / static_cast<double>(sorted_.size()), 1) + " %";
    }
    /// A step for each pair above zero, or below it.
    void area(bool more) {
        const std::size_t n = sorted_.size(), from = more ? n - more_ : 0, past = more ? n : less_;
        if (from == past) return;
        const auto x = [&](std::size_t i) {
            return across_.at(100.0 * static_cast<double>(i) / static_cast<double>(n));
        };
        std::vector<picture_point> steps;
        for (std::size_t i = from; i < past; ++i) {
            steps.push_back({x(i), up_.at(sorted_[i])});
            steps.push_back({x(i + 1), up_.at(sorted_[i])});
        }
        steps = thinned(steps);
        steps.insert(steps.begin(), {x(from), up_.at(0.0)});
        steps.push_back({x(past), up_.at(0.0)});
        path(more ? "first-more" : "second-more", path_through(steps, true), look(more));
    }
    [[nodiscard]] std::string description() const {
        std::string words = up_.title() + ", " + printable(data_.first) + " less " + printable(data_.second) + ". ";
        if (sorted_.empty()) return words + "There are no pairs.";
        words += std::to_string(sorted_.size()) + (sorted_.size() == 1 ? " pair" : " pairs") + ", mean " +
                 up_.in_words(mean_);
        if (data_.mean_interval)
            words +=
                " (" + up_.in_words(data_.mean_interval->low) + " to " + up_.in_words(data_.mean_interval->high) + ')';
        return words + ", from " + up_.in_words(sorted_.front()) + " to " + up_.in_words(sorted_.back()) + ". " +
               printable(data_.first) + " has more in " + percent(more_) + " of them, " + printable(data_.second) +
               " in " + percent(less_) + '.';
    }

    const paired_chart& data_;
    std::vector<double> sorted_;
    double mean_ = 0.0;
    std::size_t less_ = 0, more_ = 0;
};

} // namespace detail

/// The differences in rising order over the share of pairs, so that where they cross zero tells how often which is better; their mean,
/// its interval as a band, and the shares in words. 960 by 448 pixels, self-contained, with a description for who does not see it;
/// `name` begins the ids. No pairs give a picture that says so. Throws `invalid_input` naming the difference for a number that is not
/// finite, for an interval upside down, and for a logarithmic axis. O(n log n).
template <class = detail::when_called>
[[nodiscard]] std::string paired_chart_svg(const paired_chart& chart, const std::string& name = "pairs") {
    return detail::paired_drawing<>(chart, name).draw();
}

} // namespace tranche
