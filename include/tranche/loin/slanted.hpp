// A loin cut by a tilted knife: the same meat, measured along the normal of the cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/loin/cut_tilt.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/outline.hpp>
#include <tranche/loin/painted_face.hpp>

namespace tranche {

/// A model every face of which is a tilted plane. Positions are measured at right angles to the cut, so a thickness is that
/// of the slice; a prism's face is larger by 1 / cos θ with cos θ = cos a cos b, and the extent is that of the loin along
/// the normal. Tabulate it and plan with it as with any model.
///
/// With w the distance from the middle of the face in the direction of the tilt, the strip at w of a face at u belongs to the
/// station u / cos θ - w tan θ, and takes of each tissue's area there the share that the outlines have in the strip. Outside
/// the loin there is nothing. The layers are those of the station in the middle.
///
/// Outlines are read at `stations` places when it is made, O(stations × strips × corners); `face_at` is O(strips) calls of
/// the model's. The error is of second order in the width of a strip and the distance of stations.
template <shaped_loin_model Model>
class slanted_loin {
public:
    /// Throws `invalid_input` for a tilt beyond 30 degrees and what the model's `validate` throws.
    slanted_loin(Model model, const cut_tilt& tilt) : model_(std::move(model)) {
        validate_model(model_);
        validate(tilt);
        const double a = tilt.about_vertical.value(), b = tilt.about_transverse.value();
        cosine_ = std::cos(a) * std::cos(b);
        // The normal is (cos a cos b, sin a cos b, sin b) along the axis, across and up.
        const double across = std::tan(a), up = std::tan(b) / std::cos(a);
        tangent_ = std::hypot(across, up);
        if (tangent_ > 0.0) turn_ = {across / tangent_, up / tangent_};
        read_outlines();
    }

    [[nodiscard]] length extent() const { return (model_.extent() + (high_ - low_) * tangent_ * metre) * cosine_; }

    [[nodiscard]] face face_at(length at) const {
        const double loin = model_.extent().value(), half = 0.5 * (high_ - low_);
        const double middle = at.value() / cosine_ - half * tangent_; // the station in the middle of the cut
        const face straight = model_.face_at(length::from_value(std::clamp(middle, 0.0, loin)));
        face f{
            .fat_cover = straight.fat_cover, .tail = straight.tail, .width = straight.width, .depth = straight.depth};
        const double width = (high_ - low_) / strips, spread = 0.5 * width * tangent_;
        for (std::size_t k = 0; k < strips; ++k) {
            // The strip covers a stretch of stations; only what lies on the loin counts.
            const double station = middle - ((static_cast<double>(k) + 0.5) * width - half) * tangent_;
            const double from = std::max(0.0, station - spread), to = std::min(loin, station + spread);
            if (from > to) continue;
            const double inside = spread > 0.0 ? (to - from) / (2.0 * spread) : 1.0;
            const double x = 0.5 * (from + to);
            const face there = model_.face_at(length::from_value(x));
            for (const tissue t : all_tissues)
                f.areas[t] += there.areas[t] * (share(t, x / loin, k) * inside / cosine_);
        }
        return f;
    }

private:
    static constexpr std::size_t strips = 64, stations = 65;

    /// Turned so that the tilt is along x.
    [[nodiscard]] outline turned(const outline& curve) const {
        outline result = curve;
        const auto turn = [&](std::vector<outline_point>& points) {
            for (outline_point& p : points)
                p = {turn_.x * p.across + turn_.y * p.up, turn_.x * p.up - turn_.y * p.across};
        };
        turn(result.points);
        for (auto& hole : result.holes) turn(hole);
        return result;
    }

    void read_outlines() {
        struct region {
            tissue fill;
            detail::flat_region shape;
        };
        std::vector<std::vector<region>> faces(stations);
        low_ = std::numeric_limits<double>::infinity();
        high_ = -low_;
        for (std::size_t s = 0; s < stations; ++s)
            for (const painted_outline& p :
                 model_.painted_at(static_cast<double>(s) / (stations - 1) * model_.extent())) {
                faces[s].push_back({p.fill, detail::flat_region(turned(p.curve))});
                const auto [left, right] = faces[s].back().shape.extent(&detail::flat_point::x);
                low_ = std::min(low_, left);
                high_ = std::max(high_, right);
            }
        for (auto& column : shares_.values) column.assign(stations * strips, 0.0);
        for (std::size_t s = 0; s < stations; ++s) {
            by_tissue<double> sums;
            for (std::size_t k = 0; k < strips; ++k) {
                const double w = low_ + (static_cast<double>(k) + 0.5) * (high_ - low_) / strips;
                detail::chord_list covered;
                for (auto p = faces[s].rbegin(); p != faces[s].rend(); ++p) { // from the top of the paint down
                    const detail::chord_list chords = p->shape.chords(w);
                    const double visible = detail::total_length(detail::without(chords, covered));
                    shares_[p->fill][s * strips + k] += visible;
                    sums[p->fill] += visible;
                    covered.insert(covered.end(), chords.begin(), chords.end());
                }
            }
            for (const tissue t : all_tissues)
                for (std::size_t k = 0; k < strips && sums[t] > 0.0; ++k) shares_[t][s * strips + k] /= sums[t];
        }
    }

    /// The share of a tissue's area that lies in strip k, at a place along the loin, 0 to 1. Where a tissue has not begun at
    /// one of the stations on either side, the other one speaks; one that no outline shows is everywhere.
    [[nodiscard]] double share(tissue t, double along, std::size_t k) const {
        const double entry = std::clamp(along, 0.0, 1.0) * (stations - 1);
        const std::size_t s = std::min(static_cast<std::size_t>(entry), stations - 2);
        const double part = entry - static_cast<double>(s);
        const auto has = [&](std::size_t station) {
            const auto begin = shares_[t].begin() + static_cast<std::ptrdiff_t>(station * strips);
            return std::any_of(begin, begin + strips, [](double x) { return x > 0.0; });
        };
        const double here = shares_[t][s * strips + k], next = shares_[t][(s + 1) * strips + k];
        const bool begun = here > 0.0 || has(s), goes_on = next > 0.0 || has(s + 1);
        if (!begun && !goes_on) return 1.0 / strips;
        if (!begun) return next;
        if (!goes_on) return here;
        return (1.0 - part) * here + part * next;
    }

    Model model_;
    double cosine_ = 1.0, tangent_ = 0.0;
    detail::flat_point turn_{1.0, 0.0};     // direction of the tilt on the face
    double low_ = 0.0, high_ = 0.0;         // of the face in that direction, over all stations
    by_tissue<std::vector<double>> shares_; // stations × strips
};

} // namespace tranche
