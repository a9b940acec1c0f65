// A plan, a bill and a report that the compiled library makes. Invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/compiled.hpp>

const tranche::version_number* version_where_the_job_is_done();

/// None unless what the library compiled works.
const tranche::version_number* version_where_the_job_is_done() {
    using namespace tranche;
    using namespace tranche::literals;
    const measured_loin loin{
        .length = 40_cm, .stations = {{.at = 0_cm, .width = 20_cm, .depth = 7_cm, .fat_cover = 8_mm, .tail = 3_cm}}};
    const profile meat = calibrated_profile(loin, 5_kg);
    const cut_spec steak{.name = "steak", .thickness = {25_mm, 38_mm}, .portion = {250_g, 450_g}};
    const tranche::planned planned = most_portions(meat, steak, {.facing = 6_mm});
    const bill<usd> paid = settle<usd>(planned.plan, {.weight = 5_kg, .price = 18.00_usd / 1_kg});
    // 300 g are charged for what weighs 250 g or more: that a portion may be short is why every slab is looked at.
    const tranche::planned charged = least_giveaway(meat, steak, {{"steak", 300_g}}, {.facing = 6_mm});
    if (charged.plan.portion_count() != planned.plan.portion_count()) return nullptr;
    const cut_spec plank{.name = "plank", .thickness = {50_cm, 60_cm}};
    if (most_portions(meat, plank).why_not().find("plank") == std::string::npos) return nullptr;
    const bool whole = planned.proven_optimal() && verify(planned.plan, meat, {steak}, planned.plan.rules).empty();
    return whole && text_report(planned, paid).find("steak") != std::string::npos ? &version : nullptr;
}
