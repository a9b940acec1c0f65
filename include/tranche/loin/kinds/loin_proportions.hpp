// What loins of one kind look like: sizes with their spread and where each figure comes from. A new kind is new data.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A figure that stands for many loins. `spread` is the standard deviation over the value among loins of one weight (of
/// the weight itself: among all loins). `source` says where both come from, or "common practice, no source". The text
/// is not copied: it must outlive the figure, as literals do.
template <class T>
struct typical {
    T value{};
    fraction spread = 0.0;
    std::string_view source{};

    friend bool operator==(const typical&, const typical&) = default;
};

namespace detail {

/// A reading that changes along the loin: at the rib face, in the middle, at the sirloin face.
struct typical_course {
    length rib{}, middle{}, sirloin{};
    fraction spread = 0.0;
    std::string_view source{};

    friend bool operator==(const typical_course&, const typical_course&) = default;
};

} // namespace detail

/// Loins of one kind, at the typical weight. A loin of weight W is longer than one of the reference weight W0 by
/// (W / W0)^e, e being `length_exponent`, and wider and deeper by (W / W0)^((1 - e) / 2) each, so that its volume grows
/// as its weight. e = 1/3 keeps all proportions. For what each reading means see `measured_loin`.
struct loin_proportions {
    std::string_view name{};
    typical<mass> weight{};
    typical<double> length_exponent{1.0 / 3.0, 0.0, "equal proportions at every weight: common practice, no source"};
    typical<tranche::length> length{};
    detail::typical_course width{}; ///< with the tail; the least well known, so width and tail give way to the weight
    detail::typical_course depth{}, fat_cover{}, tail{};
    typical<fraction> gluteus_medius_onset{1.0, 0.0, "none"}; ///< as a share of the length
    typical<fraction> gluteus_medius_share_at_end{0.0, 0.0, "none"};
    typical<fraction> fill{0.80, 0.0, "the usual factor for the loin eye: common practice, no source"};
    /// Mass per length at one place over what all the above leads to, for a loin of this weight and length: 1, give or
    /// take the spread.
    typical<double> local_mass_per_length{1.0, 0.0, "not known"};

    friend bool operator==(const loin_proportions&, const loin_proportions&) = default;
};

namespace detail {

template <class Proportions, class Check>
void for_each_spread(Proportions& p, Check check) {
    check(p.weight.spread, "weight");
    check(p.length.spread, "length");
    check(p.width.spread, "width");
    check(p.depth.spread, "depth");
    check(p.fat_cover.spread, "fat_cover");
    check(p.tail.spread, "tail");
    check(p.gluteus_medius_onset.spread, "gluteus_medius_onset");
    check(p.gluteus_medius_share_at_end.spread, "gluteus_medius_share_at_end");
    check(p.fill.spread, "fill");
    check(p.local_mass_per_length.spread, "local_mass_per_length");
}

} // namespace detail

/// Throws `invalid_input` naming the field for spreads outside 0 to 1, a weight, length or exponent that cannot be.
/// The readings are checked when a loin is made of them (`typical_loin`).
template <class = detail::when_called>
void validate(const loin_proportions& p) {
    detail::require_positive(p.weight.value, "weight");
    detail::require_positive(p.length.value, "length");
    const double e = p.length_exponent.value;
    if (!(e >= 0.0 && e < 1.0)) throw invalid_input("length_exponent", detail::shown(e), "0 to less than 1");
    detail::require_share(p.gluteus_medius_onset.value, "gluteus_medius_onset");
    detail::require_share(p.gluteus_medius_share_at_end.value, "gluteus_medius_share_at_end");
    detail::for_each_spread(
        p, [](fraction spread, const char* field) { detail::require_share(spread, std::string(field) + ".spread"); });
}

/// How far a loin is from the typical one of its weight, in standard deviations. Width is not among them: it follows
/// from the weight and the rest.
struct loin_deviations {
    double length = 0.0, depth = 0.0, fat_cover = 0.0, tail = 0.0;
    double gluteus_medius_onset = 0.0, gluteus_medius_share_at_end = 0.0;

    friend bool operator==(const loin_deviations&, const loin_deviations&) = default;
};

namespace detail {

/// The proportions of a loin that deviates so: each value × exp(deviation × spread), shares kept to at most 1. With
/// standard normal deviations the values have their medians at the typical ones and, for spreads as small as here,
/// these spreads. Throws `invalid_input` for a deviation that is not finite.
template <class = when_called>
[[nodiscard]] loin_proportions deviating(loin_proportions p, const loin_deviations& by) {
    const auto factor = [](double deviation, fraction spread, const char* field) {
        if (!std::isfinite(deviation)) throw invalid_input(field, detail::shown(deviation), "a finite number");
        return std::exp(deviation * spread);
    };
    const auto stretch = [&](typical_course& course, double deviation, const char* field) {
        const double f = factor(deviation, course.spread, field);
        for (length* reading : {&course.rib, &course.middle, &course.sirloin}) *reading *= f;
    };
    p.length.value *= factor(by.length, p.length.spread, "length");
    stretch(p.depth, by.depth, "depth");
    stretch(p.fat_cover, by.fat_cover, "fat_cover");
    stretch(p.tail, by.tail, "tail");
    const auto share = [&](typical<fraction>& s, double deviation, const char* field) {
        s.value = std::min(1.0, s.value * factor(deviation, s.spread, field));
    };
    share(p.gluteus_medius_onset, by.gluteus_medius_onset, "gluteus_medius_onset");
    share(p.gluteus_medius_share_at_end, by.gluteus_medius_share_at_end, "gluteus_medius_share_at_end");
    return p;
}

} // namespace detail

} // namespace tranche
