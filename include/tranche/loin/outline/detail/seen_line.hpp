// What is seen of each tissue along a line across a painted face, and between such lines.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
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

/// What is seen of a face along the line x = const: each outline covers those before it.
[[nodiscard]] inline seen_line seen_along(const std::vector<painted_region>& face, double x) {
    seen_line line;
    chord_list covered;
    for (auto region = face.rbegin(); region != face.rend(); ++region) { // from the top of the paint down
        const chord_list chords = region->shape.chords(x);
        for (const auto& [from, to] : without(chords, covered))
            if (from < to) line.push_back({region->fill, from, to});
        covered.insert(covered.end(), chords.begin(), chords.end());
    }
    std::sort(line.begin(), line.end(), [](const seen_stretch& a, const seen_stretch& b) { return a.from < b.from; });
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
    for (std::size_t i = 0; i < face.size(); ++i)
        for (const flat_ring& ring : face[i].shape.rings()) curves.add(ring, static_cast<int>(i));
    std::vector<by_tissue<double>> seen(strips);
    std::vector<char> in(face.size());
    const double per_width = static_cast<double>(strips) / (high - low);
    curves.columns([&](double left, double right, const std::vector<met_side>& sides) {
        const double strip = (0.5 * (left + right) - low) * per_width;
        if (!(strip >= 0.0) || sides.empty()) return;
        by_tissue<double>& here = seen[std::min(static_cast<std::size_t>(strip), strips - 1)];
        std::fill(in.begin(), in.end(), '\0');
        for (std::size_t k = 0; k + 1 < sides.size(); ++k) {
            char& inside = in[static_cast<std::size_t>(sides[k].side->group)];
            inside = inside == '\0' ? '\1' : '\0';
            const auto top = std::find(in.rbegin(), in.rend(), '\1');
            if (top != in.rend())
                here[face[static_cast<std::size_t>(in.rend() - top) - 1].fill] +=
                    column_between(left, right, sides[k], sides[k + 1]).area();
        }
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
