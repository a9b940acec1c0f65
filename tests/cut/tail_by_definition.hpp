// The tail that a limit leaves in a cell, by its definition.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>

#include <tranche/cut/tail_limit.hpp>
#include <tranche/loin/profile.hpp>

namespace tranche_test {

/// A limit that tapers runs in a straight line along the loin, and counts in the middle of a cell.
[[nodiscard]] inline tranche::length tail_by_definition(const tranche::profile& meat, std::size_t cell,
                                                        const tranche::tail_limit& limit) {
    if (limit == tranche::tail_limit{}) return tranche::unlimited<tranche::length>();
    const long double middle = (meat.position(cell).value() + meat.position(cell + 1).value()) / 2.0L;
    const long double rib = limit.at_rib().value(), sirloin = limit.at_sirloin().value();
    const long double there = rib + (sirloin - rib) * middle / meat.extent().value();
    return static_cast<double>(std::floor(there * 1.6e7L + 0.501L) / 1.6e7L) * tranche::metre; // to 1/16 um
}

} // namespace tranche_test
