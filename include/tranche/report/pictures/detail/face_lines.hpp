// The lines on a face along which it is trimmed and divided.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/report/pictures/cut_faces.hpp>
#include <tranche/report/pictures/detail/upright_strips.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Outlines of a face as regions, and what is seen of them.
class visible_face {
public:
    explicit visible_face(const cut_face& shown) : shown_(shown) {
        for (const painted_outline& p : shown.painted) {
            regions_.emplace_back(p.curve);
            strips_.emplace_back(regions_.back());
        }
    }

    /// Calls use(tissue, stretches) for what is seen of each outline along a line x = const, upwards.
    template <class Use>
    void for_each_seen(double x, Use use) const {
        chord_list own, covered;
        for (std::size_t i = regions_.size(); i-- > 0;) { // from the top of the paint down
            strips_[i].chords(x, own);
            if (own.empty()) continue;
            use(shown_.painted[i].fill, covered.empty() ? own : without(own, covered));
            covered.insert(covered.end(), own.begin(), own.end());
        }
    }
    /// The stretches of such a line where a tissue is seen, upwards.
    [[nodiscard]] chord_list chords(tissue t, double x) const {
        chord_list seen;
        for_each_seen(x, [&](tissue fill, const chord_list& own) {
            if (fill == t) seen.insert(seen.end(), own.begin(), own.end());
        });
        std::sort(seen.begin(), seen.end());
        return seen;
    }
    [[nodiscard]] bool shows(tissue t, flat_point p) const {
        for (std::size_t i = regions_.size(); i-- > 0;)
            if (strips_[i].contains(p)) return shown_.painted[i].fill == t;
        return false;
    }
    /// The outermost outline of a tissue; none: null.
    [[nodiscard]] const outline* curve_of(tissue t) const {
        for (const painted_outline& p : shown_.painted)
            if (p.fill == t) return &p.curve;
        return nullptr;
    }
    [[nodiscard]] const cut_face& shown() const { return shown_; }
    [[nodiscard]] const std::vector<flat_region>& regions() const { return regions_; }
    [[nodiscard]] const std::vector<upright_strips<>>& strips() const { return strips_; }

private:
    const cut_face& shown_;
    std::vector<flat_region> regions_; // beside shown_.painted, as are the strips
    std::vector<upright_strips<>> strips_;
};

using flat_line = std::vector<flat_point>;

/// Where the fat is as far from what lies under it (silverskin, where it is painted, or else lean) as it should be thick: the
/// curves parallel to those outlines, as far as they run in fat, to 0.02 mm. O(corners × those within that distance).
template <class = when_called>
[[nodiscard]] std::vector<flat_line> parallel_in_fat(const visible_face& seen, double distance) {
    std::vector<std::size_t> under;
    for (std::size_t i = 0; i < seen.regions().size(); ++i)
        if (const tissue t = seen.shown().painted[i].fill; t != tissue::fat_cover && t != tissue::tail)
            under.push_back(i);
    // An arc of this angle bulges 0.02 mm beyond its chord.
    const double arc = 2.0 * std::acos(std::max(0.0, 1.0 - 2e-5 / distance));
    const auto holds = [&](flat_point p) {
        if (!seen.shows(tissue::fat_cover, p)) return false;
        return std::none_of(under.begin(), under.end(), [&](std::size_t i) {
            return seen.strips()[i].has_side_within(p, distance * (1.0 - 1e-6));
        });
    };
    std::vector<flat_line> lines;
    for (const std::size_t which : under) {
        flat_ring ring = seen.regions()[which].rings().front();
        if (signed_area(ring) < 0.0) std::reverse(ring.begin(), ring.end());
        // Both ends of each side moved outwards, one mm apart at most; around a corner that juts out, an arc.
        flat_line around;
        double before = 0.0;
        for (std::size_t i = 0; i <= ring.size(); ++i) {
            const flat_point a = ring[i % ring.size()], b = ring[(i + 1) % ring.size()];
            const double side = std::hypot(b.x - a.x, b.y - a.y), normal = std::atan2(a.x - b.x, b.y - a.y);
            const double turned = std::remainder(normal - before, 2.0 * std::numbers::pi);
            const int chords = i > 0 && turned > 0.0 ? static_cast<int>(std::ceil(turned / arc)) : 1;
            for (int k = 1; k < chords; ++k) {
                const double angle = before + turned * k / chords;
                around.push_back({a.x + distance * std::cos(angle), a.y + distance * std::sin(angle)});
            }
            before = normal;
            if (i == ring.size()) break;
            const int steps = 1 + static_cast<int>(side / 0.001);
            const double right = distance * (b.y - a.y) / side, up = distance * (a.x - b.x) / side;
            for (int k = 0; k <= steps; ++k) {
                const double t = static_cast<double>(k) / steps;
                around.push_back({a.x + t * (b.x - a.x) + right, a.y + t * (b.y - a.y) + up});
            }
        }
        // From a point that does not hold on, so that no line is torn where the ring begins.
        std::vector<char> held(around.size());
        std::transform(around.begin(), around.end(), held.begin(), holds);
        const auto first = static_cast<std::size_t>(std::find(held.begin(), held.end(), 0) - held.begin());
        bool running = false;
        for (std::size_t k = 0; k < around.size(); ++k) {
            const std::size_t here = (first + k) % around.size();
            const bool goes_on = held[here] != 0;
            if (goes_on && !running) lines.emplace_back();
            if (goes_on) lines.back().push_back(around[here]);
            running = goes_on;
        }
    }
    std::erase_if(lines, [](const flat_line& line) { return line.size() < 2; });
    return lines;
}

/// The outline below the fat of a face from tape readings, whose layers stand corner above corner; null for other faces.
template <class = when_called>
[[nodiscard]] const outline* layer_under_fat(const visible_face& seen) {
    const outline *top = seen.curve_of(tissue::fat_cover), *under = seen.curve_of(tissue::connective);
    if (under == nullptr) under = seen.curve_of(tissue::eye);
    if (top == nullptr || under == nullptr) return nullptr;
    const auto above = [](const outline_point& a, const outline_point& b) {
        return a.across == b.across && a.up >= b.up;
    };
    return std::equal(top->points.begin(), top->points.end(), under->points.begin(), under->points.end(), above)
               ? under
               : nullptr;
}

/// Where the knife trims the fat down to `keep`: what stays lies within a parallel to what is under the fat. None where
/// nothing comes off.
template <class = when_called>
[[nodiscard]] std::vector<flat_line> fat_trim(const visible_face& seen, length keep) {
    const length cover = seen.shown().measured.fat_cover.thickness;
    if (seen.curve_of(tissue::fat_cover) == nullptr || !(cover > keep + 0.05 * millimetre)) return {};
    return parallel_in_fat(seen, std::max(keep.value(), 1e-4)); // on the edge itself they meet
}

/// Where the knife takes the tail off `keep` beyond the eye, straight up and down, measured from the edge of the eye.
template <class = when_called>
[[nodiscard]] std::vector<flat_line> tail_trim(const visible_face& seen, length keep) {
    const length reach = seen.shown().measured.tail.thickness;
    const outline *tail = seen.curve_of(tissue::tail), *eye = seen.curve_of(tissue::eye);
    if (tail == nullptr || eye == nullptr || !(reach > keep + 0.05 * millimetre)) return {};
    const auto [eye_left, eye_right] = flat_region(*eye).extent(&flat_point::x);
    const auto [tail_left, tail_right] = flat_region(*tail).extent(&flat_point::x);
    const bool beyond = tail_left + tail_right > eye_left + eye_right;
    const double x = beyond ? eye_right + keep.value() : eye_left - keep.value();
    std::vector<flat_line> lines;
    for (const auto& [bottom, top] : seen.chords(tissue::tail, x)) lines.push_back({{x, bottom}, {x, top}});
    return lines;
}

/// Upright lines that divide what a trim, the tail of which does not taper, leaves into `pieces` of equal area. Of fat and tail
/// each line counts the share that stays of the whole. Sampled on 400 lines.
template <class = when_called>
[[nodiscard]] std::vector<flat_line> divisions(const visible_face& seen, const trim_spec& trim, int pieces) {
    if (pieces < 2 || seen.regions().empty()) return {};
    double left = std::numeric_limits<double>::infinity(), right = -left;
    for (const flat_region& region : seen.regions()) {
        const auto [from, to] = region.extent(&flat_point::x);
        left = std::min(left, from), right = std::max(right, to);
    }
    const face& f = seen.shown().measured;
    by_tissue<fraction> shares;
    for (const tissue t : all_tissues) shares[t] = share_left(t, trim, f);
    constexpr int lines = 400;
    const double step = (right - left) / lines;
    std::vector<double> before{0.0};
    for (int i = 0; i < lines; ++i) {
        const double x = left + (i + 0.5) * step;
        double kept = 0.0;
        seen.for_each_seen(x, [&](tissue t, const chord_list& own) { kept += shares[t] * total_length(own); });
        before.push_back(before.back() + kept);
    }
    std::vector<flat_line> result;
    for (int k = 1; k < pieces; ++k) {
        const double wanted = before.back() * k / pieces;
        const auto behind = std::lower_bound(before.begin() + 1, before.end() - 1, wanted);
        const double t = (wanted - *(behind - 1)) / (*behind - *(behind - 1));
        const double x = left + step * (static_cast<double>(behind - 1 - before.begin()) + t);
        double low = std::numeric_limits<double>::infinity(), high = -low;
        for (const tissue which : {tissue::eye, tissue::gluteus_medius})
            for (const auto& [bottom, top] : seen.chords(which, x))
                low = std::min(low, bottom), high = std::max(high, top);
        if (low < high) result.push_back({{x, low}, {x, high}});
    }
    return result;
}

} // namespace tranche::detail
