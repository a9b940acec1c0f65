// The one sweep over curves on a face, cut into columns in which no two sides cross; and curves put together again.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// A stretch of meat between two uprights, with straight edges below and above.
struct section_column {
    double left = 0.0, right = 0.0;
    double low_left = 0.0, low_right = 0.0, high_left = 0.0, high_right = 0.0;

    [[nodiscard]] double area() const {
        return unfused(0.5 * (right - left) * ((high_left - low_left) + (high_right - low_right)));
    }
};
using section_part = std::vector<section_column>; ///< from left to right

template <class = when_called>
[[nodiscard]] double area_of(const section_part& part) {
    double sum = 0.0;
    for (const section_column& column : part) sum += column.area();
    return sum;
}

/// What of a column lies between two uprights.
template <class = when_called>
[[nodiscard]] section_column between(const section_column& column, double from, double to) {
    if (column.left >= from && column.right <= to) return column;
    const double width = column.right - column.left;
    const double s = std::max(0.0, (from - column.left) / width), t = std::min(1.0, (to - column.left) / width);
    const auto mix = [](double a, double b, double k) { return a + unfused(k * (b - a)); };
    return {std::max(from, column.left),
            std::min(to, column.right),
            mix(column.low_left, column.low_right, s),
            mix(column.low_left, column.low_right, t),
            mix(column.high_left, column.high_right, s),
            mix(column.high_left, column.high_right, t)};
}

/// A side of a curve, from left to right: straight, or an arc of the upper or the lower half of a circle.
struct swept_side {
    flat_point from, to;
    int group = 0;
    int direction = 1;   ///< of its curve: 1 to the right, -1 to the left
    double radius = 0.0; ///< of an arc, below zero on the lower half; 0: straight
    flat_point centre{};

    [[nodiscard]] double height(double x) const {
        if (x == from.x) return from.y;
        if (x == to.x) return to.y;
        if (radius == 0.0) return from.y + unfused((to.y - from.y) * ((x - from.x) / (to.x - from.x)));
        const double across = x - centre.x, size = std::abs(radius);
        return centre.y + std::copysign(std::sqrt(std::max(0.0, (size - across) * (size + across))), radius);
    }
    [[nodiscard]] double lowest() const {
        const bool foot = radius < 0.0 && from.x < centre.x && centre.x < to.x;
        return foot ? centre.y + radius : std::min(from.y, to.y);
    }
    [[nodiscard]] double highest() const {
        const bool top = radius > 0.0 && from.x < centre.x && centre.x < to.x;
        return top ? centre.y + radius : std::max(from.y, to.y);
    }
    /// The area between an arc and a chord of it, above zero where the arc lies above: r² (asin s - s √(1 - s²)) with s the
    /// chord over 2 r. Halved until its series is exact, so that it takes no more than roots, which are the same everywhere.
    [[nodiscard]] double bulge(double width, double rise) const {
        if (radius == 0.0) return 0.0;
        const double size = unfused(radius * radius), chord = unfused(width * width) + unfused(rise * rise);
        double square = std::min(1.0, 0.25 * chord / size), sum = 0.0, parts = 1.0; // s²
        for (; square > 1e-3; parts *= 2.0) {
            const double sagitta = square / (1.0 + std::sqrt(1.0 - square));
            sum += unfused(parts * std::sqrt(square) * sagitta);
            square = 0.5 * sagitta;
        }
        const double series =
            2.0 / 3.0 + unfused(square * (0.2 + unfused(square * (3.0 / 28.0 + unfused(square * (5.0 / 72.0))))));
        return std::copysign(unfused(size * (sum + unfused(parts * square * std::sqrt(square) * series))), radius);
    }
};

/// A side that a column meets, with its heights there.
struct met_side {
    const swept_side* side = nullptr;
    double left = 0.0, middle = 0.0, right = 0.0;

    [[nodiscard]] int group() const { return side->group; }
    [[nodiscard]] int direction() const { return side->direction; }
};

/// How often the curves of one group are below a place, and how much more often to the right than to the left.
struct passed_curves {
    int below = 0, winding = 0;

    [[nodiscard]] bool around() const { return below % 2 != 0; }
};

/// Takes sides upwards, of groups beneath `groups`, and calls found(kind, low, high) for each stretch between two of them
/// that is of one kind; the kind of a place is kind_of(groups), and 0 is nothing.
template <class Side, class KindOf, class Found>
void for_each_stretch(std::span<const Side> sides, std::vector<passed_curves>& groups, KindOf&& kind_of,
                      Found&& found) {
    std::fill(groups.begin(), groups.end(), passed_curves{});
    const Side* begun = nullptr;
    int kind = 0;
    for (const Side& side : sides) {
        passed_curves& group = groups[static_cast<std::size_t>(side.group())];
        ++group.below, group.winding += side.direction();
        const int next = &side != &sides.back() ? kind_of(std::as_const(groups)) : 0;
        if (next == kind) continue;
        if (kind != 0) found(kind, *begun, side);
        kind = next, begun = &side;
    }
}

/// What of a column lies between two of its sides. Where they meet they may be the other way about by rounding.
template <class = when_called>
[[nodiscard]] section_column column_between(double left, double right, const met_side& low, const met_side& high) {
    return {left, right, low.left, low.right, std::max(low.left, high.left), std::max(low.right, high.right)};
}
/// Its area, with what arcs have beside their chords.
template <class = when_called>
[[nodiscard]] double area_between(double left, double right, const met_side& low, const met_side& high) {
    const double width = right - left;
    return std::max(0.0, column_between(left, right, low, high).area() +
                             high.side->bulge(width, high.right - high.left) -
                             low.side->bulge(width, low.right - low.left));
}

/// Curves of several kinds, in metres. What is asked of them is asked column by column.
template <class = when_called>
class outline_sweep {
public:
    void add(const flat_ring& ring, int group) {
        for_each_side(ring, [&](flat_point a, flat_point b) { add({.from = a, .to = b, .group = group}); });
    }
    void add(const std::vector<flat_ring>& rings, int group) {
        for (const flat_ring& ring : rings) add(ring, group);
    }
    /// A side in the direction of its curve.
    void add(swept_side side) {
        places_.push_back(side.to.x);
        if (side.from.x == side.to.x) return;
        if (side.from.x > side.to.x) std::swap(side.from, side.to), side.direction = -1;
        sides_.push_back(side);
    }

    /// Calls visit(left, right, sides) for every column, with the sides that it meets, upwards. Sides are straight, or arcs
    /// of one radius. O(n log n + crossings log n), and for each side those that it shares columns with.
    template <class Visit>
    void columns(Visit visit) {
        std::vector<std::pair<double, std::size_t>> order; // lighter than the sides
        for (const swept_side& s : sides_) order.emplace_back(s.from.x, order.size());
        std::sort(order.begin(), order.end());
        std::vector<swept_side> sorted;
        sorted.reserve(order.size());
        for (const auto& [x, i] : order) sorted.push_back(sides_[i]);
        sides_.swap(sorted);
        add_crossings();
        std::sort(places_.begin(), places_.end());
        places_.erase(std::unique(places_.begin(), places_.end()), places_.end());
        std::vector<met_side> met;
        auto next = sides_.cbegin();
        for (std::size_t i = 0; i + 1 < places_.size(); ++i) {
            const double left = places_[i], right = places_[i + 1], middle = 0.5 * (left + right);
            std::erase_if(met, [&](const met_side& m) { return m.side->to.x <= left; });
            for (; next != sides_.cend() && next->from.x <= left; ++next)
                met.push_back({.side = &*next, .right = next->height(left)});
            for (met_side& m : met) {
                m.left = m.right;
                m.right = m.side->height(right);
                m.middle = m.side->radius == 0.0 ? 0.5 * (m.left + m.right) : m.side->height(middle);
            }
            for (std::size_t k = 1; k < met.size(); ++k) // all but sorted already
                for (std::size_t j = k; j > 0 && met[j].middle < met[j - 1].middle; --j) std::swap(met[j], met[j - 1]);
            visit(left, right, std::as_const(met));
        }
    }

    /// Calls found(kind, left, right, low, high) for each stretch of a column that is of one kind: see `for_each_stretch`.
    template <class KindOf, class Found>
    void cells(std::size_t groups, KindOf kind_of, Found found) {
        std::vector<passed_curves> passed(groups);
        columns([&](double left, double right, const std::vector<met_side>& sides) {
            for_each_stretch(
                std::span(sides), passed, kind_of,
                [&](int kind, const met_side& low, const met_side& high) { found(kind, left, right, low, high); });
        });
    }

private:
    void add_crossings() {
        struct span {
            double low, high;
        };
        std::vector<span> spans;
        spans.reserve(sides_.size());
        for (const swept_side& s : sides_) spans.push_back({s.lowest(), s.highest()});
        for (std::size_t i = 0; i < sides_.size(); ++i)
            for (std::size_t k = i + 1; k < sides_.size() && sides_[k].from.x < sides_[i].to.x; ++k)
                if (spans[i].low <= spans[k].high && spans[k].low <= spans[i].high) add_crossing(sides_[i], sides_[k]);
    }
    /// Of b, which begins no further left than a.
    void add_crossing(const swept_side& a, const swept_side& b) {
        const double left = b.from.x, right = std::min(a.to.x, b.to.x);
        if (a.radius == 0.0 && b.radius == 0.0) {
            const double gap_left = a.height(left) - b.height(left), gap_right = a.height(right) - b.height(right);
            if ((gap_left < 0.0 && gap_right > 0.0) || (gap_left > 0.0 && gap_right < 0.0))
                places_.push_back(left + unfused((right - left) * (gap_left / (gap_left - gap_right))));
            return;
        }
        // On a line through `foot` as far on both sides as the circle around `centre` reaches.
        const auto add_both = [&](const swept_side& arc, flat_point foot, flat_point along, double reach) {
            for (const double way : {-reach, reach}) {
                const double x = foot.x + unfused(way * along.x), y = foot.y + unfused(way * along.y);
                if (left < x && x < right && (y - arc.centre.y) * arc.radius >= 0.0) places_.push_back(x);
            }
        };
        if (a.radius != 0.0 && b.radius != 0.0) {
            const double dx = b.centre.x - a.centre.x, dy = b.centre.y - a.centre.y;
            const double square = unfused(dx * dx) + unfused(dy * dy), size = unfused(a.radius * a.radius);
            if (square == 0.0 || !(0.25 * square < size)) return;
            const double apart = std::sqrt(square);
            add_both(a, {0.5 * (a.centre.x + b.centre.x), 0.5 * (a.centre.y + b.centre.y)}, {-dy / apart, dx / apart},
                     std::sqrt(size - 0.25 * square));
            return;
        }
        const swept_side &arc = a.radius != 0.0 ? a : b, &line = a.radius != 0.0 ? b : a;
        const double dx = line.to.x - line.from.x, dy = line.to.y - line.from.y;
        const double along = std::sqrt(unfused(dx * dx) + unfused(dy * dy));
        const flat_point unit{dx / along, dy / along};
        const double px = arc.centre.x - line.from.x, py = arc.centre.y - line.from.y;
        const double forth = unfused(px * unit.x) + unfused(py * unit.y),
                     off = unfused(py * unit.x) - unfused(px * unit.y);
        const double square = (std::abs(arc.radius) - off) * (std::abs(arc.radius) + off);
        if (square > 0.0)
            add_both(arc, {line.from.x + unfused(forth * unit.x), line.from.y + unfused(forth * unit.y)}, unit,
                     std::sqrt(square));
    }

    std::vector<swept_side> sides_;
    std::vector<double> places_;
};

/// A step of a closed curve, which begins at `place`; the next one is from where this one goes to.
template <class Key>
struct curve_step {
    Key from{}, to{};
    flat_point place{};
    bool used = false;
};

/// The curves that steps make up: as many are to each key as from it. Where needless(curve, place) says so, the last corner of a
/// curve is left out before `place` is added; so are curves without area. O(n log n).
template <class Key, class Needless>
[[nodiscard]] std::vector<flat_ring> closed_curves(std::vector<curve_step<Key>> steps, Needless needless) {
    using step = curve_step<Key>;
    std::sort(steps.begin(), steps.end(), [](const step& a, const step& b) { return a.from < b.from; });
    std::vector<flat_ring> rings;
    for (step& first : steps) {
        flat_ring ring;
        for (step* here = &first; here != nullptr && !here->used;) {
            here->used = true;
            while (needless(std::as_const(ring), here->place)) ring.pop_back();
            ring.push_back(here->place);
            const Key to = here->to;
            auto next = std::lower_bound(steps.begin(), steps.end(), to,
                                         [](const step& s, const Key& key) { return s.from < key; });
            while (next != steps.end() && next->from == to && next->used) ++next;
            here = next != steps.end() && next->from == to ? &*next : nullptr;
        }
        while (ring.size() > 1 && ring.back() == ring.front()) ring.pop_back();
        if (ring.size() > 2 && signed_area(ring) != 0.0) rings.push_back(std::move(ring));
    }
    return rings;
}

} // namespace tranche::detail
