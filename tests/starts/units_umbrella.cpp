// An amount that is split.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/units.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return split<usd>({100}, std::vector<std::int64_t>{1, 2}).size() == 0; }
