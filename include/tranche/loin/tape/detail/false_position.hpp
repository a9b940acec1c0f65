// Where a function that grows passes zero.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>

#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// A function is `below` zero at `low` and `above` it at `high`, which is not before `low`.
struct zero_bracket {
    double low = 0.0, below = 0.0, high = 0.0, above = 0.0;
};

/// Where `off` is within `enough` of zero, or the bracket narrower than 1e-15 of its end: the method of false position, with the
/// value of an end that stays halved (the Illinois rule, from memory). At most 100 calls, the last one at what is returned.
template <class Function>
double false_position(zero_bracket b, double enough, const Function& off) {
    double at = b.high;
    for (int i = 0, side = 0; i < 100 && b.high - b.low > 1e-15 * b.high; ++i) {
        at = (unfused(b.low * b.above) - unfused(b.high * b.below)) / (b.above - b.below);
        const double value = off(at);
        if (std::abs(value) <= enough) break;
        if (value > 0.0) {
            b.high = at, b.above = value;
            if (side == 1) b.below *= 0.5;
            side = 1;
        } else {
            b.low = at, b.below = value;
            if (side == -1) b.above *= 0.5;
            side = -1;
        }
    }
    return at;
}

} // namespace tranche::detail
