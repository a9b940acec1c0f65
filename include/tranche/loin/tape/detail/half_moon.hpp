// The second muscle on a face from tape readings: a round spot under the cap that grows into a half-moon.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/tape/detail/false_position.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// What of a muscle in columns lies within an ellipse that hangs from its upper edge at a place towards the flank. Small, it
/// is a round spot under the cap; as it grows its middle climbs back to the cap, and it is a half-moon, cut off by the
/// cap, with a curved seam below; in the end it is everything. Each ellipse holds those smaller than it, so its area grows.
class half_moon {
public:
    /// Columns in metres, rising across; `top` is nowhere below `bottom`. They have to live as long as the half-moon.
    half_moon(const std::vector<double>& across, const std::vector<double>& bottom, const std::vector<double>& top)
        : across_(across), bottom_(bottom), top_(top) {
        anchor_ = across.front() + place * (across.back() - across.front());
        const column under = at(anchor_);
        up_ = under.top;
        high_ = under.top - under.bottom;
        for (std::size_t i = 1; i < across.size(); ++i)
            all_ += unfused(0.5 * (across[i] - across[i - 1]) * (top[i] - bottom[i] + top[i - 1] - bottom[i - 1]));
    }

    /// The outline of `share` of the muscle's area, above 0 to 1.
    [[nodiscard]] outline holding(double share) const {
        if (share >= 1.0) return outline_of(columns_within(std::numeric_limits<double>::infinity()));
        const double wanted = share * all_;
        const auto off = [&](double radius) { return area_within(radius) - wanted; };
        // As large as its area is alone, or larger where the cap cuts it.
        zero_bracket b{.below = -wanted, .high = std::sqrt(wanted / (std::numbers::pi * broad))};
        b.above = off(b.high);
        while (b.above < 0.0) {
            b.low = b.high, b.below = b.above;
            b.high *= 1.5;
            b.above = off(b.high);
        }
        return outline_of(columns_within(false_position(b, 1e-14 * wanted, off)));
    }

private:
    // Where it hangs, how much broader than high it is, how deep a spot hangs, and how large it is, in heights of the
    // muscle, when it has climbed back: common practice, no source.
    static constexpr double place = 0.66, broad = 1.2, broader = 0.7, hang = 0.9, climbed = 1.3;

    struct column {
        double across, bottom, top;
    };

    [[nodiscard]] column at(double x) const {
        const auto next = std::upper_bound(across_.begin(), across_.end(), x);
        const auto i = static_cast<std::size_t>(
            std::clamp<std::ptrdiff_t>(next - across_.begin(), 1, static_cast<std::ptrdiff_t>(across_.size()) - 1));
        const double t = (x - across_[i - 1]) / (across_[i] - across_[i - 1]);
        return {x, bottom_[i - 1] + unfused(t * (bottom_[i] - bottom_[i - 1])),
                top_[i - 1] + unfused(t * (top_[i] - top_[i - 1]))};
    }

    [[nodiscard]] std::vector<column> columns_within(double radius) const {
        std::vector<column> columns;
        if (radius == std::numeric_limits<double>::infinity()) {
            for (std::size_t i = 0; i < across_.size(); ++i) columns.push_back({across_[i], bottom_[i], top_[i]});
            return columns;
        }
        const double middle = up_ - hang * radius * std::max(0.0, 1.0 - radius / (climbed * high_)),
                     wide = radius * (broad + broader * std::min(1.0, radius / high_));
        const double from = std::max(across_.front(), anchor_ - wide), to = std::min(across_.back(), anchor_ + wide);
        const auto add = [&](column c, double reach) {
            const double top = std::min(c.top, middle + reach);
            const double bottom = std::max(c.bottom, std::min(middle - reach, top));
            columns.push_back({c.across, bottom, std::max(bottom, top)});
        };
        const auto reach_at = [&](double x) {
            const double off = (x - anchor_) / wide;
            return radius * std::sqrt(std::max(0.0, 1.0 - unfused(off * off)));
        };
        const auto add_corner = [&](std::size_t i) { add({across_[i], bottom_[i], top_[i]}, reach_at(across_[i])); };
        // The corners of the muscle that it covers, and its own; at its own ends the root above would be noise.
        constexpr int own = 24;
        auto next = static_cast<std::size_t>(std::upper_bound(across_.begin(), across_.end(), from) - across_.begin());
        add(at(from), from > across_.front() ? 0.0 : reach_at(from));
        for (int k = 1; k < own; ++k) {
            const double turn = std::numbers::pi * k / own, x = anchor_ - unfused(wide * std::cos(turn));
            if (!(x > from && x < to)) continue;
            for (; across_[next] < x; ++next) add_corner(next);
            if (across_[next] > x) add(at(x), radius * std::sin(turn));
        }
        for (; next < across_.size() && across_[next] < to; ++next) add_corner(next);
        add(at(to), to < across_.back() ? 0.0 : reach_at(to));
        // Where it hangs in the air beside the muscle there is nothing of it. The muscle's edge falls away from its middle and the
        // ellipse's lower edge rises, so that is at the ends.
        const auto high = [](const column& c) { return c.top > c.bottom; };
        const auto first = std::find_if(columns.begin(), columns.end(), high);
        if (first - columns.begin() > 1) columns.erase(columns.begin(), first - 1);
        while (columns.size() > 2 && !high(columns[columns.size() - 2])) columns.pop_back();
        return columns;
    }

    [[nodiscard]] double area_within(double radius) const {
        double sum = 0.0;
        const std::vector<column> c = columns_within(radius);
        for (std::size_t i = 1; i < c.size(); ++i)
            sum += unfused(0.5 * (c[i].across - c[i - 1].across) *
                           (c[i].top - c[i].bottom + c[i - 1].top - c[i - 1].bottom));
        return sum;
    }

    [[nodiscard]] static outline outline_of(const std::vector<column>& columns) {
        outline curve;
        for (const column& c : columns) curve.points.push_back(to_outline_point({c.across, c.bottom}));
        for (auto c = columns.rbegin(); c != columns.rend(); ++c)
            if (c->top > c->bottom) curve.points.push_back(to_outline_point({c->across, c->top}));
        return curve;
    }

    const std::vector<double>&across_, &bottom_, &top_;
    double anchor_ = 0.0, up_ = 0.0, high_ = 0.0, all_ = 0.0;
};

} // namespace tranche::detail
