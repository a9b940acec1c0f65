// A section cut into columns, and how much of them lies how deep below its top.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <span>
#include <utility>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/loin/outline/detail/sweep.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// A section, cut by the sweep: what an odd number of its curves is around is meat. Above it runs the roof, the highest that the
/// curves of `roof` reach at a place, and below that its floor, the lowest. O(n log n), and for each side those that it
/// shares columns with.
template <class = when_called>
class section_columns {
public:
    section_columns(std::vector<flat_ring> rings, std::vector<flat_ring> roof)
        : rings_(std::move(rings)), roof_(std::move(roof)) {}

    /// All meat between two uprights.
    [[nodiscard]] section_part all(double from, double to) const { return cut(nullptr, 0.0, from, to); }

    /// What of it lies deeper below the roof than `depth`: what would still lie between floor and roof if it were raised by
    /// that much.
    [[nodiscard]] section_part below_roof(double depth, double from, double to) const {
        return cut(&roof_, depth, from, to);
    }

private:
    enum group { meat, cover, groups };

    [[nodiscard]] section_part cut(const std::vector<flat_ring>* roof, double depth, double from, double to) const {
        outline_sweep<> curves;
        curves.add(rings_, meat);
        if (roof != nullptr)
            for (flat_ring ring : *roof) {
                for (flat_point& p : ring) p.y -= depth;
                curves.add(ring, cover);
            }
        section_part part;
        std::vector<passed_curves> passed(groups);
        curves.columns([&](double left, double right, const std::vector<met_side>& sides) {
            if (!(left < to && right > from)) return;
            auto end = sides.end();
            while (roof != nullptr && end != sides.begin() && (end - 1)->group() != cover) --end;
            for_each_stretch(
                std::span(sides.begin(), end), passed,
                [&](const auto& p) { return p[meat].around() && (roof == nullptr || p[cover].below > 0); },
                [&](int, const met_side& low, const met_side& high) {
                    const section_column column = between(column_between(left, right, low, high), from, to);
                    if (column.area() > 0.0) part.push_back(column);
                });
        });
        return part;
    }

    std::vector<flat_ring> rings_, roof_;
};

/// What of a part lies between two uprights.
template <class = when_called>
[[nodiscard]] section_part between(const section_part& part, double from, double to) {
    section_part clipped;
    for (const section_column& column : part)
        if (column.left < to && column.right > from) clipped.push_back(between(column, from, to));
    return clipped;
}

/// How a part of a face is spread from an upright on towards another: which share of it lies no further than each step.
template <class = when_called>
[[nodiscard]] layer_spread spread_across(const section_part& part, double from, double to) {
    constexpr double infinite = std::numeric_limits<double>::infinity();
    const double all = area_of(part);
    if (!(all > 0.0)) return even_spread;
    layer_spread spread{};
    double before = 0.0;
    for (std::size_t k = 0; k + 1 < spread.size(); ++k) {
        const double upright = from + unfused(even_spread[k] * (to - from));
        const double within = area_of(from < to ? between(part, -infinite, upright) : between(part, upright, infinite));
        spread[k] = before = std::clamp(within / all, before, 1.0);
    }
    spread.back() = 1.0;
    return spread;
}

/// Around columns that do not overlap, closed curves: against the clock around meat and with it around hollows. Edges that
/// two columns share are left out, and corners on a straight line. Columns that touch do so in the same numbers. O(n log n).
template <class = when_called>
[[nodiscard]] std::vector<flat_ring> rings_around(const section_part& part) {
    std::vector<curve_step<flat_point>> edges;
    const auto add = [&](flat_point from, flat_point to) {
        if (!(from == to)) edges.push_back({from, to, from});
    };
    struct upright { // where a column begins or ends
        double x, low, high;
        bool begins;
    };
    std::vector<upright> uprights;
    for (const section_column& c : part) {
        add({c.left, c.low_left}, {c.right, c.low_right});
        add({c.right, c.high_right}, {c.left, c.high_left});
        uprights.push_back({c.left, c.low_left, c.high_left, true});
        uprights.push_back({c.right, c.low_right, c.high_right, false});
    }
    std::sort(uprights.begin(), uprights.end(), [](const upright& a, const upright& b) { return a.x < b.x; });
    std::vector<std::pair<double, int>> ends; // upwards: columns that begin count 1, those that end -1
    for (auto from = uprights.begin(); from != uprights.end();) {
        const auto to = std::find_if(from, uprights.end(), [&](const upright& u) { return u.x > from->x; });
        ends.clear();
        for (auto u = from; u != to; ++u) {
            ends.emplace_back(u->low, u->begins ? 1 : -1);
            ends.emplace_back(u->high, u->begins ? -1 : 1);
        }
        std::sort(ends.begin(), ends.end());
        int balance = 0; // above zero, meat begins here; below, it ends
        for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
            balance += ends[i].second;
            const flat_point low{from->x, ends[i].first}, high{from->x, ends[i + 1].first};
            for (int k = 0; k < balance; ++k) add(high, low);
            for (int k = 0; k < -balance; ++k) add(low, high);
        }
        from = to;
    }
    const auto straight = [](flat_point a, flat_point b, flat_point c) { // to a millionth of a micrometre
        return std::abs(turn(a, b, c)) <= 1e-12 * std::hypot(c.x - a.x, c.y - a.y) &&
               unfused((b.x - a.x) * (c.x - b.x)) + unfused((b.y - a.y) * (c.y - b.y)) >= 0.0;
    };
    return closed_curves(std::move(edges), [&](const flat_ring& ring, flat_point next) {
        return ring.size() > 1 && straight(ring[ring.size() - 2], ring.back(), next);
    });
}

/// The columns as outlines with their holes, largest first.
template <class = when_called>
[[nodiscard]] std::vector<outline> outlines_of(const section_part& part) {
    return outlines_of(rings_around(part));
}

} // namespace tranche::detail
