// The face of a loin without its tail: a thick, rounded chine end, a board line below, one arc above.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include <tranche/loin/tape/superellipse.hpp>
#include <tranche/units/detail/column_arithmetic.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// (1 - X²)^q fills this share of the box around its half: a parabola 2/3. By the beta function, as a superellipse.
[[nodiscard]] inline double bell_fill(double q) {
    return 0.5 * std::sqrt(std::numbers::pi) * std::exp(std::lgamma(q + 1.0) - std::lgamma(q + 1.5));
}

/// The course of heights from the middle of a face to its end that fills `share` of its box: a superellipse from the ellipse
/// up, and below, where a superellipse has a ridge in its middle and in the end a cusp, (1 - X²)^q, which meets it in the
/// ellipse and runs out to thin ends.
class height_course {
public:
    explicit height_course(double share) : bell_(share < std::numbers::pi / 4.0) {
        if (!bell_) {
            power_ = superellipse_exponent(share);
            return;
        }
        double low = 0.5, high = 1.0;
        while (bell_fill(high) > share) low = high, high *= 2.0;
        for (int i = 0; i < 50; ++i) {
            const double middle = 0.5 * (low + high);
            (bell_fill(middle) > share ? low : high) = middle;
        }
        power_ = 0.5 * (low + high);
    }

    [[nodiscard]] double height(double place) const {
        return bell_ ? std::pow((1.0 - place) * (1.0 + place), power_)
                     : std::pow(1.0 - std::pow(place, power_), 1.0 / power_);
    }
    /// Places spread well over the curve, closer together at the end; `part` is 0 (end) to 1 (middle).
    [[nodiscard]] double place(double part) const {
        if (bell_)
            return std::sqrt(1.0 - std::pow(std::sin(0.5 * std::numbers::pi * part), std::max(2.0, 2.0 / power_)));
        const double turn = 0.5 * std::numbers::pi * part * part, c = std::cos(turn), s = std::sin(turn);
        return c / std::pow(std::pow(c, power_) + std::pow(s, power_), 1.0 / power_);
    }

private:
    bool bell_;
    double power_ = 0.0;
};

/// Places from the middle (0) to the end (1) of half a face, and the heights there over that of the middle.
struct half_face {
    std::vector<double> place, height;
};

/// Only what fills all but a thousandth of its box has upright ends.
[[nodiscard]] constexpr bool is_box(double fill) { return fill > 0.999; }

/// A half that fills `fill` of its box exactly: the polygon through the heights is short of the curve, and its area is linear
/// in what is added, which is nothing in the middle and nothing at the end.
template <class = when_called>
[[nodiscard]] half_face half_of(double fill) {
    if (is_box(fill)) return {.place = {0.0, 0.5, 1.0}, .height = {1.0, 1.0, 4.0 * fill - 3.0}};
    constexpr int corners = 28;
    const height_course course(fill);
    half_face half{.place = {0.0}, .height = {1.0}};
    for (int k = corners - 1; k > 0; --k) {
        const double place = course.place(k / double(corners));
        if (!(place > half.place.back() + 1e-6 && place < 1.0 - 1e-6)) continue; // a tenth of a micrometre apart
        const double height = course.height(place);
        if (!(height > 1e-4)) continue; // no hair where the end is thinner than a hundredth of a millimetre
        half.place.push_back(place);
        half.height.push_back(height > 1.0 - 1e-4 ? 1.0 : height); // no slivers where the curve is all but level
    }
    half.place.push_back(1.0);
    half.height.push_back(0.0);
    const auto mean_of = [&](auto part) {
        double sum = 0.0;
        for (std::size_t i = 1; i < half.place.size(); ++i)
            sum +=
                unfused(0.5 * (half.place[i] - half.place[i - 1]) * (part(half.height[i - 1]) + part(half.height[i])));
        return sum;
    };
    const auto addition = [](double y) { return y * (1.0 - y); };
    const double missing = fill - mean_of([](double y) { return y; }), most = mean_of(addition);
    for (double& y : half.height) y += unfused(missing / most * addition(y));
    return half;
}

/// The face without its tail in columns from the chine end on, in metres.
struct comma_columns {
    std::vector<double> across{}, bottom{}, top{};
    std::size_t middle = 0; ///< the column where the face is as deep as was read
    double tip = 0.0;       ///< height of the flank end
};

/// How high the tips of both ends lie over the board, as shares of the depth.
struct face_ends {
    double chine = 0.5, flank = 0.5;

    /// Where a share of the depth lies off the lean, the chine end falls so much at least.
    [[nodiscard]] face_ends under(double off_the_lean) const {
        return {lesser(chine, greater(0.3, 1.0 - unfused(1.5 * off_the_lean))), flank};
    }
};

/// How the ends of a face without a tail lie: the chine end is thick, its tip high over the board, and the flank end low, so
/// that the outer edge is one arc down to it. A face of little fill has thin ends, and both lie low. Under a cover that is
/// thicker than what the chine end falls, the lean would rise towards it; then it falls more. Common practice, no source.
[[nodiscard]] inline face_ends ends_of(double fill) {
    const double thin = std::clamp(1.3 * (fill - 0.36), 0.02, 0.55);
    return {.chine = thin, .flank = std::min(0.20, thin)};
}

/// With y as in `half_of`, a column has the height y × depth, and reaches from tip (1 - y) up: a low tip makes the lower edge
/// the line of the board, and the upper one an arc.
template <class = when_called>
[[nodiscard]] comma_columns columns_of(double width, double depth, double fill, const face_ends& tips) {
    const half_face half = half_of(fill);
    comma_columns face{.middle = half.place.size() - 1, .tip = depth * tips.flank};
    const auto add = [&](std::size_t i, double side, double tip) {
        const double y = half.height[i];
        face.across.push_back(0.5 * width * (1.0 + unfused(side * half.place[i])));
        face.bottom.push_back(depth * tip * (1.0 - y));
        face.top.push_back(depth * (tip + unfused((1.0 - tip) * y)));
    };
    for (std::size_t i = half.place.size(); i-- > 0;) add(i, -1.0, tips.chine);
    for (std::size_t i = 1; i < half.place.size(); ++i) add(i, 1.0, tips.flank);
    return face;
}

/// What a share of the height of every column leaves, from below.
template <class = when_called>
[[nodiscard]] std::vector<double> heights_up_to(const comma_columns& face, double share) {
    std::vector<double> heights;
    for (std::size_t i = 0; i < face.across.size(); ++i)
        heights.push_back(face.bottom[i] + unfused(share * (face.top[i] - face.bottom[i])));
    return heights;
}

} // namespace tranche::detail
