// A naked number is no thickness.
// SPDX-License-Identifier: BSL-1.0
// gnu: could not convert .*'double' to .*tranche::length
// clang: no viable conversion from 'double' to .*length
#include <tranche/cut/cut_spec.hpp>

using namespace tranche;

int main() {
#ifdef TRANCHE_NONSENSE
    const cutting_rules rules{.facing = 0.5};
#else
    const cutting_rules rules{.facing = 0.5 * inch};
#endif
    return rules.facing > length{} ? 0 : 1;
}
