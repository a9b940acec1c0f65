// Philox4x32-10: four random words from a counter and a key, without a state, so that any draw can be made anywhere.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstdint>

namespace tranche {

using philox_counter = std::array<std::uint32_t, 4>;
using philox_key = std::array<std::uint32_t, 2>;

/// Philox4x32 with ten rounds: a bijection of the counters for each key, whose values pass as independent uniform words. A round
/// multiplies words 0 and 2 by 0xD2511F53 and 0xCD9E8D57 and mixes the high halves into the others; the key grows by 0x9E3779B9 and
/// 0xBB67AE85 between rounds. Source: Salmon, Moraes, Dror and Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC'11,
/// doi:10.1145/2063384.2063405. Not for secrets. Throws nothing.
[[nodiscard]] constexpr philox_counter philox_words(philox_counter counter, philox_key key) noexcept {
    for (int round = 0; round < 10; ++round) {
        const std::uint64_t first = std::uint64_t{0xD2511F53U} * counter[0];
        const std::uint64_t third = std::uint64_t{0xCD9E8D57U} * counter[2];
        counter = {static_cast<std::uint32_t>(third >> 32U) ^ (counter[1] ^ key[0]), static_cast<std::uint32_t>(third),
                   static_cast<std::uint32_t>(first >> 32U) ^ (counter[3] ^ key[1]), static_cast<std::uint32_t>(first)};
        key = {key[0] + 0x9E3779B9U, key[1] + 0xBB67AE85U};
    }
    return counter;
}

} // namespace tranche
