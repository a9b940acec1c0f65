// The engine with a memory: the best tiling for every state of it, by dynamic programming over positions and states.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/detail/lane_filler.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/engine/detail/slab_memory.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// The best paths through a graph of slabs, one for each state that a memory ends in: a layer of positions for each state.
/// Slabs lead to the same layer or a later one, so they are filled in order. O(positions × states × options) for separable
/// objectives, times the window for others; one entry of a score and eight bytes for each position and state.
template <objective O, slab_memory Memory>
class path_table {
public:
    using score_type = typename O::score_type;
    using entry = reached<score_type>;

    /// Asks go_on() before each state, and is not `complete` where that says no.
    template <class GoOn = always>
    path_table(const slab_graph& graph, const O& objective, const Memory& memory, const GoOn& go_on = {}) {
        fill(graph, objective, memory, go_on);
    }
    /// To be filled, again and again in the room that there is.
    path_table() = default;
    template <class GoOn = always>
    void fill(const slab_graph& graph, const O& objective, const Memory& memory, const GoOn& go_on = {}) {
        options_ = graph.option_count;
        start_ = graph.start;
        width_ = graph.end + 1;
        complete_ = true;
        table_.assign(memory.size() * width_, entry{});
        table_[start_].source = entry::origin;
        filler_.restart(graph, objective);
        for (std::size_t state = 0; state < memory.size(); ++state) {
            complete_ = complete_ && go_on();
            if (!complete_) return;
            ways_.clear();
            for (std::size_t o = 0; o < options_; ++o)
                memory.each_before(state, o, [&](std::size_t before) {
                    ways_.push_back({o, layer(before), before * options_ + o});
                });
            filler_.fill(layer(state), ways_);
        }
    }

    [[nodiscard]] bool complete() const { return complete_; }
    /// The best way to a position in a state; false where there is none.
    [[nodiscard]] const entry& at(std::size_t state, std::size_t position) const {
        return table_[state * width_ + position];
    }
    /// The whole loin cut so that it ends in this state; false where it cannot be.
    [[nodiscard]] const entry& whole(std::size_t state) const { return table_[(state + 1) * width_ - 1]; }

    /// The state among [first, past) in which that is best; the first one wins ties, and where there is none.
    [[nodiscard]] std::size_t best_of(std::size_t first, std::size_t past) const {
        std::size_t best = first;
        for (std::size_t s = first + 1; s < past; ++s)
            if (whole(s) && (!whole(best) || whole(best).score < whole(s).score)) best = s;
        return best;
    }

    /// The slabs of that, from the rib: f(option, from, to).
    template <class F>
    void each_slab(std::size_t state, const F& f) const {
        std::vector<grid_slab> slabs;
        each_slab_backwards(state, [&](std::size_t option, std::size_t from, std::size_t to) {
            slabs.push_back({from, to, {}, option});
        });
        for (std::size_t k = slabs.size(); k > 0; --k) f(slabs[k - 1].option, slabs[k - 1].from, slabs[k - 1].to);
    }
    /// From the sirloin face.
    template <class F>
    void each_slab_backwards(std::size_t state, const F& f) const {
        for (std::size_t at = width_ - 1; at > start_;) {
            const entry& best = table_[state * width_ + at];
            f(best.source % options_, best.from, at);
            at = best.from;
            state = best.source / options_;
        }
    }

private:
    [[nodiscard]] entry* layer(std::size_t state) { return &table_[state * width_]; }

    std::size_t options_ = 0, start_ = 0, width_ = 0;
    bool complete_ = true;
    std::vector<entry> table_;
    layer_filler<O> filler_;
    std::vector<typename layer_filler<O>::way> ways_;
};

/// The table of all states of some counters. If the problem has an order of cuts, how far that has come multiplies the states
/// behind those asked for: what is said of a state is then said of the best that it can be together with any of them.
template <objective O>
class count_states {
public:
    using score_type = typename O::score_type;

    /// Fills the table. Throws `invalid_input` where a spec must have one thickness and has a choice of several: that is no
    /// count; and where an order of cuts makes more entries than `most_entries`. Asks go_on() before each state, and is not
    /// `complete` where that says no.
    template <class GoOn = always>
    count_states(const cutting_problem& problem, const O& objective, std::vector<slab_counter> counters,
                 std::size_t most_entries = most_ordered_entries, const GoOn& go_on = {})
        : problem_(problem), memory_(made(problem, std::move(counters), most_entries)),
          table_(graph_for(problem, objective, in_bands_), objective, memory_, go_on) {}

    [[nodiscard]] bool complete() const { return table_.complete(); }

    /// Of the counters asked for.
    [[nodiscard]] std::size_t states() const { return memory_.major.size(); }
    /// All of them, those for the order of cuts too.
    [[nodiscard]] std::size_t searched() const { return memory_.size(); }
    /// What a counter says in a state.
    [[nodiscard]] std::size_t digit(std::size_t state, std::size_t counter) const {
        return memory_.major.digit(state, counter);
    }
    /// Whether the whole loin can be cut so that it ends in this state, and the best score of doing so.
    [[nodiscard]] bool possible(std::size_t state) const { return bool(table_.whole(best_of(state))); }
    [[nodiscard]] const score_type& score(std::size_t state) const { return table_.whole(best_of(state)).score; }

    /// The best tiling that ends in this state, which is possible. Ties go as in `best_path`, and towards smaller counts.
    [[nodiscard]] std::vector<grid_slab> stretches(std::size_t state) const {
        std::vector<grid_slab> result;
        table_.each_slab(best_of(state), [&](std::size_t option, std::size_t from, std::size_t to) {
            result.push_back(grid_slab_of(problem_, option, from, to));
        });
        return result;
    }

private:
    using memory = memory_product<slab_counts, order_states>;

    [[nodiscard]] static memory made(const cutting_problem& problem, std::vector<slab_counter> counters,
                                     std::size_t most_entries) {
        if (const auto linked = problem.varying(); !linked.empty())
            throw invalid_input(problem.spec_of(linked.front()).name + ": one_thickness", "true",
                                "false where plans are told apart by counts; give a single thickness");
        const std::size_t asked = states_of(counters);
        return {slab_counts(std::move(counters)), order_states_within(problem, most_entries, asked)};
    }
    /// Of a state of the counters asked for: the one of both in which the order has come as far as is best.
    [[nodiscard]] std::size_t best_of(std::size_t state) const {
        const std::size_t orders = memory_.minor.size();
        return table_.best_of(state * orders, (state + 1) * orders);
    }

    const cutting_problem& problem_;
    memory memory_;
    slab_graph in_bands_; ///< of an objective that has bands of weights
    path_table<O, memory> table_;
};

} // namespace tranche::detail
