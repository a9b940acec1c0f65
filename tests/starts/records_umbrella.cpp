// A record.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/records.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return std::vector<cutting_record>{{.supplier = "invented", .bought = 5_kg}}.size() == 0; }
