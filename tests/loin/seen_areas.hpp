// How much of each tissue is seen on a painted face.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <utility>
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

/// The same of any painted face, each outline covering those before it: by upright lines.
[[nodiscard]] inline tranche::by_tissue<double> areas_on_lines(const tranche::painted_face& painted, int lines = 4000) {
    std::vector<std::pair<tranche::tissue, tranche::detail::flat_region>> paint;
    double left = 1e9, right = -1e9;
    for (const tranche::painted_outline& p : painted) {
        paint.emplace_back(p.fill, tranche::detail::flat_region(p.curve));
        const auto [from, to] = paint.back().second.extent(&tranche::detail::flat_point::x);
        left = std::min(left, from), right = std::max(right, to);
    }
    tranche::by_tissue<double> seen;
    for (int i = 0; i < lines && left < right; ++i) {
        tranche::detail::chord_list covered;
        for (auto p = paint.rbegin(); p != paint.rend(); ++p) {
            const auto chords = p->second.chords(left + (right - left) * (i + 0.5) / lines);
            const double visible = tranche::detail::total_length(tranche::detail::without(chords, covered));
            seen[p->first] += visible * (right - left) / lines;
            covered.insert(covered.end(), chords.begin(), chords.end());
        }
    }
    return seen;
}

} // namespace tranche_test
