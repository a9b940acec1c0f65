// A figure that a study collects, counted in whole numbers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <string>

#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// A figure that a study collects. Figures are whole numbers, so that sums are exact and do not depend on who adds them up.
struct study_output {
    std::string name{};
    double unit = 1.0; ///< what one whole number is worth in what is shown: 1e-9 kg a microgram, 0.01 a cent, 1 a piece
    std::int64_t bin =
        1; ///< whole numbers that a bin of the histogram is wide: 100'000 micrograms (0.1 g), 1 cent, 1 piece

    friend bool operator==(const study_output&, const study_output&) = default;
};

/// What stands in an output that a replicate does not have, such as the cost of a portion where there is none. It is counted, and
/// is no part of means and quantiles. Outputs hold it when the model is called.
inline constexpr std::int64_t no_output = std::numeric_limits<std::int64_t>::min();

/// No figure is larger, either way: 2^47 (140 tonnes in micrograms), so that sums of squares of 2^32 of them fit 128 bits.
inline constexpr std::int64_t most_of_output = std::int64_t{1} << 47U;

/// Throws `invalid_input`, with `field` before the name of the member, for an output without a name, a unit that is not finite and
/// above zero, and a bin narrower than 1 or wider than `most_of_output`.
inline void validate(const study_output& output, const std::string& field = "output") {
    if (output.name.empty()) throw invalid_input(field + ".name", "nothing", "a name");
    if (!(std::isfinite(output.unit) && output.unit > 0.0))
        throw invalid_input(field + ".unit", detail::shown(output.unit), "a finite value above zero");
    if (output.bin < 1 || output.bin > most_of_output)
        throw invalid_input(field + ".bin", std::to_string(output.bin), "1 to 2^47 whole numbers");
}

} // namespace tranche
