// What a loin of a study costs - varied, calibrated, planned, cut and settled - against a plain loop over the library's calls.
// Ends in a table; with --markdown it is Markdown.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <ctime>
#include <functional>
#include <iostream>
#include <string>
#include <vector>

#include <tranche/cost/yield/settle.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/study/loins/loin_study.hpp>
#include <tranche/study/random/random_stream.hpp>
#include <tranche/study/random/study_inputs.hpp>
#include <tranche/study/run/run_study.hpp>
#include <tranche/study/vary/known_variations.hpp>
#include <tranche/units/literals.hpp>

#include "in_turn.hpp"
#include "ratios.hpp"

namespace {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_benchmark;

// Invented: strip loins cut into steaks and vein steaks.
loin_task steaks() {
    const trim_spec trim{.fat_cover = 5_mm, .tail = 25_mm};
    return {
        .request = {.cuts = {{.name = "steak", .thickness = {22_mm, 34_mm}, .portion = {300_g, 360_g}, .trim = trim},
                             {.name = "vein steak",
                              .thickness = {22_mm, 40_mm},
                              .portion = {240_g, 400_g},
                              .trim = trim,
                              .gluteus_medius = any_gluteus_medius}},
                    .rules = {.facing = 8_mm}},
        .hand = {.knife = {.spread = 1_mm}},
        .purge = 0.01};
}
loin_terms<usd> prices() {
    loin_terms<usd> terms{.price = 18_usd / 1_kg};
    terms.prices.portions["steak"] = {.by_weight = 34_usd / 1_kg};
    terms.prices.portions["vein steak"] = {.by_weight = 22_usd / 1_kg};
    terms.prices.by_products[destination::grind] = 9_usd / 1_kg;
    terms.prices.by_products[destination::rendering] = 0.2_usd / 1_kg;
    return terms;
}

/// The same loins as a study has, by the calls that a program without one would make: a typical loin that deviates so, brought to the
/// scale, tabulated, planned, settled. No errors of the knife.
std::int64_t plain_loop(std::size_t loins) {
    const loin_task task = steaks();
    const loin_terms<usd> terms = prices();
    const distribution normal = distribution::normal(0.0, 1.0);
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < loins; ++i) {
        random_stream stream(1, i);
        std::vector<double> z;
        for (int k = 0; k < 7; ++k) z.push_back(normal.quantile(stream.next_uniform()));
        const mass bought = 5.4_kg * (1.0 + 0.135 * z[0]), on_board = 0.99 * bought;
        try {
            const loin_proportions kind = detail::deviating(beef_strip_loin, {.length = z[1],
                                                                              .depth = z[2],
                                                                              .fat_cover = z[3],
                                                                              .tail = z[4],
                                                                              .gluteus_medius_onset = z[5],
                                                                              .gluteus_medius_share_at_end = z[6]});
            const profile meat = calibrated_profile(typical_loin(on_board, kind), on_board);
            const planned best = most_portions(meat, task.request.cuts, task.request.rules);
            const bill<usd> paid = settle<usd>(best.plan, {.weight = bought, .price = *terms.price}, terms.prices);
            sum += paid.test.primary_value.minor + static_cast<std::int64_t>(paid.portions.size());
        } catch (const invalid_input&) { // sizes out of all proportion
        }
    }
    return sum;
}

template <class Study>
std::int64_t run(const Study& study, std::size_t loins) {
    const study_result result = run_study(study, {.replicates = loins});
    return static_cast<std::int64_t>(result["portions"].count());
}

/// Processor time of one thread for ten thousand loins, from so many; the least of three.
template <class F>
double cpu_of_ten_thousand(const F& f, std::size_t loins) {
    double least = 1e300;
    for (int i = 0; i < 3; ++i) {
        const std::clock_t before = std::clock();
        benchmark::DoNotOptimize(f(loins));
        least = std::min(least, static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC);
    }
    return least * 1e4 / static_cast<double>(loins);
}

} // namespace

int main(int argc, char** argv) {
    const bool markdown = start(argc, argv);
    const profile typical = calibrated_profile(typical_loin(5.4_kg, beef_strip_loin), 5.4_kg);
    const loin_variation varies = variation_of(beef_strip_loin);
    const loin_task task = steaks();
    const planned best = plan(typical, task.request, most_portions());
    const loin_study each(typical, varies, task, prices(), plan_for_each(most_portions()));
    const loin_study one(typical, varies, task, prices(), cut_by_one_plan(best.plan));
    const loin_study again(typical, varies, task, prices(), plan_again_while_cutting(most_portions()));
    const auto plan_each = [&](std::size_t loins) { return run(each, loins); };
    const auto one_plan = [&](std::size_t loins) { return run(one, loins); };
    const auto while_cutting = [&](std::size_t loins) { return run(again, loins); };

    table times_of("Ten thousand loins of a study at 0.5 mm, one thread: processor time, and the plain loop over it",
                   {"", "seconds", "plain loop over it"});
    const auto add = [&](const std::string& name, const auto& f, std::size_t loins, double over) {
        times_of.add({name, number(cpu_of_ten_thousand(f, loins), 2), times(over)});
    };
    constexpr std::size_t loins = 500;
    add("plain loop, steady hand", plain_loop, loins, 1.0);
    const auto over = [&](const auto& f, std::size_t of) {
        return ratio([&] { return plain_loop(loins); }, [&] { return f(of); }, 15) * static_cast<double>(of) /
               static_cast<double>(loins);
    };
    add("a plan for each", plan_each, loins, over(plan_each, loins));
    add("one plan for all", one_plan, loins, over(one_plan, loins));
    add("planned again while cutting", while_cutting, 100, over(while_cutting, 100));
    times_of.print(std::cout, markdown);
    return EXIT_SUCCESS;
}
