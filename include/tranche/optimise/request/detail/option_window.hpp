// The limits of one cut on the grid of a profile: thicknesses in cells, weights in micrograms.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche::detail {

/// Which slabs [from, to) of one option of portions are allowed, all in positions and micrograms. Of loose meat only
/// `least_cells`, `last_to_end`, `first_from`, `past_to`, `between` and `thin_at_start` count.
struct option_window {
    std::size_t least_cells = 1, most_cells = 0;    ///< to - from, where `to` is not the sirloin face
    std::size_t first_to_end = 1, last_to_end = 0;  ///< `from` of a slab that ends at the sirloin face
    std::size_t first_from = 0;                     ///< the zone: from >= first_from
    std::size_t past_from = 0, past_to = 0;         ///< zone and gluteus medius rule: from < past_from and to < past_to
    std::size_t stride = 1;                         ///< notches: least_cells, last_to_end and whole strides from there
    std::int64_t least_weight = 0, most_weight = 0; ///< of the trimmed slab
    bool between = true;       ///< whether loose meat may lie elsewhere than at the start and at the sirloin face
    bool thin_at_start = true; ///< whether loose meat from the start may be as thin as it comes

    /// None that ends in front of the sirloin face on a grid of so many cells; what is thicker than the loin does not get in
    /// the way of those up to the face.
    void no_slab_in_front(std::size_t cells) {
        least_cells = cells + 1;
        most_cells = cells;
    }
    void no_slab(std::size_t cells) {
        no_slab_in_front(cells);
        first_to_end = 1;
        last_to_end = 0;
    }
    /// The least number of whole strides that is no less than this.
    [[nodiscard]] std::size_t in_strides(std::size_t cells) const { return (cells + stride - 1) / stride * stride; }
    /// No slab up to the face starts behind this position, which may be negative.
    void end_before(double last) {
        if (first_to_end > last_to_end || static_cast<double>(last_to_end) <= last) return;
        const std::size_t by = last < 0.0 ? last_to_end + 1 : in_strides(last_to_end - static_cast<std::size_t>(last));
        if (by > last_to_end)
            first_to_end = last_to_end + 1; // none left
        else
            last_to_end -= by;
    }
};

/// Stands for "no limit"; far enough from the ends of 64 bits to be added to a weight.
inline constexpr std::int64_t no_limit = std::numeric_limits<std::int64_t>::max() / 4;

[[nodiscard]] inline std::int64_t slab_limit(mass portion, int pieces) {
    if (!(to_mass({no_limit / 100}) > portion)) return no_limit;
    return to_micrograms(portion).count * pieces;
}

/// What so many pieces weigh; not below zero, and no more than `no_limit`.
[[nodiscard]] inline std::int64_t of_pieces(std::int64_t weight, std::int64_t pieces) {
    return weight > no_limit / pieces ? no_limit : std::max(weight, std::int64_t{0}) * pieces;
}

/// A limit of the true weight as one of the profile's. Whole micrograms below nine tonnes are exact as doubles.
[[nodiscard]] inline std::int64_t divided(std::int64_t limit, double ratio, double (*rounded)(double)) {
    const double quotient = rounded(static_cast<double>(limit) / ratio);
    if (limit == no_limit || !(quotient < static_cast<double>(no_limit))) return no_limit;
    return static_cast<std::int64_t>(quotient);
}

[[nodiscard]] inline std::size_t whole_steps(const profile& meat, double steps, std::size_t least) {
    return std::clamp(static_cast<std::size_t>(std::clamp(steps, 0.0, double(meat.cells()))), least, meat.cells());
}

/// How many positions there are before the gluteus medius share first exceeds `share`.
[[nodiscard]] inline std::size_t positions_with(const profile& meat, fraction share) {
    const auto entered = meat.gluteus_medius_entered();
    return static_cast<std::size_t>(std::upper_bound(entered.begin(), entered.end(), share) - entered.begin());
}

/// The thinnest slab is the nearest that the grid has to the first notch, and so are all others to theirs.
inline void set_notches(option_window& w, const profile& meat, const cut_spec& spec) {
    const double step = step_in_grains(meat.step()), kerf = in_grains(spec.kerf);
    const double thin = in_grains(spec.thickness.min), notch = in_grains(spec.thickness_step);
    const double cells_a_notch = std::round(notch / step);
    if (!(cells_a_notch >= 1.0) || nearest_whole(cells_a_notch * step) != notch)
        throw invalid_input(spec.name + ": thickness_step", spec.thickness_step,
                            sentence("a whole multiple of the grid's step, ") + meat.step());
    const double last_start = static_cast<double>(meat.cells()) - 1.0;
    const double notches = std::floor((in_grains(spec.thickness.max) - thin) / notch);
    const double first = std::round((thin + kerf) / step), last = std::round((in_grains(meat.extent()) - thin) / step);
    const double reach = std::min(notches, std::floor(static_cast<double>(meat.cells()) / cells_a_notch));
    w.no_slab(meat.cells()); // unless there is room
    w.stride = static_cast<std::size_t>(std::min(cells_a_notch, static_cast<double>(meat.cells()) + 1.0));
    const bool cut = first >= 1.0 && first * step > kerf && first <= static_cast<double>(meat.cells());
    if (cut) {
        w.least_cells = static_cast<std::size_t>(first);
        w.most_cells = w.least_cells + static_cast<std::size_t>(reach) * w.stride;
    }
    if (last >= 0.0 && last <= last_start) {
        w.last_to_end = static_cast<std::size_t>(last);
        w.first_to_end = w.last_to_end - std::min(static_cast<std::size_t>(reach), w.last_to_end / w.stride) * w.stride;
    }
}

inline void keep_to_zone(option_window& w, const profile& meat, const quantity_range<length>& zone, length kerf = {}) {
    /// The first position below `past` for which `behind` is so, as for all after it; `past` where it is so for none.
    const auto first_that = [&](std::size_t past, const auto& behind) {
        std::size_t first = 0;
        while (first < past) {
            const std::size_t middle = first + (past - first) / 2;
            if (behind(middle))
                past = middle;
            else
                first = middle + 1;
        }
        return past;
    };
    const auto place = [&](std::size_t i, length off) { return snapped(meat.position(i) - off); };
    if (const std::size_t in = first_that(meat.cells(), [&](std::size_t i) { return place(i, {}) >= zone.min; });
        w.first_from < in)
        w.first_from = in;
    if (meat.extent() <= zone.max) return;
    w.past_to = std::min(w.past_to, meat.cells()); // the sirloin face lies outside
    w.past_to = first_that(w.past_to, [&](std::size_t i) { return place(i, kerf) > zone.max; });
}

/// The window of a cut, by its thickness, notches, zone, gluteus medius rule and weights. O(positions) for a zone.
[[nodiscard]] inline option_window window_of(const profile& meat, const cut_spec& spec) {
    const double step = step_in_grains(meat.step()), kerf = in_grains(spec.kerf);
    const double thin = in_grains(spec.thickness.min), thick = in_grains(spec.thickness.max);
    const bool narrow = thick - thin < step;
    option_window w;
    double least = least_steps(spec.thickness.min + spec.kerf, meat.step());
    double most = most_steps(spec.thickness.max + spec.kerf, meat.step());
    if (least > most && narrow) { // no position inside: the nearest one, unless it is where the knife starts
        const double nearest = std::round((0.5 * (thin + thick) + kerf) / step);
        if (nearest * step > kerf && nearest >= 1.0) least = most = nearest;
    }
    w.least_cells = whole_steps(meat, least, 1);
    w.most_cells = whole_steps(meat, most, 0);
    // Behind the sirloin face there is nothing to cut, and the last cell may be short.
    const double extent = in_grains(meat.extent()), last_start = static_cast<double>(meat.cells()) - 1.0;
    double first = std::ceil((extent - thick - 0.5 + below_half) / step);
    double last = std::floor((extent - thin + 0.5 + below_half) / step);
    if (first > last && narrow) first = last = std::round((extent - 0.5 * (thin + thick)) / step);
    first = std::max(first, 0.0);
    if (first <= last && first <= last_start) {
        w.first_to_end = static_cast<std::size_t>(first);
        w.last_to_end = static_cast<std::size_t>(std::min(last, last_start));
    }

    if (spec.thickness_step > length{}) set_notches(w, meat, spec);
    w.past_from = positions_with(meat, spec.gluteus_medius.towards_rib);
    w.past_to = positions_with(meat, spec.gluteus_medius.towards_sirloin);
    keep_to_zone(w, meat, spec.zone, spec.kerf);
    w.least_weight = slab_limit(spec.portion.min, spec.pieces);
    w.most_weight = slab_limit(spec.portion.max, spec.pieces);
    return w;
}

/// The window of a loose cut behind the facing, but for what the remnant asks of it.
[[nodiscard]] inline option_window window_of(const profile& meat, const loose_cut& loose, std::size_t start) {
    option_window w;
    w.least_cells = whole_steps(meat, least_steps(loose.least_thickness, meat.step()), 1);
    w.most_cells = meat.cells();
    w.past_from = w.past_to = meat.cells() + 1;
    w.first_to_end = start;
    w.most_weight = no_limit;
    w.between = loose.place == loose_place::anywhere;
    keep_to_zone(w, meat, loose.zone);
    if (loose.place == loose_place::nowhere) w.past_to = 0;
    return w;
}

/// The last position from which loose meat up to the sirloin face is thick and heavy enough, of cumulative weights `kept`.
[[nodiscard]] inline std::size_t last_remnant_start(const profile& meat, std::span<const std::int64_t> kept,
                                                    const least_remnant& remnant, double mass_ratio) {
    const std::int64_t least = divided(to_micrograms(remnant.weight).count, mass_ratio, std::ceil);
    std::size_t none = meat.cells(), some = 0; // what is behind position 0 is all there is
    while (none - some > 1) {
        const std::size_t middle = some + (none - some) / 2;
        const bool enough =
            kept.back() - kept[middle] >= least && snapped(meat.extent() - meat.position(middle)) >= remnant.thickness;
        (enough ? some : none) = middle;
    }
    return some;
}

/// The positions of the sirloin face and a kerf behind it, rounded: a slab of n cells up to the face starts n before.
[[nodiscard]] inline std::size_t end_and_kerf(const profile& meat, length kerf) {
    const length end = meat.extent(), behind = std::min(kerf, end); // a kerf may be endless
    return static_cast<std::size_t>(std::llround(in_grains(end + behind) / step_in_grains(meat.step())));
}

/// How many cells thick the slabs of a window are that come nearest to so many; 0 if it has none. Notches up to the sirloin face,
/// `end` as of `end_and_kerf`, may be other numbers of cells than those in front of it.
[[nodiscard]] inline std::size_t nearest_cells(const option_window& w, double wanted, std::size_t end) {
    const auto stride = static_cast<double>(w.stride);
    std::size_t cells = 0;
    const auto offer = [&](std::size_t least, std::size_t most) {
        const double notches = std::floor(static_cast<double>(most - least) / stride),
                     from_least = wanted - static_cast<double>(least);
        const std::size_t nearest =
            least + static_cast<std::size_t>(std::clamp(std::round(from_least / stride), 0.0, notches) * stride);
        const auto off = [&](std::size_t n) { return std::abs(static_cast<double>(n) - wanted); };
        if (cells == 0 || off(nearest) < off(cells)) cells = nearest;
    };
    if (w.least_cells <= w.most_cells) offer(w.least_cells, w.most_cells);
    if (w.first_to_end <= w.last_to_end) offer(end - w.last_to_end, end - w.first_to_end);
    return cells;
}

} // namespace tranche::detail
