// The pictures of a board card: the loin from above with the numbers of its slabs, and a low ruler at true scale.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/cut_ruler.hpp>
#include <tranche/report/pictures/detail/loin_drawing.hpp>
#include <tranche/report/pictures/detail/ruler_scale.hpp>
#include <tranche/report/pictures/detail/spread_labels.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// The loin with large numbers and nothing else. Where slabs are many, every so many has its number.
template <class = when_called>
class board_view : loin_drawing<> {
public:
    board_view(const cutting_plan& cuts, const loin_outline& outline, const kitchen_units& units)
        : loin_drawing<>(loin_view::above, cuts, outline, units, 0.032) {}

    [[nodiscard]] std::string draw() {
        constexpr std::size_t most_rows = 3, a_row = 14;
        const std::size_t count = cuts_.slabs.size(), every = 1 + (count - 1) / (most_rows * a_row);
        std::vector<std::size_t> numbers;
        for (std::size_t i = 0; i < count; i += every) numbers.push_back(i);
        const std::size_t rows = std::min(most_rows, 1 + (numbers.size() - 1) / a_row);
        const double top = 2.4 * em_ * static_cast<double>(rows) + 1.0 * em_, side = 0.5 * em_;
        canvas<>::begin(extent_ + 2.0 * side, top + height_ + 2.4 * em_, "The loin from above",
                        "Rib end on the left. Numbers are those of the table.", loin_patterns());
        begin_group(side, top);
        tissues();
        slabs();
        std::vector<double> middles;
        for (const std::size_t i : numbers)
            middles.push_back((cuts_.slabs[i].start + 0.5 * cuts_.slabs[i].thickness) / millimetre);
        const std::vector<double> places =
            spread_labels(middles, 2.1 * em_ / static_cast<double>(rows), 0.5 * em_, extent_ - 0.5 * em_);
        for (std::size_t k = 0; k < places.size(); ++k) {
            const double y = -1.6 * em_ - 2.3 * em_ * static_cast<double>(k % rows);
            line("leader", places[k], y, middles[k], edge(outline_.there(middles[k])) + 0.3 * em_, {.width = 0.06});
        }
        for (std::size_t k = 0; k < places.size(); ++k)
            disc(places[k], -1.6 * em_ - 2.3 * em_ * static_cast<double>(k % rows), numbers[k] + 1);
        label(0.0, height_ + 1.8 * em_, "◀ rib end", {.bold = true});
        label(extent_, height_ + 1.8 * em_, "sirloin end ▶", {.anchor = "end", .bold = true});
        end_group();
        return end();
    }
};

/// A strip of a ruler with numbers between its cuts, one row or as many as they need.
template <class = when_called>
class board_strip : plan_ruler<> {
public:
    board_strip(const cutting_plan& of, const kitchen_units& units, const ruler_part& part)
        : plan_ruler<>("board-ruler", 2.4, of, units, part) {}

    [[nodiscard]] std::string draw() {
        begin_strip(std::max(to_ - from_, check_bar(units_)), edge + height, "Ruler",
                    "Ticks along the edge, a line at each cut, and the numbers of the slabs.");
        for (const double x : cuts_here()) line("cut", x, 0.0, x, 14.6, {.width = 0.2});
        figures();
        numbers();
        for (const double x : joins_here()) line("join", x, 0.0, x, height, {.width = 0.06, .dashes = "1.5 1"});
        end_group();
        return end();
    }
    static constexpr double height = 15.2;

private:
    void numbers() {
        std::vector<double> middles;
        std::vector<std::size_t> which;
        for (std::size_t i = 0; i < cuts_.slabs.size(); ++i) {
            const auto [from, to] = here(cuts_.slabs[i]);
            // A sliver has its number on the strip that has the rest of it.
            if (to - from < std::min<double>(3.0, 0.45 * (cuts_.slabs[i].thickness / millimetre))) continue;
            middles.push_back(0.5 * (from + to));
            which.push_back(i + 1);
        }
        const double wide = width_of_text("000", 0.95 * em_, true);
        const auto rows = std::clamp<std::size_t>(
            1 + static_cast<std::size_t>(wide * static_cast<double>(which.size()) / (to_ - from_ + wide)), 1, 3);
        const std::vector<double> places =
            spread_labels(middles, wide / static_cast<double>(rows), from_ + 1.0, to_ - 1.0);
        for (std::size_t k = 0; k < places.size(); ++k)
            label(places[k], rows == 1 ? 12.8 : 10.6 + 2.2 * static_cast<double>(k % rows), std::to_string(which[k]),
                  {.what = "number", .anchor = "middle", .size = rows == 1 ? 1.25 : 0.95, .bold = true, .edged = true});
    }
};

/// The bar that a print is checked with, and what to do with it.
template <class = when_called>
class check_strip : ruler_scale<> {
public:
    explicit check_strip(const kitchen_units& units) : ruler_scale<>("check", 2.4, units, {.to = 100.0}) {}

    [[nodiscard]] std::string draw() {
        begin(180.0 + 2.0 * margin, 6.0, "Bar to check the print",
              "It must measure " + std::string(check_bar_text(units_)) + '.', {}, "mm");
        begin_group(margin, 0.0);
        check_line(3.0);
        label(check_bar(units_) + 3.0, 2.6,
              "Must be " + std::string(check_bar_text(units_)) + "; if not, print at 100 %,");
        label(check_bar(units_) + 3.0, 5.6, "without fitting. 0 lies at the rib face.");
        end_group();
        return end();
    }
};

} // namespace detail

/// The loin from above with nothing but its tissues, cuts and the numbers of its slabs, large enough to be read from a
/// small print; of many slabs every so many has its number. Throws `invalid_input` if the plan is not as long as the
/// outline. O(points + slabs). Distances are written in `units`; throws as `to_text` for one that cannot be.
template <class = detail::when_called>
[[nodiscard]] std::string board_view_svg(const cutting_plan& cuts, const loin_outline& outline,
                                         const kitchen_units& units = us_kitchen) {
    return detail::board_view(cuts, outline, units).draw();
}

/// A low ruler at true scale (sizes in millimetres) in strips of at most `page` of loin (100 mm or more), with a line
/// at each cut and the numbers of the slabs; its strips join as those of `cut_ruler_pages`. Throws as that does.
/// O(length in mm + slabs × strips). Distances are written in `units`.
template <class = detail::when_called>
[[nodiscard]] std::vector<std::string> board_ruler_strips(const cutting_plan& cuts,
                                                          const kitchen_units& units = us_kitchen,
                                                          length page = ruler_page) {
    return detail::drawn_strips<detail::board_strip<>>(cuts, units, page);
}

} // namespace tranche
