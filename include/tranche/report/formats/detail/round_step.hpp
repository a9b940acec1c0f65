// Steps of an axis or of a table that read well.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <initializer_list>

#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The least of 1, 2, 5 × 10^k that is at least `step`; 1 for a step that is not above zero and finite.
template <class = when_called>
[[nodiscard]] double round_step(double step) {
    if (!(std::isfinite(step) && step > 0.0)) return 1.0;
    const double tens = std::pow(10.0, std::floor(std::log10(step)));
    for (const double times : {1.0, 2.0, 5.0})
        if (times * tens >= step * (1.0 - 1e-9)) return times * tens;
    return 10.0 * tens;
}

} // namespace tranche::detail
