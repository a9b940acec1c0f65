// Which weight range to buy for a wedding of 60? Of each range, how many loins it takes to be 95 % sure of a steak for everybody, and
// what they cost. Invented scenario and prices: steaks of 28 mm or more and at least 250 g, a knife of 1 mm. With a folder as its
// argument the program draws how many steaks a loin of each range gives.
// SPDX-License-Identifier: BSL-1.0
#include <cstdint>
#include <cstdio>
#include <span>
#include <string>
#include <vector>

#include <tranche/report/charts/interval_chart.hpp>
#include <tranche/study.hpp>
#include <tranche/tranche.hpp>

#include "made_files.hpp"

using namespace tranche;
using namespace tranche::literals;

namespace {

using steaks_of_a_loin = loin_study<usd, plan_for_each<decltype(most_portions())>>;

/// A wedding: loins one after the other until there are 60 steaks. Impossible loins are not to be had.
struct wedding {
    const steaks_of_a_loin& one;

    [[nodiscard]] static study_outline outline() { return {{{"steaks of the first loin"}, {"loins for 60"}}, {}}; }
    [[nodiscard]] auto workspace() const { return one.workspace(); }
    void operator()(const study_replicate& replicate, std::span<std::int64_t> out, auto& room) const {
        std::int64_t steaks = 0, loins = 0;
        for (std::uint64_t k = 0; steaks < 60 && k < 100; ++k) {
            std::vector<std::int64_t> figures(loin_output_count, no_output);
            if (one({17, 100 * replicate.number() + k}, figures, room)) continue;
            steaks += figures[static_cast<std::size_t>(loin_output::portions_within)];
            if (++loins == 1) out[0] = steaks;
        }
        out[1] = loins;
    }
};

} // namespace

int main(int argc, char** argv) {
    struct range {
        const char* name;
        mass least, most;
        unit_price<usd> price;
    };
    const std::vector<range> ranges{{"4.5 to 5.4 kg", 4.5_kg, 5.4_kg, 17.20_usd / 1_kg},
                                    {"5.4 to 6.3 kg", 5.4_kg, 6.3_kg, 16.60_usd / 1_kg},
                                    {"6.3 to 7.3 kg", 6.3_kg, 7.3_kg, 16.10_usd / 1_kg}};
    const loin_task task{.request = {.cuts = {{.name = "steak",
                                               .thickness = {28_mm, 40_mm},
                                               .portion = {250_g, unlimited<mass>()},
                                               .trim = {.fat_cover = 6_mm, .tail = 25_mm}}},
                                     .rules = {.facing = 8_mm}},
                         .hand = {.knife = {.spread = 1_mm, .judge_thickness = false}}};
    interval_chart chart{.title = "Steaks of a loin, 10 to 90 %", .value = {.title = "steaks"}, .names = {"steaks"}};
    std::printf("range          steaks a loin   loins, 95 %% sure   cost, USD\n");
    for (const range& of : ranges) {
        const mass middle = 0.5 * (of.least + of.most);
        const profile typical = calibrated_profile(typical_loin(middle, beef_strip_loin), middle, {.step = 1_mm});
        const loin_variation loins = variation_of(beef_strip_loin, middle)
                                         .with(varied::weight, distribution::uniform(of.least / 1_kg, of.most / 1_kg));
        const steaks_of_a_loin one(typical, loins, task, loin_terms<usd>{}, plan_for_each(most_portions()));
        const study_result found = run_study(wedding{one}, {.replicates = 400});
        const auto tenths = estimate_quantiles(found["steaks of the first loin"], {0.1, 0.9});
        const double steaks = *found["steaks of the first loin"].mean(),
                     sure = estimate_quantile(found["loins for 60"], 0.95)->value;
        chart.rows.push_back({of.name, {{steaks, chart_band{tenths[0].value, tenths[1].value}}}});
        std::printf("%s %15.1f %18.0f %11.2f\n", of.name, steaks, sure, (sure * middle * of.price).value());
    }
    if (argc > 1) return example::made_in(argv[1], {{"buying_study.svg", interval_chart_svg(chart)}});
}
