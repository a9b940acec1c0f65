// A list of prices.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cut.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() { return price_list<usd>{}.portions.size() == 0; }
