// An invented loin, planned and billed, for the tests of the reports.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

namespace report_sample {

using namespace tranche;
using namespace tranche::literals;

inline profile meat() {
    const measured_loin loin{
        .length = 16.5_in,
        .stations = {{.at = 0.0_in, .width = 8.4_in, .depth = 3.1_in, .fat_cover = 0.45_in, .tail = 2.0_in},
                     {.at = 8.0_in, .width = 7.9_in, .depth = 3.0_in, .fat_cover = 0.35_in, .tail = 1.5_in},
                     {.at = 16.5_in, .width = 8.2_in, .depth = 2.8_in, .fat_cover = 0.30_in, .tail = 1.0_in}},
        .gluteus_medius = {.onset = 13.2_in, .share_at_end = 0.30}};
    return calibrated_profile(loin, 11.9_lb);
}

inline std::vector<cut_spec> specs() {
    return {{.name = "strip steak",
             .thickness = {1.0_in, 1.5_in},
             .portion = {11.0_oz, 14.0_oz},
             .trim = {.fat_cover = 0.25_in, .tail = 1.0_in},
             .kerf = 1.0_mm},
            {.name = "fillet",
             .thickness = {1.5_in, 2.5_in},
             .portion = {6.0_oz, 9.0_oz},
             .pieces = 2,
             .trim = {.fat_cover = 0.0_in, .tail = 0.0_in, .silverskin = false},
             .gluteus_medius = no_gluteus_medius},
            {.name = "end steak",
             .thickness = {1.0_in, 1.5_in},
             .portion = {11.0_oz, 16.0_oz},
             .trim = {.fat_cover = 0.25_in, .tail = 1.0_in},
             .gluteus_medius = any_gluteus_medius}};
}

inline const cutting_rules rules{.facing = 0.25_in};

template <currency C>
unit_price<C> per_lb(double number) {
    return number * money<C>::from_value(1.0) / pound;
}

/// Prices of the specs, `dearer` times those of a plain example.
template <currency C>
price_list<C> prices(double dearer = 1.0) {
    price_list<C> list;
    list.portions = {{"strip steak", {.by_weight = per_lb<C>(15.0 * dearer)}},
                     {"fillet", {.by_weight = per_lb<C>(18.0 * dearer)}},
                     {"end steak", {.by_weight = per_lb<C>(11.0 * dearer)}}};
    list.by_products[destination::grind] = per_lb<C>(4.5 * dearer);
    list.by_products[destination::discard] = per_lb<C>(-0.1 * dearer);
    return list;
}

template <currency C>
purchase<C> bought(double dearer = 1.0) {
    return {.weight = 12.0_lb, .price = per_lb<C>(8.10 * dearer)};
}

/// Six slabs of three kinds, which any change of the optimiser leaves as they are.
inline cutting_plan mixed_plan(const profile& loin) {
    const std::size_t start = detail::position_behind_facing(loin, rules), end = loin.cells();
    return lay_out(loin, specs(), rules,
                   {{start, start + 60, slab_kind::portions, 0},
                    {start + 60, start + 80, slab_kind::loose, 0},
                    {start + 80, start + 180, slab_kind::portions, 1},
                    {start + 180, start + 240, slab_kind::portions, 2},
                    {start + 240, end, slab_kind::loose, 0}});
}

/// A plan to report on that no optimiser made.
inline planned as_given(cutting_plan cuts) {
    tranche::planned planned;
    planned.plan = std::move(cuts);
    return planned;
}

template <currency C>
std::vector<savings<C>> comparisons(const cutting_plan& cuts, const bill<C>& settled, double dearer = 1.0) {
    return {make_or_buy(ready_cut<C>{"ready-cut steak", per_lb<C>(16.99 * dearer), {"strip steak"}}, cuts, settled,
                        {.prices = prices<C>(dearer)}),
            make_or_buy(ready_cut<C>{"any steak", per_lb<C>(2.0 * dearer)}, cuts, settled)};
}

} // namespace report_sample
