// The engine: the best tiling of the axis by slabs of a problem's options, by dynamic programming over positions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <type_traits>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/cutting_problem.hpp>
#include <tranche/optimise/objective.hpp>

namespace tranche {

/// The best tiling on the grid. Loose meat is always allowed, so there always is one.
template <class Score>
struct segmentation {
    std::vector<stretch> stretches; ///< from the facing to the sirloin face
    Score score{};                  ///< the sum of the slab scores; NaN if any score looked at was not finite
};

namespace detail {

/// The best way to fill the loin up to a position: its score, and the last slab.
template <class Score>
struct best_so_far {
    Score score{};
    std::uint32_t from = 0, option = 0;

    /// A candidate takes the place only when it is better, so the one offered first wins ties.
    void offer(const Score& value, std::size_t start, std::size_t with) {
        notice(value);
        if (score < value) *this = {value, static_cast<std::uint32_t>(start), static_cast<std::uint32_t>(with)};
    }
    /// One NaN or infinity among the values looked at, and the score stays NaN: a plan must not hide it.
    void notice(const Score& value) {
        if constexpr (std::is_floating_point_v<Score>)
            if (!std::isfinite(value)) score = std::numeric_limits<Score>::quiet_NaN();
    }
};

/// The limits of one option on raw numbers, unwrapped once: the loop below runs millions of times a second.
struct raw_limits {
    const std::int64_t *front, *back;
    std::int64_t least_weight, most_weight;
    std::size_t least_cells, most_cells, past_from, past_to;

    raw_limits(const cutting_problem& problem, std::size_t option)
        : front(problem.front(option).data()), back(problem.back(option).data()),
          least_weight(problem.window(option).least_weight), most_weight(problem.window(option).most_weight),
          least_cells(problem.window(option).least_cells), most_cells(problem.window(option).most_cells),
          past_from(problem.window(option).past_from), past_to(problem.window(option).past_to) {}

    /// A bound on past(to) - first(to), also where `to` is the sirloin face.
    [[nodiscard]] std::size_t most_starts() const {
        return most_cells > least_cells ? most_cells - least_cells + 3 : 3;
    }
    /// Starts [first, past) of slabs that end at `to`, by thickness and second muscle.
    [[nodiscard]] std::size_t first(std::size_t to) const { return to > most_cells ? to - most_cells : 0; }
    [[nodiscard]] std::size_t past(std::size_t to) const {
        return to >= least_cells ? std::min(to - least_cells + 1, past_from) : 0;
    }
};

/// The starts of slabs of one option that may still win, best first: a monotone queue. As the end of the slab moves on,
/// starts enter at the back and expire at the front; one that is worse than a later one is dropped for good. A ring of
/// just the window's size, so that it stays in the nearest cache.
template <class Score>
class start_queue {
public:
    explicit start_queue(std::size_t most_starts)
        : entries_(std::bit_ceil(most_starts + 1)), mask_(entries_.size() - 1) {}

    void enter(std::size_t start, const Score& key) {
        while (past_ != head_ && entries_[(past_ - 1) & mask_].key < key) --past_;
        entries_[past_++ & mask_] = {key, start};
    }
    [[nodiscard]] bool empty() const { return head_ == past_; }
    [[nodiscard]] std::size_t start() const { return entries_[head_ & mask_].start; }
    /// Score of the loin in front of the start, plus the opening of a slab there.
    [[nodiscard]] const Score& key() const { return entries_[head_ & mask_].key; }
    void expire() { ++head_; }

private:
    struct entry {
        Score key{};
        std::size_t start = 0;
    };
    std::vector<entry> entries_;
    std::size_t mask_, head_ = 0, past_ = 0;
};

/// Offers slabs of one spec. For objectives by the whole slab: looks at every allowed one.
template <class O>
class portion_filler {
public:
    using candidate = best_so_far<typename O::score_type>;

    portion_filler(const cutting_problem& problem, const O& objective, std::size_t option)
        : objective_(&objective), option_(option), limits_(problem, option) {}

    void offer(const std::vector<candidate>& best_to, std::size_t to, std::size_t first, std::size_t past,
               candidate& best) {
        const std::int64_t reach = limits_.back[to];
        for (std::size_t from = first; from < past; ++from) {
            const std::int64_t weight = reach - limits_.front[from];
            if (limits_.least_weight <= weight && weight <= limits_.most_weight)
                best.offer(best_to[from].score + objective_->slab(option_, from, to), from, option_);
        }
    }
    [[nodiscard]] const raw_limits& limits() const { return limits_; }

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
        : objective_(&objective), next_(problem.start()), option_(option), limits_(problem, option),
          queue_(limits_.most_starts()) {}

    void offer(const std::vector<candidate>& best_to, std::size_t to, std::size_t first, std::size_t past,
               candidate& best) {
        while (!queue_.empty() && queue_.start() < first) queue_.expire();
        const std::int64_t reach = limits_.back[to];
        const std::int64_t heaviest = reach - limits_.most_weight, lightest = reach - limits_.least_weight;
        for (next_ = std::max(next_, first); next_ < past && limits_.front[next_] <= lightest; ++next_) {
            const score_type key = best_to[next_].score + objective_->opening(option_, next_);
            best.notice(key);
            queue_.enter(next_, key);
        }
        while (!queue_.empty() && limits_.front[queue_.start()] < heaviest) queue_.expire();
        if (!queue_.empty()) best.offer(queue_.key() + objective_->closing(option_, to), queue_.start(), option_);
    }
    [[nodiscard]] const raw_limits& limits() const { return limits_; }

private:
    const O* objective_;
    std::size_t next_, option_;
    raw_limits limits_;
    start_queue<score_type> queue_;
};

/// Offers stretches of one loose cut. Their thickness has no upper limit, so the best start so far is all there is to keep.
template <class O>
class loose_filler {
public:
    using score_type = typename O::score_type;
    using candidate = best_so_far<score_type>;

    loose_filler(const cutting_problem& problem, const O& objective, std::size_t option)
        : objective_(&objective), start_(problem.start()), next_(start_), option_(option),
          least_cells_(problem.window(option).least_cells) {}

    /// Behind the facing loose meat may be of any thickness.
    void offer_from_facing(std::size_t to, candidate& best) const {
        best.offer(slab_score(*objective_, option_, start_, to), start_, option_);
    }
    void offer(const std::vector<candidate>& best_to, std::size_t to, candidate& best) {
        offer_with(best_to, to, least_cells_, best);
    }
    /// At the sirloin face too.
    void offer_to_end(const std::vector<candidate>& best_to, std::size_t end, candidate& best) {
        offer_with(best_to, end, 1, best);
    }

private:
    void offer_with(const std::vector<candidate>& best_to, std::size_t to, std::size_t least, candidate& best) {
        if constexpr (separable_objective<O>) {
            for (; next_ + least <= to; ++next_) {
                const score_type key = best_to[next_].score + objective_->opening(option_, next_);
                best.notice(key);
                if (next_ == start_ || key_ < key) {
                    key_ = key;
                    best_start_ = next_;
                }
            }
            if (next_ > start_) best.offer(key_ + objective_->closing(option_, to), best_start_, option_);
        } else {
            for (std::size_t from = start_; from + least <= to; ++from)
                best.offer(best_to[from].score + objective_->slab(option_, from, to), from, option_);
        }
    }

    const O* objective_;
    std::size_t start_, next_, option_, least_cells_;
    score_type key_{};
    std::size_t best_start_ = 0;
};

template <objective O>
class segmenter {
public:
    using score_type = typename O::score_type;

    segmenter(const cutting_problem& problem, const O& objective)
        : problem_(problem), objective_(objective), best_to_(problem.cells() + 1) {
        for (std::size_t o = 0; o < problem.loose_count(); ++o) loose_.emplace_back(problem, objective, o);
        for (std::size_t o = problem.loose_count(); o < problem.option_count(); ++o)
            portions_.emplace_back(problem, objective, o);
    }

    segmentation<score_type> run() {
        const std::size_t start = problem_.start(), end = problem_.cells();
        for (std::size_t to = start + 1; to < end; ++to) {
            candidate best = loose_from_facing(to);
            for (auto& filler : loose_) filler.offer(best_to_, to, best);
            for (auto& filler : portions_) {
                const raw_limits& limits = filler.limits();
                if (to < limits.past_to)
                    filler.offer(best_to_, to, std::max(start, limits.first(to)), limits.past(to), best);
            }
            best_to_[to] = best;
            whole_.notice(best.score);
        }
        // Slabs that end at the sirloin face: no kerf, and a last cell that may be short.
        candidate best = loose_from_facing(end);
        for (auto& filler : loose_) filler.offer_to_end(best_to_, end, best);
        for (std::size_t o = problem_.loose_count(); o < problem_.option_count(); ++o) {
            const option_window& w = problem_.window(o);
            if (end < w.past_to && w.first_to_end <= w.last_to_end)
                portions_[o - problem_.loose_count()].offer(best_to_, end, std::max(start, w.first_to_end),
                                                            std::min(w.last_to_end + 1, w.past_from), best);
        }
        best_to_[end] = best;
        whole_.notice(best.score);
        return trace_back();
    }

private:
    using candidate = best_so_far<score_type>;

    [[nodiscard]] candidate loose_from_facing(std::size_t to) const {
        const std::size_t start = problem_.start();
        candidate best{slab_score(objective_, 0, start, to), static_cast<std::uint32_t>(start), 0};
        best.notice(best.score);
        for (std::size_t o = 1; o < loose_.size(); ++o) loose_[o].offer_from_facing(to, best);
        return best;
    }

    segmentation<score_type> trace_back() const {
        segmentation<score_type> result;
        result.score = best_to_[problem_.cells()].score + whole_.score;
        for (std::size_t at = problem_.cells(); at > problem_.start();) {
            const candidate& best = best_to_[at];
            const bool portions = problem_.is_portion(best.option);
            result.stretches.push_back({best.from, at, portions ? slab_kind::portions : slab_kind::loose,
                                        portions ? best.option - problem_.loose_count() : best.option});
            at = best.from;
        }
        std::reverse(result.stretches.begin(), result.stretches.end());
        return result;
    }

    const cutting_problem& problem_;
    const O& objective_;
    std::vector<candidate> best_to_; ///< one a position
    candidate whole_{};              ///< zero, or NaN once a value was
    std::vector<loose_filler<O>> loose_;
    std::vector<portion_filler<O>> portions_;
};

} // namespace detail

/// The tiling of [facing, sirloin face] with the highest sum of slab scores, over all cuts at grid positions that the
/// problem allows. Ties go to the earlier option, then to the earlier start of the last slab, and so on towards the rib,
/// whatever the kind of objective. Which method runs is decided at compile time:
/// - separable objective: one monotone queue an option, O(positions × options) time and memory;
/// - whole-slab objective: every allowed slab, O(positions × options × window); loose meat has a window of all positions.
template <objective O>
[[nodiscard]] segmentation<typename O::score_type> segment(const cutting_problem& problem, const O& objective) {
    return detail::segmenter<O>(problem, objective).run();
}

} // namespace tranche
