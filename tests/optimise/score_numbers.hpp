// What a plan scores and what no plan can exceed, as lists to compare.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <vector>

#include <tranche/optimise/plans/planned.hpp>

namespace tranche_test {

inline std::vector<double> values_of(const tranche::planned& found) {
    std::vector<double> values;
    for (const tranche::score_part& part : found.score_parts) values.push_back(part.value);
    return values;
}
inline std::vector<double> bounds_of(const tranche::planned& found) {
    std::vector<double> bounds;
    for (const tranche::score_part& part : found.score_parts) bounds.push_back(part.bound);
    return bounds;
}

} // namespace tranche_test
