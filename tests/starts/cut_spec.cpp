// Says what may be cut.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cut/cut_spec.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return std::vector<cut_spec>{{.name = "steak", .thickness = {25_mm, 38_mm}}}.size() == 0; }
