// A value over two axes as a map of shaded cells, with a cross where there is none, as SVG.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
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

/// A cell for each x and y; cells[i + k × number of x] belongs to x[i] and y[k]. One without a value is crossed out: nothing is possible
/// there, say.
struct heat_map {
    std::string title{};
    chart_axis x_axis{}, y_axis{},
        value{}; ///< cells of one size, whatever the distances of x and y; values on an even scale
    std::vector<double> x{}, y{};
    std::vector<std::optional<double>> cells{};

    friend bool operator==(const heat_map&, const heat_map&) = default;
};

namespace detail {

struct cell_shade {
    std::string fill;
    bool dark; ///< letters on it are white
};

/// From nearly white by the palette's blue to nearly black, so that darker is more, in greyscale too. `share` is 0 to 1.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD cell_shade shade_of(double share) {
    static constexpr std::array<std::array<double, 3>, 3> stops{{{240, 246, 251}, {0, 114, 178}, {0, 28, 48}}};
    const double place = 2.0 * std::clamp(share, 0.0, 1.0);
    const std::size_t from = place < 1.0 ? 0 : 1;
    const double part = place - static_cast<double>(from);
    static constexpr std::string_view digits = "0123456789ABCDEF";
    cell_shade shade{"#", share > 0.465};
    for (std::size_t c = 0; c < 3; ++c) {
        const auto whole =
            static_cast<std::size_t>(std::lround(stops[from][c] + part * (stops[from + 1][c] - stops[from][c])));
        (shade.fill += digits[whole / 16]) += digits[whole % 16];
    }
    return shade;
}

template <class = when_called>
class heat_map_drawing : chart_paper<> {
public:
    heat_map_drawing(const heat_map& data, std::string name)
        : chart_paper<>(std::move(name), data.title, "Map"), data_(data) {
        if (data.cells.size() != data.x.size() * data.y.size())
            throw invalid_input("cells", std::to_string(data.cells.size()),
                                "one for each x and y, " + std::to_string(data.x.size()) + " × " +
                                    std::to_string(data.y.size()));
        if (data.value.logarithmic) throw invalid_input("value.logarithmic", "true", "an even scale of shades");
        std::vector<double> values;
        for (std::size_t i = 0; i < data.x.size(); ++i) require_on_axis(data.x[i], data.x_axis, element_of("x", i));
        for (std::size_t i = 0; i < data.y.size(); ++i) require_on_axis(data.y[i], data.y_axis, element_of("y", i));
        for (std::size_t i = 0; i < data.cells.size(); ++i) {
            if (!data.cells[i]) continue;
            require_on_axis(*data.cells[i], data.value, element_of("cells", i));
            values.push_back(*data.cells[i]);
        }
        any_ = !values.empty();
        shades_ = chart_scale<>(data.value, values, 0.0);
        shades_.stand(bottom, top);
        double figures = 0.0;
        for (const scale_mark& m : shades_.marks(em_, true)) figures = std::max(figures, width_of_text(m.text, em_));
        lay_out(chart_scale<>(data.x_axis, data.x, 0.0), chart_scale<>(data.y_axis, data.y, 0.0),
                wide - 24.0 - bar - 46.0 - figures);
        for (const double y : data.y) left_ = std::max(left_, 24.0 + width_of_text(up_.figure(y), em_));
    }

    [[nodiscard]] std::string draw() {
        head(description(), chart_patterns());
        label(24.0, top - 12.0, up_.title(), {.what = "axis", .room = 0.5 * (right_ - 24.0)});
        label(wide - 24.0, top - 12.0, shades_.title(),
              {.what = "axis", .anchor = "end", .room = 0.45 * (right_ - 24.0)});
        cells();
        rect("frame", left_, top, right_ - left_, bottom - top, {.edge = {.width = 0.08}});
        figures();
        if (any_)
            scale();
        else
            nothing(data_.cells.empty() ? "nothing to show: there are no cells" : "");
        if (any_ && crossed()) (void)swatch(left_, bottom + 64.0, "no value", none);
        return end();
    }

private:
    static constexpr double bar = 20.0;
    inline static const fill_style none{.colour = "#EEEEEE", .pattern = "cross", .edge = {.width = 0.0}};

    [[nodiscard]] double cell_wide() const { return (right_ - left_) / static_cast<double>(data_.x.size()); }
    [[nodiscard]] double cell_tall() const { return (bottom - top) / static_cast<double>(data_.y.size()); }
    [[nodiscard]] double middle_x(std::size_t i) const { return left_ + (static_cast<double>(i) + 0.5) * cell_wide(); }
    [[nodiscard]] double middle_y(std::size_t k) const { return bottom - (static_cast<double>(k) + 0.5) * cell_tall(); }
    [[nodiscard]] double share_of(double value) const { return (bottom - shades_.at(value)) / (bottom - top); }
    [[nodiscard]] bool crossed() const {
        return std::any_of(data_.cells.begin(), data_.cells.end(), [](const auto& c) { return !c; });
    }

    /// Cells alike side by side are one rectangle; figures where all of them have room.
    void cells() {
        bool written = any_;
        for (const auto& c : data_.cells)
            written = written && (!c || width_of_text(shades_.figure(*c), em_) + 0.4 * em_ <= cell_wide());
        written = written && !data_.cells.empty() && cell_tall() >= 1.3 * em_;
        for (std::size_t k = 0; k < data_.y.size(); ++k) {
            const double y = middle_y(k) - 0.5 * cell_tall();
            for (std::size_t i = 0; i < data_.x.size();) {
                const std::optional<double>& here = data_.cells[i + k * data_.x.size()];
                std::size_t past = i + 1;
                if (!written)
                    while (past < data_.x.size() && data_.cells[past + k * data_.x.size()] == here) ++past;
                const double x = middle_x(i) - 0.5 * cell_wide(), across = static_cast<double>(past - i) * cell_wide();
                if (here) {
                    const cell_shade shade = shade_of(share_of(*here));
                    // A hair more, so that no white shines between neighbours.
                    rect("cell", x, y, across + (past < data_.x.size() ? 0.3 : 0.0), cell_tall() + (k > 0 ? 0.3 : 0.0),
                         {.colour = shade.fill});
                    if (written)
                        label(middle_x(i), middle_y(k) + 0.35 * em_, shades_.figure(*here),
                              {.what = "cell-figure", .anchor = "middle", .colour = shade.dark ? "#FFFFFF" : ""});
                } else {
                    rect("none", x, y, across, cell_tall(), none);
                }
                i = past;
            }
        }
    }
    /// The x and y of as many cells as have room for their figures.
    void figures() {
        double widest = 0.0;
        for (const double x : data_.x) widest = std::max(widest, width_of_text(across_.figure(x), em_));
        const std::size_t each =
            label_stride(data_.x.size(), widest + 0.8 * em_, cell_wide() * static_cast<double>(data_.x.size() - 1));
        for (std::size_t i = 0; i < data_.x.size(); i += each) {
            line("mark", middle_x(i), bottom, middle_x(i), bottom + 5.0, {.width = 0.08});
            label(middle_x(i), bottom + 20.0, across_.figure(data_.x[i]), {.what = "figure", .anchor = "middle"});
        }
        level_title(across_.title());
        const std::size_t rows =
            label_stride(data_.y.size(), 1.3 * em_, cell_tall() * static_cast<double>(data_.y.size() - 1));
        for (std::size_t k = 0; k < data_.y.size(); k += rows)
            label(left_ - 8.0, middle_y(k) + 0.35 * em_, up_.figure(data_.y[k]), {.what = "tick", .anchor = "end"});
    }
    /// The shades and what they stand for.
    void scale() {
        const double x = right_ + 24.0;
        constexpr int steps = 64;
        for (int s = 0; s < steps; ++s) {
            const double tall_step = (bottom - top) / steps;
            rect("shade", x, bottom - (s + 1) * tall_step, bar, tall_step + (s > 0 ? 0.3 : 0.0),
                 {.colour = shade_of((s + 0.5) / steps).fill});
        }
        rect("frame", x, top, bar, bottom - top, {.edge = {.width = 0.08}});
        for (const scale_mark& m : shades_.marks(em_, true)) {
            line("mark", x + bar, m.at, x + bar + 5.0, m.at, {.width = 0.08});
            label(x + bar + 9.0, m.at + 0.35 * em_, m.text, {.what = "shade-figure"});
        }
    }
    [[nodiscard]] std::string description() const {
        std::string words = shades_.title() + " over " + across_.title() + " and " + up_.title() + ". ";
        std::optional<std::size_t> least, most;
        for (std::size_t i = 0; i < data_.cells.size(); ++i) {
            if (!data_.cells[i]) continue;
            if (!least || *data_.cells[i] < *data_.cells[*least]) least = i;
            if (!most || *data_.cells[i] > *data_.cells[*most]) most = i;
        }
        if (!most) return words + "No cell has a value.";
        return words + "From " + place(*least) + " to " + place(*most) + '.';
    }
    [[nodiscard]] std::string place(std::size_t cell) const {
        return shades_.in_words(*data_.cells[cell]) + " at " + across_.in_words(data_.x[cell % data_.x.size()]) +
               " and " + up_.in_words(data_.y[cell / data_.x.size()]);
    }

    const heat_map& data_;
    chart_scale<> shades_;
    bool any_ = false;
};

} // namespace detail

/// Cells of one size, darker for more, with their values written in where all have room, and the scale of the shades beside them. 960
/// by 448 pixels, self-contained, with a description for who does not see it; `name` begins the ids. No cells give a picture that says
/// so. Throws `invalid_input` naming what is wrong for a number that is not finite, another number of cells than x times y, and a
/// logarithmic scale of values. O(cells).
template <class = detail::when_called>
[[nodiscard]] std::string heat_map_svg(const heat_map& map, const std::string& name = "map") {
    return detail::heat_map_drawing<>(map, name).draw();
}

} // namespace tranche
