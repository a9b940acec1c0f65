// What it buys to weigh every slab and plan the rest again: a thousand simulated loins, against following the first plan.
// Invented scenario; see loop_simulation.hpp.
// SPDX-License-Identifier: BSL-1.0
#include <cstdio>
#include <string>

#include "loop_simulation.hpp"

int main() {
    using namespace example;
    constexpr unsigned loins = 1000;
    const loop_scenario scenario;
    const cutting_spreads& s = scenario.spreads;
    std::printf(
        "%u simulated loins. Standard deviations: knife %s, cutter's bias %s, loin %s,\nsingle slab %s, scale %s.\n",
        loins, tranche::detail::shown(s.knife).c_str(), tranche::detail::shown(s.bias).c_str(), percent_text(s.ratio).c_str(),
        percent_text(s.single_slab).c_str(), tranche::detail::shown(s.scale).c_str());
    const loop_results results = simulate_loop(scenario, loins);
    const auto cell = [](interval i, double scale, int digits) {
        return to_text(scale * i.mean, digits) + " +- " + to_text(scale * i.half, digits);
    };
    const auto row = [&](std::string_view name, auto of) {
        std::printf("%-40s %15s %15s %17s\n", std::string(name).c_str(), cell(of(&outcome::in_tolerance), 1, 2).c_str(),
                    cell(of(&outcome::giveaway), 1e3, 1).c_str(), cell(of(&outcome::value), 1, 2).c_str());
    };
    std::printf("\n%-40s %15s %15s %17s\n", "mean of a loin, 95 % interval", "in tolerance", "giveaway, g",
                "value, USD");
    for (const way w : all_ways) row(name_of(w), [&](double outcome::*what) { return results.of(w, what); });
    for (const way over : {way::by_thickness, way::by_marks}) {
        std::printf("\n%s\n", ("gained over \"" + std::string(name_of(over)) + '"').c_str());
        for (const way w : {way::weighing_slabs, way::weighing_rest})
            row(name_of(w), [&](double outcome::*what) { return results.gain(w, over, what); });
    }
}
