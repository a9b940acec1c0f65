// Outlines between two outlines: point by point, or shrinking away.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// `count` points along a closed curve, evenly spaced, against the clock. The first lies where the ellipse that a point runs
/// along whose place is the first harmonic of the curve's, over its length, reaches furthest to the right: whichever corner
/// the curve was traced from, and from whichever side of the paper if `count` is even, the points are the same.
template <class = when_called>
[[nodiscard]] flat_ring evenly_spaced(flat_ring ring, std::size_t count) {
    if (signed_area(ring) < 0.0) std::reverse(ring.begin(), ring.end());
    ring.push_back(ring.front());
    const std::size_t sides = ring.size() - 1;
    std::vector<double> passed{0.0}; // up to each corner
    for (std::size_t i = 0; i < sides; ++i) {
        const double dx = ring[i + 1].x - ring[i].x, dy = ring[i + 1].y - ring[i].y;
        passed.push_back(passed.back() + std::sqrt(unfused(dx * dx) + unfused(dy * dy)));
    }
    const double around = passed.back();
    // c = ∮ z(s) exp(-2πi s) ds with z = x + iy and s the part of the way; by parts, 4π² c = Σ z' (exp(-2πi s₁) - exp(-2πi s₀)).
    double re = 0.0, im = 0.0;
    flat_point before{1.0, 0.0};
    for (std::size_t i = 0; i < sides; ++i) {
        const double turn = 2.0 * std::numbers::pi * (passed[i + 1] / around);
        const flat_point now{std::cos(turn), -std::sin(turn)};
        const double length_of_side = passed[i + 1] - passed[i];
        const double u = (ring[i + 1].x - ring[i].x) / length_of_side, v = (ring[i + 1].y - ring[i].y) / length_of_side;
        re += unfused(u * (now.x - before.x)) - unfused(v * (now.y - before.y));
        im += unfused(u * (now.y - before.y)) + unfused(v * (now.x - before.x));
        before = now;
    }
    const double first = -std::atan2(im, re) / (2.0 * std::numbers::pi); // c exp(2πi s) is real there, and above zero
    flat_ring points;
    for (std::size_t k = 0; k < count; ++k) {
        const double part = first + static_cast<double>(k) / static_cast<double>(count);
        const double wanted = around * (part - std::floor(part));
        const auto next = std::upper_bound(passed.begin() + 1, passed.end() - 1, wanted);
        const auto i = static_cast<std::size_t>(next - passed.begin()) - 1;
        const double t = (wanted - passed[i]) / (passed[i + 1] - passed[i]);
        points.push_back({ring[i].x + unfused(t * (ring[i + 1].x - ring[i].x)),
                          ring[i].y + unfused(t * (ring[i + 1].y - ring[i].y))});
    }
    return points;
}

/// The mean of its corners.
template <class = when_called>
[[nodiscard]] flat_point middle_of(const flat_ring& ring) {
    flat_point middle;
    for (const flat_point p : ring) middle.x += p.x, middle.y += p.y;
    return {middle.x / static_cast<double>(ring.size()), middle.y / static_cast<double>(ring.size())};
}

template <class = when_called>
void scale(flat_ring& ring, flat_point about, double factor) {
    for (flat_point& p : ring)
        p = {about.x + unfused(factor * (p.x - about.x)), about.y + unfused(factor * (p.y - about.y))};
}

/// The outline with its holes, larger or smaller about the mean of its corners.
template <class = when_called>
[[nodiscard]] outline scaled(const outline& curve, double factor) {
    flat_ring points = flattened(curve.points);
    const flat_point middle = middle_of(points);
    scale(points, middle, factor);
    outline result{.points = to_outline_points(points)};
    for (const auto& hole : curve.holes) {
        flat_ring ring = flattened(hole);
        scale(ring, middle, factor);
        result.holes.push_back(to_outline_points(ring));
    }
    return result;
}

/// Two closed curves, and those between them: point by point, from the pairs whose squared distances have the least sum of all
/// ways around (the first of those that have), and of the area that runs in a straight line from the one to the other.
template <class = when_called>
class blended_ring {
public:
    blended_ring(const flat_ring& a, const flat_ring& b)
        : from_(evenly_spaced(a, count)), to_(evenly_spaced(b, count)), area_from_(std::abs(signed_area(a))),
          area_to_(std::abs(signed_area(b))) {
        // Σ |a - b|² is least where Σ a b is greatest.
        const flat_point p = middle_of(from_), q = middle_of(to_);
        std::size_t best = 0;
        double greatest = -std::numeric_limits<double>::infinity();
        for (std::size_t shift = 0; shift < count; ++shift) {
            double sum = 0.0;
            for (std::size_t i = 0; i < count; ++i) {
                const flat_point one = from_[i], other = to_[(i + shift) % count];
                sum += unfused((one.x - p.x) * (other.x - q.x)) + unfused((one.y - p.y) * (other.y - q.y));
            }
            // What differs in its last digits only is the same.
            if (sum > greatest + 1e-12 * std::abs(greatest) || shift == 0) greatest = sum, best = shift;
        }
        std::rotate(to_.begin(), to_.begin() + static_cast<std::ptrdiff_t>(best), to_.end());
    }

    [[nodiscard]] flat_ring at(double t) const {
        flat_ring mixed(count);
        for (std::size_t i = 0; i < count; ++i)
            mixed[i] = {unfused((1.0 - t) * from_[i].x) + unfused(t * to_[i].x),
                        unfused((1.0 - t) * from_[i].y) + unfused(t * to_[i].y)};
        const double size = signed_area(mixed), wanted = unfused((1.0 - t) * area_from_) + unfused(t * area_to_);
        if (size > 0.0) scale(mixed, middle_of(mixed), std::sqrt(wanted / size));
        return mixed;
    }

private:
    static constexpr std::size_t count = 128;

    flat_ring from_, to_;
    double area_from_, area_to_;
};

/// Two outlines and those between them; either may be missing, and then the other shrinks towards the mean of its corners.
/// Of the holes pairs are made of what lies nearest to each other, nearest first; one that is left over shrinks as well. All
/// areas run in straight lines. To make it is O(points + holes³).
template <class = when_called>
class blended_outline {
public:
    blended_outline(std::optional<outline> a, std::optional<outline> b) : from_(std::move(a)), to_(std::move(b)) {
        if (!from_ || !to_) return;
        const flat_region one(*from_), other(*to_);
        outer_.emplace(one.rings().front(), other.rings().front());
        closing_.assign(one.rings().begin() + 1, one.rings().end());
        opening_.assign(other.rings().begin() + 1, other.rings().end());
        while (!closing_.empty() && !opening_.empty()) {
            double least = std::numeric_limits<double>::infinity();
            auto with = closing_.begin(), from = opening_.begin();
            for (auto i = closing_.begin(); i != closing_.end(); ++i)
                for (auto k = opening_.begin(); k != opening_.end(); ++k) {
                    const flat_point p = middle_of(*i), q = middle_of(*k);
                    const double dx = p.x - q.x, dy = p.y - q.y, square = unfused(dx * dx) + unfused(dy * dy);
                    if (square < least) least = square, with = i, from = k;
                }
            holes_.emplace_back(*with, *from);
            closing_.erase(with);
            opening_.erase(from);
        }
    }

    /// The outline at a part `t` of the way, with its holes; at 0 and 1 it is the one and the other. One that is not there
    /// has no points.
    [[nodiscard]] outline at(double t) const {
        if (t == 0.0) return from_.value_or(outline{});
        if (t == 1.0) return to_.value_or(outline{});
        if (!outer_) return from_ ? scaled(*from_, std::sqrt(1.0 - t)) : to_ ? scaled(*to_, std::sqrt(t)) : outline{};
        outline result{.points = to_outline_points(outer_->at(t))};
        for (const blended_ring<>& hole : holes_) result.holes.push_back(to_outline_points(hole.at(t)));
        const auto add_shrunk = [&](const std::vector<flat_ring>& holes, double factor) {
            for (flat_ring hole : holes) {
                scale(hole, middle_of(hole), factor);
                result.holes.push_back(to_outline_points(hole));
            }
        };
        add_shrunk(closing_, std::sqrt(1.0 - t));
        add_shrunk(opening_, std::sqrt(t));
        return result;
    }

private:
    std::optional<outline> from_, to_;
    std::optional<blended_ring<>> outer_;
    std::vector<blended_ring<>> holes_;
    std::vector<flat_ring> closing_, opening_; ///< holes of only one of them
};

} // namespace tranche::detail
