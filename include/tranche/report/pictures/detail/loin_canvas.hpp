// What the pictures of a loin share: colours and patterns of the tissues, lines of the knife, and a scale bar.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/pictures/detail/canvas.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The colour of a tissue in every picture. Eye and tail are vermillion and orange mixed with white, 65 and 45 parts in 100:
/// lighter lean leaves the lines to be seen, and a lighter tail differs from it in greyscale.
[[nodiscard]] constexpr std::string_view colour_of(tissue t) {
    switch (t) {
    case tissue::eye: return "#E49659";
    case tissue::gluteus_medius: return palette::reddish_purple;
    case tissue::fat_cover: return palette::yellow;
    case tissue::tail: return "#F4D48C";
    case tissue::connective: break;
    }
    return palette::blue;
}

/// The pattern that lies on the colour of a tissue; empty for none.
[[nodiscard]] constexpr std::string_view pattern_of(tissue t) {
    return t == tissue::gluteus_medius ? "stripes" : t == tissue::tail ? "dots" : "";
}

/// Millimetres between the figures of a scale or ruler: an inch or a centimetre.
[[nodiscard]] constexpr double figure_gap(const kitchen_units& units) {
    return units.along.in == length_division::unit::inches ? 25.4 : 10.0;
}

/// Those on the tissues, and on what is no portion.
template <class = when_called>
[[nodiscard]] std::vector<fill_pattern> loin_patterns() {
    return {{.name = "stripes", .turn = 45.0, .apart = 0.7, .width = 0.16, .opacity = 0.65},
            {.name = "loose", .turn = -45.0, .apart = 0.9, .width = 0.12, .opacity = 0.75},
            {.name = "dots", .what = fill_pattern::of::dots, .apart = 0.9, .width = 0.13}};
}

/// A picture of a loin in millimetres.
template <class = when_called>
class loin_canvas : protected canvas<> {
protected:
    loin_canvas(std::string name, double em, const kitchen_units& units)
        : canvas<>(std::move(name), em), units_(units) {}

    void begin(double width, double height, const std::string& title, const std::string& description) {
        canvas<>::begin(width, height, title, description, loin_patterns());
        label(margin(), 2.0 * em_, title, {.size = 1.25, .bold = true});
    }
    [[nodiscard]] double margin() const { return 2.5 * em_; }

    /// Meat of a tissue, with a line around it unless its width is zero.
    void meat(tissue t, const std::string& shape, double edge) {
        path(name_of(t), shape, {.colour = colour_of(t), .pattern = pattern_of(t), .edge = {.width = edge}});
    }
    /// Where to trim.
    void trim_line(const std::string& data) {
        path("trim", data, {.edge = {.width = 0.14, .dashes = dashes(0.5, 0.3)}});
    }
    /// Where to divide.
    void division(double x1, double y1, double x2, double y2) {
        line("divide", x1, y1, x2, y2, {.width = 0.22, .dashes = dashes(0.22, 0.4)});
    }
    /// Meat that is no portion: paler and hatched.
    void mark_as_loose(const std::string& shape) {
        path("loose", shape, {.colour = "#FFFFFF", .pattern = "loose", .opacity = 0.5});
    }
    /// From x, y on, no longer than `room` unless one step is.
    void scale_bar(double x, double y, double room) {
        const double one = figure_gap(units_);
        const int steps = scale_steps(room);
        for (int k = 0; k < steps; ++k)
            rect("scale", x + k * one, y - 0.5 * em_, one, 0.4 * em_,
                 {.colour = k % 2 == 0 ? palette::black : std::string_view("#FFFFFF"), .edge = {.width = 0.08}});
        label(x + steps * one + 0.6 * em_, y, scale_text(steps), {.size = 0.9});
    }
    [[nodiscard]] double scale_bar_width(double room) const {
        const int steps = scale_steps(room);
        return steps * figure_gap(units_) + 0.6 * em_ + width_of_text(scale_text(steps), 0.9 * em_);
    }
    [[nodiscard]] int scale_steps(double room) const {
        const double one = figure_gap(units_);
        return std::clamp(static_cast<int>(std::min(room / one, 10.0)), 1, one == 10.0 ? 10 : 4);
    }
    [[nodiscard]] std::string scale_text(int steps) const {
        return figure_gap(units_) == 10.0 ? std::to_string(10 * steps) + " mm" : std::to_string(steps) + " in";
    }
    /// Swatches of these tissues, and of what is no portion where there is any.
    void key(double x, double y, const std::vector<tissue>& tissues, const cutting_plan& cuts) {
        for (const tissue t : tissues)
            x = swatch(x, y, std::string(name_of(t)), {.colour = colour_of(t), .pattern = pattern_of(t)});
        const auto loose = [](const slab& s) { return s.kind != slab_kind::portions; };
        if (std::any_of(cuts.slabs.begin(), cuts.slabs.end(), loose))
            (void)swatch(x, y, "not portions", {.colour = "#FFFFFF", .pattern = "loose"});
    }
    /// Lines of small letters from y on.
    void notes(double y, const std::vector<std::string>& lines) {
        for (const std::string& words : lines) {
            label(margin(), y, words, {.size = 0.85});
            y += 1.5 * em_;
        }
    }

    const kitchen_units& units_;
};

} // namespace tranche::detail
