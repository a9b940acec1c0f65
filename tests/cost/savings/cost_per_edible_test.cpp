// What the edible part costs, against the tissues of the plan counted slab by slab.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/cost_per_edible.hpp>

#include <cstdint>

#include "cost/samples.hpp"
#include "support/catch.hpp"

namespace cost_per_edible_test {

using namespace cost_samples;
using namespace tranche_test;

TEST_CASE("edible_portion_cost: is what was paid, less credits, over the lean of the portions") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const scenario s = invented(seed);
        const cutting_plan& cuts = s.cuts.plan;
        const bill<eur> settled = settle(cuts, s.bought, s.prices);
        micrograms lean, all;
        for (const slab& one : cuts.slabs) {
            if (one.kind != slab_kind::portions) continue;
            lean += one.kept[tissue::eye] + one.kept[tissue::gluteus_medius];
            for (const tissue t : all_tissues) all += one.kept[t];
        }
        CAPTURE(seed);
        const auto cost = edible_portion_cost(cuts, settled, {.counts = {{1.0, 1.0, 0.0, 0.0, 0.0}}});
        if (lean.count == 0) {
            CHECK_FALSE(cost.has_value());
            continue;
        }
        REQUIRE(cost.has_value());
        // Shares of tissues and back: a few roundings of doubles.
        CHECK(*cost * to_mass(lean) / settled.test.unrounded_primary_value == Approx(1.0).epsilon(1e-12));
        // Where everything counts, it is the cost by weight; and no less that counts makes it cheaper.
        const auto everything = edible_portion_cost(cuts, settled, {.counts = {{1.0, 1.0, 1.0, 1.0, 1.0}}});
        REQUIRE(everything.has_value());
        CHECK(*everything / *settled.test.cost_per_usable() == Approx(1.0).epsilon(1e-12));
        if (settled.test.unrounded_primary_value > money<eur>{}) CHECK(*cost >= *everything);
    }
}

TEST_CASE("edible_portion_cost: nothing that counts costs nothing by weight") {
    const scenario s = invented(3);
    const cutting_plan none = lay_out(s.meat, s.cuts.plan.specs, {}, {{0, s.meat.cells(), slab_kind::loose, 0}});
    CHECK_FALSE(edible_portion_cost(none, settle<eur>(none, s.bought)).has_value());
    CHECK_THROWS_AS(edible_portion_cost(none, settle<eur>(none, s.bought), {.counts = {{0.0, 0.0, 0.0, 0.0, 0.0}}}),
                    invalid_input);
}

} // namespace cost_per_edible_test
