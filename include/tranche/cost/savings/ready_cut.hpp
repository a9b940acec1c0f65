// Meat that could have been bought ready cut instead of cutting the loin.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <tranche/units/currency.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Meat that could have been bought ready cut instead of the portions it `replaces`.
template <currency C>
struct ready_cut {
    std::string name{};
    unit_price<C> price{};               ///< zero or more
    std::vector<std::string> replaces{}; ///< names of cuts; empty: all of them
    std::optional<fraction>
        edible_share{}; ///< what of it is wanted, above 0 to 1 (`edible_share`, of the shares stated or
                        ///< of `shares_of_ready_cut`); none: the same as of the portions replaced

    friend bool operator==(const ready_cut&, const ready_cut&) = default;
};

} // namespace tranche
