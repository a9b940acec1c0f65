// Equal portions as a want, and with cuts between the positions of the profile's grid.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/on_finer_grid.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/even_search.hpp>
#include <tranche/optimise/plans/detail/even_rest.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/plans/polish.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Moves the cuts of given slabs, in their order, to where the portions are most equal: each within a band of places about
/// where it is, all combinations of places together, again and again as long as that gains something; then within narrower
/// bands of places that lie nearer together, down to neighbouring positions.
template <class = when_called>
class even_mover {
public:
    /// `cells`: how thick each slab must be, as `cutting_problem::cells_of` counts it; 0 for any thickness.
    even_mover(const cutting_problem& problem, std::vector<grid_slab> slabs, std::vector<std::size_t> cells)
        : problem_(&problem), slabs_(std::move(slabs)), cells_(std::move(cells)) {}

    /// `apart`: how many positions places lie apart at first. False if no cuts within reach keep every limit; the slabs then
    /// stay. go_on() is asked before each round.
    template <class GoOn>
    bool run(std::size_t apart, const GoOn& go_on) {
        constexpr int most_rounds = 200;
        if (slabs_.empty()) return false;
        for (;; apart = std::max(apart / 4, std::size_t{1})) {
            bool more = true;
            for (int round = 0; round < most_rounds && (more = go_on()) && move(apart); ++round) {}
            if (apart == 1 || !more) return window_.has_value();
        }
    }

    [[nodiscard]] const std::vector<grid_slab>& slabs() const { return slabs_; }
    /// Of the portions, once `run` was true.
    [[nodiscard]] const even_weights& window() const { return *window_; }
    /// Micrograms in portions.
    [[nodiscard]] std::int64_t kept() const { return kept_; }

private:
    static constexpr std::size_t places_each_way = 8;

    struct placed_slab {
        std::size_t from, to; ///< indices of places of the cut before and of this one
        bool loose;
        std::int64_t lightest, heaviest, kept;
    };

    /// Of the cut behind slab `i`, nearest to where it is first.
    [[nodiscard]] std::vector<std::size_t> places_of(std::size_t i, std::size_t apart) const {
        const std::size_t at = slabs_[i].to;
        std::vector<std::size_t> places{at};
        if (i + 1 == slabs_.size()) return places; // the sirloin face
        for (std::size_t off = apart; off <= places_each_way * apart; off += apart) {
            if (at + off < problem_->cells()) places.push_back(at + off);
            if (at >= problem_->start() + 1 + off) places.push_back(at - off);
        }
        return places;
    }

    void place_slabs(std::size_t apart) {
        places_.assign(1, {problem_->start()});
        placed_.assign(slabs_.size(), {});
        for (std::size_t i = 0; i < slabs_.size(); ++i) {
            places_.push_back(places_of(i, apart));
            const bool loose = slabs_[i].kind != slab_kind::portions;
            const std::size_t option = slabs_[i].option + (loose ? 0 : problem_->loose_count());
            const std::int64_t pieces = loose ? 1 : problem_->pieces(option);
            for (std::size_t to = 0; to < places_[i + 1].size(); ++to)
                for (std::size_t from = 0; from < places_[i].size(); ++from) {
                    const std::size_t a = places_[i][from], b = places_[i + 1][to];
                    if (!problem_->allows(option, a, b)) continue;
                    if (cells_[i] != 0 && cells_[i] != problem_->cells_of(option, a, b)) continue;
                    const std::int64_t w = problem_->weight(option, a, b);
                    placed_[i].push_back({from, to, loose, w / pieces, (w + pieces - 1) / pieces, loose ? 0 : w});
                }
        }
    }

    /// See `narrowest_window`.
    template <class Cost>
    [[nodiscard]] std::int64_t worst(const Cost& cost) const {
        std::vector<std::int64_t> before{window_cost::none};
        for (std::size_t i = 0; i < slabs_.size(); ++i) {
            std::vector<std::int64_t> here(places_[i + 1].size(), window_cost::never);
            for (const placed_slab& s : placed_[i])
                if (const std::int64_t c = s.loose ? window_cost::none : cost(s);
                    c != window_cost::never && before[s.from] != window_cost::never)
                    here[s.to] = std::min(here[s.to], std::max(before[s.from], c));
            before = std::move(here);
        }
        return before.front();
    }

    /// To the cuts that leave the most mass in portions of those weights; the nearer ones of equals.
    void move_into(const even_weights& window) {
        struct way {
            std::int64_t kept = -1; ///< none yet
            std::size_t from = 0;
        };
        std::vector<std::vector<way>> table{{{0, 0}}};
        for (std::size_t i = 0; i < slabs_.size(); ++i) {
            std::vector<way> here(places_[i + 1].size());
            for (const placed_slab& s : placed_[i]) {
                const way& before = table[i][s.from];
                const bool inside = s.loose || (s.lightest >= window.lightest && s.heaviest <= window.heaviest);
                if (inside && before.kept >= 0 && before.kept + s.kept > here[s.to].kept)
                    here[s.to] = {before.kept + s.kept, s.from};
            }
            table.push_back(std::move(here));
        }
        kept_ = table.back().front().kept;
        for (std::size_t i = slabs_.size(), place = 0; i > 0; --i) {
            slabs_[i - 1].to = places_[i][place];
            place = table[i][place].from;
            slabs_[i - 1].from = places_[i - 1][place];
        }
    }

    bool move(std::size_t apart) {
        place_slabs(apart);
        const auto found = narrowest_window([&](const auto& cost) { return worst(cost); });
        if (!found || (window_ && found->spread() >= window_->spread())) return false;
        window_ = found;
        move_into(*found);
        return true;
    }

    const cutting_problem* problem_;
    std::vector<grid_slab> slabs_;
    std::vector<std::size_t> cells_;
    std::vector<std::vector<std::size_t>> places_; ///< of each cut, the facing's first
    std::vector<std::vector<placed_slab>> placed_; ///< of each slab: where it may lie
    std::optional<even_weights> window_;
    std::int64_t kept_ = 0;
};

/// Some plan of just so many portions, if there is one: the one of the most mass in them.
template <class = when_called>
[[nodiscard]] std::vector<grid_slab> slabs_of_so_many(const cutting_problem& problem, std::size_t portions) {
    const portion_mass_objective mass_in_portions(problem);
    const count_states<portion_mass_objective> table(problem, mass_in_portions, {all_portions(problem, portions)});
    return table.possible(portions) ? table.stretches(portions) : std::vector<grid_slab>{};
}

/// The cuts of a plan that is even enough, moved on the finer grid to the most mass in portions between its lightest one and
/// as much above; the plan itself where there is none. The problem is one of `fine`, which goes into the result.
template <class = when_called>
[[nodiscard]] polished_cuts with_most_mass(const profile& meat, profile&& fine, const cutting_problem& problem,
                                           planned coarse, mass even_enough, std::size_t parts, search_clock& clock) {
    const std::int64_t within = to_micrograms(even_enough).count;
    std::int64_t lightest = std::numeric_limits<std::int64_t>::max();
    for (const slab& s : coarse.plan.slabs)
        for (const micrograms m : coarse.plan.portions_of(s)) lightest = std::min(lightest, m.count);
    cutting_problem narrow = problem;
    narrow.narrow_weights(lightest, lightest + within);
    const portion_mass_objective kept(narrow);
    const std::vector<grid_slab> start = slabs_on(narrow, coarse.plan);
    bool finite = true;
    const auto best = best_moved(narrow, kept, start, groups_of_one_thickness(narrow, start), parts, finite,
                                 [&] { return clock.go_on(); });
    if (!best) return {meat, std::move(coarse)};
    using both = lexicographic_score<std::int64_t, std::int64_t>;
    planned found = planned_from(problem, best->slabs(), both{{-within, best->score()}});
    say_gap_left(found, {static_cast<double>(-within)});
    found.searched.ended = clock.stopped() ? clock.ended() : coarse.searched.ended;
    return {std::move(fine), std::move(found)};
}

/// Equal portions below the grid: just so many of them, with cuts on a grid of `resolution` or a little finer. By default as
/// many as the limits allow there.
///
/// Cuts move in their order, first by steps of the profile's grid and last by single ones of the finer grid, each time to the
/// best of all combinations of 17 places a cut, as long as that brings the heaviest and the lightest portion nearer together.
/// They start from the plan of `even_portions`, if the profile's grid has one that can keep its limits below it, and once
/// more from the plan of so many portions that has the most mass in them. Of the two results the more equal one is taken; if
/// both are as equal as rounded cuts can be expected to be, within what two cells of the finer grid weigh, the one with more
/// mass in portions.
///
/// `score` is minus the difference between heaviest and lightest in micrograms, on `meat` of the result, and `bound` zero: no
/// portions are more equal than equal. So `stop` is `gap_left` unless they are: there may be a plan of another order of cuts
/// that is more equal. If there is no plan on the finer grid, the answer of `even_portions` comes back, on the profile's grid.
///
/// O(slabs × 17²) for each of some hundred windows of weights a round, besides one `even_portions` and one search for so many
/// portions on the finer grid. Throws as `even_portions` and, for the resolution, `polish`. Cuts that must have one
/// thickness keep it, and it is closed in on; they start from the plan of the profile's grid alone, with as many portions. So do
/// plans with demands, and those that are `even_enough`: their cuts move to the most mass in portions within that.
/// `search` limits the plan of the grid, and then the rounds of moving cuts, a pass each; where it ends them, the best so far.
template <class = when_called>
[[nodiscard]] polished_cuts polished_even_portions(const profile& meat, const cut_list& specs,
                                                   const cutting_rules& rules, std::optional<std::int64_t> portions,
                                                   const std::vector<demand>& demands, mass even_enough,
                                                   length resolution, const search_limits& search) {
    const std::size_t parts = parts_of_a_cell(meat, resolution);
    if (portions && *portions < 1) throw invalid_input("portions", std::to_string(*portions), "one or more");
    profile fine = on_finer_grid(meat, parts);
    const cutting_problem problem(fine, specs, rules);
    const std::int64_t wanted = portions.value_or(best_path(problem, portion_count_objective(problem)).score);
    if (wanted == 0) return {meat, planned_even(meat, {specs, rules, demands}, portions, {}, search)};
    const bool enough = even_enough > mass{},
               from_grid = has_choice_of_one_thickness(specs) || !demands.empty() || enough;
    planned coarse = planned_even(meat, {specs, rules, demands}, from_grid ? portions : wanted, even_enough, search);
    search_clock clock(search);
    const auto go_on = [&] { return clock.go_on(); };
    if (enough && coarse.feasible() && !(mass::from_value(-1e-9 * coarse.score_parts.front().value) > even_enough))
        return with_most_mass(meat, std::move(fine), problem, std::move(coarse), even_enough, parts, clock);

    std::int64_t cell = 0;
    for (std::size_t i = 0; i < fine.cells(); ++i) cell = std::max(cell, fine.between(i, i + 1).count);
    std::optional<even_mover<>> best;
    const auto start_from = [&](const std::vector<grid_slab>& slabs) {
        const thickness_groups groups = groups_of_one_thickness(problem, slabs);
        const auto better_with = [&](const std::vector<std::size_t>& cells) {
            const std::vector<std::size_t> of_slabs = groups.of_slabs(cells);
            even_mover<> mover(problem, cells.empty() ? slabs : laid_out_with(problem, slabs, of_slabs), of_slabs);
            if (!mover.run(parts, go_on)) return false;
            const auto apart = [&](const even_mover<>& m) { return std::max(m.window().spread(), 2 * cell); };
            const bool better =
                !best || apart(mover) < apart(*best) || (apart(mover) == apart(*best) && mover.kept() > best->kept());
            if (better) best = std::move(mover);
            return better;
        };
        move_thicknesses(groups.cells, parts, better_with, go_on);
    };
    if (coarse.feasible()) start_from(slabs_on(problem, coarse.plan));
    if (!from_grid && !clock.stopped()) start_from(slabs_of_so_many(problem, static_cast<std::size_t>(wanted)));
    const search_end ended = clock.stopped() ? clock.ended() : coarse.searched.ended;
    if (!best) {
        coarse.searched.ended = ended;
        return {meat, std::move(coarse)};
    }
    const std::int64_t spread = best->window().spread();
    using both = lexicographic_score<std::int64_t, std::int64_t>;
    planned found = enough ? planned_from(problem, best->slabs(), both{{-spread, best->kept()}})
                           : planned_from(problem, best->slabs(), -spread);
    if (spread > 0) say_gap_left(found, {0.0});
    found.searched.ended = ended;
    return {std::move(fine), std::move(found)};
}

template <class = when_called>
struct even_portions_want {
    std::optional<std::int64_t> portions{};
    mass even_enough{};

    [[nodiscard]] planned operator()(const profile& meat, const cutting_request& request,
                                     const search_limits& search = {}) const {
        return planned_even(meat, request, portions, even_enough, search);
    }
    [[nodiscard]] polished_cuts polished(const profile& meat, const cutting_request& request, length resolution,
                                         const search_limits& search = {}) const {
        return polished_even_portions(meat, request.cuts, request.rules, portions, request.demands, even_enough,
                                      resolution, search);
    }
    [[nodiscard]] rest_plan rest(const rest_of_loin& rest, const search_limits& search = {}) const {
        return even_rest(rest, portions, to_micrograms(even_enough).count, search);
    }
};

} // namespace detail

/// The most equal portions, just so many of them in all; by default the most that limits and demands allow. Where they
/// can be as near together as `even_enough`, a difference of weights of zero or more, the least waste among plans that
/// are. See `even_portions` for a loin. Throws `invalid_input`, when planned with, for less than one portion, and below
/// zero. Portions are whole numbers, `even_enough` is a mass.
template <class = detail::when_called>
[[nodiscard]] detail::even_portions_want<> even_portions(std::optional<std::int64_t> portions = {},
                                                         mass even_enough = {}) {
    return {portions, even_enough};
}

} // namespace tranche
