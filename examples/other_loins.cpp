// A pork loin known by its weight alone, and a tuna loin measured and weighed slice by slice. Invented scenario: a cook
// has both on the board on the same evening.
// SPDX-License-Identifier: BSL-1.0
#include <iostream>
#include <string>

#include <tranche/tranche.hpp>
#include <tranche/weighed_slices.hpp>

using namespace tranche;
using namespace tranche::literals;

namespace {

void print(const tranche::planned& planned, const std::string& title) {
    std::cout << title << ": " << planned.plan.portion_count() << " portions\n" << planned.why_not();
    for (const slab& s : planned.plan.slabs) {
        const bool portions = s.kind == slab_kind::portions;
        const std::string name(portions ? planned.plan.spec_of(s).name : std::string(name_of(s.kind)));
        std::cout << "  " << to_text(s.start, whole_millimetres) << ": " << to_text(s.thickness, whole_millimetres)
                  << ' ' << name << ", " << to_text(to_mass(s.weight()), whole_grams) << '\n';
    }
}

/// Nothing but the weight is known of the pork: typical proportions, and what that leaves open.
void pork() {
    const typical_loin loin(4.3_kg, boneless_pork_loin);
    const tissue_densities dense = densities_of(pork_top_loin_lean, pork_separable_fat, 3_degC);
    const profile meat = calibrated_profile(loin, 4.3_kg, {.densities = dense});
    const cut_spec chop{.name = "chop", .thickness = 25_mm, .trim = {.fat_cover = 3_mm}};
    const auto planned = most_portions(meat, chop, {.facing = 10_mm});
    print(planned, "Pork loin, 4.3 kg");
    std::cout << "  give or take " << percent_text(loin.slice_count_spread()) << " in their number, "
              << percent_text(loin.slice_weight_spread()) << " in the weight of each\n\n";
}

/// The tuna was measured. Two slices cut for the first guests were weighed and correct what the tape says of the rest.
void tuna() {
    const measured_loin taped{.length = 46_cm,
                              .stations = {{.at = 0_cm, .width = 12_cm, .depth = 7_cm},
                                           {.at = 25_cm, .width = 12_cm, .depth = 65_mm},
                                           {.at = 46_cm, .width = 7_cm, .depth = 4_cm}},
                              .shape = {.fill = superellipse_fill(2.0)}};
    const tissue_densities dense = densities_of(yellowfin_tuna, yellowfin_tuna, 2_degC);
    const auto found = calibrate_by_slices(taped, 2.75_kg,
                                           {{.from = 0_mm, .to = 20_mm, .weight = 148_g, .standard_deviation = 4_g},
                                            {.from = 20_mm, .to = 40_mm, .weight = 144_g, .standard_deviation = 4_g}},
                                           {}, {default_step, dense});
    const profile meat = tabulate(found.loin, default_step, dense);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 35_mm}, .portion = {150_g, 180_g}};
    const cut_spec block{.name = "block", .thickness = {60_mm, 90_mm}};
    price_list<eur> prices;
    prices.portions["steak"] = {.by_weight = 52_eur / 1_kg};
    prices.portions["block"] = {.by_weight = 46_eur / 1_kg};
    prices.by_products[destination::dice] = 24_eur / 1_kg;
    // What is gone already stands in the plan as the facing.
    const cutting_rules rules{
        .facing = 40_mm, .facing_goes_to = destination::strips, .loose = {{.goes_to = destination::dice}}};
    print(best_value(meat, {steak, block}, prices, rules), "Tuna loin, 2.75 kg");
    for (const slice_finding& f : found.findings)
        std::cout << "  a slice taken for " << to_text(f.by_weight_alone, whole_grams) << " by the tape, now "
                  << to_text(f.fitted, whole_grams) << '\n';
}

} // namespace

int main() {
    pork();
    tuna();
}
