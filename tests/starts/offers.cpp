// Ranks the only offer.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/offers.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return rank_offers<usd>({{.name = "one", .bought = {.weight = 5_kg, .price = 18_usd / 1_kg}, .portions = 4_kg}},
                            300_g)
               .size() == 0;
}
