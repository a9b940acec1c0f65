// A loin from traced faces: outlines of the tissues on a few cuts or photographs, and the distances between them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/detail/face_columns.hpp>
#include <tranche/loin/detail/face_course.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/outline/detail/blended_outline.hpp>
#include <tranche/loin/outline/detail/near_lean.hpp>
#include <tranche/loin/outline/detail/section_columns.hpp>
#include <tranche/loin/outline/detail/traced_tissues.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/units/detail/snapped.hpp>
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

/// A silverskin is a millimetre thick or two; more than this is a slip of the keyboard (common practice, no source).
inline constexpr length thickest_silverskin = 50.0 * millimetre;

/// Traced faces in order along the loin. Areas are those of the polygons on a traced face; in between each tissue's area, width
/// and depth, and the thickness of each layer, is interpolated without overshoot, and a layer's spread is a mixture of those of
/// the two faces, a third of the way two thirds of the first. Beyond the outermost faces all stays as it is. The depth of fat is
/// its distance from the nearest lean, which is at right angles to it, less the silverskin in between; the length of tail is
/// measured straight across from the edge of the eye. On a traced face silverskin and spreads are those of the polygons, with
/// round arcs about their corners, exact but for rounding; the greatest depth to a tenth of a micrometre.
class traced_loin {
public:
    /// `silverskin` is the thickness of the band between lean and fat, zero for none, at most `thickest_silverskin`.
    /// It, the length and the places of the faces are read to 1/16 um, corners of outlines to 1/65536 um. Throws
    /// `invalid_input` for a bad length, no faces, faces out of order or beyond the loin, and bad outlines, naming face
    /// and outline. O(faces × points log points), where few sides come near each other. Lengths in metres; the first
    /// face at zero or more.
    template <class = detail::when_called>
    traced_loin(length extent, std::vector<traced_face> faces, length silverskin = {})
        : extent_(detail::snapped(extent)), silverskin_(detail::snapped(silverskin)), faces_(std::move(faces)) {
        detail::require_positive(extent_, "length");
        detail::require_not_negative(silverskin, "silverskin");
        if (silverskin_ > thickest_silverskin)
            throw invalid_input("silverskin", detail::shown(silverskin),
                                "at most " + detail::shown(thickest_silverskin));
        if (faces_.empty()) throw invalid_input("faces", "none", "at least one");
        std::vector<face> measured;
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
            for (outline* curve : {&faces_[i].whole, &faces_[i].eye}) *curve = detail::snapped(std::move(*curve));
            for (std::optional<outline>* curve : {&faces_[i].gluteus_medius, &faces_[i].tail})
                if (*curve) **curve = detail::snapped(std::move(**curve));
            measured.push_back(detail::traced_tissues<>(read(faces_[i], where), where).measured(silverskin_));
        }
        for (std::size_t i = 0; i < faces_.size(); ++i) {
            const traced_face &a = faces_[i], &b = faces_[std::min(i + 1, faces_.size() - 1)];
            if (i == 0 || i + 1 < faces_.size())
                gaps_.push_back(
                    {{a.whole, b.whole}, {a.eye, b.eye}, {a.gluteus_medius, b.gluteus_medius}, {a.tail, b.tail}});
        }
        course_ = detail::face_course<>(
            faces_.size(), [this](std::size_t i) { return faces_[i].at; }, measured);
    }

    /// From the rib face to the sirloin face, in metres, above zero where the model is valid. Throws nothing.
    [[nodiscard]] length extent() const { return extent_; }
    /// The faces as they were traced, in metres, with places on the grain of 1/16 um and corners on that of 1/65536 um.
    /// Throws nothing.
    [[nodiscard]] const std::vector<traced_face>& faces() const { return faces_; }

    /// The face at `at`, 0 to the extent: areas in square metres, layers in metres. Beyond the outermost faces all
    /// stays. O(faces); throws nothing.
    template <class = detail::when_called>
    [[nodiscard]] face face_at(length at) const {
        return course_.at(at);
    }
    /// What `face_at` says, on a stretch of a grid at once. Places are 0 to the extent, in metres, and not checked;
    /// throws nothing.
    template <class = detail::when_called>
    void read_faces(const detail::grid_block& block, detail::face_columns& columns) const {
        course_.read(block, columns);
    }

    /// The outlines between two traced faces are blended point by point, with their holes, as the curves run alongside
    /// each other at their closest; one that stands on only one of them shrinks towards its middle. Each has the area
    /// that its tissue has on `face_at`, and the whole face that of all. For pictures and slanted cuts. The silverskin
    /// is a band of its thickness along the lean that is painted. In metres, `at` from 0 to the extent. Throws nothing
    /// but for lack of memory.
    template <class = detail::when_called>
    [[nodiscard]] painted_face painted_at(length at) const {
        std::size_t k = 0;
        while (k + 1 < gaps_.size() && at > faces_[k + 1].at) ++k;
        const length from = faces_[k].at, to = faces_[std::min(k + 1, faces_.size() - 1)].at;
        const double t = to > from ? std::clamp<double>((at - from) / (to - from), 0.0, 1.0) : 0.0;
        const face f = face_at(at);
        const auto mixed = [&](const detail::blended_outline<>& blend, area size) -> outline {
            outline curve = blend.at(t);
            const area has = area_of(curve);
            // On a traced face it is the one that was traced.
            return t > 0.0 && t < 1.0 && has > area{} ? detail::scaled(curve, std::sqrt(double(size / has))) : curve;
        };
        const gap& here = gaps_[k];
        const outline whole = mixed(here.whole, f.areas.sum()), eye = mixed(here.eye, f.areas[tissue::eye]);
        const outline tail = mixed(here.tail, f.areas[tissue::tail]);
        const outline second_muscle = mixed(here.gluteus_medius, f.areas[tissue::gluteus_medius]);
        painted_face painted{{tissue::fat_cover, whole}};
        if (silverskin_ > length{}) {
            const auto region = [](const outline& curve) {
                return curve.points.empty() ? detail::flat_region() : detail::flat_region(curve);
            };
            const detail::section_part band =
                detail::near_lean<>({region(whole), region(eye), region(second_muscle), {}}).band(silverskin_.value());
            for (outline& curve : detail::outlines_of(band)) painted.push_back({tissue::connective, std::move(curve)});
        }
        if (!tail.points.empty()) painted.push_back({tissue::tail, tail});
        painted.push_back({tissue::eye, eye});
        // On top: it may grow out of the eye.
        if (!second_muscle.points.empty()) painted.push_back({tissue::gluteus_medius, second_muscle});
        return painted;
    }

private:
    template <class = detail::when_called>
    [[nodiscard]] static detail::traced_regions read(const traced_face& traced, const std::string& where) {
        const auto checked = [&](const outline& curve, const char* name) {
            validate(curve, where + name);
            return detail::flat_region(curve);
        };
        detail::traced_regions regions;
        regions.whole = checked(traced.whole, "whole");
        regions.eye = checked(traced.eye, "eye");
        if (traced.gluteus_medius) regions.gluteus_medius = checked(*traced.gluteus_medius, "gluteus_medius");
        if (traced.tail) regions.tail = checked(*traced.tail, "tail");
        return regions;
    }

    struct gap { // between two faces, or where there is one, from it to itself
        detail::blended_outline<> whole, eye, gluteus_medius, tail;
    };
    length extent_, silverskin_;
    std::vector<traced_face> faces_;
    std::vector<gap> gaps_;
    detail::face_course<> course_; ///< through them
};

} // namespace tranche
