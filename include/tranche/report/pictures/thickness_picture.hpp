// Thicknesses side by side as SVG: how many portions each gives, and what is to be said of them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// One thickness of a picture of several.
struct thickness_bar {
    length thickness{};
    std::size_t portions = 0;
    std::string says{}; ///< beside the bar: weight and cost of a portion, what is saved

    friend bool operator==(const thickness_bar&, const thickness_bar&) = default;
};

namespace detail {

template <class = when_called>
class thickness_chart : canvas<> {
public:
    thickness_chart(const std::vector<thickness_bar>& bars, const kitchen_units& units)
        : canvas<>("thicknesses", em, 2.0 / 3.0), bars_(bars), units_(units) {
        for (const thickness_bar& bar : bars_) axis_.high = std::max(axis_.high, static_cast<double>(bar.portions));
    }

    [[nodiscard]] std::string draw() {
        const std::string title = "Portions by thickness";
        std::string words;
        for (const thickness_bar& bar : bars_)
            words += (words.empty() ? "" : "; ") + name_of_bar(bar) + ": " + std::to_string(bar.portions) +
                     (bar.says.empty() ? "" : ", " + bar.says);
        begin(width, top + row * static_cast<double>(bars_.size()) + edge, title, words + '.');
        label(edge, 1.4 * em, title, {.what = "title", .bold = true, .room = width - 2.0 * edge});
        for (std::size_t i = 0; i < bars_.size(); ++i) bar_at(i);
        return end();
    }

private:
    static constexpr double width = 960.0, em = 15.0, edge = 12.0, left = 110.0, right = 500.0, top = 2.4 * em,
                            row = 2.2 * em;

    [[nodiscard]] std::string name_of_bar(const thickness_bar& bar) const {
        return to_text(bar.thickness, units_.thickness);
    }
    void bar_at(std::size_t i) {
        const thickness_bar& bar = bars_[i];
        const double y = top + row * static_cast<double>(i), base = y + 1.35 * em;
        const double to = axis_.at(static_cast<double>(bar.portions));
        label(left - 0.6 * em, base, name_of_bar(bar),
              {.what = "thickness", .anchor = "end", .room = left - edge - em});
        rect("portions", left, y + 0.3 * em, std::max(to - left, 0.75), row - 0.6 * em,
             {.colour = palette::sky_blue, .edge = {.width = 0.06}});
        label(to + 0.6 * em, base, std::to_string(bar.portions) + (bar.says.empty() ? "" : ": " + bar.says),
              {.what = "says", .room = width - edge - to - 0.6 * em});
    }

    const std::vector<thickness_bar>& bars_;
    const kitchen_units& units_;
    picture_axis axis_{.low = 0.0, .high = 1.0, .from = left, .to = right};
};

} // namespace detail

/// A bar for each thickness, as long as it gives portions, with its number and what is said of it. Self-contained, and
/// readable in greyscale. Throws `invalid_input` for no bars, and as `to_text` for a length that cannot be written.
/// O(bars). Thicknesses are written in `units`.
template <class = detail::when_called>
[[nodiscard]] std::string thicknesses_svg(const std::vector<thickness_bar>& bars, const kitchen_units& units) {
    if (bars.empty()) throw invalid_input("thicknesses", "none", "at least one");
    return detail::thickness_chart<>(bars, units).draw();
}

} // namespace tranche
