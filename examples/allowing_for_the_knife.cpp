// What it buys to plan for a knife that is not exact: thousands of simulated loins, against plans that take it for
// exact. Invented scenario; see loop_simulation.hpp.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <string>
#include <vector>

#include "loop_simulation.hpp"

namespace {

using namespace example;

/// Cuts a plan by marks along the loin, each cut off its mark by chance. Portions are judged by their weight: what is too
/// heavy is trimmed down, what is too light goes to grind.
outcome cut_once(const loop_scenario& scenario, const yield_table& kept, const cutting_plan& cuts, length off_the_mark,
                 std::uint64_t seed) {
    normal_numbers z(seed);
    const quantity_range<mass>& limits = scenario.cuts.front().portion;
    const unit_price<usd> steak = scenario.prices.of("steak").by_weight;
    const unit_price<usd> grind = scenario.prices.of(destination::grind);
    outcome result;
    length at{};
    for (const slab& s : cuts.slabs) {
        const bool last = &s == &cuts.slabs.back(), portion = s.kind == slab_kind::portions;
        const length mark = s.end() + z.next() * off_the_mark;
        const length to = last ? cuts.extent : std::min(std::max(mark, at), cuts.extent);
        const mass weight = to_mass(portion ? kept.kept_between(at, to) : scenario.meat.mass_between(at, to));
        at = to;
        const bool sold = portion && weight >= limits.min;
        const mass as_steak = sold ? std::min(weight, limits.max) : mass{};
        if (sold && weight <= limits.max) result.in_tolerance += 1.0;
        result.value += (as_steak * steak + (weight - as_steak) * grind).value();
    }
    return result;
}

void compare(const loop_scenario& scenario, const char* title, const cutting_plan& exact, const cutting_plan& robust,
             length off_the_mark, const knife_spread& knife, std::uint64_t loins) {
    const yield_table kept(scenario.meat, scenario.cuts.front().trim);
    std::vector<double> portions[3], worth[3]; // of one plan, of the other, and what the other gains
    for (std::uint64_t seed = 1; seed <= loins; ++seed) {
        const outcome one = cut_once(scenario, kept, exact, off_the_mark, seed);
        const outcome two = cut_once(scenario, kept, robust, off_the_mark, seed);
        portions[0].push_back(one.in_tolerance);
        portions[1].push_back(two.in_tolerance);
        portions[2].push_back(two.in_tolerance - one.in_tolerance);
        worth[0].push_back(one.value);
        worth[1].push_back(two.value);
        worth[2].push_back(two.value - one.value);
    }
    const auto text = [](const std::vector<double>& values) {
        const interval i = interval_of(values);
        return to_text(i.mean, 2) + " +- " + to_text(i.half, 2);
    };
    const auto theory = [&](const cutting_plan& cuts) {
        return to_text(expected_portions(cuts, chances_of(cuts, scenario.meat, knife)), 2);
    };
    std::printf("\n%-24s %9s %11s %15s %17s\n", title, "portions", "by theory", "in tolerance", "value, USD");
    const auto row = [&](const char* name, const cutting_plan& cuts, std::size_t i) {
        std::printf("%-24s %9zu %11s %15s %17s\n", name, cuts.portion_count(), theory(cuts).c_str(),
                    text(portions[i]).c_str(), text(worth[i]).c_str());
    };
    row("knife taken for exact", exact, 0);
    row("knife allowed for", robust, 1);
    std::printf("%-24s %9s %11s %15s %17s\n", "gained", "", "", text(portions[2]).c_str(), text(worth[2]).c_str());
}

} // namespace

int main() {
    constexpr std::uint64_t loins = 4000;
    const loop_scenario scenario;
    for (const length& off_the_mark : {0.5 * millimetre, 1.0 * millimetre, 2.0 * millimetre}) {
        // Both faces of a slab are off their marks.
        const knife_spread knife{.spread = std::sqrt(2.0) * off_the_mark, .judge_thickness = false};
        std::printf("%s%u simulated loins, cuts %s off their marks (standard deviation), 95 %% intervals.\n",
                    off_the_mark > 0.5 * millimetre ? "\n" : "", static_cast<unsigned>(loins),
                    tranche::detail::shown(off_the_mark).c_str());
        compare(scenario, "most portions", most_portions(scenario.meat, scenario.cuts, scenario.rules).plan,
                most_expected_portions(scenario.meat, {scenario.cuts, scenario.rules}, knife).plan, off_the_mark, knife,
                loins);
        compare(scenario, "best value", best_value(scenario.meat, scenario.cuts, scenario.prices, scenario.rules).plan,
                best_expected_value(scenario.meat, {scenario.cuts, scenario.rules}, scenario.prices, knife).plan,
                off_the_mark, knife, loins);
    }
}
