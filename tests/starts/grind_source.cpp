// Says what may be ground.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/grind/grind_source.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return std::vector<grind_source<usd>>{{.name = "trim", .fat = 0.3}}.size() == 0; }
