// What rulers at true scale share: ticks, figures, a bar to check the print with, and how a loin is laid out in strips.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/report/pictures/detail/loin_canvas.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche::detail {

[[nodiscard]] constexpr bool in_inches(const kitchen_units& units) {
    return units.along.in == length_division::unit::inches;
}
/// What people have a rule for: 4 in or 100 mm, in millimetres.
[[nodiscard]] constexpr double check_bar(const kitchen_units& units) { return in_inches(units) ? 101.6 : 100.0; }
[[nodiscard]] constexpr std::string_view check_bar_text(const kitchen_units& units) {
    return in_inches(units) ? "4 in" : "100 mm";
}

/// What of a loin a strip of a ruler shows, in millimetres, and which of how many strips it is.
struct ruler_part {
    double from = 0.0, to = 0.0;
    std::size_t page = 0, pages = 1;
};

/// A ruler of a part of a loin: one unit of its view box is one millimetre on paper.
template <class = when_called>
class ruler_scale : protected canvas<> {
protected:
    ruler_scale(const std::string& name, double em, const kitchen_units& units, const ruler_part& part)
        : canvas<>(name + (part.pages > 1 ? '-' + std::to_string(part.page + 1) : std::string()), em), units_(units),
          from_(part.from), to_(part.to), page_(part.page), pages_(part.pages) {}

    static constexpr double margin = 4.0, edge = 2.0;

    [[nodiscard]] std::string page_name(std::size_t page) const {
        return "strip " + std::to_string(page + 1) + " of " + std::to_string(pages_);
    }
    [[nodiscard]] bool inches() const { return in_inches(units_); }

    void check_line(double y) {
        const double bar = check_bar(units_);
        line("check", 0.0, y, bar, y, {.width = 0.2});
        for (const double end : {0.0, bar}) line("check-end", end, y - 2.0, end, y + 2.0, {.width = 0.12});
    }

    /// Ticks along the edge: `parts` of `one` mm, the longer the rounder.
    void scale() {
        const double one = figure_gap(units_);
        const int parts = inches() ? 16 : 10;
        line("edge", from_, 0.0, to_, 0.0, {.width = 0.12});
        std::string ticks;
        const auto first = static_cast<long>(std::ceil(from_ * parts / one - 1e-6));
        const auto last = static_cast<long>(std::floor(to_ * parts / one + 1e-6));
        for (long k = first; k <= last; ++k) {
            double length = 2.0;
            if (inches())
                length = k % 16 == 0 ? 5.6 : k % 8 == 0 ? 4.4 : k % 4 == 0 ? 3.4 : k % 2 == 0 ? 2.6 : 1.8;
            else
                length = k % 10 == 0 ? 5.0 : k % 5 == 0 ? 3.4 : 2.0;
            const double x = static_cast<double>(k) * one / parts;
            ticks += 'M' + svg_number(x) + " 0V" + svg_number(length);
        }
        path("ticks", ticks, {.edge = {.width = 0.06}});
    }

    /// Figures go on top of the marks: where they meet, the mark gives way for the height of a figure.
    void figures() {
        const double one = figure_gap(units_);
        const auto first = static_cast<long>(std::ceil(from_ / one - 1e-6));
        for (long k = first; static_cast<double>(k) * one <= to_ + 1e-6; ++k) {
            const std::string figure = std::to_string(inches() ? k : 10 * k);
            const double wide = width_of_text(figure, em_);
            const double low = from_ + 0.5 * wide, high = to_ - 0.5 * wide;
            // On a strip narrower than the figure, in the middle.
            const double x = low > high ? 0.5 * (from_ + to_) : std::clamp(static_cast<double>(k) * one, low, high);
            rect({}, x - 0.5 * wide, 6.0, wide, em_, {.colour = "#FFFFFF"});
            label(x, 8.2, figure, {.anchor = "middle"});
        }
    }

    const kitchen_units& units_;
    double from_, to_;
    std::size_t page_, pages_;
};

/// The ruler of a plan, or a strip of it.
template <class = when_called>
class plan_ruler : protected ruler_scale<> {
protected:
    plan_ruler(const std::string& name, double em, const cutting_plan& cuts, const kitchen_units& units,
               const ruler_part& part)
        : ruler_scale<>(name, em, units, part), cuts_(cuts) {}

    /// A picture of `wide` mm between its margins, and a group in it that begins with the ticks of the ruler.
    void begin_strip(double wide, double high, const std::string& ruler, const std::string& about) {
        begin(wide + 2.0 * margin, high, ruler + (pages_ > 1 ? ", " + page_name(page_) : std::string()), about, {},
              "mm");
        begin_group(margin - from_, edge);
        scale();
    }
    struct stretch {
        double from = 0.0, to = 0.0;
    };
    /// As much of a slab as lies on the strip; nothing of it where it ends before it begins.
    [[nodiscard]] stretch here(const slab& s) const {
        return {std::max<double>(from_, s.start / millimetre),
                std::min<double>(to_, (s.start + s.thickness) / millimetre)};
    }
    /// Where the strip joins another one.
    [[nodiscard]] std::vector<double> joins_here() const {
        std::vector<double> at;
        if (page_ > 0) at.push_back(from_);
        if (page_ + 1 < pages_) at.push_back(to_);
        return at;
    }
    /// Where the knife goes in.
    [[nodiscard]] std::vector<double> cuts_here() const {
        std::vector<double> at;
        for (std::size_t i = 0; i + 1 < cuts_.slabs.size(); ++i) {
            const double x = (cuts_.slabs[i].start + cuts_.slabs[i].thickness) / millimetre;
            if (x >= from_ && (x < to_ || page_ + 1 == pages_)) at.push_back(x);
        }
        return at;
    }

    const cutting_plan& cuts_;
};

/// Where the strips begin and end that tile `extent` mm, as few of at most `most` mm as will do: each but the last ends at
/// the first multiple of `one` mm (`most` or less) that is not before the end of its equal part.
template <class = when_called>
[[nodiscard]] std::vector<double> strip_ends(double extent, double one, double most) {
    constexpr double rounding = 1e-9; // of lengths converted from inches, in figures
    const double strips = std::max(1.0, std::ceil(extent / (one * std::floor(most / one)) - rounding));
    std::vector<double> ends{0.0};
    for (double k = 1.0; k < strips; ++k) ends.push_back(one * std::ceil(k * extent / strips / one - rounding));
    ends.push_back(extent);
    return ends;
}

/// The same of a plan; strips end at a figure. Throws `invalid_input` for a page below 100 mm or not finite.
template <class = when_called>
[[nodiscard]] std::vector<double> ruler_ends(const cutting_plan& cuts, const kitchen_units& units, length page) {
    if (!(page >= 100.0 * millimetre && page < unlimited<length>()))
        throw invalid_input("page", shown(page), "100 mm or more");
    return strip_ends(cuts.extent / millimetre, figure_gap(units), page / millimetre);
}

/// The strips of a plan's ruler, each drawn. Throws as `ruler_ends`.
template <class Strip>
[[nodiscard]] std::vector<std::string> drawn_strips(const cutting_plan& cuts, const kitchen_units& units, length page) {
    const std::vector<double> ends = ruler_ends(cuts, units, page);
    std::vector<std::string> strips;
    for (std::size_t k = 0; k + 1 < ends.size(); ++k)
        strips.push_back(Strip(cuts, units, {ends[k], ends[k + 1], k, ends.size() - 1}).draw());
    return strips;
}

} // namespace tranche::detail
