// Equality of numbers of which NaN says something, so that what holds them is equal to its copies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

namespace tranche::detail {

/// As `==`, but "not known" is the same as "not known".
[[nodiscard]] inline bool same_number(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); }
[[nodiscard]] inline bool same_numbers(const std::vector<double>& a, const std::vector<double>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), same_number);
}

} // namespace tranche::detail
