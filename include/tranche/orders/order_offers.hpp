// What single loins give at some prices of the lines: all that travels where loins are spread over machines.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace tranche {

/// The best plans of some loins at some prices: an entry each of `worth`, n × lines portions. A loin that had better stay unopened
/// offers nothing: a worth of 0 and no portions.
struct order_offers {
    std::vector<std::int64_t>
        worth{}; ///< in billionths: what the loin gives but for what is paid by the piece, less its worth unopened
    std::vector<std::uint16_t> portions{}; ///< by loin, then by line
    std::vector<std::uint8_t> opened{};    ///< by loin, only where an opened loin has a price

    friend bool operator==(const order_offers&, const order_offers&) = default;
};

/// Fills `offers` for these loins (indices of the order, rising) at these prices of a portion of each line, in billionths: a function
/// that asks threads, or machines that each hold a range of the loins. The same prices have the same offers, always.
using order_pass = std::function<void(std::span<const std::int64_t> prices, std::span<const std::uint32_t> loins,
                                      order_offers& offers)>;

} // namespace tranche
