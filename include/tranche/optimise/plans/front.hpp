// What there is to choose from: more portions, less waste or thicker cuts, with the plan behind each choice.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A plan that none beats in everything at once.
struct front_point {
    std::size_t portions = 0; ///< of all specs; more is better
    micrograms waste{};       ///< what is not in portions: facing, trim, loose meat, loss; less is better
    micrograms
        waste_bound{};   ///< no plan that is as good in all else wastes less; `waste` unless the search was cut short
    length thinnest{};   ///< of the slabs with portions; thicker is better where the front is also about thickness
    micrograms spread{}; ///< the heaviest portion less the lightest; less is better where the front is about evenness
    tranche::cutting_plan plan;

    friend bool operator==(const front_point&, const front_point&) = default;
};

namespace detail {

template <class = when_called>
[[nodiscard]] front_point front_point_of(const cutting_problem& problem, const std::vector<grid_slab>& stretches) {
    front_point point{.plan = laid_out(problem.meat(), problem.specs(), problem.rules(), stretches, &problem.tables())};
    point.portions = point.plan.portion_count();
    point.waste = point.waste_bound = point.plan.total - balance_of(point.plan).portion_total();
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

/// By number of portions: the most mass in them, the slabs of that, and what none exceeds.
struct masses_by_count {
    std::vector<std::int64_t> most, bound;
    std::vector<std::vector<grid_slab>> slabs; ///< none where no tiling is better than what was asked for
};

/// The work of a front: what its plans have to meet, and how much may be looked at.
template <class = when_called>
class front_search {
public:
    static constexpr std::size_t most_tables = 20'000;

    front_search(const cutting_problem& problem, const std::vector<demand>& demands, search_clock& clock,
                 std::size_t tables = most_tables)
        : problem_(problem), demands_(demands), clock_(clock), left_(tables) {
        const auto objective = kept_mass_objective::portions_then_mass(problem);
        if (demands.empty()) {
            most_ = portion_count(problem.specs(), best_path(problem, objective).stretches);
            return;
        }
        const auto met = path_with_demand(problem, objective, demands, clock);
        if (met.outcome != demand_outcome::met) return;
        most_ = portion_count(problem.specs(), met.stretches);
        rows_ = in_slabs(problem, demands).rows;
        few_ = rows_.empty() || few_states(problem, counters_of(problem, rows_, most_), most_ordered_entries);
    }

    /// The most portions that any plan has; none if none meets the demands.
    [[nodiscard]] std::size_t most() const { return most_; }
    /// Whether there are few enough counts to tell apart.
    [[nodiscard]] bool few() const { return few_; }
    /// Whether a search had to stop.
    [[nodiscard]] bool cut_short() const { return cut_short_ || clock_.stopped(); }
    [[nodiscard]] search_end ended() const {
        return clock_.stopped() ? clock_.ended() : cut_short_ ? search_end::out_of_work : search_end::by_itself;
    }

    /// For each number of portions the most mass in them, if it is more than `above`: one table of count states, and by branch and
    /// bound over thicknesses, for all numbers together, some more where cuts must have one.
    [[nodiscard]] masses_by_count more_than(std::vector<std::int64_t> above, const cutting_problem& problem) {
        struct several_thicknesses {
            std::vector<grid_slab> stretches;
            int score = 0, bound = 0; // nothing is said by these: what cannot be better is no node at all
        };
        const std::size_t most = above.size() - 1;
        const std::vector<std::size_t> linked = problem.varying();
        masses_by_count found{std::move(above), {}, std::vector<std::vector<grid_slab>>(most + 1)};
        bool all = true;
        const auto look = [&](const cutting_problem& narrowed) -> std::optional<several_thicknesses> {
            all = all && left_ > 0;
            if (left_ == 0) return std::nullopt;
            --left_;
            const portion_mass_objective objective(narrowed);
            const count_states<portion_mass_objective> table(narrowed, objective, counters_of(narrowed, rows_, most),
                                                             most_ordered_entries, [&] { return clock_.go_on(); });
            all = all && table.complete();
            if (!all) return std::nullopt;
            const bool first = found.bound.empty();
            if (first) found.bound = found.most;
            std::optional<several_thicknesses> open;
            for (std::size_t n = most; n > 0; --n) {
                const auto state = best_state(table, rows_, n);
                if (!state || table.score(*state) <= found.most[n]) continue;
                if (first) found.bound[n] = table.score(*state);
                std::vector<grid_slab> slabs = table.stretches(*state);
                if (!split_thickness(problem, linked, cell_ranges(linked.size()), slabs).empty()) {
                    if (!open) open = several_thicknesses{std::move(slabs)};
                    continue;
                }
                found.most[n] = table.score(*state);
                found.slabs[n] = std::move(slabs);
            }
            return open;
        };
        static_cast<void>(best_of_one_thickness<several_thicknesses>(problem, look));
        if (all || found.bound.empty()) found.bound = found.most;
        cut_short_ = cut_short_ || !all;
        return found;
    }

    /// Adds, for each number of portions, the plan of least waste of a problem that is this one or narrower, if no plan so far
    /// is as good. `most_mass[n]` is the most mass in n portions or more so far.
    void add_to_front(const cutting_problem& problem, std::vector<std::int64_t>& most_mass,
                      found_list<front_point>& front) {
        const masses_by_count found = more_than(most_mass, problem);
        for (std::size_t n = most_; n > 0; --n) {
            if (found.most[n] <= most_mass[n]) continue;
            front.push_back(front_point_of(problem_, found.slabs[n]));
            front.back().waste_bound = problem_.meat().total() - micrograms{found.bound[n]};
            for (std::size_t fewer = 0; fewer <= n; ++fewer)
                most_mass[fewer] = std::max(most_mass[fewer], found.most[n]);
        }
    }

    /// Where the counts of the demands are too many to tell apart: the plan of most portions and that of least waste that were
    /// found, with the least waste of plans of as many portions that need not meet the demands.
    [[nodiscard]] found_list<front_point> ends() {
        found_list<front_point> front;
        const auto add = [&](const auto& objective) {
            const auto met = path_with_demand(problem_, objective, demands_, clock_);
            if (met.outcome != demand_outcome::met) return;
            front_point point = front_point_of(problem_, met.stretches);
            if (!front.empty() && point.portions >= front.front().portions) return;
            front.push_back(std::move(point));
        };
        add(kept_mass_objective::portions_then_mass(problem_));
        add(kept_mass_objective::mass_then_portions(problem_));
        rows_.clear();
        const masses_by_count free = more_than(std::vector<std::int64_t>(most_ + 1, -1), problem_);
        for (front_point& point : front)
            if (point.portions <= most_)
                point.waste_bound = problem_.meat().total() - micrograms{free.bound[point.portions]};
        return front;
    }

private:
    const cutting_problem& problem_;
    const std::vector<demand>& demands_;
    search_clock& clock_;
    std::vector<slab_demand> rows_;
    std::size_t most_ = 0, left_;
    bool few_ = true, cut_short_ = false;
};

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

/// The front of count against waste, and of thickness where that counts: thickest first, so that what a thinner limit adds is on
/// the front only if nothing so far is as good in the other two.
template <class = when_called>
[[nodiscard]] found_list<front_point> front_by_thickness(const profile& meat, const cut_list& specs,
                                                         const cutting_rules& rules, const std::vector<demand>& demands,
                                                         const search_limits& limits, bool with_thickness) {
    const cutting_problem problem(meat, specs, rules);
    search_clock clock(limits);
    front_search<> search(problem, demands, clock);
    found_list<front_point> front;
    if (!search.few()) front = search.ends();
    std::vector<std::int64_t> most_mass(search.most() + 1, -1);
    const std::vector<length> thicknesses = with_thickness ? thicknesses_of(problem) : std::vector<length>{length{}};
    for (std::size_t i = 0; i < thicknesses.size() && search.few() && search.most() > 0 && !search.cut_short(); ++i) {
        cutting_problem thick = problem;
        thick.narrow_thickness(thicknesses[i]);
        search.add_to_front(thick, most_mass, front);
    }
    front.ended = search.ended();
    return front;
}

} // namespace detail

/// The Pareto front of count against waste: for each number of portions from which nothing can be gained in both, the plan
/// of least waste. Most portions first; each next one has fewer portions and less waste. Empty if no portion fits, or no plan
/// meets the demands.
///
/// Exact on the grid: one table of `count_states` that counts all portions, O(positions × portions × options); times
/// the states of an order of cuts and the counts of demands, and some more for cuts that must have one thickness, by
/// branch and bound. After 20,000 tables the points are the best found so far, and one that no plan was found for is
/// missing; where demands take more counts than `best_path_with_demand` tells apart, the front is the ends of it that
/// were found. `waste_bound` then says how much less waste there might be. `limits` counts a pass a state of a table;
/// of a table that it ends nothing is used. Throws `invalid_input` as `cutting_problem` and `best_path_with_demand` do.
/// Waste is in whole micrograms.
template <class = detail::when_called>
[[nodiscard]] found_list<front_point> count_and_waste_front(const profile& meat, const cut_list& specs,
                                                            const cutting_rules& rules = {},
                                                            const std::vector<demand>& demands = {},
                                                            const search_limits& limits = {}) {
    return detail::front_by_thickness(meat, specs, rules, demands, limits, false);
}

/// The Pareto front of count against waste against thickness, where the thickness of a plan is that of its thinnest slab of
/// portions: no plan on the grid is as good as one of these in all three and better in one. Thickest first, then most
/// portions. Empty if no portion fits, or no plan meets the demands.
///
/// Exact: tables as for `count_and_waste_front` for each thickness that the windows of the specs allow, so O(positions
/// × portions × options × thicknesses). It ends early, and throws, as that does; all plans but those of the last
/// thickness looked at are then on the front, and what is missing is thinner. Thicknesses are lengths above zero, waste
/// in whole micrograms.
template <class = detail::when_called>
[[nodiscard]] found_list<front_point> count_waste_and_thickness_front(const profile& meat, const cut_list& specs,
                                                                      const cutting_rules& rules = {},
                                                                      const std::vector<demand>& demands = {},
                                                                      const search_limits& limits = {}) {
    return detail::front_by_thickness(meat, specs, rules, demands, limits, true);
}

} // namespace tranche
