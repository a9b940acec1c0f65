// Enough decimals that what is beyond a limit does not look like the limit.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>

#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/text/to_text.hpp>

namespace tranche::detail {

/// `how`, or as many decimals of its unit as it takes that two different values look different, up to fifteen digits.
template <class Quantity, class Division>
[[nodiscard]] Division telling_apart(Quantity one, Quantity other, Division how) {
    constexpr std::size_t most_characters = 15; // of which one is the point
    for (int parts = 10; to_text(one, how) == to_text(other, how) && parts <= 100'000'000; parts *= 10) {
        if (is_power_of_ten(how.parts) && parts <= how.parts) continue;
        if (number_of(one, how).size() >= most_characters) break;
        how.parts = parts;
    }
    return how;
}

} // namespace tranche::detail
