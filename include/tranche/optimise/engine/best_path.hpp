// The engine: the best tiling of the axis by slabs of a problem's options, by dynamic programming over positions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/branch.hpp>
#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/lane_filler.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/detail/start_queue.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche {

namespace detail {

/// Whether all that an objective says of the slabs of a graph is finite, apart from what forbids one. O(positions × options) for
/// separable objectives, O(slabs) for others.
template <objective O>
[[nodiscard]] bool all_finite(const slab_graph& graph, const O& objective) {
    if constexpr (always_finite<typename O::score_type>) return true;
    const auto fine = [](const typename O::score_type& score) { return is_finite(score) || forbids(score); };
    std::vector<bool> reached(graph.end + 1);
    reached[graph.start] = true;
    for (const slab_lane& lane : graph.lanes)
        for (std::size_t to = graph.start + 1; to <= graph.end; ++to)
            if (!lane.to(to).empty()) reached[to] = true;
    for (const slab_lane& lane : graph.lanes) {
        const std::size_t option = lane.option();
        if (portions_objective<O> && option < graph.loose_count) continue;
        std::size_t next = 0; // of separable objectives: the first start that has not been looked at
        for (std::size_t to = graph.start + 1; to <= graph.end; ++to) {
            const slab_starts starts = lane.to(to);
            if (starts.empty()) continue;
            if constexpr (separable_objective<O>)
                if (!fine(objective.closing(option, to))) return false;
            const bool some = separable_objective<O> && lane.stride() == 1;
            for (std::size_t from = some ? std::max(next, std::size_t{starts.first}) : starts.first; from < starts.past;
                 from += lane.stride()) {
                if (!reached[from]) continue;
                if constexpr (separable_objective<O>) {
                    if (!fine(objective.opening(option, from))) return false;
                } else if (!fine(slab_score(objective, option, from, to)))
                    return false;
            }
            next = std::max(next, std::size_t{starts.past});
        }
    }
    return true;
}

} // namespace detail

/// The best tiling on the grid. Loose meat is always allowed, so there always is one.
template <class Score>
struct tiling {
    std::vector<grid_slab> stretches; ///< from the facing to the sirloin face
    Score score{}; ///< the sum of the slab scores; if it is not `finite`, a floating one is NaN, and -infinity if every
                   ///< tiling has a slab that is forbidden
    bool finite = true; ///< whether every score looked at was, apart from those that forbid a slab, and so is the sum
    Score bound{};      ///< no tiling scores higher: the score itself, unless a search was ended before it had a proof
    std::size_t searched = 1; ///< tables of positions filled: more where an order or a common thickness links slabs
    search_end ended = search_end::by_itself;

    friend bool operator==(const tiling&, const tiling&) = default;
};

/// Room for `best_path` to work in. Kept from one plan to the next, of whatever problems and sizes, it grows to the
/// largest, and from then on a plan allocates nothing, unless an order or a common thickness links slabs. Not to be
/// shared by threads. What its members throw is what `best_path` throws.
template <objective O>
class path_workspace {
public:
    using score_type = typename O::score_type;

    /// As `best_path`. The result is valid until the next call. Scores are in units of the objective, positions whole
    /// steps of the profile.
    const tiling<score_type>& best_path(const cutting_problem& problem, const O& objective,
                                        const search_limits& limits = {}) {
        detail::search_clock clock(limits);
        return best_path(problem, objective, clock);
    }
    /// The same by a clock of one's own search. Of a tiling that is allowed the score may be `known`, exactly: what cannot
    /// reach it is not looked at, and the answer is the same.
    const tiling<score_type>& best_path(const cutting_problem& problem, const O& objective, detail::search_clock& clock,
                                        const std::optional<score_type>& known = {}) {
        if (problem.places().any())
            find_between_places(problem, objective);
        else if (problem.graph().loose_everywhere)
            find_apart(problem, objective);
        else
            find_with_loose_anywhere(problem, objective);
        result_.bound = result_.score;
        if (result_.finite && (problem.links_slabs() || !problem.graph().loose_everywhere))
            link(problem, objective, clock, known);
        return result_;
    }
    /// Takes the last result away. Throws nothing.
    [[nodiscard]] tiling<score_type> result() && { return std::move(result_); }

private:
    using candidate = detail::best_so_far<score_type>;

    /// The best tiling, whatever links slabs with each other and wherever loose meat lies.
    void find_apart(const cutting_problem& problem, const O& objective) {
        const detail::slab_graph& graph = detail::graph_for(problem, objective, in_bands_);
        result_.stretches.clear();
        result_.score = {};
        result_.finite = true;
        result_.searched = 1;
        result_.ended = search_end::by_itself;
        if (graph.start == graph.end) return; // the facing takes the whole loin: there is no slab to ask for
        // What another plan has left behind the start is overwritten before it is looked at.
        best_to_.resize(graph.end + 1);
        std::fill_n(best_to_.begin(), graph.start + 1, candidate{});
        if (fillers_.size() < graph.lanes.size()) fillers_.resize(graph.lanes.size());
        for (std::size_t o = 0; o < graph.lanes.size(); ++o)
            fillers_[o].restart(graph, graph.lanes[o], objective, best_to_.data(), graph.lanes[o].option());
        detail::fill_positions(fillers_, graph.lanes.size(), best_to_.data(), {graph.start, graph.end},
                               detail::cells_a_block(graph), [](std::size_t) {});
        trace_back(problem);
    }

    void find_with_loose_anywhere(cutting_problem problem, const O& objective) {
        problem.leave_out(true, false, false);
        find_apart(problem, objective);
    }
    /// With cuts that are pinned or ruled out not every position has a way to it.
    void find_between_places(const cutting_problem& problem, const O& objective) {
        const detail::slab_graph& graph = problem.graph();
        result_ = {};
        if (graph.start == graph.end) return;
        if (!detail::all_finite(graph, objective)) {
            result_.finite = false;
            if constexpr (std::is_floating_point_v<score_type>)
                result_.score = std::numeric_limits<score_type>::quiet_NaN();
            return loose_between_places(problem);
        }
        const detail::order_states orders = detail::order_states_within(problem, detail::most_ordered_entries);
        const detail::path_table<O, detail::order_states> table(graph, objective, orders);
        const std::size_t best = table.best_of(0, orders.size());
        if (!table.whole(best)) {
            all_forbidden();
            return loose_between_places(problem);
        }
        result_.score = table.whole(best).score;
        result_.finite = is_finite(result_.score);
        result_.searched = orders.size();
        table.each_slab(best, [&](std::size_t option, std::size_t from, std::size_t to) {
            result_.stretches.push_back(detail::grid_slab_of(problem, option, from, to));
        });
    }
    /// The tiling that is always allowed.
    void loose_between_places(const cutting_problem& problem) {
        for (std::size_t at = problem.start(); at < problem.cells();) {
            const std::size_t to = problem.places().next_pin(at, problem.cells());
            result_.stretches.push_back(detail::grid_slab_of(problem, 0, at, to));
            at = to;
        }
    }

    void trace_back(const cutting_problem& problem) {
        result_.score = best_to_[problem.cells()].score;
        if constexpr (!always_finite<score_type>)
            for (const candidate& best : best_to_) result_.finite = result_.finite && best.usable();
        if (!result_.finite) { // and so that the score does not forbid
            result_.score = {};
            if constexpr (std::is_floating_point_v<score_type>)
                result_.score = std::numeric_limits<score_type>::quiet_NaN();
        }
        result_.finite = result_.finite && is_finite(result_.score);
        for (std::size_t at = problem.cells(); at > problem.start(); at = best_to_[at].from)
            result_.stretches.push_back(detail::grid_slab_of(problem, best_to_[at].option, best_to_[at].from, at));
        std::reverse(result_.stretches.begin(), result_.stretches.end());
    }

    /// The best tiling that keeps slabs linked: by the states of an order, and by branch and bound over thicknesses.
    void link(const cutting_problem& problem, const O& objective, detail::search_clock& clock,
              const std::optional<score_type>& known) {
        if (!problem.varying().empty()) return choose_thicknesses(problem, objective, clock, known);
        if (detail::keeps_order(problem, result_.stretches) && detail::keeps_places(problem, result_.stretches))
            return; // as a plan between places does
        const detail::count_states<O> table(problem, objective, {});
        if (!table.possible(0)) return all_forbidden();
        result_ = {table.stretches(0), table.score(0), is_finite(table.score(0)), table.score(0),
                   result_.searched + table.searched()};
    }
    void choose_thicknesses(const cutting_problem& problem, const O& objective, detail::search_clock& clock,
                            const std::optional<score_type>& known) {
        tiling<score_type> apart = std::move(result_);
        std::size_t searched = apart.searched;
        const auto solve = [&](const cutting_problem& narrowed) -> std::optional<tiling<score_type>> {
            best_path(narrowed, objective, clock); // in the same room, which links no thicknesses any more
            searched += result_.searched;
            if (!result_.finite || (known && result_.score < *known)) return std::nullopt;
            return result_;
        };
        // There is one, as loose meat alone has no thickness at all, unless an objective forbids that.
        auto best = detail::best_of_one_thickness<tiling<score_type>>(
            problem, solve, [&] { return clock.go_on(); },
            [&](const tiling<score_type>& better) { clock.found(better.stretches, better.score, &apart.score); });
        result_ = best ? *std::move(best) : std::move(apart);
        if (!best && !clock.stopped()) return all_forbidden();
        if (!best) loose_alone(problem, objective);
        result_.searched = searched;
        result_.ended = clock.ended();
    }
    /// The tiling of a search that was ended before it had one; its bound stays.
    void loose_alone(const cutting_problem& problem, const O& objective) {
        result_.stretches.clear();
        loose_between_places(problem);
        result_.score = detail::score_of(problem, objective, result_.stretches);
        result_.finite = is_finite(result_.score);
    }
    /// The answer where an objective forbids every tiling that keeps slabs linked.
    void all_forbidden() {
        result_.finite = false;
        if constexpr (std::is_floating_point_v<score_type>)
            result_.score = -std::numeric_limits<score_type>::infinity();
    }

    std::vector<candidate> best_to_;                         ///< one a position
    std::vector<detail::lane_filler<O, candidate>> fillers_; ///< one a lane; of these the first so many are in use
    detail::slab_graph in_bands_;                            ///< of an objective that has bands of weights
    tiling<score_type> result_;
};

/// The tiling of [facing, sirloin face] with the highest sum of slab scores, over all cuts at grid positions that the
/// problem allows. Ties go to the earlier option, then to the earlier start of the last slab, and so on towards the rib,
/// whatever the kind of objective. Which method runs is decided at compile time:
/// - separable objective: one monotone queue an option, O(positions × options) time and memory;
/// - whole-slab objective: every allowed slab, O(positions × options × window); loose meat has a window of all positions, unless the
///   objective says how it is separable (`separable_loose`);
/// - objective that is separable in bands of weight (`banded_objective`): as a separable one, with an option for each band.
/// An order of cuts multiplies that by the sets of cuts that may no longer come, where the best tiling without it does not
/// keep it: n where each of n cuts must lie before all later ones, 2^n for n pairs that have nothing to do with each other.
/// A score of -infinity forbids its slab (`forbids`).
/// Cuts that must have one thickness are found by branch and bound over thicknesses, in the worst case as many searches as
/// there are choices: of the searches here that is the one that `limits` can end, with the best tiling so far and a bound. Both are
/// exact. Throws `invalid_input` for an order that takes more than 4,194,304 positions × sets. Scores are in units of the
/// objective. Source of the method: dynamic programming, Bellman (1957), from memory.
template <objective O>
[[nodiscard]] tiling<typename O::score_type> best_path(const cutting_problem& problem, const O& objective,
                                                       const search_limits& limits = {}) {
    path_workspace<O> room;
    room.best_path(problem, objective, limits);
    return std::move(room).result();
}

} // namespace tranche
