// The drawing inside a picture of a loin: outline, tissues, trim lines and cuts, in millimetres of loin.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/report/pictures/detail/loin_canvas.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

enum class loin_view { above, side };

/// Draws a planned loin from either side. x runs from the rib end, y downwards from the top of the drawing.
template <class = when_called>
class loin_drawing : protected loin_canvas<> {
protected:
    loin_drawing(loin_view from, const cutting_plan& cuts, const loin_outline& outline, const kitchen_units& units,
                 double letters = 0.018)
        : loin_canvas<>(from == loin_view::above ? "above" : "side", letters * outline.extent, units),
          above_(from == loin_view::above), cuts_(cuts), outline_(outline), extent_(outline.extent),
          height_(above_ ? outline.widest : outline.deepest) {
        if (snapped(cuts.extent) != snapped(extent_ * millimetre))
            throw invalid_input("plan.extent", shown(cuts.extent),
                                "the length of the loin that is drawn, " + shown(extent_ * millimetre));
    }

    using point = loin_outline::point;

    /// From above: of a place across, measured from the chine. The left of someone who looks along the loin is at the top.
    [[nodiscard]] double down(double across) const {
        return outline_.flank == loin_side::right ? across : height_ - across;
    }
    // Where the outline and the layers lie, downwards from the top of the drawing. From above, the lean runs from the chine.
    [[nodiscard]] double edge(const point& p) const {
        return above_ ? std::min(down(p.chine), down(p.chine + p.width)) : height_ - p.board - p.depth;
    }
    [[nodiscard]] double foot(const point& p) const {
        return above_ ? std::max(down(p.chine), down(p.chine + p.width)) : height_ - p.board;
    }
    [[nodiscard]] double lean_from(const point& p) const { return above_ ? down(p.chine) : edge(p) + p.fat; }
    [[nodiscard]] double lean_to(const point& p) const { return above_ ? down(p.chine + p.width - p.tail) : foot(p); }
    /// What stays of the layer that is trimmed off in this view.
    [[nodiscard]] double trimmed_to(const point& p, double keep) const {
        return above_ ? down(p.chine + p.width - p.tail + std::min(p.tail, keep))
                      : lean_from(p) - std::min(p.fat, keep);
    }
    [[nodiscard]] double second_from(const point& p) const {
        return above_ ? down(p.gluteus_medius_from) : height_ - p.gluteus_medius_high;
    }
    [[nodiscard]] double second_to(const point& p) const {
        return above_ ? down(p.gluteus_medius_to) : height_ - p.gluteus_medius_low;
    }
    /// Where along the loin there is any gluteus medius: from the place before it begins to the one behind its end.
    [[nodiscard]] std::vector<std::pair<double, double>> second_stretches() const {
        std::vector<std::pair<double, double>> stretches;
        for (std::size_t i = 0; i + 1 < outline_.points.size(); ++i) {
            const point &a = outline_.points[i], &b = outline_.points[i + 1];
            if (!a.has_gluteus_medius() && !b.has_gluteus_medius()) continue;
            if (stretches.empty() || stretches.back().second < a.at) stretches.emplace_back(a.at, b.at);
            stretches.back().second = b.at;
        }
        return stretches;
    }

    [[nodiscard]] std::vector<point> between(double from, double to) const {
        std::vector<point> points{outline_.there(from)};
        for (const point& p : outline_.points)
            if (from < p.at && p.at < to) points.push_back(p);
        points.push_back(outline_.there(to));
        return points;
    }
    template <class Height>
    [[nodiscard]] static std::vector<picture_point> curve(const std::vector<point>& points, Height height) {
        std::vector<picture_point> line;
        for (const point& p : points) line.push_back({p.at, height(p)});
        return line;
    }
    /// The closed shape between two heights.
    template <class Upper, class Lower>
    [[nodiscard]] std::string band(double from, double to, Upper upper, Lower lower) const {
        const std::vector<point> points = between(from, to);
        std::vector<picture_point> around = curve(points, upper), back = curve(points, lower);
        around.insert(around.end(), back.rbegin(), back.rend());
        return path_through(around, true);
    }
    template <class Upper, class Lower>
    void layer_of(tissue t, double from, double to, Upper upper, Lower lower) {
        meat(t, band(from, to, upper, lower), 0.06);
    }
    void tissues();
    void slabs();

    bool above_;
    const cutting_plan& cuts_;
    const loin_outline& outline_;
    double extent_, height_;
    bool trims_drawn_ = false, divisions_drawn_ = false; ///< whether `slabs` drew any
};

template <class T>
void loin_drawing<T>::tissues() {
    const auto top = [&](const point& p) { return edge(p); };
    const auto lean_top = [&](const point& p) { return lean_from(p); };
    const auto lean_foot = [&](const point& p) { return lean_to(p); };
    const auto second_top = [&](const point& p) { return second_from(p); };
    const auto second_foot = [&](const point& p) { return second_to(p); };
    const auto flank = [&](const point& p) { return down(p.chine + p.width); };
    const auto skin_foot = [&](const point& p) { return lean_from(p) + p.silverskin; };
    layer_of(tissue::eye, 0.0, extent_, lean_top, lean_foot);
    if (!above_ && outline_.silverskin) {
        // A band, or where only its weight is known, a line.
        const bool known = std::any_of(outline_.points.begin(), outline_.points.end(),
                                       [](const point& p) { return p.silverskin > 0.0; });
        const std::string_view colour = colour_of(tissue::connective);
        path(name_of(tissue::connective),
             known ? band(0.0, extent_, lean_top, skin_foot) : path_through(curve(outline_.points, lean_top)),
             {.colour = known ? colour : "none", .edge = {.width = known ? 0.06 : 0.18, .colour = colour}});
    }
    if (outline_.gluteus_medius)
        for (const auto& [from, to] : second_stretches())
            layer_of(tissue::gluteus_medius, from, to, second_top, second_foot);
    if (above_ && outline_.tail) layer_of(tissue::tail, 0.0, extent_, lean_foot, flank);
    if (!above_ && outline_.fat) layer_of(tissue::fat_cover, 0.0, extent_, top, lean_top);
}

template <class T>
void loin_drawing<T>::slabs() {
    const auto whole = [&](double from, double to) {
        return band(
            from, to, [&](const point& p) { return edge(p); }, [&](const point& p) { return foot(p); });
    };
    for (const slab& s : cuts_.slabs) {
        const double from = s.start / millimetre, to = (s.start + s.thickness) / millimetre;
        const bool portions = s.kind == slab_kind::portions;
        if (!portions) mark_as_loose(whole(from, to));
        const trim_spec trim = cuts_.trim_of(s);
        const auto keep = [&](const point& p) {
            return (above_ ? trim.tail.at(p.at / extent_) : trim.fat_cover) / millimetre;
        };
        const std::vector<point> points = between(from, to);
        const auto thickness = [&](const point& p) { return above_ ? p.tail : p.fat; };
        const auto trimmed = [&](const point& p) { return thickness(p) > keep(p) + 0.05; };
        const auto kept = [&](const point& p) { return trimmed_to(p, keep(p)); };
        const bool off = std::any_of(points.begin(), points.end(), trimmed);
        trims_drawn_ = trims_drawn_ || off;
        if (off) trim_line(path_through(curve(points, kept)));
        if (!portions || !above_) continue;
        const int pieces = cuts_.spec_of(s).pieces;
        divisions_drawn_ = divisions_drawn_ || pieces > 1;
        for (int k = 1; k < pieces; ++k) {
            const auto part = [&](const point& p) { return lean_from(p) + (kept(p) - lean_from(p)) * k / pieces; };
            division(from, part(points.front()), to, part(points.back()));
        }
    }
    path("outline", whole(0.0, extent_), {.edge = {.width = 0.14}});
    // Of many slabs the meat between the lines is still to be seen.
    const double knife = std::min(0.2, 0.2 * extent_ / (em_ * static_cast<double>(cuts_.slabs.size())));
    for (std::size_t i = 0; i + 1 < cuts_.slabs.size(); ++i) {
        const slab& s = cuts_.slabs[i];
        const double at = (s.start + s.thickness) / millimetre, kerf = s.kerf / millimetre;
        if (kerf > 0.0) rect("kerf", at, 0.0, kerf, height_, {.colour = "#FFFFFF"});
        line("cut", at, -0.3 * em_, at, height_ + 0.6 * em_, {.width = knife});
    }
}

} // namespace tranche::detail
