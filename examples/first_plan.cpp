// The first plan: a loin from two tape readings, the most steaks from it, and what they cost. Invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <iostream>

#include <tranche/tranche.hpp>
using namespace tranche;
using namespace tranche::literals;

int main() {
    const measured_loin loin{
        .length = 42_cm,
        .stations = {{.at = 0_cm, .width = 21_cm, .depth = 8_cm, .fat_cover = 11_mm, .tail = 5_cm},
                     {.at = 42_cm, .width = 20_cm, .depth = 7_cm, .fat_cover = 8_mm, .tail = 25_mm}},
        .gluteus_medius = {.onset = 34_cm, .share_at_end = 0.30}};
    const profile meat = calibrated_profile(loin, 5.2_kg);
    const cut_spec steak{.name = "strip steak",
                         .thickness = {25_mm, 38_mm},
                         .portion = {300_g, 400_g},
                         .trim = {.fat_cover = 6_mm, .tail = 25_mm}};
    const auto planned = most_portions(meat, steak, {.facing = 6_mm});
    if (!planned.feasible()) return std::cout << planned.why_not() << '\n', 1;
    const auto bill = settle<usd>(planned.plan, {.weight = 5.3_kg, .price = 17.90_usd / 1_kg});
    std::cout << text_report(planned, bill, metric_kitchen);
}
