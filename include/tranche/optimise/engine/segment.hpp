// The engine: the best tiling of the axis by slabs of a problem's options, by dynamic programming over positions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/notched_filler.hpp>
#include <tranche/optimise/engine/detail/start_queue.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche {

/// The best tiling on the grid. Loose meat is always allowed, so there always is one.
template <class Score>
struct segmentation {
    std::vector<detail::stretch> stretches; ///< from the facing to the sirloin face
    Score score{}; ///< the sum of the slab scores; if it is not `finite`, a floating one is NaN, and -infinity if every
                   ///< tiling has a slab that is forbidden
    bool finite = true; ///< whether every score looked at was, apart from those that forbid a slab, and so is the sum
    std::size_t searched = 1; ///< tables of positions filled: more where an order or a common thickness links slabs

    friend bool operator==(const segmentation&, const segmentation&) = default;
};

namespace detail {

/// Offers slabs of one spec. For objectives by the whole slab: looks at every allowed one.
template <class O>
class portion_filler {
public:
    using candidate = best_so_far<typename O::score_type>;

    portion_filler(const cutting_problem& problem, const O& objective, std::size_t option)
        : objective_(&objective), option_(option), limits_(problem, option) {}
    /// For another plan, in the room that there is.
    void restart(const cutting_problem& problem, const O& objective, std::size_t option) {
        *this = portion_filler(problem, objective, option);
    }
    [[nodiscard]] std::size_t option() const { return option_; }

    void offer(std::vector<candidate>& best_to, block ends) {
        for (std::size_t to = ends.first; to < std::min(ends.past, limits_.past_to); ++to)
            offer(best_to, to, limits_.first(to), limits_.past(to));
    }
    /// Slabs [from, to) with first <= from < past, as far as their weight is allowed.
    void offer(std::vector<candidate>& best_to, std::size_t to, std::size_t first, std::size_t past) {
        const std::int64_t reach = limits_.back[to];
        for (std::size_t from = first; from < past; ++from) {
            const std::int64_t weight = reach - limits_.front[from];
            if (limits_.least_weight <= weight && weight <= limits_.most_weight)
                best_to[to].offer(best_to[from].score + objective_->slab(option_, from, to), from, option_);
        }
    }
    void offer_at_end(std::vector<candidate>& best_to, std::size_t end, std::size_t first, std::size_t past,
                      std::size_t /*one_of_class*/) {
        offer(best_to, end, std::max(first, limits_.start), past);
    }

private:
    const O* objective_;
    std::size_t option_;
    raw_limits limits_;
};

/// For separable objectives: each start enters and leaves the queue once.
template <separable_objective O>
class portion_filler<O> {
public:
    using score_type = typename O::score_type;
    using candidate = best_so_far<score_type>;

    portion_filler(const cutting_problem& problem, const O& objective, std::size_t option)
        : terms_(terms_of(objective, option)), option_(option), limits_(problem, option), queue_(limits_.most_starts()),
          next_(problem.start()) {}
    void restart(const cutting_problem& problem, const O& objective, std::size_t option) {
        terms_ = terms_of(objective, option);
        option_ = option;
        limits_ = raw_limits(problem, option);
        queue_.restart(limits_.most_starts());
        next_ = problem.start();
    }
    [[nodiscard]] std::size_t option() const { return option_; }

    void offer(std::vector<candidate>& best_to, block ends) {
        // No slab ends in front of the thinnest one behind the first start.
        const block inner{std::max(ends.first, limits_.start + limits_.least_cells),
                          std::min(ends.past, limits_.past_to)};
        offer_all(best_to.data(), inner, [](const raw_limits& limits, std::size_t to) {
            return block{limits.first(to), std::min(to - limits.least_cells + 1, limits.past_from)};
        });
    }
    void offer_at_end(std::vector<candidate>& best_to, std::size_t end, std::size_t first, std::size_t past,
                      std::size_t /*one_of_class*/) {
        offer_all(best_to.data(), {end, end + 1}, [first, past](const raw_limits& limits, std::size_t) {
            return block{std::max(first, limits.start), past};
        });
    }

private:
    using terms_type = terms_type_of<O>;

    /// Slabs that end at each of `ends`, from the starts that `starts_of` says. A function by itself, and on copies of its
    /// own, so that all that this loop looks at can stay in registers.
    template <class StartsOf>
    [[gnu::noinline]] void offer_all(candidate* best_to, block ends, StartsOf starts_of) {
        const raw_limits limits = limits_;
        const terms_type terms = terms_;
        const std::size_t option = option_;
        start_queue<score_type> queue = std::move(queue_);
        std::size_t next = next_;
        for (std::size_t to = ends.first; to < ends.past; ++to) {
            const block from = starts_of(limits, to);
            const std::int64_t heaviest = limits.back[to] - limits.most_weight;
            while (!queue.empty() && (queue.start() < from.first || limits.front[queue.start()] < heaviest))
                queue.expire();
            const std::int64_t lightest = limits.back[to] - limits.least_weight;
            for (next = std::max(next, from.first); next < from.past && limits.front[next] <= lightest; ++next) {
                if (limits.front[next] < heaviest) continue;
                const score_type key = best_to[next].score + terms.opening(next);
                best_to[to].notice(key);
                queue.enter(next, key);
            }
            if (!queue.empty()) best_to[to].offer(queue.key() + terms.closing(to), queue.start(), option);
        }
        queue_ = std::move(queue);
        next_ = next;
    }

    terms_type terms_;
    std::size_t option_;
    raw_limits limits_;
    start_queue<score_type> queue_;
    std::size_t next_; ///< the first start that has not entered
};

/// Offers stretches of one loose cut. Their thickness has no upper limit, so the best start so far is all there is to
/// keep. Behind the facing, and at the sirloin face, loose meat may be of any thickness. The first loose cut makes the first
/// candidate of all.
template <class O>
class loose_filler {
public:
    using score_type = typename O::score_type;
    using candidate = best_so_far<score_type>;

    loose_filler(const cutting_problem& problem, const O& objective, std::size_t option)
        : objective_(&objective), option_(option), start_(problem.start()),
          least_cells_(problem.window(option).least_cells) {}
    void restart(const cutting_problem& problem, const O& objective, std::size_t option) {
        *this = loose_filler(problem, objective, option);
    }

    void offer(std::vector<candidate>& best_to, block ends) {
        for (std::size_t to = ends.first; to < ends.past; ++to) offer(best_to, to, least_cells_);
    }
    void offer(std::vector<candidate>& best_to, std::size_t to, std::size_t least) {
        if (option_ == 0)
            best_to[to].begin(objective_->slab(option_, start_, to), start_, option_);
        else
            offer_slab(best_to, to, start_);
        for (std::size_t from = start_ + 1; from + least <= to; ++from) offer_slab(best_to, to, from);
    }

private:
    void offer_slab(std::vector<candidate>& best_to, std::size_t to, std::size_t from) const {
        best_to[to].offer(best_to[from].score + objective_->slab(option_, from, to), from, option_);
    }

    const O* objective_;
    std::size_t option_, start_, least_cells_;
};

template <separable_objective O>
class loose_filler<O> {
public:
    using score_type = typename O::score_type;
    using candidate = best_so_far<score_type>;

    loose_filler(const cutting_problem& problem, const O& objective, std::size_t option)
        : terms_(terms_of(objective, option)), option_(option), least_cells_(problem.window(option).least_cells),
          next_(problem.start() + 1) {
        best_start_.begin(terms_.opening(problem.start()), problem.start(), option);
    }
    void restart(const cutting_problem& problem, const O& objective, std::size_t option) {
        *this = loose_filler(problem, objective, option);
    }

    void offer(std::vector<candidate>& best_to, block ends) { offer(best_to.data(), ends, least_cells_); }
    void offer(std::vector<candidate>& best_to, std::size_t to, std::size_t least) {
        offer(best_to.data(), block{to, to + 1}, least);
    }

private:
    void offer(candidate* best_to, block ends, std::size_t least) {
        // Of this function's own, so that they can stay in registers.
        const terms_type_of<O> terms = terms_;
        const std::size_t option = option_;
        candidate best_start = best_start_;
        std::size_t next = next_;
        for (std::size_t to = ends.first; to < ends.past; ++to) {
            for (; next + least <= to; ++next)
                best_start.offer(best_to[next].score + terms.opening(next), next, option);
            const score_type value = best_start.score + terms.closing(to);
            if (option == 0)
                best_to[to].begin(value, best_start.from, option);
            else
                best_to[to].offer(value, best_start.from, option);
            best_to[to].notice(best_start);
        }
        best_start_ = best_start;
        next_ = next;
    }

    terms_type_of<O> terms_;
    std::size_t option_, least_cells_, next_;
    candidate best_start_{}; ///< of the loin in front of the start, with the opening there
};

/// Where an order or a common thickness links slabs: `free` is the best tiling without that. In linked_slabs.hpp.
template <objective O>
[[nodiscard]] segmentation<typename O::score_type> segment_linked(const cutting_problem& problem, const O& objective,
                                                                  segmentation<typename O::score_type> free);

} // namespace detail

/// Room for `segment` to work in. Kept from one plan to the next, of whatever problems and sizes, it grows to the largest,
/// and from then on a plan allocates nothing, unless an order or a common thickness links slabs. Not to be shared by
/// threads.
template <objective O>
class segment_workspace {
public:
    using score_type = typename O::score_type;

    /// As `segment`. The result is valid until the next call.
    const segmentation<score_type>& segment(const cutting_problem& problem, const O& objective) {
        const std::size_t start = problem.start(), end = problem.cells();
        if (start == end) { // the facing takes the whole loin: there is no slab to ask for
            result_ = {};
            return result_;
        }
        prepare(problem, objective);
        for (detail::block ends{start + 1, 0}; ends.first < end; ends.first = ends.past) {
            ends.past = std::min(ends.first + cells_in_block_, end);
            for (std::size_t o = 0; o < loose_count_; ++o) loose_[o].offer(best_to_, ends);
            in_order([&](auto& filler) { filler.offer(best_to_, ends); });
        }
        // Slabs that end at the sirloin face: no kerf, a last cell that may be short, and no small remnant.
        for (std::size_t o = 0; o < loose_count_; ++o) {
            const std::size_t last = problem.window(o).last_to_end, least = end - std::min(last, end - 1);
            if (least > problem.window(o).least_cells) // starts that are too late for it have had their turn
                loose_[o] = detail::loose_filler<O>(problem, objective, o);
            loose_[o].offer(best_to_, end, least);
        }
        in_order([&](auto& filler) {
            const detail::option_window& w = problem.window(filler.option());
            const std::size_t past = std::min(w.last_to_end + 1, w.past_from);
            if (end < w.past_to && w.first_to_end <= w.last_to_end)
                filler.offer_at_end(best_to_, end, w.first_to_end, past, w.last_to_end);
        });
        trace_back(problem);
        if (problem.links_slabs()) result_ = detail::segment_linked(problem, objective, std::move(result_));
        return result_;
    }
    /// Takes the last result away.
    [[nodiscard]] segmentation<score_type> result() && { return std::move(result_); }

private:
    using candidate = detail::best_so_far<score_type>;

    void prepare(const cutting_problem& problem, const O& objective) {
        // What another plan has left behind the start is overwritten before it is looked at.
        best_to_.resize(problem.cells() + 1);
        std::fill_n(best_to_.begin(), problem.start() + 1, candidate{});
        cells_in_block_ = problem.cells();
        loose_count_ = portion_count_ = notched_count_ = 0;
        const auto next = [&](auto& fillers, std::size_t& count, std::size_t o) {
            if (count == fillers.size())
                fillers.emplace_back(problem, objective, o);
            else
                fillers[count].restart(problem, objective, o);
            ++count;
        };
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            cells_in_block_ = std::min(cells_in_block_, problem.window(o).least_cells);
            if (!problem.is_portion(o))
                next(loose_, loose_count_, o);
            else if (problem.window(o).stride > 1)
                next(notched_, notched_count_, o);
            else
                next(portions_, portion_count_, o);
        }
    }

    void trace_back(const cutting_problem& problem) {
        result_.stretches.clear();
        result_.score = best_to_[problem.cells()].score;
        result_.finite = true;
        result_.searched = 1;
        if constexpr (!always_finite<score_type>)
            for (const candidate& best : best_to_) result_.finite = result_.finite && best.usable();
        if (!result_.finite) { // and so that the score does not forbid
            result_.score = {};
            if constexpr (std::is_floating_point_v<score_type>)
                result_.score = std::numeric_limits<score_type>::quiet_NaN();
        }
        result_.finite = result_.finite && is_finite(result_.score);
        for (std::size_t at = problem.cells(); at > problem.start();) {
            const candidate& best = best_to_[at];
            const bool portions = problem.is_portion(best.option);
            result_.stretches.push_back({best.from, at, portions ? slab_kind::portions : slab_kind::loose,
                                         portions ? best.option - problem.loose_count() : best.option});
            at = best.from;
        }
        std::reverse(result_.stretches.begin(), result_.stretches.end());
    }

    /// Both kinds of portions by their options, so that ties go to the earlier one.
    template <class F>
    void in_order(const F& f) {
        std::size_t n = 0;
        for (std::size_t p = 0; p < portion_count_; ++p) {
            for (; n < notched_count_ && notched_[n].option() < portions_[p].option(); ++n) f(notched_[n]);
            f(portions_[p]);
        }
        for (; n < notched_count_; ++n) f(notched_[n]);
    }

    std::vector<candidate> best_to_; ///< one a position
    std::size_t cells_in_block_ = 0;
    std::vector<detail::loose_filler<O>> loose_; ///< of these the first so many are in use
    std::vector<detail::portion_filler<O>> portions_;
    std::vector<detail::notched_filler<O>> notched_;
    std::size_t loose_count_ = 0, portion_count_ = 0, notched_count_ = 0;
    segmentation<score_type> result_;
};

/// The tiling of [facing, sirloin face] with the highest sum of slab scores, over all cuts at grid positions that the
/// problem allows. Ties go to the earlier option, then to the earlier start of the last slab, and so on towards the rib,
/// whatever the kind of objective. Which method runs is decided at compile time:
/// - separable objective: one monotone queue an option, O(positions × options) time and memory;
/// - whole-slab objective: every allowed slab, O(positions × options × window); loose meat has a window of all positions.
/// An order of cuts multiplies that by the sets of cuts that may no longer come, where the best tiling without it does not
/// keep it: n where each of n cuts must lie before all later ones, 2^n for n pairs that have nothing to do with each other.
/// A score of -infinity forbids its slab (`forbids`).
/// Cuts that must have one thickness are found by branch and bound over thicknesses, in the worst case as many searches as
/// there are choices. Both are exact. Throws `invalid_input` for an order that takes more than 4,194,304 positions × sets.
template <objective O>
[[nodiscard]] segmentation<typename O::score_type> segment(const cutting_problem& problem, const O& objective) {
    segment_workspace<O> room;
    room.segment(problem, objective);
    return std::move(room).result();
}

} // namespace tranche

#include <tranche/optimise/engine/detail/linked_slabs.hpp> // the definition of segment_linked, which itself needs this header
