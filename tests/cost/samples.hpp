// Invented loins, plans, purchases and prices, for the laws of cost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include <tranche/tranche.hpp>

namespace cost_samples {

using namespace tranche;
using namespace tranche::literals;

struct scenario {
    profile meat;
    planned cuts{};
    purchase<eur> bought{};
    price_list<eur> prices{};
};

/// A number from low to high that is the same on every platform.
inline double between(std::mt19937& random, double low, double high) {
    return low + (high - low) * (static_cast<double>(random()) / 4294967295.0);
}

inline scenario invented(std::uint32_t seed) {
    std::mt19937 random(seed);
    const auto cm = [&](double low, double high) { return between(random, low, high) * centimetre; };
    const measured_loin loin{
        .length = cm(30, 45),
        .stations =
            {{.at = 0_cm, .width = cm(18, 24), .depth = cm(6, 9), .fat_cover = cm(0.3, 1.5), .tail = cm(0, 5)},
             {.at = 28_cm, .width = cm(18, 24), .depth = cm(6, 9), .fat_cover = cm(0.3, 1.5), .tail = cm(0, 3)}},
        .gluteus_medius = {.onset = cm(22, 29), .share_at_end = between(random, 0.05, 0.5)},
        .shape = {.silverskin = 1_mm}};
    scenario s{.meat = tabulate(loin, 1_mm)};
    const std::vector<cut_spec> specs{
        {.name = "steak",
         .thickness = {20_mm, 35_mm},
         .portion = {250_g, 450_g},
         .trim = {.fat_cover = 6_mm, .tail = 25_mm},
         .kerf = cm(0, 0.1)},
        {.name = "fillet",
         .thickness = {35_mm, 60_mm},
         .portion = {120_g, 260_g},
         .pieces = 2,
         .trim = {.fat_cover = 0_mm, .tail = 0_mm, .silverskin = false}},
        {.name = "end steak", .thickness = {20_mm, 30_mm}, .gluteus_medius = any_gluteus_medius}};
    for (const cut_spec& spec : specs)
        s.prices.portions[spec.name] = {.by_weight = between(random, 8, 40) * 1_eur / 1_kg};
    for (const destination d : all_destinations) s.prices.by_products[d] = between(random, -0.5, 12) * 1_eur / 1_kg;
    s.bought = {.weight = to_mass(s.meat.total()) * between(random, 1.0, 1.03),
                .price = between(random, 5, 30) * 1_eur / 1_kg};
    s.cuts = best_value(s.meat, specs, s.prices, {.facing = cm(0, 1)});
    return s;
}

} // namespace cost_samples
