// What a plan is worth, on an invented prism that can be added up by hand.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/plan_worth.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/units/literals.hpp>

namespace plan_worth_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a plan is worth its portions, its facing and its loose meat") {
    const profile meat = tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const std::vector<cut_spec> specs{{.name = "fillet", .thickness = 50_mm, .pieces = 2}};
    const cutting_rules rules{.facing = 10_mm, .facing_goes_to = destination::strips};
    const cutting_plan cuts =
        lay_out(meat, specs, rules, {{10, 60, slab_kind::portions, 0}, {60, 110, slab_kind::portions, 0}, {110, 200}});
    price_list<usd> prices{.portions = {{"fillet", {.by_weight = 30_usd / 1_kg, .each = 0.5_usd}}}};
    prices.by_products[destination::strips] = 12_usd / 1_kg;
    prices.by_products[destination::grind] = 9_usd / 1_kg;
    // Shares of 200 mm: 10 facing, 100 fillets (four pieces), 90 grind.
    const double whole = to_mass(meat.total()).value();
    const double expected = whole * (0.05 * 12.0 + 0.5 * 30.0 + 0.45 * 9.0) + 4 * 0.5;
    CHECK_THAT(worth_of<usd>(cuts, prices).value(),
               WithinAbs(expected, 1e-7)); // a few micrograms of rounding at 30 USD/kg
    prices.portions.clear();
    CHECK_THROWS_AS(worth_of<usd>(cuts, prices), invalid_input);
}

} // namespace plan_worth_test
