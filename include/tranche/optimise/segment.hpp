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
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/cutting_problem.hpp>
#include <tranche/optimise/objective.hpp>

namespace tranche {

/// The best tiling on the grid. Loose meat is always allowed, so there always is one.
template <class Score>
struct segmentation {
    std::vector<stretch> stretches; ///< from the facing to the sirloin face
    Score score{};                  ///< the sum of the slab scores; a floating one is NaN if it is not `finite`
    bool finite = true;             ///< whether every score looked at was
};

namespace detail {

/// Whether a score that is not finite has to be noted beside the best one; a floating score notes it by being NaN.
template <class Score>
inline constexpr bool noted_apart = !always_finite<Score> && !std::is_floating_point_v<Score>;

struct no_note {};
struct not_finite_note {
    bool not_finite = false;
};

/// The best way to fill the loin up to a position: its score, and the last slab.
template <class Score>
struct best_so_far {
    Score score{};
    std::uint32_t from = 0, option = 0;
    [[no_unique_address]] std::conditional_t<noted_apart<Score>, not_finite_note, no_note> note{};

    /// The first candidate, whatever it is worth.
    void begin(const Score& value, std::size_t start, std::size_t with) {
        *this = {value, static_cast<std::uint32_t>(start), static_cast<std::uint32_t>(with), {}};
        notice(value);
    }
    /// A further one takes the place only when it is better, so the one offered first wins ties.
    void offer(const Score& value, std::size_t start, std::size_t with) {
        notice(value);
        if (score < value) *this = {value, static_cast<std::uint32_t>(start), static_cast<std::uint32_t>(with), note};
    }
    /// One NaN or infinity among the values looked at, and it stays noted: a plan must not hide it.
    void notice(const Score& value) {
        if constexpr (std::is_floating_point_v<Score>) {
            if (!std::isfinite(value)) score = std::numeric_limits<Score>::quiet_NaN();
        } else if constexpr (noted_apart<Score>) {
            note.not_finite = note.not_finite || !is_finite(value);
        }
    }
    /// What another one has noticed counts here too; of floating scores it is in the values anyway.
    void notice(const best_so_far& other) {
        if constexpr (noted_apart<Score>) note.not_finite = note.not_finite || other.note.not_finite;
    }
    [[nodiscard]] bool finite() const {
        if constexpr (noted_apart<Score>)
            return !note.not_finite;
        else
            return is_finite(score);
    }
};

/// The limits of one option on raw numbers, unwrapped once: the loops below run millions of times a second.
struct raw_limits {
    const std::int64_t *front, *back;
    std::int64_t least_weight, most_weight;
    std::size_t start, least_cells, most_cells, past_from, past_to;

    raw_limits(const cutting_problem& problem, std::size_t option)
        : front(problem.front(option).data()), back(problem.back(option).data()),
          least_weight(problem.window(option).least_weight), most_weight(problem.window(option).most_weight),
          start(problem.start()), least_cells(problem.window(option).least_cells),
          most_cells(problem.window(option).most_cells), past_from(problem.window(option).past_from),
          past_to(problem.window(option).past_to) {}

    /// Starts [first, past) of slabs that end at `to` in front of the sirloin face, by thickness and second muscle.
    [[nodiscard]] std::size_t first(std::size_t to) const { return std::max(to, start + most_cells) - most_cells; }
    [[nodiscard]] std::size_t past(std::size_t to) const {
        return to >= least_cells ? std::min(to - least_cells + 1, past_from) : 0;
    }
    /// A bound on past(to) - first(to), also where `to` is the sirloin face.
    [[nodiscard]] std::size_t most_starts() const {
        return most_cells > least_cells ? most_cells - least_cells + 3 : 3;
    }
};

/// Positions [first, past) at which slabs end. The engine goes from one such block to the next, and is short enough with
/// each that no slab lies inside of it: every option can look at a whole block before the next option does.
struct block {
    std::size_t first, past;
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
        : terms_(terms_of(objective, option)), option_(option),
          limits_(problem, option), window_{start_queue<score_type>(limits_.most_starts()), problem.start()} {}

    void offer(std::vector<candidate>& best_to, block ends) {
        // Of this function's own, so that they can stay in registers.
        const raw_limits limits = limits_;
        const terms_type terms = terms_;
        const std::size_t option = option_, past = std::min(ends.past, limits.past_to);
        starts window = std::move(window_);
        // No slab ends in front of the thinnest one behind the first start.
        for (std::size_t to = std::max(ends.first, limits.start + limits.least_cells); to < past; ++to)
            offer(best_to.data(), to, limits.first(to), std::min(to - limits.least_cells + 1, limits.past_from), limits,
                  terms, option, window);
        window_ = std::move(window);
    }
    void offer(std::vector<candidate>& best_to, std::size_t to, std::size_t first, std::size_t past) {
        offer(best_to.data(), to, first, past, limits_, terms_, option_, window_);
    }

private:
    using terms_type = decltype(terms_of(std::declval<const O&>(), std::size_t{}));
    struct starts {
        start_queue<score_type> queue;
        std::size_t next; ///< the first that has not entered
    };

    static void offer(candidate* best_to, std::size_t to, std::size_t first, std::size_t past, const raw_limits& limits,
                      const terms_type& terms, std::size_t option, starts& window) {
        const std::int64_t reach = limits.back[to];
        const std::int64_t heaviest = reach - limits.most_weight, lightest = reach - limits.least_weight;
        auto& queue = window.queue;
        while (!queue.empty() && (queue.start() < first || limits.front[queue.start()] < heaviest)) queue.expire();
        std::size_t next = std::max(window.next, first);
        for (; next < past && limits.front[next] <= lightest; ++next) {
            if (limits.front[next] < heaviest) continue;
            const score_type key = best_to[next].score + terms.opening(next);
            best_to[to].notice(key);
            queue.enter(next, key);
        }
        window.next = next;
        if (!queue.empty()) best_to[to].offer(queue.key() + terms.closing(to), queue.start(), option);
    }

    terms_type terms_;
    std::size_t option_;
    raw_limits limits_;
    starts window_;
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
    using terms_type = decltype(terms_of(std::declval<const O&>(), std::size_t{}));

    loose_filler(const cutting_problem& problem, const O& objective, std::size_t option)
        : terms_(terms_of(objective, option)), option_(option), least_cells_(problem.window(option).least_cells),
          next_(problem.start() + 1) {
        best_start_.begin(terms_.opening(problem.start()), problem.start(), option);
    }

    void offer(std::vector<candidate>& best_to, block ends) { offer(best_to.data(), ends, least_cells_); }
    void offer(std::vector<candidate>& best_to, std::size_t to, std::size_t least) {
        offer(best_to.data(), block{to, to + 1}, least);
    }

private:
    void offer(candidate* best_to, block ends, std::size_t least) {
        // Of this function's own, so that they can stay in registers.
        const terms_type terms = terms_;
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

    terms_type terms_;
    std::size_t option_, least_cells_, next_;
    candidate best_start_{}; ///< of the loin in front of the start, with the opening there
};

template <objective O>
class segmenter {
public:
    using score_type = typename O::score_type;

    segmenter(const cutting_problem& problem, const O& objective)
        : problem_(problem), objective_(objective), best_to_(problem.cells() + 1), cells_in_block_(problem.cells()) {
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            cells_in_block_ = std::min(cells_in_block_, problem.window(o).least_cells);
            if (problem.is_portion(o))
                portions_.emplace_back(problem, objective, o);
            else
                loose_.emplace_back(problem, objective, o);
        }
    }

    segmentation<score_type> run() {
        const std::size_t start = problem_.start(), end = problem_.cells();
        for (block ends{start + 1, 0}; ends.first < end; ends.first = ends.past) {
            ends.past = std::min(ends.first + cells_in_block_, end);
            for (auto& filler : loose_) filler.offer(best_to_, ends);
            for (auto& filler : portions_) filler.offer(best_to_, ends);
        }
        // Slabs that end at the sirloin face: no kerf, and a last cell that may be short.
        for (auto& filler : loose_) filler.offer(best_to_, end, 1);
        for (std::size_t o = problem_.loose_count(); o < problem_.option_count(); ++o) {
            const option_window& w = problem_.window(o);
            if (end < w.past_to && w.first_to_end <= w.last_to_end)
                portions_[o - problem_.loose_count()].offer(best_to_, end, std::max(start, w.first_to_end),
                                                            std::min(w.last_to_end + 1, w.past_from));
        }
        return trace_back();
    }

private:
    using candidate = best_so_far<score_type>;

    segmentation<score_type> trace_back() const {
        segmentation<score_type> result;
        result.score = best_to_[problem_.cells()].score;
        if constexpr (!always_finite<score_type>)
            for (const candidate& best : best_to_) result.finite = result.finite && best.finite();
        if constexpr (std::is_floating_point_v<score_type>)
            if (!result.finite) result.score = std::numeric_limits<score_type>::quiet_NaN();
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
    std::size_t cells_in_block_;
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
