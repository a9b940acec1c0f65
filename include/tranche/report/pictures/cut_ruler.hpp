// The cut ruler: a strip at true scale to print at 100 % and lay beside the loin, with a mark at each cut.
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
#include <tranche/report/pictures/detail/spread_labels.hpp>
#include <tranche/report/pictures/detail/svg.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// One strip of the ruler, from `from` to `to` mm of loin. One unit of its view box is one millimetre on paper.
template <class = when_called>
class ruler_strip {
public:
    ruler_strip(const cutting_plan& cuts, const kitchen_units& units, double from, double to, std::size_t page,
                std::size_t pages)
        : cuts_(cuts), units_(units), from_(from), to_(to), page_(page), pages_(pages) {}

    [[nodiscard]] std::string draw() {
        const double width = std::max(to_ - from_, check_bar + 4.0) + 2.0 * margin, height = foot + 17.0;
        svg_.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                          {"width", detail::shown(width, 4) + "mm"},
                          {"height", detail::shown(height, 4) + "mm"},
                          {"viewBox", "0 0 " + detail::shown(width, 4) + ' ' + detail::shown(height, 4)},
                          {"role", "img"},
                          {"font-family", "sans-serif"},
                          {"font-size", letters}});
        const std::string title = "Cut ruler" + (pages_ > 1 ? ", " + page_name(page_) : std::string());
        svg_.add("title", {}, title);
        svg_.add("desc", {}, "Cut at, from the rib end: " + cut_positions_text(cuts_, units_) + '.');
        svg_.add("rect", {{"width", width}, {"height", height}, {"fill", "#FFFFFF"}});
        svg_.open(
            "g", {{"transform", "translate(" + detail::shown(margin - from_, 4) + ' ' + detail::shown(edge, 4) + ')'}});
        scale();
        slabs();
        cuts();
        figures();
        ends();
        svg_.close("g");
        svg_.open("g", {{"transform", "translate(" + detail::shown(margin, 4) + ' ' + detail::shown(foot, 4) + ')'}});
        check();
        svg_.close("g");
        svg_.close("svg");
        return svg_.text();
    }

private:
    static constexpr double margin = 4.0, edge = 2.0, foot = 64.0, check_bar = 100.0, letters = 2.8;

    [[nodiscard]] std::string page_name(std::size_t page) const {
        return "strip " + std::to_string(page + 1) + " of " + std::to_string(pages_);
    }
    [[nodiscard]] bool inches() const { return units_.along.in == length_division::unit::inches; }
    void line(std::string_view what, double x1, double y1, double x2, double y2, double width) {
        svg_.add("line", {{"class", what},
                          {"x1", x1},
                          {"y1", y1},
                          {"x2", x2},
                          {"y2", y2},
                          {"stroke", palette::black},
                          {"stroke-width", width}});
    }
    void label(double x, double y, const std::string& text, std::string_view anchor = "start", double size = letters,
               bool bold = false) {
        svg_.add("text",
                 {{"x", x},
                  {"y", y},
                  {"text-anchor", anchor},
                  {"font-size", size},
                  {"font-weight", bold ? "bold" : "normal"}},
                 text);
    }

    /// Ticks along the edge: `parts` of `one` mm, the longer the rounder.
    void scale() {
        const double one = inches() ? 25.4 : 10.0;
        const int parts = inches() ? 16 : 10;
        line("edge", from_, 0.0, to_, 0.0, 0.3);
        std::string path;
        const auto first = static_cast<long>(std::ceil(from_ * parts / one - 1e-6));
        const auto last = static_cast<long>(std::floor(to_ * parts / one + 1e-6));
        for (long k = first; k <= last; ++k) {
            double length = 2.0;
            if (inches())
                length = k % 16 == 0 ? 5.6 : k % 8 == 0 ? 4.4 : k % 4 == 0 ? 3.4 : k % 2 == 0 ? 2.6 : 1.8;
            else
                length = k % 10 == 0 ? 5.0 : k % 5 == 0 ? 3.4 : 2.0;
            const double x = static_cast<double>(k) * one / parts;
            path += 'M' + detail::shown(x, 4) + " 0V" + detail::shown(length, 4);
        }
        svg_.add("path", {{"class", "ticks"}, {"d", path}, {"stroke", palette::black}, {"stroke-width", 0.15}});
    }

    /// Figures go on top of the marks: where they meet, the mark gives way for the height of a figure.
    void figures() {
        const double one = inches() ? 25.4 : 10.0, size = 2.6;
        const auto first = static_cast<long>(std::ceil(from_ / one - 1e-6));
        for (long k = first; static_cast<double>(k) * one <= to_ + 1e-6; ++k) {
            const std::string figure = std::to_string(inches() ? k : 10 * k);
            const double wide = 0.64 * size * static_cast<double>(figure.size());
            const double low = from_ + 0.5 * wide, high = to_ - 0.5 * wide;
            // On a strip narrower than the figure, in the middle.
            const double x = low > high ? 0.5 * (from_ + to_) : std::clamp(static_cast<double>(k) * one, low, high);
            svg_.add("rect",
                     {{"x", x - 0.5 * wide}, {"y", 6.0}, {"width", wide}, {"height", 2.6}, {"fill", "#FFFFFF"}});
            label(x, 8.2, figure, "middle", size);
        }
    }

    void slabs() {
        std::vector<double> middles;
        std::vector<std::size_t> numbers;
        for (std::size_t i = 0; i < cuts_.slabs.size(); ++i) {
            const slab& s = cuts_.slabs[i];
            const double from = std::max<double>(from_, s.start / millimetre);
            const double to = std::min<double>(to_, (s.start + s.thickness) / millimetre);
            if (to - from < 0.01) continue;
            middles.push_back(0.5 * (from + to));
            numbers.push_back(i + 1);
            if (s.kind != slab_kind::portions)
                svg_.add("rect", {{"class", "loose"},
                                  {"x", from},
                                  {"y", 10.0},
                                  {"width", to - from},
                                  {"height", 15.5},
                                  {"fill", "#D9D9D9"}});
            if (s.kerf > length{} && s.start + s.thickness < to_ * millimetre)
                svg_.add("rect", {{"class", "kerf"},
                                  {"x", (s.start + s.thickness) / millimetre},
                                  {"y", 0.0},
                                  {"width", s.kerf / millimetre},
                                  {"height", 25.5},
                                  {"fill", palette::sky_blue}});
            const double room = (to - from - 1.0) / 2.6; // in sizes of the letters
            const std::string unit = unit_name(units_.portion);
            const auto inside = [&](double y, const std::string& text) {
                if (room >= std::min(5.0, ems_of(text))) label(0.5 * (from + to), y, fitted(text, room), "middle", 2.6);
            };
            inside(20.6, printable(what_is(s, cuts_)));
            inside(24.0, weight_text(s, cuts_, units_) + (unit.empty() ? "" : ' ' + unit));
        }
        const std::vector<double> places = spread_labels(middles, 5.6, from_ + 1.0, to_ - 1.0);
        for (std::size_t k = 0; k < places.size(); ++k) {
            if (std::abs(places[k] - middles[k]) > 0.5) line("leader", middles[k], 10.0, places[k], 13.6, 0.15);
            svg_.add("circle", {{"cx", places[k]},
                                {"cy", 13.6},
                                {"r", 2.5},
                                {"fill", "#FFFFFF"},
                                {"stroke", palette::black},
                                {"stroke-width", 0.25}});
            label(places[k], 14.6, std::to_string(numbers[k]), "middle", numbers[k] < 100 ? letters : 2.0, true);
        }
    }

    void cuts() {
        std::vector<double> at;
        for (std::size_t i = 0; i + 1 < cuts_.slabs.size(); ++i) {
            const double x = (cuts_.slabs[i].start + cuts_.slabs[i].thickness) / millimetre;
            if (x >= from_ && (x < to_ || page_ + 1 == pages_)) at.push_back(x);
        }
        const std::vector<double> places = spread_labels(at, 1.25 * letters, from_ + 1.0, to_ - 1.0);
        for (std::size_t k = 0; k < at.size(); ++k) {
            line("cut", at[k], 0.0, at[k], 25.5, 0.5);
            line("leader", at[k], 25.5, places[k], 28.5, 0.15);
            const std::string x = detail::shown(places[k] + 0.85, 4);
            svg_.add("text",
                     {{"x", x},
                      {"y", 29.2},
                      {"text-anchor", "end"},
                      {"font-size", 2.4},
                      {"transform", "rotate(-90 " + x + " 29.2)"}},
                     distance_text(at[k] * millimetre));
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
        const auto join = [&](double x) {
            svg_.add("line", {{"class", "join"},
                              {"x1", x},
                              {"y1", 0.0},
                              {"x2", x},
                              {"y2", 63.0},
                              {"stroke", palette::black},
                              {"stroke-width", 0.2},
                              {"stroke-dasharray", "2 1"}});
        };
        const bool first = page_ == 0, last = page_ + 1 == pages_;
        if (!first) join(from_);
        if (!last) join(to_);
        label(from_ + 1.0, 62.5, first ? "◀ rib end" : "◀ joins " + page_name(page_ - 1), "start", 3.2, true);
        label(to_ - 1.0, 62.5, last ? "sirloin end ▶" : "joins " + page_name(page_ + 1) + " ▶", "end", 3.2, true);
    }

    void check() {
        line("check", 0.0, 3.0, check_bar, 3.0, 0.5);
        line("check-end", 0.0, 1.0, 0.0, 5.0, 0.3);
        line("check-end", check_bar, 1.0, check_bar, 5.0, 0.3);
        label(0.0, 8.6, "Measure this bar: it must be 100 mm. If not, print again at 100 %, without fitting.", "start",
              2.4, true);
        const bool kerf =
            std::any_of(cuts_.slabs.begin(), cuts_.slabs.end(), [](const slab& s) { return s.kerf > length{}; });
        label(0.0, 11.8,
              "Lay the edge with the ticks along the loin, 0 at the rib face. Figures: " +
                  std::string(inches() ? "in" : "mm") + (kerf ? ". Blue: lost to the knife." : "."),
              "start", 2.4);
        label(0.0, 15.0,
              std::string(pages_ > 1 ? "Cut the strips at the dashed lines and join them edge to edge. " : "") +
                  "Keep paper off the meat: use a clean sleeve.",
              "start", 2.4);
    }

    const cutting_plan& cuts_;
    const kitchen_units& units_;
    double from_, to_;
    std::size_t page_, pages_;
    svg_writer svg_;
};

} // namespace detail

/// The whole ruler as one self-contained SVG strip, as long as the loin: sizes in millimetres, ticks in the kitchen's
/// unit, a mark at each cut with its distance from the rib end, the number of each slab, and a bar of 100 mm to check the
/// print. O(length in mm + slabs). Throws as `to_text` for a number that cannot be written.
template <class = detail::when_called>
[[nodiscard]] std::string cut_ruler_svg(const cutting_plan& cuts, const kitchen_units& units = us_kitchen) {
    return detail::ruler_strip(cuts, units, 0.0, cuts.extent / millimetre, 0, 1).draw();
}

namespace detail {

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

} // namespace detail

/// Fits the printable width of both A4 and US Letter paper, upright.
inline constexpr length ruler_page = 180.0 * millimetre;

/// The ruler in strips that fit on paper, each with at most `page` of loin (100 mm or more), to be joined edge to edge. They
/// join at whole inches or centimetres, and differ by less than one of those from equal lengths. Throws `invalid_input` for
/// a shorter page or one that is not finite. O(length in mm + slabs × strips).
template <class = detail::when_called>
[[nodiscard]] std::vector<std::string> cut_ruler_pages(const cutting_plan& cuts,
                                                       const kitchen_units& units = us_kitchen,
                                                       length page = ruler_page) {
    if (!(page >= 100.0 * millimetre && page < unlimited<length>()))
        throw invalid_input("page", detail::shown(page), "100 mm or more");
    const double one = units.along.in == length_division::unit::inches ? 25.4 : 10.0; // strips end at a figure
    const std::vector<double> ends = detail::strip_ends(cuts.extent / millimetre, one, page / millimetre);
    std::vector<std::string> strips;
    for (std::size_t k = 0; k + 1 < ends.size(); ++k)
        strips.push_back(detail::ruler_strip(cuts, units, ends[k], ends[k + 1], k, ends.size() - 1).draw());
    return strips;
}

} // namespace tranche
