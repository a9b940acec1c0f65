// How many times this program has allocated.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>

namespace tranche_test {

/// Calls of operator new so far; the tests run in one thread.
[[nodiscard]] std::size_t allocations();

} // namespace tranche_test
