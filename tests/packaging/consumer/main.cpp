// Plans and settles a loin with warnings of its own as errors, and prints the version of the library it was given.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/tranche.hpp>

#include <iostream>
#include <string>

static_assert(tranche::version >= tranche::version_number{0, 2, 0});

#ifdef CONSUMER_LOOKS_ELSEWHERE
const tranche::version_number* version_seen_elsewhere();
#endif

namespace {

using namespace tranche;
using namespace tranche::literals;

/// Templates that are compiled here: a profile, a search, a bill in a currency, a saving and a report.
std::string report() {
    const measured_loin loin{
        .length = 42_cm,
        .stations = {{.at = 0_cm, .width = 21_cm, .depth = 8_cm}, {.at = 42_cm, .width = 20_cm, .depth = 7_cm}}};
    const cut_spec steak{.name = "steak", .thickness = {25_mm, 38_mm}};
    const auto planned = most_portions(calibrated_profile(loin, 5.2_kg), steak, {.facing = 6_mm});
    const auto bill = settle<usd>(planned.plan, {.weight = 5.3_kg, .price = 17.90_usd / 1_kg});
    const auto saved = make_or_buy<usd>({.name = "ready cut", .price = 40_usd / 1_kg}, planned.plan, bill);
    return text_report(planned, bill, {.saved = {saved}, .units = metric_kitchen});
}

} // namespace

int main() {
#ifdef CONSUMER_LOOKS_ELSEWHERE
    if (version_seen_elsewhere() != &tranche::version) {
        std::cerr << "each translation unit has a version of its own\n";
        return 1;
    }
#endif
    if (report().find("steak") == std::string::npos) return 1;
    std::cout << tranche::version_text;
}
