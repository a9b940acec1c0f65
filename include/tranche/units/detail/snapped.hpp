// One place, whatever the unit it was written in: lengths on a grain of 1/16 micrometre, shares on one of a billionth, and so on.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>

#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// Whole micrometres, and inches and their fractions down to 1/128, are whole numbers of grains.
inline constexpr double grains_in_a_metre = 1.6e7;
/// Decimal shares and percentages are whole numbers of grains.
inline constexpr double grains_in_a_whole = 1e9;

/// What the last bits of a conversion or a sum may leave below a half.
inline constexpr double below_half = 0x1p-10;

/// The nearest whole number. Halves go up, and so does what the last bits of a conversion or a sum leave below one: no
/// reading that people write is so little off a half.
[[nodiscard]] inline double nearest_whole(double number) { return std::floor(unfused(number) + (0.5 + below_half)); }

/// How many grains a length has: a whole number, of which sums and differences are exact. Beyond 10^8 m, where doubles have
/// none as small, not rounded.
[[nodiscard]] inline double in_grains(length l) {
    const double grains = l.value() * grains_in_a_metre;
    return std::abs(l.value()) < 1e8 ? nearest_whole(grains) : grains;
}

/// How many grains a step of a grid has: a whole number but for grids that were made by dividing others.
[[nodiscard]] inline double step_in_grains(length step) {
    const double grains = step.value() * grains_in_a_metre, whole = nearest_whole(grains);
    return std::abs(grains - whole) < below_half ? whole : grains;
}

/// The least number of steps of a grid that are as long as `reach`, and the most that are no longer, compared in grains. Whole
/// numbers, which may be infinite.
[[nodiscard]] inline double least_steps(length reach, length step) {
    return std::ceil((in_grains(reach) - 0.5 - below_half) / step_in_grains(step));
}
[[nodiscard]] inline double most_steps(length reach, length step) {
    return std::floor((in_grains(reach) + 0.5 - below_half) / step_in_grains(step));
}

/// The length on the grain, which is one double for one place: 33.8 cm, 338 mm and 0.338 m are equal once snapped. What is
/// snapped already stays as it is; no number, and what is beyond 10^8 m, too.
[[nodiscard]] inline length snapped(length l) {
    return std::abs(l.value()) < 1e8 ? length::from_value(in_grains(l) / grains_in_a_metre) : l;
}

/// A range of lengths on the grain; any other as it is.
template <class Quantity>
[[nodiscard]] quantity_range<Quantity> snapped(const quantity_range<Quantity>& r) {
    return r;
}
[[nodiscard]] inline quantity_range<length> snapped(const quantity_range<length>& r) {
    return {snapped(r.min), snapped(r.max)};
}

/// A share, or a factor, on its grain, so that 0.15 that was stated and 0.15 that came out of areas are one number. No number
/// stays one, and what is beyond 10^6 as it is.
[[nodiscard]] inline fraction snapped_share(fraction share) {
    return std::abs(share) < 1e6 ? nearest_whole(share * grains_in_a_whole) / grains_in_a_whole : share;
}

/// A density on a grain of a milligram per cubic metre; beyond 10^9 kg/m3 as it is.
[[nodiscard]] inline density snapped(density d) {
    constexpr double grains_in_one = 1e6; // kg/m3
    return std::abs(d.value()) < 1e9 ? density::from_value(nearest_whole(d.value() * grains_in_one) / grains_in_one)
                                     : d;
}

/// A length that nobody wrote, as a coordinate of a tracing or a scan, in metres, on a grain of 1/65536 micrometre. Such lengths
/// were computed and may be any: on the grain of those that people write, areas would move. This one takes the noise, and moves
/// none by more than some parts in 10^10.
[[nodiscard]] inline double snapped_coordinate(double metres) {
    constexpr double grains = 4096.0 * grains_in_a_metre;
    return std::abs(metres) < 1e5 ? nearest_whole(metres * grains) / grains : metres;
}

} // namespace tranche::detail
