// A region cut into upright strips, each with the sides that run through it: what lies along an upright or near a point is
// found without looking at all sides.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

template <class = when_called>
class upright_strips {
public:
    /// About a strip for every second side. O(sides), and as many again as sides cross from strip to strip.
    explicit upright_strips(const flat_region& region) {
        std::size_t sides = 0;
        for (const flat_ring& ring : region.rings()) sides += ring.size();
        if (sides == 0) return;
        const auto [left, right] = region.extent(&flat_point::x);
        left_ = left;
        right_ = right;
        const std::size_t count = std::clamp<std::size_t>(sides / 2, 1, 512);
        per_metre_ = right > left ? static_cast<double>(count) / (right - left) : 0.0;
        begins_.assign(count + 1, 0);
        const auto for_each_strip = [&](auto use) {
            for (const flat_ring& ring : region.rings())
                for_each_side(ring, [&](flat_point a, flat_point b) {
                    const auto [low, high] = std::minmax(a.x, b.x);
                    for (std::size_t k = strip_at(low); k <= strip_at(high); ++k) use(k, a, b);
                });
        };
        for_each_strip([&](std::size_t k, flat_point, flat_point) { ++begins_[k + 1]; });
        for (std::size_t k = 0; k < count; ++k) begins_[k + 1] += begins_[k];
        sides_.resize(begins_.back());
        std::vector<std::size_t> next = begins_;
        for_each_strip([&](std::size_t k, flat_point a, flat_point b) { sides_[next[k]++] = {a, b}; });
    }

    /// As `flat_region::chords`, put in the place of what `inside` has.
    void chords(double x, chord_list& inside) const {
        inside.clear();
        if (!(x >= left_ && x <= right_)) return;
        ys_.clear();
        const std::size_t k = strip_at(x);
        for (std::size_t i = begins_[k]; i < begins_[k + 1]; ++i) {
            const auto& [a, b] = sides_[i];
            if ((a.x <= x) != (b.x <= x)) ys_.push_back(a.y + unfused((b.y - a.y) * ((x - a.x) / (b.x - a.x))));
        }
        std::sort(ys_.begin(), ys_.end());
        for (std::size_t i = 0; i + 1 < ys_.size(); i += 2) inside.emplace_back(ys_[i], ys_[i + 1]);
    }
    /// As `flat_region::contains`.
    [[nodiscard]] bool contains(flat_point p) const {
        if (!(p.x >= left_ && p.x <= right_)) return false;
        bool inside = false;
        const std::size_t k = strip_at(p.x);
        for (std::size_t i = begins_[k]; i < begins_[k + 1]; ++i) {
            const auto& [a, b] = sides_[i];
            if ((a.x <= p.x) == (b.x <= p.x)) continue;
            const double y = a.y + unfused((b.y - a.y) * ((p.x - a.x) / (b.x - a.x)));
            if (y == p.y) return true;
            if (y < p.y) inside = !inside;
        }
        return inside;
    }
    /// Whether a side is nearer to p than so far.
    [[nodiscard]] bool has_side_within(flat_point p, double distance) const {
        if (sides_.empty() || p.x + distance < left_ || p.x - distance > right_) return false;
        const double square = distance * distance;
        for (std::size_t i = begins_[strip_at(p.x - distance)]; i < begins_[strip_at(p.x + distance) + 1]; ++i) {
            const auto& [a, b] = sides_[i];
            const double dx = b.x - a.x, dy = b.y - a.y;
            const double t = std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
            const double x = p.x - a.x - t * dx, y = p.y - a.y - t * dy;
            if (x * x + y * y < square) return true;
        }
        return false;
    }

private:
    [[nodiscard]] std::size_t strip_at(double x) const {
        const double place = (x - left_) * per_metre_;
        return place > 0.0 ? std::min(static_cast<std::size_t>(place), begins_.size() - 2) : 0;
    }

    double left_ = 1.0, right_ = 0.0, per_metre_ = 0.0;
    std::vector<std::size_t> begins_; // of the strips in sides_, and the end of the last
    std::vector<std::pair<flat_point, flat_point>> sides_;
    mutable std::vector<double> ys_; // room for crossings
};

} // namespace tranche::detail
