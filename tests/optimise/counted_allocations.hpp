// How many times a thread of this program has allocated.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>

namespace tranche_test {

/// Calls of operator new by this thread so far.
[[nodiscard]] std::size_t allocations();

} // namespace tranche_test
