// What a slanted loin reads of the straight one when it is made: areas, where across the face they lie, and layers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/loin/detail/mixed_layers.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/outline/detail/seen_line.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Places on the straight loin, and on the slanted one for layers, are parts of its extent, 0 to 1.
template <class = when_called>
class slanted_reading {
public:
    static constexpr std::size_t strips = 64, stations = 65;

    /// Of a face at each station, turned so that the tilt is along x, in which all lie between `low` and `high`.
    slanted_reading(const std::vector<std::vector<painted_region>>& straight, double low, double high) {
        by_tissue<std::vector<std::size_t>> shown; // stations
        for (std::size_t s = 0; s < stations; ++s) {
            const auto seen = seen_on_strips(straight[s], low, high, strips);
            by_tissue<double> sums;
            for (const by_tissue<double>& strip : seen)
                for (const tissue t : all_tissues) sums[t] += strip[t];
            for (const by_tissue<double>& strip : seen) {
                by_tissue<double>& shares = shares_.emplace_back();
                for (const tissue t : all_tissues) shares[t] = sums[t] > 0.0 ? strip[t] / sums[t] : 0.0;
            }
            for (const tissue t : all_tissues)
                if (sums[t] > 0.0) shown[t].push_back(s);
        }
        // Where a tissue has not begun, the nearest station that shows it speaks; one that no outline shows is everywhere.
        for (const tissue t : all_tissues)
            for (std::size_t s = 0; s < stations; ++s) {
                const auto away = [s](std::size_t other) { return other > s ? other - s : s - other; };
                const auto nearest = std::min_element(shown[t].begin(), shown[t].end(),
                                                      [&](std::size_t a, std::size_t b) { return away(a) < away(b); });
                if (nearest != shown[t].end() && *nearest == s) continue;
                for (std::size_t k = 0; k < strips; ++k)
                    shares_[s * strips + k][t] =
                        nearest != shown[t].end() ? shares_[*nearest * strips + k][t] : 1.0 / strips;
            }
    }

    /// face_at(place) of the straight loin.
    template <class FaceAt>
    void read_faces(FaceAt face_at) {
        for (std::size_t i = 0; i < straight_faces; ++i) {
            const face f = face_at(static_cast<double>(i) / (straight_faces - 1));
            sizes_.emplace_back(f.width.value(), f.depth.value());
            by_tissue<double>& areas = areas_.emplace_back();
            for (const tissue t : all_tissues) areas[t] = f.areas[t].value();
        }
    }

    /// Of a slanted loin of this extent: strips(place, add) calls add(straight face, shares, inside) for each strip of a cut,
    /// where the strip has its shares of the tissues on that face, and lies inside the loin by that part.
    template <class Strips>
    void read_layers(length extent, Strips strips_of) {
        const double gaps = std::max(1.0, std::ceil(extent.value() / 5e-3));
        for (std::size_t i = 0; static_cast<double>(i) <= gaps; ++i) {
            layer_mixer fat, tail;
            strips_of(static_cast<double>(i) / gaps, [&](const face& there, const by_tissue<double>& shares,
                                                         double inside) {
                const auto amount = [&](tissue t) { return unfused(there.areas[t].value() * (shares[t] * inside)); };
                fat.add(there.fat_cover, amount(tissue::fat_cover));
                tail.add(there.tail, amount(tissue::tail));
            });
            layers_.emplace_back(fat.mixed(), tail.mixed());
        }
    }

    /// In square metres, of the straight face.
    [[nodiscard]] by_tissue<double> areas_at(double place) const {
        const double entry = std::clamp(place, 0.0, 1.0) * (straight_faces - 1);
        const std::size_t i = 2 * std::min(static_cast<std::size_t>(0.5 * entry), (straight_faces - 3) / 2);
        const double s = entry - static_cast<double>(i);
        const std::array<double, 3> w{0.5 * (s - 1.0) * (s - 2.0), s * (2.0 - s), 0.5 * s * (s - 1.0)};
        by_tissue<double> areas;
        for (const tissue t : all_tissues) // a parabola may dip below nothing where a tissue begins
            areas[t] = std::max(0.0, unfused(w[0] * areas_[i][t]) + unfused(w[1] * areas_[i + 1][t]) +
                                         unfused(w[2] * areas_[i + 2][t]));
        return areas;
    }
    /// Width and depth of the straight face, in metres.
    [[nodiscard]] std::pair<double, double> size_at(double place) const {
        const auto [i, t] = between(place, straight_faces);
        return {mixed(sizes_[i].first, sizes_[i + 1].first, t), mixed(sizes_[i].second, sizes_[i + 1].second, t)};
    }
    /// Of each tissue's area there, what lies on strip k.
    [[nodiscard]] by_tissue<double> shares_at(double place, std::size_t k) const {
        const auto [s, part] = between(place, stations);
        const by_tissue<double>&here = shares_[s * strips + k], &next = shares_[(s + 1) * strips + k];
        by_tissue<double> shares;
        for (const tissue t : all_tissues) shares[t] = unfused((1.0 - part) * here[t]) + unfused(part * next[t]);
        return shares;
    }
    /// A slanted face that has nothing but its layers.
    [[nodiscard]] face layers_at(double place) const {
        const auto [i, t] = between(place, layers_.size());
        const auto mix = [t = t](const layer& a, const layer& b) {
            if (a == b || !(b.thickness > length{})) return a;
            if (!(a.thickness > length{})) return b;
            layer result{.thickness = length::from_value(mixed(a.thickness.value(), b.thickness.value(), t))};
            const layer_spread from = by_entries(a).spread, to = by_entries(b).spread;
            for (std::size_t k = 0; k < result.spread.size(); ++k) result.spread[k] = mixed(from[k], to[k], t);
            return result;
        };
        face f;
        f.fat_cover = mix(layers_[i].first, layers_[i + 1].first);
        f.tail = mix(layers_[i].second, layers_[i + 1].second);
        return f;
    }

private:
    static constexpr std::size_t straight_faces = 513;

    [[nodiscard]] static std::pair<std::size_t, double> between(double place, std::size_t count) {
        const double entry = std::clamp(place, 0.0, 1.0) * static_cast<double>(count - 1);
        const std::size_t i = std::min(static_cast<std::size_t>(entry), count - 2);
        return {i, entry - static_cast<double>(i)};
    }
    [[nodiscard]] static double mixed(double a, double b, double t) { return a + unfused(t * (b - a)); }

    std::vector<by_tissue<double>> areas_;         ///< of straight faces, evenly along the loin
    std::vector<std::pair<double, double>> sizes_; ///< beside them
    std::vector<by_tissue<double>> shares_;        ///< stations × strips
    std::vector<std::pair<layer, layer>> layers_;  ///< fat cover and tail at knots evenly along the slanted loin
};

} // namespace tranche::detail
