// A loin cut by a tilted knife: the same meat, measured along the normal of the cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/loin/cut_tilt.hpp>
#include <tranche/loin/detail/checked_face.hpp>
#include <tranche/loin/detail/slanted_reading.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/outline/detail/section_columns.hpp>
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
/// What strips have of the outlines is exact at 65 stations and runs straight between them; areas of straight faces run
/// along parabolas between 513, layers straight between knots no more than 5 mm apart, all read when it is made. O(stations ×
/// points log points); `face_at` is O(strips). The error is of second order in the width of a strip and the distance of
/// stations. Areas bend where a strip begins or ends on the loin, so that of a table is of second order in its step. Copies
/// share what was read.
template <shaped_loin_model Model>
class slanted_loin {
public:
    /// `flank` says which way across the outlines of the model run, and so on which side of the loin the left is
    /// towards which the tilt swings. Throws `invalid_input` for a tilt beyond 30 degrees and what the model's
    /// `validate` throws. Also for bad layers of a face, and for a model that paints no outlines.
    slanted_loin(Model model, const cut_tilt& tilt) : slanted_loin(std::move(model), tilt, std::nullopt) {}
    /// The same with the flank on a side that is given.
    slanted_loin(Model model, const cut_tilt& tilt, loin_side flank)
        : slanted_loin(std::move(model), tilt, std::optional(flank)) {}

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] length extent() const { return (end_ - begin_) * cosine_ * metre; }
    /// The loin that the knife is held to. It weighs as much: no tilt takes meat away. Throws nothing.
    [[nodiscard]] const Model& straight() const { return model_; }
    /// The side that the flank lies on. Throws nothing.
    [[nodiscard]] loin_side flank() const { return flank_; }
    /// What the straight loin weighs, in kilograms, above zero, if that is known. Throws what the model does.
    [[nodiscard]] std::optional<mass> known_mass() const requires detail::knows_mass<Model> {
        return model_.known_mass();
    }
    static constexpr bool refilled_as_a_whole = true;
    /// The share of its width × depth that a face fills, above 0 to 1. Throws nothing.
    [[nodiscard]] fraction fill() const requires detail::leaves_fill_open<Model> { return model_.fill(); }
    /// The same cut through faces that are filled otherwise, above 0 to 1; all is read again, as when it was made.
    /// Throws as the constructor.
    [[nodiscard]] slanted_loin with_fill(fraction filled) const requires detail::leaves_fill_open<Model> {
        return slanted_loin(model_.with_fill(filled), tilt_, flank_);
    }

    /// The face on the tilted plane at `at`, 0 to the extent along the normal: areas in square metres, layers in
    /// metres, as above. O(strips); throws what the model does.
    [[nodiscard]] face face_at(length at) const {
        if (tangent_ == 0.0) return model_.face_at(std::clamp(at, length{}, model_.extent()));
        const double loin = model_.extent().value(), origin = origin_of(at);
        face f = read_->layers_at(at.value() / extent().value());
        // The station in the middle of the cut.
        const auto [width, depth] = read_->size_at(middle_station(origin) / loin);
        f.width = width * metre / std::cos(about_vertical_);
        f.depth = depth * metre / std::cos(about_transverse_);
        by_tissue<double> sums;
        for_each_strip(origin, [&](std::size_t k, double station, double inside) {
            const by_tissue<double> there = read_->areas_at(station / loin), part = read_->shares_at(station / loin, k);
            for (const tissue t : all_tissues) sums[t] += detail::unfused(there[t] * (part[t] * inside / cosine_));
        });
        for (const tissue t : all_tissues) f.areas[t] = area::from_value(sums[t]);
        return f;
    }

    /// The outlines on the tilted plane, in its own directions, as `scanned_loin` has them: across level with the
    /// board, up at right angles to it. What lies on the plane is read off the straight outlines on lines across the
    /// tilt, so areas are those of the straight outlines to second order in the distance of lines and of the 257
    /// places, and to first order where the upright edge of a tissue moves along the loin. Not tilted, they are the
    /// model's own. O(lines × corners). In metres. Throws what the model does.
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
        detail::tilted_outlines outlines([this](std::size_t s) { return turned_face(s); }, faces,
                                         model_.extent().value(), tangent_, low_, high_);
        for (const auto& [fill, part] : outlines.painted(origin))
            for (outline& curve : detail::outlines_of(part)) {
                onto_plane(curve.points);
                for (auto& hole : curve.holes) onto_plane(hole);
                painted.push_back({fill, std::move(curve)});
            }
        return painted;
    }

private:
    static constexpr std::size_t strips = detail::slanted_reading<>::strips,
                                 stations = detail::slanted_reading<>::stations;
    static constexpr std::size_t faces_a_station = 4, faces = (stations - 1) * faces_a_station + 1; // for pictures

    slanted_loin(Model model, const cut_tilt& tilt, std::optional<loin_side> flank)
        : model_(detail::as_tabulated(model)), tilt_(detail::snapped(tilt)), flank_(flank ? *flank : flank_of(model_)) {
        validate_model(model_);
        validate(tilt);
        // Outlines run across towards the flank, and a knife swings to the left.
        const double a = flank_ == loin_side::left ? tilt_.about_vertical.value() : -tilt_.about_vertical.value();
        const double b = tilt_.about_transverse.value();
        about_vertical_ = a, about_transverse_ = b;
        cosine_ = std::cos(a) * std::cos(b);
        // The normal is (cos a cos b, sin a cos b, sin b) along the axis, across and up.
        const double across = std::tan(a), up = std::tan(b) / std::cos(a);
        tangent_ = std::hypot(across, up);
        if (tangent_ < 1e-9) tangent_ = 0.0; // a nanometre over a metre is no tilt
        if (tangent_ > 0.0) turn_ = {across / tangent_, up / tangent_};
        read();
    }

    /// The station at which the face meets the line w = 0.
    [[nodiscard]] double origin_of(length at) const { return begin_ + at.value() / cosine_; }

    [[nodiscard]] double middle_station(double origin) const {
        return origin - detail::unfused(0.5 * (low_ + high_) * tangent_);
    }

    /// Calls f(strip, station, share of the strip inside the loin) for each strip of a cut that lies on the loin.
    template <class F>
    void for_each_strip(double origin, F&& f) const {
        const double loin = model_.extent().value();
        const double width = (high_ - low_) / strips, spread = detail::unfused(0.5 * width * tangent_);
        for (std::size_t k = 0; k < strips; ++k) {
            // The strip covers a stretch of stations; only what lies on the loin counts.
            const double station =
                origin - detail::unfused((low_ + detail::unfused((static_cast<double>(k) + 0.5) * width)) * tangent_);
            const double from = std::max(0.0, station - spread), to = std::min(loin, station + spread);
            if (!(from > to)) f(k, 0.5 * (from + to), (to - from) / (2.0 * spread));
        }
    }

    [[nodiscard]] double place_of(std::size_t s) const {
        return detail::unfused(static_cast<double>(s) / static_cast<double>(faces - 1) * model_.extent().value());
    }
    /// A straight face, turned so that the tilt is along x.
    [[nodiscard]] std::vector<detail::painted_region> turned_face(std::size_t s) const {
        std::vector<detail::painted_region> face;
        for (const painted_outline& p : model_.painted_at(length::from_value(place_of(s)))) {
            if (p.curve.points.size() < 3) continue;
            face.push_back({p.fill, detail::flat_region(p.curve)});
            face.back().shape.move([&](detail::flat_point q) -> detail::flat_point {
                return {detail::unfused(turn_.x * q.x) + detail::unfused(turn_.y * q.y),
                        detail::unfused(turn_.x * q.y) - detail::unfused(turn_.y * q.x)};
            });
        }
        return face;
    }

    void read() {
        if (tangent_ == 0.0) {
            begin_ = 0.0, end_ = model_.extent().value();
            return;
        }
        std::vector<std::vector<detail::painted_region>> straight;
        for (std::size_t s = 0; s < stations; ++s) straight.push_back(turned_face(s * faces_a_station));
        find_ends(straight);
        auto reading = std::make_shared<detail::slanted_reading<>>(straight, low_, high_);
        const double loin = model_.extent().value();
        reading->read_faces([&](double part) {
            const length at = length::from_value(part * loin);
            face f = model_.face_at(at);
            detail::require_layers(f, at);
            return f;
        });
        reading->read_layers(extent(), [&](double part, auto&& add) {
            for_each_strip(origin_of(part * extent()), [&](std::size_t k, double station, double inside) {
                const by_tissue<double> shares = reading->shares_at(station / loin, k);
                add(model_.face_at(length::from_value(station)), shares, inside);
            });
        });
        read_ = std::move(reading);
    }

    /// How far the outlines reach across the tilt, and the stations at which the plane begins and ends to meet them. On a
    /// loin that bulges that may be between two stations, and the faces around the outermost are asked as well.
    void find_ends(const std::vector<std::vector<detail::painted_region>>& straight) {
        low_ = begin_ = std::numeric_limits<double>::infinity();
        high_ = end_ = -low_;
        std::array<std::size_t, 4> outermost{};
        const auto look = [&](const std::vector<detail::painted_region>& face, std::size_t s, double from, double to) {
            for (const detail::painted_region& region : face) {
                const auto [left, right] = region.shape.extent(&detail::flat_point::x);
                const double begin = from + detail::unfused(left * tangent_),
                             end = to + detail::unfused(right * tangent_);
                if (left < low_) low_ = left, outermost[0] = s;
                if (right > high_) high_ = right, outermost[1] = s;
                if (begin < begin_) begin_ = begin, outermost[2] = s;
                if (end > end_) end_ = end, outermost[3] = s;
            }
        };
        for (std::size_t s = 0; s < faces; s += faces_a_station)
            look(straight[s / faces_a_station], s, place_of(s), place_of(s));
        if (!(low_ < high_)) throw invalid_input("outlines", "none on any face", "a model that paints its faces");
        std::vector<std::optional<std::vector<detail::painted_region>>> made(faces);
        const auto face_number = [&](std::size_t s) -> const std::vector<detail::painted_region>& {
            if (!made[s]) made[s] = turned_face(s);
            return *made[s];
        };
        for (const std::size_t s : std::array(outermost))
            for (std::size_t i = s - std::min(s, faces_a_station - 1); i < std::min(s + faces_a_station, faces); ++i) {
                // A loin that runs out to a point has nothing on its last face, and reaches there.
                const double from = place_of(i > 0 && face_number(i - 1).empty() ? i - 1 : i);
                const double to = place_of(i + 1 < faces && face_number(i + 1).empty() ? i + 1 : i);
                look(face_number(i), i, from, to);
            }
    }

    Model model_;
    cut_tilt tilt_{};
    loin_side flank_ = loin_side::right;
    double about_vertical_ = 0.0, about_transverse_ = 0.0; // in the directions of the outlines
    double cosine_ = 1.0, tangent_ = 0.0;
    detail::flat_point turn_{1.0, 0.0}; // direction of the tilt on the face
    double low_ = 0.0, high_ = 0.0;     // of the face in that direction, over all stations
    double begin_ = 0.0, end_ = 0.0;    // stations at which the first and the last face meet the line w = 0
    std::shared_ptr<const detail::slanted_reading<>> read_; // none when not tilted
};

} // namespace tranche
