// What is seen of each tissue along a line across a painted face.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/unfused.hpp>

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
