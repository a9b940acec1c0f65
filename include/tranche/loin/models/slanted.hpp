// A loin cut by a tilted knife: the same meat, measured along the normal of the cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/loin/cut_tilt.hpp>
#include <tranche/loin/detail/checked_face.hpp>
#include <tranche/loin/detail/mixed_layers.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/outline/detail/seen_line.hpp>
#include <tranche/loin/outline/detail/tilted_outlines.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// A model every face of which is a tilted plane. Positions are measured at right angles to the cut, so a thickness is that
/// of the slice; a prism's face is larger by 1 / cos θ with cos θ = cos a cos b, and the extent is that of the loin along
/// the normal. Tabulate it, plan with it and draw it as any model.
///
/// With w the distance across the straight faces in the direction of the tilt, the strip at w of a face at u belongs to the
/// station u / cos θ - w tan θ, and takes of each tissue's area there the share that the outlines have in the strip. Outside
/// the loin there is nothing. A layer is mixed of those of the stations that the strips belong to, by their areas: a trim to
/// a depth leaves of each strip the share that it leaves on the straight face of its station. Width and depth are those of
/// the station in the middle over cos a and cos b.
///
/// Outlines are read at 257 places when it is made, O(stations × strips × corners); `face_at` is O(strips) calls of the
/// model's. The error is of second order in the width of a strip and the distance of stations. Copies share the outlines.
template <shaped_loin_model Model>
class slanted_loin {
public:
    /// `flank` says which way across the outlines of the model run, and so on which side of the loin the left is towards
    /// which the tilt swings. Throws `invalid_input` for a tilt beyond 30 degrees and what the model's `validate` throws.
    slanted_loin(Model model, const cut_tilt& tilt) : slanted_loin(std::move(model), tilt, std::nullopt) {}
    slanted_loin(Model model, const cut_tilt& tilt, loin_side flank)
        : slanted_loin(std::move(model), tilt, std::optional(flank)) {}

    [[nodiscard]] length extent() const { return (end_ - begin_) * cosine_ * metre; }
    [[nodiscard]] loin_side flank() const { return flank_; }
    /// No tilt takes meat away.
    [[nodiscard]] std::optional<mass> known_mass() const requires detail::knows_mass<Model> {
        return model_.known_mass();
    }

    [[nodiscard]] face face_at(length at) const {
        const double loin = model_.extent().value(), origin = origin_of(at);
        const double middle =
            origin - detail::unfused(0.5 * (low_ + high_) * tangent_); // the station in the middle of the cut
        const face straight = model_.face_at(length::from_value(std::clamp(middle, 0.0, loin)));
        face f{.width = straight.width / std::cos(about_vertical_),
               .depth = straight.depth / std::cos(about_transverse_)};
        detail::layer_mixer fat, tail;
        const double width = (high_ - low_) / strips, spread = detail::unfused(0.5 * width * tangent_);
        for (std::size_t k = 0; k < strips; ++k) {
            // The strip covers a stretch of stations; only what lies on the loin counts.
            const double station =
                origin - detail::unfused((low_ + detail::unfused((static_cast<double>(k) + 0.5) * width)) * tangent_);
            const double from = std::max(0.0, station - spread), to = std::min(loin, station + spread);
            if (from > to) continue;
            const double inside = spread > 0.0 ? (to - from) / (2.0 * spread) : 1.0;
            const double x = 0.5 * (from + to);
            const face there = model_.face_at(length::from_value(x));
            detail::require_layers(there, length::from_value(x));
            by_tissue<area> part;
            for (const tissue t : all_tissues)
                part[t] = detail::unfused(there.areas[t] * (share(t, x / loin, k) * inside / cosine_));
            for (const tissue t : all_tissues) f.areas[t] += part[t];
            fat.add(there.fat_cover, part[tissue::fat_cover].value());
            tail.add(there.tail, part[tissue::tail].value());
        }
        f.fat_cover = fat.mixed();
        f.tail = tail.mixed();
        return f;
    }

    /// The outlines on the tilted plane, in its own directions, as `scanned_loin` has them: across level with the board, up
    /// at right angles to it. What lies on the plane is read off the straight outlines on lines across the tilt, so areas
    /// are those of the straight outlines to second order in the distance of lines and of the 257 places, and to first order
    /// where the upright edge of a tissue moves along the loin. Not tilted, they are the model's own. O(lines × corners).
    [[nodiscard]] painted_face painted_at(length at) const {
        const double origin = origin_of(at);
        if (tangent_ == 0.0) return model_.painted_at(std::clamp(at, length{}, model_.extent()));
        const double sin_a = std::sin(about_vertical_), cos_a = std::cos(about_vertical_);
        const double sin_b = std::sin(about_transverse_), cos_b = std::cos(about_transverse_);
        const auto onto_plane = [&](std::vector<outline_point>& points) {
            for (outline_point& p : points) {
                const double w = p.across.value(), v = p.up.value(), x = origin - w * tangent_;
                const double y = turn_.x * w - turn_.y * v, z = turn_.y * w + turn_.x * v;
                p = {length::from_value(y * cos_a - x * sin_a),
                     length::from_value(z * cos_b - (x * cos_a + y * sin_a) * sin_b)};
            }
        };
        painted_face painted;
        for (const auto& [fill, part] : outlines_->painted(origin))
            for (outline& curve : detail::outlines_of(part)) {
                onto_plane(curve.points);
                for (auto& hole : curve.holes) onto_plane(hole);
                painted.push_back({fill, std::move(curve)});
            }
        return painted;
    }

private:
    static constexpr std::size_t strips = 64, lines_a_strip = 4;
    static constexpr std::size_t stations = 65, faces_a_station = 4; // pictures need more faces than areas

    slanted_loin(Model model, const cut_tilt& tilt, std::optional<loin_side> flank)
        : model_(detail::as_tabulated(model)), flank_(flank ? *flank : flank_of(model_)) {
        validate_model(model_);
        validate(tilt);
        // Outlines run across towards the flank, and a knife swings to the left.
        const double a = flank_ == loin_side::left ? tilt.about_vertical.value() : -tilt.about_vertical.value();
        const double b = tilt.about_transverse.value();
        about_vertical_ = a, about_transverse_ = b;
        cosine_ = std::cos(a) * std::cos(b);
        // The normal is (cos a cos b, sin a cos b, sin b) along the axis, across and up.
        const double across = std::tan(a), up = std::tan(b) / std::cos(a);
        tangent_ = std::hypot(across, up);
        if (tangent_ > 0.0) turn_ = {across / tangent_, up / tangent_};
        read_outlines();
    }

    /// The station at which the face meets the line w = 0.
    [[nodiscard]] double origin_of(length at) const { return begin_ + at.value() / cosine_; }

    /// Turned so that the tilt is along x.
    [[nodiscard]] outline turned(const outline& curve) const {
        outline result = curve;
        const auto turn = [&](std::vector<outline_point>& points) {
            for (outline_point& p : points)
                p = {detail::unfused(turn_.x * p.across) + detail::unfused(turn_.y * p.up),
                     detail::unfused(turn_.x * p.up) - detail::unfused(turn_.y * p.across)};
        };
        turn(result.points);
        for (auto& hole : result.holes) turn(hole);
        return result;
    }

    void read_outlines() {
        const double loin = model_.extent().value();
        std::vector<std::vector<detail::painted_region>> faces((stations - 1) * faces_a_station + 1);
        const auto place = [&](std::size_t s) {
            return detail::unfused(static_cast<double>(s) / static_cast<double>(faces.size() - 1) * loin);
        };
        for (std::size_t s = 0; s < faces.size(); ++s)
            for (const painted_outline& p : model_.painted_at(length::from_value(place(s))))
                if (p.curve.points.size() > 2) faces[s].push_back({p.fill, detail::flat_region(turned(p.curve))});
        low_ = begin_ = std::numeric_limits<double>::infinity();
        high_ = end_ = -low_;
        for (std::size_t s = 0; s < faces.size(); ++s) {
            // A loin that runs out to a point has nothing on its last face, and reaches there.
            const double from = place(s > 0 && faces[s - 1].empty() ? s - 1 : s);
            const double to = place(s + 1 < faces.size() && faces[s + 1].empty() ? s + 1 : s);
            for (const detail::painted_region& region : faces[s]) {
                const auto [left, right] = region.shape.extent(&detail::flat_point::x);
                low_ = std::min(low_, left);
                high_ = std::max(high_, right);
                begin_ = std::min(begin_, from + detail::unfused(left * tangent_));
                end_ = std::max(end_, to + detail::unfused(right * tangent_));
            }
        }
        if (!(low_ < high_)) throw invalid_input("outlines", "none on any face", "a model that paints its faces");
        for (auto& column : shares_.values) column.assign(stations * strips, 0.0);
        for (std::size_t s = 0; s < stations; ++s) {
            by_tissue<double> sums;
            for (std::size_t line = 0; line < strips * lines_a_strip; ++line) {
                const double w = low_ + (static_cast<double>(line) + 0.5) * (high_ - low_) / (strips * lines_a_strip);
                for (const detail::seen_stretch& seen : detail::seen_along(faces[s * faces_a_station], w)) {
                    shares_[seen.fill][s * strips + line / lines_a_strip] += seen.to - seen.from;
                    sums[seen.fill] += seen.to - seen.from;
                }
            }
            for (const tissue t : all_tissues)
                for (std::size_t k = 0; k < strips && sums[t] > 0.0; ++k) shares_[t][s * strips + k] /= sums[t];
        }
        if (tangent_ > 0.0)
            outlines_ = std::make_shared<const detail::tilted_outlines<>>(std::move(faces), loin, tangent_);
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
        return detail::unfused((1.0 - part) * here) + detail::unfused(part * next);
    }

    Model model_;
    loin_side flank_ = loin_side::right;
    double about_vertical_ = 0.0, about_transverse_ = 0.0; // in the directions of the outlines
    double cosine_ = 1.0, tangent_ = 0.0;
    detail::flat_point turn_{1.0, 0.0};     // direction of the tilt on the face
    double low_ = 0.0, high_ = 0.0;         // of the face in that direction, over all stations
    double begin_ = 0.0, end_ = 0.0;        // stations at which the first and the last face meet the line w = 0
    by_tissue<std::vector<double>> shares_; // stations × strips
    std::shared_ptr<const detail::tilted_outlines<>> outlines_; // none when not tilted
};

} // namespace tranche
