// A section cut into columns, and how much of them lies how deep below its top.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/loin/face.hpp>
#include <tranche/loin/outline/detail/sweep.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The curves of a section cut into columns with straight edges; what an odd number of curves is around is meat. Above each
/// column runs the roof, the highest that the curves of `roof` reach there, and below that its floor, the lowest. O(n log n),
/// and for each side those that it shares columns with.
template <class = when_called>
class section_columns {
public:
    section_columns(const std::vector<flat_ring>& rings, const std::vector<flat_ring>& roof) {
        const bool own_roof = &rings == &roof;
        outline_sweep<> curves;
        for (const flat_ring& ring : rings) curves.add(ring, own_roof ? both : meat);
        if (!own_roof)
            for (const flat_ring& ring : roof) curves.add(ring, cover);
        curves.columns([&](double left, double right, const std::vector<met_side>& sides) {
            const met_side *lowest = nullptr, *highest = nullptr, *begun = nullptr;
            for (const auto& side : sides) {
                if (side.side->group == meat) continue;
                if (lowest == nullptr) lowest = &side;
                highest = &side;
            }
            for (const auto& side : sides) {
                if (side.side->group == cover) continue;
                if (begun == nullptr) {
                    begun = &side;
                    continue;
                }
                column c{.meat = column_between(left, right, *begun, side), .roofed = highest != nullptr};
                if (c.roofed) c.roof = column_between(left, right, *lowest, *highest);
                columns_.push_back(c);
                begun = nullptr;
            }
        });
    }

    /// All meat between two uprights.
    [[nodiscard]] section_part all(double from, double to) const {
        section_part part;
        for (const column& c : columns_)
            if (c.meat.right > from && c.meat.left < to) add_right_side_out(between(c.meat, from, to), part);
        return part;
    }

    /// What of it lies deeper below the roof than `depth`: what would still lie between floor and roof if it were raised by
    /// that much.
    [[nodiscard]] section_part below_roof(double depth, double from, double to) const {
        section_part part;
        for (const column& c : columns_)
            if (c.roofed && c.meat.right > from && c.meat.left < to) {
                section_column lowered = c.roof;
                lowered.low_left -= depth, lowered.low_right -= depth;
                lowered.high_left -= depth, lowered.high_right -= depth;
                add_common(between(c.meat, from, to), between(lowered, from, to), part);
            }
        return part;
    }

private:
    enum group { meat, cover, both };
    struct column {
        section_column meat{};
        bool roofed = false;
        section_column roof{}; ///< from the floor up to it
    };

    /// What two columns of the same width have in common, cut where an edge of one crosses one of the other's.
    static void add_common(const section_column& meat, const section_column& other, section_part& part) {
        std::array<double, 6> cuts{0.0};
        std::size_t count = 1;
        const auto cross_at = [&](double gap_left, double gap_right) {
            if ((gap_left < 0.0) == (gap_right < 0.0)) return;
            std::size_t at = count++; // kept in order
            for (cuts[at] = gap_left / (gap_left - gap_right); at > 0 && cuts[at] < cuts[at - 1]; --at)
                std::swap(cuts[at], cuts[at - 1]);
        };
        cross_at(other.high_left - meat.low_left, other.high_right - meat.low_right);
        cross_at(other.high_left - meat.high_left, other.high_right - meat.high_right);
        cross_at(other.low_left - meat.low_left, other.low_right - meat.low_right);
        cross_at(other.low_left - meat.high_left, other.low_right - meat.high_right);
        const double width = meat.right - meat.left;
        for (std::size_t k = 0; k < count; ++k) {
            const double from = meat.left + unfused(cuts[k] * width);
            const double to = k + 1 == count ? meat.right : meat.left + unfused(cuts[k + 1] * width);
            if (!(from < to)) continue;
            section_column piece = between(meat, from, to);
            const section_column bounds = between(other, from, to);
            piece.low_left = std::max(piece.low_left, bounds.low_left);
            piece.low_right = std::max(piece.low_right, bounds.low_right);
            piece.high_left = std::min(piece.high_left, bounds.high_left);
            piece.high_right = std::min(piece.high_right, bounds.high_right);
            add_right_side_out(piece, part); // inside a piece no edges cross
        }
    }

    /// A column with nothing in it is inside out. At a crossing two edges may be the other way about by rounding.
    static void add_right_side_out(section_column column, section_part& part) {
        if (!(column.area() > 0.0)) return;
        column.high_left = std::max(column.high_left, column.low_left);
        column.high_right = std::max(column.high_right, column.low_right);
        part.push_back(column);
    }

    std::vector<column> columns_;
};

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
        double within = 0.0;
        for (const section_column& c : part)
            if (from < to ? c.left < upright : c.right > upright)
                within += (from < to ? between(c, -infinite, upright) : between(c, upright, infinite)).area();
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
