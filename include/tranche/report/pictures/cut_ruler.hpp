// The cut ruler: a strip at true scale to print at 100 % and lay beside the loin, with a mark at each cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/detail/ruler_scale.hpp>
#include <tranche/report/pictures/detail/spread_labels.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// One strip of the ruler, with names, weights and distances.
template <class = when_called>
class ruler_strip : plan_ruler<> {
public:
    ruler_strip(const cutting_plan& of, const kitchen_units& units, const ruler_part& part)
        : plan_ruler<>("ruler", 2.6, of, units, part) {}

    [[nodiscard]] std::string draw() {
        const double room = std::max(to_ - from_, check_bar(units_) + 4.0), wide = std::min(room, 140.0), size = 0.92;
        std::vector<std::string> notes =
            filled_lines({"Measure this bar: it must be " + std::string(check_bar_text(units_)) + '.',
                          "If not, print again at 100 %, without fitting."},
                         wide, size * em_, true);
        const std::size_t bold = notes.size();
        for (const std::string& words : filled_lines(how_to_use(), wide, size * em_)) notes.push_back(words);
        notes.emplace_back("Keep paper off the meat: use a clean sleeve.");
        begin_strip(room, foot() + 7.4 + 3.2 * static_cast<double>(notes.size()), "Cut ruler",
                    "Cut at, from the rib end: " + cut_positions_text(cuts_, units_) + '.');
        slabs();
        cuts();
        discs();
        figures();
        ends();
        end_group();
        begin_group(margin, foot());
        check_line(3.0);
        for (std::size_t i = 0; i < notes.size(); ++i)
            label(0.0, 8.6 + 3.2 * static_cast<double>(i), notes[i], {.size = size, .bold = i < bold});
        end_group();
        return end();
    }

private:
    void slabs() {
        std::vector<double> middles;
        std::vector<std::size_t> numbers;
        for (std::size_t i = 0; i < cuts_.slabs.size(); ++i) {
            const slab& s = cuts_.slabs[i];
            const stretch part = here(s);
            const double from = part.from, to = part.to;
            if (to - from < 0.01) continue;
            middles.push_back(0.5 * (from + to));
            numbers.push_back(i + 1);
            if (s.kind != slab_kind::portions) rect("loose", from, 10.0, to - from, 15.5, {.colour = "#D9D9D9"});
            if (s.kerf > length{} && s.start + s.thickness < to_ * millimetre)
                rect("kerf", (s.start + s.thickness) / millimetre, 0.0, s.kerf / millimetre, 25.5,
                     {.colour = palette::sky_blue});
            const double room = to - from - 1.0;
            const std::string unit = unit_name(units_.portion);
            const auto inside = [&](double y, const std::string& text) {
                if (room >= std::min(5.0 * em_, width_of_text(text, em_)))
                    label(0.5 * (from + to), y, text, {.anchor = "middle", .room = room});
            };
            inside(20.6, printable(what_is(s, cuts_)));
            inside(24.0, weight_text(s, cuts_, units_) + (unit.empty() ? "" : ' ' + unit));
        }
        const std::size_t stride = label_stride(middles.size(), 5.6, to_ - from_ - 2.0);
        middles_ = every_so_many(middles, stride), numbers_ = every_so_many(numbers, stride);
    }

    /// On top of the cuts, which pass behind where slabs are thin.
    void discs() {
        const std::vector<double> places = spread_labels(middles_, 5.6, from_ + 1.0, to_ - 1.0);
        for (std::size_t k = 0; k < places.size(); ++k) {
            if (std::abs(places[k] - middles_[k]) > 0.5)
                line("leader", middles_[k], 10.0, places[k], 13.6, {.width = 0.06});
            disc(places[k], 13.6, numbers_[k]);
        }
    }

    void cuts() {
        std::vector<double> at = cuts_here();
        for (const double x : at) line("cut", x, 0.0, x, 25.5, {.width = 0.2});
        const double gap = 1.35 * em_;
        at = every_so_many(at, label_stride(at.size(), gap, to_ - from_ - 2.0));
        const std::vector<double> places = spread_labels(at, gap, from_ + 1.0, to_ - 1.0);
        for (std::size_t k = 0; k < at.size(); ++k) {
            line("leader", at[k], 25.5, places[k], 28.5, {.width = 0.06});
            label(places[k], 29.2, distance_text(at[k] * millimetre), {.anchor = "end", .size = 0.92, .upwards = true});
        }
    }

    /// Both ways of reading it, the kitchen's own first; millimetres to the nearest half.
    [[nodiscard]] std::string distance_text(length at) const {
        const std::string metric = detail::shown(0.5 * std::round(2.0 * (at / millimetre)), 1) + " mm";
        const std::string own = to_text(at, units_.along);
        if (inches()) return own + " · " + metric;
        return metric + " · " + to_text(at, sixteenths_of_inch);
    }

    /// Which way the strip lies, and where it joins the next.
    void ends() {
        for (const double x : joins_here()) line("join", x, 0.0, x, foot() - 1.0, {.width = 0.08, .dashes = "2 1"});
        const text_style name{.size = 1.25, .bold = true};
        label(from_ + 1.0, 62.5, name_of_start(), name);
        if (narrow())
            label(from_ + 1.0, 67.5, name_of_end(), name);
        else
            label(to_ - 1.0, 62.5, name_of_end(), {.anchor = "end", .size = name.size, .bold = true});
    }

    [[nodiscard]] std::string name_of_start() const {
        return page_ == 0 ? "◀ rib end" : "◀ joins " + page_name(page_ - 1);
    }
    [[nodiscard]] std::string name_of_end() const {
        return page_ + 1 == pages_ ? "sirloin end ▶" : "joins " + page_name(page_ + 1) + " ▶";
    }
    /// Whether the names of its ends have to stand one below the other.
    [[nodiscard]] bool narrow() const {
        return width_of_text(name_of_start() + ' ' + name_of_end(), 1.25 * em_, true) > to_ - from_ - 2.0;
    }
    [[nodiscard]] double foot() const { return narrow() ? 69.0 : 64.0; }

    [[nodiscard]] std::vector<std::string> how_to_use() const {
        std::vector<std::string> sentences{"Lay the edge with the ticks along the loin, 0 at the rib face.",
                                           "Figures: " + std::string(inches() ? "in." : "mm.")};
        if (std::any_of(cuts_.slabs.begin(), cuts_.slabs.end(), [](const slab& s) { return s.kerf > length{}; }))
            sentences.emplace_back("Blue: lost to the knife.");
        if (pages_ > 1) sentences.emplace_back("Cut the strips at the dashed lines and join them edge to edge.");
        return sentences;
    }

    std::vector<double> middles_;
    std::vector<std::size_t> numbers_; // of the discs, beside middles_
};

} // namespace detail

/// The whole ruler as one self-contained SVG strip, as long as the loin: sizes in millimetres, ticks in the kitchen's
/// unit, a mark at each cut with its distance from the rib end, the number of each slab, and a bar of 4 in or 100 mm to check the
/// print. O(length in mm + slabs). Throws as `to_text` for a number that cannot be written.
template <class = detail::when_called>
[[nodiscard]] std::string cut_ruler_svg(const cutting_plan& cuts, const kitchen_units& units = us_kitchen) {
    return detail::ruler_strip(cuts, units, {.to = cuts.extent / millimetre}).draw();
}

/// Fits the printable width of both A4 and US Letter paper, upright.
inline constexpr length ruler_page = 180.0 * millimetre;

/// The ruler in strips that fit on paper, each with at most `page` of loin (100 mm or more), to be joined edge to edge.
/// They join at whole inches or centimetres, and differ by less than one of those from equal lengths. Throws
/// `invalid_input` for a shorter page or one that is not finite. O(length in mm + slabs × strips). Sizes are
/// millimetres, distances are written in `units`.
template <class = detail::when_called>
[[nodiscard]] std::vector<std::string> cut_ruler_pages(const cutting_plan& cuts,
                                                       const kitchen_units& units = us_kitchen,
                                                       length page = ruler_page) {
    return detail::drawn_strips<detail::ruler_strip<>>(cuts, units, page);
}

} // namespace tranche
