// The code that docs/loin_studies.md shows, compiled and run; docs_test.cpp compares the text.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <tranche/study.hpp>
#include <tranche/tranche.hpp>

namespace loin_studies_snippets {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("docs on studies of loins: a study comes to what the page says") {
    const profile typical = calibrated_profile(typical_loin(5.4_kg, beef_strip_loin), 5.4_kg, {.step = 1_mm});
    const loin_task task{.request = {.cuts = {{.name = "steak",
                                               .thickness = {24_mm, 34_mm},
                                               .portion = {300_g, 360_g},
                                               .trim = {.fat_cover = 6_mm, .tail = 25_mm}}},
                                     .rules = {.facing = 8_mm}},
                         .hand = {.knife = {.spread = 1_mm, .judge_thickness = false}},
                         .purge = 0.01};
    loin_terms<usd> terms{.price = 17.90_usd / 1_kg};
    terms.prices.portions["steak"] = {.by_weight = 34_usd / 1_kg};
    terms.prices.by_products[destination::grind] = 9_usd / 1_kg;

    const loin_study study(typical, variation_of(beef_strip_loin), task, terms, plan_for_each(most_portions()));
    const study_result result = run_study(study, {.replicates = 400});
    const auto steaks = estimate_quantiles(result["portions"], {0.05, 0.95}); // 9 times out of 10 between these
    const auto margin = estimate_mean(result["margin"]);                      // dollars a loin, with its interval

    CHECK(steaks[0].value < steaks[1].value);
    CHECK(steaks[0].value > 5.0);
    CHECK(steaks[1].value < 20.0);
    CHECK(margin->half_width() < 10.0);
    CHECK(result.failed() == 0);
    CHECK(result["covers short"].count() == 0); // nobody said how many guests

    const loin_variation loins = variation_of(beef_strip_loin)       // sizes, by published spreads
                                     .with(purge_of_wet_aged_beef()) // 0.1 to 3 %
                                     .with(varied::price, distribution::normal(1.0, 0.05)) // a factor on the price paid
                                     .with(varied::covers, distribution::uniform(20, 40)); // guests tonight
    const loin_study tonight(typical, loins, task, terms, plan_for_each(most_portions()));
    const study_result short_of = run_study(tonight, {.replicates = 100});
    CHECK(short_of["covers short"].count() > 90);
    CHECK(*short_of["covers short"].mean() > 5.0);
}

} // namespace loin_studies_snippets
