// What an order comes to with the loins of a supplier.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>

#include <tranche/orders/order_account.hpp>

namespace tranche {

/// What an order comes to with the loins of a supplier.
struct supplied_order {
    std::string name{};
    std::size_t rank = 1; ///< equal where totals are
    order_account account{};

    friend bool operator==(const supplied_order&, const supplied_order&) = default;
};

} // namespace tranche
