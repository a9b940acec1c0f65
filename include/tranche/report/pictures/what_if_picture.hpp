// The what-if grid as SVG: the saving in each cell, shaded by how much is saved or lost, and where it breaks even.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/cost/savings/savings_grid.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/detail/saving_figures.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/report/tables/savings_tables.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

template <class = when_called>
class what_if_chart : canvas<> {
public:
    what_if_chart(const grid_figures& grid, iso_currency in, const kitchen_units& units, std::string name)
        : canvas<>(std::move(name), em, 2.0 / 3.0), grid_(grid), yields_(*grid.yields), in_(std::move(in)),
          units_(units), cell_((right - left) / static_cast<double>(grid.prices.size())) {
        for (const auto& yield_row : grid_.net_saving)
            for (const std::int64_t a : yield_row) largest_ = std::max(largest_, std::abs(static_cast<double>(a)));
    }

    [[nodiscard]] std::string draw() {
        const std::size_t rows = yields_.size();
        const double foot = top + row * static_cast<double>(rows), keys = foot + 2.0 * em;
        const std::string title = "What if: saved by cutting, " + in_.code + ", against " + printable(*grid_.against);
        begin(width, foot + 3.2 * em, title, description(), chart_patterns());
        label(edge, 1.4 * em, title, {.what = "title", .bold = true, .room = width - 2.0 * edge});
        label(0.5 * (left + right), 3.0 * em, "price paid for the whole loin, " + price_unit(in_, units_),
              {.what = "axis", .anchor = "middle", .room = right - left});
        label(edge, 4.4 * em, "yield", {.what = "axis", .room = left - edge});
        label(width - edge, 3.0 * em, "breaks even", {.what = "axis", .anchor = "end", .room = last_column});
        label(width - edge, 4.4 * em, "at a price of", {.what = "axis", .anchor = "end", .room = last_column});
        for (std::size_t k = 0; k < grid_.prices.size(); ++k)
            label(x_of(k) + 0.5 * cell_, 4.4 * em, number(grid_.prices[k]),
                  {.what = "price",
                   .anchor = "middle",
                   .bold = grid_.prices[k] == grid_.price,
                   .room = cell_ - 0.4 * em});
        for (std::size_t i = 0; i < rows; ++i) yield(i);
        edges();
        double x = swatch(edge, keys, "saved", {.colour = palette::sky_blue, .opacity = 0.6});
        x = swatch(x, keys, "lost", {.colour = palette::orange, .pattern = "stripes", .opacity = 0.6}) + 0.5 * em;
        line("key", x, keys - 0.3 * em, x + 2.0 * em, keys - 0.3 * em, {.width = 0.2});
        label(x + 2.6 * em, keys, "break-even; bold: as it was bought and cut", {.what = "key", .size = 0.92});
        return end();
    }

private:
    static constexpr double width = 960.0, em = 15.0, edge = 12.0, left = 100.0, right = 800.0, top = 5.0 * em,
                            row = 2.0 * em, band = 0.8 * em, last_column = width - edge - right - em;

    [[nodiscard]] double x_of(std::size_t k) const { return left + cell_ * static_cast<double>(k); }
    [[nodiscard]] double y_of(std::size_t i) const { return top + row * static_cast<double>(i); }
    [[nodiscard]] bool saves(std::size_t i, std::size_t k) const { return grid_.net_saving[i][k] >= 0; }
    [[nodiscard]] std::string number(double price) const { return price_number(price, in_, units_); }

    void yield(std::size_t i) {
        const double base = y_of(i) + 1.3 * em;
        label(left - 0.6 * em, base, percent_text(yields_[i]),
              {.what = "yield", .anchor = "end", .bold = yields_[i] == grid_.yield, .room = left - edge - 0.6 * em});
        const double clear = std::min(band, 0.2 * cell_);
        for (std::size_t k = 0; k < grid_.prices.size(); ++k) {
            const bool saved = saves(i, k), here = yields_[i] == grid_.yield && grid_.prices[k] == grid_.price;
            const double share =
                largest_ > 0.0 ? std::abs(static_cast<double>(grid_.net_saving[i][k])) / largest_ : 0.0;
            const std::string_view colour = saved ? palette::sky_blue : palette::orange;
            rect("cell", x_of(k), y_of(i), cell_, row, {.colour = colour, .opacity = 0.12 + 0.55 * share, .edge = {}});
            // Losses have a striped edge beside their minus sign; the figure itself stays clear of it.
            if (!saved)
                rect("loss", x_of(k), y_of(i), clear, row, {.colour = colour, .pattern = "stripes", .edge = {}});
            label(
                x_of(k) + clear + 0.5 * (cell_ - clear), base, money_number(grid_.net_saving[i][k], in_),
                {.what = here ? "here" : "saving", .anchor = "middle", .bold = here, .room = cell_ - clear - 0.4 * em});
        }
        label(width - edge, base, break_even_text(grid_.break_evens[i], [&](double p) { return number(p); }),
              {.what = "even", .anchor = "end", .room = last_column});
    }

    /// A thick line wherever saving turns into loss.
    void edges() {
        for (std::size_t i = 0; i < yields_.size(); ++i)
            for (std::size_t k = 0; k < grid_.prices.size(); ++k) {
                if (k > 0 && saves(i, k) != saves(i, k - 1))
                    line("turn", x_of(k), y_of(i), x_of(k), y_of(i + 1), {.width = 0.2});
                if (i > 0 && saves(i, k) != saves(i - 1, k))
                    line("turn", x_of(k), y_of(i), x_of(k + 1), y_of(i), {.width = 0.2});
            }
    }

    /// The table in words, row by row.
    [[nodiscard]] std::string description() const {
        std::string text = "Saved by cutting at prices paid of";
        for (const double p : grid_.prices) text += ' ' + number(p);
        text += ' ' + price_unit(in_, units_) + '.';
        for (std::size_t i = 0; i < yields_.size(); ++i) {
            text += " At a yield of " + percent_text(yields_[i]) + ':';
            for (const std::int64_t a : grid_.net_saving[i]) text += ' ' + money_number(a, in_);
            text += '.';
        }
        return text;
    }

    const grid_figures& grid_;
    const std::vector<fraction>& yields_;
    iso_currency in_;
    const kitchen_units& units_;
    double cell_, largest_ = 0.0;
};

} // namespace detail

/// The grid with the saving written in each cell; cells are shaded by it, losses have a striped edge, a thick line runs
/// where saving turns into loss, and the price paid and the yield cut are bold. Rows and columns stand as they are
/// given. Self-contained; `name` begins the ids. Throws `invalid_input` for an empty grid, and for a price of more than
/// 15 digits. O(prices × yields). Prices are written in `units`, savings to the minor unit, yields in per cent.
template <currency C>
[[nodiscard]] std::string savings_grid_svg(const savings_grid<C>& grid, const kitchen_units& units = us_kitchen,
                                           const std::string& name = "what-if") {
    if (grid.prices.empty() || grid.yields.empty()) throw invalid_input("grid", "an empty one", "prices and yields");
    return detail::what_if_chart<>(detail::figures_of(grid), detail::iso_form<C>(), units, name).draw();
}

} // namespace tranche
