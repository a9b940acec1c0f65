// The queue of starts has room for all that a slab may have, in front of the sirloin face and up to it.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

namespace start_queue_test {

using namespace tranche;
using namespace tranche::literals;

TEST_CASE("a loin shorter than the least thickness and its kerf gives the thickest slab that it has") {
    // Invented. No slab has room for the kerf behind it, so all of the many starts are of slabs up to the sirloin face.
    for (const length& extent : {60_mm, 81_mm, 100_mm, 108_mm}) {
        const profile meat = tabulate(prism_loin{.length = extent, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
        const cut_spec roast{.name = "roast", .thickness = {50_mm, 120_mm}, .kerf = 60_mm};
        const tranche::planned planned = least_waste(meat, roast);
        CAPTURE(extent / millimetre);
        REQUIRE(planned.plan.slabs.size() == 1);
        CHECK(planned.plan.slabs.front().kind == slab_kind::portions);
        CHECK(planned.plan.slabs.front().start == 0_mm);
        CHECK(balance_of(planned.plan).portion_total() == meat.total());
    }
}

} // namespace start_queue_test
