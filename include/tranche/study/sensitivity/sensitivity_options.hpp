// How many points a sensitivity analysis takes, and which inputs count as one.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/statistics/sample_summary.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Inputs that count as one: they are correlated, or one measurement tells all of them.
struct input_group {
    std::string name{};
    std::vector<std::string> inputs{};

    friend bool operator==(const input_group&, const input_group&) = default;
};

/// The points of a sensitivity analysis: a net of scrambled Sobol' points, scrambled again for each randomisation, whose spread gives
/// the intervals.
struct sensitivity_options {
    std::uint32_t points = 1024;     ///< of each randomisation: a power of two, 2 to 2^24
    std::size_t randomisations = 16; ///< 16 to 4096
    fraction confidence = 0.95;      ///< of intervals, above 0 and below 1
    std::uint64_t seed = 1;
    std::vector<input_group> groups{}; ///< inputs in none of them are alone

    friend bool operator==(const sensitivity_options&, const sensitivity_options&) = default;
};

namespace detail {

/// Throws `invalid_input`, naming it, for a figure that is none of those allowed.
inline void require_points(std::uint32_t points, std::size_t randomisations, fraction confidence) {
    if (points < 2 || points > (1U << 24U) || !std::has_single_bit(points))
        throw invalid_input("points", std::to_string(points), "a power of two, 2 to 2^24");
    if (randomisations < 16 || randomisations > 4096)
        throw invalid_input("randomisations", std::to_string(randomisations), "16 to 4096");
    require_confidence(confidence);
}

} // namespace detail

} // namespace tranche
