// The engine backwards: the best that is left of the loin behind each position, in each state of a memory.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/optimise/engine/detail/slab_graph.hpp>
#include <tranche/optimise/engine/detail/slab_memory.hpp>
#include <tranche/optimise/engine/detail/start_queue.hpp>
#include <tranche/optimise/want/objective.hpp>

namespace tranche::detail {

/// A memory of nothing.
struct no_memory {
    [[nodiscard]] std::size_t size() const { return 1; }
    template <class F>
    void each_before(std::size_t state, std::size_t /*option*/, const F& f) const {
        f(state);
    }
};

/// The best path from each position and state to the sirloin face, where it ends in a state that `accepts(state)`. What is not
/// finite is not looked for. O(slabs of portions × states), and O(positions × states) for loose meat where that is separable,
/// otherwise all slabs of it; a score and eight bytes for each position and state.
template <objective O, slab_memory Memory>
class rest_table {
public:
    using score_type = typename O::score_type;
    using entry = reached<score_type>; ///< `from` is where the next slab ends, `source` its option

    template <class Accepts>
    rest_table(const slab_graph& graph, const O& objective, const Memory& memory, const Accepts& accepts)
        : width_(graph.end + 1), table_(memory.size() * width_) {
        before_.resize(memory.size() * graph.option_count);
        for (std::size_t s = 0; s < memory.size(); ++s) {
            if (accepts(s)) at(s, graph.end).source = entry::origin;
            for (std::size_t o = 0; o < graph.option_count; ++o)
                memory.each_before(s, o, [&](std::size_t b) { before_[s * graph.option_count + o].push_back(b); });
        }
        std::vector<loose_ends> loose;
        for (const slab_lane& lane : graph.lanes)
            if (separable_loose<O> && lane.option() < graph.loose_count)
                loose.push_back({&lane, std::vector<entry>(table_.size()), std::vector<entry>(memory.size()), 0});
        for (std::size_t to = graph.end + 1; to-- > graph.start;) {
            if constexpr (separable_loose<O>)
                for (loose_ends& ends : loose) enter_loose(objective, ends, to, memory.size());
            for (const slab_lane& lane : graph.lanes) offer(graph, objective, lane, to, memory.size());
            if constexpr (separable_loose<O>)
                for (loose_ends& ends : loose) leave_loose(graph, objective, ends, to, memory.size());
        }
    }

    /// False where there is no such path.
    [[nodiscard]] const entry& behind(std::size_t state, std::size_t position) const {
        return table_[state * width_ + position];
    }

private:
    /// Loose meat that is separable: by state and start, the best end of a slab that starts no later than there, and the best
    /// of those for the start that is being looked at. Starts in front of a pinned cut have ends of their own.
    struct loose_ends {
        const slab_lane* lane;
        std::vector<entry> by_last_start;
        std::vector<entry> best;
        std::size_t first; ///< of the starts that `best` is for
    };

    [[nodiscard]] entry& at(std::size_t state, std::size_t position) { return table_[state * width_ + position]; }

    /// Slabs that start at `from`, whose ends all lie behind it.
    void enter_loose(const O& objective, loose_ends& ends, std::size_t from, std::size_t states) {
        if (from < ends.first) ends.best.assign(states, entry{}), ends.first = 0;
        const std::size_t option = ends.lane->option();
        for (std::size_t s = 0; s < states; ++s) {
            const entry& newest = ends.by_last_start[s * width_ + from];
            if (newest) {
                ends.best[s].offer(newest.score, newest.from, option);
                ends.first = ends.lane->to(newest.from).first;
            }
            if (ends.best[s])
                at(s, from).offer(loose_terms_of(objective, option).opening(from) + ends.best[s].score,
                                  ends.best[s].from, option);
        }
    }
    /// What slabs that end at `to` give to their starts.
    void leave_loose(const slab_graph& graph, const O& objective, loose_ends& ends, std::size_t to,
                     std::size_t states) {
        const slab_starts starts = ends.lane->to(to);
        if (starts.empty()) return;
        const std::size_t option = ends.lane->option();
        for (std::size_t s = 0; s < states; ++s) {
            const entry& way = behind(s, to);
            if (!way) continue;
            for (const std::size_t before : before_[s * graph.option_count + option])
                ends.by_last_start[before * width_ + starts.past - 1].offer(
                    loose_terms_of(objective, option).closing(to) + way.score, to, option);
        }
    }
    void offer(const slab_graph& graph, const O& objective, const slab_lane& lane, std::size_t to, std::size_t states) {
        if (separable_loose<O> && lane.option() < graph.loose_count) return;
        const slab_starts starts = lane.to(to);
        for (std::size_t s = 0; s < states && !starts.empty(); ++s) {
            const entry& way = behind(s, to);
            if (!way) continue;
            for (const std::size_t before : before_[s * graph.option_count + lane.option()])
                for (std::size_t from = starts.first; from < starts.past; from += lane.stride())
                    at(before, from)
                        .offer(slab_score(objective, lane.option(), from, to) + way.score, to, lane.option());
        }
    }

    std::size_t width_;
    std::vector<entry> table_;
    std::vector<std::vector<std::size_t>> before_; ///< by state and option: the states that a slab leads here from
};

} // namespace tranche::detail
