// Says what a loin gave.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/records/cutting_record.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { validate({.supplier = "invented", .bought = 5_kg, .usable = 4_kg}, 1_g); }
