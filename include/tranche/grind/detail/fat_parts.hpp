// Fat contents as whole parts per billion, so that a blend is on the right side of a limit exactly and not by rounding noise.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstdint>

#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche::detail {

/// A fat content of 1. An analysis gives five digits at most; here there are nine.
inline constexpr std::int64_t pure_fat = 1'000'000'000;

/// The nearest whole part per billion of a share.
[[nodiscard]] inline std::int64_t fat_parts(fraction share) {
    return std::llround(share * static_cast<double>(pure_fat));
}

/// The share of fat in a mass above zero, from fat in micrograms × parts per billion.
[[nodiscard]] inline fraction fat_share(wide_integer fat, wide_integer mass) {
    return static_cast<double>(fat) / (static_cast<double>(mass) * static_cast<double>(pure_fat));
}

} // namespace tranche::detail
