// The face of a loin at one station: the area of each tissue, and how thick the layers are that a trim takes off.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>

#include <tranche/loin/tissue.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// How a layer's area is spread over its depth: entry k is the share of the layer that lies within (k + 1) / size of its
/// greatest thickness. Never falls, and ends at 1; a straight rise is a layer of even thickness.
using layer_spread = std::array<double, 32>;

inline constexpr layer_spread even_spread = [] {
    layer_spread spread{};
    for (std::size_t k = 0; k < spread.size(); ++k)
        spread[k] = static_cast<double>(k + 1) / static_cast<double>(spread.size());
    return spread;
}();

namespace detail {

/// How much of a layer's thickness, which is above zero, lies within `reach`, 0 to 1; nothing within what is no number.
[[nodiscard]] constexpr double share_of_depth(length reach, length thickness) {
    return reach > length{} ? std::min<double>(reach / thickness, 1.0) : 0.0;
}

/// Of a layer whose spread has these entries (called with 0 to 31), the share within `depth`, 0 to 1, times its greatest
/// thickness; along a straight line between entries, and never above the next.
template <class Entry>
[[nodiscard]] constexpr fraction share_on_line(const Entry& entry, double depth) {
    constexpr std::size_t size = even_spread.size();
    const double place = depth * static_cast<double>(size);
    const std::size_t above = std::min(static_cast<std::size_t>(place), size - 1);
    const double low = above == 0 ? 0.0 : entry(above - 1), high = entry(above);
    return std::min(high, low + unfused((high - low) * (place - static_cast<double>(above))));
}
[[nodiscard]] constexpr fraction share_on_line(const layer_spread& spread, double depth) {
    return share_on_line([&](std::size_t k) { return spread[k]; }, depth);
}

/// The same, exact where the layer is even.
[[nodiscard]] constexpr fraction share_within(const layer_spread& spread, double depth) {
    return spread == even_spread ? depth : share_on_line(spread, depth);
}

/// `layer::growth` of a layer whose spread has these entries.
template <class Entry>
[[nodiscard]] constexpr double growth_of(const Entry& entry, length reach, length thickness) {
    if (!(thickness > length{}) || !(reach < thickness) || !(reach >= length{})) return 0.0;
    constexpr auto size = static_cast<double>(even_spread.size());
    const auto above = static_cast<std::size_t>(reach / thickness * size);
    const double low = above == 0 ? 0.0 : entry(above - 1);
    return (entry(above) - low) * size / thickness.value();
}

/// What a knife leaves of such a layer that aims at `reach` and goes `deeper` wherever it cuts, 0 to 1. With S(d) the share within
/// a depth and g its growth, the length of the contour there, it takes deeper × g(reach) of what should have stayed, but no more
/// than lies so deep:
///     max(S(reach) - deeper g(reach), S(reach - deeper)).
/// Around lean that bulges contours get longer outwards, and the first overstates what is cut; but where a tighter trim leaves
/// fat, a looser one does too, so the most counts that this is at any reach up to the one that is aimed at.
template <class Entry>
[[nodiscard]] constexpr fraction share_left_deeper(const Entry& entry, length reach, length deeper, length thickness) {
    if (!(thickness > length{})) return 1.0;
    constexpr auto size = static_cast<double>(even_spread.size());
    const double aim = share_of_depth(reach, thickness), off = deeper / thickness;
    const fraction aimed_at = share_on_line(entry, aim);
    if (!(reach < thickness)) return aimed_at;
    fraction most = share_on_line(entry, share_of_depth(reach - deeper, thickness)), before = 0.0;
    const auto last = static_cast<std::size_t>(aim * size);
    for (std::size_t k = 0; k <= last; ++k) {
        const fraction behind = entry(k);
        const double depth = k == last ? aim : even_spread[k];
        most =
            std::max(most, (k == last ? aimed_at : behind) - unfused((behind - before) * size * std::min(off, depth)));
        before = behind;
    }
    return most;
}

/// The least growth of such a layer up to `reach`: no longer than that is the contour on the lean above which a knife cuts.
template <class Entry>
[[nodiscard]] constexpr double least_growth_of(const Entry& entry, length reach, length thickness) {
    if (!(thickness > length{}) || !(reach < thickness) || !(reach >= length{})) return 0.0;
    constexpr auto size = static_cast<double>(even_spread.size());
    const auto last = static_cast<std::size_t>(reach / thickness * size);
    double least = entry(0), before = least;
    for (std::size_t k = 1; k <= last; ++k) {
        const double behind = entry(k);
        least = std::min(least, behind - before);
        before = behind;
    }
    return least * size / thickness.value();
}

/// So far on the way from one share to another, 0 to 1.
[[nodiscard]] constexpr double mixed_share(double part, double from, double to) {
    return unfused((1.0 - part) * from) + unfused(part * to);
}

} // namespace detail

/// A part of a layer that tapers, as tails do: level up to a share of the thickness, and from there to nothing in a straight line.
struct layer_taper {
    fraction share = 0.0; ///< how much of the layer it is, 0 to 1
    fraction level = 0.0; ///< how far it is level, 0 to 1: at 0 it is a wedge, at 1 it has an even thickness

    /// What of this part lies within `depth` times the thickness, 0 to 1; exact. `depth` is a plain number, zero or
    /// more; not checked. Throws nothing.
    [[nodiscard]] constexpr fraction within(double depth) const {
        if (level == 0.0) return within_wedge(std::min(depth, 1.0));
        if (depth < level) return 2.0 * depth / (1.0 + level);
        if (!(depth < 1.0)) return 1.0;
        const double left = 1.0 - depth; // above zero, and so is 1 - level
        return std::max(2.0 * level / (1.0 + level), 1.0 - left * left / ((1.0 - level) * (1.0 + level)));
    }
    /// The same of a wedge, within a depth of 0 to 1. Throws nothing.
    [[nodiscard]] static constexpr fraction within_wedge(double depth) {
        const double left = 1.0 - depth;
        return std::max(0.0, 1.0 - detail::unfused(left * left));
    }
    /// How fast that grows with the depth. Per thickness of the layer, zero or more; 0 from the whole thickness on.
    /// Throws nothing.
    [[nodiscard]] constexpr double growth(double depth) const {
        if (depth < level) return 2.0 / (1.0 + level);
        if (!(depth < 1.0)) return 0.0;
        return 2.0 * (1.0 - depth) / ((1.0 - level) * (1.0 + level));
    }

    friend bool operator==(const layer_taper&, const layer_taper&) = default;
};

namespace detail {

/// What of a layer lies within a depth, when `others` is that of what does not taper.
[[nodiscard]] constexpr fraction with_taper(const layer_taper& taper, fraction others, double depth) {
    return taper.share > 0.0 ? mixed_share(taper.share, others, taper.within(depth)) : others;
}
/// How fast that grows, per metre.
[[nodiscard]] constexpr double growth_with_taper(const layer_taper& taper, double others, length reach,
                                                 length thickness) {
    if (!(taper.share > 0.0 && thickness > length{} && reach >= length{})) return others;
    return mixed_share(taper.share, others, taper.growth(reach / thickness) / thickness.value());
}

} // namespace detail

/// A layer that a trim takes off: the fat over the eye by its depth, or the tail by its length. Both are measured from the
/// lean outwards, at right angles to it.
struct layer {
    length thickness{};                ///< where it is thickest
    layer_spread spread = even_spread; ///< between two entries the share is interpolated along a straight line
    layer_taper taper{};               ///< a part that is not spread so, but a taper

    /// The share of the layer that lies within `reach` of the lean, 0 to 1; 1 where there is no layer. `reach` is a
    /// length of zero or more. Throws nothing.
    [[nodiscard]] constexpr fraction within(length reach) const {
        if (!(thickness > length{})) return 1.0;
        const double depth = detail::share_of_depth(reach, thickness);
        return detail::with_taper(taper, detail::share_within(spread, depth), depth);
    }

    /// How fast that share grows at `reach`, per metre: the length of the layer's contour at that depth over its area.
    /// Zero beyond the thickness. `reach` is a length of zero or more. Throws nothing.
    [[nodiscard]] constexpr double growth(length reach) const {
        const double others = detail::growth_of([this](std::size_t k) { return spread[k]; }, reach, thickness);
        return detail::growth_with_taper(taper, others, reach, thickness);
    }

    friend bool operator==(const layer&, const layer&) = default;
};

/// A cross-section at right angles to the axis.
struct face {
    by_tissue<area> areas{};
    layer fat_cover{}; ///< the fat, by depth
    layer tail{};      ///< the tail, by length from the edge of the eye
    length width{};    ///< across the whole face with its tail; for pictures. Zero: not known
    length depth{};    ///< from the board to the top of the fat; for pictures. Zero: not known

    friend bool operator==(const face&, const face&) = default;
};

namespace detail {

[[nodiscard]] constexpr double share_of_lean(double eye, double gluteus_medius) {
    const double lean = eye + gluteus_medius;
    return lean > 0.0 ? gluteus_medius / lean : 0.0;
}

} // namespace detail

/// The share of the lean on a face (eye and gluteus medius) that is gluteus medius, 0 to 1; 0 where there is no lean.
/// Areas are in square metres, each zero or more. Throws nothing.
[[nodiscard]] inline fraction gluteus_medius_share(const by_tissue<area>& areas) {
    return detail::share_of_lean(areas[tissue::eye].value(), areas[tissue::gluteus_medius].value());
}

} // namespace tranche
