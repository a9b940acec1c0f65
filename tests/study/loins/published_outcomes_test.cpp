// What studies from published moments come to, beside what was published of the outcome.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <string_view>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/study/loins/loin_study.hpp>
#include <tranche/study/run/run_study.hpp>
#include <tranche/study/vary/known_variations.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace published_outcomes_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("checked against meat: chops of pork loins and their yield come out near what was published") {
    // Wilson et al. 2016, J. Anim. Sci. 94:4903, n about 1,238 (read in the source): 17 chops of 2.54 cm, coefficient of variation
    // 7.82 %, so a standard deviation of 1.33; chop yield 89.5 %, 2.64 %, so 2.36 points; lightest to heaviest loin 13 to 20 chops.
    // Weight, length and depth are drawn by their moments and correlations. Chops are cut as in the test of populations: 1 in thick,
    // the rib end squared by 1 cm, the gluteus medius on one face at most.
    const loin_task task{.request = {.cuts = {{.name = "chop", .thickness = 25.4_mm, .gluteus_medius = on_one_face}},
                                     .rules = {.facing = 1_cm}},
                         .hand = steady_hand};
    const profile typical = calibrated_profile(typical_loin(4.1_kg, boneless_pork_loin), 4.1_kg, {.step = 1.27_mm});
    const loin_study study(typical, boneless_pork_variation(), task, loin_terms<usd>{}, plan_for_each(most_portions()));
    const study_result result = run_study(study, {.seed = 1, .replicates = 4'000});
    const exact_summary &chops = result["portions"], &yield = result["yield"];
    // 17.3 and 1.29 chops, 90.3 and 2.8 %: as near as a model of a typical loin can be expected to come, whose fit to weight and
    // length is by moments alone. What it cannot know: how the cutters judged where chops end (the ends that are left here follow
    // from the second muscle), how loins lie, and who was left out; draws of sizes out of all proportion, 2 %, are left out here.
    CHECK(*chops.mean() == Approx(17.0).margin(0.5));
    CHECK(*chops.standard_deviation() == Approx(1.33).margin(0.10));
    CHECK(*yield.mean() == Approx(0.895).margin(0.012));
    CHECK(*yield.standard_deviation() == Approx(0.0236).margin(0.006));
    const double left_out = static_cast<double>(result.replicates() - chops.count()) / 4'000.0;
    CHECK(left_out < 0.03);
    CHECK(result.failed() == 0);
}

} // namespace published_outcomes_test
