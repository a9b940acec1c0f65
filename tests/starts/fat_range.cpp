// Names a limit of fat.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/grind/fat_range.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return std::vector<legal_fat_limit>{{.most = 0.3, .law = "of an imaginary town"}}.size() == 0; }
