// The tail of a face from tape readings: a taper along the flank end, from the fat down to a tip on the board.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/tape/detail/comma_face.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// How slender a tail is drawn at most, as an exponent (common practice, no source).
inline constexpr double slenderest_taper = 2.5;

/// The flank end of a face, from the board up, as far as a tail lies on it.
template <class = when_called>
[[nodiscard]] flat_ring flank_edge(const comma_columns& face, double up_to) {
    flat_ring side;
    const std::size_t last = face.across.size() - 1;
    for (std::size_t i = face.middle; i <= last; ++i) {
        if (!(face.bottom[i] > 0.0)) side.clear(); // the board line is the face's own
        side.push_back({face.across[i], face.bottom[i]});
    }
    // Upwards in steps in which a taper can bend, however steep the end is.
    const double step = (up_to - side.back().y) / 8.0;
    const auto rise_to = [&](flat_point next) {
        const flat_point from = side.back();
        const double steps = std::ceil((next.y - from.y) / step);
        for (double k = 1.0; k < steps && side.back().y < up_to; ++k)
            side.push_back(
                {from.x + unfused(k / steps * (next.x - from.x)), from.y + unfused(k / steps * (next.y - from.y))});
        if (next.y > side.back().y && side.back().y < up_to) side.push_back(next);
    };
    for (std::size_t i = last + 1; i-- > face.middle && side.back().y < up_to;) rise_to({face.across[i], face.top[i]});
    return side;
}

/// A band along the flank end which is `reach` across up to the height of the tip, and from there on
///     reach × (1 - s)^p,   s from 0 at the tip to 1 where it runs out,
/// with p such that the band has the area `thickness` × `reach`: as any shift along lines across, whatever the shape of the
/// end. So the outer edge leaves the arc of the face smoothly (p > 1) and comes down to the tip of the tail. A tail of
/// more than about half of the depth is blunt (p < 1). The polygon is brought to the area exactly as the face is.
template <class = when_called>
[[nodiscard]] outline taper(const comma_columns& face, double depth, double reach, double thickness) {
    const double above = thickness - face.tip;
    const flat_ring side = flank_edge(face, std::min(depth, face.tip + (1.0 + slenderest_taper) * above));
    const double end = side.back().y, power = (end - face.tip) / above - 1.0;
    std::vector<double> shares;
    for (const flat_point& p : side) {
        const double s = std::max(0.0, (p.y - face.tip) / (end - face.tip));
        shares.push_back(s < 1.0 ? std::pow(1.0 - s, power) : power > 1.0 ? 0.0 : std::pow(1e-3, power));
    }
    const auto area_under = [&](auto share) {
        double sum = 0.0;
        for (std::size_t i = 1; i < side.size(); ++i)
            sum += unfused(0.5 * (side[i].y - side[i - 1].y) * (share(shares[i - 1]) + share(shares[i])));
        return sum;
    };
    const double missing = thickness - area_under([](double g) { return g; });
    const double most = area_under([](double g) { return g * (1.0 - g); });
    const double more = most > 0.0 ? missing / most : 0.0;
    outline band{.points = to_outline_points(side)};
    for (std::size_t i = side.size(); i-- > 0;) {
        const double across = reach * (shares[i] + unfused(more * (shares[i] * (1.0 - shares[i]))));
        if (across > 0.0) band.points.push_back(to_outline_point({side[i].x + across, side[i].y}));
    }
    return band;
}

} // namespace tranche::detail
