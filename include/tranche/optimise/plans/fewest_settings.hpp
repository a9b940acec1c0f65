// Among plans of equal score: the one for which a slicer is set to the fewest thicknesses.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/demands/nearest_demand.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/slab_memory.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A plan, and how many thicknesses its slabs of portions have.
struct few_settings {
    tranche::planned planned;
    std::size_t settings = 0; ///< thicknesses in the plan
    std::size_t at_least = 0; ///< no plan of the same score by the first objective has fewer

    friend bool operator==(const few_settings&, const few_settings&) = default;
};

namespace detail {

/// That are searched for the fewest settings, if nothing else is said; each a pass a state of demands.
inline constexpr std::size_t most_tilings = 10'000;

/// Limits that do not say how many tilings, with as many as that.
template <class = when_called>
[[nodiscard]] search_limits with_tilings(search_limits limits) {
    if (limits.most_passes == search_limits{}.most_passes) limits.most_passes = most_tilings;
    return limits;
}

/// The number of distinct thicknesses is no sum over slabs, so plans are searched by sets of thicknesses: branch and bound,
/// where a node is a set that is chosen and one that is still allowed, and the best tiling by allowed ones bounds it. Where
/// the slabs of a spec must have one thickness and a bound's have several, the range of that spec is split between them.
template <objective O>
class settings_search {
public:
    using score_type = typename O::score_type;
    using settings_set = std::vector<bool>; // by thickness, thinnest first

    struct tiling {
        std::vector<grid_slab> stretches;
        score_type score{}, bound{};
        settings_set used;
        [[nodiscard]] std::size_t settings() const {
            return static_cast<std::size_t>(std::count(used.begin(), used.end(), true));
        }
    };

    /// Thicknesses that are `held`, in grains and to half a step of the grid, cost no setting.
    settings_search(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows,
                    search_clock& clock, const std::vector<std::int64_t>& held = {})
        : problem_(problem), objective_(objective), memory_{slab_counts(counters_of(problem, rows)),
                                                            order_states_within(problem, most_ordered_entries)},
          rows_(rows), linked_(problem.varying()), clock_(clock) {
        std::vector<std::vector<bool>> there(problem.option_count(), std::vector<bool>(problem.cells() + 2));
        problem.graph().each_portion_slab([&](const slab_lane& lane, std::size_t from, std::size_t to) {
            std::vector<bool>& cells = there[lane.option()];
            const std::size_t thick = problem.cells_of(lane.option(), from, to);
            if (cells.size() <= thick) cells.resize(thick + 1); // a kerf behind the face
            cells[thick] = true;
        });
        cells_.resize(problem.option_count());
        for (std::size_t o = 0; o < there.size(); ++o)
            for (std::size_t cells = 0; cells < there[o].size(); ++cells)
                if (there[o][cells]) {
                    cells_[o].push_back(cells);
                    all_.push_back(thickness(o, cells));
                }
        std::sort(all_.begin(), all_.end());
        all_.erase(std::unique(all_.begin(), all_.end()), all_.end());
        held_.resize(all_.size());
        const double half_a_step = 0.5 * step_in_grains(problem.meat().step());
        for (std::size_t i = 0; i < all_.size(); ++i)
            held_[i] = std::any_of(held.begin(), held.end(), [&](std::int64_t thick) {
                return static_cast<double>(std::abs(thick - all_[i])) < half_a_step;
            });
    }

    [[nodiscard]] bool exhausted() const { return clock_.stopped(); }
    /// Tilings searched for so far.
    [[nodiscard]] std::size_t searched() const { return searched_; }

    /// The stretches of another search, as a tiling.
    [[nodiscard]] tiling as_tiling(std::vector<grid_slab> stretches, const score_type& score) const {
        tiling result{
            .stretches = std::move(stretches), .score = score, .bound = score, .used = settings_set(all_.size())};
        for (const grid_slab& s : result.stretches) {
            const std::size_t o = problem_.loose_count() + s.option;
            if (s.kind != slab_kind::portions) continue;
            const std::size_t setting = setting_of(o, problem_.cells_of(o, s.from, s.to));
            if (!held_[setting]) result.used[setting] = true;
        }
        return result;
    }

    /// The best tiling of at most `most` settings that `enough` accepts; none if there is none, or tilings ran out.
    template <class Enough>
    [[nodiscard]] std::optional<tiling> with_at_most(std::size_t most, const Enough& enough) {
        const node all{settings_set(all_.size()), settings_set(all_.size(), true),
                       cell_ranges(linked_.size(), {0, 2 * problem_.cells() + 2})};
        return branch(
            all,
            [&](const node& at) -> std::optional<tiling> {
                const auto count = static_cast<std::size_t>(std::count(at.chosen.begin(), at.chosen.end(), true));
                std::optional<tiling> found = best(count == most ? at.chosen : at.allowed, at.cells);
                return found && enough(found->score) ? found : std::nullopt;
            },
            [&](const node& at, const tiling& bound) { return split(at, bound, most); });
    }

    /// From the best tiling with any number of settings on: the one of the fewest, and how few there are at the least, as far as
    /// tilings last.
    template <class Enough>
    [[nodiscard]] std::pair<tiling, std::size_t> fewest(tiling chosen, const Enough& enough) {
        std::size_t at_least = 0;
        while (at_least < chosen.settings()) {
            auto found = with_at_most(at_least, enough);
            if (found) chosen = *std::move(found);
            if (found || exhausted()) break;
            ++at_least;
        }
        return {std::move(chosen), at_least};
    }

private:
    struct node {
        settings_set chosen, allowed;
        cell_ranges cells; ///< of the linked options
    };

    [[nodiscard]] std::vector<node> split(const node& at, const tiling& bound, std::size_t most) const {
        std::vector<node> parts;
        for (cell_ranges& cells : split_thickness(problem_, linked_, at.cells, bound.stretches))
            parts.push_back({at.chosen, at.allowed, std::move(cells)});
        if (!parts.empty() || bound.settings() <= most) return parts;
        // Of the thicknesses that the bound uses beside the chosen ones there is at least one.
        std::size_t next = 0;
        while (at.chosen[next] || !bound.used[next]) ++next;
        parts.assign(2, at);
        parts[0].chosen[next] = true;
        parts[1].allowed[next] = false;
        return parts;
    }

    /// The best tiling by allowed thicknesses; none if the objective forbids all. As `best_path`, with a lane for each run of
    /// thicknesses that lie side by side.
    [[nodiscard]] std::optional<tiling> best(const settings_set& allowed, const cell_ranges& ranges) {
        if (!clock_.go_on(memory_.major.size())) return std::nullopt;
        ++searched_;
        const slab_graph& all = problem_.graph();
        slab_graph within{all.start, all.end, all.loose_count, all.option_count, {}};
        for (const slab_lane& lane : all.lanes)
            if (lane.option() < all.loose_count)
                within.lanes.push_back(lane);
            else
                each_run(lane.option(), allowed, ranges, [&](std::size_t thin, std::size_t thick) {
                    const std::size_t face = problem_.cells_of(lane.option(), 0, all.end); // and a kerf behind it
                    within.lanes.push_back(lane.narrowed([&](std::size_t to, const slab_starts&) {
                        const std::size_t end = to == all.end ? face : to;
                        return slab_starts{static_cast<std::uint32_t>(end - std::min(end, thick)),
                                           static_cast<std::uint32_t>(end + 1 - std::min(end + 1, thin))};
                    }));
                });
        const path_table<O, memory_product<slab_counts, order_states>> table(within, objective_, memory_);
        const std::size_t orders = memory_.minor.size();
        std::optional<std::size_t> best;
        for (std::size_t counts = 0; counts < memory_.major.size(); ++counts) {
            const std::size_t state = table.best_of(counts * orders, (counts + 1) * orders);
            if (table.whole(state) && has_all(memory_.major, rows_, counts) &&
                (!best || table.whole(*best).score < table.whole(state).score))
                best = state;
        }
        if (!best) return std::nullopt;
        std::vector<grid_slab> stretches;
        table.each_slab(*best, [&](std::size_t option, std::size_t from, std::size_t to) {
            stretches.push_back(grid_slab_of(problem_, option, from, to));
        });
        return as_tiling(std::move(stretches), table.whole(*best).score);
    }

    /// Calls f(thin, thick) for the runs of cells of an option whose thicknesses are allowed, the thickest first.
    template <class F>
    void each_run(std::size_t o, const settings_set& allowed, const cell_ranges& ranges, const F& f) const {
        const auto linked = std::find(linked_.begin(), linked_.end(), o);
        const auto may = [&](std::size_t cells) {
            const std::size_t setting = setting_of(o, cells);
            if (!allowed[setting] && !held_[setting]) return false;
            if (linked == linked_.end()) return true;
            const auto [least, most] = ranges[static_cast<std::size_t>(linked - linked_.begin())];
            return least <= cells && cells <= most;
        };
        const std::vector<std::size_t>& cells = cells_[o];
        for (std::size_t k = cells.size(); k > 0; --k) {
            if (!may(cells[k - 1])) continue;
            const std::size_t thick = cells[k - 1];
            while (k > 1 && may(cells[k - 2])) --k;
            f(cells[k - 1], thick);
        }
    }

    /// In grains. Up to the sirloin face there is no cut: the thickness is the one that the slab is nearest to.
    [[nodiscard]] std::int64_t thickness(std::size_t o, std::size_t cells) const {
        return std::llround(in_grains(static_cast<double>(cells) * problem_.meat().step() - problem_.kerf(o)));
    }
    [[nodiscard]] std::size_t setting_of(std::size_t o, std::size_t cells) const {
        return static_cast<std::size_t>(std::lower_bound(all_.begin(), all_.end(), thickness(o, cells)) - all_.begin());
    }

    const cutting_problem& problem_;
    const O& objective_;
    memory_product<slab_counts, order_states> memory_;
    std::vector<slab_demand> rows_;   ///< that a tiling meets
    std::vector<std::size_t> linked_; ///< options whose slabs must have one thickness
    search_clock& clock_;
    std::size_t searched_ = 0;
    std::vector<std::int64_t> all_;               ///< thicknesses in grains, thinnest first
    settings_set held_;                           ///< those that cost nothing
    std::vector<std::vector<std::size_t>> cells_; ///< by option: numbers of cells that a slab can have, fewest first
};

} // namespace detail

namespace detail {

/// A plan for whose demands no sets of thicknesses are searched: one setting at the least, if it has portions.
template <class = when_called>
[[nodiscard]] few_settings any_settings(planned found) {
    few_settings result{std::move(found)};
    std::vector<std::int64_t> settings;
    for (const slab& s : result.planned.plan.slabs)
        if (s.kind == slab_kind::portions) settings.push_back(std::llround(in_grains(s.thickness)));
    std::sort(settings.begin(), settings.end());
    settings.erase(std::unique(settings.begin(), settings.end()), settings.end());
    result.settings = settings.size();
    result.at_least = std::min<std::size_t>(settings.size(), 1);
    if (result.at_least == result.settings || !result.planned.feasible()) return result;
    std::vector<double> bounds;
    for (const score_part& part : result.planned.score_parts) bounds.push_back(part.bound);
    say_gap_left(result.planned, bounds);
    return result;
}

} // namespace detail

/// Among plans that score highest by `first`, one with the fewest thicknesses; among those the highest by `then`.
///
/// Exact by branch and bound over sets of thicknesses, with one number of settings tried after the other, as long as no more
/// than 10,000 tilings have to be looked at, or `limits.most_passes`, if that is given: enough for three settings out of some thirty
/// thicknesses. When they run
/// out, the plan is the best one found, `at_least` says how few settings there might be at the least, and `stop` is
/// `gap_left`: with fewer settings, or with as many, there may be a better one; `bound_parts` are then what both objectives
/// reach with any number of settings. `states` is how many tilings were searched for.
///
/// Scores of `first` have to tie for it to matter: numbers of portions do, weights to the microgram do not. A slab at the
/// sirloin face, where there is no cut, counts with the thickness that it is nearest to. An order of cuts multiplies the work
/// of a tiling as that of `best_path`, and throws as there; cuts that must have one thickness take more tilings.
///
/// With demands, all of that is said of plans that meet them, and each state of their counts takes a share of the
/// tilings. Where they cannot be met, or take more states than `best_path_with_demand` counts, the plan is the one of
/// that search, with a gap if it meets them. Throws `invalid_input` as `validate` of demands and `best_path`. Source of
/// branch and bound: Land and Doig (1960), *Econometrica* 28, 497-520, from memory.
template <objective First, objective Then>
[[nodiscard]] few_settings fewest_settings(const cutting_problem& problem, const First& first, const Then& then,
                                           const search_limits& limits = {}, const std::vector<demand>& demands = {}) {
    const search_limits own = detail::with_tilings(limits);
    detail::search_clock clock(own);
    const auto both = lexicographic(first, then);
    using search = detail::settings_search<lexicographic_objective<First, Then>>;
    tiling<typename search::score_type> free;
    std::vector<detail::slab_demand> rows;
    if (demands.empty())
        free = best_path(problem, both);
    else {
        rows = detail::in_slabs(problem, demands).rows;
        auto met = best_path_with_demand(problem, both, demands, limits);
        if (met.finite &&
            (met.outcome != demand_outcome::met ||
             !detail::few_states(problem, detail::counters_of(problem, rows), detail::most_ordered_entries)))
            return detail::any_settings(plan(problem, both, demands, limits));
        free = {std::move(met.stretches), met.score, met.finite, met.score, met.states};
    }
    if (!free.finite) return {detail::planned_from(problem, free.stretches, free.score, false)};
    search sets(problem, both, rows, clock);
    const auto enough = [&](const typename search::score_type& score) {
        return !(std::get<0>(score.parts) < std::get<0>(free.score.parts));
    };
    const auto [chosen, at_least] = sets.fewest(sets.as_tiling(free.stretches, free.score), enough);
    few_settings result{detail::planned_from(problem, chosen.stretches, chosen.score, true), chosen.settings(),
                        std::min(at_least, chosen.settings())};
    result.planned.searched.states = free.searched + sets.searched();
    result.planned.searched.ended = clock.ended();
    if ((result.at_least < result.settings || sets.exhausted()) && result.planned.feasible())
        detail::say_gap_left(result.planned, detail::numbers_of(free.score));
    return result;
}

/// The most portions with the fewest settings of the slicer; among such plans the most mass in portions. Throws as
/// `most_portions`. Settings are thicknesses, as they lie on the grid of the profile.
template <class = detail::when_called>
[[nodiscard]] few_settings fewest_settings(const profile& meat, const cut_list& specs, const cutting_rules& rules = {},
                                           const std::vector<demand>& demands = {}, const search_limits& limits = {}) {
    const cutting_problem problem(meat, specs, rules);
    return fewest_settings(problem, portion_count_objective(problem), portion_mass_objective(problem), limits, demands);
}

} // namespace tranche
