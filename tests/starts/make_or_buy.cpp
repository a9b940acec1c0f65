// Compares with meat that was bought ready cut.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    return make_or_buy<usd>({.name = "ready cut", .price = 30_usd / 1_kg},
                            {{.name = "steaks", .weight = {2}, .count = 2}},
                            {.lines = {{.part = {.name = "steaks"}}}, .usable = {2}})
               .lines.size() == 0;
}
