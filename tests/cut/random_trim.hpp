// Any trim of a slab, for tests of laws.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <random>

#include <tranche/cut/trim.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche_test {

/// Evenly from 0 to 1.
[[nodiscard]] inline double random_share(std::mt19937& random) { return static_cast<double>(random()) / 4294967295.0; }

[[nodiscard]] inline tranche::trim_spec some_trim(std::mt19937& random) {
    tranche::trim_spec trim;
    const auto up_to = [&](double most) {
        return tranche::detail::snapped(most * random_share(random) * tranche::millimetre);
    };
    if (random() % 3 != 0) trim.fat_cover = up_to(15.0);
    if (const auto kind = random() % 4; kind == 1)
        trim.tail = {up_to(50.0), up_to(50.0)};
    else if (kind > 1)
        trim.tail = up_to(50.0);
    trim.silverskin = random() % 2 == 0;
    return trim;
}

} // namespace tranche_test
