// A face from what a tape measure says of it: width, depth, fat cover and tail, filled like a superellipse.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>

#include <tranche/loin/face.hpp>
#include <tranche/loin/tape/cap_spread.hpp>
#include <tranche/loin/tape/detail/comma_face.hpp>
#include <tranche/loin/tape/detail/tail_shape.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The readings of one face. `width` runs from the chine edge to the tip of the tail, `depth` from the board to the top
/// of the fat; `fat_cover` is a part of the depth, read straight down over the middle, where it is thickest; `tail` is a part
/// of the width.
struct taped_readings {
    length width{}, depth{}, fat_cover{}, tail{};

    friend bool operator==(const taped_readings&, const taped_readings&) = default;
};

/// How readings become areas.
struct face_shape {
    fraction fill = 0.80; ///< area over width × depth of the face without its tail, above 0 to 1. The default is
                          ///< the usual factor for the loin eye: common practice, no source. Up to 0.82, where
                          ///< `doubts` begins to ask, no end of the face is drawn upright for a millimetre; above,
                          ///< areas and sizes stay as read, but the ends become walls as those of a box
    fraction tail_depth = 0.40; ///< thickness of the tail over the depth of the face: common practice, no source
    length silverskin{};        ///< thickness of the band between lean and fat; zero: not counted

    friend bool operator==(const face_shape&, const face_shape&) = default;
};

namespace detail {

[[nodiscard]] inline taped_readings snapped(const taped_readings& r) {
    return {snapped(r.width), snapped(r.depth), snapped(r.fat_cover), snapped(r.tail)};
}
/// Shares are read to a billionth, the fill that a scale makes of it too.
[[nodiscard]] inline face_shape snapped(const face_shape& shape) {
    return {snapped_share(shape.fill), snapped_share(shape.tail_depth), snapped(shape.silverskin)};
}

/// The same model of tape readings, of faces that are filled otherwise.
template <class Model>
[[nodiscard]] Model filled_so(Model model, fraction fill) {
    model.shape.fill = fill;
    return model;
}

/// Whether tails are tapers beside the face; beside a box they are boxes, and of even thickness.
[[nodiscard]] inline bool tails_taper(const face_shape& shape) { return shape.tail_depth > 0.0 && !is_box(shape.fill); }

/// The tail of a face whose body, the face without it, is so wide; in metres, with a tail and a thickness of it.
[[nodiscard]] inline tail_shape tail_shape_of(double body, double tail, const face_shape& shape) {
    if (is_box(shape.fill)) return {.tip = 0.0, .taper = {.share = 1.0, .level = 1.0}};
    return tail_shapes(shape.fill, shape.tail_depth, ends_of(shape.fill).flank).of(body, tail);
}

/// How high the tips of the face are that these readings describe. In metres.
[[nodiscard]] inline face_ends tips_of(double width, double depth, double cover, double tail, const face_shape& shape) {
    face_ends ends = ends_of(shape.fill).under((cover + shape.silverskin.value()) / depth);
    if (tail > 0.0 && tails_taper(shape)) ends.flank = tail_shape_of(width - tail, tail, shape).tip;
    return ends;
}

/// How steep the lower edge of the cover is towards either end, as `cap_spread` wants it.
struct cap_slopes {
    double chine = 0.0, flank = 0.0;
};

/// With t the tip of an end, the edge lies at t d + ((1 - t) d - c) y. In metres.
[[nodiscard]] inline cap_slopes cap_slopes_of(double width, double depth, double cover, double tail,
                                              const face_ends& tips) {
    const double per_half = 2.0 / (width - tail);
    const auto slope = [&](double tip) { return std::abs((unfused((1.0 - tip) * depth) - cover) * per_half); };
    return {slope(tips.chine), slope(tips.flank)};
}

} // namespace detail

/// The face that the readings describe. With w = width - tail, d = depth, c = fat cover, s = silverskin and f = fill:
/// fat = f w c, connective = f w s, lean = f w (d - c - s), tail = tail × tail_depth × d. `gluteus_medius` is its share of
/// the lean, 0 to 1. The fat runs out at both edges, as the face is drawn (`taped_outlines`): its spread is the mean of the
/// `cap_spread`s of both ends, so a trim to half of the cover takes less than half. The tail's layer is a taper beside what lies on
/// the flank of the eye (`detail::tail_shape`), so a trim straight down leaves just what is drawn in front of it. Readings are lengths, as `validate` wants
/// them, which is not called here: others give areas that are no face. Throws nothing of its own. The formulas are common
/// practice, no source.
template <class = detail::when_called>
[[nodiscard]] face taped_face(const taped_readings& r, const face_shape& shape, fraction gluteus_medius) {
    const area band = shape.fill * (r.width - r.tail) * metre; // of one metre's thickness
    const area lean = band * ((r.depth - r.fat_cover - shape.silverskin) / metre);
    face f;
    f.areas[tissue::eye] = detail::unfused(lean * (1.0 - gluteus_medius));
    f.areas[tissue::gluteus_medius] = detail::unfused(lean * gluteus_medius);
    f.areas[tissue::fat_cover] = detail::unfused(band * (r.fat_cover / metre));
    f.areas[tissue::connective] = detail::unfused(band * (shape.silverskin / metre));
    f.areas[tissue::tail] = detail::unfused(r.tail * (shape.tail_depth * r.depth));
    f.fat_cover = {r.fat_cover};
    if (r.fat_cover > length{} && shape.fill < 1.0) {
        const double width = r.width.value(), depth = r.depth.value(), cover = r.fat_cover.value();
        const detail::cap_slopes slopes = detail::cap_slopes_of(
            width, depth, cover, r.tail.value(), detail::tips_of(width, depth, cover, r.tail.value(), shape));
        const layer_spread chine = cap_spread(shape.fill, slopes.chine), flank = cap_spread(shape.fill, slopes.flank);
        for (std::size_t k = 0; k < chine.size(); ++k) f.fat_cover.spread[k] = 0.5 * (chine[k] + flank[k]);
    }
    f.tail = {r.tail};
    if (r.tail > length{} && detail::tails_taper(shape)) {
        f.tail.spread = detail::all_at_once;
        f.tail.taper = detail::tail_shape_of((r.width - r.tail).value(), r.tail.value(), shape).taper;
    }
    f.width = r.width;
    f.depth = r.depth;
    return f;
}

/// Throws `invalid_input`, with `where` before the field, unless every reading is finite, width and depth are above
/// zero, the tail is shorter than the width, and cover and silverskin leave some lean. To 1/16 um, as they are tabulated.
template <class = detail::when_called>
void validate(const taped_readings& read, const face_shape& filled, const std::string& where) {
    const taped_readings r = detail::snapped(read);
    const face_shape shape = detail::snapped(filled);
    detail::require_positive(r.width, where + "width");
    detail::require_positive(r.depth, where + "depth");
    detail::require_not_negative(r.fat_cover, where + "fat_cover");
    detail::require_not_negative(r.tail, where + "tail");
    if (!(r.tail < r.width))
        throw invalid_input(where + "tail", r.tail, sentence("less than the width, ") + detail::rounded_down(r.width));
    if (!(detail::snapped(r.fat_cover + shape.silverskin) < r.depth))
        throw invalid_input(where + "fat_cover", r.fat_cover,
                            sentence("less, with the silverskin, than the depth, ") + detail::rounded_down(r.depth));
}

/// Throws `invalid_input` for a fill that is not above 0 and at most 1, a tail depth beyond 0 to 1, a negative silverskin.
template <class = detail::when_called>
void validate(const face_shape& written) {
    const face_shape shape = detail::snapped(written);
    detail::require_share(shape.fill, "fill");
    detail::require_positive(shape.fill, "fill");
    detail::require_share(shape.tail_depth, "tail_depth");
    detail::require_not_negative(shape.silverskin, "silverskin");
}

} // namespace tranche
