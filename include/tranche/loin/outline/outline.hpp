// Closed outlines on a face, as traced from a photograph with a ruler in it or from tracing paper.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <compare>
#include <cstddef>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A point on a face: `across` from the chine towards the flank, `up` from the board.
struct outline_point {
    length across{}, up{};

    friend bool operator==(const outline_point&, const outline_point&) = default;
};

/// A closed curve on a face, in either direction; the first point may stand again at the end. Holes lie inside.
struct outline {
    std::vector<outline_point> points{};
    std::vector<std::vector<outline_point>> holes{};

    friend bool operator==(const outline&, const outline&) = default;
};

namespace detail {

// Raw rings, in metres. Boost.Geometry would do all this and more, but seen from a header it costs every user five seconds
// a translation unit and, with g++ 12, warnings that come through from inside it; the tests use it as their oracle.
struct flat_point {
    double x = 0.0, y = 0.0;
    friend auto operator<=>(const flat_point&, const flat_point&) = default; // by x, then y
};
using flat_ring = std::vector<flat_point>;

/// Without points that stand twice in a row, or less than a picometre from the one before, the closing one among them: sides
/// have a direction.
template <class = when_called>
[[nodiscard]] flat_ring flattened(const std::vector<outline_point>& points) {
    const auto same = [](flat_point a, flat_point b) {
        return std::abs(a.x - b.x) < 1e-12 && std::abs(a.y - b.y) < 1e-12;
    };
    flat_ring ring;
    for (const outline_point& p : points) {
        const flat_point next{p.across.value(), p.up.value()};
        if (ring.empty() || !same(ring.back(), next)) ring.push_back(next);
    }
    while (ring.size() > 1 && same(ring.back(), ring.front())) ring.pop_back();
    return ring;
}

/// With every corner on the grain of coordinates; see `snapped_coordinate`.
template <class = when_called>
[[nodiscard]] outline snapped(outline curve) {
    const auto snap = [](std::vector<outline_point>& points) {
        for (outline_point& p : points)
            for (length outline_point::*way : {&outline_point::across, &outline_point::up})
                p.*way = length::from_value(snapped_coordinate((p.*way).value()));
    };
    snap(curve.points);
    for (std::vector<outline_point>& hole : curve.holes) snap(hole);
    return curve;
}

[[nodiscard]] inline outline_point to_outline_point(flat_point p) {
    return {length::from_value(p.x), length::from_value(p.y)};
}
template <class = when_called>
[[nodiscard]] std::vector<outline_point> to_outline_points(const flat_ring& ring) {
    std::vector<outline_point> points(ring.size());
    std::transform(ring.begin(), ring.end(), points.begin(), to_outline_point);
    return points;
}

/// How far some points reach; of none, upside down.
struct flat_box {
    flat_point low{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()},
        high{-low.x, -low.y};

    void add(flat_point p) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    void add(const flat_ring& ring) {
        for (const flat_point p : ring) add(p);
    }
};

/// Calls f(a, b) for each side of a ring.
template <class F>
void for_each_side(const flat_ring& ring, F&& f) {
    for (std::size_t i = 0, previous = ring.size() - 1; i < ring.size(); previous = i++) f(ring[previous], ring[i]);
}

/// Twice the area of a triangle, positive when a, b, c run against the clock.
template <class = when_called>
[[nodiscard]] double turn(flat_point a, flat_point b, flat_point c) {
    return unfused((b.x - a.x) * (c.y - a.y)) - unfused((b.y - a.y) * (c.x - a.x));
}

/// Shoelace formula, positive when the ring runs against the clock; taken about its first point to keep digits.
template <class = when_called>
[[nodiscard]] double signed_area(const flat_ring& ring) {
    double sum = 0.0;
    for_each_side(ring, [&](flat_point a, flat_point b) { sum += turn(ring.front(), a, b); });
    return 0.5 * sum;
}

/// Without corners that lie no further than `within` metres from the line between those that stay.
template <class = when_called>
[[nodiscard]] flat_ring without_straight_corners(const flat_ring& ring, double within) {
    flat_ring kept;
    for (std::size_t from = 0; from < ring.size();) {
        kept.push_back(ring[from]);
        std::size_t to = from + 1;
        for (; to < ring.size(); ++to) {
            const flat_point a = ring[from], b = ring[(to + 1) % ring.size()];
            const double reach = within * std::hypot(b.x - a.x, b.y - a.y);
            if (std::any_of(ring.begin() + static_cast<std::ptrdiff_t>(from) + 1,
                            ring.begin() + static_cast<std::ptrdiff_t>(to) + 1,
                            [&](flat_point p) { return std::abs(turn(a, p, b)) > reach; }))
                break;
        }
        from = to;
    }
    return kept;
}

/// Whether two sides have a point in common.
template <class = when_called>
[[nodiscard]] bool sides_meet(flat_point a, flat_point b, flat_point c, flat_point d) {
    const auto between = [](flat_point p, flat_point q, flat_point r) { // r on the line through p and q
        return std::min(p.x, q.x) <= r.x && r.x <= std::max(p.x, q.x) && std::min(p.y, q.y) <= r.y &&
               r.y <= std::max(p.y, q.y);
    };
    const double abc = turn(a, b, c), abd = turn(a, b, d), cda = turn(c, d, a), cdb = turn(c, d, b);
    if (((abc > 0.0 && abd < 0.0) || (abc < 0.0 && abd > 0.0)) &&
        ((cda > 0.0 && cdb < 0.0) || (cda < 0.0 && cdb > 0.0)))
        return true;
    return (abc == 0.0 && between(a, b, c)) || (abd == 0.0 && between(a, b, d)) || (cda == 0.0 && between(c, d, a)) ||
           (cdb == 0.0 && between(c, d, b));
}

/// The rings of one outline, and questions about them.
class flat_region {
public:
    flat_region() = default;
    explicit flat_region(const outline& curve) {
        rings_.push_back(flattened(curve.points));
        for (const auto& hole : curve.holes) rings_.push_back(flattened(hole));
    }

    /// Puts every corner where `place` says.
    template <class Place>
    void move(Place place) {
        for (flat_ring& ring : rings_)
            for (flat_point& p : ring) p = place(p);
    }

    [[nodiscard]] bool empty() const { return rings_.empty(); }
    [[nodiscard]] const std::vector<flat_ring>& rings() const { return rings_; }

    /// In m², holes taken off.
    [[nodiscard]] double area() const {
        double sum = 0.0;
        for (const flat_ring& ring : rings_)
            sum += &ring == &rings_.front() ? std::abs(signed_area(ring)) : -std::abs(signed_area(ring));
        return sum;
    }

    /// Calls f(y) wherever a curve crosses the line x = const.
    template <class F>
    void for_each_crossing(double x, F&& f) const {
        for (const flat_ring& ring : rings_)
            for_each_side(ring, [&](flat_point a, flat_point b) {
                if ((a.x <= x) != (b.x <= x)) f(a.y + unfused((b.y - a.y) * ((x - a.x) / (b.x - a.x))));
            });
    }
    /// The stretches of such a line that lie inside, upwards: pairs of y.
    [[nodiscard]] std::vector<std::pair<double, double>> chords(double x) const {
        std::vector<double> crossings;
        for_each_crossing(x, [&](double y) { crossings.push_back(y); });
        std::sort(crossings.begin(), crossings.end());
        std::vector<std::pair<double, double>> result;
        for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) result.emplace_back(crossings[i], crossings[i + 1]);
        return result;
    }

    [[nodiscard]] bool contains(flat_point p) const {
        const auto inside = chords(p.x);
        return std::any_of(inside.begin(), inside.end(),
                           [&](const auto& c) { return c.first <= p.y && p.y <= c.second; });
    }

    /// From p to the nearest side, inside or out.
    [[nodiscard]] double distance_to_edge(flat_point p) const {
        double least = std::numeric_limits<double>::infinity();
        for (const flat_ring& ring : rings_)
            for_each_side(ring, [&](flat_point a, flat_point b) {
                const double dx = b.x - a.x, dy = b.y - a.y, square = unfused(dx * dx) + unfused(dy * dy);
                const double t = std::clamp((unfused((p.x - a.x) * dx) + unfused((p.y - a.y) * dy)) / square, 0.0, 1.0);
                const double x = p.x - a.x - unfused(t * dx), y = p.y - a.y - unfused(t * dy);
                least = std::min(least, unfused(x * x) + unfused(y * y));
            });
        return std::sqrt(least);
    }

    /// The least and the greatest x or y.
    [[nodiscard]] std::pair<double, double> extent(double flat_point::*coordinate) const {
        flat_box box;
        box.add(rings_.front());
        return {box.low.*coordinate, box.high.*coordinate};
    }

private:
    std::vector<flat_ring> rings_; // the outer one, then holes
};

/// Curves that run against the clock as outlines, largest first; those that run with it as holes of the smallest outline
/// around them.
template <class = when_called>
[[nodiscard]] std::vector<outline> outlines_of(const std::vector<flat_ring>& rings) {
    std::vector<std::pair<double, const flat_ring*>> meat;
    for (const flat_ring& ring : rings)
        if (const double size = signed_area(ring); size > 0.0) meat.emplace_back(size, &ring);
    std::stable_sort(meat.begin(), meat.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<outline> outlines;
    std::vector<flat_region> regions;
    for (const auto& [size, ring] : meat) {
        outlines.push_back({.points = to_outline_points(*ring)});
        regions.emplace_back(outlines.back());
    }
    for (const flat_ring& ring : rings) {
        if (!(signed_area(ring) < 0.0)) continue;
        for (std::size_t k = outlines.size(); k-- > 0;) {
            if (!(meat[k].first > -signed_area(ring))) continue;
            // Corners may lie on the curve around them, so most of them have to be inside and not all.
            const auto inside =
                std::count_if(ring.begin(), ring.end(), [&](const flat_point& p) { return regions[k].contains(p); });
            if (2 * static_cast<std::size_t>(inside) <= ring.size()) continue;
            outlines[k].holes.push_back(to_outline_points(ring));
            break;
        }
    }
    return outlines;
}

/// The corner that lies highest or lowest, seen from the middle one of all.
template <class = when_called>
[[nodiscard]] std::size_t furthest_up_or_down(const std::vector<outline_point>& points) {
    std::vector<double> heights;
    for (const outline_point& p : points) heights.push_back(p.up.value());
    const auto middle = heights.begin() + static_cast<std::ptrdiff_t>(heights.size() / 2);
    std::nth_element(heights.begin(), middle, heights.end());
    const auto off = [&](const outline_point& p) { return std::abs(p.up.value() - *middle); };
    const auto furthest =
        std::max_element(points.begin(), points.end(), [&](const auto& a, const auto& b) { return off(a) < off(b); });
    return static_cast<std::size_t>(furthest - points.begin());
}

template <class = when_called>
[[nodiscard]] std::string place_of(flat_point p) {
    return '(' + detail::shown(length::from_value(p.x)) + ", " + detail::shown(length::from_value(p.y)) + ')';
}

/// Throws if any two sides of all rings meet other than at the corner that neighbours share. O(sides²).
template <class = when_called>
void require_simple(const std::vector<flat_ring>& rings, const std::string& what) {
    struct side {
        flat_point from, to;
        std::size_t ring, index;
    };
    std::vector<side> sides;
    for (std::size_t r = 0; r < rings.size(); ++r)
        for (std::size_t i = 0; i < rings[r].size(); ++i)
            sides.push_back({rings[r][i], rings[r][(i + 1) % rings[r].size()], r, i});
    for (std::size_t i = 0; i < sides.size(); ++i)
        for (std::size_t k = i + 1; k < sides.size(); ++k) {
            const side &a = sides[i], &b = sides[k];
            const std::size_t last = rings[a.ring].size() - 1;
            const bool follows = a.ring == b.ring && b.index == a.index + 1;
            const bool closes = a.ring == b.ring && a.index == 0 && b.index == last;
            // Neighbours share a corner; they may only not run back on one another.
            const auto back = [](flat_point p, flat_point corner, flat_point q) {
                return turn(p, corner, q) == 0.0 &&
                       unfused((p.x - corner.x) * (q.x - corner.x)) + unfused((p.y - corner.y) * (q.y - corner.y)) >
                           0.0;
            };
            const bool bad = follows  ? back(a.from, a.to, b.to)
                             : closes ? back(b.from, b.to, a.to)
                                      : sides_meet(a.from, a.to, b.from, b.to);
            if (bad)
                throw invalid_input(what, "sides that meet near " + place_of(a.from) + " and " + place_of(b.from),
                                    "a curve that neither crosses nor touches itself");
        }
}

} // namespace detail

/// Enclosed area without the holes (shoelace formula), whichever way the curve runs. O(points). In square metres, zero
/// or more; corners are finite lengths, and curves that `validate` accepts, or the area is that of no face. Throws
/// nothing. Source of the formula: any handbook of geometry.
[[nodiscard]] inline area area_of(const outline& curve) { return area::from_value(detail::flat_region(curve).area()); }

namespace detail {

/// A face is this wide; anything else is a mistake in the unit (common practice, no source).
inline constexpr quantity_range<length> plausible_outline_width{5.0 * millimetre, 1.0 * metre};

} // namespace detail
/// No face is as high as this, and no origin that outlines share is as far off: a corner beyond is a slip of the keyboard
/// (common practice, no source).
inline constexpr length highest_outline = 1.0 * metre, farthest_outline = 10.0 * metre;
/// More corners than this, those of holes counted, are taken for a mistake: tracings have hundreds (common practice, no source).
inline constexpr std::size_t most_outline_corners = 10'000;

/// Throws `invalid_input` naming `what` for fewer than three points or more than `most_outline_corners`, a coordinate that is
/// not finite or beyond `farthest_outline`, a curve that crosses or touches itself, a hole outside or in another hole, no area,
/// a width that no face has and that suggests another unit, or a height beyond `highest_outline`, naming the corner that
/// stands out. O(points²).
template <class = detail::when_called>
void validate(const outline& curve, const std::string& what) {
    std::size_t points_in_all = curve.points.size();
    for (const auto& hole : curve.holes) points_in_all += hole.size();
    if (points_in_all > most_outline_corners)
        throw invalid_input(what, std::to_string(points_in_all) + " corners",
                            "at most " + std::to_string(most_outline_corners));
    const auto refuse_point = [](const std::vector<outline_point>& points, std::size_t i, const std::string& which,
                                 const char* expected) {
        throw invalid_input(which + " point " + std::to_string(i + 1),
                            '(' + detail::shown(points[i].across) + ", " + detail::shown(points[i].up) + ')', expected);
    };
    const auto check_points = [&](const std::vector<outline_point>& points, const std::string& which) {
        const auto plausible = [](length coordinate) {
            return std::abs(coordinate.value()) <= farthest_outline.value();
        };
        for (std::size_t i = 0; i < points.size(); ++i)
            if (!plausible(points[i].across) || !plausible(points[i].up))
                refuse_point(points, i, which, "finite coordinates, at most 10 m from the origin");
        const std::size_t corners = detail::flattened(points).size();
        if (corners < 3) throw invalid_input(which, std::to_string(corners) + " different points", "at least three");
    };
    check_points(curve.points, what);
    for (std::size_t h = 0; h < curve.holes.size(); ++h)
        check_points(curve.holes[h], what + " hole " + std::to_string(h + 1));

    const detail::flat_region region(curve);
    const auto [left, right] = region.extent(&detail::flat_point::x);
    const length width = length::from_value(right - left);
    if (!detail::plausible_outline_width.contains(width))
        throw invalid_input(what, "a width of " + detail::shown(width),
                            "5 mm to 1 m; was the outline read in another unit?");
    const auto [low, high] = region.extent(&detail::flat_point::y);
    if (high - low > highest_outline.value())
        refuse_point(curve.points, detail::furthest_up_or_down(curve.points), what,
                     "corners within a height of 1 m; was one mistyped, or the outline read in another unit?");
    detail::require_simple(region.rings(), what);
    const detail::flat_region outer(outline{.points = curve.points});
    for (std::size_t h = 0; h < curve.holes.size(); ++h)
        if (!outer.contains(region.rings()[h + 1].front()))
            throw invalid_input(what + " hole " + std::to_string(h + 1), "one that lies outside",
                                "a hole inside the curve");
    for (std::size_t h = 0; h < curve.holes.size(); ++h)
        for (std::size_t around = 0; around < curve.holes.size(); ++around)
            if (h != around &&
                detail::flat_region(outline{.points = curve.holes[around]}).contains(region.rings()[h + 1].front()))
                throw invalid_input(what + " hole " + std::to_string(h + 1),
                                    "one that lies in hole " + std::to_string(around + 1), "holes beside each other");
}

/// The outline with every coordinate multiplied: pixels into lengths, once somebody has measured the ruler in the picture.
/// `scale` is the length of one unit of `numbers`, above zero and finite. Pictures count their rows downwards, and faces have
/// the fat up: take the rows from the bottom of the picture, or the face stands on its head. `holes` are curves of the same
/// picture; `validate` checks them with the outline. Throws `invalid_input` for a `scale` that is not above zero or not
/// finite. O(points).
template <class = detail::when_called>
[[nodiscard]] outline outline_from(const std::vector<std::pair<double, double>>& numbers, length scale,
                                   const std::vector<std::vector<std::pair<double, double>>>& holes = {}) {
    detail::require_positive(scale, "scale");
    const auto scaled = [scale](const std::vector<std::pair<double, double>>& curve) {
        std::vector<outline_point> points;
        for (const auto& [x, y] : curve) points.push_back({x * scale, y * scale});
        return points;
    };
    outline curve{.points = scaled(numbers)};
    for (const auto& hole : holes) curve.holes.push_back(scaled(hole));
    return curve;
}

} // namespace tranche
