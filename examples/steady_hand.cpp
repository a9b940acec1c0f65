// What is practice worth? The same loins under hands of 0 to 3 mm spread, cut thickness after thickness, by marks, and with the scale's
// word taken after each slab. Invented scenario: steaks of 300 to 360 g; a heavier one is trimmed down, a lighter one is ground.
// With a folder as its argument the program draws the margin over the spread there.
// SPDX-License-Identifier: BSL-1.0
#include <cstdio>
#include <vector>

#include <tranche/report/charts/line_chart.hpp>
#include <tranche/study.hpp>
#include <tranche/tranche.hpp>

#include "made_files.hpp"

using namespace tranche;
using namespace tranche::literals;

int main(int argc, char** argv) {
    const profile typical = calibrated_profile(typical_loin(5.4_kg, beef_strip_loin), 5.4_kg, {.step = 1_mm});
    const loin_variation loins = variation_of(beef_strip_loin);
    loin_terms<usd> terms{.price = 17.90_usd / 1_kg};
    terms.prices.portions["steak"] = {.by_weight = 36_usd / 1_kg};
    terms.prices.by_products[destination::grind] = 9_usd / 1_kg;
    std::vector<chart_line> lines{{.name = "thickness after thickness"}, {.name = "marks"}, {.name = "planned again"}};
    std::printf("spread   within limits: by thickness   by marks   planned again    margin, USD:\n");
    for (const double spread : {0.0, 0.5, 1.0, 1.5, 2.0, 3.0}) {
        const auto task = [&](hand_follows follows) {
            return loin_task{
                .request = {.cuts = {{.name = "steak",
                                      .thickness = {20_mm, 45_mm},
                                      .portion = {300_g, 360_g},
                                      .trim = {.fat_cover = 6_mm, .tail = 25_mm},
                                      .gluteus_medius = any_gluteus_medius}},
                            .rules = {.facing = 8_mm}},
                .hand = {.knife = {.spread = spread * 1_mm, .judge_thickness = false}, .follows = follows}};
        };
        const auto cut = [&](hand_follows follows, const auto& way, std::uint64_t count) {
            return run_study(loin_study(typical, loins, task(follows), terms, way), {.replicates = count});
        };
        const auto even = best_value(terms.prices);
        const std::vector<study_result> results{
            cut(hand_follows::thickness, plan_for_each(even), 400), cut(hand_follows::marks, plan_for_each(even), 400),
            cut(hand_follows::thickness, plan_again_while_cutting(even, {.knife = spread * 1_mm}), 100)};
        std::printf("%3.1f mm", spread);
        for (const study_result& result : results)
            std::printf("%14.0f %%", 100.0 * *result["share within limits"].mean());
        for (std::size_t i = 0; i < results.size(); ++i) {
            const exact_summary& margin = results[i]["margin"];
            const auto likely = *estimate_mean(margin);
            lines[i].points.push_back(
                {.x = spread, .y = likely.mean, .band = chart_band{likely.interval.low, likely.interval.high}});
            std::printf("%9.2f", likely.mean);
        }
        std::printf("\n");
    }
    if (argc > 1)
        return example::made_in(
            argv[1], {{"steady_hand.svg", line_chart_svg({.title = "What is practice worth?",
                                                          .x = {.title = "spread of the knife", .unit = "mm"},
                                                          .y = {.title = "margin of a loin, mean", .unit = "USD"},
                                                          .lines = lines})}});
}
