// The outline of a loin for drawing: as measured where the profile knows it, otherwise guessed from the weight.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include <tranche/loin/profile.hpp>

namespace tranche {

/// Width, depth, layers and second muscle along a profile, in millimetres. Where any width or depth between the ends is zero
/// (at an end the loin may run out to a point), the model did not know the outline: then each face is drawn as if it were 2.5
/// times as wide as deep, filled to 0.80, of density 1050 kg/m³ (an assumption, good for a picture only), and `measured` is
/// false.
struct loin_outline {
    struct point {
        double at = 0.0, width = 0.0, depth = 0.0;
        double fat = 0.0, tail = 0.0;      ///< within depth and width
        double gluteus_medius_share = 0.0; ///< of the lean
    };
    bool measured = true;
    double widest = 0.0, deepest = 0.0;
    std::vector<point> points{}; ///< from the rib face to the sirloin face

    /// The outline at `at` mm from the rib face, interpolated.
    [[nodiscard]] point there(double at) const {
        const auto behind =
            std::lower_bound(points.begin(), points.end(), at, [](const point& p, double x) { return p.at < x; });
        if (behind == points.begin()) return points.front();
        if (behind == points.end()) return points.back();
        const point &a = *(behind - 1), &b = *behind;
        const double t = (at - a.at) / (b.at - a.at);
        const auto mix = [&](double from, double to) { return from + t * (to - from); };
        return {at,
                mix(a.width, b.width),
                mix(a.depth, b.depth),
                mix(a.fat, b.fat),
                mix(a.tail, b.tail),
                mix(a.gluteus_medius_share, b.gluteus_medius_share)};
    }
};

/// The outline at about `count` places of a profile, both ends included. O(cells + count).
[[nodiscard]] inline loin_outline outline_of(const profile& meat, std::size_t count = 160) {
    loin_outline outline;
    const auto known = [&](std::size_t i) { return meat.width(i) > length{} && meat.depth(i) > length{}; };
    for (std::size_t i = 1; i < meat.cells(); ++i) outline.measured = outline.measured && known(i);
    if (meat.cells() == 1) outline.measured = known(0) && known(1);
    const std::size_t stride = std::max<std::size_t>(1, meat.cells() / count);
    for (std::size_t i = 0;; i = std::min(i + stride, meat.cells())) {
        const std::size_t cell = std::min(i, meat.cells() - 1);
        loin_outline::point p{.at = meat.position(i) / millimetre,
                              .width = meat.width(i) / millimetre,
                              .depth = meat.depth(i) / millimetre,
                              .gluteus_medius_share = meat.gluteus_medius_share(i)};
        if (!outline.measured) {
            const std::size_t from = i - std::min(i, stride), to = std::min(i + stride, meat.cells());
            const double kilograms = to_mass(meat.between(from, to)).value();
            const double square_metres = kilograms / (meat.position(to) - meat.position(from)).value() / 1050.0;
            p.depth = 1000.0 * std::sqrt(square_metres / (0.80 * 2.5));
            p.width = 2.5 * p.depth;
        }
        p.fat = std::clamp<double>(meat.fat_cover(cell).thickness / millimetre, 0.0, p.depth);
        p.tail = std::clamp<double>(meat.tail(cell).thickness / millimetre, 0.0, p.width);
        outline.widest = std::max(outline.widest, p.width);
        outline.deepest = std::max(outline.deepest, p.depth);
        outline.points.push_back(p);
        if (i == meat.cells()) break;
    }
    return outline;
}

} // namespace tranche
