// How much of each tissue is seen on a painted face.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tissue.hpp>

namespace tranche_test {

/// In square metres, of a face whose layers lie one on the other, fat, connective tissue and eye, and the gluteus medius on
/// the eye; the tail lies on the first of them, or beside it where nothing is first.
[[nodiscard]] inline tranche::by_tissue<double> seen_areas(const tranche::painted_face& painted) {
    using tranche::tissue;
    tranche::by_tissue<double> sums;
    for (const tranche::painted_outline& p : painted) sums[p.fill] += area_of(p.curve).value();
    tranche::by_tissue<double> seen = sums;
    if (!painted.empty() && painted.front().fill != tissue::tail) seen[painted.front().fill] -= sums[tissue::tail];
    seen[tissue::eye] -= sums[tissue::gluteus_medius];
    if (sums[tissue::connective] > 0.0) seen[tissue::connective] -= sums[tissue::eye];
    if (sums[tissue::fat_cover] > 0.0)
        seen[tissue::fat_cover] -= sums[sums[tissue::connective] > 0.0 ? tissue::connective : tissue::eye];
    return seen;
}

/// The same of any painted face, each outline covering those before it: by upright lines, on which a place lies inside a curve
/// that an odd number of times runs below it. Shares nothing with the library.
[[nodiscard]] inline tranche::by_tissue<double> areas_on_lines(const tranche::painted_face& painted, int lines = 4000) {
    double left = 1e9, right = -1e9;
    for (const tranche::painted_outline& p : painted)
        for (const tranche::outline_point& corner : p.curve.points)
            left = std::min(left, corner.across.value()), right = std::max(right, corner.across.value());
    tranche::by_tissue<double> seen;
    std::vector<std::vector<double>> crossings(painted.size());
    std::vector<double> heights;
    for (int i = 0; i < lines && left < right; ++i) {
        const double x = left + (right - left) * (i + 0.5) / lines;
        heights.clear();
        for (std::size_t k = 0; k < painted.size(); ++k) {
            crossings[k].clear();
            const auto cross = [&](const std::vector<tranche::outline_point>& points) {
                for (std::size_t n = 0; n < points.size(); ++n) {
                    const tranche::outline_point &a = points[n], &b = points[(n + 1) % points.size()];
                    const double ax = a.across.value(), bx = b.across.value();
                    if ((ax < x) == (bx < x)) continue;
                    crossings[k].push_back(a.up.value() + (b.up.value() - a.up.value()) / (bx - ax) * (x - ax));
                }
            };
            cross(painted[k].curve.points);
            for (const auto& hole : painted[k].curve.holes) cross(hole);
            heights.insert(heights.end(), crossings[k].begin(), crossings[k].end());
        }
        std::sort(heights.begin(), heights.end());
        for (std::size_t h = 0; h + 1 < heights.size(); ++h) {
            const double middle = 0.5 * (heights[h] + heights[h + 1]);
            for (std::size_t k = painted.size(); k-- > 0;) {
                const auto below =
                    std::count_if(crossings[k].begin(), crossings[k].end(), [&](double y) { return y < middle; });
                if (below % 2 == 0) continue;
                seen[painted[k].fill] += (heights[h + 1] - heights[h]) * (right - left) / lines;
                break;
            }
        }
    }
    return seen;
}

} // namespace tranche_test
