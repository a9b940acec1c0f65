// Text in and out.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/text.hpp>
#include <tranche/units.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return to_text(from_text<mass>("1 lb 8 oz"), {mass_division::unit::grams}).size() == 0; }
