// What there is to choose from: more portions, less waste or thicker cuts, with the plan behind each choice.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/detail/common_thickness.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A plan that none beats in everything at once.
struct front_point {
    std::size_t portions = 0; ///< of all specs; more is better
    micrograms waste{};       ///< what is not in portions: facing, trim, loose meat, loss; less is better
    length thinnest{};        ///< of the slabs with portions; thicker is better where the front is also about thickness
    micrograms spread{}; ///< the heaviest portion less the lightest; less is better where the front is about evenness
    tranche::cutting_plan plan;

    friend bool operator==(const front_point&, const front_point&) = default;
};

namespace detail {

/// The most portions that any plan has.
template <class = when_called>
[[nodiscard]] std::size_t most_portions_of(const cutting_problem& problem) {
    return portion_count(problem.specs(),
                         best_path(problem, kept_mass_objective::portions_then_mass(problem)).stretches);
}

template <class = when_called>
[[nodiscard]] front_point front_point_of(const cutting_problem& problem, const std::vector<grid_slab>& stretches) {
    front_point point{.plan = laid_out(problem.meat(), problem.specs(), problem.rules(), stretches, &problem.tables())};
    point.portions = point.plan.portion_count();
    point.waste = point.plan.total - balance_of(point.plan).portion_total();
    bool any = false;
    micrograms lightest, heaviest;
    for (const slab& s : point.plan.slabs) {
        const std::vector<micrograms> portions = point.plan.portions_of(s); // larger ones first
        if (portions.empty()) continue;
        point.thinnest = any ? std::min(point.thinnest, s.thickness) : s.thickness;
        lightest = any ? std::min(lightest, portions.back()) : portions.back();
        heaviest = std::max(heaviest, portions.front());
        any = true;
    }
    point.spread = heaviest - lightest;
    return point;
}

/// Throws `invalid_input` where cuts that must have one thickness leave more choices of it than a front looks at: 2000, or as
/// many as make 20,000 tables with one for each of so many limits.
template <class = when_called>
void require_few_choices(const cutting_problem& problem, std::size_t limits = 1) {
    constexpr std::size_t most_choices = 2000, most_tables = 20'000;
    require_few_common_thicknesses(problem, std::clamp(most_tables / limits, std::size_t{1}, most_choices));
}

/// Adds, for each number of portions, the plan of least waste without any portion thinner than `thinnest`, if no plan so far
/// is as good. `most_mass[n]` is the most mass in n portions or more so far, times a constant.
template <class = when_called>
void add_to_front(const cutting_problem& problem, std::size_t most_portions, length thinnest,
                  std::vector<std::int64_t>& most_mass, found_list<front_point>& front, search_clock& clock) {
    const auto objective = kept_mass_objective::portions_then_mass(problem);
    const std::int64_t each = problem.meat().total().count + 1; // what the objective gives for a portion
    std::vector<std::int64_t> best = most_mass;                 // over the choices of a common thickness
    std::vector<std::vector<grid_slab>> plans(most_portions + 1);
    each_common_thickness(problem, thinnest, [&](const cutting_problem& one) {
        cutting_problem thick = one;
        thick.narrow_thickness(thinnest);
        const count_states<kept_mass_objective> table(thick, objective, {all_portions(thick, most_portions)},
                                                      most_ordered_entries, [&] { return clock.go_on(); });
        if (!table.complete()) return;
        for (std::size_t n = most_portions; n > 0; --n) {
            if (!table.possible(n)) continue;
            const std::int64_t in_portions = table.score(n) - each * static_cast<std::int64_t>(n);
            if (in_portions <= best[n]) continue;
            plans[n] = table.stretches(n);
            best[n] = in_portions;
        }
    });
    for (std::size_t n = most_portions; n > 0; --n) {
        if (best[n] <= most_mass[n]) continue;
        front.push_back(front_point_of(problem, plans[n]));
        for (std::size_t fewer = 0; fewer <= n; ++fewer) most_mass[fewer] = std::max(most_mass[fewer], best[n]);
    }
}

/// Every thickness that an allowed slab of portions can have, thickest first.
template <class = when_called>
[[nodiscard]] std::vector<length> thicknesses_of(const cutting_problem& problem) {
    const profile& meat = problem.meat();
    std::vector<length> all;
    for (std::size_t o = problem.loose_count(); o < problem.option_count(); ++o) {
        const option_window& w = problem.window(o);
        for (std::size_t cells = w.least_cells; cells <= w.most_cells; ++cells)
            all.push_back(snapped(static_cast<double>(cells) * meat.step() - problem.kerf(o)));
        for (std::size_t from = w.first_to_end; from <= w.last_to_end; ++from)
            all.push_back(snapped(meat.extent() - meat.position(from)));
    }
    std::sort(all.begin(), all.end(), [](length a, length b) { return b < a; });
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
}

} // namespace detail

/// The Pareto front of count against waste: for each number of portions from which nothing can be gained in both, the plan
/// of least waste. Most portions first; each next one has fewer portions and less waste. Empty if no portion fits.
///
/// Exact on the grid: one table of `count_states` that counts all portions, O(positions × portions × options); times the states
/// of an order of cuts, and one for each choice of thickness for cuts that must have one. `search` counts a pass a state of a
/// table; of a table that it ends nothing is used. Throws `invalid_input` as
/// `cutting_problem` and `best_path` do, and where there are more than 2000 such choices.
template <class = detail::when_called>
[[nodiscard]] found_list<front_point> count_and_waste_front(const profile& meat, const cut_list& specs,
                                                            const cutting_rules& rules = {},
                                                            const search_limits& search = {}) {
    const cutting_problem problem(meat, specs, rules);
    detail::require_few_choices(problem);
    const std::size_t most = detail::most_portions_of(problem);
    std::vector<std::int64_t> most_mass(most + 1, -1);
    found_list<front_point> front;
    detail::search_clock clock(search);
    if (most > 0) detail::add_to_front(problem, most, length{}, most_mass, front, clock);
    front.ended = clock.ended();
    return front;
}

/// The Pareto front of count against waste against thickness, where the thickness of a plan is that of its thinnest slab of
/// portions: no plan on the grid is as good as one of these in all three and better in one. Thickest first, then most
/// portions. Empty if no portion fits.
///
/// Exact: tables as for `count_and_waste_front` for each thickness that the windows of the specs allow, so
/// O(positions × portions × options × thicknesses). Where `search` ends it, all plans but those of the last thickness looked at are
/// on the front, and what is missing is thinner.
/// Throws `invalid_input` as `count_and_waste_front` does, but where 20,000 tables are not enough for all choices.
template <class = detail::when_called>
[[nodiscard]] found_list<front_point> count_waste_and_thickness_front(const profile& meat, const cut_list& specs,
                                                                      const cutting_rules& rules = {},
                                                                      const search_limits& search = {}) {
    const cutting_problem problem(meat, specs, rules);
    const std::size_t most = detail::most_portions_of(problem);
    std::vector<std::int64_t> most_mass(most + 1, -1);
    found_list<front_point> front;
    detail::search_clock clock(search);
    if (most == 0) return front;
    const std::vector<length> thicknesses = detail::thicknesses_of(problem);
    detail::require_few_choices(problem, thicknesses.size());
    // Thickest first: what a thinner limit adds is on the front only if nothing so far is as good in the other two.
    for (const length& thinnest : thicknesses) {
        if (clock.stopped()) break;
        detail::add_to_front(problem, most, thinnest, most_mass, front, clock);
    }
    front.ended = clock.ended();
    return front;
}

} // namespace tranche
