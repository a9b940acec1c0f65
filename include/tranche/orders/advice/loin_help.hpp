// What one loin more would do for an order.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

namespace tranche {

/// What one loin more, like one of the order, would do for it. Sums are minor units of the order's currency.
struct loin_help {
    std::size_t loin = 0; ///< index into the order's loins
    std::string name{};
    std::int64_t at_most = 0;            ///< what the order would gain at most, in minor units, rounded up
    std::optional<std::int64_t> gains{}; ///< what it gains when it is planned again, if it was
    std::int64_t fills = 0;              ///< then: so many portions are missing less

    friend bool operator==(const loin_help&, const loin_help&) = default;
};

} // namespace tranche
