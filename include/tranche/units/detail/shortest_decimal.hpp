// A number in as many digits as bring it back to the last bit, and no more, independent of the locale.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <charconv>
#include <string>

#include <tranche/units/detail/config.hpp>

namespace tranche::detail {

/// The shortest decimal without an exponent that reads back as the same double: "0.1", "16", "0.00005".
[[nodiscard]] TRANCHE_COLD inline std::string shortest_decimal(double value) {
    std::array<char, 400> text{}; // the smallest double has 324 digits behind the point, the largest 309 in front of it
    const auto [end, error] = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
    return {text.data(), end};
}

} // namespace tranche::detail
