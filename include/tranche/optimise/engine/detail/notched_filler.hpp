// Slabs of a slicer with notches: one queue for each residue class of positions.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/optimise/engine/detail/start_queue.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche::detail {

/// Offers slabs of one spec whose thicknesses are notches apart. A start then has to do with ends of its own residue class
/// only, so separable objectives have a queue a class, and each start still enters and leaves once.
template <objective O>
class notched_filler {
public:
    using score_type = typename O::score_type;
    using candidate = best_so_far<score_type>;

    notched_filler(const cutting_problem& problem, const O& objective, std::size_t option)
        : objective_(&objective), option_(option), stride_(problem.window(option).stride), limits_(problem, option) {
        restart(problem, objective, option);
    }
    /// For another plan, in the room that there is.
    void restart(const cutting_problem& problem, const O& objective, std::size_t option) {
        objective_ = &objective;
        option_ = option;
        stride_ = problem.window(option).stride;
        limits_ = raw_limits(problem, option);
        if constexpr (separable_objective<O>) {
            const std::size_t room = limits_.most_starts() / stride_ + 1;
            for (std::size_t first = 0; first < stride_; ++first) {
                if (first == classes_.size()) classes_.push_back({start_queue<score_type>(room), first});
                classes_[first].queue.restart(room);
                classes_[first].next = first;
            }
        }
    }
    [[nodiscard]] std::size_t option() const { return option_; }

    void offer(std::vector<candidate>& best_to, block ends) {
        for (std::size_t to = std::max(ends.first, limits_.least_cells); to < std::min(ends.past, limits_.past_to);
             ++to) {
            const std::size_t past = limits_.past(to), in_class = (to - limits_.least_cells) % stride_;
            if constexpr (separable_objective<O>)
                offer(best_to, to, limits_.first(to), past, classes_[in_class]);
            else
                offer_each(best_to, to, limits_.first(to), past, in_class);
        }
    }
    /// Slabs up to the sirloin face, whose class is another one.
    void offer_at_end(std::vector<candidate>& best_to, std::size_t end, std::size_t first, std::size_t past,
                      std::size_t one_of_class) const {
        offer_each(best_to, end, std::max(first, limits_.start), past, one_of_class % stride_);
    }

private:
    struct starts {
        start_queue<score_type> queue;
        std::size_t next; ///< the first of the class that has not entered
    };

    [[nodiscard]] std::size_t at_or_behind(std::size_t position, std::size_t in_class) const {
        return position + (in_class + stride_ - position % stride_) % stride_;
    }
    void offer(std::vector<candidate>& best_to, std::size_t to, std::size_t first, std::size_t past,
               starts& window) const {
        const std::int64_t reach = limits_.back[to];
        const std::int64_t heaviest = reach - limits_.most_weight, lightest = reach - limits_.least_weight;
        auto& [queue, next] = window;
        while (!queue.empty() && (queue.start() < first || limits_.front[queue.start()] < heaviest)) queue.expire();
        if (next < first) next = at_or_behind(first, next % stride_);
        for (; next < past && limits_.front[next] <= lightest; next += stride_) {
            if (limits_.front[next] < heaviest) continue;
            const score_type key = best_to[next].score + objective_->opening(option_, next);
            best_to[to].notice(key);
            queue.enter(next, key);
        }
        if (!queue.empty()) best_to[to].offer(queue.key() + objective_->closing(option_, to), queue.start(), option_);
    }
    void offer_each(std::vector<candidate>& best_to, std::size_t to, std::size_t first, std::size_t past,
                    std::size_t in_class) const {
        const std::int64_t reach = limits_.back[to];
        for (std::size_t from = at_or_behind(first, in_class); from < past; from += stride_) {
            const std::int64_t weight = reach - limits_.front[from];
            if (limits_.least_weight <= weight && weight <= limits_.most_weight)
                best_to[to].offer(best_to[from].score + slab_score(*objective_, option_, from, to), from, option_);
        }
    }

    const O* objective_;
    std::size_t option_, stride_;
    raw_limits limits_;
    std::vector<starts> classes_;
};

} // namespace tranche::detail
