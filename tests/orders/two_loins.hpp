// Two invented loins and an order of two products, small enough to be worked by hand.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/units/literals.hpp>

namespace tranche_test {

/// 100 cm² of lean at 1 g/cm³: a millimetre weighs 10 g.
inline tranche::profile ten_grams_a_millimetre(tranche::length extent) {
    using namespace tranche;
    using namespace tranche::literals;
    tissue_densities dense = densities_at_4_celsius();
    dense[tissue::eye] = 1000.0 * kilogram_per_cubic_metre;
    const prism_loin loin{.length = extent, .face = {.width = 10_cm, .depth = 10_cm}, .shape = {.fill = 1.0}};
    return tabulate(loin, 1_mm, dense);
}

/// Loin A is 100 mm long, 1000 g, and cost 12.00; loin B is 60 mm long, 600 g, and cost 8.00. Three thick portions of 30 mm (300 g) are
/// ordered at 9.00 each, and two thin ones of 20 mm (200 g) at 5.00 each; a missing one costs 2.00 or 1.00 more, one left over is
/// worth 1.00 or 0.50. Loose meat brings 5.00 a kilogram.
///
/// Both loins: 3 × 9.00 + 2 × 5.00 + 300 g × 5.00/kg - 12.00 - 8.00 = 18.50. A alone, two of each: 18.00 + 10.00 - 2.00 - 12.00 =
/// 14.00; three thick ones: 27.00 - 2 × 1.00 + 0.50 - 12.00 = 13.50. B alone, two thick ones: 18.00 - 2.00 - 2.00 - 8.00 = 6.00. None:
/// -8.00.
template <tranche::currency C>
[[nodiscard]] tranche::order<C> two_loins() {
    using namespace tranche;
    using namespace tranche::literals;
    const auto units = [](double value) { return money<C>::from_value(value); };
    order<C> wanted; // member by member: g++ 12 stumbles over designated ones in a template
    const auto loin = [&](const char* name, length extent, double worth) {
        order_loin<C>& one = wanted.loins.emplace_back();
        one.name = name;
        one.meat = ten_grams_a_millimetre(extent);
        one.worth = units(worth);
    };
    const auto line = [&](const char* name, length thickness, std::int64_t portions, double each, double unfilled) {
        order_line<C>& one = wanted.lines.emplace_back();
        one.cut = {.name = name, .thickness = {thickness, thickness}};
        one.at_least = one.at_most = portions;
        one.price.each = units(each);
        one.unfilled = units(unfilled);
        one.surplus = units(unfilled / 2.0);
    };
    loin("A", 100_mm, 12.0);
    loin("B", 60_mm, 8.0);
    line("thick", 30_mm, 3, 9.0, 2.0);
    line("thin", 20_mm, 2, 5.0, 1.0);
    wanted.by_products[destination::grind] = units(5.0) / kilogram;
    return wanted;
}

/// The best plan of it: A gives two of each, B one thick portion and 30 mm (300 g) of loose meat.
template <tranche::currency C>
[[nodiscard]] tranche::order_plan<C> plan_of_two_loins() {
    using namespace tranche;
    constexpr std::int64_t one = 1'000'000'000; // a unit of the currency
    order_plan<C> plan{.opened = {{.loin = 0,
                                   .portions = {2, 2},
                                   .cuts = {{30, 0, slab_kind::portions},
                                            {60, 0, slab_kind::portions},
                                            {80, 1, slab_kind::portions},
                                            {100, 1, slab_kind::portions}}},
                                  {.loin = 1,
                                   .worth_billionths = 3 * one / 2,
                                   .portions = {1, 0},
                                   .cuts = {{30, 0, slab_kind::portions}, {60, 0, slab_kind::loose}}}},
                       .lines = {{.made = 3, .most = 5, .price_billionths = 7 * one / 2}, {.made = 2, .most = 8}},
                       .value_billionths = 37 * one / 2,
                       .bound_billionths = 37 * one / 2,
                       .ended = order_end::proven};
    return plan;
}

/// Steaks of 300 g, 290 to 310, out of two loins, A and B, of 200 mm that the tape has at 2 kg: six and some loose meat each. So many
/// are ordered, no more; a steak sells for 9.00, a missing one costs 5.00, loose meat brings 5.00 a kilogram. A loin costs
/// 20.00, or A something else.
[[nodiscard]] inline tranche::order<tranche::usd> steaks_of_two_loins(
    std::int64_t steaks, tranche::money<tranche::usd> worth_of_a = tranche::money<tranche::usd>::from_value(20.0)) {
    using namespace tranche;
    using namespace tranche::literals;
    order<usd> wanted{.lines = {{.cut = {.name = "steak", .thickness = {20_mm, 40_mm}, .portion = {290_g, 310_g}},
                                 .at_least = steaks,
                                 .at_most = steaks,
                                 .price = {.each = 9_usd},
                                 .unfilled = 5_usd}}};
    for (const auto& [name, worth] : {std::pair{"A", worth_of_a}, {"B", 20_usd}})
        wanted.loins.push_back({.name = name, .meat = ten_grams_a_millimetre(200_mm), .worth = worth});
    wanted.by_products[destination::grind] = 5_usd / 1_kg;
    return wanted;
}

} // namespace tranche_test
