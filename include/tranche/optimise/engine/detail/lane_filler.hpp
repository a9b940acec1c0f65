// The engine's loops: the slabs of one lane offered from one layer of positions to another, and a layer filled by many lanes.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/slab_graph.hpp>
#include <tranche/optimise/engine/detail/start_queue.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

template <class = when_called>
[[nodiscard]] grid_slab grid_slab_of(const cutting_problem& problem, std::size_t option, std::size_t from,
                                     std::size_t to) {
    const bool portions = problem.is_portion(option);
    return {from, to, portions ? slab_kind::portions : slab_kind::loose,
            portions ? option - problem.loose_count() : option};
}

/// Positions without which no slab lies: the engine goes on by so many at a time, and every lane can look at a whole block
/// before the next lane does.
template <class Graph>
[[nodiscard]] std::size_t cells_a_block(const Graph& graph) {
    std::size_t cells = std::max(graph.end, std::size_t{1});
    for (const auto& lane : graph.lanes) cells = std::min(cells, lane.least_cells());
    return cells;
}

/// Fills the entries behind the start of a graph, block after block, by a filler a lane. before(past) is told that entries in front
/// of `past` are there, before they are looked at.
template <class Filler, class Entry, class Before>
void fill_positions(std::vector<Filler>& fillers, std::size_t lanes, Entry* into, block positions,
                    std::size_t most_cells, const Before& before) {
    const std::size_t end = positions.past;
    for (block ends{positions.first + 1, 0}; ends.first < end; ends.first = ends.past) {
        ends.past = std::min(ends.first + most_cells, end);
        before(ends.first);
        for (std::size_t k = 0; k < lanes; ++k) fillers[k].offer(into, ends);
    }
    before(end);
    for (std::size_t k = 0; k < lanes; ++k) fillers[k].offer_at_end(into);
}

/// Offers the slabs of a lane to the entries where they end, block after block, from those where they start. How, is decided
/// by the objective: where scores are separable each start enters and leaves a queue once (one queue for each residue class of
/// notches); loose meat has no upper limit, so the best start so far is all there is to keep; otherwise every slab is looked
/// at. On ties the earlier start wins.
template <objective O, class Entry, class Lane = slab_lane>
class lane_filler {
public:
    using score_type = typename O::score_type;

    /// For slabs of a lane from entries `from`, marked `source`; the room that there is stays.
    template <class Graph>
    void restart(const Graph& graph, const Lane& lane, const O& objective, const Entry* from, std::size_t source) {
        objective_ = &objective;
        lane_ = &lane;
        from_ = from;
        source_ = source;
        start_ = graph.start;
        end_ = graph.end;
        loose_ = lane.option() < graph.loose_count;
        first_ = Entry::everywhere && source == 0;
        if constexpr (objective_in_parts<O>) {
            if (!loose_ && in_parts()) restart_queues();
        }
        if constexpr (separable_loose<O>) {
            if (loose_) restart_running();
        }
    }

    /// Slabs that end at `ends`, in front of the sirloin face.
    void offer(Entry* into, block ends) {
        ends = {std::max(ends.first, lane_->first_end()), std::min(ends.past, lane_->past_end())};
        if constexpr (separable_loose<O>) {
            if (loose_) return offer_running(into, ends);
        }
        if constexpr (objective_in_parts<O>) {
            if (in_parts() && lane_->stride() == 1) return offer_queued(into, ends);
            if (in_parts()) return offer_notched(into, ends);
        }
        if constexpr (!separable_objective<O>)
            for (std::size_t to = ends.first; to < ends.past; ++to) offer_each(into, to);
    }
    /// Slabs up to the sirloin face.
    void offer_at_end(Entry* into) {
        if constexpr (separable_loose<O>) {
            if (loose_) {
                if (lane_->to(end_).past < next_) restart_running(); // a remnant has to start earlier
                return offer_running(into, {end_, end_ + 1}, starts_at_end{lane_->to(end_)});
            }
        }
        offer_each(into, end_);
    }

private:
    /// Whether the slabs of the lane are scored by their two ends: those of one band are.
    [[nodiscard]] bool in_parts() const { return separable_objective<O> || lane_->band() != slab_lane::all_bands; }

    void restart_queues() {
        const std::size_t stride = lane_->stride(), room = lane_->most_starts() / stride + 1;
        if (classes_.size() < stride) classes_.resize(stride);
        for (std::size_t c = 0; c < stride; ++c) {
            classes_[c].queue.restart(room);
            classes_[c].next = 0;
        }
    }
    void restart_running() {
        best_ = {};
        next_ = start_;
        if constexpr (Entry::everywhere) {
            best_.begin(from_[start_].score + loose_terms_of(*objective_, lane_->option()).opening(start_), start_,
                        source_);
            ++next_;
        }
    }

    // Functions by themselves, and on copies of their own, so that all that these loops look at can stay in registers.
    [[gnu::noinline]] void offer_queued(Entry* into, block ends) {
        const auto starts = lane_->by_end();
        const Entry* const from = from_;
        const auto terms = part_terms_of(*objective_, lane_->option(), lane_->band());
        const std::size_t source = source_;
        start_queue<score_type> queue = std::move(classes_.front().queue);
        std::size_t next = classes_.front().next;
        for (std::size_t to = ends.first; to < ends.past; ++to) {
            const slab_starts all = starts[to];
            if (all.empty()) continue;
            while (!queue.empty() && queue.start() < all.first) queue.expire();
            for (next = std::max(next, std::size_t{all.first}); next < all.past; ++next) {
                if (!from[next]) continue;
                const score_type key = from[next].score + terms.opening(next);
                into[to].notice(key);
                queue.enter(next, key);
            }
            if (!queue.empty()) into[to].offer(queue.key() + terms.closing(to), queue.start(), source);
        }
        classes_.front().queue = std::move(queue);
        classes_.front().next = next;
    }
    void offer_notched(Entry* into, block ends) {
        const std::size_t stride = lane_->stride();
        const auto terms = part_terms_of(*objective_, lane_->option(), lane_->band());
        for (std::size_t to = ends.first; to < ends.past; ++to) {
            const slab_starts all = lane_->to(to);
            if (all.empty()) continue;
            auto& [queue, next] = classes_[all.first % stride];
            while (!queue.empty() && queue.start() < all.first) queue.expire();
            for (next = std::max(next, std::size_t{all.first}); next < all.past; next += stride) {
                if (!from_[next]) continue;
                const score_type key = from_[next].score + terms.opening(next);
                into[to].notice(key);
                queue.enter(next, key);
            }
            if (!queue.empty()) into[to].offer(queue.key() + terms.closing(to), queue.start(), source_);
        }
    }
    void offer_running(Entry* into, block ends) {
        lane_->with_starts([&](const auto& starts) { offer_running(into, ends, starts); });
    }
    template <class Starts>
    void offer_running(Entry* into, block ends, const Starts& starts) {
        const Entry* const from = from_;
        const auto terms = loose_terms_of(*objective_, lane_->option());
        const std::size_t source = source_;
        const bool first = first_;
        Entry best = best_;
        std::size_t next = next_;
        for (std::size_t to = ends.first; to < ends.past; ++to) {
            if constexpr (!Entry::everywhere) { // a pinned cut rules out all starts in front of it
                if (starts[to].empty()) continue;
                if (best.from < starts[to].first) best = {}, next = std::max(next, std::size_t{starts[to].first});
            }
            for (const std::size_t past = starts[to].past; next < past; ++next)
                if (from[next]) best.offer(from[next].score + terms.opening(next), next, source);
            if (!best) continue;
            put(into[to], best.score + terms.closing(to), best.from, source, first);
            into[to].notice(best);
        }
        best_ = best;
        next_ = next;
    }
    void offer_each(Entry* into, std::size_t to) const {
        const slab_starts all = lane_->to(to);
        if (all.empty()) return;
        const std::size_t stride = lane_->stride(), option = lane_->option(), source = source_;
        const Entry* const from = from_;
        const O& objective = *objective_;
        Entry best = into[to]; // one of its own, so that it can stay in registers
        std::size_t at = all.first;
        if constexpr (Entry::everywhere)
            if (first_) best.begin(from[at].score + slab_score(objective, option, at, to), at, source), at += stride;
        for (; at < all.past; at += stride)
            if (from[at]) best.offer(from[at].score + slab_score(objective, option, at, to), at, source);
        into[to] = best;
    }

    /// The first lane makes the first candidate of all.
    static void put(Entry& into, const score_type& value, std::size_t from, std::size_t source, bool first) {
        if constexpr (Entry::everywhere)
            if (first) return into.begin(value, from, source);
        into.offer(value, from, source);
    }

    struct starts_at_end {
        slab_starts of_end;
        [[nodiscard]] slab_starts operator[](std::size_t /*end*/) const { return of_end; }
    };
    struct starts_of_class {
        start_queue<score_type> queue{0};
        std::size_t next = 0; ///< the first that has not entered
    };

    const O* objective_ = nullptr;
    const Lane* lane_ = nullptr;
    const Entry* from_ = nullptr;
    std::size_t source_ = 0, start_ = 0, end_ = 0;
    bool loose_ = false, first_ = false;
    std::vector<starts_of_class> classes_; ///< as many in use as there are residue classes
    Entry best_{};                         ///< of loose meat: the start that is best so far, and the next to look at
    std::size_t next_ = 0;
};

/// Fills a layer: the best ways to reach all positions in one state, from layers that are filled already and from itself.
template <objective O>
class layer_filler {
public:
    using score_type = typename O::score_type;
    using entry = reached<score_type>;

    /// Slabs of an option that lead from a layer, perhaps the one being filled, into that one. Entries are marked `source`.
    struct way {
        std::size_t option = 0;
        const entry* from = nullptr;
        std::size_t source = 0;
    };

    layer_filler(const cutting_problem& problem, const O& objective) : layer_filler(problem.graph(), objective) {}
    layer_filler(const slab_graph& graph, const O& objective) { restart(graph, objective); }
    layer_filler() = default;
    /// The room that there is stays.
    void restart(const slab_graph& graph, const O& objective) {
        graph_ = &graph;
        objective_ = &objective;
        cells_in_block_ = cells_a_block(graph);
    }

    /// Fills `into`, which holds an entry for each position. On ties the earlier way wins, and of its slabs the one that starts
    /// earlier. O(positions × ways) for separable objectives, times the window for others; nothing where no way leads. Positions
    /// outside [range.first, range.past) are left alone; in front of it no way has an entry.
    void fill(entry* into, const std::vector<way>& ways,
              block range = {0, std::numeric_limits<std::size_t>::max()}) const {
        const std::size_t start = std::max(graph_->start, range.first), stop = std::min(graph_->end, range.past);
        std::size_t at = graph_->end; // the first position from which a slab leads here
        if (start == graph_->start && into[start]) at = start;
        for (const way& w : ways)
            for (std::size_t p = start; w.from != into && p < at; ++p)
                if (w.from[p]) at = p;
        if (at >= stop) return;
        std::size_t count = 0;
        for (const way& w : ways)
            for (const slab_lane& lane : graph_->lanes) {
                if (lane.option() != w.option || lane.empty()) continue;
                if (count == fillers_.size()) fillers_.emplace_back();
                fillers_[count++].restart(*graph_, lane, *objective_, w.from, w.source);
            }
        for (block ends{at + 1, 0}; ends.first < stop; ends.first = ends.past) {
            ends.past = std::min(ends.first + cells_in_block_, stop);
            for (std::size_t k = 0; k < count; ++k) fillers_[k].offer(into, ends);
        }
        for (std::size_t k = 0; k < count && range.past > graph_->end; ++k) fillers_[k].offer_at_end(into);
    }

private:
    const slab_graph* graph_ = nullptr;
    const O* objective_ = nullptr;
    std::size_t cells_in_block_ = 1;
    mutable std::vector<lane_filler<O, entry>> fillers_; ///< room that stays from one layer to the next
};

} // namespace tranche::detail
