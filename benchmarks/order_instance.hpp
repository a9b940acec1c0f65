// An invented plant: unlike taped loins, and an order of so many products for two thirds of what they weigh.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>

#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/orders.hpp>
#include <tranche/units/literals.hpp>

namespace tranche_benchmark {

/// Numbers that are the same with every library.
class order_dice {
public:
    explicit order_dice(std::uint64_t seed) : state_(seed * 0x9E37'79B9'7F4A'7C15U + 1) {
        for (int i = 0; i < 8; ++i) even();
    }
    /// 0 to 1.
    double even() {
        state_ ^= state_ << 13U, state_ ^= state_ >> 7U, state_ ^= state_ << 17U;
        return static_cast<double>(state_ >> 11U) * 0x1p-53;
    }
    /// About normal, with a standard deviation of 1: the sum of twelve.
    double spread() {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) sum += even();
        return sum;
    }

private:
    std::uint64_t state_;
};

/// All figures are invented: loins of 42 cm ± 2 and 4.6 kg ± 5 % at 17.90 USD/kg ± 3 %, portions of 160 to 800 g within
/// windows of 5 to 10 %, a loose kilogram worth 4 USD, a portion missing 2.2 times its meat, one left over a third of it.
[[nodiscard]] inline tranche::order<tranche::usd> invented_order(std::size_t loins, std::size_t products,
                                                                 tranche::length step, std::uint64_t seed = 1,
                                                                 double fill = 0.65) {
    using namespace tranche;
    using namespace tranche::literals;
    order<usd> wanted;
    order_dice dice(seed);
    wanted.rules.facing = 8_mm;
    wanted.by_products[destination::grind] = 4_usd / 1_kg;
    wanted.loins.resize(loins);
    for (std::size_t i = 0; i < loins; ++i) {
        const double extent = std::clamp(42.0 + 2.0 * dice.spread(), 36.0, 48.0);
        const double scale = 1.0 + 0.05 * dice.spread();
        const auto near = [&](double value, double by) { return value * scale * (1.0 + by * dice.spread()) * 1_cm; };
        measured_loin loin{.length = extent * 1_cm};
        constexpr double places[] = {0.0, 0.48, 1.0}, widths[] = {22, 21, 20}, depths[] = {7.8, 7.5, 7.7},
                         fat[] = {1.0, 0.8, 0.7}, tails[] = {4, 3, 2};
        for (std::size_t k = 0; k < 3; ++k) {
            const length width = near(widths[k], 0.03), depth = near(depths[k], 0.03);
            const length cover = near(fat[k], 0.08), tail = near(tails[k], 0.1);
            loin.stations.push_back(
                {.at = places[k] * extent * 1_cm, .width = width, .depth = depth, .fat_cover = cover, .tail = tail});
        }
        loin.gluteus_medius = {.onset = extent * (0.79 + 0.02 * dice.spread()) * 1_cm, .share_at_end = 0.35};
        const profile coarse = tabulate(loin, 10_mm);
        const double price = 17.9 * (1.0 + 0.03 * dice.spread());
        wanted.loins[i] = {
            .name = "loin " + std::to_string(i + 1),
            .meat = loin_source(loin, step),
            .worth = money<usd>::from_value(std::round(price * to_mass(coarse.total()).value() * 100.0) / 100.0)};
    }
    order_dice of_lines(seed + 1'000'003);
    double shares = 0.0;
    std::vector<double> share, weight;
    for (std::size_t j = 0; j < products; ++j) {
        const double apart = products == 1 ? 0.0 : 640.0 * static_cast<double>(j) / static_cast<double>(products - 1);
        const double grams = std::round(160.0 + apart * (0.9 + 0.2 * of_lines.even()));
        const double half = 0.05 + 0.05 * of_lines.even(), spare = 0.2 + 0.1 * of_lines.even();
        constexpr double left_on[] = {1.0, 0.95, 0.9, 0.85};
        const double thick = grams / 14.0 / left_on[j % 4];
        cut_spec cut{.name = "product " + std::to_string(j + 1),
                     .thickness = {std::round(thick * (1.0 - spare)) * 1_mm, std::round(thick * (1.0 + spare)) * 1_mm},
                     .portion = {std::round(grams * (1.0 - half)) * 1_g, std::round(grams * (1.0 + half)) * 1_g}};
        if (j % 4 == 1) cut.trim = {.fat_cover = 6_mm, .tail = 25_mm};
        if (j % 4 == 2) cut.trim = {.fat_cover = 3_mm, .tail = 0_mm};
        if (j % 4 == 3) cut.trim = {.fat_cover = 0_mm, .tail = 0_mm};
        cut.gluteus_medius = j % 3 == 0 ? any_gluteus_medius : on_one_face;
        const double meat = grams / 1000.0 * 18.0;
        wanted.lines.push_back({.cut = cut,
                                .unfilled = money<usd>::from_value(std::round(220.0 * meat) / 100.0),
                                .surplus = money<usd>::from_value(std::round(35.0 * meat) / 100.0)});
        share.push_back(0.3 + of_lines.even());
        shares += share.back();
        weight.push_back(grams);
    }
    for (std::size_t j = 0; j < products; ++j) {
        const std::int64_t portions =
            std::llround(fill * static_cast<double>(loins) * 4600.0 * share[j] / shares / weight[j]);
        wanted.lines[j].at_least = wanted.lines[j].at_most = portions;
    }
    return wanted;
}

} // namespace tranche_benchmark
