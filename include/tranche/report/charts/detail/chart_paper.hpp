// The paper of the charts: title, frame, grid, marks and titles of two axes, all in one look.
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

#include <tranche/report/charts/detail/chart_scale.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

inline constexpr std::string_view grid_colour = "#D9D9D9";

/// The look of the n-th line of a chart: colour and dashes, told apart in greyscale too.
[[nodiscard]] inline std::string_view chart_colour(std::size_t n) {
    constexpr std::array<std::string_view, 7> colours{palette::blue,    palette::vermillion, palette::bluish_green,
                                                      palette::black,   palette::orange,     palette::reddish_purple,
                                                      palette::sky_blue};
    return colours[n % colours.size()];
}
[[nodiscard]] inline std::string chart_dashes(std::size_t n) {
    constexpr std::array<const char*, 4> dashes{"", "9 4", "2 4", "10 4 2 4"};
    return dashes[n % dashes.size()];
}
/// How many lines can be told apart, with their names beside each other.
inline constexpr std::size_t most_lines = 16;

/// 960 by 448 pixels, or as tall as it says. The frame's left edge follows the marks of the upright axis; its right one what stands there.
template <class = when_called>
class chart_paper : protected canvas<> {
protected:
    chart_paper(std::string name, std::string_view title, std::string_view otherwise)
        : canvas<>(std::move(name), 13.0, 2.0 / 3.0), title_(printable(title)) {
        if (title_.find_first_not_of(' ') == std::string::npos) title_ = otherwise;
    }

    static constexpr double wide = 960.0, tall = 448.0, top = 66.0, bottom = 370.0, least_left = 58.0;

    /// Takes the scales, and the right edge of the frame.
    void lay_out(chart_scale<> across, chart_scale<> up, double right) {
        across_ = std::move(across);
        up_ = std::move(up);
        up_.stand(bottom, top);
        right_ = right;
        left_ = least_left;
        for (const scale_mark& m : up_.marks(em_, true)) left_ = std::max(left_, 24.0 + width_of_text(m.text, em_));
        across_.stand(left_, right_);
    }
    void head(const std::string& description, const std::vector<fill_pattern>& patterns = {}, double height = tall) {
        begin(wide, height, title_, description, patterns);
        label(24.0, 28.0, title_, {.what = "title", .size = 18.0 / em_, .bold = true, .room = wide - 48.0});
    }
    /// Title above, grid and marks of the upright axis.
    void upright_axis() {
        label(24.0, top - 12.0, up_.title(), {.what = "axis", .room = right_ - 24.0});
        for (const scale_mark& m : up_.marks(em_, true)) {
            line("grid", left_, m.at, right_, m.at, {.width = 0.08, .colour = grid_colour});
            label(left_ - 8.0, m.at + 0.35 * em_, m.text, {.what = "tick", .anchor = "end"});
        }
    }
    /// Marks below the frame, with the title of the axis under them.
    void level_axis(bool grid = false) {
        for (const scale_mark& m : across_.marks(em_, false)) {
            if (grid) line("grid", m.at, top, m.at, bottom, {.width = 0.08, .colour = grid_colour});
            line("mark", m.at, bottom, m.at, bottom + 5.0, {.width = 0.08});
            label(m.at, bottom + 20.0, m.text, {.what = "figure", .anchor = "middle"});
        }
        level_title(across_.title());
    }
    void level_title(const std::string& words) {
        label(0.5 * (left_ + right_), bottom + 42.0, words,
              {.what = "axis", .anchor = "middle", .room = right_ - left_});
    }
    void frame() { rect("frame", left_, top, right_ - left_, bottom - top, {.edge = {.width = 0.08}}); }
    /// Where there is nothing to draw.
    void nothing(const std::string& words) {
        label(0.5 * (left_ + right_), 0.5 * (top + bottom), words,
              {.what = "nothing", .anchor = "middle", .room = right_ - left_});
    }
    /// With a white edge, so that letters stay clear of lines; its middle at this height.
    void clear_text(double x, double y, const std::string& words, text_style s) {
        s.edged = true;
        label(x, y + 0.35 * em_, words, s);
    }

    std::string title_;
    chart_scale<> across_, up_;
    double left_ = 0.0, right_ = 0.0;
};

/// No more points than a picture can show: of each run that falls into a quarter of a pixel the first, the least, the greatest and the last.
template <class = when_called>
[[nodiscard]] std::vector<picture_point> thinned(const std::vector<picture_point>& points) {
    if (points.size() < 1500) return points;
    std::vector<picture_point> kept;
    for (std::size_t i = 0; i < points.size();) {
        std::size_t least = i, most = i, past = i;
        while (past < points.size() && std::floor(4.0 * points[past].x) == std::floor(4.0 * points[i].x)) {
            if (points[past].y < points[least].y) least = past;
            if (points[past].y > points[most].y) most = past;
            ++past;
        }
        std::array<std::size_t, 4> order{i, std::min(least, most), std::max(least, most), past - 1};
        for (std::size_t k = 0; k < order.size(); ++k)
            if (k == 0 || order[k] != order[k - 1]) kept.push_back(points[order[k]]);
        i = past;
    }
    return kept;
}

} // namespace tranche::detail
