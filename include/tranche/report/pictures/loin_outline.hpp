// The outline of a loin for drawing: from the model's own faces, from a profile's measures, or guessed from the weight.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// What a loin looks like from above and from the side, in millimetres: where its edges, layers and second muscle lie at
/// places along it.
struct loin_outline {
    struct point {
        double at = 0.0;
        double chine = 0.0, width = 0.0; ///< across: the edge at the chine, measured from where it lies furthest out
        double board = 0.0, depth = 0.0; ///< up: the underside, measured from the board
        double fat = 0.0, tail = 0.0;    ///< within depth and width
        double silverskin = 0.0;         ///< within depth, under the fat; 0 where only its weight is known
        double gluteus_medius_from = 0.0, gluteus_medius_to = 0.0;  ///< across, as `chine`
        double gluteus_medius_low = 0.0, gluteus_medius_high = 0.0; ///< up, as `board`

        /// Whether the second muscle is on this place, so that its edges differ. Throws nothing.
        [[nodiscard]] bool has_gluteus_medius() const { return gluteus_medius_from < gluteus_medius_to; }

        friend bool operator==(const point&, const point&) = default;
    };
    bool measured = true;       ///< false: width and depth are guessed from the weight
    bool muscle_placed = false; ///< whether gluteus medius lies where the faces have it, not merely by its share
    loin_side flank = loin_side::right; ///< seen along the loin from the rib end; set it where the model does not know
    bool fat = false, tail = false, silverskin = false, gluteus_medius = false; ///< whether there is any
    double extent = 0.0, widest = 0.0, deepest = 0.0; ///< room for all points: along, across and up
    std::vector<point> points{};                      ///< from the rib face to the sirloin face

    /// The outline at `at` mm from the rib face, interpolated. In millimetres; beyond the ends as at them. The outline
    /// has a point at least, which is not checked. O(log points); throws nothing.
    [[nodiscard]] point there(double at) const {
        const auto behind =
            std::lower_bound(points.begin(), points.end(), at, [](const point& p, double x) { return p.at < x; });
        if (behind == points.begin()) return points.front();
        if (behind == points.end()) return points.back();
        const point &a = *(behind - 1), &b = *behind;
        const double t = (at - a.at) / (b.at - a.at);
        const auto mix = [&](double point::*what) { return a.*what + t * (b.*what - a.*what); };
        return {.at = at,
                .chine = mix(&point::chine),
                .width = mix(&point::width),
                .board = mix(&point::board),
                .depth = mix(&point::depth),
                .fat = mix(&point::fat),
                .tail = mix(&point::tail),
                .silverskin = mix(&point::silverskin),
                .gluteus_medius_from = mix(&point::gluteus_medius_from),
                .gluteus_medius_to = mix(&point::gluteus_medius_to),
                .gluteus_medius_low = mix(&point::gluteus_medius_low),
                .gluteus_medius_high = mix(&point::gluteus_medius_high)};
    }

    friend bool operator==(const loin_outline&, const loin_outline&) = default;
};

namespace detail {

/// Of a profile, where a point is next to nothing; of a model fewer, for painting its faces is most of a page's time.
inline constexpr std::size_t profile_points_along = 160, model_points_along = 120;

} // namespace detail

/// The outline at about `count` places of a profile, both ends included, with a straight chine edge on a flat board.
/// Where any width or depth between the ends is zero (at an end the loin may run out to a point), the model did not
/// know the outline: then each face is drawn as if it were 2.5 times as wide as deep, filled to 0.80, of density 1050
/// kg/m³ (an assumption, good for a picture only), and `measured` is false. The gluteus medius takes its share of the
/// lean, on the flank side seen from above and under the fat seen from the side. O(cells + count). In millimetres.
/// `count` is one or more, which is not checked. Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] loin_outline outline_of(const profile& meat, std::size_t count = detail::profile_points_along) {
    loin_outline outline{.fat = meat.total(tissue::fat_cover).count > 0,
                         .tail = meat.total(tissue::tail).count > 0,
                         .silverskin = meat.total(tissue::connective).count > 0,
                         .gluteus_medius = meat.total(tissue::gluteus_medius).count > 0,
                         .extent = meat.extent() / millimetre};
    const auto known = [&](std::size_t i) { return meat.width(i) > length{} && meat.depth(i) > length{}; };
    for (std::size_t i = 1; i < meat.cells(); ++i) outline.measured = outline.measured && known(i);
    if (meat.cells() == 1) outline.measured = known(0) && known(1);
    const std::size_t stride = std::max<std::size_t>(1, meat.cells() / count);
    for (std::size_t i = 0;; i = std::min(i + stride, meat.cells())) {
        const std::size_t cell = std::min(i, meat.cells() - 1);
        loin_outline::point p{.at = meat.position(i) / millimetre,
                              .width = meat.width(i) / millimetre,
                              .depth = meat.depth(i) / millimetre};
        if (!outline.measured) {
            const std::size_t from = i - std::min(i, stride), to = std::min(i + stride, meat.cells());
            const double kilograms = to_mass(meat.between(from, to)).value();
            const double square_metres = kilograms / (meat.position(to) - meat.position(from)).value() / 1050.0;
            p.depth = 1000.0 * std::sqrt(square_metres / (0.80 * 2.5));
            p.width = 2.5 * p.depth;
        }
        p.fat = std::clamp<double>(meat.fat_cover(cell).thickness / millimetre, 0.0, p.depth);
        p.tail = std::clamp<double>(meat.tail(cell).thickness / millimetre, 0.0, p.width);
        p.gluteus_medius_to = p.width - p.tail;
        p.gluteus_medius_from = p.gluteus_medius_to * (1.0 - meat.gluteus_medius_share(i));
        p.gluteus_medius_high = p.depth - p.fat;
        p.gluteus_medius_low = p.gluteus_medius_high * (1.0 - meat.gluteus_medius_share(i));
        outline.widest = std::max(outline.widest, p.width);
        outline.deepest = std::max(outline.deepest, p.depth);
        outline.points.push_back(p);
        if (i == meat.cells()) break;
    }
    return outline;
}

namespace detail {

/// How far the outlines of some tissues reach, in millimetres.
struct painted_reach {
    double left = std::numeric_limits<double>::infinity(), right = -left, low = left, high = -left;

    void add(const outline& curve, double across) {
        for (const outline_point& p : curve.points) {
            const double x = across * (p.across / millimetre), y = p.up / millimetre;
            left = std::min(left, x), right = std::max(right, x), low = std::min(low, y), high = std::max(high, y);
        }
    }
    [[nodiscard]] bool empty() const { return !(left < right); }
};

/// What of one face is seen from above and from the side; `across` is -1 to look at its mirror image.
struct painted_silhouette {
    painted_reach all, lean, muscles, gluteus_medius; ///< lean: the muscles with their silverskin

    explicit painted_silhouette(const painted_face& painted, double across = 1.0) {
        for (const painted_outline& p : painted) {
            all.add(p.curve, across);
            if (p.fill == tissue::gluteus_medius) gluteus_medius.add(p.curve, across);
            if (p.fill == tissue::eye || p.fill == tissue::gluteus_medius) muscles.add(p.curve, across);
            if (p.fill != tissue::tail && p.fill != tissue::fat_cover) lean.add(p.curve, across);
        }
    }
    /// By how much the tail stands out further on the right than on the left.
    [[nodiscard]] double tail_on_the_right() const {
        return lean.empty() ? 0.0 : (all.right - lean.right) - (lean.left - all.left);
    }
    /// Of no outlines, a point without width and depth.
    [[nodiscard]] loin_outline::point point(double at) const {
        if (all.empty()) return {.at = at};
        loin_outline::point p{
            .at = at, .chine = all.left, .width = all.right - all.left, .board = all.low, .depth = all.high - all.low};
        p.fat = lean.empty() ? p.depth : std::max(0.0, all.high - lean.high);
        p.tail = lean.empty() ? p.width : all.right - lean.right;
        p.silverskin = muscles.empty() ? 0.0 : std::max(0.0, lean.high - muscles.high);
        const double lean_to = all.right - p.tail;
        p.gluteus_medius_from = gluteus_medius.empty() ? lean_to : std::min(gluteus_medius.left, lean_to);
        p.gluteus_medius_to = gluteus_medius.empty() ? lean_to : std::min(gluteus_medius.right, lean_to);
        p.gluteus_medius_low = gluteus_medius.empty() ? all.low : gluteus_medius.low;
        p.gluteus_medius_high = gluteus_medius.empty() ? all.low : gluteus_medius.high;
        return p;
    }
};

} // namespace detail

/// The outline as the model's own faces have it: the silhouettes of `painted_at` from above and from the side at
/// `count` even places. Tracings may have their tail on the side of less `across`, drawn as seen: then the flank lies
/// on the other side than `flank_of` says. Places without outlines, as where a loin runs out to a point, lie in the
/// middle of the next one, and so does the gluteus medius at the place before it begins, but for one that begins at the
/// edge of the lean. Throws `invalid_input` if no face has an outline. O(count) calls of the model. In millimetres;
/// `count` is one or more, which is not checked. Throws also what the model's `validate` throws.
template <shaped_loin_model Model>
[[nodiscard]] loin_outline outline_of(const Model& loin, std::size_t count = detail::model_points_along) {
    validate_model(loin);
    loin_outline outline{.muscle_placed = true, .flank = flank_of(loin), .extent = loin.extent() / millimetre};
    std::vector<loin_outline::point>& points = outline.points;
    const auto place = [&](std::size_t i) -> length {
        return (static_cast<double>(i) / static_cast<double>(count)) * loin.extent();
    };
    std::vector<painted_face> faces;
    double to_the_right = 0.0;
    for (std::size_t i = 0; i <= count; ++i) {
        faces.push_back(loin.painted_at(place(i)));
        to_the_right += detail::painted_silhouette(faces.back()).tail_on_the_right();
    }
    const bool other_way = to_the_right < 0.0;
    if (other_way) outline.flank = outline.flank == loin_side::right ? loin_side::left : loin_side::right;
    for (std::size_t i = 0; i <= count; ++i) {
        const length at = place(i);
        points.push_back(detail::painted_silhouette(faces[i], other_way ? -1.0 : 1.0).point(at / millimetre));
        const face f = loin.face_at(at);
        const auto has = [&](tissue t) { return f.areas[t] > area{}; };
        outline.fat = outline.fat || has(tissue::fat_cover);
        outline.tail = outline.tail || has(tissue::tail);
        outline.silverskin = outline.silverskin || has(tissue::connective);
        outline.gluteus_medius = outline.gluteus_medius || has(tissue::gluteus_medius);
    }
    const auto known = [](const loin_outline::point& p) { return p.width > 0.0; };
    if (std::none_of(points.begin(), points.end(), known))
        throw invalid_input("outlines", "none on any face", "a model that paints its faces");
    double left = std::numeric_limits<double>::infinity(), low = left;
    for (const loin_outline::point& p : points)
        if (known(p)) left = std::min(left, p.chine), low = std::min(low, p.board);
    for (loin_outline::point& p : points) {
        if (!known(p)) continue;
        p.chine -= left, p.gluteus_medius_from -= left, p.gluteus_medius_to -= left;
        p.board -= low, p.gluteus_medius_low -= low, p.gluteus_medius_high -= low;
        outline.widest = std::max(outline.widest, p.chine + p.width);
        outline.deepest = std::max(outline.deepest, p.board + p.depth);
    }
    const auto shrink = [&](loin_outline::point& p, const loin_outline::point& next) {
        if (!p.has_gluteus_medius() && next.has_gluteus_medius()) {
            if (next.gluteus_medius_to < next.chine + next.width - next.tail - 0.01) // not at the edge of the lean
                p.gluteus_medius_from = p.gluteus_medius_to = 0.5 * (next.gluteus_medius_from + next.gluteus_medius_to);
            p.gluteus_medius_low = p.gluteus_medius_high = 0.5 * (next.gluteus_medius_low + next.gluteus_medius_high);
        }
        if (known(p) || !known(next)) return;
        const double across = next.chine + 0.5 * next.width;
        p.chine = p.gluteus_medius_from = p.gluteus_medius_to = across;
        p.board = next.board + 0.5 * next.depth;
    };
    for (std::size_t i = 1; i < points.size(); ++i) shrink(points[i], points[i - 1]);
    for (std::size_t i = points.size() - 1; i-- > 0;) shrink(points[i], points[i + 1]);
    return outline;
}

} // namespace tranche
