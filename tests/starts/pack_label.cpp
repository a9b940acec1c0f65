// Makes a label and writes one by hand.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/packs/pack_label.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return fields_of<usd>({.product = "steak", .tare = 10_g}).size() == 0; }
