// How thick should steaks be? The same five hundred loins cut 22 to 36 mm thick, compared loin by loin. Invented scenario: a bistro asks
// one price for a steak of 260 g or more, whatever it weighs, and grinds what is lighter. With a folder as its argument the program
// draws the margin over the thickness there.
// SPDX-License-Identifier: BSL-1.0
#include <cstdio>
#include <string>
#include <vector>

#include <tranche/report/charts/line_chart.hpp>
#include <tranche/study.hpp>
#include <tranche/tranche.hpp>

#include "made_files.hpp"

using namespace tranche;
using namespace tranche::literals;

int main(int argc, char** argv) {
    const profile typical = calibrated_profile(typical_loin(5.4_kg, beef_strip_loin), 5.4_kg, {.step = 1_mm});
    loin_terms<usd> terms{.price = 17.90_usd / 1_kg};
    terms.prices.portions["steak"] = {.each = 16_usd};
    terms.prices.by_products[destination::grind] = 9_usd / 1_kg;
    using way = plan_for_each<decltype(most_portions())>;
    std::vector<study_choice<loin_study<usd, way>>> choices;
    for (int thick = 22; thick <= 36; thick += 2) {
        const loin_task task{.request = {.cuts = {{.name = "steak",
                                                   .thickness = {thick * 1_mm, (thick + 3) * 1_mm},
                                                   .portion = {260_g, unlimited<mass>()},
                                                   .trim = {.fat_cover = 6_mm, .tail = 25_mm}}},
                                         .rules = {.facing = 8_mm}},
                             .hand = {.knife = {.spread = 1_mm, .judge_thickness = false}}};
        choices.push_back({std::to_string(thick) + " mm",
                           {typical, variation_of(beef_strip_loin), task, terms, way(most_portions())}});
    }
    const study_result found = run_study(study_comparison(choices), {.replicates = 500});

    chart_line margin{.name = "margin of a loin"};
    std::printf("at least   steaks sold     margin, USD    against %s (95 %%)\n", choices.front().name.c_str());
    for (const auto& choice : choices) {
        const exact_summary& made = found[choice_output(choice.name, "margin")];
        const auto tenths = estimate_quantiles(made, {0.1, 0.9});
        margin.points.push_back(
            {.x = std::stod(choice.name), .y = made.mean(), .band = chart_band{tenths[0].value, tenths[1].value}});
        std::printf("%8s %13.1f %15.2f", choice.name.c_str(),
                    *found[choice_output(choice.name, "portions within limits")].mean(), *made.mean());
        if (choice.name != choices.front().name) {
            const auto gain = *estimate_mean(found[choice_difference(choice.name, choices.front().name, "margin")]);
            std::printf("    %+7.2f +/- %.2f", gain.mean, gain.half_width());
        }
        std::printf("\n");
    }
    if (argc > 1)
        return example::made_in(
            argv[1],
            {{"thickness_study.svg", line_chart_svg({.title = "How thick should steaks be?",
                                                     .x = {.title = "least thickness", .unit = "mm"},
                                                     .y = {.title = "margin of a loin, 10 to 90 %", .unit = "USD"},
                                                     .lines = {margin}})}});
}
