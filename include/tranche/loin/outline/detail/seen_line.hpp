// What is seen of each tissue along a line across a painted face, and between such lines.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include <tranche/loin/outline/detail/sweep.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// One outline of a painted face, for asking.
struct painted_region {
    tissue fill = tissue::eye;
    flat_region shape;
};

/// A stretch of a line, upwards, where one tissue is seen.
struct seen_stretch {
    tissue fill = tissue::eye;
    double from = 0.0, to = 0.0;
};
using seen_line = std::vector<seen_stretch>; ///< upwards

/// The outline on top at a place of a face, the later over the earlier, counted from 1; 0 where there is none.
[[nodiscard]] inline int on_top(const std::vector<passed_curves>& outlines) {
    auto top = outlines.size();
    while (top > 0 && !outlines[top - 1].around()) --top;
    return static_cast<int>(top);
}

/// What is seen of a face along the line x = const: each outline covers those before it.
template <class = when_called>
[[nodiscard]] seen_line seen_along(const std::vector<painted_region>& face, double x) {
    struct crossing {
        double y;
        int region;
        [[nodiscard]] int group() const { return region; }
        [[nodiscard]] static int direction() { return 0; }
    };
    std::vector<crossing> crossings;
    for (std::size_t i = 0; i < face.size(); ++i)
        face[i].shape.for_each_crossing(x, [&](double y) { crossings.push_back({y, static_cast<int>(i)}); });
    std::sort(crossings.begin(), crossings.end(), [](const crossing& a, const crossing& b) { return a.y < b.y; });
    seen_line line;
    std::vector<passed_curves> passed(face.size());
    for_each_stretch(std::span(std::as_const(crossings)), passed, on_top,
                     [&](int top, const crossing& low, const crossing& high) {
                         if (low.y < high.y)
                             line.push_back({face[static_cast<std::size_t>(top - 1)].fill, low.y, high.y});
                     });
    return line;
}

/// How much is seen of each tissue on each of so many strips of even width between `low` and `high`, in square metres: exact.
template <class = when_called>
[[nodiscard]] std::vector<by_tissue<double>> seen_on_strips(const std::vector<painted_region>& face, double low,
                                                            double high, std::size_t strips) {
    outline_sweep<> curves;
    for (std::size_t k = 0; k <= strips; ++k) { // so that each column lies on one strip
        const double x = low + unfused((high - low) * (static_cast<double>(k) / static_cast<double>(strips)));
        curves.add({.from = {x, 0.0}, .to = {x, 0.0}});
    }
    for (std::size_t i = 0; i < face.size(); ++i) curves.add(face[i].shape.rings(), static_cast<int>(i));
    std::vector<by_tissue<double>> seen(strips);
    const double per_width = static_cast<double>(strips) / (high - low);
    curves.cells(
        face.size(), on_top, [&](int top, double left, double right, const met_side& below, const met_side& above) {
            const double strip = (0.5 * (left + right) - low) * per_width;
            if (strip >= 0.0)
                seen[std::min(static_cast<std::size_t>(strip), strips - 1)]
                    [face[static_cast<std::size_t>(top - 1)].fill] += column_between(left, right, below, above).area();
        });
    return seen;
}

/// Whether both show the same tissues in the same order.
[[nodiscard]] inline bool alike(const seen_line& a, const seen_line& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const seen_stretch& one, const seen_stretch& other) { return one.fill == other.fill; });
}

/// The line between two others that are alike; where one shows nothing it is the other, and elsewhere the nearer one.
[[nodiscard]] inline seen_line between(const seen_line& a, const seen_line& b, double t) {
    if (t == 0.0 || b.empty()) return a;
    if (a.empty()) return b;
    if (!alike(a, b)) return t < 0.5 ? a : b;
    seen_line mixed = a;
    for (std::size_t i = 0; i < mixed.size(); ++i) {
        mixed[i].from = unfused((1.0 - t) * a[i].from) + unfused(t * b[i].from);
        mixed[i].to = unfused((1.0 - t) * a[i].to) + unfused(t * b[i].to);
    }
    return mixed;
}

} // namespace tranche::detail
