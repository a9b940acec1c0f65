// Closed curves that cross each other and themselves, and the cells that they cut the plane into.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/loin/outline/detail/section_columns.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// Curves of `Groups` kinds, in metres, cut at every corner and every crossing into columns, in which no two sides cross.
template <std::size_t Groups>
class ring_cells {
public:
    /// How the curves of each kind run around a cell.
    struct around {
        std::array<int, Groups> winding{}; ///< against the clock
        std::array<int, Groups> below{};   ///< sides straight below
        [[nodiscard]] bool odd(std::size_t group) const { return below[group] % 2 != 0; }
    };

    void add(const flat_ring& ring, std::size_t group) {
        for_each_side(ring, [&](flat_point a, flat_point b) {
            places_.push_back(b.x);
            if (a.x < b.x) sides_.push_back({a, b, group, 1});
            if (a.x > b.x) sides_.push_back({b, a, group, -1});
        });
    }

    /// The cells for which `inside(around, flat_point)` holds, given how curves run around them and a point in their middle;
    /// cells above one another as one. O(n log n + crossings log n), and for each side those that it shares columns with.
    template <class Inside>
    [[nodiscard]] section_part where(Inside inside) {
        std::sort(sides_.begin(), sides_.end(), [](const side& a, const side& b) { return a.from.x < b.from.x; });
        add_crossings();
        std::sort(places_.begin(), places_.end());
        places_.erase(std::unique(places_.begin(), places_.end()), places_.end());
        section_part part;
        std::vector<const side*> met;
        std::vector<std::pair<double, const side*>> upwards;
        std::size_t next = 0;
        for (std::size_t i = 0; i + 1 < places_.size(); ++i) {
            const double left = places_[i], right = places_[i + 1], middle = 0.5 * (left + right);
            std::erase_if(met, [&](const side* s) { return s->to.x <= left; });
            for (; next < sides_.size() && sides_[next].from.x <= left; ++next) met.push_back(&sides_[next]);
            upwards.clear();
            for (const side* s : met) upwards.emplace_back(s->height(middle), s);
            std::sort(upwards.begin(), upwards.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
            around here;
            const side* begun = nullptr;
            for (std::size_t k = 0; k < upwards.size(); ++k) {
                const side& s = *upwards[k].second;
                here.winding[s.group] += s.direction;
                ++here.below[s.group];
                const bool last = k + 1 == upwards.size();
                const bool in = !last && inside(here, {middle, 0.5 * (upwards[k].first + upwards[k + 1].first)});
                if (in && begun == nullptr) begun = &s;
                if (in || begun == nullptr) continue;
                section_column column{left,           right,          begun->height(left), begun->height(right),
                                      s.height(left), s.height(right)};
                // Where sides meet, they may be the other way about by rounding.
                column.high_left = std::max(column.high_left, column.low_left);
                column.high_right = std::max(column.high_right, column.low_right);
                if (column.area() > 0.0) part.push_back(column);
                begun = nullptr;
            }
        }
        return part;
    }

private:
    struct side {
        flat_point from, to; // from left to right
        std::size_t group;
        int direction; // 1: the curve runs to the right
        [[nodiscard]] double height(double x) const {
            return x == to.x ? to.y : from.y + unfused((to.y - from.y) * ((x - from.x) / (to.x - from.x)));
        }
    };

    void add_crossings() {
        for (std::size_t i = 0; i < sides_.size(); ++i)
            for (std::size_t k = i + 1; k < sides_.size() && sides_[k].from.x < sides_[i].to.x; ++k) {
                const side &a = sides_[i], &b = sides_[k];
                if (std::max(a.from.y, a.to.y) < std::min(b.from.y, b.to.y) ||
                    std::max(b.from.y, b.to.y) < std::min(a.from.y, a.to.y))
                    continue;
                const double left = b.from.x, right = std::min(a.to.x, b.to.x);
                const double gap_left = a.height(left) - b.height(left), gap_right = a.height(right) - b.height(right);
                if ((gap_left < 0.0 && gap_right > 0.0) || (gap_left > 0.0 && gap_right < 0.0))
                    places_.push_back(left + unfused((right - left) * (gap_left / (gap_left - gap_right))));
            }
    }

    std::vector<side> sides_;
    std::vector<double> places_;
};

} // namespace tranche::detail
