// Plans and settles a loin: templates that are compiled here. Invented figures.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/tranche.hpp>

#include <string>

const tranche::version_number* version_where_the_job_is_done();

/// None unless a profile, a search, a bill in a currency, a saving and a report work.
const tranche::version_number* version_where_the_job_is_done() {
    using namespace tranche;
    using namespace tranche::literals;
    const measured_loin loin{
        .length = 42_cm,
        .stations = {{.at = 0_cm, .width = 21_cm, .depth = 8_cm}, {.at = 42_cm, .width = 20_cm, .depth = 7_cm}}};
    const cut_spec steak{.name = "steak", .thickness = {25_mm, 38_mm}};
    const auto planned = most_portions(calibrated_profile(loin, 5.2_kg), steak, {.facing = 6_mm});
    const auto bill = settle<usd>(planned.plan, {.weight = 5.3_kg, .price = 17.90_usd / 1_kg});
    const auto saved = make_or_buy<usd>({.name = "ready cut", .price = 40_usd / 1_kg}, planned.plan, bill);
    const std::string report = text_report(planned, bill, {.saved = {saved}, .units = metric_kitchen});
    return report.find("steak") != std::string::npos ? &version : nullptr;
}
