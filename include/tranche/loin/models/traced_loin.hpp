// A loin from traced faces: outlines of the tissues on a few cuts or photographs, and the distances between them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/outline/detail/blended_outline.hpp>
#include <tranche/loin/outline/detail/section_columns.hpp>
#include <tranche/loin/outline/detail/silverskin_band.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/tape/detail/monotone.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The outlines on one face, `at` from the rib face. What of the whole face is neither eye, gluteus medius nor tail is fat
/// cover. All outlines of a face share one origin; the tail lies on one side of the eye.
struct traced_face {
    length at{};
    outline whole{}, eye{};
    std::optional<outline> gluteus_medius{}, tail{};

    friend bool operator==(const traced_face&, const traced_face&) = default;
};

namespace detail {

/// How much of a layer lies how far from the lean, collected piece by piece.
class layer_sampler {
public:
    void add(double distance, double amount) { pieces_.emplace_back(distance, amount); }

    /// The layer of the pieces beyond `least`, measured from there: what lies closer is something else.
    [[nodiscard]] layer beyond(double least) {
        std::sort(pieces_.begin(), pieces_.end());
        auto piece = std::find_if(pieces_.begin(), pieces_.end(), [&](const auto& p) { return p.first >= least; });
        if (piece == pieces_.end()) return {};
        double left = 0.0;
        for (auto p = piece; p != pieces_.end(); ++p) left += p->second;
        const double deepest = pieces_.back().first;
        layer result{.thickness = length::from_value(deepest - least)};
        double within = 0.0;
        for (std::size_t k = 0; k < result.spread.size(); ++k) {
            const double depth = least + unfused((deepest - least) * even_spread[k]);
            for (; piece != pieces_.end() && piece->first <= depth; ++piece) within += piece->second;
            result.spread[k] = within / left;
        }
        result.spread.back() = 1.0;
        return result;
    }

private:
    std::vector<std::pair<double, double>> pieces_;
};

/// A traced face taken apart. Each point of the whole face belongs to the first of eye, gluteus medius and tail that it lies
/// in, or else to the fat.
template <class = when_called>
class traced_tissues {
public:
    /// Throws `invalid_input`, with `where` before the outline's name, for a bad outline, or if more than a hundredth of one
    /// lies outside the whole face or on another. Less is the thickness of the pencil.
    traced_tissues(const traced_face& traced, const std::string& where) {
        const auto read = [&](const outline& curve, const std::string& name) {
            validate(curve, where + name);
            return flat_region(curve);
        };
        regions_.whole = read(traced.whole, "whole");
        regions_.eye = read(traced.eye, "eye");
        if (traced.gluteus_medius) regions_.gluteus_medius = read(*traced.gluteus_medius, "gluteus_medius");
        if (traced.tail) regions_.tail = read(*traced.tail, "tail");
        require_apart(regions_.eye, {}, where + "eye");
        require_apart(regions_.gluteus_medius, {&regions_.eye}, where + "gluteus_medius");
        require_apart(regions_.tail, {&regions_.eye, &regions_.gluteus_medius}, where + "tail");
    }

    /// Areas by the shoelace formula; layers by sampling the fat and the tail on `lines` lines. A silverskin is what of the
    /// fat lies no further from the lean than it is thick (`silverskin_band`).
    [[nodiscard]] face measured(length silverskin) const {
        face f;
        f.areas[tissue::eye] = area::from_value(regions_.eye.area());
        f.areas[tissue::gluteus_medius] = area::from_value(area_or_none(regions_.gluteus_medius));
        f.areas[tissue::tail] = area::from_value(area_or_none(regions_.tail));
        const double fat = regions_.whole.area() - regions_.eye.area() - area_or_none(regions_.gluteus_medius) -
                           area_or_none(regions_.tail);
        const auto [left, right] = regions_.whole.extent(&flat_point::x);
        const auto [low, high] = regions_.whole.extent(&flat_point::y);
        f.width = length::from_value(right - left);
        f.depth = length::from_value(high - low);

        layer_sampler depths, lengths;
        const auto [eye_left, eye_right] = regions_.eye.extent(&flat_point::x);
        bool tail_beyond = true; // the eye, seen from the chine
        if (!regions_.tail.empty()) {
            const auto [tail_left, tail_right] = regions_.tail.extent(&flat_point::x);
            tail_beyond = tail_left + tail_right > eye_left + eye_right;
        }
        const double step = (right - left) / lines;
        const double most = std::max(step, (high - low) / lines); // of the height of a piece
        for (int i = 0; i < lines; ++i) {
            const double x = left + unfused((i + 0.5) * step);
            for (const auto& [bottom, top] : fat_chords(x)) {
                const int pieces = 1 + static_cast<int>((top - bottom) / most);
                const double height = (top - bottom) / pieces;
                for (int k = 0; k < pieces; ++k) {
                    const flat_point p{x, bottom + unfused((k + 0.5) * height)};
                    depths.add(std::min(regions_.eye.distance_to_edge(p), regions_.gluteus_medius.distance_to_edge(p)),
                               unfused(step * height));
                }
            }
            if (regions_.tail.empty()) continue;
            const double reach = std::max(0.0, tail_beyond ? x - eye_right : eye_left - x);
            for (const auto& [bottom, top] : regions_.tail.chords(x))
                lengths.add(reach, unfused(step * (top - bottom)));
        }
        const double skin = silverskin.value();
        f.fat_cover = depths.beyond(skin);
        f.tail = lengths.beyond(0.0);
        const double band =
            skin > 0.0 ? std::min(std::max(0.0, fat), area_of(silverskin_band(regions_, skin, false))) : 0.0;
        f.areas[tissue::connective] = area::from_value(band);
        f.areas[tissue::fat_cover] = area::from_value(std::max(0.0, fat - band));
        return f;
    }

private:
    static constexpr int lines = 400; // less than half a millimetre apart on any face of a loin

    [[nodiscard]] static double area_or_none(const flat_region& region) { return region.empty() ? 0.0 : region.area(); }

    [[nodiscard]] chord_list fat_chords(double x) const {
        return without(
            without(without(regions_.whole.chords(x), regions_.eye.chords(x)), regions_.gluteus_medius.chords(x)),
            regions_.tail.chords(x));
    }

    /// Throws if too much of a region lies outside the whole face or on one of the others.
    void require_apart(const flat_region& region, const std::vector<const flat_region*>& others,
                       const std::string& name) const {
        if (region.empty()) return;
        const auto [left, right] = region.extent(&flat_point::x);
        const double step = (right - left) / lines;
        double all = 0.0, bad = 0.0;
        for (int i = 0; i < lines; ++i) {
            const double x = left + unfused((i + 0.5) * step);
            const chord_list own = region.chords(x);
            chord_list good = without(own, without(own, regions_.whole.chords(x)));
            for (const flat_region* other : others) good = without(good, other->chords(x));
            all += total_length(own);
            bad += total_length(own) - total_length(good);
        }
        if (bad > 0.01 * all)
            throw invalid_input(name,
                                "an outline with " + detail::shown(100.0 * bad / all, 1) + " % of its area outside",
                                "one inside the whole face and clear of the other tissues");
    }

    traced_regions regions_;
};

} // namespace detail

/// A silverskin is a millimetre thick or two; more than this is a slip of the keyboard (common practice, no source).
inline constexpr length thickest_silverskin = 50.0 * millimetre;

/// Traced faces in order along the loin. Areas are those of the polygons on a traced face; in between each tissue's area,
/// and each layer, is interpolated without overshoot; beyond the outermost faces they stay as they are. The depth of fat is
/// its distance from the nearest lean, which is at right angles to it, less the silverskin in between; the length of tail is
/// measured straight across from the edge of the eye. Their spreads are sampled on 400 lines across the face.
class traced_loin {
public:
    /// `silverskin` is the thickness of the band between lean and fat, zero for none, at most `thickest_silverskin`. It, the
    /// length and the places of the faces are read to 1/16 um, outlines as they were traced. Throws
    /// `invalid_input` for a bad length, no faces, faces out of order or beyond the loin, and bad outlines, naming face and
    /// outline. O(faces × points × samples of the fat).
    template <class = detail::when_called>
    traced_loin(length extent, std::vector<traced_face> faces, length silverskin = {})
        : extent_(detail::snapped(extent)), silverskin_(detail::snapped(silverskin)), faces_(std::move(faces)) {
        detail::require_positive(extent_, "length");
        detail::require_not_negative(silverskin, "silverskin");
        if (silverskin_ > thickest_silverskin)
            throw invalid_input("silverskin", detail::shown(silverskin),
                                "at most " + detail::shown(thickest_silverskin));
        if (faces_.empty()) throw invalid_input("faces", "none", "at least one");
        for (std::size_t i = 0; i < faces_.size(); ++i) {
            const std::string where = "faces[" + std::to_string(i) + "].";
            detail::require_not_negative(faces_[i].at, where + "at");
            faces_[i].at = detail::snapped(faces_[i].at);
            if (faces_[i].at > extent_)
                throw invalid_input(where + "at", detail::shown(faces_[i].at),
                                    "at most the length, " + detail::shown(extent_));
            if (i > 0 && !(faces_[i].at > faces_[i - 1].at))
                throw invalid_input(where + "at", detail::shown(faces_[i].at),
                                    "more than at the face before it, " + detail::shown(faces_[i - 1].at));
            measured_.push_back(detail::traced_tissues(faces_[i], where).measured(silverskin_));
        }
    }

    [[nodiscard]] length extent() const { return extent_; }
    [[nodiscard]] const std::vector<traced_face>& faces() const { return faces_; }

    template <class = detail::when_called>
    [[nodiscard]] face face_at(length at) const {
        const auto mixed = [&](auto reading) {
            return detail::monotone_interpolation(
                faces_.size(), [&](std::size_t i) { return faces_[i].at.value(); },
                [&](std::size_t i) { return reading(measured_[i]); }, at.value());
        };
        face f;
        for (const tissue t : all_tissues)
            f.areas[t] = area::from_value(mixed([t](const face& m) { return m.areas[t].value(); }));
        f.width = length::from_value(mixed([](const face& m) { return m.width.value(); }));
        f.depth = length::from_value(mixed([](const face& m) { return m.depth.value(); }));
        for (layer face::*which : {&face::fat_cover, &face::tail}) {
            (f.*which).thickness =
                length::from_value(mixed([which](const face& m) { return (m.*which).thickness.value(); }));
            // Each entry bends by itself, so one may come out a little below the one before it.
            double before = 0.0;
            for (std::size_t k = 0; k < even_spread.size(); ++k) {
                before = std::max(before, mixed([which, k](const face& m) { return (m.*which).spread[k]; }));
                (f.*which).spread[k] = before;
            }
        }
        return f;
    }

    /// The outlines between two traced faces are blended point by point, with their holes; one that stands on only one of them
    /// shrinks towards its middle. For pictures and slanted cuts: areas are interpolated by themselves. The silverskin is a
    /// band of its thickness along the lean that is painted.
    template <class = detail::when_called>
    [[nodiscard]] painted_face painted_at(length at) const {
        std::size_t k = 0;
        while (k + 2 < faces_.size() && at > faces_[k + 1].at) ++k;
        const traced_face &a = faces_[k], &b = faces_[std::min(k + 1, faces_.size() - 1)];
        const double t = b.at > a.at ? std::clamp<double>((at - a.at) / (b.at - a.at), 0.0, 1.0) : 0.0;
        const auto mixed = [&](const std::optional<outline>& one, const std::optional<outline>& other) -> outline {
            if (one && other) return detail::blended(*one, *other, t);
            if (one && t < 1.0) return detail::shrunk(*one, std::sqrt(1.0 - t));
            if (other && t > 0.0) return detail::shrunk(*other, std::sqrt(t));
            return {};
        };
        const outline whole = detail::blended(a.whole, b.whole, t), eye = detail::blended(a.eye, b.eye, t);
        const outline tail = mixed(a.tail, b.tail), second_muscle = mixed(a.gluteus_medius, b.gluteus_medius);
        painted_face painted{{tissue::fat_cover, whole}};
        if (silverskin_ > length{}) {
            const auto region = [](const outline& curve) {
                return curve.points.empty() ? detail::flat_region() : detail::flat_region(curve);
            };
            const detail::section_part band = detail::silverskin_band(
                {region(whole), region(eye), region(second_muscle), {}}, silverskin_.value(), true);
            for (outline& curve : detail::outlines_of(band)) painted.push_back({tissue::connective, std::move(curve)});
        }
        if (!tail.points.empty()) painted.push_back({tissue::tail, tail});
        painted.push_back({tissue::eye, eye});
        // On top: it may grow out of the eye.
        if (!second_muscle.points.empty()) painted.push_back({tissue::gluteus_medius, second_muscle});
        return painted;
    }

private:
    length extent_, silverskin_;
    std::vector<traced_face> faces_;
    std::vector<face> measured_; ///< beside `faces_`
};

} // namespace tranche
